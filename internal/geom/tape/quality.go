package tape

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// finish works out how good the fit is and returns it. The design is that at
// f.X.
func (s *solver) finish(f *Fit, sum float64) (*Fit, error) {
	s.bordered(0)
	if free := s.freest(); len(free) > 0 {
		return nil, &LooseError{free}
	}
	var inverse mat.Dense
	if err := inverse.Inverse(s.border); err != nil {
		return nil, &LooseError{s.freest()}
	}
	f.Cov = mat.NewSymDense(s.n, nil)
	for i := range s.n {
		for j := i; j < s.n; j++ {
			f.Cov.SetSym(i, j, (inverse.At(i, j)+inverse.At(j, i))/2)
		}
	}
	f.SumSquare = sum
	f.DoF = len(s.p.Observations) + s.c - s.n
	f.design = s.a
	f.spread = new(mat.Dense)
	f.spread.Mul(s.a, f.Cov)
	for i, o := range s.p.Observations {
		r := 1 - mat.Dot(s.a.RowView(i), f.spread.RowView(i))
		e := Residual{V: -s.l[i] * o.Sigma, Redundancy: max(r, 0), Detectable: math.Inf(1)}
		if e.Redundancy < unchecked {
			e.Redundancy = 0
		} else {
			e.W = e.V / (o.Sigma * math.Sqrt(r))
			e.Detectable = o.Sigma * shift / math.Sqrt(r)
		}
		f.Each = append(f.Each, e)
	}
	return f, nil
}

// freest lists the unknowns that can move without any observation or condition
// noticing: those with a part in the free directions of the bordered matrix,
// each unknown scaled to its own weight.
func (s *solver) freest() []int {
	n := s.n + s.c
	scale := make([]float64, n)
	for j := range n {
		if d := s.border.At(j, j); d > 0 {
			scale[j] = 1 / math.Sqrt(d)
		} else {
			scale[j] = 1
		}
	}
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			sym.SetSym(i, j, s.border.At(i, j)*scale[i]*scale[j])
		}
	}
	var lu mat.LU // tells at once that a matrix is sound; else the eigenvectors are asked
	if lu.Factorize(sym); lu.Cond() < 1e11 {
		return nil
	}
	var eig mat.EigenSym
	if !eig.Factorize(sym, true) {
		return nil
	}
	values := eig.Values(nil)
	largest := 0.0
	for _, v := range values {
		largest = max(largest, math.Abs(v))
	}
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	var out []int
	for k, v := range values {
		if math.Abs(v) > largest*1e-11 {
			continue
		}
		for j := range s.n {
			if math.Abs(vectors.At(j, k)) > 1e-3 && !slices.Contains(out, j) {
				out = append(out, j)
			}
		}
	}
	slices.Sort(out)
	return out
}

// UnitSigma is the a-posteriori standard deviation of unit weight: near 1 when
// the measurements scatter as was stated. False without a degree of freedom.
func (f *Fit) UnitSigma() (float64, bool) {
	if f.DoF <= 0 {
		return 0, false
	}
	return math.Sqrt(f.SumSquare / float64(f.DoF)), true
}

// Sigma is the standard uncertainty of an unknown.
func (f *Fit) Sigma(unknown int) float64 { return math.Sqrt(max(f.Cov.At(unknown, unknown), 0)) }

// Alike returns the correlation of the standardised residuals of two
// observations, -1 to 1: near ±1 an error in one looks like one in the other.
// 0 when either is not checked.
func (f *Fit) Alike(i, j int) float64 {
	ri, rj := f.Each[i].Redundancy, f.Each[j].Redundancy
	if i == j {
		return 1
	}
	if ri == 0 || rj == 0 {
		return 0
	}
	return -mat.Dot(f.design.RowView(i), f.spread.RowView(j)) / math.Sqrt(ri*rj)
}

// Group returns the observations that cannot be told from observation i by
// their residuals, itself first: those whose w correlates with its own by more
// than limit.
func (f *Fit) Group(i int, limit float64) []int {
	out := []int{i}
	for j := range f.Each {
		if j != i && math.Abs(f.Alike(i, j)) > limit {
			out = append(out, j)
		}
	}
	return out
}

// Ellipse is where a point of two unknowns lies with its standard uncertainty:
// half axes and the direction of the longer one, from the first unknown's axis
// to the second's, rad, in (-π/2, π/2].
type Ellipse struct{ Long, Short, Direction float64 }

// EllipseOf returns the standard error ellipse of two unknowns.
func (f *Fit) EllipseOf(x, y int) Ellipse {
	a, b, c := f.Cov.At(x, x), f.Cov.At(y, y), f.Cov.At(x, y)
	mean, root := (a+b)/2, math.Hypot((a-b)/2, c)
	return Ellipse{
		Long: math.Sqrt(max(mean+root, 0)), Short: math.Sqrt(max(mean-root, 0)),
		Direction: math.Atan2(2*c, a-b) / 2,
	}
}
