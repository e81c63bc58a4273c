package tape

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// edge works out K⁻¹U and T.
func (s *linear) edge() error {
	s.border, s.hold, s.holds, s.corner = nil, nil, nil, nil
	pins := len(s.factor.pins)
	if pins == 0 && len(s.p.Hold) == 0 {
		return nil
	}
	if pins > 0 && len(s.p.Hold) == 0 {
		return s.loose(s.pinColumns())
	}
	var u [][]float64
	for _, p := range s.factor.pins {
		c := make([]float64, s.n)
		c[p] = 1
		u = append(u, c)
	}
	for _, h := range s.p.Hold {
		c := make([]float64, s.n)
		for j, v := range h {
			c[s.position[j]] = v * s.scale[j]
		}
		size := floats.Norm(c, 2)
		if size == 0 {
			return errors.New("a condition holds nothing")
		}
		floats.Scale(1/size, c)
		s.hold, s.holds = append(s.hold, c), append(s.holds, 1/size)
		minus := make([]float64, s.n)
		floats.AddScaled(minus, -1, c)
		u = append(u, minus)
	}
	if pins > len(s.hold)+manyLoose {
		return s.loose(s.unheld(s.pinColumns()))
	}
	for _, c := range u {
		v := slices.Clone(c)
		s.factor.solve(v)
		s.border = append(s.border, v)
	}
	return s.sound(s.cornerOf(u, pins))
}

// cornerOf is T.
func (s *linear) cornerOf(u [][]float64, pins int) *mat.Dense {
	t := mat.NewDense(len(u), len(u), nil)
	for i := range u {
		for j := range u {
			t.Set(i, j, floats.Dot(u[i], s.border[j]))
		}
		if i < pins {
			t.Set(i, i, t.At(i, i)-1)
		}
	}
	return t
}

// sound factors T, or says what it leaves free.
func (s *linear) sound(t *mat.Dense) error {
	even := make([]float64, len(s.border)) // all its entries of about one size
	for i := range even {
		even[i] = 1 / math.Sqrt(max(floats.Norm(t.RawRowView(i), math.Inf(1)), 1e-300))
	}
	var evened mat.Dense
	evened.Apply(func(i, j int, v float64) float64 { return v * even[i] * even[j] }, t)
	var svd mat.SVD
	if !svd.Factorize(&evened, mat.SVDThin) {
		return errors.New("the conditions cannot be worked with")
	}
	values := svd.Values(nil)
	var v mat.Dense
	svd.VTo(&v)
	var free [][]float64
	for k, value := range values {
		if value > 1e-9*values[0] {
			continue
		}
		x := make([]float64, s.n)
		for j, c := range s.border {
			floats.AddScaled(x, v.At(j, k)*even[j], c)
		}
		free = append(free, x)
	}
	if len(free) > 0 {
		return s.loose(free)
	}
	s.corner = new(mat.LU)
	s.corner.Factorize(t)
	return nil
}

// manyLoose is by how many more there are free movements than conditions where it is not
// worth while to see how well the conditions hold them.
const manyLoose = 24

// unheld are what is left of free movements by the conditions: each less what of some of
// them the conditions would notice in it (Gauss and Jordan, by the largest entries).
func (s *linear) unheld(free [][]float64) [][]float64 {
	seen := make([][]float64, len(s.hold)) // what each condition notices of each movement
	for k, h := range s.hold {
		seen[k] = make([]float64, len(free))
		for j, c := range free {
			seen[k][j] = floats.Dot(h, c)
		}
	}
	held := make([]int, len(seen)) // the movement that each condition is left to hold
	for k, row := range seen {
		at := 0
		for j, v := range row {
			if math.Abs(v) > math.Abs(row[at]) {
				at = j
			}
		}
		if held[k] = at; math.Abs(row[at]) < 1e-9 {
			held[k] = -1
			continue
		}
		floats.Scale(1/row[at], row)
		for i, other := range seen {
			if i != k {
				floats.AddScaled(other, -other[at], row)
			}
		}
	}
	var out [][]float64
	for j, c := range free {
		if slices.Contains(held, j) {
			continue
		}
		x := slices.Clone(c)
		for k, at := range held {
			if at >= 0 {
				floats.AddScaled(x, -seen[k][j], free[at])
			}
		}
		out = append(out, x)
	}
	return out
}

// pinColumns are the free movements that the pins stand for.
func (s *linear) pinColumns() [][]float64 {
	var out [][]float64
	for _, p := range s.factor.pins {
		c := make([]float64, s.n)
		c[p] = 1
		s.factor.solve(c)
		out = append(out, c)
	}
	return out
}

// loose makes the error from free movements, by position and scaled.
func (s *linear) loose(free [][]float64) error {
	e := &LooseError{}
	goes := make([]bool, s.n)
	for _, c := range free {
		move := make([]float64, s.n)
		largest := 0.0
		for p, v := range c {
			largest = max(largest, math.Abs(v))
			move[s.unknown[p]] = v * s.scale[s.unknown[p]]
		}
		e.Moves = append(e.Moves, move)
		for p, v := range c {
			if u := s.unknown[p]; math.Abs(v) > 1e-3*largest && !goes[u] {
				goes[u] = true
				e.Unknowns = append(e.Unknowns, u)
			}
		}
	}
	if len(e.Unknowns) == 0 {
		return errors.New("two conditions say the same")
	}
	slices.Sort(e.Unknowns)
	return e
}

// bordering is UᵀK⁻¹ at a position; alongs the same along observation i.
func (s *linear) bordering(position int) []float64 {
	out := make([]float64, len(s.border))
	for k, c := range s.border {
		out[k] = c[position]
	}
	return out
}

func (s *linear) alongs(i int) []float64 {
	out := make([]float64, len(s.border))
	for k, c := range s.border {
		for a, p := range s.at[i] {
			out[k] += s.values[i][a] * c[p]
		}
	}
	return out
}

// taken is what the border takes off the plain inverse between two places.
func (s *linear) taken(a, b []float64) float64 {
	if s.corner == nil {
		return 0
	}
	var q mat.VecDense
	if solveSmall(s.corner, &q, mat.NewVecDense(len(b), b)) != nil {
		return math.NaN()
	}
	return blas64.Dot(blas64.Vector{N: len(a), Inc: 1, Data: a}, q.RawVector())
}

// apply turns a right side by position into the answer, in place: the bordered
// inverse times b.
func (s *linear) apply(b []float64) {
	var right *mat.VecDense
	if s.corner != nil {
		right = mat.NewVecDense(len(s.border), nil)
		for k, c := range s.border {
			right.SetVec(k, floats.Dot(c, b))
		}
	}
	s.factor.solve(b)
	if right == nil {
		return
	}
	var q mat.VecDense
	if solveSmall(s.corner, &q, right) != nil {
		b[0] = math.NaN()
		return
	}
	for k, c := range s.border {
		floats.AddScaled(b, -q.AtVec(k), c)
	}
}

// column is a column of the scaled covariance, by position.
func (s *linear) column(position int) []float64 {
	b := make([]float64, s.n)
	b[position] = 1
	s.apply(b)
	return b
}

// reach is what one uncertainty of observation i does to the unknowns, by
// position and scaled.
func (s *linear) reach(i int) []float64 {
	b := make([]float64, s.n)
	for k, p := range s.at[i] {
		b[p] += s.values[i][k]
	}
	s.apply(b)
	return b
}

// spread is the covariance of a linear function with every unknown, and the
// function itself, by position and scaled.
func (s *linear) spread(partials map[int]float64) (cov []float64, of map[int]float64) {
	of = map[int]float64{}
	cov = make([]float64, s.n)
	for u, d := range partials {
		of[s.position[u]] = d * s.scale[u]
		cov[s.position[u]] = d * s.scale[u]
	}
	s.apply(cov)
	return cov, of
}

// solveSmall solves with T; that it is ill conditioned alone is no error.
func solveSmall(lu *mat.LU, to *mat.VecDense, right *mat.VecDense) error {
	err := lu.SolveVecTo(to, false, right)
	var near mat.Condition
	if errors.As(err, &near) && !math.IsInf(float64(near), 1) {
		return nil
	}
	return err
}
