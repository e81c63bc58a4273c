// Package gauge turns what a digital angle gauge showed into a slope, and says
// how well that slope is known.
package gauge

import (
	"errors"

	"fitup/internal/geom"
)

// Surface is what the gauge stood on.
type Surface uint8

// A gauge stands along a surface that should be level with the axis, or on a
// face that is square to it.
const (
	SurfaceUnknown Surface = iota
	Along
	SquareFace
)

// End is an end of an axis: the one that is lower.
type End uint8

// The end that is lower, seen along the vehicle.
const (
	EndUnknown End = iota
	Front
	Rear
)

// Reading is one reading as it was taken.
type Reading struct {
	Shown geom.Angle // what the gauge showed, without sense
	On    Surface
	Lower End // which end of the axis is lower
}

// What a reading can lack or contradict.
var (
	ErrNoSense   = errors.New("the reading has no direction: say which end is lower")
	ErrNoSurface = errors.New("the reading does not say what the gauge stood on: along the axis or on a square face")
	ErrLikeFace  = errors.New("a reading along an axis this steep looks like one taken on a square face")
	ErrLikeAlong = errors.New("a square-face reading this flat looks like one taken along the axis")
)

// Slope returns the slope of the axis, down to the rear positive. On a square
// face the slope is what is left to 90°. A level reading needs no direction.
func (r Reading) Slope() (geom.Angle, error) {
	var s geom.Angle
	switch r.On {
	case Along:
		s = r.Shown.Abs()
		if s > 45*geom.Deg {
			return 0, ErrLikeFace
		}
	case SquareFace:
		s = (90*geom.Deg - r.Shown.Abs()).Abs()
		if s > 45*geom.Deg {
			return 0, ErrLikeAlong
		}
	default:
		return 0, ErrNoSurface
	}
	if s < 1e-9 {
		return 0, nil
	}
	switch r.Lower {
	case Rear:
		return s, nil
	case Front:
		return -s, nil
	}
	return 0, ErrNoSense
}

// Coverage is the factor k by which a standard uncertainty is widened before
// it is held against a limit: k = 2, about 95 % (JCGM 100:2008, 6.3.3).
const Coverage = 2
