package pickup

import (
	"fitup/internal/geom/pickup"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Body is a tower, a spring or a damper as what else has to stay clear of: rods, one for
// each place that it gets to.
type Body struct {
	ID      string // front_left_tower
	Name    string // front left tower
	Why     string // why it has no place or no size; "" when it has
	Rods    [][2]r3.Vec
	Radius  float64
	Line    string // whose axle it stands on; "" for none
	Assumes []string
}

// Bodies are the towers, springs and dampers of all axles.
func (r *Result) Bodies() []Body {
	var out []Body
	for _, a := range r.Axles {
		for _, s := range a.Sides {
			if t := s.Tower; t != nil {
				b := s.body(a, "tower", s.in.Tower.Diameter)
				switch {
				case t.Placed:
					b.Rods = [][2]r3.Vec{{t.Foot, t.Top}}
				case b.Why == "":
					b.Why = t.Length.Why
				}
				out = append(out, b)
			}
			if x := s.Spring; x != nil {
				out = append(out, s.moving(a, s.body(a, "spring", s.in.Spring.Diameter), x.span, x.Placed, x.Length.Why))
			}
			if d := s.Damper; d != nil && (s.Spring == nil || d.span != s.Spring.span) { // that of a coil-over stands in its spring
				out = append(out, s.moving(a, s.body(a, "damper", s.in.Damper.Diameter), d.span, d.Placed, d.Length.Why))
			}
		}
	}
	return out
}

// body is one without its rods.
func (s *Side) body(a *Axle, what string, diameter quantity.LengthQ) Body {
	b := Body{ID: a.Name + "_" + s.Name + "_" + what, Name: project.Printable(a.Name) + " " + s.Name + " " + what, Radius: diameter.Or(0) / 2}
	if !diameter.Known() {
		b.Why = s.at + "." + what + ".diameter is not in the file yet"
	}
	return b
}

// moving is one whose lower end goes with the wheel: from full droop by ride height to
// full bump, and of an axle with one wheel up.
func (s *Side) moving(a *Axle, b Body, x pickup.Span, placed bool, why string) Body {
	switch {
	case !placed:
		b.Why = why
		return b
	case s.Why != "":
		b.Why = s.Why
		return b
	}
	b.Assumes = []string{"it stands at full droop, at ride height and at full bump; between them it is not looked at"}
	if a.in.Carried == project.ByAxle {
		b.Line = a.in.Line
		if b.Line == "" {
			b.Line = a.Name
		}
	}
	b.Rods = append(b.Rods, [2]r3.Vec{x.Chassis, x.End})
	for _, i := range []int{0, len(s.sweep) - 1} {
		b.Rods = append(b.Rods, [2]r3.Vec{x.Chassis, s.sweep[i].Point(x.On, x.End)})
	}
	for i := range a.tilted {
		if i < 2 { // full roll either way
			b.Rods = append(b.Rods, [2]r3.Vec{x.Chassis, a.tilted[i].Point(x.On, x.End)})
		}
	}
	return b
}
