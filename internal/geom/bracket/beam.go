package bracket

import (
	"math"

	"fitup/internal/geom"
)

// Hold says how the ends of a beam are held.
type Hold uint8

// The ways to hold a beam.
const (
	HoldUnknown Hold = iota
	Cantilever       // built in at 0, free at the span
	Simple           // resting at both ends
	BuiltIn          // built in at both ends
)

// Beam is a straight beam of one section on a span, mm. E is in MPa, I the
// second moment of area about the bending axis in mm⁴, W the section modulus
// in mm³. Any other set of units that goes together serves as well.
type Beam struct {
	Name       string
	Hold       Hold
	Span, E    float64
	I, Modulus float64
}

// Bending is what one load does to a beam. Moments, stress and deflections are
// sizes without sign; places are from the beam's end 0.
type Bending struct {
	Moment       float64 // largest bending moment, N·mm
	MomentAt     float64 // where, mm
	Stress       float64 // Moment over section modulus, MPa
	Deflection   float64 // largest deflection, mm
	DeflectionAt float64 // where, mm
	AtLoad       float64 // deflection under a point load, mm
	Stiffness    float64 // load over deflection at a point load, N/mm
}

func (b Beam) bad(format string, args ...any) error { return bad("beam", b.Name, format, args...) }

func (b Beam) check() error {
	switch {
	case b.Hold < Cantilever || b.Hold > BuiltIn:
		return b.bad("say how its ends are held: cantilever, simple or built in")
	case !geom.LengthOK(b.Span):
		return b.bad("a span of %g mm is no span", b.Span)
	case !(b.E >= 1) || !geom.LoadOK(b.E):
		return b.bad("a modulus of %g MPa is no material; steel has 210000", b.E)
	case !(b.I >= geom.Least && b.I < 1e24 && b.Modulus >= geom.Least && b.Modulus < 1e24):
		return b.bad("the section has no bending strength; give I and W")
	}
	return nil
}

// Point returns the bending of a point load F (N) at a (mm from end 0). The
// sign of F does not matter. Formulas of Roark's Formulas for Stress and
// Strain and of Shigley's table A-9 (from memory). Screening figures.
func (b Beam) Point(f, a float64) (Bending, error) {
	if err := b.check(); err != nil {
		return Bending{}, err
	}
	if !geom.LoadOK(f) || f == 0 {
		return Bending{}, b.bad("a load of %g N is no load", f)
	}
	ends := b.Hold != Cantilever
	if !(a > 0 && a <= b.Span) || ends && a == b.Span {
		return Bending{}, b.bad("the load stands at %g mm, which is not on the span of %g mm", a, b.Span)
	}
	f = math.Abs(f)
	var r Bending
	switch b.Hold {
	case Cantilever:
		r = b.pointCantilever(f, a)
	case Simple:
		r = b.pointSimple(f, a)
	case BuiltIn:
		r = b.pointBuiltIn(f, a)
	}
	r.Stress = r.Moment / b.Modulus
	if r.AtLoad > 0 {
		r.Stiffness = f / r.AtLoad
	}
	return r, nil
}

func (b Beam) pointCantilever(f, a float64) Bending {
	ei := b.E * b.I
	return Bending{
		Moment: f * a, MomentAt: 0,
		AtLoad:     f * a * a * a / (3 * ei),
		Deflection: f * a * a * (3*b.Span - a) / (6 * ei), DeflectionAt: b.Span,
	}
}

func (b Beam) pointSimple(f, a float64) Bending {
	l, ei := b.Span, b.E*b.I
	c := l - a
	short := math.Min(a, c)
	// The largest deflection lies in the longer part, measured from its end.
	at := math.Sqrt((l*l - short*short) / 3)
	r := Bending{
		Moment: f * a * c / l, MomentAt: a,
		AtLoad:       f * a * a * c * c / (3 * ei * l),
		Deflection:   f * short * math.Pow(l*l-short*short, 1.5) / (9 * math.Sqrt(3) * ei * l),
		DeflectionAt: at,
	}
	if a < c {
		r.DeflectionAt = l - at
	}
	return r
}

func (b Beam) pointBuiltIn(f, a float64) Bending {
	l, ei := b.Span, b.E*b.I
	c := l - a
	r := Bending{AtLoad: f * a * a * a * c * c * c / (3 * ei * l * l * l)}
	// The end nearer the load has the larger moment.
	r.Moment, r.MomentAt = f*a*c*c/(l*l), 0
	long, short := c, a
	if a > c {
		r.Moment, r.MomentAt = f*a*a*c/(l*l), l
		long, short = a, c
	}
	w := 3*long + short
	r.Deflection = 2 * f * long * long * long * short * short / (3 * ei * w * w)
	r.DeflectionAt = 2 * long * l / w // from the end of the longer part
	if long == c {
		r.DeflectionAt = l - r.DeflectionAt
	}
	return r
}

// Uniform returns the bending of a load spread evenly over the whole span, w
// in N per mm. Sources as Point. AtLoad and Stiffness have no meaning and are
// zero. Screening figures.
func (b Beam) Uniform(w float64) (Bending, error) {
	if err := b.check(); err != nil {
		return Bending{}, err
	}
	if !geom.LoadOK(w) || w == 0 {
		return Bending{}, b.bad("a load of %g N/mm is no load", w)
	}
	w = math.Abs(w)
	l, ei := b.Span, b.E*b.I
	var r Bending
	switch b.Hold {
	case Cantilever:
		r = Bending{Moment: w * l * l / 2, Deflection: w * l * l * l * l / (8 * ei), DeflectionAt: l}
	case Simple:
		r = Bending{Moment: w * l * l / 8, MomentAt: l / 2,
			Deflection: 5 * w * l * l * l * l / (384 * ei), DeflectionAt: l / 2}
	case BuiltIn:
		r = Bending{Moment: w * l * l / 12, Deflection: w * l * l * l * l / (384 * ei), DeflectionAt: l / 2}
	}
	r.Stress = r.Moment / b.Modulus
	return r, nil
}

// Buckling returns the Euler load in N of a straight strut of length l (mm)
// with the effective length factor k: 2 for a leg built in at one end and free
// at the other, 1 for pins at both ends. A screening figure: real struts fail
// below it.
func Buckling(part string, e, i, l, k float64) (float64, error) {
	if !(e > 0 && i > 0 && k > 0) || !geom.LengthOK(l) || !geom.LoadOK(e, k) || !(i < 1e24) {
		return 0, bad("strut", part, "needs a modulus, a section, a length and an end factor above zero")
	}
	p := math.Pi * math.Pi * e * i / (k * l * k * l)
	if math.IsInf(p, 0) {
		return 0, bad("strut", part, "a length of %g mm is too short to buckle", l)
	}
	return p, nil
}
