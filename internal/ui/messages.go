package ui

import (
	"slices"
	"strings"

	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// message is what stands above the footer.
type message struct {
	text string
	role theme.Role
}

// What is kept of messages, and how many rows one takes of the screen at most.
const (
	keptMessages = 100
	messageMost  = 4
)

// note keeps the message that stands, so that it can be read again.
func (m *Model) note() {
	if n := len(m.notes); m.message.text == "" || n > 0 && m.notes[n-1] == m.message {
		return
	}
	m.notes = append(m.notes, m.message)
	m.notes = m.notes[max(len(m.notes)-keptMessages, 0):]
}

// messageLines is the message in as many lines as it takes.
func (m *Model) messageLines() []string {
	lines := theme.Wrap(m.message.text, max(m.width-2, 1))
	return lines[:min(len(lines), messageMost)]
}

// messageRows draws the message into h rows. What has no room can be read in the
// list of messages, and that is said.
func (m *Model) messageRows(w, h int) []string {
	out := m.lessonRows(w)
	out = out[:min(len(out), max(h-1, 0))]
	h -= len(out)
	lines := theme.Wrap(m.message.text, max(w-2, 1))
	if len(lines) > h {
		more := ""
		if a, ok := m.actions.Get(actMessages); ok && len(a.Keys) > 0 {
			more = " (" + a.KeyText() + " shows it whole)"
		}
		last := strings.Join(lines[h-1:], " ")
		lines = append(lines[:h-1], m.theme.Cut(last, max(w-2-theme.Width(more), 1))+more)
	}
	for len(lines) < h {
		lines = append(lines, "")
	}
	for _, l := range lines {
		out = append(out, m.theme.Paint(m.message.role, m.theme.Pad(" "+l, w)))
	}
	return out
}

// messages shows what was said, the last first.
type messages struct{ scroll }

func newMessages() *messages { return &messages{} }

func (b *messages) key(m *Model, k tea.KeyMsg) {
	if id, _ := m.actions.Lookup("everywhere", k.String()); quitKey(k) || id == actMessages {
		m.close()
		return
	}
	b.move(k)
}

func (b *messages) size(w, h int) (int, int) { return min(100, w-2), h - 2 }

func (b *messages) draw(m *Model, w, h int) (string, string, []string) {
	var lines []string
	for _, n := range slices.Backward(m.notes) {
		for i, l := range theme.Wrap(n.text, max(w-4, 1)) {
			mark := "  "
			if i == 0 {
				mark = m.theme.Bullet + " "
			}
			lines = append(lines, m.theme.Paint(n.role, " "+mark+l))
		}
	}
	if len(lines) == 0 {
		lines = []string{" Nothing has been said yet."}
	}
	shown, note := b.show(lines, h)
	return "Messages, the last first", strings.TrimSpace(note + "  esc closes"), shown
}
