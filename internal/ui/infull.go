package ui

import (
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// inFull is all there is to say of a row where its pane has no room for it.
type inFull struct {
	scroll
	head  string
	words []string
}

// openInFull opens it for the row under the cursor: of the data page where that is open,
// of the pane in focus, and from the sketch of the pane whose cursor it follows.
func (m *Model) openInFull() {
	if m.dataOnTop() {
		head, words := m.data.InFull()
		m.open(&inFull{head: head, words: words})
		return
	}
	at := m.focus
	if at == layout.Sketch {
		at = m.pointer
	}
	p, ok := m.panes[at].(pane.Telling)
	if !ok {
		m.say(theme.Dim, "There is no more to say here.")
		return
	}
	v := m.view(at)
	if show, ok := p.Key(pane.Enter, v).(pane.ShowJob); ok { // a job has its card
		m.intent(show)
		return
	}
	head, words := p.Tell(v)
	if head == "" && len(words) == 0 {
		m.say(theme.Dim, "There is no more to say here.")
		return
	}
	m.open(&inFull{head: head, words: words})
}

func (b *inFull) key(m *Model, k tea.KeyMsg) {
	if id, _ := m.actions.Lookup(scopeOf(m.focus), k.String()); quitKey(k) || id == actInFull {
		m.close()
		return
	}
	b.move(k)
}

func (b *inFull) size(w, h int) (int, int) {
	bw := min(90, w-2)
	return bw, min(len(b.lines(bw-2, nil))+2, h-2)
}

func (b *inFull) draw(m *Model, w, h int) (string, string, []string) {
	shown, note := b.show(b.lines(w, m.theme), h)
	return "In full", strings.TrimSpace(note + "  esc closes"), shown
}

// lines are the head and a paragraph for each of the words.
func (b *inFull) lines(w int, t *theme.Theme) []string {
	var out []string
	for i, text := range slices.Concat([]string{b.head}, b.words) {
		if text == "" {
			continue
		}
		text = project.Printable(text)
		if t != nil {
			text = t.Plain(text)
		}
		if len(out) > 0 {
			out = append(out, "")
		}
		for _, l := range theme.Wrap(text, max(w-2, 1)) {
			if l = " " + l; i == 0 && t != nil {
				l = t.Paint(theme.Title, l)
			}
			out = append(out, l)
		}
	}
	return out
}
