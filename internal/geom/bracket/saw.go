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

// SawLimit is what a saw can do, measured from square and from upright. A zero
// is a value: that saw does not swing, or does not tilt.
type SawLimit struct {
	Mitre, Tilt geom.Angle
}

// LargestSaw is the swing and tilt no saw goes beyond (common practice, no
// source).
const LargestSaw = 60 * geom.Deg

// AnySaw is the saw of which nothing is known but that it is one.
var AnySaw = SawLimit{LargestSaw, LargestSaw}

// SawCut is a setting of the saw for one end of a tube.
type SawCut struct {
	Down        Side       // the side on the table
	Mitre, Tilt geom.Angle // see the package comment, Saw
	LongMitre   Where      // which side the swing leaves longer
	LongTilt    Where      // which side the tilt leaves longer
	Steep       bool       // beyond what the saw can do, or on the open side of a channel or an angle
}

// RollCut is the way to cut an end without tilting the blade: the tube is
// rolled about its own axis until the whole of the cut is one swing. A round
// tube is always cut so.
type RollCut struct {
	Down Side // the side to lay on the table first
	// Roll is how far the tube is then turned, seen from the pad clockwise
	// positive, at most 45° either way.
	Roll geom.Angle
	// Corner is the lower corner that stays on the table while the other one
	// is lifted; Top and Bottom of the tube are those of V. No roll lifts none.
	Corner Corners
	Swing  geom.Angle // from square, without sign
	Long   Where      // which side the swing leaves longer
	Steep  bool       // beyond the saw's swing
}

// Corners are the long edges of a tube, seen from the pad with V up.
type Corners uint8

// The corners, in the order of Cut.Corners.
const (
	NoCorner Corners = iota
	TopRight
	BottomRight
	BottomLeft
	TopLeft
)

// String returns the corner's name, empty for none.
func (c Corners) String() string {
	return [...]string{"", "top right", "bottom right", "bottom left", "top left"}[min(c, TopLeft)]
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
	flat := false // some side lies flat and the saw reaches the cut
	for d := Bottom; d <= Right; d++ {
		x, y, z := c.sawAxes(d)
		nx, ny, nz := r3.Dot(e.Normal, x), r3.Dot(e.Normal, y), r3.Dot(e.Normal, z)
		s := SawCut{
			Down:  d,
			Mitre: geom.Angle(math.Atan2(ny, nx)),
			Tilt:  geom.Angle(math.Atan2(nz, math.Hypot(nx, ny))),
		}
		s.Steep = s.Mitre.Abs() > limit.Mitre+level || s.Tilt.Abs() > limit.Tilt+level || !c.outline.has(d)
		s.LongMitre = longer(s.Mitre, rail, AtOperator, AtFence)
		s.LongTilt = longer(s.Tilt, rail, AtTable, AtTop)
		e.Saw[d] = s
		flat = flat || !s.Steep
		if s.better(e.Saw[e.Best]) {
			e.Best = d
		}
	}
	e.Roll = e.rollCut(limit, c.outline)
	e.Rolled = !flat && !e.Roll.Steep
	e.Steep = !flat && e.Roll.Steep
}

// rollCut lays the long point of the cut at the fence or at the operator,
// whichever takes less of a turn. The side that lies down first is the one
// nearest to the table then.
func (e *End) rollCut(limit SawLimit, o outline) RollCut {
	r := RollCut{Swing: e.Angle, Long: Even, Steep: e.Angle > limit.Mitre+level}
	if e.Angle <= level {
		return r
	}
	// With a side down, its middle line is at the table. The fence lies a quarter
	// turn clockwise from there, seen from the pad: sawAxes has it along z × axis.
	best := math.Inf(1)
	for _, down := range []Side{Bottom, Left, Top, Right} {
		if !o.has(down) {
			continue
		}
		table := [4]geom.Angle{Bottom: 180 * geom.Deg, Left: -90 * geom.Deg, Top: 0, Right: 90 * geom.Deg}[down]
		for _, to := range []Where{AtFence, AtOperator} {
			at := table + 90*geom.Deg
			if to == AtOperator {
				at = table - 90*geom.Deg
			}
			if roll := wrap(at - e.Clock); roll.Abs().Rad() < best-level {
				best = roll.Abs().Rad()
				r.Down, r.Roll, r.Long = down, roll, to
			}
		}
	}
	if r.Roll.Abs() > level {
		// Turned clockwise as seen from the pad, the tube stands on the corner
		// that was at the lower right.
		r.Corner = [4]Corners{Bottom: BottomRight, Left: BottomLeft, Top: TopLeft, Right: TopRight}[r.Down]
		if r.Roll < 0 {
			r.Corner = [4]Corners{Bottom: BottomLeft, Left: TopLeft, Top: TopRight, Right: BottomRight}[r.Down]
		}
	}
	return r
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
