package tape

import (
	"context"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// finish works out how good the fit is and returns it. The problem is linear at
// f.X.
func (s *linear) finish(ctx context.Context, f *Fit) (*Fit, error) {
	if err := s.factorise(ctx, 0); err != nil {
		return nil, err
	}
	var err error
	known := make([]float64, len(s.rows)) // variance as the fit knows it over that of the observation
	f.inv, err = s.factor.selected(ctx, func(k int, m []float64, size int) {
		for _, i := range s.inside[k] {
			for a, va := range s.values[i] {
				for b, vb := range s.values[i] {
					known[i] += va * vb * m[s.places[i][a]*size+s.places[i][b]]
				}
			}
		}
	})
	if err != nil {
		return nil, err
	}
	f.linear = s
	f.SumSquare = 0
	f.DoF = len(s.rows) + len(s.p.Hold) - s.n
	for i, o := range s.p.Observations {
		f.SumSquare += s.off[i] * s.off[i]
		if i >= s.p.measured() {
			continue
		}
		along := s.alongs(i)
		r := 1 - known[i] + s.taken(along, along)
		e := Residual{V: -s.off[i] * o.Sigma, Redundancy: max(r, 0), Detectable: math.Inf(1)}
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

// Cov is the covariance of two unknowns, from the stated uncertainties.
func (f *Fit) Cov(i, j int) float64 {
	s := f.linear
	a, b := s.position[i], s.position[j]
	if a > b {
		a, b = b, a
	}
	scale := s.scale[i] * s.scale[j]
	k := s.frontOf[a]
	if q := s.fronts[k].place(b); q >= 0 {
		plain := f.inv[k][(a-s.fronts[k].first)*s.fronts[k].size()+q]
		return scale * (plain - s.taken(s.bordering(a), s.bordering(b)))
	}
	return scale * s.column(a)[b]
}

// Covariance is that of the given unknowns, in their order.
func (f *Fit) Covariance(unknowns []int) *mat.SymDense {
	out := mat.NewSymDense(max(1, len(unknowns)), nil)
	s := f.linear
	for i, u := range unknowns {
		c := s.column(s.position[u])
		for j := i; j < len(unknowns); j++ {
			v := unknowns[j]
			out.SetSym(i, j, c[s.position[v]]*s.scale[u]*s.scale[v])
		}
	}
	return out
}

// Variance is that of a linear function of the unknowns, given by its partial
// derivatives.
func (f *Fit) Variance(partials map[int]float64) float64 {
	g, b := f.linear.spread(partials)
	sum := 0.0
	for _, p := range slices.Sorted(maps.Keys(b)) { // in one order, so that the same comes out to the last digit
		sum += b[p] * g[p]
	}
	return sum
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
func (f *Fit) Sigma(unknown int) float64 { return math.Sqrt(max(f.Cov(unknown, unknown), 0)) }

// Alike returns the correlation of the standardised residuals of two
// observations, -1 to 1: near ±1 an error in one looks like one in the other.
// 0 when either is not checked.
func (f *Fit) Alike(i, j int) float64 {
	if i == j {
		return 1
	}
	if f.Each[i].Redundancy == 0 || f.Each[j].Redundancy == 0 {
		return 0
	}
	return f.likeness(i, f.linear.reach(i), j)
}

// likeness is Alike, with what observation i does to the unknowns at hand.
func (f *Fit) likeness(i int, reach []float64, j int) float64 {
	s, sum := f.linear, 0.0
	for k, p := range s.at[j] {
		sum += s.values[j][k] * reach[p]
	}
	return -sum / math.Sqrt(f.Each[i].Redundancy*f.Each[j].Redundancy)
}

// Group returns the observations that cannot be told from observation i by
// their residuals, itself first: those whose w correlates with its own by more
// than limit.
func (f *Fit) Group(i int, limit float64) []int {
	out := []int{i}
	if f.Each[i].Redundancy == 0 {
		return out
	}
	reach := f.linear.reach(i)
	for j, e := range f.Each {
		if j != i && e.Redundancy > 0 && math.Abs(f.likeness(i, reach, j)) > limit {
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
	return EllipseFrom(f.Cov(x, x), f.Cov(y, y), f.Cov(x, y))
}

// EllipseFrom returns the error ellipse of two variances and their covariance.
func EllipseFrom(a, b, c float64) Ellipse {
	mean, root := (a+b)/2, math.Hypot((a-b)/2, c)
	return Ellipse{
		Long: math.Sqrt(max(mean+root, 0)), Short: math.Sqrt(max(mean-root, 0)),
		Direction: math.Atan2(2*c, a-b) / 2,
	}
}

// Gains are what an error of 1 in each observation, in its own unit, does to a
// linear function of the unknowns, given by its partial derivatives: with them the
// function carries on what the observations share.
func (f *Fit) Gains(partials map[int]float64) []float64 {
	if f.table != nil {
		return f.table.gains(partials)
	}
	s := f.linear
	reach, _ := s.spread(partials)
	out := make([]float64, s.p.measured())
	for i, at := range s.at[:len(out)] {
		for k, p := range at {
			out[i] += s.values[i][k] * reach[p]
		}
		out[i] /= s.p.Observations[i].Sigma
	}
	return out
}
