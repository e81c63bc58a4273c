package ui

import (
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// trail is the box with every change of this sitting and what each did to the
// findings. Enter goes to the state behind the one under the cursor.
type trail struct {
	at     int // the state under the cursor: how many steps lead to it
	steps  []string
	now    int // the present state
	judged map[int]string
	seen   map[int]*assess.Assessment // of states, while they are needed
	shown  [2]int                     // the states that were drawn last, the first and the one behind the last
	asked  bool                       // a trailMsg is under way
}

// trailMsg asks for the verdicts of one more step. They are worked out one by one
// between the keys, so that a long list holds nothing up.
type trailMsg struct{}

func (m *Model) openTrail() {
	t := &trail{steps: m.sess.Steps(), judged: map[int]string{}, seen: map[int]*assess.Assessment{}}
	t.now, _ = m.sess.Depth()
	t.at = t.now
	t.seen[t.now] = m.now
	if len(t.steps) == 1 {
		m.say(theme.Dim, "Nothing has been changed yet.")
		return
	}
	m.open(t)
}

// topTrail is the box, if it has the keys.
func (m *Model) topTrail() *trail {
	if n := len(m.dialogs); n > 0 && !m.sess.Lent() {
		t, _ := m.dialogs[n-1].(*trail)
		return t
	}
	return nil
}

// trailWork asks for the next step whose verdicts are not known, of those on show.
func (m *Model) trailWork() tea.Cmd {
	t := m.topTrail()
	if t == nil || t.asked || t.next() == 0 {
		return nil
	}
	t.asked = true
	return func() tea.Msg { return trailMsg{} }
}

// next is the step to be judged next, 0 for none.
func (t *trail) next() int {
	for i := t.shown[1] - 1; i >= max(t.shown[0], 1); i-- {
		if _, done := t.judged[i]; !done {
			return i
		}
	}
	return 0
}

// judgeTrail works out what one more step did.
func (m *Model) judgeTrail() {
	t := m.topTrail()
	if t == nil {
		return
	}
	t.asked = false
	i := t.next()
	if i == 0 {
		return
	}
	before, after := t.assessed(m, i-1), t.assessed(m, i)
	t.judged[i] = ""
	switch {
	case before == nil || after == nil:
	case before.Fitting() != nil || after.Fitting() != nil:
		t.judged[i] = "its survey is not worked out"
	default:
		t.judged[i] = changesText(m, before, after)
	}
	for k := range t.seen { // one of them serves the next step; a list of all would grow large
		if k != i-1 && k != t.now {
			delete(t.seen, k)
		}
	}
}

func (t *trail) assessed(m *Model, i int) *assess.Assessment {
	if a, ok := t.seen[i]; ok {
		return a
	}
	f, ok := m.sess.At(i)
	if !ok {
		return nil
	}
	t.seen[i] = assess.RunBeside(f.Build)
	return t.seen[i]
}

// changesText says which findings have another verdict.
func changesText(m *Model, before, after *assess.Assessment) string {
	text := ""
	for i, c := range assess.Changes(before, after) {
		if i == 3 {
			return text + ", and more"
		}
		if i > 0 {
			text += "; "
		}
		text += fmt.Sprintf("%s: %s %s %s", project.Printable(c.Finding.Title), c.From, m.theme.Right, c.Finding.Status)
	}
	return text
}

func (t *trail) key(m *Model, k tea.KeyMsg) {
	switch k.String() {
	case "up", "k":
		t.at++
	case "down", "j":
		t.at--
	case "pgup":
		t.at += 10
	case "pgdown":
		t.at -= 10
	case "home":
		t.at = len(t.steps) - 1
	case "end":
		t.at = 0
	case "enter":
		m.close()
		m.stepTo(t.at)
		return
	default:
		if id, _ := m.actions.Lookup("everywhere", k.String()); quitKey(k) || id == actTrail {
			m.close()
		}
	}
	t.at = pane.Cursor(t.at, len(t.steps))
}

// stepTo undoes, or does again, until n steps stand. All of these can be undone or
// done again as before.
func (m *Model) stepTo(n int) {
	now, _ := m.sess.Depth()
	step, word := m.sess.Undo, "Undone"
	if n > now {
		step, word = m.sess.Redo, "Done again"
	}
	count, last := 0, ""
	for range max(n-now, now-n) {
		label, ok, err := step()
		if !ok {
			break
		}
		count, last = count+1, label
		if err != nil {
			m.journalled(err)
		}
	}
	switch count {
	case 0:
		m.say(theme.Dim, "That is how it stands now.")
	case 1:
		m.assess(word + ": " + last)
	default:
		m.assess(fmt.Sprintf("%s: %d steps, the last of them %s", word, count, last))
	}
}

func (t *trail) size(w, h int) (int, int) { return min(110, w-2), h - 2 }

func (t *trail) draw(m *Model, w, h int) (string, string, []string) {
	var lines []string
	from, first, last := 0, make([]int, len(t.steps)), make([]int, len(t.steps))
	for i := len(t.steps) - 1; i >= 0; i-- {
		first[i] = len(lines)
		lines = append(lines, t.lines(m, i, w)...)
		last[i] = len(lines)
	}
	from = max(0, min(first[t.at]-h/2, len(lines)-h))
	t.shown = [2]int{len(t.steps), 0}
	for i := range t.steps {
		if last[i] > from && first[i] < from+h {
			t.shown = [2]int{min(t.shown[0], i), max(t.shown[1], i+1)}
		}
	}
	note := fmt.Sprintf("%d of %d  enter goes there  esc closes", t.at, len(t.steps)-1)
	return "Changes, the last first", note, lines[from:min(len(lines), from+h)]
}

// lines are those of one state.
func (t *trail) lines(m *Model, i, w int) []string {
	mark, role := "  ", theme.Text
	if i > t.now {
		role = theme.Dim
	}
	label := project.Printable(t.steps[i])
	switch {
	case i == 0:
		label = "as it was loaded"
		if len(t.steps) > 1 && t.steps[0] != "" {
			label = "as far back as it is known"
		}
	case i > t.now:
		label += " (undone)"
	}
	if i == t.now {
		label += "   " + m.theme.Left + " now"
	}
	if i == t.at {
		mark, role = m.theme.Pointer(), theme.Selected
	}
	out := []string{m.theme.Cut(m.theme.Paint(role, mark+fmt.Sprintf("%3d  ", i)+label), w)}
	for _, l := range theme.Wrap(m.theme.Plain(t.judged[i]), max(w-8, 1)) {
		if l != "" {
			out = append(out, "       "+m.theme.Paint(theme.Accent, l))
		}
	}
	return out
}
