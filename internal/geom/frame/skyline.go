package frame

import "math"

// skyline is the lower triangle of a symmetric matrix, row by row from the first
// place that can differ from zero; after factor it is Cholesky's L.
type skyline struct {
	first []int // column
	start []int // of the row in a
	a     []float64
	root  []float64 // 1/√ of the diagonal that a was scaled by
}

func newSkyline(first []int) *skyline {
	s := &skyline{first: first, start: make([]int, len(first))}
	n := 0
	for i, f := range first {
		s.start[i] = n
		n += i - f + 1
	}
	s.a = make([]float64, n)
	return s
}

// row returns row i; its place j holds column first+j.
func (s *skyline) row(i int) []float64 {
	return s.a[s.start[i] : s.start[i]+i-s.first[i]+1]
}

func (s *skyline) add(i, j int, v float64) {
	if i < j {
		i, j = j, i
	}
	s.a[s.start[i]+j-s.first[i]] += v
}

// loosePivot is the part of its own stiffness that must be left in a way when all
// before it give way. With less, nothing but rounding holds it.
const loosePivot = 1e-11

// factor scales to a diagonal of ones and works out L. A way that nothing holds
// is given to loose, with how all ways before it go along when it goes by 1, in
// the numbers' own units; it is pinned where loose returns no error.
func (s *skyline) factor(loose func(i int, with []float64) error) error {
	n := len(s.first)
	s.root = make([]float64, n)
	for i := range n {
		if d := s.row(i)[i-s.first[i]]; d > 0 {
			s.root[i] = 1 / math.Sqrt(d)
		}
	}
	for i := range n {
		row, fi := s.row(i), s.first[i]
		for j := range row {
			row[j] *= s.root[i] * s.root[fi+j]
		}
		for j := fi; j < i; j++ {
			other, fj := s.row(j), s.first[j]
			from := max(fi, fj)
			row[j-fi] = (row[j-fi] - dot(row[from-fi:j-fi], other[from-fj:j-fj])) / other[j-fj]
		}
		d := row[i-fi] - dot(row[:i-fi], row[:i-fi])
		if d > loosePivot {
			row[i-fi] = math.Sqrt(d)
			continue
		}
		if err := loose(i, s.along(i)); err != nil {
			return err
		}
		clear(row)
		row[i-fi], s.root[i] = 1, 0 // never moves
	}
	return nil
}

// along returns how the ways before i go along when i goes by 1: L₀ᵀ x = −row.
func (s *skyline) along(i int) []float64 {
	x := make([]float64, i+1)
	for j, v := range s.row(i)[:i-s.first[i]] {
		x[s.first[i]+j] = -v
	}
	s.back(x[:i])
	for j := range i {
		x[j] *= s.root[j]
	}
	x[i] = s.root[i]
	if x[i] == 0 {
		x[i] = 1
		return x
	}
	for j := range x {
		x[j] /= s.root[i]
	}
	return x
}

// back solves Lᵀ x = x for as many rows as x has.
func (s *skyline) back(x []float64) {
	for i := len(x) - 1; i >= 0; i-- {
		row, f := s.row(i), s.first[i]
		v := x[i] / row[i-f]
		x[i] = v
		if v == 0 {
			continue
		}
		to := x[f:i]
		for j, l := range row[:i-f] {
			to[j] -= l * v
		}
	}
}

// forward solves L x = x.
func (s *skyline) forward(x []float64) {
	for i := range x {
		row, f := s.row(i), s.first[i]
		x[i] = (x[i] - dot(row[:i-f], x[f:i])) / row[i-f]
	}
}

// solve replaces the forces in x by how far they push; a pinned way stays.
func (s *skyline) solve(x []float64) {
	s.scale(x)
	s.forward(x)
	s.back(x)
	s.scale(x)
}

func (s *skyline) scale(x []float64) {
	for i := range x {
		x[i] *= s.root[i]
	}
}

func dot(a, b []float64) float64 {
	b = b[:len(a)]
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}
