package line

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/uncertain"

	"gonum.org/v1/gonum/spatial/r3"
)

// read fills in what the readings say about a line: the slope of each axis, the
// joint angles and the mismatch, each with its uncertainty.
func (a *judge) read() {
	out := a.out
	for i := range out.Axes {
		x := &out.Axes[i]
		if x.Plan.Known {
			a.carryPlan(x, i, x.taped(a.Build))
		}
		if x.Read.Known {
			a.carry(x, i, x.taken(a.Build))
		}
	}
	for i := range out.Joints {
		a.readJoint(i)
	}
	for i := range out.Shafts {
		if x := &out.Axes[i+1]; out.Shafts[i].LengthRead.Known && (x.Moved || x.Hung) {
			out.Shafts[i].LengthRead = finding.Missing("what is at its ends has moved since they were measured")
		}
		a.readMismatch(i)
	}
}

// takeReadings takes what was read of an axis, as it stood then.
func (p *Prepared) takeReadings(x *Axis) {
	p.takePlan(x)
	t := p.Readings.Gauge[x.Target]
	if t.Marked {
		x.marked = &t.As
		x.Basis = finding.Read
		if t.As.After.Proves() {
			x.Basis = finding.Proved
		}
		x.Read, x.Raw, x.Assumes = t.Level, t.Level, t.Assumes
		return
	}
	if len(t.Set) == 0 {
		x.Read = finding.Missing("no reading of " + x.the() + " yet")
		return
	}
	x.Reading, x.Count, x.Set, x.Apart = t.Set[0], len(t.Set), t.Set, t.Apart
	x.Basis = finding.Read
	if p.Build.Readings[x.Reading].After.Proves() {
		x.Basis = finding.Proved
	}
	if m := t.Mean; !m.Known {
		x.Read = finding.Number{Why: finding.Unreadable(x.the(), m, p.Build, t.Set), Unusable: true}
		x.Clash = errors.Is(m.Err, finding.ErrContradict)
		return
	}
	x.Doubt = t.Doubt
	x.Assumes = t.Assumes
	if x.Read = t.Level; x.Read.Known {
		x.Raw = t.Level
	}
}

// taken is when, and how it hung and stood then, the axis was read.
func (x *Axis) taken(b *project.Build) *project.Reading {
	if x.marked != nil {
		return x.marked
	}
	return &b.Readings[x.Reading]
}

// taped is that of its direction in plan.
func (x *Axis) taped(b *project.Build) *project.Reading {
	if x.markedPlan != nil {
		return x.markedPlan
	}
	return &b.Readings[x.Taped[0]]
}

// takePlan takes the direction in plan that was measured by tape.
func (p *Prepared) takePlan(x *Axis) {
	t := p.Readings.Tape[x.Target]
	if t.Marked {
		x.markedPlan, x.Plan = &t.As, t.Mean
		return
	}
	if len(t.Set) == 0 {
		x.Plan = finding.Missing("no tape reading of " + x.the() + " from above yet")
		return
	}
	x.Taped = t.Set
	if m := t.Mean; !m.Known {
		x.Parted = true
		x.Plan = finding.Number{Unusable: true, Why: fmt.Sprintf("two readings of %s by tape cannot both be true: %s", x.the(), m.Why)}
		return
	}
	x.Plan = t.Mean
}

// readJoint takes the angle between two axes whose slopes were read. Their
// directions in plan were read by tape, come from the model, or are taken as
// straight.
func (a *judge) readJoint(i int) {
	j, before, after := &a.out.Joints[i], &a.out.Axes[i], &a.out.Axes[i+1]
	j.Moved = before.Moved || after.Moved
	for _, m := range [...]*finding.Number{&before.Read, &after.Read, &before.Plan, &after.Plan} {
		if m.Unusable {
			j.Read = finding.Number{Why: m.Why, Unusable: true}
			return
		}
	}
	for _, x := range [...]*Axis{before, after} {
		if !x.Read.Known {
			j.Read = finding.Missing(x.Read.Why)
			return
		}
	}
	j.Read = jointAngle(before, after, before.heading(), after.heading())
	j.Basis = finding.Weaker(before.Basis, after.Basis)
}

// aimed is which way an axis points, rad: its slope and its heading.
type aimed struct{ slope, heading finding.Number }

// asPlanned is the axis as it is planned.
func (x *Axis) asPlanned() aimed { return aimed{x.Planned, x.Heading} }

// asRead is the axis as its slope was read: with the heading read by tape, the
// planned one, or straight ahead.
func (x *Axis) asRead() aimed {
	switch {
	case x.Plan.Known:
		return aimed{x.Read, x.Plan}
	case x.Heading.Known:
		return aimed{x.Read, x.Heading}
	}
	return aimed{x.Read, finding.Exact(0)}
}

// turnedTo is an axis with another heading, of which nothing else changes.
func (x aimed) turnedTo(heading float64) aimed {
	x.heading = x.heading.Less(x.heading.V - heading)
	return x
}

// jointAngle is the angle between two axes as they were read; h and k are their
// headings (rad).
func jointAngle(x, y *Axis, h, k float64) finding.Number {
	return angleBetween(x.asRead().turnedTo(h), y.asRead().turnedTo(k))
}

// angleBetween is the angle between two axes, with how it depends on where they
// point. The chord between the ends of the two directions lies square to the
// middle between them, so its parts in side view and in plan are all there is of
// it: near zero too, where the angle has no slope.
func angleBetween(x, y aimed) finding.Number {
	v := geom.Direction(geom.Angle(x.slope.V), geom.Angle(x.heading.V))
	w := geom.Direction(geom.Angle(y.slope.V), geom.Angle(y.heading.V))
	middle := r3.Add(v, w)
	plan := r3.Vec{X: -middle.Y, Y: middle.X}
	plan = r3.Scale(1/r3.Norm(plan), plan)
	side := r3.Cross(middle, plan)
	side = r3.Scale(1/r3.Norm(side), side)
	chord := r3.Sub(v, w)
	down, below := shaft.TurnDown(v), shaft.TurnDown(w)
	right, beside := shaft.TurnRight(v), shaft.TurnRight(w)
	part := func(d r3.Vec) uncertain.Number {
		return uncertain.Smooth(r3.Dot(chord, d),
			uncertain.Weighted{K: r3.Dot(down, d), N: x.slope.Number}, uncertain.Weighted{K: -r3.Dot(below, d), N: y.slope.Number},
			uncertain.Weighted{K: r3.Dot(right, d), N: x.heading.Number}, uncertain.Weighted{K: -r3.Dot(beside, d), N: y.heading.Number})
	}
	return finding.Rising(finding.Size(uncertain.Norm(part(side), part(plan))), angleOfChord)
}

func angleOfChord(c float64) float64 { return 2 * math.Asin(min(1, c/2)) }

// heading is the direction of the axis in plan that its joints are worked out
// with, rad: as read by tape, as planned, or straight ahead.
func (x *Axis) heading() float64 {
	if x.Plan.Known {
		return x.Plan.V
	}
	return x.Heading.V
}

// readMismatch takes the difference of two joint angles that share a shaft.
// The shared reading counts twice where the joints bend the same way and drops
// out where they bend opposite ways (JCGM 100:2008, 5.2).
func (a *judge) readMismatch(i int) {
	s, first, second := &a.out.Shafts[i], &a.out.Joints[i], &a.out.Joints[i+1]
	s.Moved = first.Moved || second.Moved
	if !first.Read.Known || !second.Read.Known {
		bad := first.Read
		if bad.Known || (!bad.Unusable && second.Read.Unusable) {
			bad = second.Read
		}
		s.MismatchRead = bad
		return
	}
	s.MismatchRead = first.Read.Apart(second.Read)
	s.Basis = finding.Weaker(first.Basis, second.Basis)
}
