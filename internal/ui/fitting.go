package ui

import (
	"context"
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// fitting is a large survey that is worked out beside the keys.
type fitting struct {
	*assess.Fitting
	*aside
	progress[assess.Progress]
}

// fit is how the bench stands with large surveys.
type fit struct {
	*fitting                    // under way; nil for none
	before   *assess.Assessment // the last with a survey, to say what has changed; nil for none
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
	f := &fitting{Fitting: want, aside: newAside()}
	m.fit.fitting = f
	return m.begin(f, func(ctx context.Context) error { return f.Do(ctx, f.tell) })
}

// over takes in that a survey was worked out. What comes of one that nobody waits for
// any longer is dropped.
func (f *fitting) over(m *Model) (always bool) {
	if m.fit.fitting != f {
		return false
	}
	m.fit.fitting = nil
	if m.saysFault("Working out the survey", f.aside) {
		f.Stop()
		m.now = assess.Again(m.now, m.now.Given())
	}
	if f.failed != nil {
		return false
	}
	before := m.now
	m.now = assess.Again(before, before.Given()) // also while the session is lent
	m.tell(before, fmt.Sprintf("The survey is worked out: %d points, %d measurements", f.Points, f.Lines))
	return false
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
