package ui

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"time"

	"fitup/internal/project/session"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// slowAfter is how long the disk may take before the screen says that it is
// waited for.
const slowAfter = 400 * time.Millisecond

// lateAfter is how long a frame waits for the journal to have what it shows. It
// then goes to the screen with a word that the journal has not.
const lateAfter = 10 * time.Millisecond

type (
	doneMsg   struct{ task *session.Task } // a task of the queue has run
	syncedMsg struct{ err error }          // the disk has what the journal held, or says why not
	slowMsg   struct{ tasks, syncs int }   // so many had ended when the wait began
	lateMsg   struct{ wait int }           // that wait of a frame for the journal has been long
)

// disk is how the bench stands with the disk: what it wants of it is done beside,
// one thing after the other, and the waiting for what is journalled beside that.
type disk struct {
	ended   lane         // the tasks of the queue
	ahead   chan tea.Msg // what comes of one that was begun before the frame was drawn; nil for none
	synced  lane         // the waits for the journal
	unsafe  bool         // the journal holds what no wait has begun for
	timed   bool         // a slowMsg is on its way
	after   func(time.Duration, tea.Msg) tea.Cmd
	owed    bool         // a frame waits until the journal has what it shows
	waits   int          // of frames, so far
	late    bool         // the journal does not have what the screen shows
	blocked int          // how much is under way that no key may overtake
	held    []tea.KeyMsg // pressed meanwhile
	box     *question    // says what is waited for
	said    message      // what stands above the footer while it is waited for
	instead message      // and what stood there before
	leaving leaving
}

// lane is one of the things that can be waited for.
type lane struct {
	under bool // something is under way
	count int  // how many have ended
	slow  bool // this one takes long
}

// leaving is how far the way out has come.
type leaving int

const (
	staying leaving = iota
	closing         // the session is being closed
	closed
	givenUp // the person does not wait for the disk any longer
)

// later is a message after a while.
func later(d time.Duration, msg tea.Msg) tea.Cmd {
	return tea.Tick(d, func(time.Time) tea.Msg { return msg })
}

// diskWork begins what can be begun on the disk.
func (m *Model) diskWork() tea.Cmd {
	var cmds []tea.Cmd
	if ran := m.disk.ahead; ran != nil {
		m.disk.ahead = nil
		cmds = append(cmds, func() tea.Msg { return <-ran })
	} else if task := m.sess.Next(); task != nil {
		m.disk.ended.under = true
		cmds = append(cmds, guard(running(task)))
	}
	if m.disk.unsafe && !m.disk.synced.under && !m.sess.Lent() && m.disk.leaving == staying {
		m.disk.unsafe, m.disk.synced.under = false, true
		sync := m.sess.Syncing()
		cmds = append(cmds, guard(func() tea.Msg { return syncedMsg{sync()} }))
	}
	if (m.disk.ended.under || m.disk.synced.under) && !m.disk.timed {
		m.disk.timed = true
		cmds = append(cmds, m.disk.after(slowAfter, slowMsg{m.disk.ended.count, m.disk.synced.count}))
	}
	return tea.Batch(cmds...)
}

func running(task *session.Task) tea.Cmd {
	return func() tea.Msg {
		task.Run()
		return doneMsg{task}
	}
}

// writeAhead has an edit journalled while the build is assessed, so that the frame that
// shows it has not to wait for the journal; not where nobody waits for frames.
func (m *Model) writeAhead() {
	if m.screen == nil || m.disk.ahead != nil {
		return
	}
	task := m.sess.Ahead()
	if task == nil {
		return
	}
	ran, run := make(chan tea.Msg, 1), guard(running(task))
	m.disk.ahead, m.disk.ended.under = ran, true
	go func() { ran <- run() }()
}

// wroteAhead takes in what came of that, if anything has.
func (m *Model) wroteAhead() {
	select {
	case msg := <-m.disk.ahead:
		m.disk.ahead = nil
		switch msg := msg.(type) {
		case doneMsg:
			m.done(msg)
		case panicMsg:
			m.failure, m.quit = msg.failure, true
		}
	default:
	}
}

func (l *lane) end() { *l = lane{count: l.count + 1} }

// showWritten puts the frame on the terminal as soon as the journal has what it
// shows; where that takes too long the frame says so.
func (m *Model) showWritten() tea.Cmd {
	d := &m.disk
	switch {
	case d.late || m.sess.Behind() == 0:
		d.owed = false
		m.show()
	case !d.owed:
		d.owed = true
		d.waits++
		return d.after(lateAfter, lateMsg{d.waits})
	}
	return nil
}

// writtenLate lets a frame go that has waited for the journal.
func (m *Model) writtenLate(msg lateMsg) {
	if m.disk.owed && m.disk.waits == msg.wait {
		m.disk.late = m.sess.Behind() > 0
	}
}

// done takes in what became of a task, and then the keys that had to wait for it.
func (m *Model) done(msg doneMsg) {
	m.disk.ended.end()
	m.shut(m.disk.box)
	m.disk.box = nil
	msg.task.End()
	m.disk.late = m.disk.late && m.sess.Behind() > 0
	m.caughtUp()
	for len(m.disk.held) > 0 && m.disk.blocked == 0 && !m.quit {
		k := m.disk.held[0]
		m.disk.held = m.disk.held[1:]
		m.key(k)
	}
}

// syncEnded takes in that the disk was waited for.
func (m *Model) syncEnded(msg syncedMsg) {
	m.disk.synced.end()
	// A journal that was closed meanwhile has nothing that is not safe.
	if msg.err != nil && !errors.Is(msg.err, fs.ErrClosed) {
		m.say(theme.Danger, "Not safe on disk yet: %s", why(msg.err))
	}
	m.caughtUp()
}

// slowDisk says so when what was under way a while ago still is.
func (m *Model) slowDisk(msg slowMsg) {
	d := &m.disk
	d.timed = false
	was := d.ended.slow || d.synced.slow
	d.ended.slow = d.ended.under && (d.ended.slow || d.ended.count == msg.tasks)
	d.synced.slow = d.synced.under && (d.synced.slow || d.synced.count == msg.syncs)
	switch {
	case !d.ended.slow && !d.synced.slow:
	case d.blocked > 0 && d.box == nil:
		d.box = newWaiting(m.behind())
		m.open(d.box)
	case !was:
		d.instead = m.message
		m.say(theme.Warn, "Waiting for the disk. %s", m.behind())
		d.said = m.message
	}
}

// caughtUp takes back that the disk is waited for once it is not: what stood there
// before stands there again.
func (m *Model) caughtUp() {
	d := &m.disk
	if d.said.text == "" || d.ended.slow || d.synced.slow || m.sess.Behind() > 0 {
		return
	}
	if m.message == d.said {
		m.message = d.instead
	}
	d.said = message{}
}

// behind says what the disk does not have.
func (m *Model) behind() string {
	switch n := m.sess.Behind(); {
	case n == 1:
		return "1 edit is not written down yet: a crash now would lose it."
	case n > 1:
		return fmt.Sprintf("%d edits are not written down yet: a crash now would lose them.", n)
	}
	return "Every edit is written down, but not all of it is safe from a power cut."
}

// newWaiting is a box that goes when the disk has answered.
func newWaiting(behind string) *question {
	return &question{
		title: "Waiting for the disk",
		must:  true,
		text:  []string{"It does not answer. " + behind, "This goes on by itself as soon as it does."},
		choices: []choice{{"x", "leave without waiting; what is not written down is lost", func(m *Model) {
			m.quit, m.disk.leaving = true, givenUp
		}}},
	}
}

// block keeps keys waiting until the function that it returns is called.
func (m *Model) block() func() {
	m.disk.blocked++
	return func() { m.disk.blocked-- }
}

// alone lends the session to do, which may wait for the disk, and calls then when
// it is back. Keys wait.
func (m *Model) alone(do func(*session.Session), then func()) {
	free := m.block()
	m.sess.Alone(do, func() {
		free()
		then()
	})
}

// hold keeps a key for later, unless the box that says what is waited for takes
// it. It reports whether the key is dealt with.
func (m *Model) hold(k tea.KeyMsg) bool {
	n := len(m.dialogs)
	if m.disk.blocked == 0 || m.disk.box != nil && n > 0 && m.dialogs[n-1] == dialog(m.disk.box) {
		return false
	}
	if len(m.disk.held) < maxEarly {
		m.disk.held = append(m.disk.held, k)
	}
	return true
}

// leave is the way out: it waits until all that is queued is done and the session
// is closed.
func (m *Model) leave() tea.Cmd {
	switch {
	case m.failure != nil, m.disk.leaving == closed, m.disk.leaving == givenUp:
		return tea.Quit
	case m.disk.leaving == staying:
		m.disk.leaving = closing
		var err error
		m.alone(func(s *session.Session) { err = shutDown(s) }, func() {
			m.disk.leaving, m.closing = closed, err
		})
	}
	return m.diskWork()
}

// shutDown ends a session once the disk has all of it.
func shutDown(s *session.Session) error {
	err := s.Sync()
	if cerr := s.Close(); err == nil {
		err = cerr
	}
	return err
}

// finish does what the way out had no time for, because the bench ended by a
// fault or from outside, when the terminal is given back. Where that takes long
// it says so on w.
func (m *Model) finish(w io.Writer) error {
	switch m.disk.leaving {
	case givenUp:
		return errors.New("left while the disk did not answer; look at the file before you go on: the last edits may be lost")
	case closed:
		return m.closing
	}
	note := time.AfterFunc(slowAfter, func() {
		_, _ = fmt.Fprintln(w, "fitup waits for the disk, so that no work is lost; ctrl+c ends it all the same")
	})
	defer note.Stop()
	if m.disk.leaving == staying {
		m.lastTyped()
	}
	if p := m.print.printing; p != nil { // ended from outside: it takes back what it has begun
		p.leave()
	}
	var err error
	m.sess.Alone(func(s *session.Session) { err = shutDown(s) }, func() {})
	m.sess.Settle()
	return err
}

// shut closes a dialog, wherever it lies; nil is none.
func (m *Model) shut(d dialog) {
	if i := slices.Index(m.dialogs, d); i >= 0 {
		m.dialogs = slices.Delete(m.dialogs, i, i+1)
	}
}
