package tape

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Observation is one measurement of something that follows from the unknowns.
type Observation struct {
	Name  string
	Value float64 // as measured
	Sigma float64 // its standard uncertainty, same unit; positive
	Of    Function
}

// Function is what is measured. Partials calls add once for each unknown it
// rests on, with the partial derivative at x.
type Function interface {
	At(x []float64) float64
	Partials(x []float64, add func(unknown int, d float64))
}

// Problem is a set of observations and where to start from.
type Problem struct {
	Start        []float64 // approximate unknowns
	Observations []Observation
	// Hold are linear conditions on the correction to Start, one row each:
	// the sum of Hold[i][j]·(x[j]-Start[j]) is 0. A network without fixed
	// points gets the rows of its free movements here (inner constraints), and
	// is then turned and shifted as little as can be.
	Hold [][]float64
}

// Fit is the answer to a Problem.
type Fit struct {
	X          []float64
	Cov        *mat.SymDense // of X, from the stated uncertainties
	Each       []Residual    // one for each observation
	DoF        int           // degrees of freedom: observations and conditions less unknowns
	SumSquare  float64       // of residuals over their uncertainties
	Iterations int

	design, spread *mat.Dense // A, scaled by the uncertainties; and A·Cov
}

// Residual is what an observation says after the fit.
type Residual struct {
	V          float64 // adjusted less observed, unit of the observation
	Redundancy float64 // 0 when nothing checks the observation, 1 when all else fixes it
	W          float64 // V over its own standard deviation; 0 when nothing checks it
	Detectable float64 // smallest error found with probability Power; infinite when nothing checks it
}

// The test of a standardised residual: two-sided, error of the first kind 0.1 %,
// power 80 %. Critical value and shift of the normal distribution for it
// (Baarda; δ0 = 3.2905 + 0.8416).
const (
	Critical = 3.2905
	shift    = 4.1321
	Power    = 0.80
)

// Why there is no answer.
var (
	ErrLoose   = errors.New("the measurements do not fix everything")
	ErrNoStart = errors.New("no answer is found from this start: give a better guess of the places, or look for a slip in a measurement")
)

// LooseError names the unknowns that nothing fixes.
type LooseError struct{ Unknowns []int }

func (e *LooseError) Error() string {
	return fmt.Sprintf("%v: %d of the unknowns can move", ErrLoose, len(e.Unknowns))
}

// Unwrap makes the error an ErrLoose.
func (e *LooseError) Unwrap() error { return ErrLoose }

const (
	maxSteps  = 200
	converged = 1e-10 // of the largest correction, in standard uncertainties and in units of the start
	unchecked = 1e-9  // a redundancy below it is none
)

// Solve fits p. Gauss-Newton steps, damped (Levenberg, Marquardt) where a full
// step makes the fit worse, so a start that is far off is forgiven. It returns a
// *LooseError when the observations and conditions leave something free,
// ErrNoStart when it does not settle, the context's error when that ends, and an
// error that names the observation when one is not a number or has no
// uncertainty.
func Solve(ctx context.Context, p Problem) (*Fit, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	s := newSolver(p)
	f := &Fit{X: append([]float64(nil), p.Start...)}
	sum := s.linearise(f.X)
	s.bordered(0)
	if free := s.freest(); len(free) > 0 {
		return nil, &LooseError{free}
	}
	for ; f.Iterations < maxSteps; f.Iterations++ {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		step, err := s.step(f.X, s.damp)
		if err != nil {
			return nil, err
		}
		next := add(f.X, step)
		sumNext := s.square(next)
		switch {
		case sumNext <= sum*(1+1e-12)+1e-20:
			f.X = next
			s.damp /= 10
			if s.damp < 1e-9 {
				s.damp = 0
			}
		case s.damp < 1 && s.small(step): // no better to be had than rounding lets it be
			return s.finish(f, s.linearise(f.X))
		case s.damp > 1e12:
			return nil, ErrNoStart
		default:
			s.damp = max(10*s.damp, 1e-6)
			continue
		}
		sum = s.linearise(f.X)
		if s.damp == 0 && s.small(step) {
			return s.finish(f, sum)
		}
	}
	return nil, ErrNoStart
}

func add(x, d []float64) []float64 {
	out := make([]float64, len(x))
	for i := range x {
		out[i] = x[i] + d[i]
	}
	return out
}

func (p Problem) check() error {
	if len(p.Start) == 0 {
		return errors.New("there is nothing to find")
	}
	for i, x := range p.Start {
		if !finite(x) {
			return fmt.Errorf("start of unknown %d is not a number", i+1)
		}
	}
	for _, o := range p.Observations {
		switch {
		case !finite(o.Value):
			return fmt.Errorf("%s: the value is not a number", o.Name)
		case !finite(o.Sigma) || o.Sigma <= 0:
			return fmt.Errorf("%s: it needs an uncertainty above zero", o.Name)
		}
		if v := o.Of.At(p.Start); !finite(v) {
			return fmt.Errorf("%s: it is not defined at the start", o.Name)
		}
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// solver is the linear problem at one place: normal equations with the
// conditions as a border.
type solver struct {
	p      Problem
	n, c   int        // unknowns, conditions
	a      *mat.Dense // design, each row over its uncertainty
	l      []float64  // observed less computed, over the uncertainty
	damp   float64
	border *mat.Dense // [N Hᵀ; H 0]
}

func newSolver(p Problem) *solver {
	n, c := len(p.Start), len(p.Hold)
	return &solver{
		p: p, n: n, c: c, l: make([]float64, len(p.Observations)),
		a: mat.NewDense(max(1, len(p.Observations)), n, nil), border: mat.NewDense(n+c, n+c, nil),
	}
}

// linearise works out design and misfit at x, and returns the sum of squares.
func (s *solver) linearise(x []float64) float64 {
	s.a.Zero()
	sum := 0.0
	for i, o := range s.p.Observations {
		row := s.a.RawRowView(i)
		o.Of.Partials(x, func(j int, d float64) { row[j] += d / o.Sigma })
		s.l[i] = (o.Value - o.Of.At(x)) / o.Sigma
		sum += s.l[i] * s.l[i]
	}
	return sum
}

func (s *solver) square(x []float64) float64 {
	sum := 0.0
	for _, o := range s.p.Observations {
		l := (o.Value - o.Of.At(x)) / o.Sigma
		sum += l * l
	}
	if !finite(sum) {
		return math.Inf(1)
	}
	return sum
}

// bordered fills the normal equations, each unknown damped in proportion to its
// own weight.
func (s *solver) bordered(damp float64) {
	s.border.Zero()
	for i := range s.p.Observations {
		row := s.a.RawRowView(i)
		var at []int // few unknowns to a row
		for j, v := range row {
			if v != 0 {
				at = append(at, j)
			}
		}
		for _, j := range at {
			to := s.border.RawRowView(j)
			for _, k := range at {
				to[k] += row[j] * row[k]
			}
		}
	}
	for j := range s.n {
		s.border.Set(j, j, s.border.At(j, j)*(1+damp))
	}
	for i, h := range s.p.Hold {
		for j, v := range h {
			s.border.Set(s.n+i, j, v)
			s.border.Set(j, s.n+i, v)
		}
	}
}

// step is the correction at x.
func (s *solver) step(x []float64, damp float64) ([]float64, error) {
	s.bordered(damp)
	right := mat.NewVecDense(s.n+s.c, nil)
	for i := range s.p.Observations {
		row := s.a.RawRowView(i)
		for j, v := range row {
			if v != 0 {
				right.SetVec(j, right.AtVec(j)+v*s.l[i])
			}
		}
	}
	for i, h := range s.p.Hold {
		off := 0.0
		for j, v := range h {
			off -= v * (x[j] - s.p.Start[j])
		}
		right.SetVec(s.n+i, off)
	}
	var lu mat.LU
	lu.Factorize(s.border)
	var d mat.VecDense
	if err := lu.SolveVecTo(&d, false, right); err != nil {
		var near mat.Condition
		if !errors.As(err, &near) || math.IsInf(float64(near), 1) {
			return nil, &LooseError{s.freest()}
		}
	}
	return d.RawVector().Data[:s.n], nil
}

// small reports whether a correction no longer matters: neither beside what the
// unknowns are known to, nor beside their size.
func (s *solver) small(step []float64) bool {
	size := 0.0
	for _, x := range s.p.Start {
		size = max(size, math.Abs(x))
	}
	for j, d := range step {
		weight := math.Sqrt(max(s.border.At(j, j), 0))
		if math.Abs(d)*weight > 1e-7 && math.Abs(d) > converged*(1+size) || math.Abs(d) > 1e-6*(1+size) {
			return false
		}
	}
	return true
}
