package tape

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat/distuv"
)

// The test's constants follow from the normal distribution.
func TestConstantsOfTheTest(t *testing.T) {
	n := distuv.UnitNormal
	assert.InDelta(t, n.Quantile(1-0.001/2), Critical, 1e-4)
	assert.InDelta(t, n.Quantile(1-0.001/2)+n.Quantile(Power), shift, 1e-4)
}

// mixed is a small frame of every kind of measurement, exact at the truth.
func mixed(r *rand.Rand, sigma float64) (*Net, []r3.Vec) {
	truth := []r3.Vec{{}, {X: 700}, {X: 695, Y: 1200, Z: 15}, {X: 5, Y: 1210, Z: -8}, {X: 340, Y: 600, Z: 200}}
	n := &Net{}
	for i, p := range truth {
		free := space
		switch i {
		case 0:
			free = none
		case 1:
			free = [3]bool{true, false, false}
		}
		at := p
		for k, f := range free {
			if f {
				d := 20 * (r.Float64() - 0.5)
				switch k {
				case 0:
					at.X += d
				case 1:
					at.Y += d
				case 2:
					at.Z += d
				}
			}
		}
		n.Add(Point{Name: string(rune('A' + i)), At: at, Free: free})
	}
	exact := &Net{}
	for _, p := range truth {
		exact.Add(Point{At: p})
	}
	noise := func(s float64) float64 { return s * r.NormFloat64() }
	for i := range truth {
		for j := range i {
			n.Distance("d", j, i, r3.Norm(r3.Sub(truth[i], truth[j]))+noise(sigma), sigma)
		}
	}
	n.Rise("h", 0, 2, truth[2].Z+noise(sigma), sigma)
	n.Rise("h", 0, 3, truth[3].Z+noise(sigma), sigma)
	n.Coordinate("plumb", 4, 2, truth[4].Z+noise(sigma), sigma)
	exact.Offset("o", 4, 0, 3, 0, 1)
	exact.Angle("s", 0, 1, 3, 0, 1)
	n.Offset("o", 4, 0, 3, exact.measure[0].Of.At(nil)+noise(sigma), sigma)
	n.Angle("s", 0, 1, 3, exact.measure[1].Of.At(nil)+noise(sigma/1000), sigma/1000)
	return n, truth
}

// A fit of exact measurements is the truth.
func TestExactMeasurements(t *testing.T) {
	n, truth := mixed(rand.New(rand.NewPCG(1, 2)), 1e-9)
	f, err := Solve(t.Context(), n.Problem())
	require.NoError(t, err)
	for i, p := range truth {
		assert.InDelta(t, 0, r3.Norm(r3.Sub(p, n.Where(i, f.X))), 1e-6)
	}
}

// Partial derivatives against differences, for every kind of measurement.
func TestPartials(t *testing.T) {
	n, _ := mixed(rand.New(rand.NewPCG(3, 4)), 1)
	for _, o := range n.measure {
		got := make([]float64, len(n.start))
		o.Of.Partials(n.start, func(j int, d float64) { got[j] += d })
		for j := range n.start {
			const h = 1e-3
			up, down := add(n.start, make([]float64, len(n.start))), add(n.start, make([]float64, len(n.start)))
			up[j] += h
			down[j] -= h
			assert.InDelta(t, (o.Of.At(up)-o.Of.At(down))/(2*h), got[j], 1e-6, "%s by unknown %d", o.Name, j)
		}
	}
}

// A general minimiser of the same sum of squares finds the same place.
func TestAgainstAGeneralMinimiser(t *testing.T) {
	for seed := range uint64(5) {
		n, _ := mixed(rand.New(rand.NewPCG(seed, 9)), 1)
		p := n.Problem()
		f, err := Solve(t.Context(), p)
		require.NoError(t, err)
		sum := func(x []float64) float64 { return p.square(x) }
		slope := func(g, x []float64) {
			clear(g)
			for _, o := range p.Observations {
				l := (o.Of.At(x) - o.Value) / (o.Sigma * o.Sigma)
				o.Of.Partials(x, func(j int, d float64) { g[j] += 2 * l * d })
			}
		}
		r, err := optimize.Minimize(optimize.Problem{Func: sum, Grad: slope}, p.Start,
			&optimize.Settings{GradientThreshold: 1e-11, MajorIterations: 20000, Converger: optimize.NeverTerminate{}}, &optimize.BFGS{})
		if err != nil && r == nil {
			t.Fatal(err)
		}
		for j := range f.X {
			assert.InDelta(t, r.X[j], f.X[j], 1e-5)
		}
		assert.InDelta(t, r.F, f.SumSquare, 1e-7)
	}
}

// The stated uncertainties hold: a point lies within its 95 % interval about
// 95 times in 100, and the sum of squares follows its distribution.
func TestCoverage(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	inside, all, agree := 0, 0, 0
	const runs = 400
	for range runs {
		n, truth := mixed(r, 1)
		f, err := Solve(t.Context(), n.Problem())
		require.NoError(t, err)
		for i := range truth {
			for k, v := range [3]float64{truth[i].X, truth[i].Y, truth[i].Z} {
				if u := n.Unknown(i, k); u >= 0 {
					all++
					if math.Abs(f.X[u]-v) <= 1.96*f.Sigma(u) {
						inside++
					}
				}
			}
		}
		if ok, _ := f.Agrees(0.05); ok {
			agree++
		}
	}
	assert.InDelta(t, 0.95, float64(inside)/float64(all), 0.015)
	assert.InDelta(t, 0.95, float64(agree)/runs, 0.035)
}

// A blunder that can be seen is named, or with it those that look alike.
func TestBlundersAreNamed(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	named, trials := 0, 0
	for trials < 150 {
		n, _ := mixed(r, 1)
		i := r.IntN(len(n.measure))
		f, err := Solve(t.Context(), n.Problem())
		require.NoError(t, err)
		if e := f.Each[i]; e.Redundancy < 0.05 || len(f.Group(i, alike)) > 1 {
			continue
		}
		trials++
		n.measure[i].Value += 1.2 * 4.94 * n.measure[i].Sigma / math.Sqrt(f.Each[i].Redundancy)
		p := n.Problem()
		f, err = Solve(t.Context(), p)
		require.NoError(t, err)
		suspects, err := Suspects(t.Context(), p, f)
		require.NoError(t, err)
		if len(suspects) > 0 && suspects[0].Observation == i {
			named++
		}
	}
	assert.GreaterOrEqual(t, float64(named)/float64(trials), 0.9)
}

// With one degree of freedom nobody can say which tape was misread.
func TestOneDegreeOfFreedomNamesAll(t *testing.T) {
	n := &Net{}
	a := n.Add(known(0, 0, 0))
	b := n.Add(Point{At: r3.Vec{X: 700}, Free: [3]bool{true, false, false}})
	c := n.Add(Point{At: r3.Vec{X: 700, Y: 2500}, Free: plan})
	d := n.Add(Point{At: r3.Vec{Y: 2500}, Free: plan})
	for _, m := range []struct {
		i, j int
		d    float64
	}{{a, b, 700}, {b, c, 2500}, {c, d, 700}, {d, a, 2500}, {a, c, math.Hypot(700, 2500)}, {b, d, math.Hypot(700, 2500) + 15}} {
		n.Distance("d", m.i, m.j, m.d, 1)
	}
	p := n.Problem()
	f := solved(t, n)
	s, err := Suspects(t.Context(), p, f)
	require.NoError(t, err)
	require.Len(t, s, 6)
	for _, x := range s {
		assert.Len(t, x.Alike, 5)
	}
}

// What is not fixed is said, with what can move.
func TestLoosePoints(t *testing.T) {
	n := &Net{}
	a, b := n.Add(known(0, 0, 0)), n.Add(known(1000, 0, 0))
	p := n.Add(Point{Name: "P", At: r3.Vec{X: 400, Y: 300}, Free: plan})
	n.Distance("AP", a, p, 500, 1)
	_, err := Solve(t.Context(), n.Problem())
	var loose *LooseError
	require.ErrorAs(t, err, &loose)
	assert.Subset(t, []int{n.Unknown(p, 0), n.Unknown(p, 1)}, loose.Unknowns)

	n.Distance("BP", b, p, 670, 1)
	f := solved(t, n)
	assert.Zero(t, f.DoF)
	assert.True(t, math.IsInf(f.Each[0].Detectable, 1), "nothing checks it")
	assert.Zero(t, f.Each[0].W)
	_, ok := f.UnitSigma()
	assert.False(t, ok)

	q := n.Add(Point{Name: "Q", At: r3.Vec{X: 1, Y: 1}, Free: plan})
	_, err = Solve(t.Context(), n.Problem())
	require.ErrorAs(t, err, &loose)
	assert.ElementsMatch(t, []int{n.Unknown(q, 0), n.Unknown(q, 1)}, loose.Unknowns, "a point that nothing was measured to")
}

// Points on one line fix nothing beside it.
func TestCollinearPoints(t *testing.T) {
	n := &Net{}
	var last int
	for i := range 20 {
		free := plan
		if i == 0 {
			free = none
		}
		at := n.Add(Point{At: r3.Vec{X: 100 * float64(i)}, Free: free})
		if i > 0 {
			n.Distance("next", last, at, 100, 1)
		}
		last = at
	}
	_, err := Solve(t.Context(), n.Problem())
	require.ErrorIs(t, err, ErrLoose)
}

func TestBadNumbersAreRefused(t *testing.T) {
	for name, spoil := range map[string]func(*Problem){
		"value":       func(p *Problem) { p.Observations[0].Value = math.NaN() },
		"uncertainty": func(p *Problem) { p.Observations[0].Sigma = 0 },
		"infinite":    func(p *Problem) { p.Observations[0].Sigma = math.Inf(1) },
		"start":       func(p *Problem) { p.Start[0] = math.Inf(-1) },
		"nothing":     func(p *Problem) { p.Start = nil },
	} {
		n, _ := mixed(rand.New(rand.NewPCG(1, 1)), 1)
		p := n.Problem()
		spoil(&p)
		_, err := Solve(t.Context(), p)
		require.Error(t, err, name)
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	n, _ := mixed(rand.New(rand.NewPCG(1, 1)), 1)
	_, err := Solve(ctx, n.Problem())
	require.ErrorIs(t, err, context.Canceled)
}

// A point held in one view is no free network.
func TestFreeNetworksHaveFreePoints(t *testing.T) {
	n := &Net{}
	n.Add(known(0, 0, 0))
	require.Error(t, n.HoldFree([3]bool{true, true, false}, [3]bool{}))
}

// The error ellipse agrees with the covariance turned into its own axes.
func TestEllipse(t *testing.T) {
	n, _ := mixed(rand.New(rand.NewPCG(11, 1)), 1)
	f, err := Solve(t.Context(), n.Problem())
	require.NoError(t, err)
	x, y := n.Unknown(2, 0), n.Unknown(2, 1)
	e := f.EllipseOf(x, y)
	c, s := math.Cos(e.Direction), math.Sin(e.Direction)
	along := c*c*f.Cov(x, x) + 2*c*s*f.Cov(x, y) + s*s*f.Cov(y, y)
	across := s*s*f.Cov(x, x) - 2*c*s*f.Cov(x, y) + c*c*f.Cov(y, y)
	assert.InDelta(t, e.Long*e.Long, along, 1e-9)
	assert.InDelta(t, e.Short*e.Short, across, 1e-9)
	assert.GreaterOrEqual(t, e.Long, e.Short)
}
