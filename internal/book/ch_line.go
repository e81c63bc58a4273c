package book

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r2"
)

const plotHigh = 68.0

func (m *maker) driveline(s *Sheet) {
	if len(m.a.Lines) == 0 {
		s.add("", text(0, "The file has no driveline yet: [line.rear.pinion] begins the one to the rear axle.")...)
		return
	}
	for i := range m.a.Lines {
		m.line(s, &m.a.Lines[i])
	}
}

func (m *maker) line(s *Sheet, l *assess.Line) {
	head := capital(l.Name) + " line"
	var items []Item
	if l.PlanWhy != "" {
		items = append(items, text(0, "Not planned yet: "+l.PlanWhy+".")...)
	}
	if l.Direct {
		items = append(items, text(0, "Half shafts leave the gearbox for the wheels: there is no propshaft.")...)
	}
	s.add(head, append(items, m.axes(l)...)...)
	var rows [][]string
	for _, j := range l.Joints {
		n, st := m.a.JointAt(l, j)
		basis := j.Basis.String()
		if j.Moved {
			basis += ", moved since"
		}
		rows = append(rows, []string{fmt.Sprintf("joint %d, %s", j.Number, j.Kind), m.number(quantity.Angle, j.Planned), m.number(quantity.Angle, j.Read), basis, m.number(quantity.Angle, n) + ", " + st.String()})
	}
	if len(rows) > 0 {
		s.add(head+", joints", grid([]string{"joint", "planned", "read", "basis", "judged"}, rows))
	}
	rows = nil
	for _, id := range m.idsOf("line." + l.Name + ".") {
		f, _ := m.a.Finding(id)
		rows = append(rows, []string{f.Title, f.Status.String(), m.value(f), m.limit(f)})
	}
	if len(rows) > 0 {
		s.add(head+", against its limits", grid([]string{"finding", "verdict", "value", "limit"}, rows))
	}
	if q, ok := m.turn(l); ok {
		s.add("", figure(Figure{Name: "turn-" + l.Name, Title: head + ": speed at its end over one turn at its beginning.", High: plotHigh, draw: q.draw}))
	}
	m.travel(s, l, head)
	if len(l.Assumes) > 0 {
		s.add(head+", what its angles rest on", text(1, l.Assumes...)...)
	}
}

func (m *maker) axes(l *assess.Line) []Item {
	var rows [][]string
	for _, x := range l.Axes {
		read := m.number(quantity.Slope, x.Read)
		if x.Read.Known {
			read += ", " + x.Basis.String()
		}
		if x.Moved {
			read += ", moved since"
		}
		if x.Clash {
			read += "; its readings contradict each other"
		}
		if x.Doubt != "" {
			read += "; " + x.Doubt
		}
		rows = append(rows, []string{x.Label, m.number(quantity.Slope, x.Planned), read})
	}
	if len(rows) == 0 {
		return nil
	}
	return []Item{written(1, []string{"slope of", "planned", "read", "the next"}, rows)}
}

// idsOf are the ids of the findings that begin so, in order.
func (m *maker) idsOf(prefix string) []string {
	var out []string
	for _, f := range m.a.Findings {
		if strings.HasPrefix(f.ID, prefix) {
			out = append(out, f.ID)
		}
	}
	return out
}

// turn is the unevenness of a line over one turn.
func (m *maker) turn(l *assess.Line) (*plot, bool) {
	q := &plot{x: "turn, °", y: "speed at the end / at the beginning", least: 0.002}
	for i, c := range []struct {
		name  string
		curve []float64
	}{{"planned", l.Planned.Curve}, {"read", l.Read.Curve}} {
		if len(c.curve) < 2 {
			continue
		}
		one := series{name: c.name, kind: kinds[i]}
		for k, v := range c.curve {
			one.at = append(one.at, r2.Vec{X: 360 * float64(k) / float64(len(c.curve)-1), Y: v})
		}
		q.curves = append(q.curves, one)
	}
	return q, len(q.curves) > 0
}

// travel is what the axle's travel does to a line.
func (m *maker) travel(s *Sheet, l *assess.Line, head string) {
	t := l.Travel
	if t == nil {
		s.add("", text(0, head+": nothing is known of its travel, because the file has no suspension for it.")...)
		return
	}
	head += ", over its travel"
	if t.Why != "" {
		s.add(head, text(0, "The axle is not moved: "+t.Why+".")...)
	}
	var rows [][]string
	for _, w := range t.Worst {
		rows = append(rows, []string{fmt.Sprintf("joint %d, largest angle", w.Number), Magnitude(quantity.Angle, w.Value, m.u), w.Where(m.u)})
	}
	if x := t.Slip; x != nil {
		rows = append(rows,
			[]string{"slip joint, room before it bottoms", m.number(quantity.Length, x.Bottom), x.Shortest.Where(m.u)},
			[]string{"slip joint, room before it pulls apart", m.number(quantity.Length, x.Pull), x.Longest.Where(m.u)})
	}
	for _, h := range t.HalfShafts {
		if h.Why != "" {
			rows = append(rows, []string{h.Name + " half shaft", "not known", sentence(h.Why)})
			continue
		}
		rows = append(rows, []string{h.Name + " half shaft, inner joint", Magnitude(quantity.Angle, h.Inner.Value, m.u), h.Inner.Where(m.u)},
			[]string{h.Name + " half shaft, outer joint", Magnitude(quantity.Angle, h.Outer.Value, m.u), h.Outer.Where(m.u)})
	}
	if len(rows) > 0 {
		s.add(head, grid([]string{"what", "worst", "where"}, rows))
	}
	if t.Caution != "" {
		s.add("", text(0, sentence(t.Caution))...)
	}
	if q, ok := m.travelPlot(l); ok {
		s.add("", figure(Figure{Name: "travel-" + l.Name, Title: head + ": angle of each joint without torque on the axle.", High: plotHigh, draw: q.draw}))
	}
}

func (m *maker) travelPlot(l *assess.Line) (*plot, bool) {
	in := func(k quantity.Kind, v float64) float64 { return quantity.InUnit(k, v, m.u) }
	q := &plot{x: "rise from ride height, " + quantity.UnitName(quantity.Length, m.u), y: "joint angle, " + quantity.UnitName(quantity.Angle, m.u)}
	seen := map[float64]bool{}
	add := func(c series, limit string) {
		if len(c.at) < 2 {
			return
		}
		c.kind = kinds[len(q.curves)%len(kinds)]
		q.curves = append(q.curves, c)
		if f, ok := m.a.Finding(limit); ok && f.HasLimit && !seen[f.Limit] {
			seen[f.Limit] = true
			q.limits = append(q.limits, level{in(quantity.Angle, f.Limit), "limit, " + c.name})
		}
	}
	for i, j := range l.Joints {
		c := series{name: fmt.Sprintf("joint %d", j.Number)}
		for _, at := range l.Travel.Points {
			c.at = append(c.at, r2.Vec{X: in(quantity.Length, at.Rise), Y: in(quantity.Angle, at.Angles[i])})
		}
		add(c, finding.TravelJoint(l.Name, j.Number))
	}
	for _, h := range l.Travel.HalfShafts {
		inner, outer := series{name: h.Name + " inner"}, series{name: h.Name + " outer"}
		for _, at := range h.Points {
			x := in(quantity.Length, at.Rise)
			inner.at = append(inner.at, r2.Vec{X: x, Y: in(quantity.Angle, at.InnerAngle.Rad())})
			outer.at = append(outer.at, r2.Vec{X: x, Y: in(quantity.Angle, at.OuterAngle.Rad())})
		}
		add(inner, finding.HalfShaftInner(l.Name, h.ID))
		add(outer, finding.HalfShaftOuter(l.Name, h.ID))
	}
	return q, len(q.curves) > 0
}

func (m *maker) order(s *Sheet) {
	if len(m.a.Lines) == 0 {
		s.add("", text(0, "The file has no driveline yet, so there is no shaft to order.")...)
		return
	}
	for i := range m.a.Lines {
		one := Order(m.a, &m.a.Lines[i], m.from.File)
		for k, sec := range one.Sections {
			if k == 0 {
				sec.Head, sec.Own = one.Title, i > 0
			}
			s.Sections = append(s.Sections, sec)
		}
	}
}
