package mounts

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

func heading(text string) pane.Item { return pane.Item{Text: []string{text}, Role: theme.Dim} }

// says is a sentence over as many rows as it takes.
func says(w int, role theme.Role, text string) []pane.Item {
	var out []pane.Item
	for _, l := range theme.Wrap(project.Printable(text), max(w-2, 1)) {
		out = append(out, pane.Item{Text: []string{l}, Role: role})
	}
	return out
}

// table sets a name and figures in columns, and a verdict behind them.
type table struct {
	w     int  // of the whole row without the cursor's mark
	width int  // of a figure
	words bool // a verdict has its word behind its sign
	v     pane.View
	out   []pane.Item
}

// A row that is as wide as this has room for the word of a verdict.
const (
	wordsFrom = 56
	wordRoom  = 10
)

func newTable(w, figures int, v pane.View) *table {
	t := &table{w: min(w-2, 76), v: v, width: 10}
	if w-2 >= wordsFrom {
		t.w, t.words = min(w-2-wordRoom, 76), true
	}
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
	it := pane.Item{Text: []string{cells}, Stop: true, Advice: more}
	if len(fs) > 0 {
		worst := fs[0]
		for _, f := range fs {
			if f.Status > worst.Status {
				worst = f
			}
		}
		st := pane.Status(worst.Status)
		it.Subject = worst.ID
		it.Role, it.Text = st.Role(), []string{cells + " " + t.v.Theme.Sign(st)}
		if word := " " + st.Word(); t.words && theme.Width(word) <= wordRoom {
			it.Text[0] += word
		}
		it.Advice = append(about(worst, t.v), more...)
		for _, f := range fs {
			if f.ID != worst.ID {
				it.Advice = append(it.Advice, about(f, t.v)...)
			}
		}
	}
	t.out = append(t.out, it)
}

func (t *table) cell(k quantity.Kind, m assess.Number) string {
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
	out := []string{f.Title + ": " + f.Status.String() + ". " + v.Theme.Plain(f.Advice())}
	if f.HasLimit {
		out = append(out, limit(f, v))
	}
	if len(f.Assumes) > 0 {
		out = append(out, v.Theme.Plain("Assumed: "+strings.Join(f.Assumes, "; ")+"."))
	}
	return out
}

// limit says what a finding is held against.
func limit(f assess.Finding, v pane.View) string {
	side := "at most "
	if f.AtLeast {
		side = "at least "
	}
	s := "Limit: " + side + v.Number(f.Kind, assess.Exact(f.Limit), digits(f.Kind, v)) + " (" + f.Source
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
