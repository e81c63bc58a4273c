package tape

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// linear is a problem at one place: sparse normal equations, scaled to a diagonal
// of ones, with the conditions as a border.
//
// With K the factored matrix, pins included, E the pinned unknowns, H the
// conditions and U = [E -Hᵀ], the bordered inverse is K⁻¹ - K⁻¹U T⁻¹ UᵀK⁻¹ with
// T = UᵀK⁻¹U less a one for each pin (Woodbury): the pins are taken out again, and
// what they stood for is left to the conditions.
type linear struct {
	p Problem
	n int
	*ordering
	rows   [][]int     // the unknowns of each observation
	at     [][]int     // their positions
	front  []int       // the front that holds them all
	places [][]int     // where they stand in it
	inside [][]int     // the observations that each front takes in
	values [][]float64 // partial derivatives, over the uncertainty and times the scale
	raw    [][]float64 // the same, not scaled
	off    []float64   // observed less computed, over the uncertainty
	scale  []float64   // of each unknown: one over the root of its weight
	factor *factor
	damp   float64
	fresh  bool        // whether the factor is that of the present place
	pins   []int       // of the last factor without damping
	border [][]float64 // K⁻¹U, a column each
	hold   [][]float64 // H by position, scaled, each row of length 1
	holds  []float64   // its scale
	corner *mat.LU     // T; nil without a border
}

func newLinear(p Problem) *linear {
	m := len(p.Observations)
	s := &linear{
		p: p, n: len(p.Start), rows: make([][]int, m), at: make([][]int, m), front: make([]int, m), places: make([][]int, m),
		values: make([][]float64, m), raw: make([][]float64, m), off: make([]float64, m), scale: make([]float64, len(p.Start)),
	}
	entries := s.findRows()
	s.ordering = order(s.n, s.rows)
	s.inside = make([][]int, len(s.fronts))
	whole, parts := make([]int, 2*entries), make([]float64, 2*entries) // of all rows, cut up below
	for i, row := range s.rows {
		s.at[i], whole = cut(whole, len(row))
		s.places[i], whole = cut(whole, len(row))
		s.values[i], parts = cut(parts, len(row))
		s.raw[i], parts = cut(parts, len(row))
		if len(row) == 0 { // between known points
			continue
		}
		for k, u := range row {
			s.at[i][k] = s.position[u]
		}
		s.front[i] = s.frontOf[slices.Min(s.at[i])]
		for k, at := range s.at[i] {
			s.places[i][k] = s.fronts[s.front[i]].place(at)
		}
		s.inside[s.front[i]] = append(s.inside[s.front[i]], i)
	}
	s.pins = s.pinsFor(p.Hold)
	return s
}

// findRows finds the unknowns of each observation, and returns how many they are in all.
func (s *linear) findRows() int {
	all, begin := make([]int, 0, 8*len(s.rows)), 0
	add := func(j int, _ float64) {
		if !slices.Contains(all[begin:], j) {
			all = append(all, j)
		}
	}
	entries := 0
	for i, o := range s.p.Observations {
		begin = len(all)
		o.Of.Partials(s.p.Start, add)
		s.rows[i] = all[begin:len(all):len(all)] // stays where it is when all grows
		entries += len(s.rows[i])
	}
	return entries
}

// cut takes the first n off.
func cut[T any](from []T, n int) (first, rest []T) { return from[:n:n], from[n:] }

// pinsFor chooses the unknowns, by position, that fix most surely what the
// conditions hold: one after the other the one with most of the conditions that
// those before it leave (Gram and Schmidt with pivots).
func (s *linear) pinsFor(hold [][]float64) []int {
	if len(hold) == 0 {
		return nil
	}
	left := mat.NewDense(s.n, len(hold), nil)
	for i, h := range hold {
		for j, v := range h {
			left.Set(j, i, v)
		}
	}
	var out []int
	first := 0.0
	for range hold {
		best, most := 0, 0.0
		for j := range s.n {
			if size := floats.Norm(left.RawRowView(j), 2); size > most {
				best, most = j, size
			}
		}
		if first = max(first, most); most <= 1e-9*first {
			break
		}
		out = append(out, s.position[best])
		unit := slices.Clone(left.RawRowView(best))
		floats.Scale(1/most, unit)
		for j := range s.n {
			row := left.RawRowView(j)
			floats.AddScaled(row, -floats.Dot(row, unit), unit)
		}
	}
	return out
}

// linearise works out partial derivatives and misfit at x, and returns the sum of
// squares. What was factored before is then that of a place nearby.
func (s *linear) linearise(x []float64) float64 {
	s.fresh = false
	sum := 0.0
	var row []int
	var to []float64
	var sigma float64
	add := func(j int, d float64) { to[slices.Index(row, j)] += d / sigma }
	for i, o := range s.p.Observations {
		row, to, sigma = s.rows[i], s.raw[i], o.Sigma
		clear(to)
		o.Of.Partials(x, add)
		s.off[i] = (o.Value - o.Of.At(x)) / o.Sigma
		sum += s.off[i] * s.off[i]
	}
	if s.factor == nil {
		s.rescale()
	}
	s.weigh()
	return sum
}

// rescale takes the scale from the weights of the unknowns.
func (s *linear) rescale() {
	clear(s.scale)
	for i, row := range s.rows {
		for k, u := range row {
			s.scale[u] += s.raw[i][k] * s.raw[i][k]
		}
	}
	for u, w := range s.scale {
		s.scale[u] = 1
		if w > 0 {
			s.scale[u] = 1 / math.Sqrt(w)
		}
	}
}

func (s *linear) weigh() {
	for i, row := range s.rows {
		for k, u := range row {
			s.values[i][k] = s.raw[i][k] * s.scale[u]
		}
	}
}

// factorise factors the equations, each unknown damped in proportion to its own
// weight, and prepares the border. It returns a *LooseError when something is free.
func (s *linear) factorise(ctx context.Context, damp float64) error {
	if s.fresh && s.damp == damp {
		return nil
	}
	s.rescale()
	s.weigh()
	var pinned []int // what conditions hold or was loose before is so again: it is not found out anew
	if damp == 0 {
		pinned = s.pins
	}
	f, err := factorise(ctx, s.ordering, func(k int, m []float64, size int) {
		for _, i := range s.inside[k] {
			v := s.values[i]
			for a, p := range s.places[i] {
				for b, q := range s.places[i] {
					if p <= q {
						m[p*size+q] += v[a] * v[b]
					}
				}
			}
		}
		for i := range s.fronts[k].width {
			m[i*(size+1)] *= 1 + damp
		}
	}, pinned)
	if err != nil {
		return err
	}
	s.factor, s.damp, s.fresh = f, damp, true
	if damp == 0 {
		s.pins = f.pins
	}
	return s.edge()
}
