package ui

import (
	"context"

	"fitup/internal/project"
	"fitup/internal/propose"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// weighedMsg says that the weighing of further readings has ended, one way or the other.
type weighedMsg struct{ of *weighing }

// weighing is the weighing of what could be measured next, beside the keys.
type weighing struct {
	of    *project.Build // that it is about
	ctx   context.Context
	end   context.CancelFunc
	begun bool
	next  propose.Next // set by the work before its message
	done  bool
}

// startWeighing begins it for the build as it is.
func (m *Model) startWeighing() {
	if m.now.Fitting() != nil {
		m.say(theme.Doubt, "The survey is not worked out yet; ask when it is.")
		return
	}
	if w := m.finder.weighing; w != nil {
		if !w.done && w.of == m.now.Build {
			return
		}
		w.end()
	}
	w := &weighing{of: m.now.Build}
	w.ctx, w.end = context.WithCancel(context.Background())
	m.finder.weighing = w
}

// weighWork begins what was asked for, and ends it where nobody waits any longer.
func (m *Model) weighWork() tea.Cmd {
	w := m.finder.weighing
	if w != nil && !w.done && (m.quit || w.of != m.now.Build) {
		w.end()
		m.finder.weighing = nil
		return nil
	}
	if w == nil || w.begun || m.quit {
		return nil
	}
	w.begun = true
	yields, garbage := &m.finder.yields, &m.garbage
	return guard(func() tea.Msg {
		defer garbage.search()()
		var err error
		if w.next, err = propose.NextReadingBeside(w.ctx, w.of, func() { yields.wait(w.ctx) }); err != nil {
			return nil
		}
		return weighedMsg{w}
	})
}

// weighed takes in that it has ended, and reports whether it is still waited for.
func (m *Model) weighed(msg weighedMsg) bool {
	w := msg.of
	w.end()
	if m.finder.weighing != w {
		return false
	}
	w.done = true
	if !m.proposalsOnTop() {
		m.say(theme.Text, "%s", w.next.Words())
	}
	return true
}

// measureNext writes what to measure next into the box.
func (p *proposalText) measureNext() {
	w := p.m.finder.weighing
	switch {
	case w == nil || w.of != p.m.now.Build:
		return
	case !w.done:
		p.says(theme.Dim, "", "Weighing what could be measured next.")
		return
	}
	p.says(theme.Accent, "", w.next.Words())
	for i, r := range w.next.Readings {
		const most = 3
		if i == 0 {
			continue
		}
		if i == most || r.Drop < propose.Worth {
			break
		}
		p.says(theme.Dim, "  ", "or "+r.Of+", "+r.How+": "+propose.PerCent(r.Drop)+" less")
	}
}
