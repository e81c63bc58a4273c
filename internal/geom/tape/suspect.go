package tape

import (
	"cmp"
	"context"
	"math"
	"slices"

	"fitup/internal/abreast"

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
// apart, and nearly the part of the best improvement that counts as as good: where more
// than one slip is in the measurements. Where one explains all, another is cleared when
// the sum of squares without it is larger by cleared: about 30 to 1 by their likelihoods.
// sound is the probability of a false alarm of the test that says so.
const (
	alike   = 0.9
	nearly  = 0.9
	cleared = 6.8
	sound   = 0.001
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

// Would says how a measurement that the fit is without would fit, had it read a value, for
// each value that is asked: how far that is from what all others say, read less expected,
// over the standard uncertainty of the difference, and the sum of squares that the fit
// would have with it. Exact where what is measured goes straight with the unknowns, and
// near the fit otherwise.
func (f *Fit) Would(o Observation) func(value float64) (w, sumSquare float64) {
	n := len(f.linear.position)
	variance, partials := o.Sigma*o.Sigma, map[int]float64{}
	o.Of.Partials(f.X, func(unknown int, d float64) {
		if unknown < n {
			partials[unknown] += d
		} else { // an error that is shared, where the fit is of each alone
			variance += d * d
		}
	})
	expected, sigma := o.Of.At(f.X), math.Sqrt(variance+f.Variance(partials))
	return func(value float64) (w, sumSquare float64) {
		w = (value - expected) / sigma
		return w, f.SumSquare + w*w
	}
}

// AgreesWith is Agrees of the fit with one measurement more, that makes its sum of squares
// so large.
func (f *Fit) AgreesWith(sumSquare, alarm float64) bool {
	if f.DoF+1 <= 0 {
		return true
	}
	return distuv.ChiSquared{K: float64(f.DoF + 1)}.Survival(sumSquare) >= alarm
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
	doubtful := f.doubtful()
	without := make([]*Fit, len(doubtful))
	abreast.Each(len(doubtful), func(k int) {
		less, i := p, doubtful[k]
		less.Watch = nil
		if p.Hold == nil { // conditions count from the start they were made for
			less.Start = f.X
		}
		less.Observations = slices.Delete(slices.Clone(p.Observations), i, i+1)
		if g, err := Solve(ctx, less); err == nil {
			without[k] = g
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var tried []Suspect
	best := 0.0
	for k, i := range doubtful {
		g, o := without[k], p.Observations[i]
		if g == nil {
			continue // without it nothing is fixed: it cannot be told wrong
		}
		s := Suspect{Observation: i, Without: g, Off: o.Value - o.Of.At(g.X)}
		s.W = s.Off / o.Sigma * math.Sqrt(f.Each[i].Redundancy)
		tried = append(tried, s)
		best = max(best, f.SumSquare-g.SumSquare)
	}
	tried, innocent := f.guilty(tried, best)
	for k, s := range tried {
		if f.DoF > 1 {
			tried[k].Alike = slices.DeleteFunc(f.Group(s.Observation, alike)[1:], func(i int) bool { return slices.Contains(innocent, i) })
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

// guilty are those of the measurements that were left out in turn that may be the slip,
// the likeliest first, and those that one slip in another clears. best is the largest
// improvement.
func (f *Fit) guilty(tried []Suspect, best float64) (out []Suspect, innocent []int) {
	slices.SortStableFunc(tried, func(a, b Suspect) int {
		return cmp.Compare(a.Without.SumSquare, b.Without.SumSquare)
	})
	one := false
	if len(tried) > 0 && f.DoF > 1 {
		one, _ = tried[0].Without.Agrees(sound)
	}
	for _, s := range tried {
		switch {
		case one && s.Without.SumSquare-tried[0].Without.SumSquare >= cleared:
			innocent = append(innocent, s.Observation)
		case one || f.SumSquare-s.Without.SumSquare >= best*nearly*nearly:
			out = append(out, s)
		}
	}
	return out, innocent
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
