package section

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Centres are where the centroid and the shear centre lie from the middle of what the
// section is wide and high, mm to the right and up, as its sheet draws it: nothing for
// all but a channel and an angle. Errors as Properties.
func (s Shape) Centres() (centroid, shear r2.Vec, err error) {
	if s.Kind != Channel && s.Kind != Angle {
		return centroid, shear, s.Check()
	}
	b, err := s.Built()
	if err != nil {
		return centroid, shear, err
	}
	f, err := b.Figures()
	if err != nil {
		return centroid, shear, err
	}
	middle := r2.Vec{X: s.B / 2, Y: s.H / 2}
	centroid = r2.Sub(f.Centroid, middle)
	shear = centroid
	if f.HasShearCentre {
		shear = r2.Sub(f.ShearCentre, middle)
	}
	return centroid, shear, nil
}

// Least is the least second moment of area about any axis through the centroid, mm⁴.
func (p Properties) Least() float64 {
	return (p.Iy+p.Iz)/2 - math.Hypot((p.Iy-p.Iz)/2, p.Iyz)
}
