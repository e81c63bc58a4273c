// Package driveline is the pane that shows each driveline: its slopes and joint
// angles, planned and read side by side; what becomes of them between bump and
// droop; and what the shaft's maker is told. Each of the three is a leaf, and a
// leaf shows one line.
package driveline

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// Pane is the state of the Driveline pane: which leaf is open, which line it
// shows, and which row of each leaf has the cursor.
type Pane struct {
	leaf, line int
	at         [leaves]int
}

// The leaves, in order.
const (
	angles = iota
	travel
	shaft
	leaves
)

var leafNames = [leaves]string{"angles", "travel", "shaft"}

// item is one row of a leaf: one line of the screen, or several.
type item struct {
	lines   []string
	role    theme.Role
	target  string // what a reading taken here is of
	reading int    // the reading in use, counted from 1; 0 for none
	advice  []string
	stop    bool // the cursor can stand here
}

const noLine = "No driveline in this build yet. Add a [line.rear.pinion] table to the file."

// Key turns an action into an intent.
func (p *Pane) Key(id action.ID, v pane.View) pane.Intent {
	n := len(v.A.Lines)
	switch id {
	case pane.NextLeaf:
		p.leaf = (p.leaf + 1) % leaves
		return nil
	case pane.PrevLeaf:
		p.leaf = (p.leaf + leaves - 1) % leaves
		return nil
	case pane.More, pane.Less:
		if n > 1 {
			p.stepLine(id, n)
		}
		return nil
	}
	if n == 0 {
		if id == pane.Enter || id == pane.Read {
			return pane.Say{Text: noLine}
		}
		return nil
	}
	const anyWidth = 60 // which rows there are does not depend on it
	items := p.items(anyWidth, v)
	stops := stopsOf(items)
	at := &p.at[p.leaf]
	*at = pane.Cursor(*at, len(stops))
	it := item{}
	if len(stops) > 0 {
		it = items[stops[*at]]
	}
	switch id {
	case pane.Up:
		*at = pane.Cursor(*at-1, len(stops))
	case pane.Down:
		*at = pane.Cursor(*at+1, len(stops))
	case pane.Enter, pane.Read:
		return p.ask(id, it, v)
	case pane.Delete:
		if it.reading == 0 {
			return pane.Say{Text: "There is no reading here to take out."}
		}
		return pane.DropReading{Index: it.reading - 1}
	}
	return nil
}

func (p *Pane) stepLine(id action.ID, n int) {
	by := 1
	if id == pane.Less {
		by = n - 1
	}
	p.line = (pane.Cursor(p.line, n) + by) % n
}

// ask opens the reading of the axis under the cursor. A new reading wanted
// elsewhere is taken to be of the first axis of this line that has none.
func (p *Pane) ask(id action.ID, it item, v pane.View) pane.Intent {
	if it.target != "" {
		return pane.AskReading{Of: it.target}
	}
	if id == pane.Read {
		for _, x := range p.shown(v).Axes {
			if !x.Read.Known {
				return pane.AskReading{Of: x.Target}
			}
		}
	}
	switch p.leaf {
	case travel:
		return pane.Say{Text: "This follows from the placement and the suspension in the file."}
	case shaft:
		return pane.Say{Text: "This follows from the placement and the shaft's entries in the file."}
	}
	return pane.Say{Text: "A joint angle is not read but follows from the axes; put the cursor on an axis to enter a reading."}
}

// shown is the line that the leaf shows; there has to be one.
func (p *Pane) shown(v pane.View) *assess.Line {
	return &v.A.Lines[max(pane.Cursor(p.line, len(v.A.Lines)), 0)]
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

func (p *Pane) items(w int, v pane.View) []item {
	l := p.shown(v)
	switch p.leaf {
	case travel:
		return travelItems(w, l, v)
	case shaft:
		return shaftItems(w, l, v)
	}
	return anglesItems(w, l, v)
}

// Draw draws the pane's content for w by h cells.
func (p *Pane) Draw(w, h int, v pane.View) pane.Frame {
	var f pane.Frame
	f.Title, f.Note = p.title(w, v)
	if len(v.A.Lines) == 0 {
		f.Lines = theme.Wrap(noLine, w)
		return f
	}
	plot, hasPlot := p.plot(v)
	if tw, cw := sides(w); hasPlot && cw > 0 && h >= leastPlot {
		rows := p.list(tw, h, p.items(tw, v), v)
		chart := draw(plot, cw, min(h, mostPlot), v)
		for i := range max(len(rows), len(chart)) {
			f.Lines = append(f.Lines, v.Theme.Pad(at(rows, i), tw+gap)+at(chart, i))
		}
		return f
	}
	items := p.items(w, v)
	const foot = 6
	ph := min(h-height(items)-foot, mostPlot)
	if !hasPlot || ph < leastPlot {
		f.Lines = p.list(w, h, items, v)
		return f
	}
	rows, chart := p.list(w, h-ph, items, v), draw(plot, w, ph, v)
	if p.leaf == travel {
		f.Lines = append(chart, rows...)
		return f
	}
	for len(rows) < h-ph {
		rows = append(rows, "")
	}
	f.Lines = append(rows, chart...)
	return f
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

func height(items []item) int {
	n := 0
	for _, it := range items {
		n += len(it.lines)
	}
	return n
}

// list draws the rows into at most h lines, with the cursor on one of them and
// what is to be said about it below.
func (p *Pane) list(w, h int, items []item, v pane.View) []string {
	stops := stopsOf(items)
	cursor := -1
	if len(stops) > 0 {
		cursor = stops[pane.Cursor(p.at[p.leaf], len(stops))]
	}
	var lines, advice []string
	top := 0
	for i, it := range items {
		mark, role := "  ", it.role
		if i == cursor {
			top, advice = len(lines), it.advice
			mark = v.Theme.Bullet + " "
			if v.Focused {
				mark, role = v.Theme.Focus+" ", theme.Selected
			}
		}
		for _, s := range it.lines {
			lines = append(lines, v.Theme.Cut(v.Theme.Paint(role, mark+s), w))
			mark = "  "
		}
	}
	room := h - len(lines)
	if room < 2 {
		room = min(2, max(h-3, 0))
		first := pane.Window(top, len(lines), h-room)
		lines = lines[first:min(len(lines), first+h-room)]
	}
	return append(lines, foot(w, room, advice, v)...)
}

// foot explains the row under the cursor. Where there is no room for all of it
// that is marked, as the findings list has the rest.
func foot(w, room int, advice []string, v pane.View) []string {
	var out []string
	if room > 3 {
		out = append(out, "")
	}
	for _, a := range advice {
		out = append(out, theme.Wrap(v.Theme.Plain(project.Printable(a)), w-2)...)
	}
	if room = max(room, 0); len(out) > room {
		if out = out[:room]; room > 0 {
			out[room-1] = v.Theme.Cut(out[room-1]+" "+v.Theme.Ellipsis, w-2)
		}
	}
	for i, l := range out {
		if l != "" {
			out[i] = v.Theme.Paint(theme.Dim, "  "+l)
		}
	}
	return out
}

// title names the leaves with the open one in brackets, or only that one where
// there is less room, and says which line is shown when there are several. The
// border takes two cells round a title, the pane's key two more.
func (p *Pane) title(w int, v pane.View) (title, note string) {
	var notes []string
	if n := len(v.A.Lines); n > 1 {
		i := max(pane.Cursor(p.line, n), 0)
		of := fmt.Sprintf("%d of %d", i+1, n)
		notes = []string{project.Printable(v.A.Lines[i].Name) + " line, " + of, project.Printable(v.A.Lines[i].Name) + ", " + of, of}
	}
	return pane.LeafTitle("Driveline", leafNames[:], int(p.leaf), w, notes, v.Theme)
}

// Words and columns that the leaves share.

func says(role theme.Role, lines ...string) item { return item{lines: lines, role: role} }

func heading(s string) item { return says(theme.Dim, s) }

// about is what the foot says about a finding.
func about(f assess.Finding, v pane.View) []string {
	out := []string{f.Title + ": " + f.Status.String() + ". " + f.Advice}
	if len(f.Assumes) > 0 {
		out = append(out, "Assumed: "+strings.Join(f.Assumes, "; ")+".")
	}
	if !f.HasLimit {
		return out
	}
	side := "at most "
	if f.AtLeast {
		side = "at least "
	}
	limit := "Limit: " + side + v.Number(f.Kind, assess.Measure{V: f.Limit, Known: true}, v.Digits(f.Kind)) + " (" + f.Source
	if f.Changed {
		limit += ", changed"
	}
	return append(out, limit+").")
}

// worst returns the finding with the worst status of those there are, the first
// of several alike.
func worst(v pane.View, ids ...string) (assess.Finding, bool) {
	var out assess.Finding
	found := false
	for _, id := range ids {
		if f, ok := v.A.Finding(id); ok && (!found || f.Status > out.Status) {
			out, found = f, true
		}
	}
	return out, found
}
