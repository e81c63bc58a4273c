package scene

import "gonum.org/v1/gonum/spatial/r3"

// View is one way to look at the vehicle; right and up on the drawing.
type View struct {
	Name string
	Flat func(r3.Vec) (x, y float64)
	side bool // wheels are circles
	rear bool // along the vehicle: rails are cut through, drivelines left out
}

// Views returns the views there are. The side view is seen from the left, front
// at the left; in the plan the driver's right is then up. The front mounts are
// looked at from behind, so that left and right are the driver's.
func Views() []View { return views }

var views = []View{
	{"side view, from the left", func(p r3.Vec) (float64, float64) { return p.X, p.Z }, true, false},
	{"plan view, from above", func(p r3.Vec) (float64, float64) { return p.X, p.Y }, false, false},
	{"front view, from behind", func(p r3.Vec) (float64, float64) { return p.Y, p.Z }, false, true},
}

// Shows reports whether a view has a place for what plays a role; across says
// that it is a section.
func (v View) Shows(role Role, across bool) bool {
	switch role {
	case RoleRail:
		return across == v.rear
	case RoleWheel:
		return v.side
	case RoleAxis, RoleShaft, RoleJoint:
		return !v.rear
	}
	return true
}
