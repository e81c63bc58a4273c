// Package ui is the bench screen: the only tea.Model of the program. A key
// becomes an action, an action an edit, the edited build is assessed again, and
// every pane draws from that assessment.
package ui

import (
	"context"
	"fmt"
	"regexp"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project/session"
	"fitup/internal/ui/action"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/paint"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// Model is the state of the bench screen.
type Model struct {
	sess    *session.Queue
	path    string // of the file, also while the session is lent
	disk    disk
	actions *action.Table
	theme   *theme.Theme
	scratch bool
	tool    string // what lengths were last measured with, such as tool.tape; "" where that was not said

	width, height int
	early         []tea.KeyMsg // pressed before the size of the screen was known
	sized         bool
	focus         layout.Slot
	zoomed        bool
	pointer       layout.Slot // whose cursor the sketch follows
	stood         stood
	moving        string // the row that the change under way moves; "" for another change

	panes []pane.Pane // in the order of benchPanes

	steps []assess.Step
	step  int
	watch string // id of the finding that rows are held against; "" for the worst

	now   *assess.Assessment
	again assessing // how a state is assessed after another
	worst struct {  // the finding most in trouble in the state of
		of *assess.Assessment
		id string
	}
	rule struct { // whether the builder writes fractions of an inch, in the file of
		of   *assess.Assessment
		uses bool
	}
	effect    effectsOf
	message   message
	notes     []message // what was said, the last one last
	lesson    *lesson   // the walk that is under way; nil for none
	practised deeds     // what was nudged, typed and undone, for the walk
	dialogs   []dialog
	data      *dataPage      // with what is typed on it, open or not
	round     *round         // with what is typed on it, open or not
	recent    []string       // what was searched for, the last first
	frame     string         // the drawn screen; View is asked for more often than it changes
	screen    *paint.Screen  // where frames go as soon as they are drawn; nil in tests, where View has them
	asks      bool           // the theme follows what the terminal says of its background
	question  func()         // asks the terminal for it; nil for not asking
	clicks    bool           // the mouse is the bench's
	targets   []theme.Target // what a click chooses in the frame
	caret     paint.Cell     // where the terminal's cursor stands in the frame
	size      [2]int         // of the frame that went there last
	quit      bool
	closing   error // how closing the session went
	head      head
	parted    bool          // the other names of a hard link have been told of
	alarmed   bool          // that edits are not journalled has been told
	sight     session.Sight // the file as it was last glanced at
	typed     drafts
	fit       fit
	finder    finder // the search for what to move
	print     printer
	garbage   garbage
	hungUp    bool                                    // the program is ended from outside
	begins    func(ctx context.Context, w work) error // of tests: called before any work beside the keys
	failure   *Failure                                // a panic, to be reported when the terminal is back
}

// newModel makes the bench for an open session, of whose build now is the assessment.
func newModel(s *session.Session, left *session.Leftover, now *assess.Assessment, t *theme.Theme, actions *action.Table, scratch bool) *Model {
	m := &Model{actions: actions, theme: t, scratch: scratch, focus: firstPane, pointer: firstPane, panes: newPanes(), again: assess.Again}
	m.sess, m.path, m.disk.after = session.NewQueue(s, m.journalled), s.Path(), later
	m.now = now
	m.jobs().Start(m.now)
	m.steps = stepsFor(s.Now().Build.Units)
	m.step = firstStep
	m.offerLeft(left)
	if err := s.Warning(); err != nil {
		m.say(theme.Warn, "%v", err)
	} else if scratch {
		m.say(theme.Dim, "Scratch copy of the demo: try anything. Arrow keys move, ? shows every key.")
	}
	m.greet(s)
	return m
}

// Init implements tea.Model.
func (m *Model) Init() tea.Cmd {
	if m.question == nil {
		return m.watchFile()
	}
	ask := func() tea.Msg { m.question(); return nil }
	return tea.Batch(m.watchFile(), guard(ask))
}

// Update implements tea.Model.
func (m *Model) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	var cmd tea.Cmd
	defer m.finder.yields.keys(byHand(msg))()
	before, always := m.face(), true
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.resize(msg)
	case tea.KeyMsg:
		for _, k := range single(msg) {
			if !m.sized && len(m.early) < maxEarly {
				m.early = append(m.early, k)
				continue
			}
			m.key(k)
		}
	case tea.MouseMsg:
		m.mouse(msg)
	case lookMsg:
		cmd, always = m.looked(msg), false
	case doneMsg, syncedMsg, slowMsg, lateMsg, draftMsg:
		m.kept(msg)
		always = false
	case trailMsg:
		m.judgeTrail()
	case overMsg, glanceMsg, settledMsg:
		cmd, always = m.beside(msg)
	case backgroundMsg:
		m.background(msg)
	case hangupMsg:
		// The terminal is gone. Unsaved work is in the journal already.
		m.quit, m.hungUp = true, true
	case panicMsg:
		m.failure = msg.failure
		m.quit = true
	}
	m.wroteAhead()
	m.followLesson()
	m.note()
	changed := always || m.face() != before
	if changed {
		m.redraw()
	}
	var shown tea.Cmd
	if changed || m.disk.owed {
		shown = m.showWritten()
	}
	if m.quit {
		return m, tea.Batch(m.leaveAll(), shown)
	}
	noted := m.noteTyped()
	_, key := msg.(tea.KeyMsg)
	return m, tea.Batch(cmd, m.collectWork(key), noted, m.diskWork(), shown, m.trailWork(), m.fitWork(), m.printWork(), m.searchWork(), m.weighWork())
}

// byHand reports whether somebody pressed or pointed.
func byHand(msg tea.Msg) bool {
	switch msg.(type) {
	case tea.KeyMsg, tea.MouseMsg:
		return true
	}
	return false
}

// kept takes what the disk has to say.
func (m *Model) kept(msg tea.Msg) {
	switch msg := msg.(type) {
	case doneMsg:
		m.done(msg)
	case syncedMsg:
		m.syncEnded(msg)
	case slowMsg:
		m.slowDisk(msg)
	case lateMsg:
		m.writtenLate(msg)
	case draftMsg:
		m.typed.timed, m.typed.now = false, true
	}
}

// background takes the colours that suit the terminal's background.
func (m *Model) background(b backgroundMsg) {
	name := "dark"
	if b.light {
		name = "light"
	}
	if !m.asks || name == m.theme.Name {
		return
	}
	if t, err := theme.New(name, m.theme.Glyphs); err == nil {
		m.theme = t
	}
}

// face is what tells whether the screen has to be drawn anew after something
// other than a key.
type face struct {
	message message
	dialogs int
	top     dialog
	now     *assess.Assessment
	head    head
}

func (m *Model) face() face {
	f := face{message: m.message, dialogs: len(m.dialogs), now: m.now, head: m.heading()}
	if f.dialogs > 0 {
		f.top = m.dialogs[f.dialogs-1]
	}
	return f
}

// maxEarly is how many keys wait for the size of the screen: more than anybody
// presses in that time.
const maxEarly = 64

// resize takes the size of the screen. Keys that came before the first one have
// waited for it, because on a screen of no size nothing may be changed.
func (m *Model) resize(msg tea.WindowSizeMsg) {
	m.width, m.height = max(msg.Width, 0), max(msg.Height, 0)
	m.sized = true
	early := m.early
	m.early = nil
	for _, k := range early {
		if k.Type == tea.KeyCtrlJ { // Enter, as a line says it before it is the bench's
			k.Type = tea.KeyEnter
		}
		m.key(k)
	}
}

// View implements tea.Model. The library writes it once a second at most, when
// it differs: where frames go to the terminal by themselves it gets their first
// row, because it has to write something there. On a screen of no size it writes
// the frame, which is a sentence.
func (m *Model) View() string {
	if m.screen != nil && m.width > 0 && m.height > 0 {
		first, _, _ := strings.Cut(m.frame, "\n")
		return first
	}
	return m.frame
}

// show puts the frame on the terminal.
func (m *Model) show() {
	if m.screen == nil || m.width == 0 || m.height == 0 {
		return
	}
	if size := [2]int{m.width, m.height}; size != m.size {
		m.size = size
		m.screen.Repaint()
	}
	m.screen.Show(strings.Split(m.frame, "\n"), m.caret)
}

// single takes a message apart into one key each: several letters can arrive in
// one read, and a run of letters must not be taken for the name of a key.
func single(k tea.KeyMsg) []tea.KeyMsg {
	if k.Type != tea.KeyRunes || k.Paste || len(k.Runes) < 2 {
		return []tea.KeyMsg{k}
	}
	out := make([]tea.KeyMsg, len(k.Runes))
	for i, r := range k.Runes {
		out[i] = tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}, Alt: k.Alt}
		if r == ' ' {
			out[i].Type = tea.KeySpace
		}
	}
	return out
}

func (m *Model) key(k tea.KeyMsg) {
	if m.hold(k) {
		return
	}
	if m.plan().Mode == layout.Refused {
		m.keyTooSmall(k)
		return
	}
	if n := len(m.dialogs); n > 0 {
		m.dialogs[n-1].key(m, k)
		return
	}
	if m.lesson != nil && k.String() == "esc" {
		m.leaveLesson()
		return
	}
	if k.Paste {
		m.say(theme.Dim, "Nothing here takes pasted text; press Enter on a row first.")
		return
	}
	id, ok := m.actions.Lookup(scopeOf(m.focus), k.String())
	if !ok {
		m.elsewhere(k.String())
		return
	}
	m.perform(id)
}

// elsewhere says in which panes a key works that does nothing in the one in focus.
func (m *Model) elsewhere(key string) {
	label, where := "", []string(nil)
	for i, p := range benchPanes {
		id, ok := m.actions.Lookup(scopeOf(layout.Slot(i)), key)
		if a, known := m.actions.Get(id); ok && known {
			if label == "" {
				label = a.Label
			}
			if a.Label == label {
				where = append(where, p.name)
			}
		}
	}
	if key == " " {
		key = "space"
	}
	if label != "" {
		m.say(theme.Dim, "Nothing here answers to %s; in %s it is: %s.", key, strings.Join(where, " and "), label)
	}
}

// keyTooSmall lets nothing through but the way out, and that only while
// nothing would be lost.
func (m *Model) keyTooSmall(k tea.KeyMsg) {
	id, _ := m.actions.Lookup(action.Everywhere, k.String())
	switch {
	case id != actQuit:
	case !m.sess.Unsaved():
		m.quit = true
	case m.sess.Saving():
		m.alone(func(*session.Session) {}, func() { m.keyTooSmall(k) })
	}
}

// view is what panes draw from.
func (m *Model) view(p layout.Slot) pane.View {
	v := pane.View{A: m.now, Theme: m.theme, Step: m.steps[m.step], Focused: p == m.focus && len(m.dialogs) == 0}
	v.Watch, v.HasW = m.watched()
	v.Effect, v.Mouse, v.Rule, v.InFull = m.effectOf, m.clicks, m.usesRule(), m.keyOf(actInFull)
	v.Next = m.nextFor
	if p == layout.Sketch {
		v.Before, v.Subject = m.stood.before, m.subject(v)
		if after := m.proposedHere(); after != nil {
			v.Before = after
		}
	}
	return v
}

// subject is what the cursor is on, for the sketch: that of the box over the panes, or of
// the pane that the sketch follows.
func (m *Model) subject(v pane.View) string {
	if n := len(m.dialogs); n > 0 {
		if at, ok := m.dialogs[n-1].(pointing); ok {
			return at.subject(m)
		}
	}
	if at, ok := m.panes[m.pointer].(pane.Pointing); ok {
		return at.Subject(v)
	}
	return ""
}

// usesRule reports whether the builder writes fractions of an inch.
func (m *Model) usesRule() bool {
	if m.rule.of != m.now {
		m.rule.of = m.now
		if !m.sess.Lent() {
			m.rule.uses = WritesFractions(m.sess.Now().Doc().Text())
		}
	}
	return m.rule.uses
}

// WritesFractions reports whether a length of the file is written with a fraction:
// rear = "-11-3/8". Few lines have a stroke, and only those are looked at.
func WritesFractions(text string) bool {
	var fraction *regexp.Regexp
	for {
		at := strings.IndexByte(text, '/')
		if at < 0 {
			return false
		}
		line := text[strings.LastIndexByte(text[:at], '\n')+1:]
		text = ""
		if end := strings.IndexByte(line, '\n'); end >= 0 {
			line, text = line[:end], line[end:]
		}
		if fraction == nil {
			fraction = regexp.MustCompile(`^[^#"]*=[^#]*"[-+]?(\d+[- ])?\d+/(2|4|8|16|32|64)( ?in)?( left| right)?"`)
		}
		if fraction.MatchString(line) {
			return true
		}
	}
}

// point notes which pane's cursor the sketch follows: that of the pane in focus,
// and with the sketch in focus that of the one before.
func (m *Model) point() {
	if m.focus != layout.Sketch {
		m.pointer = m.focus
	}
}

// stood is how it stood before the powertrain was moved last. Moving one row step
// by step counts as one move.
type stood struct {
	before *assess.Assessment
	row    string // that was moved last; "" for another change
}

// moved notes that the state before has given way to the present one.
func (s *stood) moved(before, now *assess.Assessment, row string) {
	switch {
	case !before.Pose.Known || !now.Pose.Known || before.Pose.V == now.Pose.V:
		s.before = nil
	case s.before == nil || row == "" || row != s.row:
		s.before = before
	}
	s.row = row
}

func (m *Model) say(r theme.Role, format string, args ...any) {
	m.message = message{m.theme.Plain(fmt.Sprintf(format, args...)), r}
}

func (m *Model) open(d dialog) { m.dialogs = append(m.dialogs, d) }

func (m *Model) close() { m.dialogs = m.dialogs[:max(len(m.dialogs)-1, 0)] }
