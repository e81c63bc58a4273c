package assess

import (
	"fmt"
	"strconv"
	"strings"

	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Line is one driveline, planned and read side by side. Axes has one entry
// more than Joints; shaft i runs between joint i and i+1.
type Line struct {
	Name     string
	Axes     []Axis
	Joints   []Joint
	Shafts   []Shaft
	PlanWhy  string // why nothing is planned, when nothing is
	HasPlan  bool
	HasReads bool
}

// Axis is the powertrain's, a shaft's or the pinion's centre line.
type Axis struct {
	Target  string // what a reading of it is called
	Label   string
	Planned Measure // slope
	Heading Measure // planned
	Read    Measure // slope
	Raw     Measure // slope as it was read, before any move of the powertrain
	Reading int     // index of the reading in use, -1 without one
	Basis   Basis   // Read or Proved when there is a reading
	Moved   bool
}

// Joint is a universal joint, 1 nearest the gearbox.
type Joint struct {
	Number  int
	At      Measured[r3.Vec]
	Planned Measure
	Read    Measure
	Basis   Basis
	Moved   bool
	coeff   []float64 // of Read in the slopes read, by axis
}

// Shaft is one shaft between two joints.
type Shaft struct {
	Number          int
	Length          Measure // planned, joint centre to joint centre
	MismatchPlanned Measure
	MismatchRead    Measure
	Basis           Basis
	Moved           bool
}

func (a *Assessment) line(l project.Line) {
	out := Line{Name: l.Name}
	out.Axes = []Axis{
		{Target: project.TargetPowertrain, Label: "powertrain", Reading: -1},
		{Target: l.ShaftTarget(1), Label: "shaft", Reading: -1},
		{Target: l.PinionTarget(), Label: "pinion", Reading: -1},
	}
	out.Joints = []Joint{{Number: 1}, {Number: 2}}
	out.Shafts = []Shaft{{Number: 1}}
	a.planLine(l, &out)
	a.readLine(l, &out)
	a.lineFindings(&out)
	a.Lines = append(a.Lines, out)
}

// geometry returns the planned line when the powertrain stands at pose.
func (a *Assessment) geometry(l project.Line, pose geom.Pose) (shaft.Line, error) {
	if !a.Build.Powertrain.Output.Known {
		return shaft.Line{}, fmt.Errorf("powertrain.output is not in the file yet")
	}
	if !l.Pinion.At.Known {
		return shaft.Line{}, fmt.Errorf("line.%s.pinion.at is not in the file yet", l.Name)
	}
	if !l.Pinion.Slope.Known() {
		return shaft.Line{}, fmt.Errorf("line.%s.pinion.slope is not in the file yet", l.Name)
	}
	return shaft.Line{
		In:     pose.X,
		Joints: []r3.Vec{pose.Point(a.Build.Powertrain.Output.At), l.Pinion.At.At},
		Out:    geom.Direction(geom.Angle(l.Pinion.Slope.V()), geom.Angle(l.Pinion.Heading.Or(0))),
	}, nil
}

func (a *Assessment) planLine(l project.Line, out *Line) {
	fail := func(why string) {
		out.PlanWhy = why
		for i := range out.Axes {
			out.Axes[i].Planned, out.Axes[i].Heading = missing(why), missing(why)
		}
		for i := range out.Joints {
			out.Joints[i].Planned = missing(why)
			out.Joints[i].At.Why = why
		}
		out.Shafts[0].Length, out.Shafts[0].MismatchPlanned = missing(why), missing(why)
	}
	if !a.Pose.Known {
		fail(a.Pose.Why)
		return
	}
	g, err := a.geometry(l, a.Pose.V)
	if err != nil {
		fail(err.Error())
		return
	}
	axes, err := g.Axes()
	if err != nil {
		fail(err.Error())
		return
	}
	angles, err := shaft.Angles(axes)
	if err != nil {
		fail(err.Error())
		return
	}
	out.HasPlan = true
	for i, d := range axes {
		out.Axes[i].Planned = known(geom.Slope(d).Rad(), 0)
		out.Axes[i].Heading = known(geom.Heading(d).Rad(), 0)
	}
	for i, b := range angles {
		out.Joints[i].At = Measured[r3.Vec]{V: g.Joints[i], Known: true}
		out.Joints[i].Planned = known(b.Rad(), 0)
	}
	out.Shafts[0].Length = known(r3.Norm(r3.Sub(g.Joints[1], g.Joints[0])), 0)
	out.Shafts[0].MismatchPlanned = known((angles[0] - angles[1]).Abs().Rad(), 0)
}

// lineFindings holds a line's joints and readings against the limits.
func (a *Assessment) lineFindings(l *Line) {
	id := "line." + l.Name
	for i, j := range l.Joints {
		m, basis, moved := l.judged(j.Planned, j.Read, j.Basis, j.Moved)
		jid := id + ".joint." + strconv.Itoa(j.Number)
		title := fmt.Sprintf("%s joint %d", l.Name, j.Number)

		least := Finding{ID: jid + ".min", Title: title + ", smallest angle", Basis: basis, Moved: moved}
		least.judge(m, a.Build.Limit("joint_min"), true)
		least.Advice = advise(least, map[Status]string{
			OK:    "The joint swings enough to keep its needle bearings rolling.",
			Tight: "The gauge's uncertainty reaches below the limit; read both axes again or give the joint a little more angle.",
			Over:  "The joint hardly swings, so its needles wear in one place; move one end until it works at an angle.",
		})
		most := Finding{ID: jid + ".max", Title: title + ", largest angle", Basis: basis, Moved: moved}
		most.judge(m, a.Build.Limit("joint_max"), false)
		most.Advice = advise(most, map[Status]string{
			OK:    "The joint works within its angle.",
			Tight: "The gauge's uncertainty reaches past the limit; read both axes again before the weld.",
			Over:  jointOverAdvice(i, len(l.Joints)),
		})
		a.Findings = append(a.Findings, least, most)
	}
	for _, s := range l.Shafts {
		m, basis, moved := l.judged(s.MismatchPlanned, s.MismatchRead, s.Basis, s.Moved)
		f := Finding{ID: fmt.Sprintf("%s.shaft.%d.mismatch", id, s.Number), Basis: basis, Moved: moved,
			Title: fmt.Sprintf("%s joints %d and %d, difference", l.Name, s.Number, s.Number+1)}
		f.judge(m, a.Build.Limit("mismatch"), false)
		f.Advice = advise(f, map[Status]string{
			OK:    "The two joints cancel each other's unevenness well enough.",
			Tight: "The gauge's uncertainty reaches past the limit; read again before the weld.",
			Over:  "The two joints do not cancel, so the shaft shakes twice a turn; bring the powertrain and pinion slopes nearer to each other.",
		})
		a.Findings = append(a.Findings, f)
	}
	for _, x := range l.Axes {
		a.Findings = append(a.Findings, a.axisFindings(id, x)...)
	}
}

func jointOverAdvice(i, n int) string {
	switch {
	case i == 0:
		return "Too much angle at the gearbox: bring the powertrain's slope nearer to the shaft's, by its mounts, until this joint is within its limit."
	case i == n-1:
		return "Too much angle at the axle: move the powertrain, as the placement rows show, or turn the axle housing; first make sure which way the pinion falls."
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
	return missing(plan.Why + ", and " + read.Why), Planned, false
}

func (a *Assessment) axisFindings(line string, x Axis) []Finding {
	name := x.Target
	if name == project.TargetPowertrain {
		name = line + ".powertrain"
	}
	read := Finding{ID: name + ".read", Title: "reading of the " + x.Label, Kind: quantity.Slope, Basis: x.Basis, Moved: x.Moved}
	if !x.Read.Known {
		read.unknown(x.Read.Why)
		read.Basis = Read
		read.Advice = notYet(x.Read.Why)
		return []Finding{read}
	}
	read.number(x.Read.V, x.Read.Expanded())
	read.Source = "angle gauge"
	read.Advice = advise(read, map[Status]string{OK: "There is a usable reading."})
	out := []Finding{read}
	if x.Planned.Known {
		gap := Finding{ID: name + ".agree", Title: x.Label + " slope, read against planned", Basis: x.Basis, Moved: x.Moved}
		gap.judge(known(geom.Angle(x.Read.V-x.Planned.V).Abs().Rad(), x.Read.U), a.Build.Limit("plan_gap"), false)
		gap.Advice = advise(gap, map[Status]string{
			OK:    "The reading and the model agree.",
			Tight: "The reading and the model nearly disagree; read again.",
			Over:  "The reading contradicts the model: check which end was lower, what the gauge stood on, and the points in the file.",
		})
		out = append(out, gap)
	}
	return out
}
