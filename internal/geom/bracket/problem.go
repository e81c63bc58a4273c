package bracket

import (
	"fmt"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// PartError names the part that a calculation failed for.
type PartError struct {
	Part string
	Err  error
}

func (e *PartError) Error() string { return e.Part + ": " + e.Err.Error() }

// Unwrap returns the cause.
func (e *PartError) Unwrap() error { return e.Err }

// bad builds a PartError. An unnamed part is called by its kind.
func bad(kind, name, format string, args ...any) error {
	return &PartError{Part: partName(kind, name), Err: fmt.Errorf(format, args...)}
}

func partName(kind, name string) string {
	if name == "" {
		return kind
	}
	return kind + " " + name
}

func finiteVec(vs ...r3.Vec) bool {
	for _, v := range vs {
		if !geom.Finite(v.X, v.Y, v.Z) {
			return false
		}
	}
	return true
}

// limitLength is the largest length in mm that is taken for a real part; it
// keeps fourth powers far from overflow.
const limitLength = 1e6

// lengthOK reports whether v is a length of a real part: not nothing and not
// beyond any vehicle.
func lengthOK(v float64) bool { return v > geom.Tiny && v <= limitLength }

// least is the smallest modulus, section figure or strength that is divided
// by; below it a quotient could overflow.
const least = 1e-9

// limitLoad bounds forces (N), moments (N·mm) and stresses (MPa) for the same
// reason.
const limitLoad = 1e12

func loadOK(vs ...float64) bool {
	for _, v := range vs {
		if !(v >= -limitLoad && v <= limitLoad) {
			return false
		}
	}
	return true
}
