package pickup

import (
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/pickup"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Rod is a rod of one side and what the travel does to it.
type Rod struct {
	Name         string
	Chassis, End r3.Vec
	Placed       bool
	Length       finding.Number
	Slope        finding.Number    // of the rod from chassis to end, down is above 0
	Plan         finding.Number    // of it to the centre line, seen from above
	Longer       [2]finding.Number // at full bump and at full droop, below 0 where it is shorter
	Turned       [2]finding.Number // how far its joint on the frame has turned then
	Give         finding.Number    // the most that it is longer or shorter anywhere, a size
	Angle        finding.Number    // the most that its joint on the frame turns
	GiveLimit    project.Rule
	AngleLimit   project.Rule
}

// Pair is a rod and its fellow on the other side.
type Pair struct {
	Name   string
	Rods   [2]*Rod        // left first; nil where there is none
	At     [2]int         // their numbers on their sides, counted from 1
	Alone  bool           // it has no fellow and wants none
	Length finding.Number // left less right, a size
	Place  finding.Number // how far its brackets on the frame are from being each other's mirror image
}

// dotted is the path of a rod with its number counted from 1, as sentences have it.
func dotted(p *project.Pickup, side, rod int) string {
	return fmt.Sprintf("%s.rod.%d", p.Path(side), rod+1)
}

// rod works out rod k of a side.
func (a *Axle) rod(s *Side, k int) *Rod {
	in := &s.in.Rods[k]
	x := &Rod{Name: in.Name, GiveLimit: a.build.Limit("rod_give"), AngleLimit: a.build.Limit("rod_joint")}
	if v, ok := in.Give.Get(); ok {
		x.GiveLimit.Value, x.GiveLimit.Source, x.GiveLimit.Changed = v, finding.MakersFigure, false
	}
	if v, ok := in.MaxAngle.Get(); ok {
		x.AngleLimit.Value, x.AngleLimit.Source, x.AngleLimit.Changed = v, finding.MakersFigure, false
	}
	moves := []*finding.Number{&x.Longer[0], &x.Longer[1], &x.Turned[0], &x.Turned[1], &x.Give, &x.Angle}
	all := append([]*finding.Number{&x.Length, &x.Slope, &x.Plan}, moves...)
	path := fmt.Sprintf("%s.rod.%d", s.at, k+1)
	var l lacks
	span := pickup.Span{Chassis: l.point(in.Chassis, path+".chassis"), End: l.point(in.End, path+".end"), On: a.body(in.On, false)}
	if why := l.why(); why != "" {
		missing(why, all...)
		return x
	}
	if err := span.Check(); err != nil {
		missing(x.Name+": "+err.Error(), all...)
		return x
	}
	x.Chassis, x.End, x.Placed = span.Chassis, span.End, true
	d := r3.Sub(x.End, x.Chassis)
	x.Length = finding.Exact(r3.Norm(d))
	x.Slope = finding.Exact(math.Atan2(-d.Z, math.Hypot(d.X, d.Y)))
	x.Plan = finding.Exact(math.Atan2(math.Abs(d.Y), math.Abs(d.X)))
	if s.Why != "" {
		missing(s.Why, moves...)
		return x
	}
	give, angle := 0.0, geom.Angle(0)
	for i := range s.all {
		w := span.Swing(&s.all[i])
		give, angle = max(give, math.Abs(w.Longer)), max(angle, w.Chassis)
		if in.Rigid { // one with the axle: its bush on the frame gives by how far the axle would take it along
			give = max(give, r3.Norm(r3.Sub(s.all[i].Point(span.On, x.Chassis), x.Chassis)))
		}
	}
	for i, at := range [2]int{len(s.sweep) - 1, 0} {
		w := span.Swing(&s.sweep[at])
		x.Longer[i], x.Turned[i] = finding.Exact(w.Longer), finding.Exact(w.Chassis.Rad())
	}
	x.Give, x.Angle = finding.Exact(give), finding.Exact(angle.Rad())
	return x
}

// compare holds the two sides against each other.
func (a *Axle) compare() {
	l, r := a.Sides[0], a.Sides[1]
	a.Wheels = sides(l.Wheel, r.Wheel)
	switch {
	case !l.Axis.Known:
		a.Caster = finding.Missing(l.Axis.Why)
	case !r.Axis.Known:
		a.Caster = finding.Missing(r.Axis.Why)
	default:
		a.Caster = finding.Exact((l.Axis.V.Caster - r.Axis.V.Caster).Abs().Rad())
	}
	upper := func(s *Side) finding.Maybe[r3.Vec] {
		if s.Spring == nil {
			return finding.Maybe[r3.Vec]{Why: s.at + ".spring.lower is not in the file yet"}
		}
		return finding.Maybe[r3.Vec]{V: s.Spring.Upper, Known: s.Spring.Placed, Why: s.Spring.Length.Why}
	}
	a.Towers = sides(upper(l), upper(r))
	a.pair()
}

// sides is how far two points are from being each other's mirror image.
func sides(l, r finding.Maybe[r3.Vec]) finding.Number {
	switch {
	case !l.Known:
		return finding.Missing(l.Why)
	case !r.Known:
		return finding.Missing(r.Why)
	}
	return finding.Exact(r3.Norm(r3.Sub(l.V, mirrored(r.V))))
}

// pair finds each rod's fellow, by its name: in the order of the left side, and then what
// only the right one has.
func (a *Axle) pair() {
	for i, s := range a.Sides {
		other := a.Sides[1-i]
		for k, x := range s.Rods {
			in := &s.in.Rods[k]
			_, at := other.in.Named(in.Name)
			if i == 1 && at >= 0 && !in.Alone && !other.in.Rods[at].Alone {
				continue // the left side has it
			}
			p := Pair{Name: x.Name, Alone: in.Alone}
			p.Rods[i], p.At[i] = x, k+1
			switch {
			case in.Alone:
			case at < 0 || other.in.Rods[at].Alone:
				why := fmt.Sprintf("pickup.%s.%s has no rod of the name %q: %s.rod.%d is not in the file yet", a.Name, other.Name, project.Printable(x.Name), other.at, len(other.Rods)+1)
				missing(why, &p.Length, &p.Place)
			default:
				y := other.Rods[at]
				p.Rods[1-i], p.At[1-i] = y, at+1
				p.Length = apart(x.Length, y.Length)
				p.Place = sides(finding.Maybe[r3.Vec]{V: x.Chassis, Known: x.Placed, Why: x.Length.Why}, finding.Maybe[r3.Vec]{V: y.Chassis, Known: y.Placed, Why: y.Length.Why})
			}
			a.Rods = append(a.Rods, p)
		}
	}
}

// apart is the size of a difference.
func apart(x, y finding.Number) finding.Number {
	switch {
	case !x.Known:
		return x
	case !y.Known:
		return y
	}
	return finding.Exact(math.Abs(x.V - y.V))
}

// Bar is an anti-roll bar and what the travel does to it.
type Bar struct {
	Placed  bool
	Halves  [2]BarHalf
	Radius  float64        // mm, 0 where the file has no diameter
	Square  finding.Number // of its axis to straight across and level
	Arms    finding.Number // left less right, a size
	Links   finding.Number // the same of its drop links
	Twist   finding.Number // at ride height
	Between finding.Number // of its bushes
	Roll    finding.Number // how far its arms are turned against each other with one wheel at full bump, the other at full droop
	One     finding.Number // the same with the other at ride height
	Shear   finding.Number // at its surface in full roll, MPa
}

// BarHalf is one half of it.
type BarHalf struct {
	Bush, Arm, Link r3.Vec
	Lever           finding.Number // of its arm, square to the axis
	LinkLength      finding.Number
	Turn            [2]finding.Number // at full bump and full droop
	Off             finding.Number    // the least angle of its link to the plane of arm and axis
	OffLimit        project.Rule

	bar *pickup.Bar
}

// bar works out the anti-roll bar.
func (a *Axle) bar() *Bar {
	in := &a.in.Bar
	b := &Bar{Radius: in.Diameter.Or(0) / 2}
	missing("what the travel does to the bar is not known yet", &b.Roll, &b.One, &b.Shear)
	at := "pickup." + a.Name + ".bar"
	var l lacks
	bushes := [2]r3.Vec{l.point(in.Left.Bush, at+".left.bush"), l.point(in.Right.Bush, at+".right.bush")}
	both := []*finding.Number{&b.Arms, &b.Links, &b.Twist}
	if why := l.why(); why != "" {
		missing(why, append(both, &b.Square, &b.Between)...)
		for i := range b.Halves {
			b.Halves[i].missing(why)
		}
		return b
	}
	across := r3.Sub(bushes[1], bushes[0])
	b.Between = finding.Exact(r3.Norm(across))
	if across.Y < 1 {
		why := "the left bush of the bar does not stand left of the right one, by " + at + ".left.bush and " + at + ".right.bush"
		missing(why, append(both, &b.Square)...)
		for i := range b.Halves {
			b.Halves[i].missing(why)
		}
		return b
	}
	b.Square = finding.Exact(geom.Between(across, r3.Vec{Y: 1}).Rad())
	for i := range b.Halves {
		a.half(b, i, bushes)
	}
	x, y := &b.Halves[0], &b.Halves[1]
	b.Arms, b.Links = apart(x.Lever, y.Lever), apart(x.LinkLength, y.LinkLength)
	switch {
	case x.bar == nil:
		b.Twist = x.Lever
	case y.bar == nil:
		b.Twist = y.Lever
	default:
		b.Twist = finding.Exact(pickup.Twist(x.bar, y.bar).Rad())
		b.Placed = true
		if a.Sides[0].Why == "" && a.Sides[1].Why == "" {
			b.twists(a)
		}
	}
	return b
}

func (h *BarHalf) missing(why string) {
	missing(why, &h.Lever, &h.LinkLength, &h.Turn[0], &h.Turn[1], &h.Off)
}

// half works out one half of the bar.
func (a *Axle) half(b *Bar, i int, bushes [2]r3.Vec) {
	h, s := &b.Halves[i], a.Sides[i]
	in := a.in.Bar.Sides()[i]
	at := "pickup." + a.Name + ".bar." + s.Name
	var l lacks
	h.Bush, h.Arm, h.Link = bushes[i], l.point(in.Arm, at+".arm"), l.point(in.Link, at+".link")
	if why := l.why(); why != "" {
		h.missing(why)
		return
	}
	bar, err := pickup.NewBar(pickup.Bar{BushA: bushes[0], BushB: bushes[1], Arm: h.Arm, Link: h.Link, On: a.body(a.in.Bar.On, false)})
	if err != nil {
		h.missing(err.Error())
		return
	}
	h.bar = bar
	h.Lever, h.LinkLength = finding.Exact(bar.Lever()), finding.Exact(bar.LinkLength())
	if s.Why != "" {
		missing(s.Why, &h.Turn[0], &h.Turn[1], &h.Off)
		return
	}
	least := math.Inf(1)
	for k := range s.all {
		p, err := bar.At(&s.all[k])
		if err != nil {
			h.Off = finding.Exact(0) // it folds over or holds the wheel
			missing(err.Error(), &h.Turn[0], &h.Turn[1])
			return
		}
		least = min(least, p.Off.Rad())
		switch k {
		case 0:
			h.Turn[1] = finding.Exact(p.Turn.Rad())
		case len(s.sweep) - 1:
			h.Turn[0] = finding.Exact(p.Turn.Rad())
		}
	}
	h.Off = finding.Exact(least)
}
