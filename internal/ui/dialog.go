package ui

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// dialog is something that lies over the panes and has the keys until it is
// closed.
type dialog interface {
	// key takes a key; the dialog closes itself with m.close.
	key(m *Model, k tea.KeyMsg)
	// size is the size it would like on a screen of w by h cells.
	size(w, h int) (dw, dh int)
	// draw returns the words of its border and its lines for w by h cells.
	draw(m *Model, w, h int) (title, note string, lines []string)
}

// pointing is a box whose cursor can be on something that has a place in the sketch. Where
// there is room it leaves the sketch in sight.
type pointing interface {
	dialog
	subject(m *Model) string // "" for nothing
}

// scroll is a list of lines longer than its box.
type scroll struct{ top int }

func (s *scroll) move(k tea.KeyMsg) {
	switch k.String() {
	case "up", "k":
		s.top--
	case "down", "j":
		s.top++
	case "pgup", "left":
		s.top -= 10
	case "pgdown", "right", " ":
		s.top += 10
	case "home":
		s.top = 0
	case "end":
		s.top = 1 << 20
	}
}

func (s *scroll) show(lines []string, h int) ([]string, string) {
	s.top = max(0, min(s.top, len(lines)-h))
	end := min(len(lines), s.top+h)
	note := ""
	if len(lines) > h {
		note = fmt.Sprintf("%d to %d of %d", s.top+1, end, len(lines))
	}
	return lines[s.top:end], note
}

// choice is one way out of a question.
type choice struct {
	key, label string
	do         func(m *Model)
}

// question asks the user to choose.
type question struct {
	title   string
	text    []string
	choices []choice
	must    bool // there is no going on without an answer
}

func (q *question) key(m *Model, k tea.KeyMsg) {
	if k.String() == "esc" && !q.must {
		m.close()
		return
	}
	for _, c := range q.choices {
		if k.String() == c.key {
			m.close()
			c.do(m)
			return
		}
	}
}

func (q *question) size(w, _ int) (int, int) {
	dw := min(72, w-4)
	return dw, len(q.lines(dw-4, nil)) + 2
}

func (q *question) draw(m *Model, w, _ int) (string, string, []string) {
	return q.title, "", q.lines(w, m.theme)
}

func (q *question) lines(w int, t *theme.Theme) []string {
	paint := func(r theme.Role, s string) string {
		if t == nil {
			return s
		}
		return t.Paint(r, s)
	}
	out := []string{""}
	for _, p := range q.text {
		for _, l := range theme.Wrap(p, max(w-2, 1)) {
			out = append(out, " "+l)
		}
	}
	out = append(out, "")
	choices := q.choices
	if !q.must {
		choices = append(slices.Clone(choices), choice{key: "esc", label: "stay here"})
	}
	const hang = 8 // as wide as the key and what stands round it
	for _, c := range choices {
		head := "  " + paint(theme.Key, fmt.Sprintf("%-5s", c.key)) + " "
		for _, l := range theme.Wrap(c.label, max(w-hang-1, 1)) {
			out = append(out, head+l)
			head = strings.Repeat(" ", hang)
		}
	}
	return append(out, "")
}

func newQuit(scratch bool) *question {
	q := &question{
		title: "Unsaved work",
		text:  []string{"The build has changes that are not saved."},
		choices: []choice{
			{"s", "save, then quit", func(m *Model) { m.saveAndQuit() }},
			{"d", "quit without saving; it stays as an earlier state", func(m *Model) { m.drop() }},
		},
	}
	if scratch {
		q.text = append(q.text, "This is a scratch copy of the demo; saving keeps them in the copy only.")
	}
	return q
}

func newConflict(err error) *question {
	return &question{
		title: "The file was changed by another program",
		text: []string{
			firstLine(err),
			"Nothing was written. The version on disk is kept as the backup if you write yours over it.",
		},
		choices: []choice{
			{"o", "write mine over it, keep the other as the backup", func(m *Model) { m.save(true, whatever) }},
			{"n", "save mine under another name", func(m *Model) { m.open(newSaveAs(m)) }},
			{"l", "load the one on disk; mine stays as an earlier state", reload},
		},
	}
}

// quitKey reports whether k closes a dialog that only shows something.
func quitKey(k tea.KeyMsg) bool {
	switch k.String() {
	case "esc", "q", "enter", "ctrl+c", "?", "f", "b":
		return true
	}
	return false
}

// help shows every key, made from the action table.
type help struct {
	scroll
	lines []helpLine
}

// helpLine is a key and what it does; without a key it is a heading or running
// text.
type helpLine struct {
	key, text string
	heading   bool
}

func newHelp(m *Model) *help {
	h := &help{}
	for _, s := range m.actions.Scopes() {
		head := "In every pane"
		if s != "everywhere" {
			head = "In the " + string(s) + " pane"
		}
		if s == scopeData {
			head = "On the data page"
		}
		if s == scopeRound {
			head = "In a round of readings or measures"
		}
		if s == scopePropose {
			head = "In the box of proposals"
		}
		h.lines = append(h.lines, helpLine{text: head, heading: true})
		for _, a := range m.actions.All() {
			if a.Scope == s {
				h.lines = append(h.lines, helpLine{key: a.KeyText(), text: a.Help})
			}
		}
		h.lines = append(h.lines, helpLine{})
	}
	sign := func(s theme.Status) string { return m.theme.Sign(s) + " " + s.Word() }
	for _, text := range []string{
		"Signs: " + sign(theme.OK) + ", " + sign(theme.Tight) + " (within the limit, but the uncertainty reaches across it), " +
			sign(theme.Over) + ", " + sign(theme.Elsewhere) + " (the file says by whom; it counts apart), " + sign(theme.Unknown) + ".",
		"Planned comes from the model, read from the gauge, proved from a reading after the step that fixes it.",
		"LF and RF are the left and right front mounts, J1 and J2 the joints from the gearbox to the axle.",
	} {
		h.lines = append(h.lines, helpLine{text: text})
	}
	return h
}

// wrap breaks the line to w cells; what follows the first hangs under its text.
func (l helpLine) wrap(t *theme.Theme, w int) []string {
	const keyWidth = 14
	switch {
	case l.heading:
		return []string{t.Paint(theme.Title, l.text)}
	case l.key == "":
		return theme.Wrap(l.text, w)
	}
	var out []string
	head := "  " + t.Paint(theme.Key, t.Pad(l.key, keyWidth)) + " "
	for _, part := range theme.Wrap(l.text, max(w-keyWidth-3, 1)) {
		out = append(out, head+part)
		head = strings.Repeat(" ", keyWidth+3)
	}
	return out
}

func (h *help) key(m *Model, k tea.KeyMsg) {
	if quitKey(k) {
		m.close()
		return
	}
	h.move(k)
}

func (h *help) size(w, height int) (int, int) { return min(100, w-2), height - 2 }

func (h *help) draw(m *Model, w, height int) (string, string, []string) {
	var lines []string
	for _, l := range h.lines {
		lines = append(lines, l.wrap(m.theme, w)...)
	}
	shown, note := h.show(lines, height)
	return "Keys", strings.TrimSpace(note + "  esc closes"), shown
}
