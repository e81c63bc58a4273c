// Package driveline is the pane that shows each driveline's slopes and joint
// angles, planned and read side by side, with their verdicts.
package driveline

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// Pane is the state of the Driveline pane: which line of it has the cursor.
type Pane struct{ at int }

// item is one line a cursor can stand on.
type item struct {
	text    string
	role    theme.Role
	target  string // what a reading taken here is of
	reading int    // the reading in use, -1 for none
	advice  []string
	stop    bool // the cursor can stand here
}

// Key turns an action into an intent.
func (p *Pane) Key(id action.ID, v pane.View) pane.Intent {
	items := p.items(60, v)
	stops := stopsOf(items)
	if len(stops) == 0 {
		if id == pane.Enter || id == pane.Read {
			return pane.Say{Text: "This build has no driveline yet: add a [line.rear.pinion] table to the file."}
		}
		return nil
	}
	p.at = pane.Cursor(p.at, len(stops))
	it := items[stops[p.at]]
	switch id {
	case pane.Up:
		p.at = pane.Cursor(p.at-1, len(stops))
	case pane.Down:
		p.at = pane.Cursor(p.at+1, len(stops))
	case pane.Enter, pane.Read:
		if it.target == "" {
			return pane.Say{Text: "A joint angle is not read but follows from the axes; put the cursor on an axis to enter a reading."}
		}
		return pane.AskReading{Of: it.target}
	case pane.Delete:
		if it.reading < 0 {
			return pane.Say{Text: "There is no reading here to take out."}
		}
		return pane.DropReading{Index: it.reading}
	}
	return nil
}

func stopsOf(items []item) []int {
	var out []int
	for i, it := range items {
		if it.stop {
			out = append(out, i)
		}
	}
	return out
}

// Draw draws the pane's content for w by h cells.
func (p *Pane) Draw(w, h int, v pane.View) pane.Frame {
	f := pane.Frame{Title: "Driveline: angles"}
	items := p.items(w, v)
	stops := stopsOf(items)
	if len(stops) == 0 {
		f.Lines = theme.Wrap("No driveline in this build yet. Add a [line.rear.pinion] table to the file.", w)
		return f
	}
	at := stops[pane.Cursor(p.at, len(stops))]
	var lines []string
	for i, it := range items {
		mark, role := "  ", it.role
		if i == at {
			mark = v.Theme.Bullet + " "
			if v.Focused {
				mark, role = v.Theme.Focus+" ", theme.Selected
			}
		}
		line := v.Theme.Paint(role, mark+it.text)
		lines = append(lines, v.Theme.Cut(line, w))
	}
	advice := items[at].advice
	room := h - len(lines)
	if room < 2 {
		room = min(2, max(h-3, 0))
		top := pane.Window(at, len(lines), h-room)
		lines = lines[top:min(len(lines), top+h-room)]
	}
	f.Lines = append(lines, p.foot(w, room, advice, v)...)
	return f
}

// foot explains the line under the cursor.
func (p *Pane) foot(w, room int, advice []string, v pane.View) []string {
	var out []string
	if room > 3 {
		out = append(out, "")
	}
	for _, a := range advice {
		for _, l := range theme.Wrap(a, w-2) {
			out = append(out, v.Theme.Paint(theme.Dim, "  "+l))
		}
	}
	return out[:min(len(out), max(room, 0))]
}

func (p *Pane) items(w int, v pane.View) []item {
	var out []item
	for _, l := range v.A.Lines {
		out = append(out, p.slopes(w, l, v)...)
		out = append(out, p.joints(w, l, v)...)
	}
	return out
}

// The widths of the columns of both tables. The sign of the verdict takes two
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

// columns of the two tables: a name, planned, read and the verdict, whose word
// is left to its sign where there is no room for it.
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

func (p *Pane) slopes(w int, l assess.Line, v pane.View) []item {
	out := []item{{text: columns(v, w, l.Name+" line", "planned", "read"), role: theme.Dim}}
	out = append(out, item{text: v.Theme.Pad("slope to the rear, in "+quantity.UnitName(quantity.Angle, v.Units()), 34), role: theme.Dim})
	for i, x := range l.Axes {
		name := x.Target
		if i == 0 {
			name = "line." + l.Name + "." + x.Target
		}
		it := item{target: x.Target, reading: x.Reading, stop: true}
		f, _ := v.A.Finding(name + ".read")
		status := theme.Unknown
		word := f.Status.String()
		if f.HasValue {
			status, word = pane.Status(f.Status), f.Basis.String()
			if f.Moved {
				word = "moved"
			}
		}
		it.advice = []string{f.Advice}
		if f.Status == assess.OK {
			it.advice = nil
		}
		if gap, ok := v.A.Finding(name + ".agree"); ok {
			it.advice = append(it.advice, gap.Advice)
			if gap.Status != assess.OK {
				status, word = pane.Status(gap.Status), "disagrees"
			}
		}
		it.text = columns(v, w, x.Label, v.Cell(quantity.Slope, x.Planned, 2), v.Cell(quantity.Slope, x.Read, 2), v.Theme.Sign(status), word)
		it.role = status.Role()
		out = append(out, it)
	}
	return out
}

func (p *Pane) joints(w int, l assess.Line, v pane.View) []item {
	out := []item{{text: v.Theme.Pad("angle of each joint, in "+quantity.UnitName(quantity.Angle, v.Units()), 34), role: theme.Dim}}
	for _, j := range l.Joints {
		id := fmt.Sprintf("line.%s.joint.%d", l.Name, j.Number)
		least, _ := v.A.Finding(id + ".min")
		most, _ := v.A.Finding(id + ".max")
		worst := least
		if most.Status > least.Status || (most.Status == assess.OK && least.Status == assess.OK) {
			worst = most
		}
		out = append(out, p.angle(w, fmt.Sprintf("joint %d", j.Number), j.Planned, j.Read, worst, v))
	}
	for _, s := range l.Shafts {
		f, _ := v.A.Finding(fmt.Sprintf("line.%s.shaft.%d.mismatch", l.Name, s.Number))
		out = append(out, p.angle(w, "1 less 2", s.MismatchPlanned, s.MismatchRead, f, v))
	}
	return out
}

func (p *Pane) angle(w int, name string, planned, read assess.Measure, f assess.Finding, v pane.View) item {
	st := pane.Status(f.Status)
	value := v.Cell(quantity.Angle, read, 2)
	if pm := v.PlusMinus(quantity.Angle, read, 2); theme.Width(value+pm) < readWidth(v, w) {
		value += pm // without room for it whole it is left to the findings
	}
	text := columns(v, w, name, v.Cell(quantity.Angle, planned, 2), value, v.Theme.Sign(st), f.Status.String())
	advice := []string{f.Title + ": " + f.Status.String() + ". " + f.Advice}
	if f.HasLimit {
		side := "at most "
		if f.AtLeast {
			side = "at least "
		}
		limit := "Limit: " + side + v.Number(f.Kind, assess.Measure{V: f.Limit, Known: true}, 2) + " (" + project.Printable(f.Source)
		if f.Changed {
			limit += ", changed"
		}
		advice = append(advice, limit+").")
	}
	return item{text: strings.TrimRight(text, " "), role: st.Role(), reading: -1, advice: advice, stop: true}
}
