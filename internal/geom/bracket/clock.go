package bracket

import (
	"math"

	"fitup/internal/geom"
)

// LongFrom is where the long point of an end lies around the tube: how far from the
// named corner that is nearest to it, clockwise positive, seen from the pad. It is the
// way to set a cut out on a tube that is rolled, for one swing of a saw that does not
// tilt. A round tube has no corners and is counted from its top; so is a square cut, by
// nothing.
func (c *Cut) LongFrom(rail bool) (corner Corners, by geom.Angle) {
	e := &c.Pad
	if rail {
		e = &c.Rail
	}
	if e.Angle <= level {
		return NoCorner, 0
	}
	if c.outline.edge == nil && 2*c.outline.r == c.outline.b {
		return NoCorner, wrap(e.Clock)
	}
	first := geom.Angle(math.Atan2(c.outline.b, c.outline.h)) // of the top right corner from V
	best := geom.Angle(math.Inf(1))
	for i, at := range [4]geom.Angle{first, 180*geom.Deg - first, 180*geom.Deg + first, -first} {
		if d := wrap(e.Clock - at); d.Abs() < best.Abs()-level {
			corner, best = TopRight+Corners(i), d
		}
	}
	return corner, best
}
