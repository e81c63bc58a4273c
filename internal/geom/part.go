package geom

import "fmt"

// PartError names the part that a calculation failed for.
type PartError struct {
	Part string
	Err  error
}

func (e *PartError) Error() string { return e.Part + ": " + e.Err.Error() }

// Unwrap returns the cause.
func (e *PartError) Unwrap() error { return e.Err }

// PartFault builds a PartError. An unnamed part is called by its kind.
func PartFault(kind, name, format string, args ...any) error {
	return &PartError{Part: PartName(kind, name), Err: fmt.Errorf(format, args...)}
}

// PartName is what a part is called: its kind, and its name where it has one.
func PartName(kind, name string) string {
	if name == "" {
		return kind
	}
	return kind + " " + name
}

// Inch in mm.
const Inch = 25.4

// Bounds that keep quotients and fourth powers of what a part measures and carries
// far from overflow.
const (
	LimitLength = 1e6  // mm, the longest that is taken for a real part
	LimitLoad   = 1e12 // of forces (N), moments (N·mm) and stresses (MPa)
	Least       = 1e-9 // of what is divided by: modulus, section figure or strength
)

// LengthOK reports whether v (mm) is a length of a real part: not nothing and not
// beyond any vehicle.
func LengthOK(v float64) bool { return v > Tiny && v <= LimitLength }

// LoadOK reports whether all are numbers that can be a load.
func LoadOK(vs ...float64) bool {
	for _, v := range vs {
		if !(v >= -LimitLoad && v <= LimitLoad) {
			return false
		}
	}
	return true
}
