package line

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
)

// angleFindings holds a line's joint angles against the limits.
func (a *judge) angleFindings() {
	for i := range a.out.Joints {
		a.jointFindings(i)
	}
}

func (a *judge) jointFindings(i int) {
	out, n := a.out, &a.names.joints[i]
	j := &out.Joints[i]
	m, basis, moved := out.judged(j.Planned, j.Read, j.Basis, j.Moved)
	if !out.carried(i) && j.Kind == project.Cardan {
		least := finding.Finding{ID: n.least.id, Title: n.least.title, Basis: basis, Moved: moved}
		least.Judge(m, a.Build.Limit("joint_min"), true)
		a.jointAssumes(&least, i)
		least.Says = finding.Asked(least, leastAdvice)
		a.beside(least, &n.least, j.Planned)
	}
	most := finding.Finding{ID: n.most.id, Title: n.most.title, Basis: basis, Moved: moved}
	most.Judge(m, a.runningLimit(i), false)
	a.jointAssumes(&most, i)
	most.Says = finding.Asked(most, func() map[finding.Status]string {
		return map[finding.Status]string{
			finding.OK:    "The joint works within its angle." + out.loneWord(i),
			finding.Tight: "The gauge's uncertainty reaches past the limit; read both axes again before the weld." + out.loneWord(i),
			finding.Over:  out.jointOverAdvice(i),
		}
	})
	a.beside(most, &n.most, j.Planned)
}

func leastAdvice() map[finding.Status]string {
	return map[finding.Status]string{
		finding.OK:    "The joint works at enough angle to keep its needle bearings rolling.",
		finding.Tight: "The gauge's uncertainty reaches below the limit; read both axes again or give the joint a little more angle.",
		finding.Over:  "The joint works at too little angle: its needles do not roll and dent the trunnion (brinelling); move one end until it works at an angle.",
	}
}

// jointAssumes says what a finding on the read angle of joint i (from 0) takes
// for granted.
func (a *judge) jointAssumes(f *finding.Finding, i int) {
	l := a.out
	if a.Light || !l.Joints[i].Read.Known {
		return
	}
	a.assume(f, i, i+1, func(h []float64) finding.Number {
		return jointAngle(&l.Axes[i], &l.Axes[i+1], h[i], h[i+1])
	})
}

// beside keeps a finding. Where a reading gives its number, or hides it, the
// plan's number is judged beside it: that can be watched and nudged, and is not
// counted.
func (a *judge) beside(f finding.Finding, n *name, plan finding.Number) {
	a.Findings = append(a.Findings, f)
	if !plan.Known || !f.HasLimit || f.HasValue && f.Value == plan.V {
		return
	}
	g := finding.Finding{ID: n.planID, Title: n.planTitle, Kind: f.Kind, Basis: finding.Planned,
		Limit: f.Limit, HasLimit: true, AtLeast: f.AtLeast, Source: f.Source, Changed: f.Changed}
	g.Figure(plan)
	g.Margin = g.Limit - plan.V
	if g.AtLeast {
		g.Margin = plan.V - g.Limit
	}
	g.Status = g.VerdictOn(plan)
	g.Says = planAlone
	a.Plans = append(a.Plans, g)
}

func planAlone() string { return "This is the plan alone; the verdict rests on what was read." }

// jointOverAdvice says what to move for a joint with too much angle: what it
// hangs on, and the way that most of the angle goes.
func (l *Line) jointOverAdvice(i int) string {
	if lone, ok := l.lone(); ok && i == lone {
		return l.loneRule(lone) + l.sideways(i) + l.hint()
	}
	driving, housing := "the powertrain, as the placement rows show", "the axle housing"
	if l.own {
		driving = "the case that drives the shaft"
	}
	if !l.winds {
		housing = "the differential"
	}
	switch {
	case i == 0 && l.own:
		return "Too much angle at the output: turn or move the case it is on until it looks nearer along the shaft." + l.sideways(i) + l.hint()
	case i == 0:
		return "Too much angle at the gearbox: bring the powertrain's slope nearer to the shaft's, by its mounts, until this joint is within its limit." + l.sideways(i) + l.hint()
	case i == len(l.Joints)-1:
		return "Too much angle at the axle: move " + driving + ", or turn " + housing + "; first make sure which way the pinion falls." + l.sideways(i) + l.hint()
	case l.own:
		return "Too much angle at this joint: move the carrier bearing or the case that drives the line." + l.sideways(i)
	}
	return "Too much angle at this joint: move the carrier bearing or the powertrain." + l.sideways(i)
}

// sideways says of joint i (from 0) that most of its angle is seen from above,
// where no slope helps; "" when it is not.
func (l *Line) sideways(i int) string {
	x, y := &l.Axes[i], &l.Axes[i+1]
	slope, turn := y.Planned.V-x.Planned.V, y.Heading.V-x.Heading.V
	switch {
	case l.Joints[i].Read.Known:
		slope, turn = y.Read.V-x.Read.V, y.heading()-x.heading()
	case !l.Joints[i].Planned.Known:
		return ""
	}
	if math.Abs(turn) <= math.Abs(slope) {
		return ""
	}
	return fmt.Sprintf(" Most of its angle is seen from above, %.1f degrees, and no slope takes that away: bring the two ends of the shaft nearer in line sideways, or turn what they are on in plan.", geom.Angle(turn).Abs().Degrees())
}

// judged picks the number a verdict rests on: the reading where there is one,
// the plan where nothing was read. A reading that cannot be used hides the
// plan, because somebody measured and the measurement is not understood yet.
func (l *Line) judged(plan, read finding.Number, basis finding.Basis, moved bool) (finding.Number, finding.Basis, bool) {
	switch {
	case read.Known:
		return read, basis, moved
	case read.Unusable:
		return read, finding.Read, false
	case plan.Known:
		return plan, finding.Planned, false
	case l.HasReads:
		return finding.Missing(wanted(read.Why, "")), finding.Read, false
	}
	return finding.Missing(wanted(read.Why, plan.Why)), finding.Planned, false
}

// Angle is the angle of one of the line's joints, rad, that its verdict rests
// on.
func (l *Line) Angle(j Joint) finding.Number {
	m, _, _ := l.judged(j.Planned, j.Read, j.Basis, j.Moved)
	return m
}

// WasRead reports whether all of the line's axes were read and can be used, so
// that its motion rests on readings.
func (l *Line) WasRead() bool { return l.unread(0).Known }

// wanted says what a number waits for: what is to be read, what the plan lacks,
// or both.
func wanted(read, plan string) string {
	switch {
	case read == "" && plan == "":
		return "nothing of it has been read, and nothing is planned"
	case plan == "" || plan == read:
		return read
	case read == "":
		return plan
	}
	return read + "; gauge readings alone are enough, or for a plan: " + plan
}

// the is the axis's label as a sentence has it, with its line where there are
// several. The powertrain is in all of them.
func (x *Axis) the() string {
	switch {
	case x.Target == project.TargetPowertrain:
		return "the powertrain"
	case x.line != "":
		return "the " + x.line + " " + x.Label
	case strings.HasPrefix(x.Label, "shaft "):
		return x.Label
	}
	return "the " + x.Label
}

// ofLine is what sets the titles of the powertrain apart where it is in several
// lines.
func (x *Axis) ofLine() string {
	if x.Target == project.TargetPowertrain && x.line != "" {
		return ", " + x.line + " line"
	}
	return ""
}
