package ui

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fitup/internal/abreast"
	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/paint"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	"github.com/charmbracelet/x/ansi"
)

// redraw draws the whole screen into frame.
func (m *Model) redraw() {
	plan := m.plan()
	if plan.Mode == layout.Refused {
		m.frame, m.caret = m.refused(plan.Message), paint.Cell{}
		return
	}
	rows := make([][]piece, m.height)
	m.place(rows, plan.Title, []string{m.titleBar(plan.Title.W)})
	if !plan.Strip.Empty() {
		m.place(rows, plan.Strip, []string{m.strip(plan.Strip.W)})
	}
	panels := m.panels(plan.Panes)
	for i := range m.panes {
		if slices.ContainsFunc(m.dialogs, wholeScreen) {
			break // nothing of them is seen
		}
		p := layout.Slot(i)
		if r, ok := plan.Panes[p]; ok {
			m.place(rows, r, panels[i])
		}
		if r, ok := plan.Collapsed[p]; ok {
			f := m.draw(p, 10, 1)
			m.place(rows, r, []string{m.theme.Bar(r.W, m.title(p, f.Title), f.Note, false)})
		}
	}
	m.place(rows, plan.Message, m.messageRows(plan.Message.W, plan.Message.H))
	m.place(rows, plan.Footer, m.footer(plan.Footer.W, plan.Footer.H))
	lines := make([]string, m.height)
	for y, ps := range rows {
		lines[y] = join(ps, m.width)
	}
	at := plan.Panes[m.focus]
	m.targets = nil
	if m.clicks {
		m.targets = theme.Targets(lines)
	}
	m.mark(lines, 0, 0, paint.Cell{X: min(at.X+2, m.width-1), Y: at.Y})
	m.frame = strings.Join(m.onTop(lines), "\n")
}

// mark notes where the terminal's cursor belongs in lines that stand at x and y of
// the screen, and takes the marks out. Without one it stands at rest.
func (m *Model) mark(lines []string, x, y int, rest paint.Cell) {
	m.caret = rest
	if cx, cy, ok := theme.Spot(lines); ok {
		m.caret = paint.Cell{X: min(x+cx, m.width-1), Y: y + cy}
	}
	theme.Unmarked(lines)
}

// piece is a part of one screen row.
type piece struct {
	x, w int
	s    string
}

func (m *Model) place(rows [][]piece, r layout.Rect, lines []string) {
	for i, l := range lines {
		if y := r.Y + i; y < len(rows) && i < r.H {
			rows[y] = append(rows[y], piece{r.X, r.W, l})
		}
	}
}

// join sets the pieces of a row side by side; they come in order of x because
// panes are laid out from left to right.
func join(ps []piece, w int) string {
	var b strings.Builder
	x := 0
	for _, p := range ps {
		if p.x > x {
			b.WriteString(strings.Repeat(" ", p.x-x))
		}
		b.WriteString(p.s)
		x = p.x + p.w
	}
	if x < w {
		b.WriteString(strings.Repeat(" ", w-x))
	}
	return b.String()
}

func (m *Model) draw(p layout.Slot, w, h int) pane.Frame {
	return m.panes[p].Draw(w, h, m.view(p))
}

// panels are the panes that are shown, with their borders, by slot. They are drawn side
// by side, each from its own view.
func (m *Model) panels(shown map[layout.Slot]layout.Rect) [][]string {
	out := make([][]string, len(m.panes))
	if slices.ContainsFunc(m.dialogs, wholeScreen) {
		return out
	}
	var work []func()
	for i := range m.panes {
		p := layout.Slot(i)
		if r, ok := shown[p]; ok {
			v := m.view(p)
			work = append(work, func() { out[i] = m.panel(p, r, v) })
		}
	}
	abreast.Do(work...)
	return out
}

func (m *Model) panel(p layout.Slot, r layout.Rect, v pane.View) []string {
	iw, ih := theme.Inner(r.W, r.H)
	v.Hidden = &pane.Hidden{}
	f := m.panes[p].Draw(iw, ih, v)
	focused := p == m.focus
	out := m.theme.Panel(r.W, r.H, m.title(p, f.Title), f.Note, focused, f.Text)
	if words := v.Hidden.String(); words != "" && r.H > 1 {
		out[r.H-1] = m.theme.Foot(r.W, words, focused)
	}
	return out
}

// title puts the key that leads to a pane before its name.
func (m *Model) title(p layout.Slot, name string) string {
	return fmt.Sprintf("%d %s", int(p)+1, name)
}

func (m *Model) strip(w int) string {
	parts := m.stripNames()
	for i, s := range parts {
		role := theme.Dim
		if layout.Slot(i) == m.focus {
			role = theme.Title
		}
		parts[i] = m.theme.Paint(role, s)
	}
	return m.theme.Pad(" "+strings.Join(parts, strings.Repeat(" ", stripGap)), w)
}

// stripGap stands between the names of the panes where one is shown at a time.
const stripGap = 3

// stripNames are these names.
func (m *Model) stripNames() []string {
	var out []string
	for i, p := range benchPanes {
		s := m.title(layout.Slot(i), p.name)
		if layout.Slot(i) == m.focus {
			s = m.theme.Focus + " " + s
		}
		out = append(out, s)
	}
	return out
}

// head is what the title says of the file.
type head struct {
	name             string
	unsaved, looking bool
	late             bool   // the journal does not have it
	slow             bool   // the disk does not answer
	fit              string // of a large survey that is being worked out
	print            string // of what is being printed
	search           string // of a search for what to move
}

func (h head) String() string { return " fitup  " + h.name + h.state() }

// state is how the file stands.
func (h head) state() string {
	s := ""
	if h.unsaved {
		s += "  unsaved"
	}
	if h.looking {
		s += "  look only"
	}
	switch {
	case h.slow:
		s += "  waiting for the disk"
	case h.late:
		s += "  not written yet"
	}
	if h.fit != "" {
		s += "  " + h.fit
	}
	if h.print != "" {
		s += "  " + h.print
	}
	if h.search != "" {
		s += "  " + h.search
	}
	return s
}

// within is the head in w cells: of what it says the name can best be cut.
func (h head) within(w int, t *theme.Theme) string {
	if s := h.String(); theme.Width(s) < w {
		return t.Pad(s, w)
	}
	return t.Pad(t.Cut(" "+h.name, max(w-theme.Width(h.state())-1, 4))+h.state()+" ", w)
}

// least is how many cells it takes without a cut.
func (h head) least() int { return theme.Width(" " + h.name + h.state() + " ") }

// heading is the head as it is now, or as it was when the session was lent.
func (m *Model) heading() head {
	if !m.sess.Lent() {
		m.head = head{name: project.Printable(filepath.Base(m.path)), unsaved: m.sess.Unsaved(), looking: m.sess.Looking()}
		if m.scratch {
			m.head.name = "demo, scratch copy"
		}
	}
	m.head.late, m.head.fit, m.head.print, m.head.search = m.disk.late, m.fitState(), m.printState(), m.searchState()
	m.head.slow = m.disk.ended.slow || m.disk.synced.slow
	return m.head
}

// titleBar names the file and counts the verdicts. Where it has no room for both the
// verdicts are said in fewer words, then by their signs, and at last the name is cut: a
// count never is.
func (m *Model) titleBar(w int) string {
	left := m.heading()
	for _, words := range []countWords{countsInFull, countsInBrief, countsOfTrouble, countsAlone} {
		right := m.verdicts(words)
		room := w - theme.Width(right)
		if room >= left.least() || words == countsAlone {
			return m.theme.Paint(theme.Title, left.within(room, m.theme)) + right
		}
	}
	return ""
}

// countWords say in how many words the verdicts are counted.
type countWords int

const (
	countsInFull    countWords = iota
	countsInBrief              // "elsewhere" for what is judged elsewhere
	countsOfTrouble            // words only for what is over or not known
	countsAlone                // signs
)

// verdicts are how many findings there are of each verdict.
func (m *Model) verdicts(words countWords) string {
	count := m.now.Count()
	var parts []string
	for _, s := range []assess.Status{assess.Over, assess.NotKnown, assess.Elsewhere, assess.Tight, assess.OK} {
		n := count[s]
		if n == 0 {
			continue
		}
		text := fmt.Sprintf("%s %d", m.theme.Sign(pane.Status(s)), n)
		switch {
		case words == countsAlone, words == countsOfTrouble && s != assess.Over && s != assess.NotKnown:
		case words == countsInBrief && s == assess.Elsewhere:
			text += " elsewhere"
		default:
			text += " " + s.String()
		}
		parts = append(parts, m.theme.Paint(pane.Status(s).Role(), text))
	}
	return strings.Join(parts, "  ") + " "
}

// overlay sets a dialog over the middle of the screen.
func (m *Model) overlay(lines []string, d dialog) []string {
	w, h := d.size(m.width, m.height)
	room := max(m.plan().Message.Y, 0) // a box leaves the message in sight
	w, h = max(min(w, m.width), 0), max(min(h, room-1), 0)
	top := m.leaves(d)
	h = min(h, room-top)
	iw, ih := theme.Inner(w, h)
	title, note, content := d.draw(m, iw, ih)
	box := m.theme.Panel(w, h, title, note, true, content)
	x, y := (m.width-w)/2, max(min((m.height-h)/2, room-h), top)
	m.mark(box, x, y, paint.Cell{X: min(x+1, m.width-1), Y: min(y+1, m.height-1)})
	for i, l := range box {
		if y+i >= len(lines) {
			break
		}
		lines[y+i] = m.theme.Pad(ansi.Truncate(lines[y+i], x, ""), x) + l + rightOf(lines[y+i], x+w)
	}
	return lines
}

// rightOf is what stands in a line from a column on; a space where that is in the middle
// of a wide letter.
func rightOf(line string, x int) string {
	right := ansi.TruncateLeft(line, x, "")
	if rest := max(theme.Width(line)-x, 0); theme.Width(right) > rest {
		right = " " + ansi.TruncateLeft(line, x+1, "")
	}
	return right
}

// leaves is the row below which a box stands so that the sketch stays in sight: 0 for one
// that points at nothing there, and where it would leave the box too little room.
func (m *Model) leaves(d dialog) int {
	const least = 18 // rows of a box
	plan := m.plan()
	sketch, seen := plan.Panes[layout.Sketch]
	if _, ok := d.(pointing); !ok || !seen || plan.Zoomed || slices.ContainsFunc(m.dialogs, wholeScreen) {
		return 0
	}
	if top := sketch.Y + sketch.H; plan.Message.Y-top >= least {
		return top
	}
	return 0
}

func (m *Model) refused(r layout.Rect) string {
	if r.W <= 0 || r.H <= 0 { // a line that does not know its size, such as a serial one
		return strings.Join(theme.Wrap("This terminal says that it is 0 by 0 cells, so nothing can be drawn. Tell it its size, such as "+
			"stty rows 36 cols 120, or resize its window. Nothing is lost; q quits when nothing is unsaved.", 60), "\n")
	}
	text := fmt.Sprintf("This window is %d by %d; fitup needs %d by %d. Make it larger: nothing is lost, and no key changes anything until then.",
		r.W, r.H, layout.MinW, layout.MinH)
	lines := theme.Wrap(text, r.W)
	lines = lines[:min(len(lines), r.H)]
	for i := range lines {
		lines[i] = m.theme.Pad(lines[i], r.W)
	}
	return strings.Join(lines, "\n")
}
