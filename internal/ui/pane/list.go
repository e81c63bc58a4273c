package pane

import (
	"strings"

	"fitup/internal/project"
	"fitup/internal/ui/theme"
)

// Item is one row of a list: one line of the screen, or several.
type Item struct {
	Text   []string
	Role   theme.Role
	Paint  func(mark string, role theme.Role) string // the first line where one colour is not enough
	More   []string                                  // dim lines that hang under it
	Advice []string                                  // what is said below the list with the cursor here
	Stop   bool                                      // the cursor can stand here

	Name    string // of a row of figures, its name and its verdict without them
	Figures string // those, each with what stands over it

	Target  string // what a reading taken here is of
	Reading int    // the reading in use, counted from 1; 0 for none
	Subject string // what it is about, for the sketch: the id of a finding or a row; "" for the target
}

// Stops returns the indices of the items on which the cursor can stand.
func Stops(items []Item) []int {
	var out []int
	for i, it := range items {
		if it.Stop {
			out = append(out, i)
		}
	}
	return out
}

// Mark is what stands before a row, and the role of the row: both tell where
// the cursor is.
func (v View) Mark(cursor bool, role theme.Role) (string, theme.Role) {
	switch {
	case cursor && v.Focused:
		return v.Theme.Pointer(), theme.Selected
	case cursor:
		return v.Theme.Bullet + " ", role
	}
	return "  ", role
}

// Rows draws items one below the other in w cells, the cursor on the one with
// that index, and says on which line that one begins: 0 without one.
func Rows(w int, items []Item, cursor int, v View) (lines []string, at int) {
	return rows(w, items, cursor, 0, v)
}

// rows is Rows for items behind others, on stop of which the cursor can stand.
func rows(w int, items []Item, cursor, stop int, v View) (lines []string, at int) {
	for i, it := range items {
		if i == cursor {
			at = len(lines)
		}
		hit := ""
		if it.Stop {
			if v.Mouse {
				hit = theme.Hit(stop)
			}
			stop++
		}
		mark, role := v.Mark(i == cursor, it.Role)
		if it.Paint != nil {
			lines = append(lines, hit+it.Paint(mark, role))
		}
		for _, s := range it.Text {
			lines = append(lines, hit+v.Theme.Cut(v.Theme.Paint(role, mark+s), w))
			mark = "  "
		}
		for _, s := range it.More {
			lines = append(lines, hit+v.Theme.Cut("  "+v.Theme.Paint(theme.Dim, s), w))
		}
	}
	return lines, at
}

// height is how many lines of the screen an item takes.
func (it Item) height() int {
	n := len(it.Text) + len(it.More)
	if it.Paint != nil {
		n++
	}
	return n
}

// Height is how many lines of the screen items take.
func Height(items []Item) int {
	n := 0
	for _, it := range items {
		n += it.height()
	}
	return n
}

// Part is Rows for the h lines in which the cursor is visible. Only the items of
// these are drawn.
func Part(w int, items []Item, cursor, h int, v View) []string {
	all, at := 0, 0
	for i, it := range items {
		if i == cursor {
			at = all
		}
		all += it.height()
	}
	top := Window(at, all, h)
	v.Hide(all, top, max(h, 0))
	end := min(all, top+max(h, 0))
	first, last, from, n := len(items), 0, 0, 0
	for i, it := range items {
		if before := n; before < end && before+it.height() > top {
			if first == len(items) {
				first, from = i, before
			}
			last = i + 1
		}
		n += it.height()
	}
	if first == len(items) {
		return nil
	}
	lines, _ := rows(w, items[first:last], cursor-first, len(Stops(items[:first])), v)
	return lines[top-from : end-from]
}

// Foot is how the words about the row under the cursor stand below a list.
type Foot struct {
	Least int // rows they keep where the list alone fills the pane
	// Whole puts an empty row before them only where all of them have room, and
	// the sign that some have not at the end of the line. Otherwise the row is
	// there where it can be spared, and the sign follows the last word.
	Whole bool
}

// List draws items into at most h lines, with what is to be said about the one
// at index cursor below.
func List(w, h int, items []Item, cursor int, foot Foot, v View) []string {
	all := 0
	for _, it := range items {
		all += it.height()
	}
	room := h - all
	if room < 2 {
		room = min(foot.Least, max(h-3, 0))
	}
	lines := Part(w, items, cursor, h-room, v)
	if cursor < 0 {
		return lines
	}
	return append(lines, foot.Draw(w, room, items[cursor].Advice, v)...)
}

// Draw writes advice into at most room lines of w cells. Where there is no room
// for all of it that is marked, with the key that shows it in full.
func (f Foot) Draw(w, room int, advice []string, v View) []string {
	room = max(room, 0)
	var out []string
	for _, a := range advice {
		for _, l := range theme.Wrap(v.Theme.Plain(project.Printable(a)), w-2) {
			out = append(out, "  "+l)
		}
	}
	if len(out) == 0 {
		return nil
	}
	if f.Whole && room > len(out) || !f.Whole && room > 3 {
		out = append([]string{""}, out...)
	}
	if len(out) > room {
		if out = out[:room]; room > 0 {
			out[room-1] = f.more(out[room-1], w, v)
		}
	}
	for i, l := range out {
		if l != "" {
			out[i] = v.Theme.Paint(theme.Dim, l)
		}
	}
	return out
}

// more marks a line behind which there is more.
func (f Foot) more(line string, w int, v View) string {
	if !f.Whole {
		return v.Marked(line, w)
	}
	tail := v.tail()
	room := w - theme.Width(tail)
	return v.Theme.Pad(shortened(line, room-1), room) + tail
}

// Marked is a line of w cells behind which there is more, with the key that shows it.
func (v View) Marked(line string, w int) string {
	tail := v.tail()
	return v.Theme.Cut(shortened(line, w-theme.Width(tail)-1)+" "+tail, w)
}

func (v View) tail() string {
	if v.InFull == "" {
		return v.Theme.Ellipsis
	}
	return v.Theme.Ellipsis + " (" + v.InFull + ": in full)"
}

// shortened is a line of at most w cells, cut between its words.
func shortened(line string, w int) string {
	for theme.Width(line) > w {
		at := strings.LastIndexByte(strings.TrimRight(line, " "), ' ')
		if at < 0 {
			return ""
		}
		line = line[:at]
	}
	return line
}
