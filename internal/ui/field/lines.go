package field

import (
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"fitup/internal/ui/theme"
)

// Lines is a text of several lines being edited. It is a value: Update returns the
// next one and leaves the old as it was.
type Lines struct {
	rows    [][]rune
	row, at int // where the cursor stands: the line, and the signs before it
	limit   int // signs, line ends among them
}

// NewLines returns a field of several lines with the cursor behind so many signs of
// the text; it takes up to limit signs.
func NewLines(text string, cursor, limit int) Lines {
	m := Lines{limit: limit}
	for _, l := range strings.Split(strings.ReplaceAll(text, "\r\n", "\n"), "\n") {
		m.rows = append(m.rows, []rune(theme.Clean(l)))
	}
	m.row = len(m.rows) - 1
	m.at = len(m.rows[m.row])
	for i, r := range m.rows {
		if cursor <= len(r) {
			m.row, m.at = i, max(cursor, 0)
			break
		}
		cursor -= len(r) + 1
	}
	return m
}

// Text returns the text as it stands.
func (m Lines) Text() string {
	out := make([]string, len(m.rows))
	for i, r := range m.rows {
		out[i] = string(r)
	}
	return strings.Join(out, "\n")
}

// Cursor returns how many signs of the text stand before the cursor.
func (m Lines) Cursor() int {
	n := m.at
	for _, r := range m.rows[:m.row] {
		n += len(r) + 1
	}
	return n
}

// Count is how many lines there are.
func (m Lines) Count() int { return len(m.rows) }

// Update takes a key that edits: letters, deleting, the arrows, and ctrl+j for a new
// line. What is pasted keeps its lines.
func (m Lines) Update(k tea.KeyMsg) Lines {
	m.rows = slices.Clone(m.rows)
	switch k.Type {
	case tea.KeyRunes, tea.KeySpace:
		if !k.Alt {
			return m.insert(string(k.Runes))
		}
	case tea.KeyCtrlJ:
		return m.insert("\n")
	case tea.KeyBackspace, tea.KeyCtrlH:
		if m.row > 0 || m.at > 0 {
			return m.move(-1).cut()
		}
	case tea.KeyDelete, tea.KeyCtrlD:
		return m.cut()
	case tea.KeyCtrlU:
		m.rows[m.row], m.at = slices.Clone(m.rows[m.row][m.at:]), 0
	case tea.KeyCtrlK:
		m.rows[m.row] = slices.Clone(m.rows[m.row][:m.at])
	case tea.KeyLeft, tea.KeyCtrlB:
		return m.move(-1)
	case tea.KeyRight, tea.KeyCtrlF:
		return m.move(1)
	case tea.KeyUp:
		return m.to(m.row-1, m.at)
	case tea.KeyDown:
		return m.to(m.row+1, m.at)
	case tea.KeyHome, tea.KeyCtrlA:
		m.at = 0
	case tea.KeyEnd, tea.KeyCtrlE:
		m.at = len(m.rows[m.row])
	}
	return m
}

func (m Lines) to(row, at int) Lines {
	if row < 0 || row >= len(m.rows) {
		return m
	}
	m.row, m.at = row, min(at, len(m.rows[row]))
	return m
}

// move moves the cursor by one sign, over the ends of lines too.
func (m Lines) move(by int) Lines {
	switch at := m.at + by; {
	case at < 0 && m.row > 0:
		return m.to(m.row-1, len(m.rows[m.row-1]))
	case at > len(m.rows[m.row]) && m.row+1 < len(m.rows):
		return m.to(m.row+1, 0)
	default:
		return m.to(m.row, min(max(at, 0), len(m.rows[m.row])))
	}
}

// cut takes the sign behind the cursor out, or the end of the line.
func (m Lines) cut() Lines {
	here := m.rows[m.row]
	switch {
	case m.at < len(here):
		m.rows[m.row] = slices.Concat(here[:m.at], here[m.at+1:])
	case m.row+1 < len(m.rows):
		m.rows[m.row] = slices.Concat(here, m.rows[m.row+1])
		m.rows = slices.Delete(m.rows, m.row+1, m.row+2)
	}
	return m
}

func (m Lines) insert(text string) Lines {
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	room := m.limit - len([]rune(m.Text()))
	for i, l := range strings.Split(text, "\n") {
		if i > 0 && room > 0 {
			here := m.rows[m.row]
			m.rows[m.row] = slices.Clone(here[:m.at])
			m.rows = slices.Insert(m.rows, m.row+1, slices.Clone(here[m.at:]))
			m.row, m.at, room = m.row+1, 0, room-1
		}
		fresh := []rune(theme.Clean(l))
		fresh = fresh[:min(len(fresh), max(room, 0))]
		here := m.rows[m.row]
		m.rows[m.row] = slices.Concat(here[:m.at], fresh, here[m.at:])
		m.at, room = m.at+len(fresh), room-len(fresh)
	}
	return m
}

// View draws h lines of width cells, with the cursor in sight. A line longer than
// that goes on below.
func (m Lines) View(width, h int, t *theme.Theme) []string {
	if width < 2 || h < 1 {
		return nil
	}
	if t == nil {
		t = plain()
	}
	var out []string
	at := 0
	for i, r := range m.rows {
		for first := true; first || len(r) > 0; first = false {
			part := fitting(r, width-1) // one cell for the cursor at an end
			start := len(m.rows[i]) - len(r)
			r = r[len(part):]
			here := m.row == i && m.at >= start && (m.at < start+len(part) || len(r) == 0)
			if !here {
				out = append(out, t.Pad(t.Paint(theme.Value, string(part)), width))
				continue
			}
			at = len(out)
			out = append(out, t.Pad(marked(part, m.at-start, t), width))
		}
	}
	top := max(min(at-h/2, len(out)-h), 0)
	return out[top:min(top+h, len(out))]
}

// fitting is as much of a line as has room.
func fitting(r []rune, width int) []rune {
	w := 0
	for i, c := range r {
		if w += theme.Width(string(c)); w > width {
			return r[:max(i, 1)]
		}
	}
	return r
}

// marked draws a piece of a line with the cursor in it.
func marked(part []rune, at int, t *theme.Theme) string {
	cursor, after := " ", ""
	if on, _ := t.SGR(theme.Underlined); on == "" {
		cursor, after = t.Cursor, string(part[at:])
	} else if at < len(part) {
		cursor, after = string(part[at]), string(part[at+1:])
	}
	return t.Paint(theme.Value, string(part[:at])) + theme.Caret + t.Paint(theme.Underlined, cursor) + t.Paint(theme.Value, after)
}
