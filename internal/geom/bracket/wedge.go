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

// WedgeAngle returns the angle of a tapered shim that rises by rise over
// length (mm).
func WedgeAngle(part string, length, rise float64) (geom.Angle, error) {
	if !geom.LengthOK(length) || !geom.LoadOK(rise) {
		return 0, bad("wedge", part, "a rise of %g mm over %g mm is no wedge", rise, length)
	}
	return geom.Angle(math.Atan2(rise, length)), nil
}
