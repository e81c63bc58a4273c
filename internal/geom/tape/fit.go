package tape

import (
	"context"
	"errors"
	"fmt"
	"math"
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
	// Watch, when it is set, is told of each step taken and of the sum of squares
	// after it.
	Watch func(steps int, sumSquare float64)

	known int // how many of the observations, the last, say what is known of shared errors: see With
}

// Fit is the answer to a Problem.
type Fit struct {
	X          []float64  // the unknowns, and behind them the errors that observations share
	Each       []Residual // one for each observation
	DoF        int        // degrees of freedom: observations and conditions less unknowns
	SumSquare  float64    // of residuals over their uncertainties
	Iterations int

	linear *linear
	inv    inverse
	table  *noticed // where much is asked; nil without
}

// Residual is what an observation says after the fit.
type Residual struct {
	V          float64 // adjusted, with what it shares, less observed, unit of the observation
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

// LooseError names the unknowns that nothing fixes, and the movements that no
// observation notices: by how much each unknown goes.
type LooseError struct {
	Unknowns []int
	Moves    [][]float64
}

func (e *LooseError) Error() string {
	return fmt.Sprintf("%v: %d of the unknowns can move", ErrLoose, len(e.Unknowns))
}

// Unwrap makes the error an ErrLoose.
func (e *LooseError) Unwrap() error { return ErrLoose }

const (
	maxSteps  = 200
	maxFlat   = 10
	converged = 1e-10 // of the largest correction, in standard uncertainties and in units of the start
	unchecked = 1e-9  // a redundancy below it is none
)

// Solve fits p. Gauss-Newton steps, damped (Levenberg, Marquardt) where a full
// step makes the fit worse, so a start that is far off is forgiven. It returns a
// *LooseError when the observations and conditions leave something free,
// ErrNoStart when it does not settle, the context's error when that ends, and an
// error that names the observation when one is not a number or has no
// uncertainty.
//
// The normal equations are sparse, and so is all that is done with them: time and
// memory grow with what is measured between neighbours, and only where everything
// is measured to everything with the cube of the unknowns.
//
// Where observations share errors, they are fitted first as if each had its errors
// alone. Where one is grossly off that is the answer, for what is shared would be drawn
// along by it, and so far that nothing fits any more.
func Solve(ctx context.Context, p Problem) (*Fit, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	if p.known == 0 {
		return p.from(ctx, p.Start)
	}
	plain := p.apart()
	f, err := plain.from(ctx, plain.Start)
	if err != nil {
		return nil, err
	}
	f.X = append(f.X, make([]float64, p.known)...)
	if f.gross() {
		return f, nil
	}
	g, err := p.from(ctx, f.X)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return f, nil // the places are as good; only what is shared is not made use of
	}
	g.Iterations += f.Iterations
	return g, nil
}

// from is Solve from other unknowns than those that conditions count from.
func (p Problem) from(ctx context.Context, x []float64) (*Fit, error) {
	s := newLinear(p)
	f := &Fit{X: append([]float64(nil), x...)}
	sum := s.linearise(f.X)
	flat := 0 // steps in a row of which nothing but rounding was to be had
	for damp := 0.0; f.Iterations < maxSteps && damp < 1e12; {
		step, err := s.step(ctx, f.X, damp)
		if err != nil {
			return nil, err
		}
		if s.small(step, 1) {
			done, err := s.settled(ctx, f.X, damp)
			if err != nil {
				return nil, err
			}
			if done {
				return s.finish(ctx, f)
			}
		}
		f.Iterations++
		next := add(f.X, step)
		gain, noise := s.gain(sum, p.square(next), step)
		if flat++; !noise {
			flat = 0
		}
		if flat == maxFlat {
			return s.finish(ctx, f)
		}
		if gain < 0.25 {
			damp = max(4*damp, 1e-3)
		} else if gain > 0.75 {
			if damp /= 5; damp < 1e-4 {
				damp = 0
			}
		}
		if gain <= 0 {
			continue
		}
		f.X = next
		sum = s.linearise(f.X)
		if p.Watch != nil {
			p.Watch(f.Iterations, sum)
		}
	}
	return nil, ErrNoStart
}

// settled reports whether a full step would be small as well, where damp was
// behind a small one.
func (s *linear) settled(ctx context.Context, x []float64, damp float64) (bool, error) {
	if damp == 0 {
		return true, nil
	}
	full, err := s.step(ctx, x, 0)
	return err == nil && s.small(full, 1000), err
}

// gain is how much of what a step promised for the sum of squares it brings, and
// whether that is too little to be told from rounding.
func (s *linear) gain(before, after float64, step []float64) (part float64, noise bool) {
	promised := 0.0
	for i, row := range s.rows {
		d := 0.0
		for k, u := range row {
			d += s.raw[i][k] * step[u]
		}
		promised += d * (2*s.off[i] - d)
	}
	if rounding := 1e-11 * (1 + before); promised <= rounding && after-before <= rounding {
		return 0.5, true
	}
	return (before - after) / promised, false
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

func (p Problem) square(x []float64) float64 {
	sum := 0.0
	for _, o := range p.Observations {
		l := (o.Value - o.Of.At(x)) / o.Sigma
		sum += l * l
	}
	if !finite(sum) {
		return math.Inf(1)
	}
	return sum
}
