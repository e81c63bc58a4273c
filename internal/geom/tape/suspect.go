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
	// Alike are those that it cannot be told apart from: an error in one of them
	// leaves nearly the same residuals.
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

// maxTried is how many measurements are left out in turn, those with the largest
// standardised residuals first.
const maxTried = 12

// Suspects returns the measurements that one slip would explain, the likeliest
// first: none when every standardised residual is below Critical. The largest
// residual alone can point at the wrong one, so each is tried by leaving it out.
// With one degree of freedom every measurement explains the misfit as well as
// any other, and all are returned as alike.
func Suspects(ctx context.Context, p Problem, f *Fit) ([]Suspect, error) {
	var tried []Suspect
	best := 0.0
	for _, i := range f.doubtful() {
		less := p
		less.Watch = nil
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
		s.W = s.Off / o.Sigma * math.Sqrt(f.Each[i].Redundancy)
		tried = append(tried, s)
		best = max(best, f.SumSquare-g.SumSquare)
	}
	tried = slices.DeleteFunc(tried, func(s Suspect) bool { return f.SumSquare-s.Without.SumSquare < best*nearly*nearly })
	slices.SortStableFunc(tried, func(a, b Suspect) int {
		return cmp.Compare(a.Without.SumSquare, b.Without.SumSquare)
	})
	for k, s := range tried {
		if f.DoF > 1 {
			tried[k].Alike = f.Group(s.Observation, alike)[1:]
			continue
		}
		for i, e := range f.Each {
			if i != s.Observation && e.Redundancy > 0 {
				tried[k].Alike = append(tried[k].Alike, i)
			}
		}
	}
	return tried, nil
}

// doubtful lists the observations worth a trial, the largest residual first: one
// left out lowers the sum of squares by about w², so those with a small w need
// none. Nothing when every w is below Critical.
func (f *Fit) doubtful() []int {
	worst := 0.0
	var out []int
	for i, e := range f.Each {
		worst = max(worst, math.Abs(e.W))
		out = append(out, i)
	}
	if worst <= Critical {
		return nil
	}
	out = slices.DeleteFunc(out, func(i int) bool { return math.Abs(f.Each[i].W) < worst*nearly/2 })
	slices.SortStableFunc(out, func(i, j int) int {
		return cmp.Compare(math.Abs(f.Each[j].W), math.Abs(f.Each[i].W))
	})
	if f.DoF > 1 && len(out) > maxTried {
		out = out[:maxTried]
	}
	return out
}
