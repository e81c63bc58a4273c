package tape

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// step is the correction at x.
func (s *linear) step(ctx context.Context, x []float64, damp float64) ([]float64, error) {
	if !s.fresh && s.factor != nil && s.damp == 0 && damp == 0 {
		if step, ok := s.iterate(ctx, s.slope()); ok {
			return s.byUnknown(step), nil
		}
	}
	return s.direct(ctx, x, damp)
}

// slope is what the misfit asks of the unknowns: Aᵀl, by position and scaled.
func (s *linear) slope() []float64 {
	d := make([]float64, s.n)
	for i, at := range s.at {
		for k, p := range at {
			d[p] += s.values[i][k] * s.off[i]
		}
	}
	return d
}

const (
	maxIterate = 15
	forcing    = 1e-6 // of the square of the error, in the norm of the equations
)

// iterate solves the present equations by conjugate gradients, with the factor of
// the place before to shorten the way (M. R. Hestenes and E. Stiefel, 1952). It
// stops when the error, in uncertainties, is a thousandth of the step. False when
// that takes too long: the place before is too far.
func (s *linear) iterate(ctx context.Context, right []float64) ([]float64, bool) {
	d, r := make([]float64, s.n), right
	z := slices.Clone(r)
	s.apply(z)
	rho := floats.Dot(r, z)
	along, first := slices.Clone(z), rho
	for range maxIterate {
		if rho <= forcing*first {
			return d, true
		}
		if ctx.Err() != nil {
			return nil, false
		}
		turned := s.normal(along)
		bend := floats.Dot(along, turned)
		if !(bend > 0) || !(rho > 0) {
			return nil, false
		}
		floats.AddScaled(d, rho/bend, along)
		floats.AddScaled(r, -rho/bend, turned)
		copy(z, r)
		s.apply(z)
		next := floats.Dot(r, z)
		floats.AddScaledTo(along, z, next/rho, along)
		rho = next
	}
	return nil, false
}

// normal is the normal equations times d, by position.
func (s *linear) normal(d []float64) []float64 {
	out := make([]float64, s.n)
	for i, at := range s.at {
		sum := 0.0
		for k, p := range at {
			sum += s.values[i][k] * d[p]
		}
		for k, p := range at {
			out[p] += s.values[i][k] * sum
		}
	}
	return out
}

func (s *linear) byUnknown(d []float64) []float64 {
	out := make([]float64, s.n)
	for u := range out {
		out[u] = d[s.position[u]] * s.scale[u]
	}
	return out
}

// direct is the correction at x by the factor of this place.
func (s *linear) direct(ctx context.Context, x []float64, damp float64) ([]float64, error) {
	if err := s.factorise(ctx, damp); err != nil {
		return nil, err
	}
	d := s.slope()
	s.factor.solve(d)
	if s.corner != nil {
		right := mat.NewVecDense(len(s.border), nil)
		for k := range s.factor.pins {
			right.SetVec(k, -d[s.factor.pins[k]])
		}
		for k, h := range s.hold {
			off := 0.0
			for j, v := range s.p.Hold[k] {
				off -= v * (x[j] - s.p.Start[j])
			}
			right.SetVec(len(s.factor.pins)+k, floats.Dot(h, d)-off*s.holds[k])
		}
		var q mat.VecDense
		if err := solveSmall(s.corner, &q, right); err != nil {
			return nil, err
		}
		for k, c := range s.border {
			floats.AddScaled(d, q.AtVec(k), c)
		}
	}
	return s.byUnknown(d), nil
}

// small reports whether a correction no longer matters: neither beside what the
// unknowns are known to, nor beside their size, each times slack.
func (s *linear) small(step []float64, slack float64) bool {
	size := 0.0
	for _, x := range s.p.Start {
		size = max(size, math.Abs(x))
	}
	for j, d := range step {
		if d /= slack; math.Abs(d)/s.scale[j] > 1e-7 && math.Abs(d) > converged*(1+size) || math.Abs(d) > 1e-6*(1+size) {
			return false
		}
	}
	return true
}
