package line

import (
	"fmt"
	"math"
	"strconv"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Line is one driveline, planned and read side by side. Axes has one entry
// more than Joints; shaft i runs between joint i and i+1.
type Line struct {
	Name   string
	Front  bool // it runs to a front axle
	Direct bool // half shafts straight from the powertrain: no axes, joints or shafts
	Axes   []Axis
	Joints []Joint
	Shafts []Shaft
	Speed  Rate // largest speed of the line, rad/s
	// ByRedline and ByRoad are the two speeds that Speed is the lower of.
	ByRedline, ByRoad Rate
	Torque            Rate // largest torque into the line, N·mm
	Planned           Motion
	Read              Motion
	Assumes           []string // what the joint angles of the order rest on
	PlanWhy           string   // why nothing is planned, when nothing is
	HasPlan           bool
	HasReads          bool

	torqueAssumes []string
	own           bool              // it begins at an output of its own, which no mount of the powertrain moves
	winds         bool              // full torque turns its axle: the differential is not held by the chassis
	hint          string            // which other joints would serve, "" when none is known to
	twisted       bool              // a shaft's yokes stand neither in line nor square, so that left and right differ
	aside         map[string]Motion // as read, with other headings; only while it is judged
}

// Rate is a measure with where it comes from in words.
type Rate struct {
	finding.Number
	From string
}

// Axis is the powertrain's, a shaft's or the pinion's centre line.
type Axis struct {
	Target  string // what a reading of it is called
	Label   string
	Planned finding.Number // slope
	Heading finding.Number // planned
	Read    finding.Number // slope
	Raw     finding.Number // slope as it was read, before any move of the powertrain
	Plan    finding.Number // heading, as measured by tape
	Reading int            // index of the last reading in use, -1 without one
	Count   int            // how many readings it rests on
	Set     []int          // those readings, by index
	Basis   finding.Basis  // Read or Proved when there is a reading, Planned when it was carried along
	Moved   bool           // the powertrain stands elsewhere since
	Hung    bool           // it was read with the axle hanging
	Clash   bool           // its readings cannot all be true
	Taped   []int          // the tape readings that Plan rests on, by index
	Parted  bool           // those cannot all be true
	Doubt   string         // asks for a third reading, "" when there is no need
	Since   string         // where it hung at the reading and where it is planned, when those differ
	Assumes []string
	line    string // name of its line, where there are several
	// hangsOnPowertrain says that the axis goes where the powertrain goes, rides
	// that it goes where the axle goes.
	hangsOnPowertrain, rides bool
	lin                      finding.Linear
	plan                     finding.Linear
}

// Joint is one joint of a line, 1 nearest the gearbox.
type Joint struct {
	Number  int
	Kind    project.JointKind
	At      finding.Maybe[r3.Vec]
	Planned finding.Number
	Read    finding.Number
	Basis   finding.Basis
	Moved   bool
	Load    JointLoad
	lin     finding.Linear
}

// Shaft is one shaft between two joints.
type Shaft struct {
	Number          int
	Length          finding.Number // planned, joint centre to joint centre
	MismatchPlanned finding.Number
	MismatchRead    finding.Number
	Basis           finding.Basis
	Moved           bool
	Tube            Tube
	Yokes           geom.Angle // rear yoke against front yoke
	YokesGiven      bool       // by the file; in phase otherwise
}

// Judge works a line out and holds it against its limits.
func Judge(in Input, l project.Line) Result {
	a := &judge{Input: in}
	if a.Build.Direct(l) {
		return Result{Line: a.directLine(l)}
	}
	out := begun(a.Build, l)
	if a.Build.Powertrain.Layout == project.Transaxle {
		a.takeOff(l, &out)
	} else {
		a.speeds(l, &out)
	}
	chain, err := a.planLine(l, &out)
	a.readLine(l, &out)
	out.hint = a.otherArrangement(l, &out, chain, err)
	a.angleFindings(l, &out)
	a.motionFindings(l, &out, chain, err)
	a.tubes(l, &out)
	if !a.Light {
		out.Assumes = a.jointsAssume(&out)
	}
	out.aside = nil
	if err != nil {
		chain = shaft.Chain{} // says that nothing is planned
	}
	return Result{Line: out, Findings: a.Findings, Agree: a.axesFindings(&out), Plans: a.Plans, Chain: chain}
}

// directLine is a line of half shafts that leave the powertrain for the wheels:
// it has no joint, shaft or pinion to judge.
func (a *judge) directLine(l project.Line) Line {
	return Line{Name: l.Name, Front: l.Toward == project.TowardFront, Direct: true,
		Speed: a.directSpeed(l), Torque: a.directTorque(l)}
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
		out.Shafts = append(out.Shafts, Shaft{Number: i + 1, Yokes: yokes(l, n)[i],
			YokesGiven: l.Shaft(i).Phase != "" || l.Shaft(i).YokeOffset.Known()})
	}
	out.Axes = append(out.Axes, Axis{Target: l.PinionTarget(), Label: "pinion", Reading: -1})
	out.nameAxes(b, l)
	return out
}

// nameAxes says of each axis which line it is of, where there are several, and
// what it moves with.
func (l *Line) nameAxes(b *project.Build, of project.Line) {
	n := of.JointCount()
	for _, y := range yokes(of, n) {
		l.twisted = l.twisted || math.Abs(math.Sin(2*y.Rad())) > 1e-9
	}
	for i := range l.Axes {
		x := &l.Axes[i]
		if len(b.Lines) > 1 {
			x.line = of.Name
		}
		x.hangsOnPowertrain = i < min(2, n) && of.DrivingTarget() == project.TargetPowertrain
		x.rides = i >= n-1 && of.Suspension.Kind != project.FixedDiff
	}
}

// drivingLabel names the axis a line begins with: the powertrain's own, or an
// output that the file places by itself, such as a transfer case's.
func drivingLabel(l project.Line) string {
	if l.DrivingTarget() == project.TargetPowertrain {
		return "powertrain"
	}
	return "output"
}

var shaftKinds = map[project.JointKind]shaft.Kind{
	project.Cardan: shaft.Cardan, project.DoubleCardan: shaft.DoubleCardan, project.ConstantVelocity: shaft.ConstantVelocity,
}

// ahead turns a rearward axis into one that points from the driving to the
// driven end.
func ahead(l project.Line, rearward r3.Vec) r3.Vec {
	if l.Toward == project.TowardFront {
		return r3.Scale(-1, rearward)
	}
	return rearward
}

// Chain returns the line as the file has it when the powertrain stands at
// pose, from the model or, where the line gives its own driving axis, from
// points.
func Chain(b *project.Build, l project.Line, pose finding.Maybe[geom.Pose]) (shaft.Chain, error) {
	n := l.JointCount()
	if b.Hung(l) {
		return shaft.Chain{}, fmt.Errorf("the differential hangs on the powertrain, and a propshaft to one that moves with it is not worked out yet")
	}
	c := shaft.Chain{Joints: make([]shaft.Joint, n), Yokes: yokes(l, n)}
	for i := range c.Joints {
		c.Joints[i] = shaft.Joint{At: l.Joint(i).At.At, Kind: shaftKinds[l.Joint(i).OfKind()]}
		if i > 0 && i+1 < n && !l.Joint(i).At.Known {
			return c, fmt.Errorf("line.%s.joint[%d].at is not in the file yet", l.Name, i)
		}
	}
	if err := driving(b, l, pose, &c); err != nil {
		return c, err
	}
	switch {
	case l.Pinion.At.Known:
		c.Joints[n-1].At = l.Pinion.At.At
	case !l.Joint(n - 1).At.Known:
		return c, fmt.Errorf("line.%s.pinion.at is not in the file yet", l.Name)
	}
	if !l.Pinion.Slope.Known() {
		return c, fmt.Errorf("line.%s.pinion.slope is not in the file yet", l.Name)
	}
	c.Out = ahead(l, geom.Direction(geom.Angle(l.Pinion.Slope.V()), geom.Angle(l.Pinion.Heading.Or(0))))
	return c, nil
}

// driving fills in the driving axis and the first joint.
func driving(b *project.Build, l project.Line, pose finding.Maybe[geom.Pose], c *shaft.Chain) error {
	if l.DrivingTarget() != project.TargetPowertrain {
		s, ok := l.First.Slope.Get()
		if !ok {
			return fmt.Errorf("line.%s.first.slope is not in the file yet", l.Name)
		}
		if !l.Joint(0).At.Known {
			return fmt.Errorf("line.%s.joint[0].at is not in the file yet", l.Name)
		}
		c.In = ahead(l, geom.Direction(geom.Angle(s), geom.Angle(l.First.Heading.Or(0))))
		return nil
	}
	if !pose.Known {
		return fmt.Errorf("%s", pose.Why)
	}
	output := l.Output
	if !output.Known {
		output = b.Powertrain.Output
	}
	if !output.Known {
		return fmt.Errorf("powertrain.output is not in the file yet")
	}
	c.In = ahead(l, pose.V.Dir(geom.Direction(geom.Angle(l.OutputSlope.Or(0)), 0)))
	c.Joints[0].At = pose.V.Point(output.At)
	return nil
}

// yokes returns the yoke offset of each shaft between two joints.
func yokes(l project.Line, joints int) []geom.Angle {
	out := make([]geom.Angle, joints-1)
	for i := range out {
		s := l.Shaft(i)
		if s.Phase == project.Crossed {
			out[i] = shaft.Crossed
		}
		if v, ok := s.YokeOffset.Get(); ok {
			out[i] = geom.Angle(v)
		}
	}
	return out
}

func (a *judge) planLine(l project.Line, out *Line) (shaft.Chain, error) {
	chain, err := Chain(a.Build, l, a.Pose)
	var axes []r3.Vec
	var angles []geom.Angle
	if err == nil {
		axes, err = chain.Line().Axes()
	}
	if err == nil {
		angles, err = shaft.Angles(axes)
	}
	if err != nil {
		out.noPlan(err.Error())
		out.typedSlopes(l)
		return chain, err
	}
	out.HasPlan = true
	for i, d := range axes {
		d = ahead(l, d) // an axis is shown as it falls to the rear
		out.Axes[i].Planned = finding.Known(geom.Slope(d).Rad(), 0)
		out.Axes[i].Heading = finding.Known(geom.Heading(d).Rad(), 0)
	}
	for i, b := range angles {
		out.Joints[i].At = finding.Maybe[r3.Vec]{V: chain.Joints[i].At, Known: true}
		out.Joints[i].Planned = finding.Known(b.Rad(), 0)
	}
	for i := range out.Shafts {
		out.Shafts[i].Length = finding.Known(r3.Norm(r3.Sub(chain.Joints[i+1].At, chain.Joints[i].At)), 0)
		out.Shafts[i].MismatchPlanned = finding.Known((angles[i] - angles[i+1]).Abs().Rad(), 0)
	}
	return chain, nil
}

// typedSlopes are planned by themselves, without the points that a plan of the
// whole line takes: a reading of the same axis is held against them.
func (l *Line) typedSlopes(of project.Line) {
	if v, ok := of.First.Slope.Get(); ok && of.DrivingTarget() != project.TargetPowertrain {
		l.Axes[0].Planned = finding.Known(v, 0)
	}
	if v, ok := of.Pinion.Slope.Get(); ok && len(l.Axes) > 1 {
		l.Axes[len(l.Axes)-1].Planned = finding.Known(v, 0)
	}
}

func (l *Line) noPlan(why string) {
	l.PlanWhy = why
	for i := range l.Axes {
		l.Axes[i].Planned, l.Axes[i].Heading = finding.Missing(why), finding.Missing(why)
	}
	for i := range l.Joints {
		l.Joints[i].Planned = finding.Missing(why)
		l.Joints[i].At.Why = why
	}
	for i := range l.Shafts {
		l.Shafts[i].Length, l.Shafts[i].MismatchPlanned = finding.Missing(why), finding.Missing(why)
	}
}
