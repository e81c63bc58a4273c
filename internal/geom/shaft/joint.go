package shaft

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// What a line of shafts can be refused for.
var (
	ErrSquare = errors.New("the shafts meet at 90° or more, where a universal joint cannot turn")
	ErrShort  = errors.New("the two joint centres of a shaft coincide")
	ErrNoEnd  = errors.New("the first or last axis has no direction")
	ErrNumber = errors.New("a position or a direction here is not a number")
)

// errNoJoint is what a line without joints is refused with.
var errNoJoint = errors.New("a driveline needs at least one joint")

// JointError names the joint (1 is nearest the gearbox) that a line fails at.
type JointError struct {
	Joint int
	Err   error
}

func (e *JointError) Error() string { return fmt.Sprintf("joint %d: %v", e.Joint, e.Err) }

// Unwrap returns the cause.
func (e *JointError) Unwrap() error { return e.Err }

// Line is a driveline from a driving axis through joint centres to a driven
// axis, in vehicle axes (mm). In and Out point rearward, from driving to
// driven end, and need not be unit vectors. Between joint i and i+1 runs shaft i.
type Line struct {
	In     r3.Vec
	Joints []r3.Vec
	Out    r3.Vec
}

// Axes returns the unit axis vectors from the driving to the driven end:
// len(Joints)+1 of them. It fails with a JointError where two centres coincide
// or an end has no direction.
func (l Line) Axes() ([]r3.Vec, error) {
	axes, at, err := appendAxes(make([]r3.Vec, 0, len(l.Joints)+1), l.In, l.Out, len(l.Joints),
		func(i int) r3.Vec { return l.Joints[i] })
	if err != nil {
		return nil, atJoint(at, err)
	}
	return axes, nil
}

// appendAxes appends the unit axes of a line of n joints whose centres at
// gives. It returns the joint a failure belongs to, 0 for the whole line.
func appendAxes(dst []r3.Vec, in, out r3.Vec, n int, at func(int) r3.Vec) ([]r3.Vec, int, error) {
	if n == 0 {
		return dst, 0, errNoJoint
	}
	for i := 0; i <= n; i++ {
		d, joint, refusal := out, n, ErrNoEnd
		switch {
		case i == 0:
			d, joint = in, 1
		case i < n:
			d, joint, refusal = r3.Sub(at(i), at(i-1)), i+1, ErrShort
		}
		if !finite(d) {
			return dst, joint, ErrNumber
		}
		u, err := geom.Unit(d)
		if err != nil {
			return dst, joint, refusal
		}
		dst = append(dst, u)
	}
	return dst, 0, nil
}

// atJoint names the joint an error belongs to.
func atJoint(joint int, err error) error {
	if joint == 0 {
		return err
	}
	return &JointError{joint, err}
}

func finite(v r3.Vec) bool { return geom.Finite(v.X, v.Y, v.Z) }

// Angles returns the true angle of each joint: the angle between the two axis
// vectors that meet there (exact, three-dimensional).
func Angles(axes []r3.Vec) ([]geom.Angle, error) {
	if len(axes) < 2 {
		return nil, errors.New("a joint needs an axis on each side")
	}
	out := make([]geom.Angle, len(axes)-1)
	for i := range out {
		b := geom.Between(axes[i], axes[i+1])
		if b >= 90*geom.Deg {
			return nil, &JointError{i + 1, ErrSquare}
		}
		out[i] = b
	}
	return out, nil
}

// PlaneTwist returns the turn about the middle one of three unit axes that
// brings the plane of the joint ahead of it into the plane of the joint behind
// it, right-handed about that axis, in (-90°, 90°]. Two joints cancel each other
// where it equals the yoke offset of the shaft between them. False where one of
// the joints is straight, within a hundredth of a degree: then it has no plane.
func PlaneTwist(before, shaft, behind r3.Vec) (geom.Angle, bool) {
	const straight = 0.01 * geom.Deg
	first, second := r3.Cross(before, shaft), r3.Cross(shaft, behind)
	if geom.Between(before, shaft) < straight || geom.Between(shaft, behind) < straight {
		return 0, false
	}
	sin := r3.Dot(r3.Cross(first, second), shaft)
	return halfTurn(geom.Angle(math.Atan2(sin, r3.Dot(first, second)))), true
}

// TurnDown is d(axis)/d(slope) of a unit axis.
func TurnDown(d r3.Vec) r3.Vec {
	s, h := geom.Slope(d), geom.Heading(d)
	ss, cs := math.Sincos(s.Rad())
	sh, ch := math.Sincos(h.Rad())
	return r3.Vec{X: -ss * ch, Y: -ss * sh, Z: -cs}
}

// TurnRight is d(axis)/d(heading) of a unit axis.
func TurnRight(d r3.Vec) r3.Vec { return r3.Vec{X: -d.Y, Y: d.X} }
