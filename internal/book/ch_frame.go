package book

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// against is a table of those findings that are meant, with what is to be done where
// one is not ok; nothing where there is none.
func (m *maker) against(s *Sheet, head string, meant func(*assess.Finding) bool) {
	var rows [][]string
	for i := range m.a.Findings {
		f := &m.a.Findings[i]
		if !meant(f) {
			continue
		}
		does := ""
		if f.Status != assess.OK {
			does = sentence(f.Advice())
		}
		rows = append(rows, []string{f.Title, f.Status.String(), strings.TrimPrefix(m.value(*f), "-"), strings.TrimPrefix(m.limit(*f), "-"), does})
	}
	if len(rows) > 0 {
		s.add(head, grid([]string{"finding", "verdict", "value", "limit", "what to do"}, rows))
	}
}

// by are the findings of a trade.
func by(t finding.Trade) func(*assess.Finding) bool {
	return func(f *assess.Finding) bool { return f.By == t }
}

// about are the findings whose id begins so.
func about(prefix string) func(*assess.Finding) bool {
	return func(f *assess.Finding) bool { return strings.HasPrefix(f.ID, prefix) }
}

// figureRow is a number with what it is and, where it is missing, why.
type figureRow struct {
	label string
	kind  quantity.Kind
	n     assess.Number
}

// figures are rows of numbers with their ±.
func (m *maker) figures(of ...figureRow) Item {
	var rows [][]string
	for _, r := range of {
		why := ""
		if !r.n.Known {
			why = sentence(r.n.Why)
		}
		rows = append(rows, []string{r.label, m.number(r.kind, r.n), why})
	}
	return written(0, []string{"what", "is", "what is missing"}, rows)
}

// after is the step that something was measured after.
func after(step project.After) string {
	if step == "" {
		return ""
	}
	return ", " + string(step)
}

// frame is the survey of the frame, and whether the frame is square.
func (m *maker) frame(s *Sheet) {
	r := m.a.Frame
	if !r.Given() && !r.InPlainWords() {
		s.add("", text(0, "No survey of the frame is in the file yet: [[measure]] with from and to holds what was taped from point to point. "+
			"A tape along each rail, across each pair and over both diagonals is the least that proves a frame square.")...)
		return
	}
	s.add("", text(0, "Nothing is cut, moved or welded on a frame for these figures alone. Work on a frame is for qualified people, under local rules.")...)
	if r.Given() {
		m.survey(s)
	}
	m.taped(s)
	m.against(s, "Frame, against its limits", by(finding.FrameTrade))
	m.changed(s)
	if r.Given() {
		m.places(s)
		m.taken(s)
	}
}

// survey is what the survey says of rails and axles.
func (m *maker) survey(s *Sheet) {
	r := m.a.Frame
	var items []Item
	if r.Now.Why != "" {
		items = append(items, text(0, "Nothing is placed: "+sentence(r.Now.Why))...)
	}
	for _, x := range r.Now.Suspects {
		items = append(items, text(0, m.suspect(x))...)
	}
	if next := r.Now.Next(); next != "" {
		items = append(items, text(0, "To measure next: "+sentence(next))...)
	}
	for _, x := range append(append([]string{}, r.Now.Mirrors...), r.Now.Assumes...) {
		items = append(items, text(0, sentence(x))...)
	}
	s.add("Survey"+after(r.Now.After), items...)
	if f, ok := m.planFigure("survey", "The frame from above", "the square frame", r.Plan()); ok {
		s.add("", figure(f))
	}
	f := &r.Frame
	if f.Why != "" {
		s.add("Square", text(0, "Nothing is said of the rails: "+sentence(f.Why))...)
	}
	s.add("Square", m.figures(
		figureRow{f.Square.Sided("right rail ahead of the left", "left rail ahead of the right", "one rail ahead"), quantity.Length, f.Square.Unsigned()},
		figureRow{"out of square", quantity.Angle, f.Skew.Unsigned()},
		figureRow{"aside at the rail's end", quantity.Length, f.Swing.Unsigned()},
		figureRow{"diagonals, difference", quantity.Length, f.Diagonals.Difference.Unsigned()},
		figureRow{"of that by unequal sides", quantity.Length, f.Diagonals.OfSides.Unsigned()},
		figureRow{"corners out of plane", quantity.Length, f.Twist.Unsigned()},
	))
	m.axles(s)
	m.widths(s)
}

// suspect is a measurement that does not fit, in a sentence or two.
func (m *maker) suspect(x assess.Misfit) string {
	k := quantity.Length
	if x.Line.As == project.SquareLine {
		k = quantity.Angle
	}
	return m.misfit(x.Line.Name, k, x.Off, x.Out, "measured", x.Alike)
}

// misfit says how far a measurement is off what the others say, and whether it alone
// explains that (out, until it is taken or measured again) or others might as well.
func (m *maker) misfit(name string, k quantity.Kind, off float64, out bool, taken string, alike []string) string {
	way := "more"
	if off < 0 {
		way = "less"
	}
	said := fmt.Sprintf("%s reads %s %s than the others say", name, Magnitude(k, math.Abs(off), m.u), way)
	switch {
	case out:
		said += ". It alone explains what does not fit, and is left out until it is " + taken + " again"
	case len(alike) > 0:
		said += ". A slip in it cannot be told from one in " + strings.Join(alike, ", ")
	}
	return sentence(said)
}

func (m *maker) axles(s *Sheet) {
	f := &m.a.Frame.Frame
	if len(f.Axles) == 0 {
		return
	}
	var rows []figureRow
	for _, a := range f.Axles {
		rows = append(rows, figureRow{a.Name + " axle, " + a.Turn.Sided("left end back", "right end back", "turned"), quantity.Angle, a.Turn.Unsigned()})
		if !a.OnLine {
			rows = append(rows, figureRow{a.Name + " axle, " + a.Offset.Sided("to the left", "to the right", "aside"), quantity.Length, a.Offset.Unsigned()})
		}
		if a.Rims {
			rows = append(rows, figureRow{a.Name + ", left wheel, " + a.Toe[0].Sided("toe out", "toe in", "toe"), quantity.Angle, a.Toe[0].Unsigned()},
				figureRow{a.Name + ", right wheel, " + a.Toe[1].Sided("toe out", "toe in", "toe"), quantity.Angle, a.Toe[1].Unsigned()},
				figureRow{a.Name + ", thrust " + a.Thrust.Sided("to the right", "to the left", "by the rims"), quantity.Angle, a.Thrust.Unsigned()})
		}
	}
	rows = append(rows, figureRow{"wheelbase, left", quantity.Length, f.Wheelbase[0]}, figureRow{"wheelbase, right", quantity.Length, f.Wheelbase[1]},
		figureRow{"their difference", quantity.Length, f.Between.Unsigned()})
	s.add("Axles in the frame", m.figures(rows...))
}

// widths is how far the rails are apart by station, and how straight they run.
func (m *maker) widths(s *Sheet) {
	r := m.a.Frame
	f := &r.Frame
	var rows [][]string
	for i, p := range f.Pairs {
		before, wanted, aside := "", "", ""
		if i < len(r.Then.Pairs) && r.Then.Pairs[i].Width.Known {
			before = m.number(quantity.Length, r.Then.Pairs[i].Width)
		}
		if p.Wanted.Known {
			wanted = m.number(quantity.Length, p.Wanted)
		}
		if !p.OnLine {
			aside = "not known: " + p.Offset.Why
			if p.Offset.Known {
				aside = m.number(quantity.Length, p.Offset.Unsigned()) + " to the " + p.Offset.Sided("left", "right", "")
			}
		}
		rows = append(rows, []string{finding.SpokenPoint(p.Left) + " and " + finding.SpokenPoint(p.Right), before, m.number(quantity.Length, p.Width), wanted, aside})
	}
	if len(rows) > 0 {
		s.add("Width of the frame", written(1, []string{"between", "before", "is", "wanted", "middle lies", "measured"}, rows))
	}
	if len(f.Pairs) < 2 {
		return
	}
	rows = nil
	for i, x := range []assess.SurveyedRail{f.Left, f.Right} {
		why := ""
		for _, n := range []assess.Number{x.Sag, x.Sweep, x.Kick} {
			if !n.Known && why == "" {
				why = sentence(n.Why)
			}
		}
		rows = append(rows, []string{[]string{"left rail", "right rail"}[i], m.number(quantity.Length, x.Sag), m.number(quantity.Length, x.Sweep), m.number(quantity.Length, x.Kick), why})
	}
	s.add("Along the rails", append([]Item{grid([]string{"", "sag", "sweep", "kick", "what is missing"}, rows)},
		text(0, "Sag is how far a rail hangs below the line from its first point to its last, sweep how far it bows to the right of it, kick how much higher the last point lies.")...)...)
}

// taped is what was taped without points.
func (m *maker) taped(s *Sheet) {
	r := m.a.Frame
	var rows []figureRow
	if p := r.Plain; p != nil {
		rows = append(rows,
			figureRow{"diagonals, difference", quantity.Length, p.Apart.Unsigned()},
			figureRow{p.Square.Sided("right rail ahead of the left", "left rail ahead of the right", "one rail ahead"), quantity.Length, p.Square.Unsigned()},
			figureRow{p.Front.Sided("right front mark ahead", "left front mark ahead", "front marks"), quantity.Length, p.Front.Unsigned()},
			figureRow{p.Rear.Sided("right rear mark ahead", "left rear mark ahead", "rear marks"), quantity.Length, p.Rear.Unsigned()},
			figureRow{"out of square", quantity.Angle, p.Skew.Unsigned()},
			figureRow{"aside at the rail's end", quantity.Length, p.Swing.Unsigned()},
			figureRow{"misfit of the six tapes", quantity.Length, p.Gap.Unsigned()})
	}
	if p := r.Wheels; p != nil {
		rows = append(rows, figureRow{"wheelbase, left less right", quantity.Length, p.Between})
	}
	if len(rows) > 0 {
		s.add("As taped from corner to corner", m.figures(rows...))
	}
}

// changed is what the survey says now and said on the occasion before.
func (m *maker) changed(s *Sheet) {
	all := m.a.Frame.Changes()
	if len(all) == 0 {
		return
	}
	since := "the first"
	if b := m.a.Frame.Before.After; b != "" {
		since = string(b)
	}
	var rows [][]string
	for _, c := range all {
		rows = append(rows, []string{c.Name, m.number(c.Kind, c.Before), m.number(c.Kind, c.Now), m.number(c.Kind, c.By)})
	}
	s.add("Since "+since, grid([]string{"of", "before", "is", "changed by"}, rows))
}

// places is where the points lie.
func (m *maker) places(s *Sheet) {
	var rows [][]string
	if why := m.a.Frame.Now.Unplaced(); why != "" {
		s.add("Places of the points", text(0, "None is given: "+sentence(why))...)
		return
	}
	for _, p := range m.a.Frame.Now.Points() {
		row := []string{p.Name}
		for _, n := range p.Place {
			row = append(row, m.signedNumber(n))
		}
		rows = append(rows, row)
	}
	if len(rows) > 0 {
		s.add("Places of the points, "+quantity.UnitName(quantity.Length, m.u), written(1, []string{"point", "station", "right above 0", "up", "measured"}, rows))
	}
}

// signedNumber is a length in the file's unit, which stands in the heading, with its ±.
func (m *maker) signedNumber(n assess.Number) string {
	if !n.Known {
		return "not known"
	}
	t := quantity.Short(quantity.Length, n.V, m.u, quantity.UsualDigits)
	if pm := n.Expanded(); pm > 0 {
		t += " ± " + quantity.Short(quantity.Length, pm, m.u, quantity.UsualDigits)
	}
	return t
}

// taken is what was measured, with how far it is from what the others say.
func (m *maker) taken(s *Sheet) {
	var rows [][]string
	for _, l := range m.a.Frame.Now.Lines {
		k := quantity.Length
		if l.As == project.SquareLine {
			k = quantity.Angle
		}
		rows = append(rows, m.residual(l.Name, k, l.Value.V, l.V, l.W, l.Redundancy, l.Detectable, l.Out))
	}
	if len(rows) > 0 {
		s.add("What was measured", written(1, []string{"from and to", "read", "off by", "in its own standard uncertainties", "a slip that would be found", "the next"}, rows))
	}
}

// residual is a row of what was measured: v is what would make it fit.
func (m *maker) residual(name string, k quantity.Kind, read, v, w, checked, finds float64, out bool) []string {
	row := []string{name, Magnitude(k, read, m.u), signed(k, -v, m.u), fmt.Sprintf("%.1f", math.Abs(w)), "none: nothing checks it"}
	if checked > 0 {
		row[4] = Magnitude(k, finds, m.u)
	}
	if out {
		row[2], row[3], row[4] = "left out", "", ""
	}
	return row
}
