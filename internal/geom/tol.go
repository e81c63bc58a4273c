package geom

import "math"

// Tiny is the length in mm below which two points are the same point. It is
// far below anything a shop can measure and far above rounding at vehicle
// size.
const Tiny = 1e-6

// Gravity is the standard acceleration of free fall, m/s² (3rd CGPM, 1901;
// ISO 80000-3).
const Gravity = 9.80665

// Near reports whether a and b differ by at most tol, an absolute tolerance in
// the unit of a and b. It is false when either is NaN.
func Near(a, b, tol float64) bool { return math.Abs(a-b) <= tol }

// Finite reports whether every value is a real number.
func Finite(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}
