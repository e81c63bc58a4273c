package line

import (
	"math"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
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
	own           bool         // it begins at an output of its own, which no mount of the powertrain moves
	winds         bool         // full torque turns its axle: the differential is not held by the chassis
	hint          finding.Text // which other joints would serve, says nothing when none is known to
	twisted       bool         // a shaft's yokes stand neither in line nor square, so that left and right differ
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
	Apart   float64        // how far these are apart as slopes, rad
	Doubt   string         // asks for a third reading, "" when there is no need
	Assumes []string
	line    string // name of its line, where there are several
	// hangsOnPowertrain says that the axis goes where the powertrain goes, rides
	// that it goes where the axle goes.
	hangsOnPowertrain, rides bool
	marked                   *project.Reading // when it was measured, of one that no gauge was put on; nil for none
	markedPlan               *project.Reading // the same of its direction in plan, of one that no tape was held along
	since                    finding.Text     // where it hung at the reading and where it is planned, when those differ
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
}

// Shaft is one shaft between two joints.
type Shaft struct {
	Number          int
	Length          finding.Number // planned, joint centre to joint centre
	LengthRead      finding.Number // the same, as all that was measured says
	MismatchPlanned finding.Number
	MismatchRead    finding.Number
	Basis           finding.Basis
	Moved           bool
	Tube            Tube
	Yokes           geom.Angle // rear yoke against front yoke
	YokesGiven      bool       // by the file; in phase otherwise
}

// nameAxes says of each axis which line it is of, where there are several, and
// what it moves with.
func (l *Line) nameAxes(b *project.Build, of project.Line) {
	n := of.JointCount()
	for _, y := range yokes(&of, n) {
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
