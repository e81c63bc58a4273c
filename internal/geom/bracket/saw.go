package bracket

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Side is a side of the tube seen from the pad with V up.
type Side uint8

// The sides, in the order of End.Saw.
const (
	Bottom Side = iota
	Left
	Top
	Right
)

// String returns the side's name.
func (s Side) String() string { return [...]string{"bottom", "left", "top", "right"}[s&3] }

// Where says which way the longer side of a cut piece lies on the saw.
type Where uint8

// The places on the saw.
const (
	Even       Where = iota // neither: that setting is square
	AtFence                 // the side against the fence is longer
	AtOperator              // the side facing the operator is longer
	AtTop                   // the upper side is longer
	AtTable                 // the side on the table is longer
)

// String says it in words.
func (w Where) String() string {
	switch w {
	case AtFence:
		return "long at the fence"
	case AtOperator:
		return "long at the operator"
	case AtTop:
		return "long at the top"
	case AtTable:
		return "long at the table"
	}
	return "square"
}

// SawLimit is what a saw can do, measured from square and from upright.
type SawLimit struct {
	Mitre, Tilt geom.Angle
}

// LargestSaw is the swing and tilt no saw goes beyond (common practice, no
// source).
const LargestSaw = 60 * geom.Deg

func (s SawLimit) orLargest() SawLimit {
	if !(s.Mitre > 0) {
		s.Mitre = LargestSaw
	}
	if !(s.Tilt > 0) {
		s.Tilt = LargestSaw
	}
	return s
}

// SawCut is a setting of the saw for one end of a tube.
type SawCut struct {
	Down        Side       // the side on the table
	Mitre, Tilt geom.Angle // see the package comment, Saw
	LongMitre   Where      // which side the swing leaves longer
	LongTilt    Where      // which side the tilt leaves longer
	Steep       bool       // beyond what the saw can do
}

// level is the angle in rad below which a setting counts as square.
const level = 1e-9

// sawAxes returns the saw's axes in vehicle axes with a side down: x to the
// rail end, y to the fence, z up.
func (c *Cut) sawAxes(down Side) (x, y, z r3.Vec) {
	switch down {
	case Bottom:
		z = c.V
	case Left:
		z = c.U
	case Top:
		z = r3.Scale(-1, c.V)
	default:
		z = r3.Scale(-1, c.U)
	}
	return c.Axis, r3.Cross(z, c.Axis), z
}

func (e *End) setSaw(c *Cut, rail bool, limit SawLimit) {
	limit = limit.orLargest()
	e.Steep = true
	for d := Bottom; d <= Right; d++ {
		x, y, z := c.sawAxes(d)
		nx, ny, nz := r3.Dot(e.Normal, x), r3.Dot(e.Normal, y), r3.Dot(e.Normal, z)
		s := SawCut{
			Down:  d,
			Mitre: geom.Angle(math.Atan2(ny, nx)),
			Tilt:  geom.Angle(math.Atan2(nz, math.Hypot(nx, ny))),
		}
		s.Steep = s.Mitre.Abs() > limit.Mitre+level || s.Tilt.Abs() > limit.Tilt+level
		s.LongMitre = longer(s.Mitre, rail, AtOperator, AtFence)
		s.LongTilt = longer(s.Tilt, rail, AtTable, AtTop)
		e.Saw[d] = s
		e.Steep = e.Steep && s.Steep
		if s.better(e.Saw[e.Best]) {
			e.Best = d
		}
	}
}

// better reports whether s is the setting to choose before o.
func (s SawCut) better(o SawCut) bool {
	switch {
	case s.Steep != o.Steep:
		return o.Steep
	case (s.Tilt.Abs() - o.Tilt.Abs()).Abs() > level:
		return s.Tilt.Abs() < o.Tilt.Abs()
	}
	return s.Mitre.Abs() < o.Mitre.Abs()-level
}

// longer names the longer side: a normal that leans one way cuts the rail end
// shorter on that side and the pad end longer.
func longer(a geom.Angle, rail bool, away, toward Where) Where {
	switch {
	case a.Abs() <= level:
		return Even
	case (a > 0) == rail:
		return away
	}
	return toward
}

// Blade returns the cut's unit normal (vehicle axes) that a setting makes on
// this leg: the saw run backward, for checking a setting before the cut.
func (c Cut) Blade(s SawCut) r3.Vec {
	x, y, z := c.sawAxes(s.Down)
	sm, cm := math.Sincos(s.Mitre.Rad())
	st, ct := math.Sincos(s.Tilt.Rad())
	return r3.Add(r3.Add(r3.Scale(ct*cm, x), r3.Scale(ct*sm, y)), r3.Scale(st, z))
}
