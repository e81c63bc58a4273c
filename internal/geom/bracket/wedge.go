package bracket

import (
	"math"

	"fitup/internal/geom"
)

// Wedge returns the difference in thickness (mm) of a tapered shim over length
// (mm) for an angle under 80°: L tan a. The sign is that of the angle.
func Wedge(part string, length float64, a geom.Angle) (float64, error) {
	if !lengthOK(length) {
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
	if !lengthOK(length) || !loadOK(rise) {
		return 0, bad("wedge", part, "a rise of %g mm over %g mm is no wedge", rise, length)
	}
	return geom.Angle(math.Atan2(rise, length)), nil
}

// SineBar returns the stack (mm) that sets a sine bar of the given distance
// between its rolls (mm) to an angle between 0 and 90°.
func SineBar(part string, length float64, a geom.Angle) (float64, error) {
	if !lengthOK(length) || !(a >= 0 && a <= 90*geom.Deg) {
		return 0, bad("sine bar", part, "%g mm at %.2f° cannot be set; use 0 to 90°", length, a.Degrees())
	}
	return length * math.Sin(a.Rad()), nil
}

// SineBarAngle returns the angle that a stack (mm) under one roll sets.
func SineBarAngle(part string, length, stack float64) (geom.Angle, error) {
	if !lengthOK(length) || !(stack >= 0 && stack <= length) {
		return 0, bad("sine bar", part, "a stack of %g mm does not fit a bar of %g mm", stack, length)
	}
	return geom.Angle(math.Asin(stack / length)), nil
}

// DiscGauge returns the distance (mm) between the centres of two discs that
// touch both sides of a taper with the given included angle: half the
// difference of the diameters over the sine of half the angle.
func DiscGauge(part string, small, large float64, included geom.Angle) (float64, error) {
	if !lengthOK(small) || !lengthOK(large) || large <= small {
		return 0, bad("disc gauge", part, "discs of %g and %g mm: the second must be larger", small, large)
	}
	if !(included > 0 && included < 180*geom.Deg) {
		return 0, bad("disc gauge", part, "an included angle of %.2f° is no taper", included.Degrees())
	}
	c := (large - small) / 2 / math.Sin(included.Rad()/2)
	if math.IsInf(c, 0) {
		return 0, bad("disc gauge", part, "the taper is too slight to measure with discs")
	}
	return c, nil
}
