package bracket

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Load is what a bolt pattern or weld group carries, in its plane frame: a
// force (N) that acts at a point (mm) and a moment (N·mm), z out of the plane.
// A positive Force.Z pulls the attached part away from the plane.
type Load struct {
	Force, At, Moment r3.Vec
}

func (l Load) ok() bool {
	return finiteVec(l.Force, l.At, l.Moment) && r3.Norm(l.Force) <= geom.LimitLoad &&
		r3.Norm(l.Moment) <= geom.LimitLoad && r3.Norm(l.At) <= geom.LimitLength
}

// about returns force and moment about a point of the plane.
func (l Load) about(c r2.Vec) (force, moment r3.Vec) {
	arm := r3.Sub(l.At, r3.Vec{X: c.X, Y: c.Y})
	return l.Force, r3.Add(l.Moment, r3.Cross(arm, l.Force))
}

// plane holds the moments of a set of points or lines about its centroid.
type plane struct {
	size        float64 // count or length
	centroid    r2.Vec
	ix, iy, ixy float64 // ∫y², ∫x², ∫xy
}

func (p plane) polar() float64 { return p.ix + p.iy }

// tilt returns the plane a + b x + c y (about the centroid) that carries a
// normal force and the moments mx, my: ∑σ = n, ∑σ y = mx, −∑σ x = my. It is
// false when the parts stand in one line and the moment bends about it.
func (p plane) tilt(n, mx, my float64) (a, b, c float64, ok bool) {
	a = n / p.size
	if mx == 0 && my == 0 {
		return a, 0, 0, true
	}
	det, polar := p.ix*p.iy-p.ixy*p.ixy, p.polar()
	if polar <= geom.Tiny*geom.Tiny {
		return 0, 0, 0, false
	}
	if det > 1e-12*polar*polar {
		// c·ix + b·ixy = mx, b·iy + c·ixy = −my
		c = (mx*p.iy + my*p.ixy) / det
		b = (-my*p.ix - mx*p.ixy) / det
		return a, b, c, true
	}
	// All in one line along u: only the moment across the line can be held.
	u := r2.Vec{X: p.ixy, Y: p.ix}
	if p.iy >= p.ix {
		u = r2.Vec{X: p.iy, Y: p.ixy}
	}
	u = r2.Unit(u)
	if math.Abs(mx*u.X+my*u.Y) > 1e-9*math.Hypot(mx, my) {
		return 0, 0, 0, false
	}
	// σ = k along u: ∑σ y = k polar u.Y, −∑σ x = −k polar u.X.
	k := (mx*u.Y - my*u.X) / polar
	return a, k * u.X, k * u.Y, true
}
