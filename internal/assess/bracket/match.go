package bracket

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Match is a leg made after the one on the other side.
type Match struct {
	Of       string // the mount whose leg it mirrors
	AsBuilt  bool   // that leg was measured; otherwise it is taken as planned
	SameMark bool   // both feet are placed from the same mark on their rails
	// NoMark says which mark is missing, when they are not.
	NoMark string
	// First is how far the foot of that leg lies below the top edge of its own
	// rail, mm; that of this leg is Bracket.FootDrop.
	First  finding.Number
	Result geombracket.Matched
}

// centreline is the offset about which sides are mirrored, mm: offsets are
// counted from it.
const centreline = 0

// match makes a leg after the one it mirrors: as that one was finished, mirrored,
// and corrected for its own pad and rail.
func (r *Result) match(b, of *Bracket) error {
	switch {
	case of == nil:
		return lacking("mount." + b.Spec.Match + ".leg")
	case !of.HasCut && of.Wrong:
		return fmt.Errorf("leg %s: it mirrors the %s leg, and that one cannot be made", b.Label, of.Label)
	case !of.HasCut:
		return fmt.Errorf("%w: the %s leg, which it mirrors: %s", errMissing, of.Label, of.Why)
	case of.Saddle != nil:
		return fmt.Errorf("leg %s: a leg on a round crossmember cannot be mirrored onto a rail; give this one a section and a header of its own", b.Label)
	}
	b.Section = of.Section
	own := b.Spec
	b.Spec = b.ready.spec
	first := asBuilt(of)
	mirror := first.Mirrored(centreline)
	site := geombracket.Site{Pad: mirror.Pad, SameMark: of.Spec.Mark.Known && own.Mark.Known}
	switch {
	case own.PadNormal.Known:
		site.Pad.Normal = own.PadNormal.At
	case own.PadFacing != "":
		site.Pad.Normal, _ = own.PadFacing.Vector()
	}
	var err error
	if site.Pad.Point, err = r.legPad(b, b.Spec.Standing.Or(0)); err != nil {
		return err
	}
	side, err := r.railSide(b, site.Pad.Point)
	if err != nil {
		return err
	}
	cut, err := first.Cut()
	if err != nil {
		return fmt.Errorf("the %s leg as it was measured does not make a leg: %w", of.Label, err)
	}
	station := cut.Foot.X
	if own.Mark.Known {
		station = own.Mark.At.X
	}
	face, edge, err := r.railFace(b, side, station)
	if err != nil {
		return err
	}
	site.Rail, b.edge = face, &edge
	m := &Match{Of: of.Name, AsBuilt: of.ready.mount.Built.Begun(), SameMark: site.SameMark}
	if m.Result, err = geombracket.Match(b.Label, first, centreline, site); err != nil {
		return err
	}
	b.Leg, b.Cut, b.Match = m.Result.Leg, m.Result.Cut, m
	m.NoMark = noMark(b.Name, own, of)
	m.First = finding.Missing("the rail of the " + of.Label + " leg is not in the file")
	if first, err := r.railSide(of, of.Leg.Pad.Point); err == nil {
		m.First = r.footDrop(of, first, cut.Foot)
	}
	b.FootDrop = r.footDrop(b, side, b.Cut.Foot)
	return nil
}

// noMark says which of the two marks is missing that would carry the foot from
// one rail to the other; nothing where both are there.
func noMark(name string, own project.Leg, of *Bracket) string {
	switch a, b := "mount."+of.Name+".leg.mark", "mount."+name+".leg.mark"; {
	case of.Spec.Mark.Known && own.Mark.Known:
		return ""
	case of.Spec.Mark.Known:
		return b + " is not in the file yet"
	case own.Mark.Known:
		return a + " is not in the file yet"
	default:
		return a + " and " + b + " are not in the file yet"
	}
}

// sameStations is what a mirrored leg rests on without a mark on both rails.
const sameStations = "stations that begin at the same place on both rails"

// rests adds to a finding on a mirrored leg what it rests on.
func (m *Match) rests(f *finding.Finding) {
	if m != nil && !m.SameMark {
		f.Assumes = append(f.Assumes, sameStations+" ("+m.NoMark+")")
	}
}

// inherited is the leg of the other side with what a side has of its own.
func inherited(of, own project.Leg) project.Leg {
	s := of
	s.Match, s.Rail, s.Pad = own.Match, own.Rail, own.Pad
	s.PadFacing, s.PadNormal = own.PadFacing, own.PadNormal
	s.RailNormal, s.Mark, s.Foot = own.RailNormal, own.Mark, project.Point{}
	if own.Standing.Known() {
		s.Standing = own.Standing
	}
	return s
}

// asBuilt is a leg as it was measured on the finished mount; what was not
// measured is taken as planned.
func asBuilt(b *Bracket) geombracket.Leg {
	leg, m, foot := b.Leg, b.ready.mount.Built, b.Cut.Foot
	if !m.Begun() {
		return leg
	}
	if m.Pad.Known {
		leg.Pad.Point = m.Pad.At
	}
	if n, ok := project.PlaneOf(m.PadPoints); ok {
		leg.Pad.Normal = facing(n, leg.Pad.Normal)
		if !m.Pad.Known {
			leg.Pad.Point = onto(leg.Pad.Point, m.PadPoints[0].At, n)
		}
	}
	if m.Foot.Known {
		foot = m.Foot.At
		if !b.Spec.Mark.Known {
			leg.Rail.Point = foot
		}
	}
	if n, ok := project.PlaneOf(m.RailPoints); ok {
		leg.Rail.Normal = facing(n, leg.Rail.Normal)
		if !b.Spec.Mark.Known {
			leg.Rail.Point = m.RailPoints[0].At
		}
	}
	leg.Axis = r3.Sub(foot, leg.Pad.Point)
	return leg
}

// facing is n or its opposite, whichever looks the way of like.
func facing(n, like r3.Vec) r3.Vec {
	if r3.Dot(n, like) < 0 {
		return r3.Scale(-1, n)
	}
	return n
}

// onto drops p onto the plane through q square to the unit vector n.
func onto(p, q, n r3.Vec) r3.Vec { return r3.Sub(p, r3.Scale(r3.Dot(n, r3.Sub(p, q)), n)) }

// MatchOf returns the leg of the mount other made after that of the mount
// first, whatever the file says about other's own leg.
func (r *Result) MatchOf(first, other string) (Bracket, error) {
	of := r.bracketNamed(first)
	if of == nil {
		return Bracket{}, fmt.Errorf("the %s mount has no leg in the file; give [mount.%s.leg] a section", finding.Spoken(first), first)
	}
	if of.Assembled {
		return Bracket{}, fmt.Errorf("the %s mount is of several members; give [mount.%s.bracket] match = %q, and the cut sheet has both", finding.Spoken(first), other, first)
	}
	if first == other {
		return Bracket{}, fmt.Errorf("the %s mount cannot be made after itself; name the mount of the other side", finding.Spoken(first))
	}
	m := r.ready.build.Mount(other)
	m.Leg.Match = first
	l := r.ready.prepareLeg(m, of.ready, nil)
	b := Bracket{Name: l.name, Label: l.label, Spec: m.Leg, ready: l}
	r.solve(&b, of)
	if !b.HasCut {
		return b, errors.New(quantity.Restate(b.Why, l.units))
	}
	return b, nil
}

// BuiltCheck is a finished mount held against the one that was wanted.
type BuiltCheck struct {
	Place finding.Number // of the pad's centre from where it is wanted, mm
	Off   finding.Number // the part of it square to the pad, toward the isolator positive, mm
	Lean  finding.Number // of the pad, rad
	Wedge finding.Number // taper over the pad's length that would make up for it, mm
	Foot  finding.Number // of the foot from where it is wanted, mm
	// Twist is how far the pad is turned on its face from how its edges are wanted, rad; Slot
	// what that moves the outermost of its holes, or its corner, mm.
	Twist, Slot finding.Number
	low         r3.Vec
	aside       r3.Vec // of the pad's middle from where it is wanted, in the pad's plane
}

// CheckOf holds what was measured on a mount against the leg wanted there.
func (b *Bracket) CheckOf() (BuiltCheck, error) {
	m := b.ready.mount.Built
	c := BuiltCheck{
		Place: finding.Missing("mount." + b.Name + ".built.pad is not in the file yet"),
		Lean:  finding.Missing("mount." + b.Name + ".built.pad_points is not in the file yet"),
		Foot:  finding.Missing("mount." + b.Name + ".built.foot is not in the file yet"),
	}
	c.Off, c.Wedge = c.Place, c.Lean
	c.Twist, c.Slot = b.twisted()
	// The leg's pad looks away from the isolator; what a shim fills is seen from
	// the isolator's side.
	wanted := b.Leg.Pad
	wanted.Normal = r3.Scale(-1, wanted.Normal)
	measured := wanted
	n, leans := project.PlaneOf(m.PadPoints)
	if leans {
		measured.Normal = facing(n, wanted.Normal)
	}
	if m.Pad.Known {
		measured.Point = m.Pad.At
	}
	got, err := geombracket.CheckBuilt(b.Label, wanted, measured, b.padLength(), 1, 1)
	if err != nil {
		return c, err
	}
	if m.Pad.Known {
		c.Place, c.Off = finding.Exact(math.Hypot(got.Off, got.Shift)), finding.Exact(got.Off)
		c.aside = got.Along
	}
	if leans {
		c.Lean, c.Wedge, c.low = finding.Exact(got.Lean.Rad()), finding.Exact(got.Wedge), got.Low
	}
	switch {
	case m.Foot.Known && b.Plates != nil:
		c.Foot = finding.Exact(r3.Norm(r3.Sub(m.Foot.At, b.Plates.Foot.At)))
	case m.Foot.Known && b.Assembled:
		c.Foot = b.nearestFoot(m.Foot.At)
	case m.Foot.Known:
		c.Foot = finding.Exact(r3.Norm(r3.Sub(m.Foot.At, b.Cut.Foot)))
	}
	return c, nil
}

// FootPlace is where the foot of a mount stands, the first of several; false where it is not
// known how the mount stands.
func (b *Bracket) FootPlace() (r3.Vec, bool) {
	switch {
	case b.Plates != nil:
		return b.Plates.Foot.At, true
	case b.Members != nil && len(b.Members.Feet) > 0:
		f := b.Members.Feet[0]
		return b.footAt(f, f.ends()[0]), true
	}
	return b.Cut.Foot, b.HasCut
}

// footAt is where the axis of an end that stands on a foot meets the rail.
func (b *Bracket) footAt(f Foot, end [2]int) r3.Vec {
	e := &b.Members.Solved.Parts[end[0]].Ends[end[1]]
	if e.Kind == assembly.Lies {
		return f.Face.Point
	}
	return e.At
}

// nearestFoot is how far a place is from the nearest of the feet of a mount of several
// members, mm: where the axis of what stands there meets the rail.
func (b *Bracket) nearestFoot(at r3.Vec) finding.Number {
	near := math.Inf(1)
	for _, f := range b.Members.Feet {
		for _, e := range f.ends() {
			near = min(near, r3.Norm(r3.Sub(at, b.footAt(f, e))))
		}
	}
	return finding.Exact(near)
}

// padLength is how far a wedge under the pad would reach, mm.
func (b *Bracket) padLength() float64 {
	if p := b.Spec.PadPlate; p.Width.V() > 0 && p.Height.V() > 0 {
		return max(p.Width.V(), p.Height.V())
	}
	switch {
	case b.Members != nil:
		return b.Members.Solved.Parts[0].Shape.H
	case b.Plates != nil:
		return b.Plates.width()
	}
	return b.Leg.Shape.H
}

// builtID is where the numbers of a finished mount stand.
func (b *Bracket) builtID() string {
	if b.Spec.Match != "" {
		return "match." + b.Name
	}
	return "bracket." + b.Name
}

// builtFindings hold a finished mount against the leg that was wanted.
func (r *Result) builtFindings(b *Bracket) {
	m := b.ready.mount.Built
	if !m.Begun() {
		return
	}
	who, matched := b.Label+" mount as built", b.Spec.Match != ""
	if !b.Stands() {
		f := finding.Finding{ID: finding.BuiltPlace(b.Name, matched), Title: who + ", off its place"}
		f.Judge(finding.Missing(b.Why), r.ready.place, false)
		why := b.Why
		f.Says = func() string { return finding.NotYet(why) }
		r.Findings = append(r.Findings, f)
		return
	}
	begin := len(r.Findings)
	defer func() {
		for i := begin; i < len(r.Findings); i++ {
			b.Match.rests(&r.Findings[i])
		}
	}()
	c, err := b.CheckOf()
	if err != nil {
		c.Place, c.Lean = finding.Missing(err.Error()), finding.Missing(err.Error())
	}
	b.Built = &c
	place, lean, by := r.ready.place, r.ready.lean, b.remedy()
	r.built(finding.BuiltPlace(b.Name, matched), who+", pad off its place", c.Place, place, "The pad stands where it is wanted.", func() string {
		return c.whatToDo(place.Value, r.ready.units, by)
	})
	units := r.ready.units
	r.built(finding.BuiltLean(b.Name, matched), who+", lean of the pad", c.Lean, lean, "The pad looks the way it is wanted.", func() string {
		return fmt.Sprintf("The pad leans and would twist the isolator: "+by.lean+".", quantity.Format(quantity.Length, c.Wedge.V, units, 1), toward(c.low))
	})
	if len(m.PadEdge) > 0 {
		r.built(finding.BuiltTwist(b.Name, matched), who+", twist of the pad", c.Twist, lean, "The pad is not turned on its face.", func() string {
			return fmt.Sprintf("The pad is turned on its face, %s: slot its holes by %s, if the isolator's maker allows, %s. No shim takes that away.",
				b.turnWords(), quantity.Format(quantity.Length, c.Slot.V, units, 1), by.turned)
		})
		r.Findings[len(r.Findings)-1].Assumes = append(r.Findings[len(r.Findings)-1].Assumes, "edges and rows of holes of the pad as its plate is drawn")
	}
	if m.Foot.Known {
		r.built(finding.BuiltFoot(b.Name, matched), who+", foot off its place", c.Foot, place, "The foot stands where it is wanted.", func() string {
			return "The foot stands off its place: " + by.foot + "."
		})
	}
}

func (r *Result) built(id, title string, m finding.Number, rule project.Rule, ok string, over finding.Text) {
	f := finding.Finding{ID: id, Title: title, Basis: finding.Read}
	f.Judge(m, rule, false)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{finding.OK: ok, finding.Over: over()}
	})
	r.Findings = append(r.Findings, f)
}

// toward names the way a direction points most.
func toward(d r3.Vec) string {
	best, name := 0.0, "low side"
	for _, w := range []struct {
		size float64
		name string
	}{{d.X, "rear"}, {-d.X, "front"}, {d.Y, "right"}, {-d.Y, "left"}, {d.Z, "top"}, {-d.Z, "bottom"}} {
		if w.size > best+1e-9 {
			best, name = w.size, w.name
		}
	}
	return name
}
