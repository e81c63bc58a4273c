package pickup

import (
	"fmt"
	"slices"

	"fitup/internal/geom/pickup"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Body is a tower, a spring, a damper, a rod or an anti-roll bar as what else has to stay
// clear of it: rods, those of it at each place that it gets to.
type Body struct {
	ID      string // front_left_tower
	Name    string // front left tower
	Why     string // why it has no place or no size; "" when it has
	Rods    [][2]r3.Vec
	With    []With // of each rod, where any goes with a wheel; nil for none
	Radius  float64
	Line    string   // whose axle it stands on; "" for none
	Guides  bool     // it is a rod or the anti-roll bar
	Fixed   []r3.Vec // where it is held on the frame
	Assumes []string

	of *Axle
}

// With is a wheel that goes up and down with something, and how far it has gone.
type With struct {
	Moves bool   // it goes with a wheel at all
	Wheel r3.Vec // its centre at ride height
	Rise  float64
	Step  float64 // to the next place that is looked at
}

// put adds a rod as it stands with the wheel of a side at a rise.
func (b *Body) put(s *Side, rise float64, from, to r3.Vec) {
	b.Rods = append(b.Rods, [2]r3.Vec{from, to})
	b.With = append(b.With, With{Moves: true, Wheel: s.Wheel.V, Rise: rise, Step: (s.sweep[len(s.sweep)-1].Rise - s.sweep[0].Rise) / float64(len(s.sweep)-1)})
}

// Bodies are the towers, springs, dampers, rods and anti-roll bars of all axles.
func (r *Result) Bodies() []Body {
	var out []Body
	for _, a := range r.Axles {
		for i, s := range a.Sides {
			if t := s.Tower; t != nil {
				b := s.body(a, "tower", "tower", s.in.Tower.Diameter)
				switch {
				case t.Placed:
					b.Rods, b.Fixed = [][2]r3.Vec{{t.Foot, t.Top}}, []r3.Vec{t.Foot}
				case b.Why == "":
					b.Why = t.Length.Why
				}
				out = append(out, b)
			}
			if x := s.Spring; x != nil {
				out = append(out, s.moving(a, s.body(a, "spring", "spring", s.in.Spring.Diameter), x.span, x.Placed, x.Length.Why))
			}
			if d := s.Damper; d != nil && (s.Spring == nil || d.span != s.Spring.span) { // that of a coil-over stands in its spring
				out = append(out, s.moving(a, s.body(a, "damper", "damper", s.in.Damper.Diameter), d.span, d.Placed, d.Length.Why))
			}
			for k, x := range s.Rods {
				in := &s.in.Rods[k]
				b := s.body(a, "", fmt.Sprintf("rod.%d", k+1), in.Diameter)
				b.ID, b.Name, b.Guides = a.Name+"_"+s.Name+"_"+in.Name, project.Printable(a.Name+" "+called(in, i)), true
				if in.Name == "" {
					b.ID, b.Name = fmt.Sprintf("%srod_%d", b.ID, k+1), fmt.Sprintf("%s %d", b.Name, k+1)
				}
				b = s.moving(a, b, pickup.Span{Chassis: x.Chassis, End: x.End, On: a.body(in.On, false)}, x.Placed, x.Length.Why)
				out = append(out, b)
			}
		}
		if a.Bar != nil {
			out = append(out, a.barBody())
		}
	}
	for i := range out {
		if b := &out[i]; b.Guides && b.of.steers() {
			b.Assumes = append(slices.Clip(b.Assumes), atLock)
		}
	}
	return out
}

// atLock is what no room that is worked out says anything of.
const atLock = "tyres and wheels, at lock above all, are in no room that is worked out: turn them from lock to lock at full bump and at droop, past rods, subframe and exhaust"

// steers reports whether the wheels of the axle are such as steer.
func (a *Axle) steers() bool {
	return a.in.Carried == project.ByArms || a.in.Carried == project.ByStrut || a.in.Caster.Known()
}

// body is one without its rods; key is where its diameter stands, on its side.
func (s *Side) body(a *Axle, what, key string, diameter quantity.LengthQ) Body {
	b := Body{of: a, ID: a.Name + "_" + s.Name + "_" + what, Name: project.Printable(a.Name) + " " + s.Name + " " + what, Radius: diameter.Or(0) / 2}
	if !diameter.Known() {
		b.Why = s.at + "." + key + ".diameter is not in the file yet"
	}
	return b
}

// moving is one whose lower end goes with the wheel: at places from full droop to full
// bump, and of an axle in full roll. It is as much thicker as it can come nearer to
// something between two of those.
func (s *Side) moving(a *Axle, b Body, x pickup.Span, placed bool, why string) Body {
	switch {
	case !placed:
		b.Why = why
		return b
	case s.Why != "":
		b.Why = s.Why
		return b
	}
	b.Line, b.Fixed = a.axleOf(), []r3.Vec{x.Chassis}
	step := 0.0
	for i := range s.sweep {
		end := s.sweep[i].Point(x.On, x.End)
		if i > 0 {
			step = max(step, r3.Norm(r3.Sub(end, b.Rods[i-1][1])))
		}
		b.put(s, s.sweep[i].Rise, x.Chassis, end)
	}
	b.put(s, 0, x.Chassis, x.End)
	for i, rolled := range a.rolled() {
		b.put(s, a.rise(i, s), x.Chassis, rolled.Point(x.On, x.End))
	}
	a.thicken(&b, step, samples)
	return b
}

// axleOf is the line whose axle something stands on; "" for wheels that are carried each
// by itself.
func (a *Axle) axleOf() string {
	switch {
	case a.in.Carried != project.ByAxle:
		return ""
	case a.in.Line == "":
		return a.Name
	}
	return a.in.Line
}

// rolled are the places of an axle in full roll either way.
func (a *Axle) rolled() []pickup.State { return a.tilted[:min(2, len(a.tilted))] }

// rise is how far the wheel of a side has gone in one of those places.
func (a *Axle) rise(rolled int, s *Side) float64 {
	if s.right {
		return a.alone()[rolled][1]
	}
	return a.alone()[rolled][0]
}

// thicken makes a body thicker by half of the longest step that any of it takes between
// two places that are looked at: no point of it is farther from one of them.
func (a *Axle) thicken(b *Body, step float64, places int) {
	b.Radius += step / 2
	text := fmt.Sprintf("%d places of its travel are looked at, and it is taken thicker all round by half of the farthest that it goes from one to the next", places)
	if len(a.tilted) > 0 {
		text += "; of a leaning axle, full roll alone"
	}
	b.Assumes = append(b.Assumes, text)
}

// barBody is the anti-roll bar with its arms and drop links at those places.
func (a *Axle) barBody() Body {
	bar := a.Bar
	b := Body{of: a, ID: a.Name + "_anti_roll_bar", Name: project.Printable(a.Name) + " anti-roll bar", Radius: bar.Radius, Line: a.axleOf(), Guides: true}
	switch {
	case !bar.Placed:
		b.Why = bar.Twist.Why
	case bar.Radius == 0:
		b.Why = "pickup." + a.Name + ".bar.diameter is not in the file yet"
	}
	for _, s := range a.Sides {
		if b.Why == "" {
			b.Why = s.Why
		}
	}
	if b.Why != "" {
		return b
	}
	b.Fixed = []r3.Vec{bar.Halves[0].Bush, bar.Halves[1].Bush}
	b.Rods, b.With = append(b.Rods, [2]r3.Vec{b.Fixed[0], b.Fixed[1]}), append(b.With, With{})
	step := 0.0
	for i, s := range a.Sides {
		h := &bar.Halves[i]
		b.put(s, 0, h.Bush, h.Arm)
		b.put(s, 0, h.Arm, h.Link)
		states := append(s.sweep[:len(s.sweep):len(s.sweep)], a.rolled()...)
		var was pickup.BarAt
		for k := range states {
			at, err := h.bar.At(&states[k])
			if err != nil {
				b.Why, b.Rods, b.With = "the "+b.Name+": "+err.Error(), nil, nil
				return b
			}
			rise := states[k].Rise
			if rolled := k - len(s.sweep); rolled >= 0 {
				rise = a.rise(rolled, s)
			} else if k > 0 {
				step = max(step, r3.Norm(r3.Sub(at.Arm, was.Arm)), r3.Norm(r3.Sub(at.Link, was.Link)))
			}
			b.put(s, rise, h.Bush, at.Arm)
			b.put(s, rise, at.Arm, at.Link)
			was = at
		}
	}
	b.Assumes = append(b.Assumes, "the bar straight from bush to bush and from there to the ends of its arms, its drop links as thick as the bar")
	a.thicken(&b, step, samples)
	return b
}
