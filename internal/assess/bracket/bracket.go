// Package bracket is the legs between the mounts' pads and the frame: how each
// stands and is cut, its plates, what it uses of its strength, the one made
// after the other side's, and the finished mount held against what was wanted.
// Geometry and strength themselves are in the package of the same name below
// geom, which goes by geombracket here.
package bracket

import (
	"errors"
	"fmt"
	"slices"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Bracket is the leg of one mount: how it stands, how it is cut and what it
// carries.
type Bracket struct {
	Name    string // left_front
	Label   string // left front
	Spec    project.Leg
	Section string // name of its section, as the cut list has it
	// Why says why there is no leg; Wrong tells a leg that cannot be from one
	// for which something is missing.
	Why   string
	Wrong bool

	Leg       geombracket.Leg // nominal, before the cut
	Cut       geombracket.Cut
	HasCut    bool
	Saddle    *SaddleEnd // round on round; nil where the leg stands on a flat face
	PadPlate  *PlateWork // nil where there is none
	RailPlate *PlateWork
	Sheets    []SheetWork    // other flat plates of a mount of several members
	Mass      finding.Number // tube and plates, kg
	FootDrop  finding.Number // of its foot below the top edge of its own rail, at the foot's station, mm
	Match     *Match         // with the leg it mirrors; nil where it mirrors none
	Strength  Strength
	// Members are those of a mount of several; nil for a single leg, and where they
	// do not close. Assembled says that it is of several, whether they close or not.
	Members   *Assembly
	Assembled bool
	Plates    *PlateMount // of a kind that is plate; nil where it does not close
	Built     *BuiltCheck // the finished mount; nil where none was measured

	edge *r3.Vec // the rail's top edge at the foot; nil on a crossmember
	// past and holesPast are how far a rail plate and the holes in it reach past an edge of the
	// rail's side that it lies on, mm; 0 where that side's size is not known.
	past, holesPast float64
	ready           *readyLeg
}

// errMissing marks an error that more of the file would cure.
var errMissing = errors.New("not in the file yet")

func lacking(path string) error { return fmt.Errorf("%s is %w", path, errMissing) }

// Result is what is known about the brackets.
type Result struct {
	Brackets []Bracket  // in the order of the mounts
	Adapters []*Adapter // of the mounts that have one, the same
	Findings []finding.Finding

	ready *Prepared
	pose  finding.Maybe[geom.Pose]
	loads Loads
}

// At works out the leg of every mount that has one, and what it uses of its
// strength, with the powertrain at a pose and its mounts under those loads. It
// says nothing about mounts whose leg the builder has not begun.
func (p *Prepared) At(pose finding.Maybe[geom.Pose], loads Loads) Result {
	r := p.stand(pose, loads)
	if loads.Each == nil {
		for i := range r.Brackets {
			r.judge(&r.Brackets[i])
		}
		r.judgeAdapters()
		return r
	}
	own := make([]Result, len(r.Brackets)) // once they stand, none rests on another
	loads.Each(len(own), func(i int) {
		own[i] = Result{ready: r.ready, pose: r.pose, loads: r.loads}
		own[i].judge(&r.Brackets[i])
	})
	all := make([][]finding.Finding, len(own))
	for i := range own {
		all[i] = own[i].Findings
	}
	r.Findings = slices.Concat(all...)
	r.judgeAdapters()
	return r
}

// judge says what there is to say of one bracket that stands.
func (r *Result) judge(b *Bracket) {
	if !r.loads.asked(b.Name) {
		return
	}
	if b.Members != nil {
		b.fix()
	}
	r.fitsFinding(b)
	r.edgeFindings(b)
	r.filletFinding(b)
	r.strength(b)
	r.weldedFinding(b)
	r.builtFindings(b)
}

// Standing is how the brackets stand with the powertrain at a pose, and nothing of what
// they carry.
func (p *Prepared) Standing(pose finding.Maybe[geom.Pose]) []Bracket {
	r := p.stand(pose, Loads{})
	return r.Brackets
}

// stand finds how the brackets stand and are cut.
func (p *Prepared) stand(pose finding.Maybe[geom.Pose], loads Loads) Result {
	r := Result{ready: p, pose: pose, loads: loads, Brackets: make([]Bracket, len(p.legs))}
	for _, m := range p.adapters {
		r.Adapters = append(r.Adapters, layAdapter(m))
	}
	for i, l := range p.legs {
		r.Brackets[i] = Bracket{Name: l.name, Label: l.label, Spec: l.mount.Leg, ready: l}
		if l.kind != nil {
			r.Brackets[i].Spec, r.Brackets[i].Assembled = l.spec, true
		}
	}
	for _, mirrored := range []bool{false, true} { // those that mirror others after those others
		for i := range r.Brackets {
			if b := &r.Brackets[i]; (b.Spec.Match != "") == mirrored && r.needs(b) {
				r.solve(b, r.bracketNamed(b.Spec.Match))
			}
		}
	}
	for i := range r.Brackets { // the geometry knows mm only
		r.Brackets[i].Why = quantity.Restate(r.Brackets[i].Why, p.units)
	}
	return r
}

// needs reports whether a bracket is asked for, or one that mirrors it.
func (r *Result) needs(b *Bracket) bool {
	return r.loads.asked(b.Name) || slices.ContainsFunc(r.loads.Only, func(only string) bool {
		one := r.bracketNamed(only)
		return one != nil && one.Spec.Match == b.Name
	})
}

// asked reports whether the bracket of a mount is asked for.
func (l *Loads) asked(mount string) bool { return l.Only == nil || slices.Contains(l.Only, mount) }

func (r *Result) bracketNamed(name string) *Bracket {
	for i := range r.Brackets {
		if r.Brackets[i].Name == name {
			return &r.Brackets[i]
		}
	}
	return nil
}

// last returns the finding of that id while findings are still being made.
func (r *Result) last(id string) finding.Finding {
	for i := len(r.Findings) - 1; i >= 0; i-- {
		if r.Findings[i].ID == id {
			return r.Findings[i]
		}
	}
	return finding.Finding{}
}

// Bracket returns the leg of a mount.
func (r *Result) Bracket(name string) (Bracket, bool) {
	if b := r.bracketNamed(name); b != nil {
		return *b, true
	}
	return Bracket{}, false
}

// solve finds how a leg stands and is cut; of is the leg that it mirrors, if it
// mirrors one.
func (r *Result) solve(b, of *Bracket) {
	b.Mass = finding.Missing("the leg is not known")
	b.FootDrop = b.Mass
	if b.Assembled {
		if err := r.assemble(b, of); err != nil {
			b.Members, b.Sheets, b.Plates, b.PadPlate, b.RailPlate = nil, nil, nil, nil, nil
			b.Why, b.Wrong = err.Error(), !errors.Is(err, errMissing)
		}
		return
	}
	err := r.cut(b, of)
	if err == nil {
		err = b.plates()
	}
	if err != nil {
		b.PadPlate, b.RailPlate = nil, nil
		b.Why, b.Wrong = err.Error(), !errors.Is(err, errMissing)
		return
	}
	b.HasCut = true
	mass := b.Cut.Mass
	if b.Saddle != nil {
		mass = b.Saddle.Mass
	}
	for _, p := range []*PlateWork{b.PadPlate, b.RailPlate} {
		if p != nil {
			mass += p.Figures.Mass
		}
	}
	b.Mass = finding.Exact(mass)
}

func (r *Result) cut(b, of *Bracket) error {
	if k := b.ready.shape.Kind; b.Spec.Match != "" && (k == section.Channel || k == section.Angle) {
		return fmt.Errorf("leg %s: a leg of a %s is not mirrored; make both sides [mount.NAME.bracket] of the kind \"inclined leg\", where the other side's is turned", b.Label, k)
	}
	if b.Spec.Match != "" {
		return r.match(b, of)
	}
	var err error
	if b.Leg, err = r.planLeg(b); err != nil {
		return err
	}
	if b.Spec.Header.Known() {
		return b.cutSaddle()
	}
	if b.Cut, err = b.Leg.Cut(); err != nil {
		return err
	}
	if side, err := r.railSide(b, b.Leg.Pad.Point); err == nil {
		b.FootDrop = r.footDrop(b, side, b.Cut.Foot)
	}
	return nil
}

// Overall is the length of stock a leg takes, tip to tip, mm.
func (b *Bracket) Overall() float64 {
	if b.Saddle != nil {
		return b.Saddle.Overall
	}
	return b.Cut.Overall
}

// LongPoint is the longest line on the outside of the tube, mm.
func (b *Bracket) LongPoint() float64 {
	if b.Saddle != nil {
		return b.Saddle.Long
	}
	return b.Cut.LongPoint
}

// ShortPoint is the shortest line on the outside of the tube, mm.
func (b *Bracket) ShortPoint() float64 {
	if b.Saddle != nil {
		return b.Saddle.Short
	}
	return b.Cut.ShortPoint
}
