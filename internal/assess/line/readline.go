package line

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
)

// read fills in what the readings say about a line: the slope of each axis, the
// joint angles and the mismatch, each with its uncertainty.
func (a *judge) read() {
	out := a.out
	for i := range out.Axes {
		x := &out.Axes[i]
		if x.Plan.Known {
			a.carryPlan(x, i, &a.Build.Readings[x.Taped[0]])
		}
		if x.Read.Known {
			a.carry(x, i, &a.Build.Readings[x.Reading])
		}
	}
	for i := range out.Joints {
		a.readJoint(i)
	}
	for i := range out.Shafts {
		a.readMismatch(i)
	}
}

// takeReadings takes what was read of an axis, as it stood then.
func (p *Prepared) takeReadings(x *Axis) {
	p.takePlan(x)
	t := p.Readings.Gauge[x.Target]
	if len(t.Set) == 0 {
		x.Read = finding.Missing("no reading of " + x.the() + " yet")
		return
	}
	x.Reading, x.Count, x.Set = t.Set[0], len(t.Set), t.Set
	x.Basis = finding.Read
	if p.Build.Readings[x.Reading].After.Proves() {
		x.Basis = finding.Proved
	}
	if m := t.Mean.Num; !m.Known {
		x.Read = finding.Number{Why: finding.Unreadable(x.the(), m), Unusable: true}
		x.Clash = errors.Is(m.Err, finding.ErrContradict)
		return
	}
	x.Doubt = t.Doubt
	if m := t.Level.Num; !m.Known {
		x.Read = m
		return
	}
	x.Raw, x.Read, x.lin = t.Level.Num, t.Level.Num, t.Level.Lin
}

// takePlan takes the direction in plan that was measured by tape.
func (p *Prepared) takePlan(x *Axis) {
	t := p.Readings.Tape[x.Target]
	if len(t.Set) == 0 {
		x.Plan = finding.Missing("no tape reading of " + x.the() + " from above yet")
		return
	}
	x.Taped, x.plan = t.Set, t.Mean.Lin
	if m := t.Mean.Num; !m.Known {
		x.Parted = true
		x.Plan = finding.Number{Unusable: true, Why: fmt.Sprintf("two readings of %s by tape cannot both be true: %s", x.the(), m.Why)}
		return
	}
	x.Plan = t.Mean.Num
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
	lin := jointAngle(before, after, before.heading(), after.heading())
	j.lin, j.Read = lin, a.Readings.Sources.Of(lin)
	j.Basis = finding.Weaker(before.Basis, after.Basis)
}

// jointAngle is the angle between two axes, with how it depends on what was
// read of them; h and k are their headings (rad).
func jointAngle(x, y *Axis, h, k float64) finding.Linear {
	v := geom.Direction(geom.Angle(x.Read.V), geom.Angle(h))
	w := geom.Direction(geom.Angle(y.Read.V), geom.Angle(k))
	first, second := shaft.Sensitivity(v, w)
	angle := geom.Between(v, w).Rad()
	if x.plan.C == nil && y.plan.C == nil {
		return finding.Smooth(angle, finding.Weighted{K: first, N: &x.lin}, finding.Weighted{K: second, N: &y.lin})
	}
	left, right := shaft.PlanSensitivity(v, w)
	return finding.Smooth(angle, finding.Weighted{K: first, N: &x.lin}, finding.Weighted{K: second, N: &y.lin},
		finding.Weighted{K: left, N: &x.plan}, finding.Weighted{K: right, N: &y.plan})
}

// heading is the direction of the axis in plan that its joints are worked out
// with, rad: as read by tape, as planned, or straight ahead.
func (x *Axis) heading() float64 {
	if x.Plan.Known {
		return x.Plan.V
	}
	return x.Heading.V
}

// readMismatch takes the difference of two joint angles that share a shaft.
// Its coefficients are the difference of the joints' own, so the shared
// reading counts twice where the joints bend the same way and drops out where
// they bend opposite ways (JCGM 100:2008, 5.2).
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
	lin := first.lin.Minus(second.lin)
	s.MismatchRead = finding.Known(math.Abs(lin.V), a.Readings.Sources.Standard(lin))
	s.Basis = finding.Weaker(first.Basis, second.Basis)
}
