package ui

import (
	"context"
	"fmt"
	"slices"
	"sync/atomic"
	"time"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/propose"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// searching is a search for what to move, beside the keys.
type searching struct {
	*aside
	of      *project.Build   // that it is about
	same    []*project.Build // others in which all that it rests on is as there
	at      atomic.Pointer[propose.Progress]
	shown   *propose.Progress // of that, on the screen
	problem *propose.Problem  // set by the work before its message
	answer  propose.Answer
	done    bool
}

// stands reports whether a build is the one that was searched, but for what a search does
// not rest on.
func (s *searching) stands(b *project.Build) bool { return s.of == b || slices.Contains(s.same, b) }

// finder is how the bench stands with searches for what to move.
type finder struct {
	last     *searching // the last that was begun, under way or done; nil for none
	begun    bool       // its work is under way
	yields   yields
	settling *project.Build // that is waited for to stand a while
	weighing *weighing      // of what to measure next, under way or done; nil for none
}

// yields lets keys go before a search.
type yields struct {
	busy  atomic.Bool
	last  atomic.Int64  // when the last key was answered, ns
	quiet time.Duration // how long nothing is pressed before a search goes on; 0 where there is no clock
	naps  func()        // of tests: in place of a short sleep
}

// keys notes that the bench is at work, until what it returns is called, and whether it
// answers somebody's hand.
func (y *yields) keys(hand bool) func() {
	y.busy.Store(true)
	return func() {
		if hand && y.quiet > 0 {
			y.last.Store(time.Now().UnixNano())
		}
		y.busy.Store(false)
	}
}

// pressed reports whether something was pressed within a while.
func (y *yields) pressed(within time.Duration) bool {
	return y.quiet > 0 && time.Since(time.Unix(0, y.last.Load())) < within
}

// wait holds a search up while the bench is at work, and until it was quiet for a while.
func (y *yields) wait(ctx context.Context) {
	for ctx.Err() == nil && (y.busy.Load() || y.pressed(y.quiet)) {
		if y.naps != nil {
			y.naps()
			continue
		}
		time.Sleep(max(2*time.Millisecond, y.quiet-time.Since(time.Unix(0, y.last.Load()))))
	}
}

// quietFor is how long nothing is pressed before a search goes on: longer than between
// two keys that a held key makes.
const quietFor = 40 * time.Millisecond

// startSearch begins a search, or stops the one under way.
func (m *Model) startSearch() {
	if s := m.finder.last; s != nil && !s.done {
		s.end()
		m.say(theme.Dim, "The search stops.")
		return
	}
	if m.now.Fitting() != nil {
		m.say(theme.Doubt, "The survey is not worked out yet; search when it is.")
		return
	}
	s := &searching{of: m.now.Build, aside: newAside()}
	m.finder.last, m.finder.begun = s, false
}

// searchWork begins what was asked for, and ends it where nobody waits any longer.
func (m *Model) searchWork() tea.Cmd {
	s := m.finder.last
	if s != nil && m.quit {
		s.end()
	}
	if s == nil || m.finder.begun || m.quit {
		return nil
	}
	m.finder.begun = true
	yields, garbage := &m.finder.yields, &m.garbage
	return m.begin(s, func(ctx context.Context) error {
		defer garbage.search()()
		return s.search(func() { yields.wait(ctx) })
	})
}

// search does the work.
func (s *searching) search(yield func()) error {
	w, err := propose.InFile(s.of)
	if err != nil {
		return err
	}
	w.Yield = yield
	if s.problem, err = propose.New(s.of, w); err != nil {
		return err
	}
	s.answer = s.problem.Run(s.ctx, func(p propose.Progress) { s.at.Store(&p) })
	s.problem.Forget()
	return nil
}

// over takes in that a search has ended, and reports whether it is still waited for.
func (s *searching) over(m *Model) bool {
	if m.finder.last != s {
		return false
	}
	s.done = true
	if !m.proposalsOnTop() {
		m.say(theme.Text, "The search has ended: %s. %s shows it.", s.came(), m.keyText(actPropose))
	}
	return true
}

// came says in few words what a search came to.
func (s *searching) came() string {
	switch n := len(s.answer.Proposals); {
	case s.failed != nil:
		return "it could not be searched"
	case n == 1:
		return "1 proposal"
	case n > 1:
		return fmt.Sprintf("%d proposals", n)
	case s.answer.None:
		return "no place holds all"
	}
	return "nothing found, and not all was tried"
}

// look has the screen say how far it is where there is more to say. While keys come it says
// nothing: a frame of its own would hold the next key up.
func (s *searching) look(m *Model) (always bool) {
	if m.finder.yields.pressed(3 * glance) {
		return false
	}
	before := s.shown
	s.shown = s.at.Load()
	return s.shown != before && m.proposalsOnTop()
}

func (s *searching) every() time.Duration { return 2 * glance }

// searchState is what the title says of it, "" where nothing is searched.
func (m *Model) searchState() string {
	s := m.finder.last
	switch {
	case s == nil || s.done:
		return ""
	case s.shown == nil:
		return "searching"
	}
	return fmt.Sprintf("searching: %.0f %%", 100*s.shown.Settled)
}

// found are the proposals so far.
func (s *searching) found() []propose.Proposal {
	switch {
	case s.done:
		return s.answer.Proposals
	case s.shown != nil:
		return s.shown.Found
	}
	return nil
}

// proposedHere is the build as it would be with the proposal under the cursor, for the
// sketch: nil where none is.
func (m *Model) proposedHere() *assess.Assessment {
	if !m.proposalsOnTop() {
		return nil
	}
	if x := m.dialogs[len(m.dialogs)-1].(*proposals).here(m); x != nil {
		return x.After
	}
	return nil
}
