package line

import (
	"fmt"
	"slices"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Prepared is a line with all that does not depend on where the powertrain
// stands. It is not changed once it is made, so any number of goroutines may
// ask it.
type Prepared struct {
	Input
	file   *project.Line
	base   Line // axes as they were read, speed and torque; nothing planned
	frame  frame
	typed  []typed
	names  names
	shears []finding.Finding // of the tubes, by shaft
	rated  bool              // a joint or a shaft has its maker's rating

	// What the line's largest speed allows: the angle of a joint, and the one
	// joint's angle that makes as much torsional vibration as its limit.
	operating, residual allowed
	residualSource      string
}

// allowed is an angle, rad, or why there is none.
type allowed struct {
	angle float64
	err   error
}

// Prepare works out what of a line does not depend on where the powertrain
// stands.
func Prepare(in Input, l project.Line) *Prepared {
	p := &Prepared{Input: in, file: &l}
	switch {
	case in.Build.Direct(l):
		p.base = Line{Name: l.Name, Front: l.Toward == project.TowardFront, Direct: true,
			Speed: p.directSpeed(), Torque: p.directTorque()}
		return p
	case in.Build.Powertrain.Layout == project.Transaxle:
		p.base = begun(in.Build, l)
		p.takeOff(&p.base)
	default:
		p.base = begun(in.Build, l)
		p.largestSpeed(&p.base)
		p.largestTorque(&p.base)
	}
	p.frame = frameOf(in.Build, &l)
	p.typed = p.typedOf()
	p.names, p.rated = namesOf(&p.base), rated(&l)
	p.atSpeed()
	p.shear()
	for i := range p.base.Shafts {
		read, ok := in.Readings.Lengths[l.ShaftTarget(i+1)]
		if !ok {
			read = finding.Missing("its ends were not both measured")
		}
		p.base.Shafts[i].LengthRead = read
	}
	for i := range p.base.Axes {
		p.takeReadings(&p.base.Axes[i])
		p.base.HasReads = p.base.HasReads || p.base.Axes[i].Reading >= 0 || p.base.Axes[i].marked != nil
	}
	return p
}

// atSpeed works out what the line's largest speed allows.
func (p *Prepared) atSpeed() {
	speed := p.base.Speed
	if !speed.Known {
		return
	}
	rule := p.Build.Limit("residual")
	angle := func(v geom.Angle, err error) allowed { return allowed{v.Rad(), err} }
	p.operating, p.residual = angle(shaft.OperatingAngle(speed.V)), angle(shaft.AngleFor(rule.Value, speed.V))
	p.residualSource = rule.Source + "; at the line's largest speed"
}

// begun is a line with its axes, joints and shafts, nothing worked out yet.
func begun(b *project.Build, l project.Line) Line {
	n := l.JointCount()
	out := Line{Name: l.Name, Front: l.Toward == project.TowardFront, winds: l.Suspension.Kind != project.FixedDiff,
		own: l.DrivingTarget() != project.TargetPowertrain}
	out.Axes = append(out.Axes, Axis{Target: l.DrivingTarget(), Label: drivingLabel(l), Reading: -1})
	for i := range n {
		j := Joint{Number: i + 1, Kind: l.Joint(i).OfKind()}
		out.Joints = append(out.Joints, j)
		if i+1 == n {
			break
		}
		label := "shaft"
		if n > 2 {
			label = "shaft " + strconv.Itoa(i+1)
		}
		out.Axes = append(out.Axes, Axis{Target: l.ShaftTarget(i + 1), Label: label, Reading: -1})
		out.Shafts = append(out.Shafts, Shaft{Number: i + 1, Yokes: yokes(&l, n)[i],
			YokesGiven: l.Shaft(i).Phase != "" || l.Shaft(i).YokeOffset.Known()})
	}
	out.Axes = append(out.Axes, Axis{Target: l.PinionTarget(), Label: "pinion", Reading: -1})
	out.nameAxes(b, l)
	return out
}

// drivingLabel names the axis a line begins with: the powertrain's own, or an
// output that the file places by itself, such as a transfer case's.
func drivingLabel(l project.Line) string {
	if l.DrivingTarget() == project.TargetPowertrain {
		return "powertrain"
	}
	return "output"
}

// At judges the line with the powertrain at a place.
func (p *Prepared) At(at Place) Result {
	out := p.base
	if out.Direct {
		return Result{Line: out, Findings: at.To, Plans: at.PlansTo}
	}
	out.Axes, out.Joints, out.Shafts = slices.Clone(out.Axes), slices.Clone(out.Joints), slices.Clone(out.Shafts)
	a := &judge{Prepared: p, Place: at, out: &out, Findings: at.To, Plans: at.PlansTo}
	a.plan()
	a.read()
	out.hint = a.otherArrangement
	a.angleFindings()
	if at.Angles {
		return Result{Line: out, Findings: a.Findings, Plans: a.Plans}
	}
	a.motionFindings()
	a.tubes()
	a.openedAssumes()
	if !at.Light {
		out.Assumes = a.jointsAssume()
	}
	r := Result{Findings: a.Findings, Agree: a.axesFindings(), Plans: a.Plans}
	if a.planErr == nil {
		r.Chain = a.chain
	}
	a.mech, a.aside = nil, nil
	r.Line = out
	return r
}

// MostFindings is how many findings there are at one place at most, which is how many
// plans there can be beside them too, and how many more on how reading and plan agree.
func (p *Prepared) MostFindings() (found, agree int) {
	found = 3*len(p.base.Joints) + 5*len(p.base.Shafts) + 2
	if p.rated {
		found += len(p.base.Joints) + len(p.base.Shafts)
	}
	return found, 2 * len(p.base.Axes)
}

// judge works a line out for one place of the powertrain. What a finding
// advises is asked of it later, when nothing of it changes any more.
type judge struct {
	*Prepared
	Place
	out      *Line
	chain    shaft.Chain // as planned
	planErr  error       // why there is none
	chainErr error       // why the file gives no chain, though its joints may bend too far to run
	axes     []r3.Vec    // of the chain, unit, to the driven end
	poses    poses
	opened   bool // the plan rests on something that was typed with a ±

	mech  *shaft.Mechanism  // for one chain after the other
	aside map[string]Motion // as read, with other headings

	Findings, Plans []finding.Finding // behind those of Place
}

// own are the line's findings so far.
func (a *judge) own() []finding.Finding { return a.Findings[len(a.To):] }

// name is what a finding goes by, and the one by the plan beside it.
type name struct{ id, title, planID, planTitle string }

func nameOf(id, title string) name {
	return name{id, title, id + ".planned", title + ", as planned"}
}

// names are what the findings of a line go by.
type names struct {
	joints []struct{ least, most, speed, torque name }
	shafts []struct{ mismatch, left, drive, coast, whirl, shear, torque name }
	axes   []struct{ read, agree, above name }

	equivalent, residual name
}

func namesOf(l *Line) names {
	n := names{
		equivalent: nameOf(finding.Equivalent(l.Name), l.Name+" line, what its joints leave over as one joint's angle"),
		residual:   nameOf(finding.Residual(l.Name), l.Name+" line, torsional vibration at the axle"),
	}
	for _, j := range l.Joints {
		what := l.Name + " joint " + strconv.Itoa(j.Number)
		n.joints = append(n.joints, struct{ least, most, speed, torque name }{
			least:  nameOf(finding.JointMin(l.Name, j.Number), what+", smallest angle"),
			most:   nameOf(finding.JointMax(l.Name, j.Number), what+", largest angle"),
			speed:  nameOf(finding.JointSpeed(l.Name, j.Number), what+", angle at its largest speed"),
			torque: nameOf(finding.JointTorque(l.Name, j.Number), what+", torque against its rating (screening)"),
		})
	}
	for _, s := range l.Shafts {
		what, pair := fmt.Sprintf("%s shaft %d", l.Name, s.Number), fmt.Sprintf("%s joints %d and %d", l.Name, s.Number, s.Number+1)
		n.shafts = append(n.shafts, struct{ mismatch, left, drive, coast, whirl, shear, torque name }{
			mismatch: nameOf(finding.ShaftMismatch(l.Name, s.Number), pair+", difference"),
			left:     nameOf(finding.ShaftMismatch(l.Name, s.Number), pair+", what they leave over as one joint's angle"),
			drive:    nameOf(finding.ShaftDrive(l.Name, s.Number), what+", torsional vibration in drive"),
			coast:    nameOf(finding.ShaftCoast(l.Name, s.Number), what+", torsional vibration in coast"),
			whirl:    nameOf(finding.ShaftWhirl(l.Name, s.Number), what+", largest speed against whirl (screening)"),
			shear:    nameOf(finding.ShaftShear(l.Name, s.Number), what+", shear of its tube (screening)"),
			torque:   nameOf(finding.ShaftTorque(l.Name, s.Number), what+", torque against its rating (screening)"),
		})
	}
	for i := range l.Axes {
		x := &l.Axes[i]
		id := axisName("line."+l.Name, x)
		n.axes = append(n.axes, struct{ read, agree, above name }{
			read:  nameOf(id+".read", "reading of "+x.the()+x.ofLine()),
			agree: nameOf(id+".agree", x.titled()+" slope, read against planned"),
			above: nameOf(id+".agree.above", x.titled()+" from above, read against planned"),
		})
	}
	return n
}
