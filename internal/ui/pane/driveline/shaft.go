package driveline

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// sheetWidth is how far apart a wide pane sets a label and its number.
const sheetWidth = 78

// shaftItems are what a shaft maker asks about a line, and the screening
// figures of its tubes and joints.
func shaftItems(w int, l *assess.Line, v pane.View) []pane.Item {
	s := sheet{w: min(w, sheetWidth) - 2, v: v}
	s.add(heading(v.Theme.Cut(project.Printable(l.Name)+" line, at ride height", s.w)))
	for _, r := range l.Order() {
		s.order(l, r)
	}
	for _, clause := range l.Assumes {
		lines := theme.Wrap(v.Theme.Plain("Rests on "+project.Printable(clause)), s.w)
		s.add(pane.Item{Text: lines, Role: theme.Dim, Stop: true})
	}
	s.tubes(l)
	s.loads(l)
	return s.out
}

// sheet builds the rows of the shaft leaf.
type sheet struct {
	w   int // without the cursor's mark
	v   pane.View
	out []pane.Item
}

func (s *sheet) add(it pane.Item) { s.out = append(s.out, it) }

func (s *sheet) order(l *assess.Line, r assess.OrderRow) {
	if r.Name == "" {
		s.add(pane.Item{Text: s.set(r.Label, r.Words+"  "), Stop: true, Advice: []string{"As the file has it, or what is usual where it says nothing."}})
		return
	}
	f, ok := worst(s.v, r.JudgedBy...)
	s.number(r.Label, r.Kind, r.Value, f, ok)
	if r.Value.Known && !ok {
		it := &s.out[len(s.out)-1]
		it.Advice = []string{explain(l, r.Name)}
	}
}

// explain says what a row of the order is, and where it comes from.
func explain(l *assess.Line, name string) string {
	switch name[strings.LastIndexByte(name, '.')+1:] {
	case "length":
		return "At ride height with the vehicle on its wheels, as planned. Measure it again on the vehicle before you order."
	case "slip_from_closed":
		return "At ride height. The travel page shows what is left of it over the axle's travel."
	case "slip_to_open":
		return "At ride height, up to the least engagement the file allows. The travel page shows what is left of it over the axle's travel."
	case "mass":
		return "Of the bare tube; its ends come on top."
	case "unbalance":
		return "What may be left after balancing, at the largest speed of the line."
	case "whirl":
		return "The bare tube between its joints as if they held it loosely."
	case "speed":
		return "It is " + l.Speed.From + "."
	case "torque":
		return "It is " + l.Torque.From + "."
	case "yoke_offset":
		return "Right-handed about the shaft, looking along it from the gearbox."
	}
	return "As the file has it."
}

// number is the row of a measure, with the verdict of a finding where there is
// one.
func (s *sheet) number(label string, k quantity.Kind, m assess.Number, f assess.Finding, judged bool) {
	value := s.v.Number(k, m, s.v.Digits(k))
	it := pane.Item{Stop: true, Advice: []string{label + ": " + value + "."}}
	if !m.Known {
		it.Role = theme.Doubt
		it.Advice = []string{label + ": not known. " + m.Why + "."}
		value += " " + s.v.Theme.SignUnknown
	}
	switch {
	case judged:
		st := pane.Status(f.Status)
		it.Role, it.Advice = st.Role(), about(f, s.v)
		if m.Known {
			value += " " + s.v.Theme.Sign(st)
		}
	case m.Known:
		value += "  "
	}
	it.Text = s.set(label, value)
	s.add(it)
}

// set puts a label on the left and a value on the right, over as many lines as
// they take.
func (s *sheet) set(label, value string) []string {
	indent := len(label) - len(strings.TrimLeft(label, " "))
	value = s.v.Theme.Plain(project.Printable(value))
	words := theme.Wrap(s.v.Theme.Plain(project.Printable(label)), max(s.w-indent-2, 8))
	out := make([]string, 0, len(words)+1)
	for i, line := range words {
		in := indent
		if i > 0 {
			in += 2
		}
		out = append(out, strings.Repeat(" ", in)+line)
	}
	last := len(out) - 1
	room := s.w - theme.Width(out[last])
	if theme.Width(value)+1 > room {
		out = append(out, "")
		last, room = last+1, s.w
	}
	if theme.Width(value) > room {
		for _, l := range theme.Wrap(strings.TrimRight(value, " "), room) {
			out = append(out[:last], s.v.Theme.PadLeft(l, room))
			last++
		}
		return out
	}
	out[last] += s.v.Theme.PadLeft(value, room)
	return out
}

// tubes are the strength of the bare tubes and how fast they may turn.
func (s *sheet) tubes(l *assess.Line) {
	for _, x := range l.Shafts {
		if !x.Tube.Given {
			continue
		}
		s.add(heading(s.v.Theme.Cut(of("tube", len(l.Shafts) > 1, x.Number)+", screening figures", s.w)))
		whirl, ok := s.v.A.Finding(finding.ShaftWhirl(l.Name, x.Number))
		s.number(fmt.Sprintf("%.3g of its whirling speed", s.v.A.Build.Limit("whirl_fraction").Value), quantity.Speed, x.Tube.Safe, whirl, ok)
		for _, r := range []struct {
			label string
			k     quantity.Kind
			m     assess.Number
		}{{"shear at the largest torque", quantity.Stress, x.Tube.Shear}, {"twist at the largest torque", quantity.Angle, x.Tube.Twist}} {
			s.number(r.label, r.k, noted(r.m, "powertrain.torque is not in the file yet"), assess.Finding{}, false)
		}
	}
}

// loads are what each joint carries.
func (s *sheet) loads(l *assess.Line) {
	if !l.Torque.Known {
		return // the order's row says what is missing
	}
	for _, j := range l.Joints {
		s.add(heading(s.v.Theme.Cut(fmt.Sprintf("joint %d, screening figures", j.Number), s.w)))
		rated, ok := s.v.A.Finding(finding.JointTorque(l.Name, j.Number))
		s.number("torque", quantity.Torque, j.Load.Torque, assess.Finding{}, false)
		s.number("highest torque in a turn", quantity.Torque, j.Load.Peak, rated, ok)
		s.number("couple on what drives it", quantity.Torque, j.Load.Driver, assess.Finding{}, false)
		s.number("couple on what it drives", quantity.Torque, j.Load.Driven, assess.Finding{}, false)
	}
}

func of(what string, several bool, n int) string {
	if several {
		return fmt.Sprintf("%s of shaft %d", what, n)
	}
	return what
}

// noted gives a measure that is missing without a reason the one it has.
func noted(m assess.Number, why string) assess.Number {
	if !m.Known && m.Why == "" {
		m.Why = why
	}
	return m
}
