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
