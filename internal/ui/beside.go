package ui

import (
	"context"
	"errors"
	"fmt"
	"sync/atomic"
	"time"

	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// glance is how often the screen says how far the work beside the keys is.
const glance = 150 * time.Millisecond

// work goes on beside the keys: a large survey, a search, a book.
type work interface {
	side() *aside
	// over takes in that it has ended, one way or the other, and reports whether the screen
	// is drawn whether anything on it changed or not.
	over(m *Model) (always bool)
	// look has the screen say how far it is, and reports whether it is drawn for that.
	look(m *Model) (always bool)
	// every is how often it does; 0 for never.
	every() time.Duration
}

type (
	overMsg   struct{ of work } // it has ended, one way or the other
	glanceMsg struct{ of work } // it is time to say how far it is
)

// aside is what all work beside the keys has: it is begun once, and ended by itself or by
// whoever no longer waits for it.
type aside struct {
	ctx    context.Context
	end    context.CancelFunc
	began  atomic.Bool   // it runs, or has run
	ended  chan struct{} // closed when nothing of it is under way any more
	failed error         // set by the work before its message; a *Failure where it was a fault of the program
}

func newAside() *aside {
	a := &aside{ended: make(chan struct{})}
	a.ctx, a.end = context.WithCancel(context.Background())
	return a
}

func (a *aside) side() *aside { return a }

// leave ends it, and waits until nothing of it is under way.
func (a *aside) leave() {
	if a.end(); a.began.Load() {
		<-a.ended
	}
}

// faulted is the fault of the program that ended it, nil for none.
func (a *aside) faulted() *Failure {
	var f *Failure
	errors.As(a.failed, &f)
	return f
}

// begin has work done beside the keys, with a word now and then of how far it is. A fault of
// the program in it is how it failed: nothing else of the bench rests on it, which goes on.
func (m *Model) begin(w work, do func(ctx context.Context) error) tea.Cmd {
	a, begins := w.side(), m.begins
	cmd := func() (msg tea.Msg) {
		defer close(a.ended)
		defer func() {
			if r := recover(); r != nil {
				a.failed = FailureOf(r)
			}
			msg = overMsg{w}
		}()
		a.began.Store(true)
		if begins != nil {
			a.failed = begins(a.ctx, w)
		}
		if a.failed == nil {
			a.failed = do(a.ctx)
		}
		return nil
	}
	if w.every() == 0 {
		return cmd
	}
	return tea.Batch(cmd, m.disk.after(w.every(), glanceMsg{w}))
}

// progress is how far some work beside the keys is: as the work tells it, and as the
// screen says it.
type progress[P fmt.Stringer] struct {
	at    atomic.Pointer[P]
	shown string
}

// tell is told by the work.
func (g *progress[P]) tell(p P) { g.at.Store(&p) }

func (g *progress[P]) look(*Model) (always bool) {
	if p := g.at.Load(); p != nil {
		g.shown = (*p).String()
	}
	return false
}

func (g *progress[P]) every() time.Duration { return glance }

// beside takes what comes of work beside the keys. always says that the screen is drawn
// whether anything on it changed or not.
func (m *Model) beside(msg tea.Msg) (cmd tea.Cmd, always bool) {
	switch msg := msg.(type) {
	case overMsg:
		msg.of.side().end()
		always = msg.of.over(m)
	case glanceMsg:
		if msg.of.side().ctx.Err() == nil {
			always = msg.of.look(m)
			cmd = m.disk.after(msg.of.every(), msg)
		}
	case settledMsg:
		m.settled(msg)
	}
	return cmd, always
}

// ownFault says that work beside the keys met a fault of the program itself.
func ownFault(what string, f *Failure) string {
	return fmt.Sprintf("%s ended in a fault of fitup itself and no fault of yours: %s, at %s. The bench goes on; please report this line.", what, firstLine(f), f.Place())
}

// saysFault says it below, and reports whether it is so.
func (m *Model) saysFault(what string, a *aside) bool {
	f := a.faulted()
	if f != nil {
		m.say(theme.Danger, "%s", ownFault(what, f))
	}
	return f != nil
}

// leaveAll ends what is worked out beside, for which nobody waits any more.
func (m *Model) leaveAll() tea.Cmd {
	m.fitWork()
	m.searchWork()
	m.weighWork()
	m.printWork()
	m.leaveTyped()
	return m.leave()
}
