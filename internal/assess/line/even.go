package line

import (
	"fmt"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// yokeOf is the yoke offset of shaft n (1 is behind the first joint).
func yokeOf(c shaft.Chain, n int) geom.Angle {
	if n-1 < len(c.Yokes) {
		return c.Yokes[n-1]
	}
	return shaft.InPhase
}

// evenFindings judges how well the joints of a line cancel each other, with the
// planes they bend in and the way the yokes stand: the whole line, and the two
// joints of its last shaft. A joint that runs evenly has nothing to cancel.
func (a *judge) evenFindings() {
	out, n := a.out, &a.names.equivalent
	whole := a.evenness(0)
	f := finding.Finding{ID: n.id, Title: n.title}
	a.judgeEven(&f, whole)
	a.evenAssumes(&f, whole)
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    "The line runs as evenly as one joint at this angle: little enough." + out.yokeNote(0),
			finding.Tight: "The uncertainty reaches past the limit; read the axes again before the weld." + out.yokeNote(0),
			finding.Over:  out.overEven(0),
		}
	})
	if n := len(out.Shafts); n > 0 && out.bothCardan(n-1) {
		a.mismatchFinding(f, whole)
	}
	a.beside(f, n, whole.planned)
}

// bothCardan reports whether shaft i, from 0, runs between two Cardan joints.
func (l *Line) bothCardan(i int) bool {
	return l.Joints[i].Kind == project.Cardan && l.Joints[i+1].Kind == project.Cardan
}

// evenness is the equivalent angle of the joints from number from on, planned
// and read.
type evenness struct {
	m, planned finding.Number
	basis      finding.Basis
	moved      bool
	from       int
	read       bool // m is as read
}

func (a *judge) evenness(from int) evenness {
	out := a.out
	planned := finding.Missing(out.PlanWhy)
	if a.planErr == nil {
		planned = out.Planned.equivalent()
		switch {
		case from > 0 && a.opened:
			planned = a.equivalentWith(out.planned(), (*Axis).asPlanned, from)
		case from > 0:
			planned = a.equivalentOf(behind(a.chain, from))
		}
	}
	basis, moved := finding.Proved, false
	for i := range out.Axes[from:] {
		x := &out.Axes[from+i]
		basis, moved = finding.Weaker(basis, x.Basis), moved || x.Moved
	}
	read := out.unread(from)
	switch {
	case !read.Known:
	case from == 0:
		read = out.Read.equivalent()
	default:
		read = a.equivalentWith(out.read(), (*Axis).asRead, from)
	}
	m, basis, moved := out.judged(planned, read, basis, moved)
	return evenness{m, planned, basis, moved, from, read.Known}
}

// equivalentWith is the equivalent angle of the joints from number from on,
// with the axes so, and its ±.
func (a *judge) equivalentWith(d directions, as func(*Axis) aimed, from int) finding.Number {
	r, err := a.readRipples(d, as, from, false)
	if err != nil {
		return finding.Number{Why: err.Error(), Unusable: true}
	}
	return finding.Rising(r.whole, equivalentOfRipple)
}

// equivalent is the angle of the one joint that runs as unevenly, or why there
// is none.
func (m *Motion) equivalent() finding.Number {
	if !m.Known {
		return finding.Missing(m.Why)
	}
	return m.Equivalent
}

// equivalentOf is the equivalent angle of the joints of a chain.
func (a *judge) equivalentOf(c shaft.Chain) finding.Number {
	if err := a.mech.Set(c); err != nil {
		return finding.Missing(err.Error())
	}
	shafts := a.mech.Shafts()
	return finding.Exact(shafts[len(shafts)-1].Drive.Angle().Rad())
}

// yokesAssumed says that the yokes of shafts from number from on, counted from
// 0, are taken as in phase where the file does not say how they stand: a number
// on how the joints cancel rests on it.
func (l *Line) yokesAssumed(f *finding.Finding, from int) {
	for i := from; i < len(l.Shafts) && f.HasValue; i++ {
		if l.bothCardan(i) && !l.Shafts[i].YokesGiven {
			f.Assumes = append(f.Assumes, fmt.Sprintf("the yokes of shaft %d in phase: the file does not say", i+1))
		}
	}
}

// evenAssumes says what a finding on how joints cancel takes for granted.
func (a *judge) evenAssumes(f *finding.Finding, e evenness) {
	out := a.out
	out.yokesAssumed(f, e.from)
	if a.Light || !e.read {
		return
	}
	d := out.read()
	a.assume(f, e.from, len(out.Axes)-1, func(h []float64) finding.Number {
		d.headings = h
		return a.equivalentWith(d, (*Axis).asRead, e.from)
	})
}

// judgeEven holds an equivalent angle against what the line's largest speed
// allows, or without a speed against a limit of its own.
func (a *judge) judgeEven(f *finding.Finding, e evenness) {
	f.Basis, f.Moved = e.basis, e.moved
	rule := a.Build.Limit("equivalent")
	limit := rule.Value
	if a.out.Speed.Known {
		residual, by := a.Build.Limit("residual"), a.residual
		switch {
		case by.err != nil:
			e.m = finding.Missing("the limit residual is of no use here: " + by.err.Error())
		case !rule.Changed || by.angle < rule.Value:
			limit = by.angle
			rule.Source, rule.Changed = a.residualSource, residual.Changed
		}
	}
	f.JudgeAt(e.m, limit, rule, false)
	f.Kind = quantity.Angle
}

// mismatchFinding compares the two joints of the last shaft, which have to
// cancel each other. The difference of their angles is the rule of the trade; it
// holds for yokes in phase and joints that bend in one plane, so what the two
// really leave over is judged with it, and what the whole line does where there
// are more joints: the worst verdict counts.
func (a *judge) mismatchFinding(left finding.Finding, e evenness) {
	out := a.out
	i := len(out.Shafts) - 1
	s, n := &out.Shafts[i], &a.names.shafts[i].mismatch
	m, basis, moved := out.judged(s.MismatchPlanned, s.MismatchRead, s.Basis, s.Moved)
	f := finding.Finding{ID: n.id, Title: n.title, Basis: basis, Moved: moved}
	f.Judge(m, a.Build.Limit("mismatch"), false)
	a.mismatchAssumes(&f, i)
	planned, at := s.MismatchPlanned, i
	whole, wholePlanned := left, e.planned
	if i > 0 {
		left = finding.Finding{}
		e = a.evenness(i)
		a.judgeEven(&left, e)
		a.evenAssumes(&left, e)
	}
	if left.Status > f.Status || out.misphased(i) { // then the difference says nothing
		planned = e.planned
		n = &a.names.shafts[i].left
		left.ID, left.Title = n.id, n.title
		f = left
	}
	if whole.HasValue && whole.Status > f.Status { // the joints ahead of the two spoil it
		planned, at = wholePlanned, 0
		n = &name{f.ID, whole.Title, n.planID, whole.Title + ", as planned"}
		whole.ID = f.ID
		f = whole
	}
	leaves, from := left.Value, at
	f.Says = finding.Asked(f, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    fmt.Sprintf("What the two joints leave over, %.1f degrees as one joint's angle, is within its limit.", geom.Angle(leaves).Degrees()) + out.yokeNote(from),
			finding.Tight: "The uncertainty reaches past the limit; read again before the weld." + out.yokeNote(from),
			finding.Over:  out.overEven(from),
		}
	})
	a.beside(f, n, planned)
}

// mismatchAssumes says what the difference of the two joints of shaft i (from
// 0) takes for granted.
func (a *judge) mismatchAssumes(f *finding.Finding, i int) {
	l := a.out
	l.yokesAssumed(f, i)
	if a.Light || !l.Shafts[i].MismatchRead.Known {
		return
	}
	a.assume(f, i, i+2, func(h []float64) finding.Number {
		first := jointAngle(&l.Axes[i], &l.Axes[i+1], h[i], h[i+1])
		return first.Apart(jointAngle(&l.Axes[i+1], &l.Axes[i+2], h[i+1], h[i+2]))
	})
}

// overEven says what to do about joints, from shaft i on, that do not cancel.
func (l *Line) overEven(from int) string {
	n := len(l.Joints)
	switch lone, single := l.lone(); {
	case single:
		return l.loneRule(lone)
	case from == 0 && n > 2:
		return "The joints do not cancel, so the axle is shaken twice a turn of the shaft; bring the angles of the last two nearer to each other, and the first nearer to nothing." + l.yokeNote(0) + l.yokeAdvice()
	}
	s := "The two joints do not cancel, so the pinion is driven unevenly, twice a turn; bring the " + l.drivingEnd() + " and pinion slopes nearer to each other."
	if note := l.yokeNote(n - 2); note != "" {
		s = "The two joints do not cancel, so the pinion is driven unevenly, twice a turn." + note
	}
	return s + l.yokeAdvice()
}

// misphased reports whether the yokes of shaft i stand nearer to square than to
// in line with the planes its joints bend in, so that the joints add up.
func (l *Line) misphased(i int) bool {
	twist, ok := l.twist(i)
	return ok && shaft.TurnTo(l.Shafts[i].Yokes, twist).Abs() > 45*geom.Deg
}

// drivingEnd is what the line begins at.
func (l *Line) drivingEnd() string {
	if l.own {
		return "output"
	}
	return "powertrain"
}

// yokeNote names yokes that are not in phase, and joints that bend in planes
// of their own, of each shaft from number from on, counted from 0.
func (l *Line) yokeNote(from int) string {
	const worthSaying = 2 * geom.Deg
	var out strings.Builder
	for i := max(from, 0); i < len(l.Shafts); i++ {
		if !l.bothCardan(i) {
			continue
		}
		yoke := l.Shafts[i].Yokes
		switch {
		case shaft.TurnTo(yoke, shaft.Crossed).Abs() < worthSaying:
			fmt.Fprintf(&out, " The yokes of shaft %d are crossed: its joints add up instead of cancelling.", i+1)
		case shaft.TurnTo(yoke, 0).Abs() >= geom.Deg/10:
			fmt.Fprintf(&out, " The yokes of shaft %d are offset by %.1f degrees.", i+1, yoke.Degrees())
		}
		if twist, ok := l.twist(i); ok && twist.Abs() >= worthSaying {
			fmt.Fprintf(&out, " The two joints of shaft %d bend in planes %.0f degrees apart.", i+1, twist.Abs().Degrees())
		}
	}
	return out.String()
}

// twist is the turn between the planes of shaft i's two joints, as read or as
// planned.
func (l *Line) twist(i int) (geom.Angle, bool) {
	var d [3]r3.Vec
	read := l.HasReads
	for _, x := range l.Axes {
		read = read && x.Read.Known
	}
	for n := range d {
		x := l.Axes[i+n]
		slope, heading := x.Planned, x.Heading.V
		if read {
			slope, heading = x.Read, x.heading()
		}
		if !slope.Known {
			return 0, false
		}
		d[n] = geom.Direction(geom.Angle(slope.V), geom.Angle(heading))
		if l.Front {
			d[n] = r3.Scale(-1, d[n])
		}
	}
	return shaft.PlaneTwist(d[0], d[1], d[2])
}

// yokeAdvice says when another yoke offset would help much: how far to turn
// the yoke from where it stands.
func (l *Line) yokeAdvice() string {
	m := l.Planned
	if l.Read.Known {
		m = l.Read
	}
	for _, b := range m.Best {
		turn := geom.Angle(b.Turn)
		if !m.Known || turn.Abs() < geom.Deg/2 || b.Equivalent*b.Equivalent > 0.5*m.Equivalent.V*m.Equivalent.V {
			continue
		}
		hand, clock := "right", "clockwise"
		if turn < 0 {
			hand, clock = "left", "anticlockwise"
		}
		return fmt.Sprintf(" Turning the rear yoke of shaft %d by %.1f degrees to the %s from where it is, %s as one looks along the shaft from its driving end, would leave less than half of it.",
			b.Shaft, turn.Abs().Degrees(), hand, clock)
	}
	return ""
}
