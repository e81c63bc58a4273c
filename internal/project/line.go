package project

import (
	"errors"
	"fmt"
	"strconv"

	"fitup/internal/geom"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Line is one driveline, from the gearbox or transfer case to an axle. With
// nothing said about its joints it is one shaft between two Cardan joints.
type Line struct {
	Name        string              `toml:"*"`
	Toward      Way                 `toml:"toward" doc:"which way it runs: rear, or front for a front axle"`
	Output      Point               `toml:"output" doc:"centre of its first joint, powertrain's own frame; the powertrain's output when left out"`
	OutputSlope quantity.SlopeQ     `toml:"output_slope" doc:"slope of its output against the crankshaft, when they are not parallel" how:"Gauge on the output flange and on the crankshaft line: the difference." from:"the crankshaft line"`
	OutSpacer   quantity.LengthQ    `toml:"output_spacer" doc:"thickness of the spacer between the output's flange and the shaft; output is its joint without it" min:"0" how:"Caliper over the spacer." from:"the flange"`
	First       Axis                `toml:"first" doc:"the axis a line begins with, when it does not hang on the powertrain"`
	Joints      []LineJoint         `toml:"joint" doc:"its joints, from the gearbox on"`
	Shafts      []LineShaft         `toml:"shaft" doc:"its shafts, from the gearbox on"`
	Pinion      Pinion              `toml:"pinion" doc:"the end of the line at the axle"`
	Ratio       quantity.NumberQ    `toml:"ratio" doc:"axle ratio" min:"0" how:"Turns of the pinion for one turn of both wheels, or count the teeth." from:"the pinion"`
	Reduction   quantity.NumberQ    `toml:"reduction" doc:"lowest reduction between gearbox and this line, such as a transfer case's; 1 when left out" min:"0" how:"The maker's figure for low range." from:"high range, which is 1"`
	ReductionIn ReductionIn         `toml:"reduction_in" doc:"where that reduction sits: gearbox, hung on the powertrain, or own case; gearbox when left out on a line that begins at the powertrain" how:"Look what the case is bolted to."`
	Share       quantity.NumberQ    `toml:"share" doc:"largest share of the torque that can go this way; 1 when left out" min:"0" how:"The centre differential's figure; 1 where it can lock." from:"all the torque"`
	Speed       quantity.SpeedQ     `toml:"speed" doc:"largest speed of the line, when it is not to be worked out" min:"0" how:"Only where it is not to be worked out from engine, gears and tyres." from:"standstill"`
	TopSpeed    quantity.RoadSpeedQ `toml:"top_speed" doc:"the fastest it is driven with this line turning, where that is less than the vehicle's: a line that is engaged part of the time" min:"0" how:"The fastest you drive with this line engaged." from:"the road"`
	Suspension  Suspension          `toml:"suspension" doc:"how the axle at its end moves"`
	// FirstRead says that there is a reading of the axis the line begins with,
	// so that it does not hang on the powertrain.
	FirstRead bool `toml:"-"`
	// Turned is how far its output is turned with the case that it is of, rad about the
	// powertrain's own X.
	Turned float64 `toml:"-"`
}

// Axis is the direction of a shaft that is given by itself, not by the model.
type Axis struct {
	Slope   quantity.SlopeQ   `toml:"slope" doc:"slope of the driving axis, for a line given by points" how:"Gauge along the driving shaft, or square on its flange." from:"level, on its wheels"`
	Heading quantity.HeadingQ `toml:"heading" doc:"plan angle of the driving axis; 0 deg when left out" how:"Plumb both ends of the shaft to the floor." from:"the vehicle's centre line"`
}

// LineJoint is one joint of a line, in order from the gearbox.
type LineJoint struct {
	Kind     JointKind        `toml:"kind" doc:"cardan, double cardan or constant velocity"`
	At       Point            `toml:"at" doc:"its centre; for the first and last joint only when the line is given by points"`
	Rating   quantity.TorqueQ `toml:"rating" doc:"torque its maker allows" min:"0" how:"The maker's figure for the joint's size." from:"no load"`
	RunAngle quantity.AngleQ  `toml:"run_angle" doc:"largest angle its maker allows it to run at, at ride height" min:"0" how:"The maker's figure for running all day." from:"the straight joint"`
	MaxAngle quantity.AngleQ  `toml:"max_angle" doc:"largest angle before it binds, as its maker gives it: for the travel, no leave to run there" min:"0" how:"The maker's figure, or bend it until it touches." from:"the straight joint"`
	Swing    quantity.LengthQ `toml:"swing" doc:"diameter that its yokes sweep, for the room round it" min:"0" how:"Turn it once and measure the widest place." from:"its own centre"`
}

// OfKind is the joint's kind: a Cardan joint where the file does not say.
func (j LineJoint) OfKind() JointKind {
	if j.Kind == "" {
		return Cardan
	}
	return j.Kind
}

// LineShaft is one shaft of a line, in order from the gearbox.
type LineShaft struct {
	Phase      Phase             `toml:"phase" doc:"its two yokes: in phase, or crossed" how:"Look along the shaft: the ears in one plane, or a quarter turn apart."`
	YokeOffset quantity.AngleQ   `toml:"yoke_offset" doc:"rear yoke against front yoke, right-hand about the shaft looking along it from the gearbox" how:"Gauge on the ears of either end, looking from the gearbox." from:"the front yoke"`
	Outside    quantity.LengthQ  `toml:"outside" doc:"outside diameter of its tube" min:"0" how:"Caliper over the tube, paint off." from:"outside to outside"`
	Wall       quantity.LengthQ  `toml:"wall" doc:"wall of its tube" min:"0" how:"Caliper on a cut end, or an ultrasonic gauge." from:"outside to inside"`
	Material   TubeMaterial      `toml:"material" doc:"steel or aluminium"`
	Yield      quantity.StressQ  `toml:"yield" doc:"yield strength of its tube, when it is known" min:"0" how:"The maker's certificate." from:"no load"`
	E          quantity.StressQ  `toml:"modulus" doc:"modulus of elasticity, when it is not the usual one" min:"0" how:"A handbook figure for that alloy." from:"no load"`
	Density    quantity.DensityQ `toml:"density" doc:"density, when it is not the usual one" min:"0" how:"A handbook figure for that alloy." from:"nothing"`
	Rating     quantity.TorqueQ  `toml:"rating" doc:"torque its maker allows" min:"0" how:"The maker's figure for the shaft." from:"no load"`
	SlipClosed quantity.LengthQ  `toml:"slip_closed" doc:"joint to joint with the slip joint home" min:"0" how:"Push the slip joint home and tape between joint centres." from:"joint centre to joint centre"`
	SlipOpen   quantity.LengthQ  `toml:"slip_open" doc:"joint to joint at the least engagement allowed" min:"0" how:"Draw it out to the least engagement and tape between joint centres." from:"joint centre to joint centre"`
}

// Pinion is the driven end of a line.
type Pinion struct {
	At      Point             `toml:"at" doc:"centre of the joint at the pinion" need:"yes"`
	Spacer  quantity.LengthQ  `toml:"spacer" doc:"thickness of the spacer between the pinion's flange and the shaft; at is its joint without it" min:"0" how:"Caliper over the spacer." from:"the flange"`
	Slope   quantity.SlopeQ   `toml:"slope" doc:"slope of the pinion axis: 4.8 deg down to the rear" how:"Gauge on the pinion flange, or on a machined face square to it." from:"level, vehicle at ride height on its wheels" need:"yes"`
	Heading quantity.HeadingQ `toml:"heading" doc:"plan angle of the pinion axis; 0 deg when left out" how:"Plumb the joint centre and a point along the pinion to the floor." from:"the vehicle's centre line"`
	Marks   []AxleMark        `toml:"mark" doc:"a point of the axle that tape and level can reach where it stands; what is measured to it says where the axle is"`
}

// Way is the way a line runs, as the file spells it.
type Way string

// The words the file uses.
const (
	TowardFront Way = "front"
	TowardRear  Way = "rear"
)

// Words lists the ways a line can run.
func (Way) Words() []string { return []string{string(TowardFront), string(TowardRear)} }

// JointKind is a kind of joint, as the file spells it.
type JointKind string

// Phase is how a shaft's yokes stand, as the file spells it.
type Phase string

// TubeMaterial is what a tube is made of, as the file spells it.
type TubeMaterial string

// The words the file uses.
const (
	Cardan           JointKind = "cardan"
	DoubleCardan     JointKind = "double cardan"
	ConstantVelocity JointKind = "constant velocity"

	InPhase Phase = "in phase"
	Crossed Phase = "crossed"

	SteelTube     TubeMaterial = "steel"
	AluminiumTube TubeMaterial = "aluminium"
)

// Words lists the kinds of joint.
func (JointKind) Words() []string {
	return []string{string(Cardan), string(DoubleCardan), string(ConstantVelocity)}
}

// Words lists how yokes can stand.
func (Phase) Words() []string { return []string{string(InPhase), string(Crossed)} }

// Words lists what a tube can be made of.
func (TubeMaterial) Words() []string { return []string{string(SteelTube), string(AluminiumTube)} }

// ReductionIn is where a line's reduction sits, as the file spells it.
type ReductionIn string

// A case hung on the gearbox turns the powertrain by what it multiplies; one
// that stands by itself takes that on its own mounts.
const (
	InGearbox ReductionIn = "gearbox"
	InOwnCase ReductionIn = "own case"
)

// Words lists where a reduction can sit.
func (ReductionIn) Words() []string { return []string{string(InGearbox), string(InOwnCase)} }

// OnPowertrain returns what of the line's reduction turns the powertrain on its
// mounts: all of it where it hangs on the gearbox, 1 where it stands by itself.
// False when the file does not say which.
func (l *Line) OnPowertrain() (float64, bool) {
	r := l.Reduction.Or(1)
	switch {
	case r == 1 || l.ReductionIn == InOwnCase:
		return 1, true
	case l.ReductionIn == InGearbox, !l.First.Slope.Known():
		return r, true // what lies ahead of a joint of the powertrain hangs on it
	}
	return 0, false
}

// Turns is which way an engine turns, as the file spells it.
type Turns string

// Seen from the front, a standard engine turns clockwise (SAE J824, from
// memory).
const (
	StandardTurns Turns = "standard"
	OppositeTurns Turns = "opposite"
)

// Words lists the ways an engine can turn.
func (Turns) Words() []string { return []string{string(StandardTurns), string(OppositeTurns)} }

// PeakTorque returns the highest torque into the gearbox (N·mm): the engine's,
// times what a converter makes of it.
func (p Powertrain) PeakTorque() float64 { return p.Torque.V() * max(1, p.Converter.Or(1)) }

// GearRatios returns the gear ratios, first to top. It fails where there are
// none, where one is not known, and where they do not fall: then a point was
// taken for a comma, or a gear is missing from its place.
func (p Powertrain) GearRatios() ([]float64, error) {
	if len(p.Gears) == 0 {
		return nil, errors.New("powertrain.gears is not in the file yet")
	}
	out := make([]float64, len(p.Gears))
	for i, g := range p.Gears {
		v, ok := g.Get()
		if !ok {
			return nil, fmt.Errorf("powertrain.gears[%d] is not known yet", i)
		}
		if i > 0 && v >= out[i-1] {
			return nil, fmt.Errorf("powertrain.gears do not fall from first to top: gear %d is %g and gear %d is %g; a decimal is written with a point, as 4.2, and a comma begins the next gear", i, out[i-1], i+1, v)
		}
		out[i] = v
	}
	return out, nil
}

// JointCount returns how many joints the line has: those listed, or two.
func (l *Line) JointCount() int {
	if len(l.Joints) > 0 {
		return len(l.Joints)
	}
	return max(2, len(l.Shafts)+1)
}

// Joint returns what the file says about joint i (0 is nearest the gearbox).
func (l Line) Joint(i int) LineJoint {
	if i < len(l.Joints) {
		return l.Joints[i]
	}
	return LineJoint{}
}

// Shaft returns what the file says about shaft i (0 is nearest the gearbox).
func (l Line) Shaft(i int) LineShaft {
	if i < len(l.Shafts) {
		return l.Shafts[i]
	}
	return LineShaft{}
}

// Ahead turns a rearward axis of the line into one that points from its driving end to its
// driven one, and back.
func (l *Line) Ahead(rearward r3.Vec) r3.Vec {
	if l.Toward == TowardFront {
		return r3.Scale(-1, rearward)
	}
	return rearward
}

// OutputDir is the rearward axis that the line begins with on the powertrain, whose own
// frame it is in, a unit vector.
func (l *Line) OutputDir() r3.Vec { return l.OutputDirAt(l.OutputSlope.Or(0)) }

// OutputDirAt is that with another slope, rad, against the crankshaft.
func (l *Line) OutputDirAt(slope float64) r3.Vec {
	return Turning{By: l.Turned}.Pose().Dir(geom.Direction(geom.Angle(slope), 0))
}

// BehindSpacer is where the first joint is that would be at a place without the spacer
// ahead of it, by the rearward axis there, a unit vector; in the frame of both, mm.
func (l *Line) BehindSpacer(at, rearward r3.Vec) r3.Vec {
	return r3.Add(at, r3.Scale(l.OutSpacer.Or(0), l.Ahead(rearward)))
}

// BeforeSpacer is the same of the last joint and the spacer between it and the pinion.
func (l *Line) BeforeSpacer(at, rearward r3.Vec) r3.Vec {
	return r3.Sub(at, r3.Scale(l.Pinion.Spacer.Or(0), l.Ahead(rearward)))
}

// OutputOf is the output that a line begins at where it begins at the powertrain, own frame:
// its own, or else the powertrain's.
func (b *Build) OutputOf(l *Line) Point {
	if l.Output.Known {
		return l.Output
	}
	return b.Powertrain.Output
}

// DrivingTarget is the reading target for the axis the line begins with: the
// powertrain's, or the line's own where the file gives its direction or a
// reading of it.
func (l *Line) DrivingTarget() string {
	if l.First.Slope.Known() || l.FirstRead {
		return l.FirstTarget()
	}
	return TargetPowertrain
}

// FirstTarget is the reading target for an output that does not hang on the
// powertrain.
func (l *Line) FirstTarget() string { return "line." + l.Name + ".first" }

// ShaftTarget is the reading target for shaft n (1 is nearest the gearbox).
func (l *Line) ShaftTarget(n int) string { return "line." + l.Name + ".shaft." + strconv.Itoa(n) }

// PinionTarget is the reading target for the pinion.
func (l *Line) PinionTarget() string { return "line." + l.Name + ".pinion" }
