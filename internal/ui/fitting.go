package ui

import (
	"context"
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

type (
	fittedMsg  struct{ of *fitting } // its work has ended, one way or the other
	fitTickMsg struct{ of *fitting } // it is time to say how far it is
)

// fitting is a large survey that is worked out beside the keys.
type fitting struct {
	*assess.Fitting
	end context.CancelFunc
	progress[assess.Progress]
	failed error // set by the work before its message
}

// fit is how the bench stands with large surveys.
type fit struct {
	*fitting                                 // under way; nil for none
	before   *assess.Assessment              // the last with a survey, to say what has changed; nil for none
	begins   func(ctx context.Context) error // of tests: called before the work
}

// fitWork begins what the state at hand waits for, and ends what none waits for any
// longer: the edit that came last counts.
func (m *Model) fitWork() tea.Cmd {
	want := m.now.Fitting()
	if want != nil && want.Stopped || m.quit {
		want = nil
	}
	if f := m.fit.fitting; f != nil {
		if f.Same(want) {
			return nil
		}
		f.end()
		m.fit.fitting = nil
	}
	if want == nil {
		return nil
	}
	ctx, end := context.WithCancel(context.Background())
	f := &fitting{Fitting: want, end: end}
	m.fit.fitting = f
	begins := m.fit.begins
	return tea.Batch(guard(func() tea.Msg {
		if begins != nil {
			f.failed = begins(ctx)
		}
		if f.failed == nil {
			f.failed = f.Do(ctx, f.tell)
		}
		return fittedMsg{f}
	}), m.disk.after(glance, fitTickMsg{f}))
}

// fitted takes in that a survey was worked out. What comes of one that nobody waits for
// any longer is dropped.
func (m *Model) fitted(msg fittedMsg) {
	f := msg.of
	f.end()
	if m.fit.fitting != f {
		return
	}
	m.fit.fitting = nil
	if f.failed != nil {
		return
	}
	before := m.now
	m.now = assess.Again(before, before.Given()) // also while the session is lent
	m.tell(before, fmt.Sprintf("The survey is worked out: %d points, %d measurements", f.Points, f.Lines))
}

// fitTick has the screen say how far it is, and asks for the next time.
func (m *Model) fitTick(msg fitTickMsg) tea.Cmd {
	if m.fit.fitting != msg.of {
		return nil
	}
	msg.of.look()
	return m.disk.after(glance, msg)
}

// fitStop stops working out a survey, or goes on with one that was stopped.
func (m *Model) fitStop() {
	want := m.now.Fitting()
	switch {
	case want == nil:
		return
	case want.Stopped:
		want.Begin()
		m.reassess()
		m.say(theme.Dim, "Working out the survey of %d measurements.", want.Lines)
		return
	}
	if f := m.fit.fitting; f != nil {
		f.end()
		m.fit.fitting = nil
	}
	want.Stop()
	m.reassess()
	m.say(theme.Doubt, "Working out the survey is stopped: nothing is known of it. %s goes on with it.", m.keyText(actFit))
}

// sinceFit is the state that what has changed is told against: of one that waits for its
// survey only what was before that.
func (m *Model) sinceFit(before *assess.Assessment) *assess.Assessment {
	switch {
	case m.now.Fitting() != nil:
		if before.Fitting() == nil && m.fit.before == nil {
			m.fit.before = before
		}
		return m.now
	case before.Fitting() == nil:
		return before
	}
	before, m.fit.before = m.fit.before, nil
	if before == nil {
		return m.now
	}
	return before
}

// fitState is what the title says of it, "" where nothing waits.
func (m *Model) fitState() string {
	want := m.now.Fitting()
	switch {
	case want == nil:
		return ""
	case want.Stopped:
		return "survey stopped, " + m.keyText(actFit) + " goes on"
	}
	at := "working out the survey"
	if f := m.fit.fitting; f != nil && f.shown != "" {
		at = "survey: " + f.shown
	}
	return at + ", " + m.keyText(actFit) + " stops"
}
