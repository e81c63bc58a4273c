package book

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/book/paper"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// rails is what the frame rails are made of, old and new, and what they use of their
// strength.
func (m *maker) rails(s *Sheet) {
	r := m.a.Rails
	if !r.Given() {
		s.add("", text(0, "The file does not say what the rails are made of: [[rails.left.length]] with a section begins it, with the supports that carry the rail and what rests on it.")...)
		return
	}
	s.add("", text(0, screening+" Welds on a frame are for people who are qualified for them.")...)
	for _, b := range r.Rails {
		head := capital(string(b.Side)) + " rail"
		if b.Rail.Why != "" {
			s.add(head, text(0, sentence(b.Rail.Why))...)
		}
		m.rail(s, head, b)
		if b.Why != "" {
			s.add("", text(0, "It is not bent: "+sentence(b.Why))...)
		}
		for _, t := range append(append([]string{}, b.Unsaid...), b.Assumes...) {
			s.add("", text(0, head+": "+sentence(t))...)
		}
	}
	if w := r.Twist.Why; w != "" {
		s.add("", text(0, "It is not twisted: "+sentence(w))...)
	}
	m.against(s, "Rails, against their limits, screening", by(finding.RailTrade))
}

// rail is one rail: its drawing, its lengths and what carries it.
func (m *maker) rail(s *Sheet, head string, b *assess.BentRail) {
	if b.To <= b.From {
		return
	}
	s.add(head, figure(m.railFigure(head, b)))
	_, second := quantity.Power(0, 4, m.u)
	_, third := quantity.Power(0, 3, m.u)
	power := func(v float64, n int) string {
		t, _ := quantity.Power(v, n, m.u)
		return t
	}
	mm := func(v float64) string { return Magnitude(quantity.Length, v, m.u) }
	var rows [][]string
	for _, p := range b.Lengths() {
		now := p.Section
		if wide, ok := p.Spec().Widened.Get(); ok && wide != 0 {
			now += ", moved out by " + mm(wide)
		}
		if put, ok := p.Spec().Stretched.Get(); ok && put != 0 {
			now += ", " + mm(put) + " of it put in"
		}
		rows = append(rows, []string{fmt.Sprintf("%d: %s to %s", p.Length+1, mm(p.From), mm(p.To)), p.Before, now,
			power(p.Was.Ix, 4), power(p.Now.Ix, 4), power(p.Was.Wx, 3), power(p.Now.Wx, 3), power(p.Was.J, 4), power(p.Now.J, 4)})
	}
	s.add("", grid([]string{"length, station", "before", "now", "I was, " + second, "I is", "W was, " + third, "W is", "It was, " + second, "It is"}, rows))
	rows = nil
	for _, c := range b.Supports {
		rows = append(rows, []string{c.Name, mm(c.At), Magnitude(quantity.Force, c.Force, m.u)})
	}
	if len(rows) > 0 {
		s.add("", grid([]string{"support", "at station", "carries at rest"}, rows))
	}
}

// railFigure is a rail from its side, the front at the left; its height is not to scale.
func (m *maker) railFigure(head string, b *assess.BentRail) Figure {
	return Figure{Name: "rail-" + string(b.Side),
		Title: fmt.Sprintf("%s from its side, station %s to %s, the front at the left, not to scale in height: a double line is plated, a hatched one boxed, a stroke across a joint, a ring a hole, a triangle a support.",
			head, Magnitude(quantity.Length, b.From, m.u), Magnitude(quantity.Length, b.To, m.u)),
		High: 26,
		draw: func(p *paper.Page, place r2.Box) {
			by := (place.Max.X - place.Min.X - 8) / (b.To - b.From)
			x := func(at float64) float64 { return place.Min.X + 4 + by*(at-b.From) }
			low, high := place.Min.Y+12, place.Min.Y+20
			thin := scene.Style{Role: scene.RolePaper}
			for _, l := range b.Lengths() {
				p.Polygon([]r2.Vec{{X: x(l.From), Y: low}, {X: x(l.To), Y: low}, {X: x(l.To), Y: high}, {X: x(l.From), Y: high}}, heavy)
				switch l.Spec().Plated {
				case "":
				case project.PlatedBoxed:
					for at := x(l.From) + 2; at+4 < x(l.To); at += 3 {
						p.Line([]r2.Vec{{X: at, Y: low}, {X: at + 3, Y: high}}, thin)
					}
				default:
					p.Line([]r2.Vec{{X: x(l.From), Y: low + 1}, {X: x(l.To), Y: low + 1}}, thin)
					p.Line([]r2.Vec{{X: x(l.From), Y: high - 1}, {X: x(l.To), Y: high - 1}}, thin)
				}
				name := fmt.Sprint(l.Length + 1)
				p.Type(r2.Vec{X: (x(l.From)+x(l.To))/2 - paper.Regular().Width(name, 2.6)/2, Y: high + 1.2}, name, 2.6, false)
			}
			for _, h := range b.Spec.Holes {
				if at, ok := h.At.Get(); ok && at >= b.From && at <= b.To {
					p.Arc(r2.Vec{X: x(at), Y: (low + high) / 2}, 1.2, 0, 7, thin)
				}
			}
			for _, j := range b.Spec.Splices {
				if at, ok := j.At.Get(); ok && at >= b.From && at <= b.To {
					p.Line([]r2.Vec{{X: x(at), Y: low - 2}, {X: x(at), Y: high + 2}}, heavy)
				}
			}
			for _, c := range b.Spec.Supports {
				if at, ok := c.At.Get(); ok && at >= b.From && at <= b.To {
					p.Polygon([]r2.Vec{{X: x(at), Y: low}, {X: x(at) - 2, Y: low - 4}, {X: x(at) + 2, Y: low - 4}}, thin)
				}
			}
		}}
}

// room is what has to be kept clear of, and the exhaust.
func (m *maker) room(s *Sheet) {
	a := m.a
	if len(a.Clearances) == 0 && len(a.Exhaust) == 0 && a.Moving == nil {
		s.add("", text(0, "Nothing to keep clear of is in the file yet, and no exhaust: [[chassis]] begins a thing of the vehicle, [[exhaust]] a pipe.")...)
		return
	}
	gap := func(n assess.Number, to ...string) string {
		t := m.number(quantity.Length, n)
		if !n.Known && n.Why != "" {
			t += ": " + n.Why
		}
		for _, w := range to {
			if w != "" && n.Known {
				t += ", " + w
			}
		}
		return t
	}
	var rows [][]string
	for _, c := range a.Clearances {
		row := []string{c.Name, gap(c.Gap, c.Part), "", ""}
		if c.Rocked != nil {
			row[2] = gap(c.Rocked.Gap, c.Rocked.Part, c.Rocked.At)
		}
		if c.Moving != nil {
			row[3] = gap(c.Moving.Gap, c.Moving.Mover)
		}
		rows = append(rows, row)
	}
	if a.Moving != nil {
		rows = append(rows, []string{"the powertrain", "", "", gap(a.Moving.Gap, a.Moving.Mover)})
	}
	if len(rows) > 0 {
		s.add("Room to pieces of the vehicle", written(1, []string{"to", "as built", "sagged and rocked", "of shafts and axles over their travel", "measured"}, rows))
	}
	rows = nil
	for _, x := range a.Exhaust {
		row := []string{x.Name, gap(x.Built.Gap, x.Built.To), "", ""}
		if x.Rocked != nil {
			row[2] = gap(x.Rocked.Gap, x.Rocked.To, x.Rocked.At)
		}
		if x.Moving != nil {
			row[3] = gap(x.Moving.Gap, x.Moving.Mover)
		}
		rows = append(rows, row)
	}
	if len(rows) > 0 {
		s.add("Exhaust", append([]Item{written(1, []string{"pipe", "as built", "sagged and rocked", "to shafts and axles over their travel", "measured"}, rows)},
			text(0, "Heat: keep fuel and brake lines, wiring and rubber away from the pipes, and shield what cannot be kept away.")...)...)
	}
	m.against(s, "Room, against its limits", func(f *assess.Finding) bool {
		return f.By == finding.ClearTrade || strings.HasPrefix(f.ID, "exhaust.")
	})
}
