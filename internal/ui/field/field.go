// Package field is one editable value on screen: a line of text that says,
// while it is being typed, how it would be understood or what is wrong with
// it, and that can only be accepted when it is understood.
package field

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"fitup/internal/ui/theme"
)

// Check judges a text. hint says how it would be understood ("412 mm"); err
// says why it is not, in words for the user.
type Check func(text string) (hint string, err error)

// Done says whether the editing is over.
type Done int

// What Update reports.
const (
	Editing   Done = iota
	Accepted       // Enter on a text that passes the check
	Cancelled      // Esc
)

// maxRunes is the longest text a field takes; no value is near as long.
const maxRunes = 200

// messageLines is the most lines View gives to the hint or the error.
const messageLines = 4

// Model is a field being edited. It is a value: Update returns the next one
// and leaves the old as it was.
type Model struct {
	title string
	in    textinput.Model
	check Check
	theme *theme.Theme
	hint  string
	err   error
}

// New returns a field with the cursor at the end of the initial text. A nil
// check accepts anything. It draws plainly until WithTheme is called.
func New(title, initial string, check Check) Model {
	in := textinput.New()
	in.CharLimit = maxRunes
	// The terminal's own paste arrives as keys; fetching the clipboard would
	// run another program.
	in.KeyMap.Paste.SetEnabled(false)
	in.Focus()
	in.SetValue(theme.Clean(initial))
	in.CursorEnd()
	m := Model{title: theme.Clean(title), in: in, check: check}
	return m.judged()
}

// NewLong is New for a text of up to as many signs as given.
func NewLong(title, initial string, runes int, check Check) Model {
	m := New(title, "", check)
	m.in.CharLimit = runes
	m.in.SetValue(theme.Clean(initial))
	m.in.CursorEnd()
	return m.judged()
}

// WithTheme returns the field drawn in a theme.
func (m Model) WithTheme(t *theme.Theme) Model {
	m.theme = t
	return m
}

// Text returns the text as it stands.
func (m Model) Text() string { return m.in.Value() }

// Cursor returns how many signs stand before the cursor.
func (m Model) Cursor() int { return m.in.Position() }

// With returns the field with another text, and the cursor behind so many signs.
func (m Model) With(text string, cursor int) Model {
	m.in.SetValue(theme.Clean(text))
	m.in.SetCursor(max(cursor, 0))
	return m.judged()
}

// Hint returns how the text would be understood, or "" if it would not be.
func (m Model) Hint() string { return m.hint }

// Err returns what is wrong with the text, or nil.
func (m Model) Err() error { return m.err }

// Update takes a key. Enter accepts only a text that passes the check, Esc
// cancels; anything else edits. Control signs in a paste are dropped, line
// ends and tabs within it become spaces.
func (m Model) Update(msg tea.KeyMsg) (Model, Done) {
	switch msg.Type {
	case tea.KeyEsc:
		return m, Cancelled
	case tea.KeyEnter:
		if m.err != nil {
			return m, Editing
		}
		return m, Accepted
	case tea.KeyRunes, tea.KeySpace:
		if !msg.Alt {
			return m.insert(msg).judged(), Editing
		}
	}
	// Deleting works in place on the text input's slice, which copies of the
	// model share: give this one its own.
	at := m.in.Position()
	m.in.SetValue(m.in.Value())
	m.in.SetCursor(at)
	if msg.Alt && msg.Type == tea.KeyRunes && !slices.Contains(altMoves, msg.String()) {
		return m, Editing // a shortcut for someone else, not a letter
	}
	m.in, _ = m.in.Update(msg)
	return m.judged(), Editing
}

// altMoves are the text input's own keys with alt and a letter: word left and
// right, delete word.
var altMoves = []string{"alt+b", "alt+f", "alt+d"}

// insert puts typed or pasted signs in at the cursor. It does not leave this
// to the text input, which compares a message's text with the names of keys:
// the letters "up" arriving in one read would be taken for the arrow.
func (m Model) insert(msg tea.KeyMsg) Model {
	text := theme.Clean(string(msg.Runes))
	if msg.Paste {
		text = strings.Join(strings.Fields(text), " ")
	}
	now, at := []rune(m.in.Value()), m.in.Position()
	fresh := []rune(text)
	fresh = fresh[:min(len(fresh), max(m.in.CharLimit-len(now), 0))]
	m.in.SetValue(string(slices.Concat(now[:at], fresh, now[at:])))
	m.in.SetCursor(at + len(fresh))
	return m
}

// judged runs the check on the text.
func (m Model) judged() Model {
	m.hint, m.err = "", nil
	if m.check == nil {
		return m
	}
	m.hint, m.err = m.check(m.in.Value())
	if m.err != nil {
		m.hint = ""
	}
	return m
}

// View returns the title, the text with its cursor, and the hint or the error
// (one to four lines), each exactly width cells wide. A width below one gives
// no lines.
func (m Model) View(width int) []string {
	if width < 1 {
		return nil
	}
	t := m.theme
	if t == nil {
		t = plain()
	}
	lines := []string{t.Pad(t.Paint(theme.Title, m.title), width), m.input(t, width)}
	role, mark, message := theme.Dim, "= ", m.hint
	switch {
	case m.err != nil:
		role, mark, message = theme.Danger, t.SignOver+" ", m.err.Error()
	case m.hint == "":
		mark = ""
	}
	wrapped := theme.Wrap(t.Plain(theme.Clean(mark+message)), width)
	if len(wrapped) > messageLines {
		rest := strings.Join(wrapped[messageLines-1:], " ")
		wrapped = append(wrapped[:messageLines-1], t.Cut(rest, width))
	}
	for _, l := range wrapped {
		lines = append(lines, t.Pad(t.Paint(role, l), width))
	}
	return lines
}

func plain() *theme.Theme {
	return &theme.Theme{Name: "plain", Glyphs: theme.ASCII()}
}

// input draws the text line. When it is longer than the room, both ends are cut
// so that the cursor stays in sight. Where the theme can mark a cell the cursor
// is the marked cell, otherwise a bar between two signs.
func (m Model) input(t *theme.Theme, width int) string {
	const prompt = "> "
	if width < len(prompt)+4 { // cursor, a mark at either end, a double-width sign
		return t.Pad(t.Cut(m.in.Value(), width), width)
	}
	room := width - len(prompt)
	text, at := []rune(m.in.Value()), m.in.Position()
	cursor, after := " ", ""
	if on, _ := t.SGR(theme.Underlined); on == "" {
		cursor, after = t.Cursor, string(text[at:])
	} else if at < len(text) {
		cursor, after = string(text[at]), string(text[at+1:])
	}
	before := string(text[:at])
	more := min(theme.Width(after), 1) // one cell to show that the text goes on
	if over := theme.Width(before) + theme.Width(cursor) + more - room; over > 0 {
		before = ansi.TruncateLeft(before, over+1, t.Ellipsis)
	}
	after = t.Cut(after, room-theme.Width(before)-theme.Width(cursor))
	line := t.Paint(theme.Key, prompt) + t.Paint(theme.Value, before) + theme.Caret +
		t.Paint(theme.Underlined, cursor) + t.Paint(theme.Value, after)
	return t.Pad(line, width)
}
