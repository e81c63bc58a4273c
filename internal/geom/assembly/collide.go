package assembly

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// through is how deep two members may lie in each other, mm: what a file rubs off.
const through = 0.5

// collide refuses members that run through each other.
func (s *Solved) collide() error {
	solids := make([]convex, len(s.Parts))
	for i := range s.Parts {
		solids[i] = s.Parts[i].solid()
	}
	for i := range s.Parts {
		for k := range i {
			p, q := &s.Parts[i], &s.Parts[k]
			if p.Host[0] == k || p.Host[1] == k || q.Host[0] == i || q.Host[1] == i {
				continue // one is cut to the other
			}
			if deep := -apart(&solids[i], &solids[k]); deep > through {
				return s.bad(&p.Member, "it runs %.1f mm into %s; move them apart, or end one on the other", deep, q.Name)
			}
		}
	}
	return nil
}

// convex is a convex solid by its corners, the ways its faces look and the ways
// its edges run.
type convex struct{ corners, faces, edges []r3.Vec }

// solid is a member with its edges sharp, a round one as one of many sides.
func (p *Part) solid() convex {
	const round = 4 // points to each quarter
	first, second := p.Cut.Outline(false, round), p.Cut.Outline(true, round)
	if p.Shape.B > 0 {
		b, h := p.sizes()
		first, second = nil, nil
		for _, k := range [4][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}} {
			u, v := k[0]*b/2, k[1]*h/2
			side := r3.Add(p.Cut.Pad.At, r3.Add(r3.Scale(u, p.Cut.U), r3.Scale(v, p.Cut.V)))
			from, to := p.Cut.Line(u, v)
			first = append(first, r3.Add(side, r3.Scale(from, p.Cut.Axis)))
			second = append(second, r3.Add(side, r3.Scale(to, p.Cut.Axis)))
		}
	}
	c := convex{corners: append(append([]r3.Vec{}, first...), second...),
		faces: []r3.Vec{p.Cut.Pad.Normal, p.Cut.Rail.Normal}, edges: []r3.Vec{p.Cut.Axis}}
	for i := range first {
		n := (i + 1) % len(first)
		a, b := r3.Sub(first[n], first[i]), r3.Sub(second[n], second[i])
		c.edges = append(c.edges, a, b)
		c.faces = append(c.faces, r3.Cross(p.Cut.Axis, a))
	}
	return c
}

// apart is how far two convex solids stand apart along the direction that parts
// them most, mm; negative by how far they lie in each other (separating axes:
// Ericson, Real-Time Collision Detection, ch. 5, from memory).
func apart(a, b *convex) float64 {
	most := math.Inf(-1)
	try := func(d r3.Vec) {
		n, err := geom.Unit(d)
		if err != nil || r3.Norm(d) < 1e-9 {
			return
		}
		lo, hi := a.span(n)
		from, to := b.span(n)
		most = max(most, from-hi, lo-to)
	}
	for _, f := range a.faces {
		try(f)
	}
	for _, f := range b.faces {
		try(f)
	}
	if most > 0 {
		return most
	}
	for _, e := range a.edges {
		for _, f := range b.edges {
			try(r3.Cross(e, f))
		}
	}
	return most
}

func (c *convex) span(n r3.Vec) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range c.corners {
		d := r3.Dot(n, p)
		lo, hi = min(lo, d), max(hi, d)
	}
	return lo, hi
}
