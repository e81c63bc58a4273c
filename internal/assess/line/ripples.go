package line

import (
	"math"
	"math/cmplx"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/geom/shaft"

	"gonum.org/v1/gonum/spatial/r3"
)

// directions are slopes and headings of a line's axes, rad.
type directions struct{ slopes, headings []float64 }

// read is the directions of the line's axes as they were read: slopes by gauge,
// headings by tape, as planned, or straight ahead.
func (l *Line) read() directions {
	d := directions{make([]float64, len(l.Axes)), make([]float64, len(l.Axes))}
	for i := range l.Axes {
		d.slopes[i], d.headings[i] = l.Axes[i].Read.V, l.Axes[i].heading()
	}
	return d
}

// readChain is a line with the directions read. A line's motion depends on
// directions alone, so its shafts are given any length.
func (p *Prepared) readChain(d directions) shaft.Chain {
	n := len(p.frame.chain.Joints)
	c := shaft.Chain{Joints: make([]shaft.Joint, n), Yokes: p.frame.chain.Yokes}
	for i := range c.Joints {
		c.Joints[i].Kind = p.frame.chain.Joints[i].Kind
	}
	p.aim(&c, d)
	return c
}

// aim gives a chain of readChain other directions.
func (p *Prepared) aim(c *shaft.Chain, d directions) {
	dir := func(i int) r3.Vec {
		return p.frame.ahead(geom.Direction(geom.Angle(d.slopes[i]), geom.Angle(d.headings[i])))
	}
	n := len(c.Joints)
	c.In, c.Out = dir(0), dir(n)
	for i := 1; i < n; i++ {
		c.Joints[i].At = r3.Add(c.Joints[i-1].At, r3.Scale(1000, dir(i)))
	}
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

// ripple is how unevenly a shaft of a chain runs, with its place in the turn,
// and how that changes with each direction that was read.
type ripple struct {
	at complex128
	by []complex128 // of each of ripples.dirs
}

// ripples are those of the shafts of a chain behind its driving shaft.
type ripples struct {
	dirs         []*finding.Linear // the directions that were read
	drive, coast []ripple          // by the number of the shaft less 1
}

// last is the ripple of the driven shaft.
func (r *ripples) last() ripple { return r.drive[len(r.drive)-1] }

// readRipples is how unevenly the line runs from joint number from on, with the
// axes so: a.mech has c, the chain, solved. How it depends on the readings comes by a
// small change of each slope, and of each heading that was read. False where a
// changed one does not run.
func (a *judge) readRipples(c shaft.Chain, d directions, from int) (ripples, bool) {
	out := a.out
	shafts := a.mech.Shafts()[1:]
	both := make([]ripple, 2*len(shafts))
	r := ripples{drive: both[:len(shafts)], coast: both[len(shafts):]}
	slab := make([]complex128, 0, 4*len(shafts)*(len(out.Axes)-from))
	for i, s := range shafts {
		k := cap(slab) / (2 * len(shafts))
		r.drive[i], r.coast[i] = ripple{s.DriveVector, slab[:0:k]}, ripple{s.CoastVector, slab[k : k : 2*k]}
		slab = slab[2*k : 2*k : cap(slab)]
	}
	for i := from; i < len(out.Axes); i++ {
		x := &out.Axes[i]
		if !a.vary(&r, &x.lin, &c, d, &d.slopes[i], from) {
			return r, false
		}
		if x.plan.C != nil && !a.vary(&r, &x.plan, &c, d, &d.headings[i], from) {
			return r, false
		}
	}
	return r, true
}

// vary adds how the ripples follow one direction, at, which rests on by.
func (a *judge) vary(r *ripples, by *finding.Linear, c *shaft.Chain, d directions, at *float64, from int) bool {
	const step = 1e-4 // rad
	old := *at
	defer func() { *at = old }()
	*at = old + step
	a.aim(c, d)
	if a.mech.Set(behind(*c, from)) != nil {
		return false
	}
	for i, s := range a.mech.Shafts()[1:] {
		r.drive[i].by, r.coast[i].by = append(r.drive[i].by, s.DriveVector), append(r.coast[i].by, s.CoastVector)
	}
	*at = old - step
	a.aim(c, d)
	if a.mech.Set(behind(*c, from)) != nil {
		return false
	}
	n := len(r.dirs)
	for i, s := range a.mech.Shafts()[1:] {
		r.drive[i].by[n] = over(r.drive[i].by[n]-s.DriveVector, 2*step)
		r.coast[i].by[n] = over(r.coast[i].by[n]-s.CoastVector, 2*step)
	}
	r.dirs = append(r.dirs, by)
	return true
}

func over(z complex128, k float64) complex128 { return complex(real(z)/k, imag(z)/k) }

// reach is how large a ripple is, and how large it may be: the ellipse that the
// readings put its vector into is taken at its farthest point.
type reach struct{ size, far float64 }

// reachOf puts a ripple of r into its ellipse.
func (a *judge) reachOf(r *ripples, k ripple) reach {
	var few [8]finding.WeightedPair
	parts := few[:0]
	for i, by := range k.by {
		parts = append(parts, finding.WeightedPair{K: real(by), L: imag(by), N: r.dirs[i]})
	}
	uRe, uIm, both := a.Readings.Sources.Pair(parts)
	cov := (both*both - uRe*uRe - uIm*uIm) / 2
	at := k.at
	if uRe < uIm { // the lower triangle of the covariance needs the larger first
		uRe, uIm, at = uIm, uRe, complex(imag(at), real(at))
	}
	out := reach{cmplx.Abs(at), cmplx.Abs(at)}
	if uRe == 0 {
		return out
	}
	cross := cov / uRe
	rest := math.Sqrt(max(uIm*uIm-cross*cross, 0))
	far := at
	for _, way := range &round {
		p := at + complex(gauge.Coverage*uRe*way.cos, gauge.Coverage*(cross*way.cos+rest*way.sin))
		if square(p) > square(far) {
			far = p
		}
	}
	out.far = max(out.size, cmplx.Abs(far))
	return out
}

func square(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

// round are the points of a turn at which an ellipse is looked at.
var round = func() (out [180]struct{ sin, cos float64 }) {
	for i := range out {
		out[i].sin, out[i].cos = math.Sincos(2 * math.Pi * float64(i) / float64(len(out)))
	}
	return out
}()

// upward is the standard uncertainty of a number that grows with the size of a
// ripple, as it reaches upward, which is where the limit is. So a line whose
// joints cancel exactly, where every change is for the worse and a slope of the
// size would be none, is not taken as exact.
func (r reach) upward(of func(shaft.Ripple) float64) float64 {
	if r.far <= r.size {
		return 0
	}
	near, err := shaft.RippleOf(angleOfRipple(r.size))
	if err != nil {
		return 0
	}
	most, err := shaft.RippleOf(angleOfRipple(min(r.far, 0.99)))
	if err != nil {
		return 0
	}
	return (of(most) - of(near)) / gauge.Coverage
}

func angleOfRipple(k float64) geom.Angle { return geom.Angle(2 * math.Atan(math.Sqrt(k))) }

func equivalent(r shaft.Ripple) float64 { return r.Angle().Rad() }
