// Package seat places the powertrain as a rigid body on its mounts.
//
// At fit-up a powertrain stands on three supports: the left and right front
// mounts and the rear one. Their heights fix lift, slope and roll; setback,
// offset and heading fix the rest. Every row a builder can nudge is one of
// these or a motion made of them, so any value typed is a rigid motion and
// never bends the powertrain.
package seat

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Supports are the three points that carry the powertrain at fit-up, in its
// own frame, mm.
type Supports struct{ LeftFront, RightFront, Rear r3.Vec }

// Placement says where the powertrain stands, in vehicle axes, mm. The
// reference point is midway between the two front supports.
type Placement struct {
	LeftFront, RightFront, Rear float64    // heights (Z) of the supports
	Setback                     float64    // station (X) of the reference point
	Offset                      float64    // offset (Y) of the reference point, right positive
	Heading                     geom.Angle // of the powertrain's own X axis, rear to the right positive
}

// What can be wrong with supports and heights.
var (
	ErrInLine = errors.New("the three supports lie in one line, so they cannot hold the powertrain level; check the pad points")
	ErrSteep  = errors.New("the support heights differ by more than the pads are apart; no position of the powertrain reaches them")
)

// Mid returns the reference point, midway between the front supports, in the
// powertrain's own frame.
func (s Supports) Mid() r3.Vec { return r3.Scale(0.5, r3.Add(s.LeftFront, s.RightFront)) }

// Pose returns the pose of the powertrain's own frame in vehicle axes.
//
// With n the vehicle's up direction seen in the powertrain's own frame, each
// support height reads n·p + t; the two height differences and |n| = 1 fix n
// exactly, and n and the heading fix the rotation.
func (s Supports) Pose(p Placement) (geom.Pose, error) {
	a := r3.Sub(s.RightFront, s.LeftFront)
	b := r3.Sub(s.Rear, s.LeftFront)
	up, err := upFrom(a, p.RightFront-p.LeftFront, b, p.Rear-p.LeftFront)
	if err != nil {
		return geom.Pose{}, err
	}
	return s.poseFromUp(up, p)
}

// poseFromUp builds the pose from the up direction in the own frame, keeping
// the left front height and the reference point of p.
func (s Supports) poseFromUp(up r3.Vec, p Placement) (geom.Pose, error) {
	level := math.Hypot(up.Y, up.Z)
	if level < 1e-3 {
		return geom.Pose{}, fmt.Errorf("the powertrain would stand on end: %w", ErrSteep)
	}
	slope := geom.Angle(math.Atan2(-up.X, level))
	roll := geom.Angle(math.Atan2(up.Y, up.Z))
	pose := geom.Orient(slope, p.Heading, roll, r3.Vec{})
	mid := pose.Dir(s.Mid())
	pose.At = r3.Vec{
		X: p.Setback - mid.X,
		Y: p.Offset - mid.Y,
		Z: p.LeftFront - r3.Dot(up, s.LeftFront),
	}
	return pose, nil
}

// upFrom returns the unit vector n with n·a = da and n·b = db that lies on the
// upper side of the plane of a and b (the side that holds +Z when a points
// right and b rearward).
func upFrom(a r3.Vec, da float64, b r3.Vec, db float64) (r3.Vec, error) {
	normal := r3.Cross(b, a) // rearward × right = up
	n2 := r3.Norm2(normal)
	if !geom.Finite(da, db, n2) || n2 <= 1e-12*r3.Norm2(a)*r3.Norm2(b) || n2 == 0 {
		return r3.Vec{}, ErrInLine
	}
	// In-plane part by the reciprocal vectors of a and b.
	in := r3.Scale(1/n2, r3.Add(
		r3.Scale(da, r3.Cross(normal, b)),
		r3.Scale(-db, r3.Cross(normal, a)),
	))
	rest := 1 - r3.Norm2(in)
	if rest <= 0 {
		return r3.Vec{}, ErrSteep
	}
	side := math.Sqrt(rest / n2)
	if normal.Z < 0 {
		side = -side
	}
	return r3.Add(in, r3.Scale(side, normal)), nil
}

// Placement reads back the placement of a powertrain that stands at pose.
func (s Supports) Placement(pose geom.Pose) Placement {
	mid := pose.Point(s.Mid())
	return Placement{
		LeftFront:  pose.Point(s.LeftFront).Z,
		RightFront: pose.Point(s.RightFront).Z,
		Rear:       pose.Point(s.Rear).Z,
		Setback:    mid.X,
		Offset:     mid.Y,
		Heading:    pose.Heading(),
	}
}
