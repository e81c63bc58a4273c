package scene

import (
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// View is one way to look at the vehicle.
type View uint8

// The views. The side view is seen from the left, front at the left; in the
// plan the driver's right is then up. The front mounts are looked at from
// behind, so that left and right are the driver's.
const (
	FromLeft View = iota
	FromAbove
	FromBehind
)

// Views returns the views there are.
func Views() []View { return []View{FromLeft, FromAbove, FromBehind} }

// String names a view.
func (v View) String() string {
	switch v {
	case FromAbove:
		return "plan view, from above"
	case FromBehind:
		return "front view, from behind"
	}
	return "side view, from the left"
}

// at is a point in vehicle axes on the drawing.
func (v View) at(p r3.Vec) r2.Vec {
	switch v {
	case FromAbove:
		return r2.Vec{X: p.X, Y: p.Y}
	case FromBehind:
		return r2.Vec{X: p.Y, Y: p.Z}
	}
	return r2.Vec{X: p.X, Y: p.Z}
}

// shows reports whether a view has a place for what plays a role: wheels only
// where they are circles; along the vehicle rails are cut through and drivelines
// left out. across says that it is a section.
func (v View) shows(role Role, across bool) bool {
	switch role {
	case RoleRail:
		return across == (v == FromBehind)
	case RoleWheel:
		return v == FromLeft
	case RoleAxis, RoleShaft, RoleJoint:
		return v != FromBehind
	}
	return true
}
