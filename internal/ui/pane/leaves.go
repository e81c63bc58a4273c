package pane

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/ui/action"
	"fitup/internal/ui/theme"
)

// Leaf is one page of a pane.
type Leaf struct {
	Name string
	// Items are its rows for w cells. On which of them the cursor can stand does
	// not depend on w.
	Items func(w int, v View) []Item
	// Draw draws the page into at most h lines; nil for the list of its rows.
	Draw func(w, h int, v View) []string
	// Alone says that the page makes use of all the width itself, with a plot.
	Alone bool
	// Key does what a row can do beyond taking the cursor; nil for nothing. at
	// counts the rows on which the cursor can stand, and is -1 where there is none.
	Key func(id action.ID, it Item, at int, v View) Intent
}

// Leaves are the pages of a pane: which is open, and where the cursor stands on
// each. A pane that embeds it is drawn and takes keys page by page.
type Leaves struct {
	Name  string // of the pane
	Pages []Leaf
	Foot  Foot
	Notes func(v View) []string // for the border, the longest first; nil for none
	open  int
	at    []int
}

// anyWidth is for asking which rows there are.
const anyWidth = 60

// Open is the index of the page that is open.
func (l *Leaves) Open() int { return l.open }

// Leaf is the name of the page that is open.
func (l *Leaves) Leaf() string { return l.Pages[l.open].Name }

// Leafs are the names of the pages, in order.
func (l *Leaves) Leafs() []string {
	var out []string
	for _, p := range l.Pages {
		out = append(out, p.Name)
	}
	return out
}

// Show opens the page with that index.
func (l *Leaves) Show(i int) { l.open = Cursor(i, len(l.Pages)) }

// Turn opens the next page or the one before, and says whether the action was
// one of these.
func (l *Leaves) Turn(id action.ID) bool {
	n := len(l.Pages)
	switch id {
	case NextLeaf:
		l.open = (l.open + 1) % n
	case PrevLeaf:
		l.open = (l.open + n - 1) % n
	default:
		return false
	}
	return true
}

// At is where the cursor stands on a page of n rows, -1 when there are none.
func (l *Leaves) At(page, n int) int {
	if n == 0 {
		return -1
	}
	if page >= len(l.at) {
		return 0
	}
	return Cursor(l.at[page], n)
}

// Put puts the cursor of a page on a row.
func (l *Leaves) Put(page, at int) {
	for len(l.at) < len(l.Pages) {
		l.at = append(l.at, 0)
	}
	l.at[page] = at
}

// Pick puts the cursor of the open page on a row.
func (l *Leaves) Pick(row int) { l.Put(l.open, row) }

// Key turns pages, moves the cursor, and leaves everything else to the page.
func (l *Leaves) Key(id action.ID, v View) Intent {
	if l.Turn(id) {
		return nil
	}
	page := l.Pages[l.open]
	items := page.Items(anyWidth, v)
	stops := Stops(items)
	at, it := l.At(l.open, len(stops)), Item{}
	if at >= 0 {
		it = items[stops[at]]
		l.Put(l.open, Cursor(at+step(id), len(stops)))
	}
	if step(id) != 0 {
		return nil
	}
	var in Intent
	if page.Key != nil {
		in = page.Key(id, it, at, v)
	}
	if in == nil && (id == Less || id == More) {
		return Say{Text: "The arrows to the sides change nothing on this page."}
	}
	return in
}

// step is how far an action moves the cursor.
func step(id action.ID) int {
	switch id {
	case Up:
		return -1
	case Down:
		return 1
	}
	return 0
}

// Cursor is the index of the item of the open page that has the cursor, -1 when
// none can.
func (l *Leaves) Cursor(items []Item) int {
	stops := Stops(items)
	if at := l.At(l.open, len(stops)); at >= 0 {
		return stops[at]
	}
	return -1
}

// Subject is what the row under the cursor is about; "" for nothing.
func (l *Leaves) Subject(v View) string {
	items := l.Pages[l.open].Items(anyWidth, v)
	at := l.Cursor(items)
	switch {
	case at < 0:
		return ""
	case items[at].Subject != "":
		return items[at].Subject
	}
	return items[at].Target
}

// Tell is the row under the cursor of the open page, and all there is to say of it.
func (l *Leaves) Tell(v View) (head string, words []string) {
	const wide = 76
	items := l.Pages[l.open].Items(wide, v)
	at := l.Cursor(items)
	if at < 0 {
		return "", nil
	}
	head = strings.Join(items[at].Text, " ")
	if it := items[at]; it.Figures != "" {
		return it.Name, append(append([]string{it.Figures}, it.Advice...), it.More...)
	}
	return strings.TrimSpace(head), append(slices.Clone(items[at].Advice), items[at].More...)
}

// List draws the items as the open page's list into at most h lines.
func (l *Leaves) List(w, h int, items []Item, v View) []string {
	return List(w, h, items, l.Cursor(items), l.Foot, v)
}

// Draw draws the open page for w by h cells, and below or beside it the pages that
// follow, where they have room.
func (l *Leaves) Draw(w, h int, v View) Frame {
	var f Frame
	f.Title, f.Note = l.Title(w, v)
	if w < besideFrom || l.Pages[l.open].Alone {
		f.Text, _ = l.column(w, h, 0, v)
		return f
	}
	cw := (w - besideGap) / 2
	left, next := l.column(cw, h, 0, v)
	right, _ := l.column(cw, h, next, v)
	for i := range max(len(left), len(right)) {
		row := ""
		if i < len(left) {
			row = left[i]
		}
		if i < len(right) {
			row = v.Theme.Pad(row, cw+besideGap) + right[i]
		}
		f.Text = append(f.Text, row)
	}
	return f
}

// Where there is room for more than one page.
const (
	besideFrom = 112 // cells for two pages side by side
	besideGap  = 3
	leastBelow = 6 // rows for another page below one: an empty one, its name and some of it
)

// column draws pages one below the other: the open one, or that which comes so many
// behind it, and as many of the following as have room. next is the one behind them.
func (l *Leaves) column(w, h, first int, v View) (lines []string, next int) {
	next = first
	if first == 0 {
		page := l.Pages[l.open]
		if page.Draw != nil {
			lines = page.Draw(w, h, v)
		} else {
			lines = l.List(w, h, page.Items(w, v), v)
		}
		for len(lines) > 0 && strings.TrimSpace(lines[len(lines)-1]) == "" {
			lines = lines[:len(lines)-1]
		}
		next = 1
	}
	for ; next < len(l.Pages) && h-len(lines) >= leastBelow; next++ {
		if l.repeats(next, v) {
			continue
		}
		if len(lines) > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, l.glance(w, h-len(lines), l.Pages[(l.open+next)%len(l.Pages)], v)...)
	}
	return lines, next
}

// repeats reports whether a page, so many behind the open one, says nothing but what one
// before it says already: pages without anything, each of which says how it is begun.
func (l *Leaves) repeats(n int, v View) bool {
	text := func(n int) string {
		var out []string
		for _, it := range l.Pages[(l.open+n)%len(l.Pages)].Items(anyWidth, v) {
			if it.Stop || it.Paint != nil {
				return ""
			}
			out = append(out, it.Text...)
		}
		return strings.Join(out, " ")
	}
	own := text(n)
	if own == "" {
		return false
	}
	for i := range n {
		if text(i) == own {
			return true
		}
	}
	return false
}

// glance draws the beginning of a page that is not open, under its name. It has no
// cursor and takes no key.
func (l *Leaves) glance(w, h int, page Leaf, v View) []string {
	v.Focused, v.Mouse, v.Hidden = false, false, &Hidden{}
	items := page.Items(w, v)
	rows := Part(w, items, -1, h-1, v)
	head := page.Name
	if words := v.Hidden.String(); words != "" {
		head += ", " + words
	}
	across := v.Theme.Light.Across
	line := v.Theme.Cut(strings.Repeat(across, 2)+" "+head+" ", w)
	line += strings.Repeat(across, max(w-theme.Width(line), 0))
	return append([]string{v.Theme.Paint(theme.Border, line)}, rows...)
}

// Title is the title of the pane and its note: all pages with the open one in
// brackets where the border has room, otherwise the open one and how many there
// are. The first of the notes that fits goes with it.
func (l *Leaves) Title(w int, v View) (title, note string) {
	var notes []string
	if l.Notes != nil {
		notes = l.Notes(v)
	}
	t, open := v.Theme, l.Leaf()
	full, short := l.Name+":", fmt.Sprintf("%s: %s (%d of %d)", l.Name, open, l.open+1, len(l.Pages))
	on, off := t.SGR(theme.Title)
	for i, page := range l.Pages {
		if i == l.open {
			full += " [" + page.Name + "]"
		} else {
			full += " " + off + t.Paint(theme.Dim, page.Name) + on
		}
	}
	bare := l.Name + ": " + open
	for _, s := range []string{full, short, bare} {
		if len(notes) == 0 && theme.Width(s)+4 <= w {
			return s, ""
		}
		for _, n := range notes {
			if theme.Width(s)+theme.Width(n)+7 <= w {
				return s, n
			}
		}
	}
	if len(notes) == 0 {
		return short, ""
	}
	return bare, notes[len(notes)-1]
}
