package pane

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/theme"
)

// Heading is a row that the cursor passes over.
func Heading(text string) Item { return Item{Text: []string{text}, Role: theme.Dim} }

// Says is a sentence over as many rows as it takes.
func Says(w int, role theme.Role, text string) []Item {
	var out []Item
	for _, l := range theme.Wrap(project.Printable(text), max(w-2, 1)) {
		out = append(out, Item{Text: []string{l}, Role: role})
	}
	return out
}

// Table sets a name and figures in columns, and a verdict behind them.
type Table struct {
	W     int    // of the whole row without the cursor's mark
	Width int    // of a figure
	words bool   // a verdict has its word behind its sign
	head  string // the last heading's name, and what stands over each figure
	over  []string
	V     View
	Out   []Item
}

// A row that is as wide as this has room for the word of a verdict.
const (
	wordsFrom = 56
	WordRoom  = 10 // of that word
)

// NewTable is a table for w cells, with so many figures in a row.
func NewTable(w, figures int, v View) *Table {
	t := &Table{W: min(w-2, 76), V: v, Width: 10}
	if w-2 >= wordsFrom {
		t.W, t.words = min(w-2-WordRoom, 76), true
	}
	if t.W < 40 {
		t.Width = 8
	}
	if t.W-figures*t.Width-2 < 12 {
		t.Width = 7
	}
	return t
}

// Cells sets a name and its figures. A long name has what the figures leave free.
func (t *Table) Cells(name string, figures ...string) string {
	s := ""
	for _, f := range figures {
		s += t.V.Theme.PadLeft(t.V.Theme.Plain(f), t.Width)
	}
	name = t.V.Theme.Plain(project.Printable(name))
	room := max(t.W-len(figures)*t.Width-2, 4)
	free := len(s) - len(strings.TrimLeft(s, " "))
	if long := theme.Width(name) - room; long > 0 && free > apart {
		n := min(long, free-apart)
		room, s = room+n, s[n:]
	}
	return t.V.Theme.Pad(name, room) + s
}

// apart is how far a long name stays from the first figure.
const apart = 2

// Heading adds a heading over columns.
func (t *Table) Heading(name string, figures ...string) {
	t.head, t.over = strings.TrimSpace(name), figures
	t.Out = append(t.Out, Heading(t.Cells(name, figures...)))
}

// Row adds a row; the worst of fs gives its verdict, and all of them are told
// of below.
func (t *Table) Row(cells string, more []string, fs ...assess.Finding) {
	it := Item{Text: []string{cells}, Stop: true, Advice: more}
	defer func() { t.told(&t.Out[len(t.Out)-1], cells) }()
	if len(fs) > 0 {
		worst := fs[0]
		for _, f := range fs {
			if f.Status > worst.Status {
				worst = f
			}
		}
		st := Status(worst.Status)
		it.Subject = worst.ID
		it.Role, it.Text = st.Role(), []string{cells + " " + t.V.Theme.Sign(st)}
		if word := " " + st.Word(); t.words && theme.Width(word) <= WordRoom {
			it.Text[0] += word
		}
		it.Advice = append(About(worst, t.V), more...)
		for _, f := range fs {
			if f.ID != worst.ID {
				it.Advice = append(it.Advice, About(f, t.V)...)
			}
		}
	}
	t.Out = append(t.Out, it)
}

// Named adds a row; a name for which the figures leave no room stands over them.
func (t *Table) Named(name string, figures, more []string, fs ...assess.Finding) {
	cells := t.Cells(name, figures...)
	whole := t.V.Theme.Plain(project.Printable(name))
	if strings.HasPrefix(cells, whole) {
		t.Row(cells, more, fs...)
		return
	}
	t.Row(t.Cells("", figures...), more, fs...)
	it := &t.Out[len(t.Out)-1]
	it.Text = append(theme.Wrap(whole, max(t.W, 1)), it.Text...)
	if it.Figures != "" {
		it.Name = strings.TrimSpace(whole) + " " + it.Name
	}
}

// told says a row's figures with what stands over them, for where the row is read alone.
func (t *Table) told(it *Item, cells string) {
	runes := []rune(cells)
	at := len(runes) - len(t.over)*t.Width
	if len(t.over) == 0 || at <= 0 {
		return
	}
	var out []string
	for i, over := range t.over {
		if figure := strings.TrimSpace(string(runes[at+i*t.Width : at+(i+1)*t.Width])); figure != "" && over != "" {
			out = append(out, over+" "+figure)
		}
	}
	if len(out) == 0 {
		return
	}
	it.Name = strings.TrimSpace(string(runes[:at])) + strings.TrimPrefix(it.Text[0], cells)
	it.Figures = strings.Join(out, ", ")
	if t.head != "" {
		it.Figures = t.head + ": " + it.Figures
	}
}

// Cell is a figure with as many decimals as a table shows.
func (t *Table) Cell(k quantity.Kind, m assess.Number) string {
	return t.V.Cell(k, m, t.V.TableDigits(k))
}

// TableDigits is Digits, with two for a plain number.
func (v View) TableDigits(k quantity.Kind) int {
	if k == quantity.Number {
		return 2
	}
	return v.Digits(k)
}

// About says what a finding is, its limit and what to do.
func About(f assess.Finding, v View) []string {
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
func limit(f assess.Finding, v View) string {
	side := "at most "
	if f.AtLeast {
		side = "at least "
	}
	s := "Limit: " + side + v.Number(f.Kind, assess.Exact(f.Limit), v.TableDigits(f.Kind)) + " (" + f.Source
	if f.Changed {
		s += ", changed"
	}
	return s + ")."
}

// Findings returns those of the ids that there are.
func Findings(v View, ids ...string) []assess.Finding {
	var out []assess.Finding
	for _, id := range ids {
		if f, ok := v.A.Finding(id); ok {
			out = append(out, f)
		}
	}
	return out
}
