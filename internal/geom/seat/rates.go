package seat

import (
	"fmt"

	"fitup/internal/geom"
)

// Rates are the stiffnesses of an isolator along its own axes, N/mm: X fore
// and aft, Y lateral, Z vertical, when it is not tilted.
type Rates struct{ X, Y, Z float64 }

func (r Rates) check(mount string) error {
	for _, d := range []struct {
		name string
		v    float64
	}{{"fore-aft", r.X}, {"lateral", r.Y}, {"vertical", r.Z}} {
		if !geom.Finite(d.v) {
			return fmt.Errorf("%s mount: the %s rate is not a number", mount, d.name)
		}
		if d.v <= 0 {
			return fmt.Errorf("%s mount: the %s rate is %g N/mm; it must be more than 0", mount, d.name, d.v)
		}
	}
	return nil
}

// Scaled returns all three rates times factor.
func (r Rates) Scaled(factor float64) Rates {
	return Rates{X: r.X * factor, Y: r.Y * factor, Z: r.Z * factor}
}
