package theme

import "strings"

// Inner returns the room for content in a panel of w by h cells.
func Inner(w, h int) (iw, ih int) { return max(w-2, 0), max(h-2, 0) }

// Panel frames lines in a border of exactly w by h cells, with a title on the
// left of the top edge and a note on its right. The focused panel has a glyph
// before its title and a heavier border. Lines are cut or filled to fit;
// missing ones are blank. A panel of one row is a Bar; one of a single column
// is blank. Negative sizes count as zero.
func (t *Theme) Panel(w, h int, title, note string, focused bool, lines []string) []string {
	w, h = max(w, 0), max(h, 0)
	if h == 1 {
		return []string{t.Bar(w, title, note, focused)}
	}
	out := make([]string, h)
	if h == 0 {
		return out
	}
	if w < 2 {
		for i := range out {
			out[i] = spaces(w)
		}
		return out
	}
	box, role := t.frame(focused)
	on, off := t.SGR(role)
	out[0] = t.edge(w, box.TopLeft, box.TopRight, title, note, focused)
	side := on + box.Down + off
	iw, _ := Inner(w, h)
	for i := 1; i < h-1; i++ {
		content := ""
		if i-1 < len(lines) {
			content = lines[i-1]
		}
		out[i] = side + t.Pad(content, iw) + side
	}
	out[h-1] = on + box.BottomLeft + strings.Repeat(box.Across, iw) + box.BottomRight + off
	return out
}

// Foot is the bottom edge of a panel of w cells, with words let into it.
func (t *Theme) Foot(w int, words string, focused bool) string {
	box, role := t.frame(focused)
	on, off := t.SGR(role)
	iw, _ := Inner(w, 2)
	if words != "" && iw > Width(words)+4 {
		words = " " + words + " "
	} else {
		words = ""
	}
	return on + box.BottomLeft + strings.Repeat(box.Across, max(iw-Width(words)-1, 0)) + off + words +
		on + strings.Repeat(box.Across, min(iw, 1)) + box.BottomRight + off
}

// Bar is a panel closed to its title: one line of exactly w cells.
func (t *Theme) Bar(w int, title, note string, focused bool) string {
	if w < 2 {
		return spaces(w)
	}
	box, _ := t.frame(focused)
	return t.edge(w, box.Across, box.Across, title, note, focused)
}

func (t *Theme) frame(focused bool) (Box, Role) {
	if focused {
		return t.Heavy, FocusBorder
	}
	return t.Light, Border
}

// edge draws a line with a title and a note let into it: "┌ Mounts ── 2 over ┐".
// The title has first claim on the room; the note is left out when fewer than
// three of its cells would show.
func (t *Theme) edge(w int, left, right, title, note string, focused bool) string {
	box, role := t.frame(focused)
	on, off := t.SGR(role)
	room := w - 2
	mark := " "
	if focused {
		mark = t.Focus
	}
	head, used := "", 0
	if title != "" && room >= 2 {
		head = t.Cut(title, room-2)
		used = 2 + Width(head)
		head = on + mark + off + t.Paint(Title, head) + " "
	} else if focused && room >= 1 {
		head, used = on+mark+off, 1
	}
	tail := ""
	if left := room - used - 3; note != "" && left >= min(3, Width(note)) {
		tail = t.Cut(note, left)
		used += Width(tail) + 2
		tail = " " + tail + " "
	}
	return on + left + off + head + on + strings.Repeat(box.Across, max(room-used, 0)) + off + tail + on + right + off
}
