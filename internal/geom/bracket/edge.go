package bracket

import (
	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
)

// EdgePull is how a bolt pattern holds a plate that tips about one of its edges.
type EdgePull struct {
	Arms    []float64 // of each bolt from the edge, mm
	Tension []float64 // N, in the order of the bolts
	Most    float64   // N, of the hardest pulled
}

// AboutEdge divides a moment among the bolts of a plate that tips about a straight
// edge which stays pressed on: F = M y/∑y², y from the edge (Shigley's Mechanical
// Engineering Design, ch. 8, and the usual hand calculation, from memory). The edge
// runs through on, mm, in the pattern's plane; inward, of any length, is square to it
// on the side of the bolts; the moment, N·mm, lifts the bolts when positive. A plate
// that gives way bears nearer to its bolts than its edge: Share, about the bolts' own
// middle, is on the safe side for it. Prying comes on top. A screening figure.
func (p BoltPattern) AboutEdge(on, inward r2.Vec, moment float64) (EdgePull, error) {
	if _, err := p.Ready(); err != nil {
		return EdgePull{}, err
	}
	if !geom.Finite(on.X, on.Y, inward.X, inward.Y) || r2.Norm(inward) <= geom.Tiny {
		return EdgePull{}, p.bad("the edge it tips about has no place or no direction")
	}
	if !geom.LoadOK(moment) || moment < 0 {
		return EdgePull{}, p.bad("a moment of %g N·mm does not lift the plate off its bolts' side; take the other edge", moment)
	}
	in := r2.Unit(inward)
	out := EdgePull{Arms: make([]float64, len(p.At)), Tension: make([]float64, len(p.At))}
	sum := 0.0
	for i, q := range p.At {
		y := r2.Dot(in, r2.Sub(q, on))
		if y < -geom.Tiny {
			return EdgePull{}, p.bad("the bolt at %g, %g mm lies outside the edge it tips about", q.X, q.Y)
		}
		out.Arms[i] = max(0, y)
		sum += y * y
	}
	if !(sum > geom.Tiny) {
		return EdgePull{}, p.bad("all bolts lie on the edge it tips about and hold nothing; set one away from it")
	}
	for i, y := range out.Arms {
		out.Tension[i] = moment * y / sum
		out.Most = max(out.Most, out.Tension[i])
	}
	return out, nil
}

// TStub is a plate that a pull bends away from its bolts, on two sides of the part
// that pulls: the equivalent T-stub of EN 1993-1-8, 6.2.4.
type TStub struct {
	Name      string
	Thickness float64 // of the plate, mm
	Length    float64 // effective, along the part that pulls, mm
	Yield     float64 // of the plate, MPa
	Arm       float64 // m: bolt to the part that pulls (its weld's edge), mm
	Edge      float64 // from bolt to the plate's edge, mm; at most 1.25 m counts
	Bolts     float64 // what all its bolts carry in tension together, N
}

// StubMode is the way a T-stub fails first.
type StubMode uint8

// The modes of EN 1993-1-8, table 6.2.
const (
	StubPlate    StubMode = 1 + iota // the plate yields at the part and at the bolts
	StubPrying                       // bolts fail, pried by a plate that yields at the part
	StubBoltOnly                     // bolts fail, the plate stays flat
)

// String says it in words.
func (m StubMode) String() string {
	switch m {
	case StubPlate:
		return "the plate bends at its part and at its bolts"
	case StubPrying:
		return "the plate bends and pries at its bolts"
	case StubBoltOnly:
		return "the bolts alone; the plate stays flat"
	}
	return "unknown"
}

// StubStrength is what a T-stub carries.
type StubStrength struct {
	Modes  [3]float64 // N, in the order of StubMode
	Limit  float64    // the least of them, N
	Mode   StubMode   // which
	Prying float64    // what all bolts carry more than the pull, at the limit, N
}

// Strength is EN 1993-1-8, table 6.2, with prying, method 1 and γM0 of 1 (from
// memory): 4 Mpl/m, (2 Mpl + n ∑F)/(m + n) and ∑F with Mpl = l t² fy/4. A screening
// figure: a licensed engineer and the local rules decide.
func (s TStub) Strength() (StubStrength, error) {
	bad := func(format string, args ...any) (StubStrength, error) {
		return StubStrength{}, bad("plate", s.Name, format, args...)
	}
	for _, c := range []struct {
		what string
		v    float64
	}{{"thickness", s.Thickness}, {"length", s.Length}, {"distance from bolt to part", s.Arm}, {"distance from bolt to edge", s.Edge}} {
		if !geom.LengthOK(c.v) {
			return bad("its %s is %g mm; more than 0 is wanted", c.what, c.v)
		}
	}
	if !(s.Yield >= 10 && s.Yield <= 3000) {
		return bad("a yield of %g MPa is no metal; S235 has 235", s.Yield)
	}
	if !(s.Bolts >= 1) || !geom.LoadOK(s.Bolts) {
		return bad("what its bolts carry in tension is not given")
	}
	m, n := s.Arm, min(s.Edge, 1.25*s.Arm)
	plastic := s.Length * s.Thickness * s.Thickness * s.Yield / 4
	r := StubStrength{Modes: [3]float64{4 * plastic / m, (2*plastic + n*s.Bolts) / (m + n), s.Bolts}, Mode: StubPlate}
	r.Limit = r.Modes[0]
	for i, v := range r.Modes {
		if v < r.Limit {
			r.Limit, r.Mode = v, StubMode(i+1)
		}
	}
	switch r.Mode {
	case StubPlate:
		r.Prying = min(2*plastic/n, s.Bolts-r.Limit)
	case StubPrying:
		r.Prying = s.Bolts - r.Limit
	case StubBoltOnly:
	}
	return r, nil
}
