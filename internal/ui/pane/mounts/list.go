package mounts

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// item is one row of a leaf that only shows.
type item struct {
	text   string
	role   theme.Role
	advice []string
	stop   bool // the cursor can stand here
}

func (p *Pane) items(w int, v pane.View) []item {
	switch p.leaf {
	case brackets:
		return bracketItems(w, v)
	case clearances:
		return clearanceItems(w, v)
	}
	return loadItems(w, v)
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

// move steps the cursor of a leaf that only shows.
func (p *Pane) move(id action.ID, v pane.View) {
	const anyWidth = 60 // which rows there are does not depend on it
	n := len(stopsOf(p.items(anyWidth, v)))
	at := &p.list[p.leaf]
	by := 1
	if id == pane.Up {
		by = -1
	}
	*at = pane.Cursor(pane.Cursor(*at, n)+by, n)
}

// drawList draws the rows of a leaf into at most h lines, with what is to be
// said about the one under the cursor below.
func (p *Pane) drawList(w, h int, v pane.View) []string {
	items := p.items(w, v)
	stops, cursor := stopsOf(items), -1
	if len(stops) > 0 {
		cursor = stops[pane.Cursor(p.list[p.leaf], len(stops))]
	}
	var lines []string
	for i, it := range items {
		mark, role := "  ", it.role
		if i == cursor {
			mark = v.Theme.Bullet + " "
			if v.Focused {
				mark, role = v.Theme.Focus+" ", theme.Selected
			}
		}
		lines = append(lines, v.Theme.Cut(v.Theme.Paint(role, mark+it.text), w))
	}
	room := h - len(lines)
	if room < 2 {
		room = min(3, max(h-3, 0))
		top := pane.Window(max(cursor, 0), len(lines), h-room)
		lines = lines[top:min(len(lines), top+h-room)]
	}
	if cursor < 0 {
		return lines
	}
	return append(lines, foot(w, room, items[cursor].advice, v)...)
}

// foot explains the row under the cursor. Where there is no room for all of it
// that is marked, as the findings list has the rest.
func foot(w, room int, advice []string, v pane.View) []string {
	var out []string
	for _, a := range advice {
		for _, l := range theme.Wrap(v.Theme.Plain(project.Printable(a)), w-2) {
			out = append(out, "  "+l)
		}
	}
	if room > len(out) {
		out = append([]string{""}, out...)
	} else if room > 0 && room < len(out) {
		out = out[:room]
		out[room-1] = v.Theme.Pad(out[room-1], w-theme.Width(v.Theme.Ellipsis)) + v.Theme.Ellipsis
	}
	for i := range out {
		out[i] = v.Theme.Paint(theme.Dim, out[i])
	}
	return out[:min(len(out), max(room, 0))]
}

func heading(text string) item { return item{text: text, role: theme.Dim} }

// says is a sentence over as many rows as it takes.
func says(w int, role theme.Role, text string) []item {
	var out []item
	for _, l := range theme.Wrap(project.Printable(text), max(w-2, 1)) {
		out = append(out, item{text: l, role: role})
	}
	return out
}

// table sets a name and figures in columns, and a verdict behind them.
type table struct {
	w     int // of the whole row without the cursor's mark
	width int // of a figure
	v     pane.View
	out   []item
}

func newTable(w, figures int, v pane.View) *table {
	t := &table{w: min(w-2, 76), v: v, width: 10}
	if t.w < 40 {
		t.width = 8
	}
	if t.w-figures*t.width-2 < 12 {
		t.width = 7
	}
	return t
}

func (t *table) cells(name string, figures ...string) string {
	s := t.v.Theme.Pad(t.v.Theme.Plain(project.Printable(name)), max(t.w-len(figures)*t.width-2, 4))
	for _, f := range figures {
		s += t.v.Theme.PadLeft(f, t.width)
	}
	return s
}

func (t *table) heading(name string, figures ...string) {
	t.out = append(t.out, heading(t.cells(name, figures...)))
}

// row adds a row; the worst of fs gives its verdict, and all of them are told
// of below.
func (t *table) row(cells string, more []string, fs ...assess.Finding) {
	it := item{text: cells, stop: true, advice: more}
	if len(fs) > 0 {
		worst := fs[0]
		for _, f := range fs {
			if f.Status > worst.Status {
				worst = f
			}
		}
		st := pane.Status(worst.Status)
		it.role, it.text = st.Role(), cells+" "+t.v.Theme.Sign(st)
		it.advice = append(about(worst, t.v), more...)
		for _, f := range fs {
			if f.ID != worst.ID {
				it.advice = append(it.advice, about(f, t.v)...)
			}
		}
	}
	t.out = append(t.out, it)
}

func (t *table) cell(k quantity.Kind, m assess.Measure) string {
	return t.v.Cell(k, m, digits(k, t.v))
}

func digits(k quantity.Kind, v pane.View) int {
	if k == quantity.Number {
		return 2
	}
	return v.Digits(k)
}

// about says what a finding is, its limit and what to do.
func about(f assess.Finding, v pane.View) []string {
	out := []string{f.Title + ": " + f.Status.String() + ". " + f.Advice}
	if f.HasLimit {
		out = append(out, limit(f, v))
	}
	if len(f.Assumes) > 0 {
		out = append(out, "Assumed: "+strings.Join(f.Assumes, "; ")+".")
	}
	return out
}

// limit says what a finding is held against.
func limit(f assess.Finding, v pane.View) string {
	side := "at most "
	if f.AtLeast {
		side = "at least "
	}
	s := "Limit: " + side + v.Number(f.Kind, assess.Measure{V: f.Limit, Known: true}, digits(f.Kind, v)) + " (" + f.Source
	if f.Changed {
		s += ", changed"
	}
	return s + ")."
}

// findings returns those of the ids that there are.
func findings(v pane.View, ids ...string) []assess.Finding {
	var out []assess.Finding
	for _, id := range ids {
		if f, ok := v.A.Finding(id); ok {
			out = append(out, f)
		}
	}
	return out
}
