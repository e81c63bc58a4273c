package assess

import (
	"fitup/internal/assess/finding"
	"fitup/internal/assess/mount"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
)

// To the mount trade: the pose, the tyres' size, and what a line's joint angles are
// at another pose. From it: the loads for the brackets, and the places where the
// powertrain can stand for all that moves or has to stay clear.

// The powertrain on its mounts goes by the same names here.
type (
	// Statics are the loads on the mounts.
	Statics = mount.Statics
	// MountLoads is what one mount carries.
	MountLoads = mount.MountLoads
	// LoadCase is one thing the mounts have to carry.
	LoadCase = mount.LoadCase
	// DriveTorque is the torque that turns the powertrain on its mounts.
	DriveTorque = mount.DriveTorque
	// Isolators is the powertrain on its rubber.
	Isolators = mount.Isolators
	// IsolatorRates are the spring rates of a mount and where they come from.
	IsolatorRates = mount.IsolatorRates
	// LoadedLine is a line with the powertrain's weight on its mounts.
	LoadedLine = mount.LoadedLine
	// OnMounts is how the powertrain shakes on its mounts.
	OnMounts = mount.Shaking
	// SwingMode is one way the powertrain swings by itself.
	SwingMode = mount.SwingMode
	// OrderPassed is how much of the engine's shaking at one speed reaches the frame.
	OrderPassed = mount.OrderPassed
	// RideLevel is what the swap does to an axle.
	RideLevel = mount.RideLevel
)

// standOnMounts works out the loads on the mounts and where the powertrain
// stands on them.
func (a *Assessment) standOnMounts() {
	in := mount.Input{Pose: a.Pose, Carried: a.asks(OfLoads), Line: a.aim.line, Mount: a.aim.mount, Together: a.aim.together}
	if a.asks(OfLines) {
		in.Angles = a.anglesAt
	}
	a.mounts = a.ready.mounts.At(in)
	a.Statics, a.Isolators = a.mounts.Statics, a.mounts.Isolators
	a.take(finding.MountTrade, a.mounts.Findings)
}

// roundTyres is the largest circumference of the driven tyres, mm.
func roundTyres(b *project.Build) Number {
	t, _, err := b.Vehicle.Wheel()
	if err != nil {
		return finding.Missing(err.Error())
	}
	round, _, err := t.Circumferences()
	if err != nil {
		return finding.Missing(err.Error())
	}
	return finding.Exact(round)
}

// anglesAt are the joint angles of a line with the powertrain at a pose.
func (a *Assessment) anglesAt(l project.Line, pose geom.Pose) ([]geom.Angle, error) {
	chain, err := a.chain(l, finding.Maybe[geom.Pose]{V: pose, Known: true})
	if err != nil {
		return nil, err
	}
	axes, err := chain.Line().Axes()
	if err != nil {
		return nil, err
	}
	return shaft.Angles(axes)
}

// sunkLines holds the lines' verdicts with the powertrain's weight on its
// mounts.
func (a *Assessment) sunkLines() {
	a.openLoaded()
	var hung []mount.HungLine
	for i := range a.Lines {
		l := &a.Lines[i]
		if !l.HasPlan || a.Build.Lines[i].First.Slope.Known() {
			continue
		}
		h := mount.HungLine{Name: l.Name, WasRead: l.WasRead()}
		for _, j := range l.Joints {
			h.Read = append(h.Read, j.Read.Known)
		}
		for _, s := range l.Shafts {
			h.Mismatch = append(h.Mismatch, s.MismatchPlanned)
		}
		hung = append(hung, h)
	}
	a.mounts.Sunk(a.Findings, hung)
}

// shaking is how the powertrain shakes where it stands.
func (a *Assessment) shaking() {
	s, fs := a.ready.mounts.ShakingAt(a.Pose)
	a.Shaking = s
	a.take(finding.MountTrade, fs)
}

// rideLevel compares the old powertrain with the new one.
func (a *Assessment) rideLevel() {
	levels, fs := a.mounts.Ride()
	a.RideLevel = levels
	a.take(finding.MountTrade, fs)
}
