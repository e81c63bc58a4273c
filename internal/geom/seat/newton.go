package seat

import (
	"math"
)

// step is the shift and turn that would balance what is left, turns counted as travel
// at reach.
func (s *Hung) step(soft *softness, left [6]float64) [6]float64 {
	for i := 3; i < 6; i++ {
		left[i] /= s.reach
	}
	var m [6]float64
	for i := range m {
		k := &soft.six[i]
		m[i] = k[0]*left[0] + k[1]*left[1] + k[2]*left[2] + k[3]*left[3] + k[4]*left[4] + k[5]*left[5]
	}
	return m
}

// turning is a step with its turns in rad.
func (s *Hung) turning(m [6]float64) [6]float64 {
	for i := 3; i < 6; i++ {
		m[i] /= s.reach
	}
	return m
}

// shown are the steps taken by one stiffness, which show how it differs from that where
// the body is: Broyden's good method, written with nothing but its steps (Kelley,
// Iterative Methods for Linear and Nonlinear Equations, 1995, 7.3, from memory).
type shown struct {
	taken [8][6]float64
	steps int
}

// next is the step to take where the stiffness by itself says m.
func (b *shown) next(m [6]float64) [6]float64 {
	if b.steps == len(b.taken) {
		b.steps = 0
	}
	if n := b.steps; n > 0 {
		for j := range n - 1 {
			by := along(&b.taken[j], &m)
			for i := range m {
				m[i] += by * b.taken[j+1][i]
			}
		}
		const most = 0.5 // of the step before; more is not nearly the same stiffness
		if by := along(&b.taken[n-1], &m); math.Abs(by) < most {
			for i := range m {
				m[i] /= 1 - by
			}
		}
	}
	b.taken[b.steps] = m
	b.steps++
	return m
}

// along is how much of a there is in b.
func along(a, b *[6]float64) float64 {
	ab, aa := 0.0, 0.0
	for i := range a {
		ab += a[i] * b[i]
		aa += a[i] * a[i]
	}
	if aa == 0 {
		return 0
	}
	return ab / aa
}

// line takes as much of the step as brings the powertrain nearer to balance, and says
// whether that was the whole of it.
func (s *Hung) line(l dead, p position, move [6]float64, size float64) (to position, leaves [6]float64, left float64, whole bool) {
	whole = true
	if t := math.Sqrt(move[3]*move[3] + move[4]*move[4] + move[5]*move[5]); t > 0.2 {
		whole = false
		for i := range move {
			move[i] *= 0.2 / t
		}
	}
	tries := straighten
	if size <= balanced {
		tries = 1 // what is left is rounding
	}
	for range tries {
		next := p.by(move)
		leaves = s.residual(l, next)
		if n := s.norm(leaves); n < size {
			return next, leaves, n, whole
		}
		whole = false
		for i := range move {
			move[i] /= 2
		}
	}
	return p, leaves, size, false
}
