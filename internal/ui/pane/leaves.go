package pane

import (
	"fmt"

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

// List draws the items as the open page's list into at most h lines.
func (l *Leaves) List(w, h int, items []Item, v View) []string {
	return List(w, h, items, l.Cursor(items), l.Foot, v)
}

// Draw draws the open page for w by h cells.
func (l *Leaves) Draw(w, h int, v View) Frame {
	var f Frame
	f.Title, f.Note = l.Title(w, v)
	page := l.Pages[l.open]
	if page.Draw != nil {
		f.Text = page.Draw(w, h, v)
	} else {
		f.Text = l.List(w, h, page.Items(w, v), v)
	}
	return f
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
