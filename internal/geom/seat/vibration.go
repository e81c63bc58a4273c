package seat

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"
)

// The range within which the stiffness of rubber in vibration lies over its
// stiffness under dead weight: 1.2 for soft gum to 2 for hard, filled rubber
// (common practice, no source).
const (
	DynamicLow  = 1.2
	DynamicHigh = 2.0
)

func checkDynamic(ratio float64) error {
	if !geom.Finite(ratio) || ratio < 1 || ratio > 5 {
		return fmt.Errorf("the ratio of vibrating to static stiffness is %g; for rubber it is %g to %g", ratio, DynamicLow, DynamicHigh)
	}
	return nil
}

// Bounce returns the natural frequency, Hz, of the powertrain going straight
// up and down on its isolators: √(Σk/m)/2π with their stiffness along vehicle
// Z times dynamic. Coupling with pitch and roll is left out.
func Bounce(b Body, pads []Isolator, dynamic float64) (float64, error) {
	if err := b.check(); err != nil {
		return 0, err
	}
	if len(pads) == 0 {
		return 0, errors.New("there are no mounts to bounce on")
	}
	if err := checkDynamic(dynamic); err != nil {
		return 0, err
	}
	k := 0.0
	for _, p := range pads {
		if err := p.check(); err != nil {
			return 0, err
		}
		k += p.stiffness()[2][2]
	}
	return math.Sqrt(dynamic*k*1000/b.Mass) / (2 * math.Pi), nil
}

// ErrResonance is returned where an undamped spring would shake without limit.
var ErrResonance = errors.New("the shaking is at the natural frequency and there is no damping: it grows without limit")

// Transmissibility returns how much of a shaking force at r times the natural
// frequency reaches the frame through a spring of damping ratio zeta:
// √((1+(2ζr)²)/((1−r²)²+(2ζr)²)) (Ogata, System Dynamics, force
// transmissibility). Below 1 the mount isolates; that needs r over √2.
func Transmissibility(r, zeta float64) (float64, error) {
	if !geom.Finite(r, zeta) || r < 0 || zeta < 0 {
		return 0, fmt.Errorf("the frequency ratio %g and damping ratio %g must be 0 or more", r, zeta)
	}
	damp := 2 * zeta * r
	below := math.Hypot(1-r*r, damp)
	if below < 1e-12 {
		return 0, ErrResonance
	}
	t := math.Hypot(1, damp) / below
	if !geom.Finite(t) {
		return 0, fmt.Errorf("the frequency ratio %g is too large to work with", r)
	}
	return t, nil
}

// Firing returns the firing frequency, Hz, of a four-stroke engine with evenly
// spaced firing: rpm·cylinders/120.
func Firing(cylinders int, rpm float64) (float64, error) {
	if cylinders < 1 {
		return 0, fmt.Errorf("the engine has %d cylinders; it must have at least 1", cylinders)
	}
	if !geom.Finite(rpm) || rpm <= 0 {
		return 0, fmt.Errorf("the engine speed is %g rpm; it must be more than 0", rpm)
	}
	return rpm * float64(cylinders) / 120, nil
}
