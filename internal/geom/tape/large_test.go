package tape

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// large is a network of points along a frame, or strewn so that near is not near:
// distances to the nearest points, or to any.
func large(points, distances int, strewn, free bool) *Net {
	r := rand.New(rand.NewPCG(uint64(points), uint64(distances)))
	n := &Net{}
	truth := make([]r3.Vec, points)
	long := 100 * float64(points)
	if strewn {
		long = 5000
	}
	for i := range truth {
		truth[i] = r3.Vec{X: long * r.Float64(), Y: 900 * (r.Float64() - 0.5), Z: 400 * r.Float64()}
	}
	slices.SortFunc(truth, func(a, b r3.Vec) int { return int(math.Copysign(1, a.X-b.X)) })
	for i, p := range truth {
		at := r3.Add(p, r3.Vec{X: 5 * r.NormFloat64(), Y: 5 * r.NormFloat64(), Z: 5 * r.NormFloat64()})
		to := space
		if !free && i%(points/3) == 0 {
			at, to = p, none
		}
		n.Add(Point{Name: fmt.Sprint(i), At: at, Free: to})
	}
	seen := map[[2]int]bool{}
	tape := func(i, j int) {
		if i > j {
			i, j = j, i
		}
		if i == j || j >= points || seen[[2]int{i, j}] || len(seen) >= distances {
			return
		}
		seen[[2]int{i, j}] = true
		n.Distance(fmt.Sprint(i, " ", j), i, j, r3.Norm(r3.Sub(truth[i], truth[j]))+r.NormFloat64(), 1)
	}
	for step := 1; len(seen) < distances && step < points; step++ {
		for i := range points {
			if strewn {
				tape(r.IntN(points), r.IntN(points))
			} else {
				tape(i, i+step)
			}
		}
	}
	if free {
		if err := n.HoldFree([3]bool{true, true, true}, [3]bool{true, true, true}); err != nil {
			panic(err)
		}
	}
	return n
}

// The sparse answer is that of the dense normal equations, with conditions and
// without: unknowns, covariances, redundancies, and likeness of residuals.
func TestSparseAgainstDense(t *testing.T) {
	for _, free := range []bool{false, true} {
		for _, strewn := range []bool{false, true} {
			n := large(24, 120, strewn, free)
			p := n.Problem()
			f, err := Solve(t.Context(), p)
			require.NoError(t, err)
			q := denseCovariance(t, p, f.X)
			m := len(p.Start)
			for i := range m {
				for j := range m {
					size := math.Sqrt(q.At(i, i) * q.At(j, j))
					require.InDelta(t, q.At(i, j), f.Cov(i, j), 1e-8*size)
				}
			}
			some := []int{3, 17, 0, m - 1}
			c := f.Covariance(some)
			for a, i := range some {
				for b, j := range some {
					assert.InDelta(t, q.At(i, j), c.At(a, b), 1e-8*math.Sqrt(q.At(i, i)*q.At(j, j)))
				}
			}
			d := f.Variance(map[int]float64{4: 1, 8: -2})
			assert.InDelta(t, q.At(4, 4)+4*q.At(8, 8)-4*q.At(4, 8), d, 1e-8*d)
			sum := 0.0
			for i, e := range f.Each {
				a := row(p, i, f.X)
				sum += e.Redundancy
				assert.InDelta(t, 1-mat.Inner(a, q, a), e.Redundancy, 1e-8)
				b := row(p, (i+7)%len(f.Each), f.X)
				assert.InDelta(t, -mat.Inner(a, q, b)/math.Sqrt(e.Redundancy*f.Each[(i+7)%len(f.Each)].Redundancy),
					f.Alike(i, (i+7)%len(f.Each)), 1e-7)
			}
			assert.InDelta(t, float64(f.DoF), sum, 1e-7)
		}
	}
}

func row(p Problem, i int, x []float64) *mat.VecDense {
	v := mat.NewVecDense(len(x), nil)
	p.Observations[i].Of.Partials(x, func(j int, d float64) { v.SetVec(j, v.AtVec(j)+d/p.Observations[i].Sigma) })
	return v
}

func denseCovariance(t *testing.T, p Problem, x []float64) *mat.Dense {
	t.Helper()
	n, c := len(x), len(p.Hold)
	all := mat.NewDense(n+c, n+c, nil)
	for i := range p.Observations {
		a := row(p, i, x)
		for j := range n {
			for k := range n {
				all.Set(j, k, all.At(j, k)+a.AtVec(j)*a.AtVec(k))
			}
		}
	}
	for i, h := range p.Hold {
		for j, v := range h {
			all.Set(n+i, j, v)
			all.Set(j, n+i, v)
		}
	}
	var inv mat.Dense
	require.NoError(t, inv.Inverse(all))
	return mat.DenseCopyOf(inv.Slice(0, n, 0, n))
}

// A large network can be watched and stopped.
func TestLargeNetworkIsWatchedAndStopped(t *testing.T) {
	p := large(120, 900, false, true).Problem()
	steps := 0
	p.Watch = func(n int, sum float64) {
		steps++
		assert.Positive(t, n)
		assert.Positive(t, sum)
	}
	f, err := Solve(t.Context(), p)
	require.NoError(t, err)
	assert.Positive(t, steps)
	ok, _ := f.Agrees(0.001)
	assert.True(t, ok)

	ctx, stop := context.WithCancel(t.Context())
	p.Watch = func(int, float64) { stop() }
	_, err = Solve(ctx, p)
	require.ErrorIs(t, err, context.Canceled)
}

// What a further measurement does to the others is the same by the table, by equations
// solved for it, and by the fit with it.
func TestFurtherMeasurementByTableAndByFit(t *testing.T) {
	for _, free := range []bool{false, true} {
		n := large(14, 60, true, free)
		n.Share(Common{Name: "scale", Of: slices.Repeat([]float64{0.4}, len(n.measure))})
		p := n.Problem()
		f, err := Solve(t.Context(), p)
		require.NoError(t, err)
		all := n.Furthers(f.X, Sigmas{Distance: 1, Rise: 0.5, Offset: 2})
		table, sum := f.noticing(), make([]float64, len(f.Each))
		some := map[int]float64{2: 1, 7: -0.4, len(n.start) - 1: 3}
		plain := f.Gains(some)
		f.Tabulate()
		require.NotNil(t, f.table)
		for i, g := range f.Gains(some) {
			require.InDelta(t, plain[i], g, 1e-9)
		}
		f.Untabulate()
		for i, c := range all {
			want := f.with(c.of)
			require.InDelta(t, want, table.with(c.of, sum), 1e-9*want)
			if i%9 != 0 || c.Again >= 0 {
				continue
			}
			more := p
			o := c.of
			o.Value = o.Of.At(f.X)
			more.Observations = append([]Observation{o}, p.Observations...)
			g, err := Solve(t.Context(), more)
			require.NoError(t, err)
			sum := 0.0
			for _, e := range g.Each {
				sum += 1 / max(e.Redundancy, hardly)
			}
			require.InDelta(t, sum, want, 1e-4*sum)
		}
	}
}

// Of a network in which very many points can move, the movements that are named leave all
// measurements as they are and keep the conditions.
func TestVeryMuchThatIsLoose(t *testing.T) {
	n := &Net{}
	for i := range 60 {
		n.Add(Point{Name: fmt.Sprint(i), At: r3.Vec{X: 60 * float64(i), Y: 5 * math.Sin(float64(i*i))}, Free: plan})
	}
	for i := range 59 {
		p, q := n.points[i].At, n.points[i+1].At
		n.Distance(fmt.Sprint(i), i, i+1, r3.Norm(r3.Sub(p, q)), 1)
	}
	require.NoError(t, n.HoldFree([3]bool{true, true, false}, [3]bool{false, false, true}))
	p := n.Problem()
	_, err := Solve(t.Context(), p)
	var loose *LooseError
	require.ErrorAs(t, err, &loose)
	require.Len(t, loose.Moves, 120-59-3)
	for _, m := range loose.Moves {
		size := 0.0
		for _, v := range m {
			size = max(size, math.Abs(v))
		}
		for i := range p.Observations {
			assert.InDelta(t, 0, mat.Dot(row(p, i, p.Start), mat.NewVecDense(len(m), m)), 1e-6*size)
		}
		for _, h := range p.Hold {
			assert.InDelta(t, 0, mat.Dot(mat.NewVecDense(len(h), h), mat.NewVecDense(len(m), m)), 1e-6*size)
		}
	}
	all := n.Furthers(p.Start, Sigmas{Distance: 1, Offset: 1})
	assert.NotEqual(t, -1, loose.Ties(all, p.Start))
}

// How long a network takes, and how that grows: to the nearest points, as along a
// frame, about with the number of points; to any points with its cube.
func BenchmarkSolve(b *testing.B) {
	for _, c := range []struct {
		points, distances int
		strewn, free      bool
	}{
		{40, 200, false, false}, {40, 780, true, true},
		{125, 1250, false, true}, {250, 2500, false, true}, {500, 5000, false, true}, {1000, 10000, false, true},
		{125, 1250, true, true}, {250, 2500, true, true}, {500, 5000, true, true},
	} {
		b.Run(fmt.Sprintf("points=%d/distances=%d/strewn=%v/free=%v", c.points, c.distances, c.strewn, c.free), func(b *testing.B) {
			p := large(c.points, c.distances, c.strewn, c.free).Problem()
			for b.Loop() {
				f, err := Solve(b.Context(), p)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(f.Iterations), "steps")
			}
		})
	}
}
