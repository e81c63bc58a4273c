package line

import (
	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"
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

// directions are slopes and headings of a line's axes, rad.
type directions struct{ slopes, headings []float64 }

// read is the directions of the line's axes as they were read: slopes by gauge,
// headings by tape, as planned, or straight ahead.
func (l *Line) read() directions {
	d := directions{make([]float64, len(l.Axes)), make([]float64, len(l.Axes))}
	for i := range l.Axes {
		d.slopes[i], d.headings[i] = l.Axes[i].Read.V, l.Axes[i].heading()
	}
	return d
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
func (a *judge) motionAssumes(f *finding.Finding, l project.Line, out *Line, n motionNumber) {
	if !out.Read.of(n).Known {
		return
	}
	d := out.read()
	a.assume(f, out, 0, len(out.Axes)-1, func(h []float64) finding.Number {
		key := fmt.Sprint(h)
		m, ok := out.aside[key]
		if !ok {
			d.headings = h
			m = a.motionWith(l, out, d, false)
			if out.aside == nil {
				out.aside = map[string]Motion{}
			}
			out.aside[key] = m
		}
		return m.of(n)
	})
}

// readChain is a line with the directions read. A line's motion depends on
// directions alone, so its shafts are given any length.
func readChain(l project.Line, out *Line, d directions) shaft.Chain {
	dir := func(i int) r3.Vec {
		return ahead(l, geom.Direction(geom.Angle(d.slopes[i]), geom.Angle(d.headings[i])))
	}
	n := len(out.Joints)
	c := shaft.Chain{In: dir(0), Out: dir(n), Joints: make([]shaft.Joint, n), Yokes: yokes(l, n)}
	for i := range c.Joints {
		c.Joints[i].Kind = shaftKinds[out.Joints[i].Kind]
		if i > 0 {
			c.Joints[i].At = r3.Add(c.Joints[i-1].At, r3.Scale(1000, dir(i)))
		}
	}
	return c
}
