package geom

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// ErrNoDirection is returned where a direction is asked of a vector that has
// no length.
var ErrNoDirection = errors.New("two points coincide, so there is no direction between them")

// Direction returns the unit vector (vehicle axes) of an axis that points
// rearward with the given slope, read as an inclinometer reads it (elevation
// of the axis itself), and the given heading in plan.
func Direction(slope, heading Angle) r3.Vec {
	ss, cs := math.Sincos(slope.Rad())
	sh, ch := math.Sincos(heading.Rad())
	return r3.Vec{X: cs * ch, Y: cs * sh, Z: -ss}
}

// Slope returns the slope of a rearward axis vector, down to the rear
// positive: the elevation an inclinometer laid along it would read.
func Slope(d r3.Vec) Angle {
	return Angle(math.Atan2(-d.Z, math.Hypot(d.X, d.Y)))
}

// Heading returns the plan angle of an axis vector, rear end to the right
// positive. A vertical vector has heading 0.
func Heading(d r3.Vec) Angle { return Angle(math.Atan2(d.Y, d.X)) }

// Unit returns v scaled to length 1, or ErrNoDirection when v has no length
// worth a direction.
func Unit(v r3.Vec) (r3.Vec, error) {
	n := math.Sqrt(r3.Norm2(v))
	if math.IsInf(n, 0) {
		n = r3.Norm(v) // the squares are too large for a float; the length may not be
	}
	if !(n > Tiny) || math.IsInf(n, 0) {
		return r3.Vec{}, ErrNoDirection
	}
	return r3.Scale(1/n, v), nil
}

// Between returns the angle in [0, π] between two vectors of any length. It
// uses the arctangent of cross and dot product, which keeps full precision
// near 0 and π where the arccosine loses half its digits.
func Between(a, b r3.Vec) Angle {
	return Angle(math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)))
}
