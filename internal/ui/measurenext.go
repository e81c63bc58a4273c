package ui

import (
	"context"
	"time"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/propose"
	"fitup/internal/ui/pane/jobs"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// settledMsg says that this build has stood for a while.
type settledMsg struct{ of *project.Build }

// settleFor is how long a build has to stand before what could be measured next is weighed
// without being asked for.
const settleFor = 700 * time.Millisecond

// weighing is the weighing of what could be measured next, beside the keys.
type weighing struct {
	*aside
	of    *project.Build // that it is about
	begun bool
	next  propose.Next // set by the work before its message
	done  bool
	asked bool // somebody asked for it and is told
}

// startWeighing begins it for the build as it is, where somebody asks.
func (m *Model) startWeighing() {
	if m.now.Fitting() != nil {
		m.say(theme.Doubt, "The survey is not worked out yet; ask when it is.")
		return
	}
	if w := m.finder.weighing; w == nil || w.of != m.now.Build {
		m.weigh()
	}
	m.finder.weighing.asked = true
}

func (m *Model) weigh() {
	if w := m.finder.weighing; w != nil {
		w.end()
	}
	m.finder.weighing = &weighing{of: m.now.Build, aside: newAside()}
}

// settled begins it for a build that was left alone for a while, where something could be
// measured once more and nothing else goes on beside the keys.
func (m *Model) settled(msg settledMsg) {
	f := &m.finder
	switch {
	case msg.of != m.now.Build || f.weighing != nil && f.weighing.of == msg.of:
	case m.now.Fitting() != nil || f.last != nil && !f.last.done: // when that has ended
		f.settling = nil
	default:
		m.weigh()
	}
}

// settleWork asks to be told when the build as it is has stood for a while; nil where that
// was asked.
func (m *Model) settleWork() tea.Cmd {
	f, b := &m.finder, m.now.Build
	if f.settling == b || m.quit || len(b.Readings)+len(b.Measurements) == 0 || f.last != nil && !f.last.done {
		return nil
	}
	f.settling = b
	return m.disk.after(settleFor, settledMsg{b})
}

// weighWork begins what was asked for, and ends it where nobody waits any longer.
func (m *Model) weighWork() tea.Cmd {
	w := m.finder.weighing
	if w != nil && !w.done && (m.quit || w.of != m.now.Build) {
		w.end()
		m.finder.weighing, w = nil, nil
	}
	if w == nil || w.begun || m.quit {
		return m.settleWork()
	}
	w.begun = true
	yields, garbage := &m.finder.yields, &m.garbage
	return m.begin(w, func(ctx context.Context) (err error) {
		defer garbage.search()()
		w.next, err = propose.NextReadingBeside(ctx, w.of, func() { yields.wait(ctx) })
		return err
	})
}

// over takes in that it has ended, and reports whether it is still waited for.
func (w *weighing) over(m *Model) bool {
	if m.finder.weighing != w {
		return false
	}
	w.done = true
	if w.asked && !m.proposalsOnTop() {
		m.say(theme.Text, "%s", w.words())
	}
	return true
}

// words are what it came to, in a sentence.
func (w *weighing) words() string {
	if f := w.faulted(); f != nil {
		return ownFault("Weighing what to measure next", f)
	}
	return w.next.Words()
}

// look and every: it says nothing on its way.
func (w *weighing) look(*Model) bool { return false }

func (w *weighing) every() time.Duration { return 0 }

// nextFor says what to measure next before a job that is hard to undo; "" while that is not
// known, or there is nothing to say.
func (m *Model) nextFor(j assess.Job) string {
	if w := m.weighedNow(); w != nil {
		return w.next.For(j)
	}
	return ""
}

// weighedNow is what was weighed of the build as it is; nil while that is not known.
func (m *Model) weighedNow() *weighing {
	if w := m.finder.weighing; w != nil && w.done && w.failed == nil && w.of == m.now.Build {
		return w
	}
	return nil
}

// holdPoint is what is said before the next job that is hard to undo, and what to measure
// next before it or, where there is no such job, at all; in at most most lines.
func (m *Model) holdPoint(w, most int) []string {
	var out []string
	add := func(r theme.Role, text string) {
		if text == "" {
			return
		}
		for _, l := range theme.Wrap(m.theme.Plain(project.Printable(text)), max(w, 1)) {
			out = append(out, m.theme.Paint(r, l))
		}
	}
	if j, b, ok := m.now.NextHoldPoint(); ok {
		add(jobs.WordRole(b.Word), `Before "`+j.Title+`": `+b.Text)
		if b.Word != assess.MoveIt {
			add(theme.Accent, m.nextFor(j))
		}
	} else if w := m.weighedNow(); w != nil {
		add(theme.Accent, w.next.Words())
	}
	if len(out) == 0 || most < 3 {
		return nil
	}
	if len(out) > most-1 {
		out = append(out[:most-2], m.theme.Cut(out[most-2]+" "+out[most-1], w))
	}
	return append(out, "")
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
	case w.failed != nil:
		p.says(theme.Danger, "", w.words())
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
		p.says(theme.Dim, "  ", "or "+r.Name+", "+r.How+": "+propose.PerCent(r.Drop)+" less")
	}
}
