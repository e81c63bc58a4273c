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

// anglesItems are the slopes of a line, its joint angles, and how unevenly it
// runs.
func anglesItems(w int, l *assess.Line, v pane.View) []pane.Item {
	if l.Direct {
		return wrapped(w, theme.Text, l.Name+" line: half shafts leave the gearbox for the wheels, so there is no propshaft to read. "+
			"The travel page has the angles of their joints, the shaft page their lengths.")
	}
	out := slopes(w, l, v)
	out = append(out, joints(w, l, v)...)
	return append(out, uneven(w, l, v)...)
}

// The widths of the columns of the tables. The sign of the verdict takes two
// more cells, the mark before the name another two.
const (
	nameWidth    = 11
	plannedWidth = 10
)

// readWidth leaves a space before "12.05±0.16", as far as the pane is wide
// enough.
func readWidth(v pane.View, w int) int {
	return max(10, min(10+theme.Width(v.Theme.PlusMinus), w-4-nameWidth-plannedWidth))
}

// columns of the tables: a name, planned, read and the verdict, whose word is
// left to its sign where there is no room for it.
func columns(v pane.View, w int, name, planned, read string, verdict ...string) string {
	s := v.Theme.Pad(name, nameWidth) + v.Theme.PadLeft(planned, plannedWidth) + v.Theme.PadLeft(read, readWidth(v, w))
	if len(verdict) == 0 {
		return s
	}
	s += " " + verdict[0]
	if word := strings.Join(verdict[1:], " "); theme.Width(s)+1+theme.Width(word) <= w-2 {
		s += " " + word
	}
	return s
}

func slopes(w int, l *assess.Line, v pane.View) []pane.Item {
	out := []pane.Item{
		heading(columns(v, w, project.Printable(l.Name)+" line", "planned", "read")),
		heading("slope to the rear, in " + quantity.UnitName(quantity.Angle, v.Units())),
	}
	for i, x := range l.Axes {
		name := x.Target
		if i == 0 {
			name = finding.LineAxis(l.Name, x.Target)
		}
		out = append(out, slope(w, name, x, v))
	}
	return append(out, agreement(w, l, v)...)
}

// agreement says in one line how planned and measured agree; nothing where no axis has
// both.
func agreement(w int, l *assess.Line, v pane.View) []pane.Item {
	worst, where, count := leastAgreed(l, v)
	role, text := theme.Dim, ""
	by := v.Number(quantity.Angle, finding.Exact(worst.Value), 2)
	switch {
	case v.A.Hung != nil && len(v.A.Hung.Suspects) > 0:
		role, text = theme.Danger, "readings and marks do not fit each other"
	case count == 0:
	case worst.Status == assess.OK:
		text = "planned and read agree within " + by
	case worst.Status == assess.Over:
		role, text = pane.Status(worst.Status).Role(), "planned and read disagree: "+by+" at "+where
	default:
		role, text = pane.Status(worst.Status).Role(), "planned and read nearly disagree: "+by+" at "+where
	}
	if h := v.A.Hung; h != nil && h.Given && len(h.Suspects) == 0 && h.DoF > 0 && h.Why == "" && count > 0 {
		text += ", and marks bear it out"
	}
	if says := hangs(l, v); says != "" {
		text = strings.TrimPrefix(text+"; "+says, "; ")
	}
	if text == "" {
		return nil
	}
	return wrapped(w, role, v.Theme.Plain(text))
}

// leastAgreed is the axis whose plan and reading are the furthest apart, and how many
// have both.
func leastAgreed(l *assess.Line, v pane.View) (worst assess.Finding, where string, count int) {
	for i, x := range l.Axes {
		name := x.Target
		if i == 0 {
			name = finding.LineAxis(l.Name, x.Target)
		}
		for _, id := range [...]string{finding.AxisAgree(name), finding.AxisAbove(name)} {
			if f, ok := v.A.Finding(id); ok && f.HasValue {
				if count++; count == 1 || f.Status > worst.Status || f.Status == worst.Status && f.Value > worst.Value {
					worst, where = f, x.Label
				}
			}
		}
	}
	return worst, where, count
}

// hangs says how the powertrain that drives a line was measured to hang against where it is
// planned; "" where that is not known.
func hangs(l *assess.Line, v pane.View) string {
	_, at, err := v.A.Build.Seat()
	if v.A.Hung == nil || err != nil || len(l.Axes) == 0 || l.Axes[0].Target != project.TargetPowertrain {
		return ""
	}
	says, _ := v.A.Hung.Apart(at)
	return says
}

func slope(w int, name string, x assess.Axis, v pane.View) pane.Item {
	it := pane.Item{Target: x.Target, Reading: x.Reading + 1, Stop: true}
	f, _ := v.A.Finding(finding.AxisRead(name))
	status := theme.Unknown
	word := f.Status.String()
	if f.HasValue {
		status, word = pane.Status(f.Status), f.Basis.String()
		switch {
		case f.Moved:
			word = "moved"
		case x.Doubt != "":
			word = "read a third"
		}
	}
	if x.Clash {
		word = "contradict"
	}
	it.Advice = []string{v.Theme.Plain(f.Advice())}
	if f.Status == assess.OK && !f.Moved && !x.Hung {
		it.Advice = nil
	}
	if nose := v.A.Build.Nose(x.Target, x.Read.V); nose != "" && x.Read.Known {
		it.Advice = append(it.Advice, "As read it is "+nose+".")
	}
	if x.Clash || x.Doubt != "" {
		it.Advice = append(it.Advice, "x drops one of them.")
	}
	if x.Plan.Known {
		it.Advice = append(it.Advice, "In plan, by tape: "+v.Number(quantity.Heading, x.Plan, 2)+".")
	}
	apart := assess.OK
	for _, id := range [...]string{finding.AxisAgree(name), finding.AxisAbove(name)} {
		gap, ok := v.A.Finding(id)
		if !ok {
			continue
		}
		it.Advice = append(it.Advice, v.Theme.Plain(gap.Advice()))
		if gap.Status > apart {
			apart = gap.Status
			status, word = pane.Status(apart), "disagrees"
		}
	}
	it.Text = []string{columns(v, w, x.Label, v.Cell(quantity.Slope, x.Planned, 2), v.Cell(quantity.Slope, x.Read, 2), v.Theme.Sign(status), word)}
	it.Role = status.Role()
	return it
}

func joints(w int, l *assess.Line, v pane.View) []pane.Item {
	out := []pane.Item{heading("angle of each joint, in " + quantity.UnitName(quantity.Angle, v.Units()))}
	for _, j := range l.Joints {
		f, _ := worst(v, finding.JointMax(l.Name, j.Number), finding.JointMin(l.Name, j.Number), finding.JointSpeed(l.Name, j.Number))
		it := judged(w, fmt.Sprintf("joint %d", j.Number), quantity.Angle, j.Planned, j.Read, f, v)
		if j.Kind != project.Cardan {
			it.Advice = append(it.Advice, "This is a "+string(j.Kind)+" joint.")
		}
		out = append(out, it)
	}
	for _, s := range l.Shafts {
		f, ok := v.A.Finding(finding.ShaftMismatch(l.Name, s.Number))
		if !ok {
			continue // nothing is asked of these two together
		}
		name := fmt.Sprintf("%d less %d", s.Number, s.Number+1)
		out = append(out, judged(w, name, quantity.Angle, s.MismatchPlanned, s.MismatchRead, f, v))
	}
	return append(out, equivalent(w, l, v))
}

// judged is a row of something planned and read and the verdict on it.
func judged(w int, name string, k quantity.Kind, planned, read assess.Number, f assess.Finding, v pane.View) pane.Item {
	st := pane.Status(f.Status)
	digits := v.Digits(k)
	value := v.Cell(k, read, digits)
	if pm := v.Around(k, read, digits); theme.Width(value+pm) < readWidth(v, w) {
		value += pm // without room for it whole it is left to the findings
	}
	text := columns(v, w, name, v.Cell(k, planned, digits), value, v.Theme.Sign(st), f.Status.String())
	return pane.Item{Text: []string{strings.TrimRight(text, " ")}, Role: st.Role(), Advice: about(f, v), Stop: true, Subject: f.ID}
}

// equivalent is the one joint that would run as unevenly as the whole line.
func equivalent(w int, l *assess.Line, v pane.View) pane.Item {
	number := func(m assess.Motion) assess.Number {
		if !m.Known {
			return finding.Missing(m.Why)
		}
		return m.Equivalent
	}
	f, _ := v.A.Finding(finding.Equivalent(l.Name))
	it := judged(w, "equivalent", quantity.Angle, number(l.Planned), number(l.Read), f, v)
	m := l.Planned
	if l.Read.Known || l.Read.Unusable {
		m = l.Read
	}
	if !m.Known {
		return it
	}
	rule := v.Number(quantity.Angle, assess.Exact(m.SmallAngle), 2)
	it.Advice = append(it.Advice, "One joint at this angle would run as unevenly as the whole line. The rule for small angles says "+rule+".")
	return it
}

// uneven is what the line's uneven running amounts to at its largest speed.
func uneven(w int, l *assess.Line, v pane.View) []pane.Item {
	k := quantity.AngularAcceleration
	speed := row(w, "speed", v.Number(quantity.Speed, l.Speed.Number, v.Digits(quantity.Speed)), l.Speed.From)
	if !l.Speed.Known {
		why := l.Speed.Why
		if why == "" {
			why = "the file has no speed for it"
		}
		speed.Advice = []string{"The largest speed of the line is not known: " + why +
			". Give powertrain.redline and gears, or vehicle.top_speed and tyre with the line's ratio, or its speed itself."}
		return []pane.Item{speed}
	}
	speed.Advice = []string{"The largest speed of this line: " + l.Speed.From + ". What follows is the torsional vibration (uneven running) at that speed."}
	out := []pane.Item{heading("torsional vibration, in " + quantity.UnitName(k, v.Units())), speed}
	add := func(name, id string, planned, read assess.Number) {
		if f, ok := v.A.Finding(id); ok {
			out = append(out, judged(w, name, k, planned, read, f, v))
		}
	}
	add("at the axle", finding.Residual(l.Name), l.Planned.Residual, l.Read.Residual)
	for i, s := range l.Shafts {
		of := ""
		if len(l.Shafts) > 1 {
			of = fmt.Sprintf("%d ", s.Number)
		}
		add(of+"driving", finding.ShaftDrive(l.Name, s.Number), pick(l.Planned.Drive, i), pick(l.Read.Drive, i))
		add(of+"coasting", finding.ShaftCoast(l.Name, s.Number), pick(l.Planned.Coast, i), pick(l.Read.Coast, i))
	}
	if f, ok := v.A.Finding(finding.Residual(l.Name)); ok && f.Status != assess.OK {
		out = append(out, bestYokes(w, l, f, v)...)
	}
	return out
}

func pick(ms []assess.Number, i int) assess.Number {
	if i < len(ms) {
		return ms[i]
	}
	return assess.Number{}
}

// bestYokes says how far a shaft's rear yoke would have to be turned from where
// it stands for the least uneven running, where that would bring it within its
// limit.
func bestYokes(w int, l *assess.Line, f assess.Finding, v pane.View) []pane.Item {
	var out []pane.Item
	for _, b := range l.Planned.Best {
		if !b.Residual.Known || b.Residual.V > f.Limit {
			continue
		}
		name := "turn yoke"
		if len(l.Planned.Best) > 1 {
			name = fmt.Sprintf("turn yoke %d", b.Shaft)
		}
		turn := v.Number(quantity.Angle, assess.Exact(b.Turn), 1)
		left := v.Number(quantity.AngularAcceleration, b.Residual, v.Digits(quantity.AngularAcceleration))
		it := row(w, name, turn, "leaves "+left)
		it.Advice = []string{fmt.Sprintf("With the rear yoke of shaft %d turned this far from where it is, clockwise as one looks along the shaft from its driving end, "+
			"the line as planned runs most evenly. It holds for these joint angles only: bring the angles nearer to each other first.", b.Shaft)}
		out = append(out, it)
	}
	return out
}

// row is a name, a number and a few words, where there is room for them.
func row(w int, name, number, words string) pane.Item {
	s := fmt.Sprintf("%-*s %*s", nameWidth-1, name, plannedWidth, number)
	if words != "" && theme.Width(s)+2+theme.Width(words) <= w-2 {
		s += "  " + words
	}
	return pane.Item{Text: []string{s}, Stop: true}
}
