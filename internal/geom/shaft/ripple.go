package shaft

import (
	"math"

	"fitup/internal/geom"
)

// Ripple is the unevenness of one shaft against another that turns steadily,
// twice per turn of the steady one. Any chain of joints runs like one Cardan
// joint; Ripple holds that joint. The zero value is perfectly even running.
//
// With k = tan²(β/2) of that joint and θ from the position of highest speed,
// the ratio is cos β/(1 - sin²β·cos²θ) = (1-k²)/(1 - 2k·cos 2θ + k²), the
// Poisson kernel. Source: equation of motion of the Cardan joint, Schmelz,
// Seherr-Thoss, Aucktor, Universal Joints and Driveshafts, ch. 1 (from
// memory); the closed forms are derived from it.
type Ripple struct{ k float64 }

// RippleOf returns the ripple of one Cardan joint at an angle in [0, 90°).
func RippleOf(joint geom.Angle) (Ripple, error) {
	if !geom.Finite(joint.Rad()) {
		return Ripple{}, ErrNumber
	}
	t := math.Tan(joint.Abs().Rad() / 2)
	if joint.Abs() >= 90*geom.Deg || 1-t*t < nearSquare {
		return Ripple{}, ErrSquare
	}
	return Ripple{t * t}, nil
}

// nearSquare is the smallest 1-k of a line that still turns: one joint within
// 3e-8 degrees of 90°. Past it the extremes are no longer numbers.
const nearSquare = 1e-9

// Angle returns the angle of the one Cardan joint that runs exactly as this
// line does, 2·atan √k.
func (r Ripple) Angle() geom.Angle { return geom.Angle(2 * math.Atan(math.Sqrt(r.k))) }

// Max returns the highest speed over the steady speed, 1/cos β.
func (r Ripple) Max() float64 { return (1 + r.k) / (1 - r.k) }

// Min returns the lowest speed over the steady speed, cos β = 1/Max.
func (r Ripple) Min() float64 { return (1 - r.k) / (1 + r.k) }

// Spread returns Max - Min, sin β·tan β.
func (r Ripple) Spread() float64 { return 4 * r.k / ((1 - r.k) * (1 + r.k)) }

// Swing returns how far the shaft runs ahead and behind, peak to peak, in one
// turn: 2·asin k.
func (r Ripple) Swing() geom.Angle { return geom.Angle(2 * math.Asin(r.k)) }

// Peak returns the largest angular acceleration divided by the square of the
// steady speed: exact, at cos 2θ = 8k/(1+k² + √((1+k²)²+32k²)). For small
// angles it is β² (rad²).
func (r Ripple) Peak() float64 {
	k, m := r.k, 1+r.k*r.k
	c := 8 * k / (m + math.Sqrt(m*m+32*k*k))
	d := m - 2*k*c
	return 4 * k * (1 - k*k) * math.Sqrt((1-c)*(1+c)) / (d * d)
}

// Acceleration returns the largest angular acceleration (rad/s²) when the
// steady shaft turns at speed (rad/s).
func (r Ripple) Acceleration(speed float64) float64 { return r.Peak() * speed * speed }

// Order returns the amplitude of the speed ratio's part that comes n times per
// turn: 2·k^(n/2) for even n, the mean 1 for n = 0, nothing for odd n.
func (r Ripple) Order(n int) float64 {
	switch {
	case n == 0:
		return 1
	case n < 0 || n%2 != 0:
		return 0
	}
	return 2 * math.Pow(r.k, float64(n/2))
}

// AngleOrder returns the amplitude of the shaft's lead that comes n times per
// turn: k^(n/2)/(n/2) for even n, nothing for odd n and for 0.
func (r Ripple) AngleOrder(n int) geom.Angle {
	if n <= 0 || n%2 != 0 {
		return 0
	}
	h := float64(n / 2)
	return geom.Angle(math.Pow(r.k, h) / h)
}
