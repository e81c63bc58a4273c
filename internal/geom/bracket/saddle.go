package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
)

// Fit says which surface of the branch's wall is fitted to the outside of the
// header. The cut goes straight through the wall toward the branch's axis.
type Fit uint8

// The ways to fit a saddle.
const (
	// FitInside brings the inside edge of the wall to the header: the usual
	// fit-up line of a wall that is not bevelled. The outside edge may stand
	// proud on the acute side; Template.Proud says by how much.
	FitInside Fit = iota
	// FitOutside brings the outside edge to the header: for a wall bevelled
	// from the inside, or thin enough not to matter.
	FitOutside
	// FitTouch stops at whichever part of the wall meets the header first: it
	// goes on without grinding, and leaves the gap Template.Gap.
	FitTouch
)

// String says which surface is fitted.
func (f Fit) String() string {
	switch f {
	case FitOutside:
		return "branch outside edge on header outside"
	case FitTouch:
		return "first contact of the branch wall on header outside"
	}
	return "branch inside edge on header outside"
}

// Saddle is the end of a round branch cut to sit on a round header, mm. Angle
// is between the two axes, 90° when square; Offset is how far the axes pass
// each other.
type Saddle struct {
	Name         string
	Branch, Wall float64 // outside diameter and wall of the branch
	Header       float64 // outside diameter of the header
	Angle        geom.Angle
	Offset       float64
	Fit          Fit
}

// LeastSaddle is the shallowest angle between two tubes that is cut here.
const LeastSaddle = 10 * geom.Deg

func (s Saddle) check() error {
	bad := func(format string, args ...any) error { return bad("saddle", s.Name, format, args...) }
	switch {
	case !geom.LengthOK(s.Branch) || !geom.LengthOK(s.Header) || !geom.Finite(s.Offset):
		return bad("give the outside diameters of branch and header, and the offset, in mm")
	case !(s.Wall > 0 && s.Wall < s.Branch/2):
		return bad("a wall of %g mm does not fit a branch of %g mm", s.Wall, s.Branch)
	case !(s.Angle >= LeastSaddle && s.Angle <= 180*geom.Deg-LeastSaddle):
		return bad("the tubes meet at %.1f°; a saddle needs %.0f° or more between them", s.Angle.Degrees(), LeastSaddle.Degrees())
	case s.Fit > FitTouch:
		return bad("the kind of fit is not known")
	case math.Abs(s.Offset)+s.Branch/2 > s.Header/2*(1+1e-12):
		return bad("the branch hangs over the side of the header: offset %.2f and branch radius %.2f are more than the header's radius %.2f; use a smaller branch, less offset or a larger header",
			math.Abs(s.Offset), s.Branch/2, s.Header/2)
	}
	return nil
}

// At returns where the cut lies along the branch at the angle theta around it,
// mm from the point of its axis nearest the header's axis. Theta is from the
// acute side; the offset is toward positive sin theta:
//
//	s = [√(R² − (e + r sin θ)²) + r cos θ cos φ] / sin φ
//
// the intersection of two cylinders, with r by Fit.
func (s Saddle) At(theta geom.Angle) (float64, error) {
	if err := s.check(); err != nil {
		return 0, err
	}
	if !geom.Finite(theta.Rad()) {
		return 0, bad("saddle", s.Name, "the angle around the tube is not a number")
	}
	return s.cut(theta.Rad()), nil
}

func (s Saddle) on(r, theta float64) float64 {
	st, ct := math.Sincos(theta)
	sp, cp := math.Sincos(s.Angle.Rad())
	y := s.Offset + r*st
	rr := s.Header / 2
	return (math.Sqrt(math.Max(0, rr*rr-y*y)) + r*ct*cp) / sp
}

func (s Saddle) cut(theta float64) float64 {
	in, out := s.Branch/2-s.Wall, s.Branch/2
	switch s.Fit {
	case FitOutside:
		return s.on(out, theta)
	case FitTouch:
		// The cut is concave across the wall: one peak.
		_, v := peak(func(r float64) float64 { return s.on(r, theta) }, in, out)
		return v
	}
	return s.on(in, theta)
}

// Template is a wrap-around paper template: X is the distance around the
// outside of the branch from the acute side (theta times the outside radius),
// Y the place of the cut along the branch, both mm. The branch is the side of
// larger Y. The last point repeats the first one turn on.
type Template struct {
	Points          []r2.Vec
	Around          float64 // once around the outside, mm
	Least, Most     float64 // of Y
	LeastAt, MostAt geom.Angle
	Depth           float64 // Most less Least
	Proud           float64 // most that the wall's outside edge is in the way, mm along the branch
	Gap             float64 // widest gap left at the wall's outside edge, mm along the branch
	Fitted          string  // which surface is fitted
}

// Template returns the template with n points around (12 to 3600).
func (s Saddle) Template(n int) (Template, error) {
	if err := s.check(); err != nil {
		return Template{}, err
	}
	out := s.Branch / 2
	t, err := wrapTemplate("saddle", s.Name, out, n, s.cut)
	if err != nil {
		return Template{}, err
	}
	t.Fitted = s.Fit.String()
	over := func(a float64) float64 { return s.on(out, a) - s.cut(a) }
	_, proud := turnPeak(over)
	_, gap := turnPeak(func(a float64) float64 { return -over(a) })
	t.Proud, t.Gap = math.Max(0, proud), math.Max(0, gap)
	return t, nil
}

// PlateTemplate returns the template of a round tube that stands on a flat
// plate at an angle between its axis and the plate (90° when square): one wave
// of a sine, y = r cos θ / tan φ from the acute side. The outside edge is
// fitted; a flat cut brings the whole wall to the plate.
func PlateTemplate(part string, diameter float64, angle geom.Angle, n int) (Template, error) {
	if !geom.LengthOK(diameter) {
		return Template{}, bad("tube", part, "a diameter of %g mm is no size", diameter)
	}
	if !(angle >= LeastSaddle && angle <= 180*geom.Deg-LeastSaddle) {
		return Template{}, bad("tube", part, "it stands at %.1f° to the plate; %.0f° or more is needed", angle.Degrees(), LeastSaddle.Degrees())
	}
	r := diameter / 2
	slope := r * math.Cos(angle.Rad()) / math.Sin(angle.Rad())
	t, err := wrapTemplate("tube", part, r, n, func(a float64) float64 { return slope * math.Cos(a) })
	if err != nil {
		return Template{}, err
	}
	t.Fitted = "whole wall on a flat plate"
	return t, nil
}

func wrapTemplate(kind, name string, r float64, n int, f func(float64) float64) (Template, error) {
	if n < 12 || n > 3600 {
		return Template{}, bad(kind, name, "a template takes 12 to 3600 points, not %d", n)
	}
	t := Template{Around: 2 * math.Pi * r, Points: make([]r2.Vec, n+1)}
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		t.Points[i] = r2.Vec{X: r * a, Y: f(a)}
	}
	t.Points[n] = r2.Vec{X: t.Around, Y: t.Points[0].Y}
	at, most := turnPeak(f)
	t.MostAt, t.Most = geom.Angle(at), most
	at, least := turnPeak(func(a float64) float64 { return -f(a) })
	t.LeastAt, t.Least = geom.Angle(at), -least
	t.Depth = t.Most - t.Least
	if !geom.Finite(t.Depth) {
		return Template{}, fmt.Errorf("%s: the cut is not a number", geom.PartName(kind, name))
	}
	return t, nil
}

// turnPeak returns the highest place of a function over one turn: a coarse
// walk, then a fine search about the best step.
func turnPeak(f func(float64) float64) (at, value float64) {
	const steps = 360
	best, value := 0, math.Inf(-1)
	for i := range steps {
		if v := f(2 * math.Pi * float64(i) / steps); v > value+1e-12 {
			best, value = i, v
		}
	}
	a := 2 * math.Pi * float64(best) / steps
	x, v := peak(f, a-2*math.Pi/steps, a+2*math.Pi/steps)
	if v > value+1e-12 {
		return math.Mod(x+2*math.Pi, 2*math.Pi), v
	}
	return a, value
}

// peak finds the highest place of a function with one peak on [lo, hi] by
// golden section.
func peak(f func(float64) float64, lo, hi float64) (at, value float64) {
	const g = 0.6180339887498949
	a, b := lo, hi
	c, d := b-g*(b-a), a+g*(b-a)
	fc, fd := f(c), f(d)
	for range 50 {
		if fc > fd {
			b, d, fd = d, c, fc
			c = b - g*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + g*(b-a)
			fd = f(d)
		}
	}
	at, value = (a+b)/2, f((a+b)/2)
	for _, x := range []float64{lo, hi} { // a peak at an end
		if v := f(x); v > value {
			at, value = x, v
		}
	}
	return at, value
}
