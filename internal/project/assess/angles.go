package assess

import (
	"fmt"
	"strconv"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// angleFindings holds a line's joint angles against the limits.
func (a *Assessment) angleFindings(l project.Line, out *Line) {
	for i := range out.Joints {
		a.jointFindings(l, out, i)
	}
}

func (a *Assessment) jointFindings(l project.Line, out *Line, i int) {
	j := out.Joints[i]
	m, basis, moved := out.judged(j.Planned, j.Read, j.Basis, j.Moved)
	id := "line." + l.Name + ".joint." + strconv.Itoa(j.Number)
	title := fmt.Sprintf("%s joint %d", l.Name, j.Number)

	if !out.carried(i) && j.Kind == project.Cardan {
		least := Finding{ID: id + ".min", Title: title + ", smallest angle", Basis: basis, Moved: moved}
		least.judge(m, a.Build.Limit("joint_min"), true)
		least.Advice = advise(least, map[Status]string{
			OK:    "The joint works at enough angle to keep its needle bearings rolling.",
			Tight: "The gauge's uncertainty reaches below the limit; read both axes again or give the joint a little more angle.",
			Over:  "The joint works at too little angle: its needles do not roll and dent the trunnion (brinelling); move one end until it works at an angle.",
		})
		a.Findings = append(a.Findings, least)
	}
	most := Finding{ID: id + ".max", Title: title + ", largest angle", Basis: basis, Moved: moved}
	most.judge(m, a.runningLimit(l, out, i), false)
	most.Advice = advise(most, map[Status]string{
		OK:    "The joint works within its angle." + out.loneWord(i),
		Tight: "The gauge's uncertainty reaches past the limit; read both axes again before the weld." + out.loneWord(i),
		Over:  out.jointOverAdvice(i),
	})
	a.Findings = append(a.Findings, most)
}

func (l *Line) jointOverAdvice(i int) string {
	if lone, ok := l.lone(); ok && i == lone {
		return l.loneRule(lone) + l.hint
	}
	switch {
	case i == 0:
		return "Too much angle at the gearbox: bring the powertrain's slope nearer to the shaft's, by its mounts, until this joint is within its limit." + l.hint
	case i == len(l.Joints)-1:
		return "Too much angle at the axle: move the powertrain, as the placement rows show, or turn the axle housing; first make sure which way the pinion falls." + l.hint
	}
	return "Too much angle at this joint: move the carrier bearing or the powertrain."
}

// advise picks the sentence for a finding's status; what is missing is its
// own advice.
func advise(f Finding, by map[Status]string) string {
	if f.Status == NotKnown {
		return notYet(f.Missing)
	}
	s := by[f.Status]
	if f.Moved {
		s += " The powertrain has moved since it was read; read again to be sure."
	}
	return s
}

// notYet is the advice on a finding that cannot be judged.
func notYet(why string) string {
	if !strings.HasSuffix(why, "?") {
		why += "."
	}
	return "Cannot be judged yet: " + why
}

// judged picks the number a verdict rests on: the reading where there is one,
// the plan where nothing was read. A reading that cannot be used hides the
// plan, because somebody measured and the measurement is not understood yet.
func (l *Line) judged(plan, read Measure, basis Basis, moved bool) (Measure, Basis, bool) {
	switch {
	case read.Known:
		return read, basis, moved
	case read.Unusable:
		return read, Read, false
	case plan.Known:
		return plan, Planned, false
	case l.HasReads:
		return read, Read, false
	}
	return missing(read.Why + "; gauge readings alone are enough, or for a plan: " + plan.Why), Planned, false
}

// the is the axis's label as a sentence has it.
func (x Axis) the() string {
	if strings.HasPrefix(x.Label, "shaft ") {
		return x.Label
	}
	return "the " + x.Label
}

// axesFindings says for each axis whether it was read, and whether the reading
// and the model agree.
func (a *Assessment) axesFindings(l *Line) {
	for _, x := range l.Axes {
		a.axisFindings("line."+l.Name, x)
	}
}

func (a *Assessment) axisFindings(line string, x Axis) {
	name := x.Target
	if name == project.TargetPowertrain {
		name = line + ".powertrain"
	}
	read := Finding{ID: name + ".read", Title: "reading of " + x.the(), Kind: quantity.Slope, Basis: x.Basis, Moved: x.Moved}
	if !x.Read.Known {
		read.unknown(x.Read.Why)
		read.Basis = Read
		read.Advice = notYet(x.Read.Why)
		a.Findings = append(a.Findings, read)
		return
	}
	read.number(x.Read.V, x.Read.Expanded())
	read.Source = "angle gauge"
	read.Advice = advise(read, map[Status]string{OK: "There is a usable reading."})
	a.Findings = append(a.Findings, read)
	if !x.Planned.Known {
		return
	}
	gap := Finding{ID: name + ".agree", Title: x.Label + " slope, read against planned", Basis: x.Basis, Moved: x.Moved}
	gap.judge(known(geom.Angle(x.Read.V-x.Planned.V).Abs().Rad(), x.Read.U), a.Build.Limit("plan_gap"), false)
	gap.Advice = advise(gap, map[Status]string{
		OK:    "The reading and the model agree.",
		Tight: "The reading and the model nearly disagree; read again.",
		Over:  "The reading contradicts the model: check which end was lower, what the gauge stood on, whether the vehicle stood level, and the points in the file.",
	})
	a.Findings = append(a.Findings, gap)
}
