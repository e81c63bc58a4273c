package line

import (
	"fitup/internal/assess/finding"
	"fmt"
)

// motionNumber is one of the numbers that a motion is judged by.
type motionNumber func(*Motion) *finding.Number

func residualOf(m *Motion) *finding.Number { return &m.Residual }

func driveOf(shaft int) motionNumber {
	return func(m *Motion) *finding.Number { return at(m.Drive, shaft) }
}

func coastOf(shaft int) motionNumber {
	return func(m *Motion) *finding.Number { return at(m.Coast, shaft) }
}

func at(ms []finding.Number, i int) *finding.Number {
	if i < len(ms) {
		return &ms[i]
	}
	return &finding.Number{Why: "there is no such shaft"}
}

// of returns a number of the motion, or why there is none.
func (m *Motion) of(n motionNumber) finding.Number {
	if !m.Known {
		return finding.Number{Why: m.Why, Unusable: m.Unusable}
	}
	return *n(m)
}

// better picks the measure a verdict rests on.
func (l *Line) better(plan, read finding.Number) (finding.Number, finding.Basis, bool) {
	basis, moved := finding.Proved, false
	for _, x := range l.Axes {
		basis, moved = finding.Weaker(basis, x.Basis), moved || x.Moved
	}
	return l.judged(plan, read, basis, moved)
}

// unread is why the axes from number from on (0 is the first) make no motion as
// read: one was not read, or cannot be used, which is said first. Known when
// they do.
func (l *Line) unread(from int) finding.Number {
	out := finding.Number{Known: true}
	for _, x := range l.Axes[from:] {
		for _, m := range []finding.Number{x.Read, x.Plan} {
			if m.Unusable {
				return finding.Number{Why: m.Why, Unusable: true}
			}
		}
		if !x.Read.Known && out.Known {
			out = finding.Missing(x.Read.Why)
		}
	}
	return out
}

// motionAssumes says what a finding on the motion as read takes for granted.
func (a *judge) motionAssumes(f *finding.Finding, n motionNumber) {
	out := a.out
	if a.Light || !out.Read.of(n).Known {
		return
	}
	d := out.read()
	a.assume(f, 0, len(out.Axes)-1, func(h []float64) finding.Number {
		key := fmt.Sprint(h)
		m, ok := a.aside[key]
		if !ok {
			d.headings = h
			m = a.motionWith(d, false)
			if a.aside == nil {
				a.aside = map[string]Motion{}
			}
			a.aside[key] = m
		}
		return m.of(n)
	})
}
