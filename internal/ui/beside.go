package ui

import (
	"fmt"
	"sync/atomic"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// glance is how often the screen says how far the work beside the keys is.
const glance = 150 * time.Millisecond

// progress is how far some work beside the keys is: as the work tells it, and as the
// screen says it.
type progress[P fmt.Stringer] struct {
	at    atomic.Pointer[P]
	shown string
}

// tell is told by the work.
func (g *progress[P]) tell(p P) { g.at.Store(&p) }

// look has the screen say it.
func (g *progress[P]) look() {
	if p := g.at.Load(); p != nil {
		g.shown = (*p).String()
	}
}

// beside takes what comes of work that goes on beside the keys: a large survey, a search,
// a book. always says that the screen is drawn whether anything on it changed or not.
func (m *Model) beside(msg tea.Msg) (cmd tea.Cmd, always bool) {
	switch msg := msg.(type) {
	case fittedMsg:
		m.fitted(msg)
	case fitTickMsg:
		cmd = m.fitTick(msg)
	case searchedMsg:
		always = m.searched(msg)
	case searchTickMsg:
		cmd, always = m.searchTick(msg)
		always = always && m.proposalsOnTop()
	case settledMsg:
		m.settled(msg)
	case weighedMsg:
		always = m.weighed(msg)
	case printedMsg:
		m.printed(msg)
	case printTickMsg:
		cmd = m.printTick(msg)
	}
	return cmd, always
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
