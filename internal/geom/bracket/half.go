package bracket

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// halfDegree is the step of a saw's scale that is set without guessing.
const halfDegree = 0.5 * geom.Deg

// Rounded is a saw setting to the nearest half degree.
type Rounded struct {
	Mitre, Tilt geom.Angle // without sign; which way is that of the exact setting
	// Miss is how far the cut then lies off at its worst tip, mm square to the cut,
	// when it is right on the axis.
	Miss float64
}

// HalfDegree rounds the setting that an end is cut with, its best side down or
// the tube rolled, and says what that costs.
func (c Cut) HalfDegree(rail bool) Rounded {
	e := c.Pad
	if rail {
		e = c.Rail
	}
	half := func(a geom.Angle) geom.Angle { return geom.Angle(math.Round(float64(a/halfDegree))) * halfDegree }
	if e.Rolled {
		swing := half(e.Roll.Swing)
		far := 0.0
		for _, q := range c.Outline(rail, 8) {
			d := r3.Sub(q, e.At)
			out := r3.Sub(d, r3.Scale(r3.Dot(d, c.Axis), c.Axis)) // the turn is in the plane of the swing
			far = max(far, math.Abs(r3.Dot(out, c.around(e.Clock))))
		}
		return Rounded{Mitre: swing, Miss: far / math.Cos(e.Angle.Rad()) * math.Sin((swing - e.Roll.Swing).Abs().Rad())}
	}
	s := e.Saw[e.Best]
	r := Rounded{Mitre: half(s.Mitre).Abs(), Tilt: half(s.Tilt).Abs()}
	s.Mitre, s.Tilt = half(s.Mitre), half(s.Tilt)
	n := c.Blade(s)
	for _, q := range c.Outline(rail, 8) {
		r.Miss = max(r.Miss, math.Abs(r3.Dot(n, r3.Sub(q, e.At))))
	}
	return r
}

// around is the direction at an angle around the tube, from V toward U.
func (c Cut) around(a geom.Angle) r3.Vec {
	s, k := math.Sincos(a.Rad())
	return r3.Add(r3.Scale(k, c.V), r3.Scale(s, c.U))
}
