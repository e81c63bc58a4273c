package tape

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Suspect is a measurement that does not fit the others.
type Suspect struct {
	Observation int
	// Without is the fit without it, and Off how far it is from what the others
	// say, observed less expected, unit of the observation.
	Without *Fit
	Off     float64
	W       float64 // as tested: Off over its standard uncertainty
	// Alike are those that an error cannot be told apart from: leaving one of
	// them out cures the fit as well.
	Alike []int
}

// alike is the correlation of two residuals beyond which they are not told
// apart, and nearly the part of the best improvement that counts as as good.
const (
	alike  = 0.9
	nearly = 0.9
)

// Agrees reports whether the measurements scatter no more than was stated, by
// the global test (chi-squared of the sum of squares) at the given probability
// of a false alarm, and the probability of so large a sum by chance. Without a
// degree of freedom nothing is tested: true, 1.
func (f *Fit) Agrees(alarm float64) (bool, float64) {
	if f.DoF <= 0 {
		return true, 1
	}
	p := distuv.ChiSquared{K: float64(f.DoF)}.Survival(f.SumSquare)
	return p >= alarm, p
}

// Suspects returns the measurements that one slip would explain, the likeliest
// first: none when every standardised residual is below Critical. The largest
// residual alone can point at the wrong one, so each is tried by leaving it out.
// With one degree of freedom every measurement explains the misfit as well as
// any other, and all are returned as alike.
func Suspects(ctx context.Context, p Problem, f *Fit) ([]Suspect, error) {
	worst := 0.0
	for _, e := range f.Each {
		worst = max(worst, math.Abs(e.W))
	}
	if worst <= Critical {
		return nil, nil
	}
	var tried []Suspect
	best := 0.0
	for i, e := range f.Each {
		// One left out lowers the sum of squares by about w², so those with a
		// small w need no trial.
		if math.Abs(e.W) < worst*nearly/2 {
			continue
		}
		less := p
		if p.Hold == nil { // conditions count from the start they were made for
			less.Start = f.X
		}
		less.Observations = slices.Delete(slices.Clone(p.Observations), i, i+1)
		g, err := Solve(ctx, less)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			continue // without it nothing is fixed: it cannot be told wrong
		}
		o := p.Observations[i]
		s := Suspect{Observation: i, Without: g, Off: o.Value - o.Of.At(g.X)}
		s.W = s.Off / o.Sigma * math.Sqrt(e.Redundancy)
		tried = append(tried, s)
		best = max(best, f.SumSquare-g.SumSquare)
	}
	tried = slices.DeleteFunc(tried, func(s Suspect) bool { return f.SumSquare-s.Without.SumSquare < best*nearly*nearly })
	slices.SortStableFunc(tried, func(a, b Suspect) int {
		return cmp.Compare(a.Without.SumSquare, b.Without.SumSquare)
	})
	for k := range tried {
		for j := range tried {
			if j != k && (f.DoF == 1 || math.Abs(f.Alike(tried[k].Observation, tried[j].Observation)) > alike) {
				tried[k].Alike = append(tried[k].Alike, tried[j].Observation)
			}
		}
	}
	return tried, nil
}
