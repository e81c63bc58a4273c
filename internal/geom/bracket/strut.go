package bracket

import (
	"math"

	"fitup/internal/geom"
)

// Buckling returns the Euler load in N of a straight strut of length l (mm)
// with the effective length factor k: 2 for a leg built in at one end and free
// at the other, 1 for pins at both ends. A screening figure: real struts fail
// below it.
func Buckling(part string, e, i, l, k float64) (float64, error) {
	if !(e > 0 && i > 0 && k > 0) || !geom.LengthOK(l) || !geom.LoadOK(e, k) || !(i < 1e24) {
		return 0, bad("strut", part, "needs a modulus, a section, a length and an end factor above zero")
	}
	p := math.Pi * math.Pi * e * i / (k * l * k * l)
	if math.IsInf(p, 0) {
		return 0, bad("strut", part, "a length of %g mm is too short to buckle", l)
	}
	return p, nil
}
