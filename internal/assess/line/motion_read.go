package line

import (
	"fitup/internal/assess/finding"
	"math"
	"math/cmplx"

	"fitup/internal/geom/gauge"
	"fitup/internal/geom/shaft"
	"fitup/internal/project"
)

// ripples is how unevenly each shaft of a chain runs, driven and coasting,
// with its place in the turn, in the order of shaft.Mechanism.Shafts.
type ripples struct{ drive, coast []complex128 }

func ripplesOf(c shaft.Chain) (ripples, bool) {
	mech, err := shaft.NewMechanism(c)
	if err != nil {
		return ripples{}, false
	}
	var r ripples
	for _, s := range mech.Shafts() {
		r.drive, r.coast = append(r.drive, s.DriveVector), append(r.coast, s.CoastVector)
	}
	return r, true
}

// vector is a ripple with how its two parts depend on the readings.
type vector struct{ re, im finding.Linear }

func (v vector) at() complex128 { return complex(v.re.V, v.im.V) }

// readMotion is the motion of the line as it was read.
func (a *judge) readMotion(l project.Line, out *Line) Motion {
	if m := out.unread(0); !m.Known {
		return Motion{Why: m.Why, Unusable: m.Unusable}
	}
	return a.motionWith(l, out, out.read(), !a.Light)
}

// motionWith is the motion with the axes so, its numbers with their ±.
func (a *judge) motionWith(l project.Line, out *Line, d directions, curve bool) Motion {
	m := motionOf(readChain(l, out, d), out.Speed.Number, curve)
	if !m.Known {
		return m
	}
	drive, coast, ok := a.readRipples(l, out, d, 0)
	if !ok {
		return m
	}
	n := len(drive) - 1
	m.U = a.upward(drive[n], func(r shaft.Ripple) float64 { return r.Angle().Rad() })
	if !out.Speed.Known {
		return m
	}
	at := func(r shaft.Ripple) float64 { return r.Acceleration(out.Speed.V) }
	m.Residual.U = a.upward(drive[n], at)
	for i := range m.Drive {
		m.Drive[i].U, m.Coast[i].U = a.upward(drive[i+1], at), a.upward(coast[i+1], at)
	}
	return m
}

// readRipples is how unevenly the line runs from joint number from on, as read,
// with how it depends on the readings: by a small change of each slope, and of
// each heading that was read.
func (a *judge) readRipples(l project.Line, out *Line, d directions, from int) (drive, coast []vector, ok bool) {
	now, ok := ripplesOf(behind(readChain(l, out, d), from))
	if !ok {
		return nil, nil, false
	}
	start := func(ks []complex128) []vector {
		vs := make([]vector, len(ks))
		for i, k := range ks {
			vs[i] = vector{finding.NewLinear(len(a.Build.Readings)), finding.NewLinear(len(a.Build.Readings))}
			vs[i].re.V, vs[i].im.V = real(k), imag(k)
		}
		return vs
	}
	drive, coast = start(now.drive), start(now.coast)
	vary := func(at *float64, by finding.Linear) bool {
		const step = 1e-4 // rad
		old := *at
		*at = old + step
		up, okUp := ripplesOf(behind(readChain(l, out, d), from))
		*at = old - step
		down, okDown := ripplesOf(behind(readChain(l, out, d), from))
		*at = old
		if !okUp || !okDown {
			return false
		}
		for n := range drive {
			drive[n].lean(by, (up.drive[n]-down.drive[n])/(2*step))
			coast[n].lean(by, (up.coast[n]-down.coast[n])/(2*step))
		}
		return true
	}
	for i := from; i < len(out.Axes); i++ {
		ok = ok && vary(&d.slopes[i], out.Axes[i].lin)
		if out.Axes[i].plan.C != nil {
			ok = ok && vary(&d.headings[i], out.Axes[i].plan)
		}
	}
	return drive, coast, ok
}

// lean adds how the vector follows one direction; its value stays as it is.
func (v *vector) lean(slope finding.Linear, by complex128) {
	re, im := v.re.V, v.im.V
	v.re, v.im = v.re.Plus(slope.Times(real(by))), v.im.Plus(slope.Times(imag(by)))
	v.re.V, v.im.V = re, im
}

// behind is the part of a chain from joint number from on, counted from 0.
func behind(c shaft.Chain, from int) shaft.Chain {
	if from == 0 {
		return c
	}
	in := c.Joints[from].At
	prev := c.Joints[from-1].At
	in.X, in.Y, in.Z = in.X-prev.X, in.Y-prev.Y, in.Z-prev.Z
	return shaft.Chain{In: in, Joints: c.Joints[from:], Out: c.Out, Yokes: c.Yokes[from:]}
}

// upward is the standard uncertainty of a number that grows with the size of a
// ripple, as it reaches upward, which is where the limit is. The readings put
// the ripple's vector into an ellipse; its farthest point counts. So a line
// whose joints cancel exactly, where every change is for the worse and a slope
// of the size would be none, is not taken as exact.
func (a *judge) upward(v vector, of func(shaft.Ripple) float64) float64 {
	uRe, uIm := a.Readings.Sources.Standard(v.re), a.Readings.Sources.Standard(v.im)
	both := a.Readings.Sources.Standard(v.re.Plus(v.im))
	cov := (both*both - uRe*uRe - uIm*uIm) / 2
	if uRe < uIm { // the lower triangle of the covariance needs the larger first
		uRe, uIm, v.re, v.im = uIm, uRe, v.im, v.re
	}
	if uRe == 0 {
		return 0
	}
	cross := cov / uRe
	rest := math.Sqrt(max(uIm*uIm-cross*cross, 0))
	size := cmplx.Abs(v.at())
	far := size
	const steps = 180
	for i := range steps {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / steps)
		far = max(far, cmplx.Abs(v.at()+complex(gauge.Coverage*uRe*cos, gauge.Coverage*(cross*cos+rest*sin))))
	}
	near, err := rippleSized(size)
	if err != nil {
		return 0
	}
	most, err := rippleSized(min(far, 0.99))
	if err != nil {
		return 0
	}
	return (of(most) - of(near)) / gauge.Coverage
}

// rippleSized is the ripple of size k.
func rippleSized(k float64) (shaft.Ripple, error) {
	return shaft.RippleOf(angleOfRipple(k))
}
