package bracket

import (
	"errors"
	"fmt"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"

	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Assembly is a mount of several members, each ready to be cut.
type Assembly struct {
	Solved assembly.Solved
	Pad    geombracket.Face // looks to the isolator
	Feet   []Foot
	Sheets []assembly.Sheet // gussets

	mirrors []assembly.Part // the plain mirror image of the one it is made after; nil where it mirrors none
	// frames are the mount with its feet fixed in each way that counts.
	frames []*assembly.Frame
	loose  error // why there are none
}

// Foot is an end of a member on a rail.
type Foot struct {
	Part, End int
	Also      []int // members that stand on the same plate with their first ends: the other ear
	Side      project.Side
	Face      geombracket.Face // where its plate or its cut stands; looks to the member
	Packing   float64          // between its plate and a member that lies on it, mm
}

// assemble finds how the members of a mount stand and are cut.
func (r *Result) assemble(b, of *Bracket) error {
	k := b.ready.kind
	if err := b.mirrorable(of); err != nil {
		return err
	}
	if b.ofPlate() {
		return r.ofPlates(b, of)
	}
	if k.spec.Kind == "" && len(k.members) == 0 {
		return fmt.Errorf("%w: mount.%s.bracket has no kind, and there is no [[mount.%s.member]]", errMissing, b.ready.made, b.ready.made)
	}
	p, err := r.plan(b)
	if err != nil {
		return err
	}
	a := &Assembly{Pad: p.site.Pad}
	whole := assembly.Assembly{Name: b.Label, Members: p.members, Pad: p.site.Pad.Point, Perch: p.perch, Saw: &r.ready.saw}
	if err := stands(&whole); err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	if a.Solved, err = whole.Solve(); err != nil {
		return fmt.Errorf("bracket %s: %w", b.Label, err)
	}
	b.Members = a
	b.Leg.Pad = geombracket.Face{Point: a.Pad.Point, Normal: r3.Scale(-1, a.Pad.Normal)}
	if err := b.plates(); err != nil {
		return err
	}
	r.stand(b, p.side)
	for _, check := range []func() error{b.plateRoom, b.perchRoom, b.earRoom, b.sleeveRoom, func() error { return r.heldRoom(b) }, b.gussets} {
		if err := check(); err != nil {
			return err
		}
	}
	if of != nil && of.Members != nil {
		a.mirrors = of.Members.Solved.Parts
	}
	b.weigh()
	return nil
}

// mirrorable refuses to mirror a mount that is not there or not made.
func (b *Bracket) mirrorable(of *Bracket) error {
	m := b.ready.mount.Bracket.Match
	switch {
	case m == "":
		return nil
	case of == nil || of.ready.kind == nil:
		return lacking("mount." + m + ".bracket")
	case of.Plates != nil:
		return nil
	case of.Members == nil && of.Wrong:
		return fmt.Errorf("bracket %s: it mirrors the %s one, and that one cannot be made", b.Label, of.Label)
	case of.Members == nil:
		return fmt.Errorf("%w: the %s bracket, which it mirrors: %s", errMissing, of.Label, of.Why)
	}
	return nil
}

// perchRoom refuses a perch that its arm has no room for; one that is not whole yet
// waits.
func (b *Bracket) perchRoom() error {
	if b.Members.Solved.Perch == "" {
		return nil
	}
	if _, _, _, err := b.perched(); err != nil && !errors.Is(err, errMissing) {
		return err
	}
	return nil
}

// weigh adds up the mass of all parts, kg.
func (b *Bracket) weigh() {
	a, mass := b.Members, 0.0
	for i := range a.Solved.Parts {
		mass += a.Solved.Parts[i].Cut.Mass
	}
	if b.PadPlate != nil {
		mass += b.PadPlate.Figures.Mass
	}
	if b.RailPlate != nil {
		mass += float64(len(a.Feet)) * b.RailPlate.Figures.Mass
	}
	for _, w := range b.Sheets {
		mass += float64(w.Count) * w.Figures.Mass
	}
	if w, ok := b.Sleeves(); ok {
		mass += w.mass()
	}
	b.Mass = finding.Exact(mass)
}

// fix works out the frames of a mount of several members, with its feet fixed in each
// way that counts.
func (b *Bracket) fix() {
	a := b.Members
	for _, fixed := range b.fixings() {
		f, err := a.Solved.FrameOn(fixed)
		if err != nil {
			a.loose = err
			return
		}
		a.frames = append(a.frames, f)
	}
}
