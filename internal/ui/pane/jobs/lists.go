package jobs

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

func outKey(id action.ID, _ pane.Item, at int, v pane.View) pane.Intent {
	if at < 0 || id != pane.Tick && id != pane.Enter {
		return nil
	}
	it := v.A.EngineOut[at]
	switch {
	case id == pane.Enter && it.Kind == assess.OutJob:
		return pane.ShowJob{Index: it.Index}
	case id == pane.Enter:
		return pane.Say{Text: spaceMarks}
	case it.Kind == assess.OutJob:
		return pane.ToggleJob{Index: it.Index}
	}
	return pane.MarkOut{Item: it}
}

// Enter shows things; it changes none.
const spaceMarks = "Space marks it, one step at a time."

// row is an entry of a list: its first line and what hangs under it.
func row(head string, more ...string) pane.Item {
	return pane.Item{Text: []string{head}, More: more, Stop: true}
}

// outItems are what can only be reached with the powertrain out.
func outItems(w int, v pane.View) []pane.Item {
	var rows []pane.Item
	for _, it := range v.A.EngineOut {
		text := theme.Wrap(v.Theme.Plain(project.Printable(it.Text)), max(w-6, 1))
		r := row(v.Theme.Tick(false) + " " + text[0])
		if it.Kind == assess.OutJob {
			r.Subject = subject(v.A.Jobs[it.Index])
		}
		for _, t := range text[1:] {
			r.More = append(r.More, "    "+t)
		}
		rows = append(rows, r)
	}
	return rows
}

// drawOut draws the engine-out list: where the powertrain is, what is open.
func (p *Pane) drawOut(w, h int, v pane.View) []string {
	where := "Not recorded whether the powertrain is in or out. Press o to note it."
	switch v.A.Build.Powertrain.Standing {
	case project.StandsIn:
		where = "The powertrain is in. This waits until it comes out (o)."
	case project.StandsOut:
		where = "The powertrain is out. Before it goes in (o):"
	}
	rows := outItems(w, v)
	head := append(theme.Wrap(where, w), "")
	if len(rows) == 0 {
		return append(head, theme.Wrap("Nothing is open that can only be reached with it out.", w)...)
	}
	return append(head, p.List(w, max(h-len(head), 1), rows, v)...)
}

func (p *Pane) drawReadings(w, h int, v pane.View) []string {
	rows := readingItems(w, v)
	if len(rows) == 0 {
		return theme.Wrap("Nothing measured yet. n takes a gauge reading, m a tape, plumb line or level.", w)
	}
	return p.List(w, h, rows, v)
}

// readingItems are what was read with the gauge, what was measured otherwise,
// and what welding did to it.
func readingItems(w int, v pane.View) []pane.Item {
	var rows []pane.Item
	lines := func(s string) []string { return wrap(s, w-2, v) }
	for _, r := range v.A.Build.Readings {
		shown := "no value"
		if x, ok := r.Shown.Get(); ok {
			shown = v.Number(quantity.Angle, assess.Exact(x), v.Digits(quantity.Angle))
		}
		if r.InPlan() {
			shown = v.Number(quantity.Offset, assess.Exact(r.Aside.V()), 1) + " over " +
				v.Number(quantity.Length, assess.Exact(r.Over.V()), 0)
		}
		var on []string
		for _, s := range []string{string(r.On), lowerEnd(r.Lower), string(r.After), string(r.Stood), day(r.Taken), r.Note} {
			if s != "" {
				on = append(on, s)
			}
		}
		it := entry(w, shown+"  "+axisName(v.A, r.Of), v, lines(strings.Join(on, ", "))...)
		it.Subject = r.Of
		rows = append(rows, it)
	}
	for _, m := range v.A.Measurements {
		digits := v.Digits(m.Kind)
		spread := v.Number(m.Kind, assess.Exact(m.Spread), digits)
		about := fmt.Sprintf("%s, %d read, spread %s", m.With, m.Count, spread)
		for _, s := range []string{m.On, string(m.After), string(m.Stood), day(m.Taken)} {
			if s != "" {
				about += ", " + s
			}
		}
		value := v.Number(m.Kind, m.Mean, digits)
		if pm := v.Around(m.Kind, m.Mean, digits); pm != "" {
			value += " " + pm
		}
		it := entry(w, value+"  "+m.Of, v, lines(strings.TrimPrefix(about, ", "))...)
		it.Subject = surveyed(m, v)
		rows = append(rows, it)
	}
	for _, f := range drifts(v.A) {
		value := "not known"
		if f.HasValue {
			value = v.Against(f)
		}
		st := pane.Status(f.Status)
		it := entry(w, v.Theme.Sign(st)+" "+st.Word()+"  "+value+"  "+f.Title, v, lines(f.Advice())...)
		it.Role, it.Subject = st.Role(), f.ID
		rows = append(rows, it)
	}
	return rows
}

// surveyed is what a measurement is on the sketch: a line of the survey, or nothing.
func surveyed(m assess.Measurement, v pane.View) string {
	if v.A.Frame.Given() {
		for _, l := range v.A.Frame.Now.Lines {
			if l.Index == m.Index {
				return fmt.Sprintf("survey.measure.%d", m.Index+1)
			}
		}
	}
	return ""
}

// wrap breaks what the file says into lines of w cells.
func wrap(s string, w int, v pane.View) []string {
	return theme.Wrap(v.Theme.Plain(project.Printable(s)), max(w, 1))
}

// entry is an entry of a list whose words are carried on below where its line is full.
func entry(w int, head string, v pane.View, more ...string) pane.Item {
	head = v.Theme.Plain(project.Printable(head))
	if theme.Width(head) <= w-2 {
		return row(head, more...)
	}
	words := wrap(head, w-2, v)
	words = append(words[:1], hanging(strings.Join(words[1:], " "), w, v)...)
	return pane.Item{Text: words, More: more, Stop: true}
}

// hanging are words that hang under an entry.
func hanging(s string, w int, v pane.View) []string {
	var out []string
	for _, l := range wrap(s, w-6, v) {
		out = append(out, "    "+l)
	}
	return out
}

// axisName is the name of what a reading is of in the words of its finding:
// "rear pinion" for line.rear.pinion where there are several lines.
func axisName(a *assess.Assessment, path string) string {
	for _, f := range a.Findings {
		if name, ok := strings.CutPrefix(f.Title, "reading of the "); ok && f.ID == finding.AxisRead(path) {
			return name
		}
	}
	return path
}

func drifts(a *assess.Assessment) []assess.Finding {
	var out []assess.Finding
	for _, f := range a.Findings {
		if finding.IsDrift(f.ID) {
			out = append(out, f)
		}
	}
	return out
}

func lowerEnd(e project.End) string {
	if e == "" {
		return ""
	}
	return "lower at the " + string(e)
}

func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

func (p *Pane) drawFasteners(w, h int, v pane.View) []string {
	rows := fastenerItems(w, v)
	if len(rows) == 0 {
		return theme.Wrap("No fasteners, fluids or welds yet. On the data page, under Welds, fasteners and fluids, a begins one.", w)
	}
	return p.List(w, h, rows, v)
}

// fastenerItems are the table of fasteners and fluids, and the weld map.
func fastenerItems(w int, v pane.View) []pane.Item {
	var rows []pane.Item
	for _, f := range v.A.Fasteners {
		head := v.Theme.Tick(f.Marked) + " " + f.Name
		if n, ok := f.Count.Get(); ok {
			head += fmt.Sprintf(", %.0f", n)
		}
		rows = append(rows, entry(w, head, v, hanging(fastenerText(f, v), w, v)...))
	}
	for _, f := range v.A.Build.Fluids {
		about := strings.Trim(f.Amount+", "+f.Spec, ", ")
		rows = append(rows, entry(w, v.Theme.Tick(f.Filled)+" "+f.Name+", fluid", v, hanging(about, w, v)...))
	}
	for _, x := range sides(v.A) {
		on := v.A.Build.Welds[x.Index]
		side := on.Sides[x.at]
		state := string(side.State)
		if state == "" || side.State == project.NoWeld {
			state = "not welded yet"
		}
		if side.State == project.Inspected && side.InspectedBy != "" {
			state += " by " + side.InspectedBy
		}
		if slices.Contains(v.A.Welds[x.Index].Bare, side.Name) {
			state += ", and proof is missing"
		}
		if side.Override != "" {
			state += ", overridden: " + side.Override
		}
		if side.Out {
			state += ", with the powertrain out"
		}
		it := entry(w, v.Theme.Tick(side.Carries())+" weld "+on.Bracket+", "+on.At+", "+side.Name, v, hanging(state, w, v)...)
		it.Subject = "weld." + on.Bracket
		rows = append(rows, it)
	}
	return rows
}

// weldSide is a row of the weld map.
type weldSide struct {
	pane.WeldOn
	at int // in the weld's sides
}

func sides(a *assess.Assessment) []weldSide {
	var out []weldSide
	for i, w := range a.Build.Welds {
		for n, s := range w.Sides {
			out = append(out, weldSide{pane.WeldOn{Index: i, Side: s.Name}, n})
		}
	}
	return out
}

// fastenerKey is what a key on a row of the fasteners leaf asks for.
func fastenerKey(id action.ID, _ pane.Item, at int, v pane.View) pane.Intent {
	if at < 0 {
		return nil
	}
	switch id {
	case pane.Tick:
		return mapped(v.A, at)
	case pane.Enter:
		return pane.Say{Text: spaceMarks}
	case pane.Seen:
		if on, ok := mapped(v.A, at).(pane.WeldOn); ok {
			return pane.Inspect(on)
		}
		return pane.Say{Text: "An inspection is of a weld; this row is none."}
	}
	return nil
}

// mapped is what a tick on a row of the fasteners leaf asks for.
func mapped(a *assess.Assessment, at int) pane.Intent {
	if at < len(a.Fasteners) {
		return pane.MarkFastener{Index: at}
	}
	at -= len(a.Fasteners)
	if at < len(a.Build.Fluids) {
		return pane.FillFluid{Index: at}
	}
	return sides(a)[at-len(a.Build.Fluids)].WeldOn
}

// fastenerText is thread, class and torque, the maker's marked as such.
func fastenerText(f assess.Fastener, v pane.View) string {
	text := strings.TrimSpace(f.Thread + " " + f.Class)
	if text != "" {
		text += ": "
	}
	if !f.Torque.Known {
		return text + f.Torque.Why
	}
	text += v.Number(quantity.Torque, f.Torque, 1)
	if f.Maker {
		text += ", maker's"
	} else {
		text += ", worked out"
	}
	if n := len(f.Due); n > 0 && f.Marked {
		text += fmt.Sprintf(", check again: %g km", f.Due[n-1])
	}
	return text
}
