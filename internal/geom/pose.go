package geom

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pose places a rigid body: where its own axes point and where its own origin
// stands, all in vehicle axes. X, Y and Z are orthonormal and right-handed; At
// is in mm. The zero Pose is not a pose: use Identity.
type Pose struct {
	X, Y, Z r3.Vec // the body's own axes in vehicle axes
	At      r3.Vec // the body's own origin in vehicle axes, mm
}

// Identity is the pose of a body whose own frame is the vehicle's.
func Identity() Pose {
	return Pose{X: r3.Vec{X: 1}, Y: r3.Vec{Y: 1}, Z: r3.Vec{Z: 1}}
}

// Orient returns the pose with its origin at at and its axes turned by slope,
// heading and roll: Rz(heading)·Ry(slope)·Rx(roll) in vehicle axes, the
// intrinsic z-y'-x" order of ISO 8855. About +Y (right) a positive turn brings
// X down, which is our positive slope; about +X (rearward) a positive turn
// brings the right side up.
func Orient(slope, heading, roll Angle, at r3.Vec) Pose {
	sr, cr := math.Sincos(roll.Rad())
	x := Direction(slope, heading)
	sh, ch := math.Sincos(heading.Rad())
	level := r3.Vec{X: -sh, Y: ch} // Y before the roll
	up := r3.Cross(x, level)       // Z before the roll
	return Pose{
		X:  x,
		Y:  r3.Add(r3.Scale(cr, level), r3.Scale(sr, up)),
		Z:  r3.Sub(r3.Scale(cr, up), r3.Scale(sr, level)),
		At: at,
	}
}

// Turn returns the rigid motion that rotates by a (right-handed) about the
// line through point on (mm) along axis, vehicle axes. It refuses an axis
// without length.
func Turn(on, axis r3.Vec, a Angle) (Pose, error) {
	u, err := Unit(axis)
	if err != nil {
		return Pose{}, err
	}
	q := r3.NewRotation(a.Rad(), u)
	p := Pose{X: q.Rotate(r3.Vec{X: 1}), Y: q.Rotate(r3.Vec{Y: 1}), Z: q.Rotate(r3.Vec{Z: 1})}
	p.At = r3.Sub(on, p.Dir(on))
	return p, nil
}

// Point takes a point from the body's own frame to vehicle axes.
func (p Pose) Point(own r3.Vec) r3.Vec { return r3.Add(p.At, p.Dir(own)) }

// Dir takes a direction from the body's own frame to vehicle axes.
func (p Pose) Dir(own r3.Vec) r3.Vec {
	return r3.Add(r3.Add(r3.Scale(own.X, p.X), r3.Scale(own.Y, p.Y)), r3.Scale(own.Z, p.Z))
}

// Own takes a point from vehicle axes back to the body's own frame.
func (p Pose) Own(v r3.Vec) r3.Vec { return p.OwnDir(r3.Sub(v, p.At)) }

// OwnDir takes a direction from vehicle axes back to the body's own frame.
func (p Pose) OwnDir(d r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(d, p.X), Y: r3.Dot(d, p.Y), Z: r3.Dot(d, p.Z)}
}

// Then returns the pose after the rigid motion m (vehicle axes) is applied to
// a body that stands at p.
func (p Pose) Then(m Pose) Pose {
	return Pose{X: m.Dir(p.X), Y: m.Dir(p.Y), Z: m.Dir(p.Z), At: m.Point(p.At)}
}

// Slope of the body's own X axis, down to the rear positive.
func (p Pose) Slope() Angle { return Slope(p.X) }

// Heading of the body's own X axis in plan, rear end to the right positive.
func (p Pose) Heading() Angle { return Heading(p.X) }

// Roll of the body about its own X axis, right side high positive. It is the
// third angle of Orient.
func (p Pose) Roll() Angle { return Angle(math.Atan2(p.Y.Z, p.Z.Z)) }
