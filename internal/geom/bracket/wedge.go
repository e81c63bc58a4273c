package bracket

import (
	"math"

	"fitup/internal/geom"
)

// Wedge returns the difference in thickness (mm) of a tapered shim over length
// (mm) for an angle under 80°: L tan a. The sign is that of the angle.
func Wedge(part string, length float64, a geom.Angle) (float64, error) {
	if !geom.LengthOK(length) {
		return 0, bad("wedge", part, "a length of %g mm is none", length)
	}
	if !(a.Abs() < 80*geom.Deg) {
		return 0, bad("wedge", part, "an angle of %.1f° is no wedge", a.Degrees())
	}
	return length * math.Tan(a.Rad()), nil
}
