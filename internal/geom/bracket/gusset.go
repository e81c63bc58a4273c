package bracket

import (
	"math"

	"fitup/internal/geom"
)

// Outstand is how slender the free part of a triangular plate is that is welded along two
// edges, mm long, with an angle between them: the lesser of its heights over one of those
// edges, over its thickness, as if the other one did not hold it. limit is 14 √(235/yield): up
// to there a plate that stands off one edge yields before it buckles, however it is pressed
// (EN 1993-1-1, table 5.2, outstand of class 3, from memory).
func Outstand(part string, a, b float64, corner geom.Angle, thickness, yield float64) (ratio, limit float64, err error) {
	switch {
	case !geom.LengthOK(a) || !geom.LengthOK(b) || !geom.LengthOK(thickness):
		return 0, 0, bad("gusset", part, "%g mm and %g mm along its edges and %g mm thick; more than 0 is wanted of each", a, b, thickness)
	case !(corner.Rad() > 0 && corner.Rad() < math.Pi):
		return 0, 0, bad("gusset", part, "there is no corner of %.0f°", corner.Degrees())
	case !(yield >= 10 && yield <= 3000):
		return 0, 0, bad("gusset", part, "a yield of %g MPa is no metal; S235 has 235", yield)
	}
	return min(a, b) * math.Sin(corner.Rad()) / thickness, 14 * math.Sqrt(235/yield), nil
}
