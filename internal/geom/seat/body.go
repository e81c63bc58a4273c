package seat

import (
	"fmt"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Body is a powertrain as dead weight: its mass, kg, with all that hangs on
// it, and the point it balances at, vehicle axes, mm.
type Body struct {
	Mass   float64
	Centre r3.Vec
}

// Weight returns the weight, N.
func (b Body) Weight() float64 { return b.Mass * geom.Gravity }

func (b Body) check() error {
	if !geom.Finite(b.Mass, b.Centre.X, b.Centre.Y, b.Centre.Z) {
		return fmt.Errorf("powertrain: the mass or its centre is not a number; weigh it or give an estimate")
	}
	if b.Mass <= 0 {
		return fmt.Errorf("powertrain: the mass is %g kg; it must be more than 0", b.Mass)
	}
	return nil
}

// Load is one case the mounts have to carry: how the vehicle accelerates and
// what torque turns the powertrain, both in vehicle axes. The weight is always
// there and needs no entry.
type Load struct {
	Name   string
	Accel  r3.Vec // acceleration of the vehicle, in g; the mass is pushed the other way
	Torque r3.Vec // torque acting on the powertrain, N·mm, right-handed
}

// Force returns the weight and inertia force on the body at its centre, N.
func (l Load) Force(b Body) r3.Vec {
	return r3.Scale(-b.Weight(), r3.Add(l.Accel, r3.Vec{Z: 1}))
}

func (l Load) check() error {
	if !geom.Finite(l.Accel.X, l.Accel.Y, l.Accel.Z, l.Torque.X, l.Torque.Y, l.Torque.Z) {
		return fmt.Errorf("%s: the load is not a number", l.name())
	}
	return nil
}

func (l Load) name() string {
	if l.Name == "" {
		return "load case"
	}
	return l.Name
}

// Resting is the vehicle standing still, engine off.
func Resting() Load { return Load{Name: "at rest"} }

// Braking is the vehicle slowing down by g on a level road; the mass pushes
// forward.
func Braking(g float64) Load { return Load{Name: "braking", Accel: r3.Vec{X: g}} }

// CorneringRight is a right-hand bend taken at g; the mass pushes to the left.
// A negative g is a left-hand bend.
func CorneringRight(g float64) Load {
	name := "cornering right"
	if g < 0 {
		name = "cornering left"
	}
	return Load{Name: name, Accel: r3.Vec{Y: g}}
}

// Bump is a bump that makes everything weigh factor times its weight; 1 is
// standing still, 0 is free fall, less than 0 throws the load upward.
func Bump(factor float64) Load {
	name := "bump"
	if factor < 1 {
		name = "rebound"
	}
	return Load{Name: name, Accel: r3.Vec{Z: factor - 1}}
}

// With returns two cases acting at once.
func (l Load) With(m Load) Load {
	name := l.Name
	if name != "" && m.Name != "" {
		name += " and "
	}
	return Load{Name: name + m.Name, Accel: r3.Add(l.Accel, m.Accel), Torque: r3.Add(l.Torque, m.Torque)}
}

// Layout is where the drive leaves the powertrain.
type Layout uint8

// A longitudinal powertrain turns a propshaft; a transaxle holds the final
// drive too and turns the wheels.
const (
	LayoutUnknown Layout = iota
	Longitudinal
	Transaxle
)

// Drive is the torque a powertrain puts out.
type Drive struct {
	Layout Layout
	Engine float64 // engine torque, N·mm, converter multiplication included
	Gear   float64 // gear ratio, negative for a reverse gear
	Final  float64 // final drive ratio, transaxle only
	// Output is the direction of the shaft that leaves, vehicle axes, any
	// length: for a longitudinal powertrain rearward along the crankshaft, for
	// a transaxle to the right along the axle line.
	Output r3.Vec
	// Opposite is a longitudinal engine that turns against the standard
	// rotation (standard is clockwise seen from the front of the engine).
	Opposite bool
}

// Reaction returns the torque that acts on the powertrain, and so on its
// mounts, N·mm in vehicle axes: against the torque it puts out. That is engine
// torque × gear at a propshaft, and × final drive as well at a transaxle's
// axle shafts (equilibrium of the powertrain as a free body).
//
// In a forward gear a longitudinal engine of standard rotation lifts on its
// left; a transaxle lifts its front.
func (d Drive) Reaction() (r3.Vec, error) {
	if !geom.Finite(d.Engine, d.Gear, d.Final, d.Output.X, d.Output.Y, d.Output.Z) {
		return r3.Vec{}, fmt.Errorf("drive torque: a torque or ratio is not a number")
	}
	if d.Engine < 0 {
		return r3.Vec{}, fmt.Errorf("drive torque: the engine torque is %g N mm; enter it without a sign", d.Engine)
	}
	if d.Gear == 0 {
		return r3.Vec{}, fmt.Errorf("drive torque: the gear ratio is 0; enter the ratio of the gear, negative for reverse")
	}
	u, err := geom.Unit(d.Output)
	if err != nil {
		return r3.Vec{}, fmt.Errorf("drive torque: the output shaft has no direction")
	}
	switch d.Layout {
	case Longitudinal:
		if u.X <= 0 {
			return r3.Vec{}, fmt.Errorf("drive torque: the output shaft of a longitudinal powertrain must point rearward")
		}
		sense := -1.0
		if d.Opposite {
			sense = 1
		}
		return r3.Scale(sense*d.Engine*d.Gear, u), nil
	case Transaxle:
		if u.Y <= 0 {
			return r3.Vec{}, fmt.Errorf("drive torque: the axle line of a transaxle must point to the right")
		}
		if d.Final <= 0 {
			return r3.Vec{}, fmt.Errorf("drive torque: a transaxle needs its final drive ratio, more than 0")
		}
		return r3.Scale(d.Engine*d.Gear*d.Final, u), nil
	}
	return r3.Vec{}, fmt.Errorf("drive torque: say whether the powertrain turns a propshaft or is a transaxle")
}
