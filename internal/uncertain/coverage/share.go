package coverage

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// Share is how many of a number of outcomes there were of a kind, by builds.
type Share struct {
	Hits, Of int
	Builds   int // with at least one outcome
	// sums over builds of hits², hits·of and of².
	hh, hn, nn float64
}

// add counts an outcome of the build that is open.
func (s *Share) add(hit bool) {
	s.Of++
	if hit {
		s.Hits++
	}
}

// close ends a build.
func (s *Share) close() {
	if s.Of == 0 {
		return
	}
	h, n := float64(s.Hits), float64(s.Of)
	s.Builds, s.hh, s.hn, s.nn = 1, h*h, h*n, n*n
}

func (s *Share) join(o Share) {
	s.Hits, s.Of, s.Builds = s.Hits+o.Hits, s.Of+o.Of, s.Builds+o.Builds
	s.hh, s.hn, s.nn = s.hh+o.hh, s.hn+o.hn, s.nn+o.nn
}

// Value is the share, NaN when there was nothing.
func (s Share) Value() float64 { return float64(s.Hits) / float64(s.Of) }

// Effective is the number of independent outcomes that would know the share as
// well: the number of outcomes over the design effect, at most that number; that
// of the builds where the share is none or all, or there are fewer than two.
func (s Share) Effective() float64 {
	m, n := float64(s.Builds), float64(s.Of)
	if s.Hits == 0 || s.Hits == s.Of || m < 2 {
		return m
	}
	p := s.Value()
	variance := m / (m - 1) * (s.hh - 2*p*s.hn + p*p*s.nn) / (n * n)
	if variance <= 0 {
		return m
	}
	return min(n, p*(1-p)/variance)
}

// Lower is the one-sided lower bound of the share at the given confidence
// (Clopper and Pearson, 1934, for the effective number); 0 when there was
// nothing.
func (s Share) Lower(confidence float64) float64 {
	n := s.Effective()
	if s.Hits == 0 || n == 0 {
		return 0
	}
	x := s.Value() * n
	return beta(1-confidence, x, n-x+1)
}

// Upper is the one-sided upper bound; 1 when there was nothing.
func (s Share) Upper(confidence float64) float64 {
	n := s.Effective()
	if s.Hits == s.Of || n == 0 {
		return 1
	}
	x := s.Value() * n
	return beta(confidence, x+1, n-x)
}

// beta is the quantile p of the beta distribution.
func beta(p, a, b float64) float64 {
	low, high := 0.0, 1.0
	for range 60 {
		mid := (low + high) / 2
		if mathext.RegIncBeta(a, b, mid) < p {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Min(high, 1)
}
