package uncertain

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// with adds a source of its own, which must be a good one.
func with(t testing.TB, s *Sources, v float64, src Source) Number {
	t.Helper()
	n, err := s.With(v, src)
	require.NoError(t, err)
	return n
}

// JCGM 100:2008, H.2 (from memory): five simultaneous observations of voltage,
// current and phase, their means with their covariances, and resistance,
// reactance and impedance of them.
func TestSimultaneousResistanceAndReactance(t *testing.T) {
	v := []float64{5.007, 4.994, 5.005, 4.990, 4.999}
	i := []float64{19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3}
	phi := []float64{1.0456, 1.0438, 1.0468, 1.0428, 1.0433}
	all := [][]float64{v, i, phi}
	means := make([]float64, 3)
	for k, x := range all {
		for _, y := range x {
			means[k] += y / 5
		}
	}
	cov := mat.NewSymDense(3, nil)
	for k := range all {
		for l := k; l < 3; l++ {
			sum := 0.0
			for m := range 5 {
				sum += (all[k][m] - means[k]) * (all[l][m] - means[l])
			}
			cov.SetSym(k, l, sum/20)
		}
	}
	var s Sources
	in, err := s.Correlated("five observations", means, cov, 0)
	require.NoError(t, err)
	assert.InDelta(t, 0.0032, in[0].U(), 5e-5)
	assert.InDelta(t, 0.0095e-3, in[1].U(), 5e-8)
	assert.InDelta(t, 0.00075, in[2].U(), 5e-6)
	assert.InDelta(t, -0.36, Correlation(in[0], in[1]), 5e-3)
	assert.InDelta(t, 0.86, Correlation(in[0], in[2]), 5e-3)
	assert.InDelta(t, -0.65, Correlation(in[1], in[2]), 5e-3)

	V, I, c, d := means[0], means[1], math.Cos(means[2]), math.Sin(means[2])
	r := Smooth(V/I*c, Weighted{c / I, in[0]}, Weighted{-V / I / I * c, in[1]}, Weighted{-V / I * d, in[2]})
	x := Smooth(V/I*d, Weighted{d / I, in[0]}, Weighted{-V / I / I * d, in[1]}, Weighted{V / I * c, in[2]})
	z := Smooth(V/I, Weighted{1 / I, in[0]}, Weighted{-V / I / I, in[1]})
	assert.InDelta(t, 127.732, r.V, 5e-4)
	assert.InDelta(t, 0.071, r.U(), 1e-3)
	assert.InDelta(t, 219.847, x.V, 5e-4)
	assert.InDelta(t, 0.295, x.U(), 1e-3)
	assert.InDelta(t, 254.260, z.V, 5e-4)
	assert.InDelta(t, 0.236, z.U(), 1e-3)
	assert.InDelta(t, -0.588, Correlation(r, x), 5e-3)
	assert.InDelta(t, -0.485, Correlation(r, z), 5e-3)
	assert.InDelta(t, 0.993, Correlation(x, z), 5e-4)

	// The same again through the impedance: what is shared is known.
	again := Product(z, Smooth(c, Weighted{-d, in[2]}))
	assert.InDelta(t, r.V, again.V, 1e-9)
	assert.InDelta(t, r.U(), again.U(), 1e-9)
	assert.Less(t, again.Bend(), 0.02*again.U())

	scale := z.Times(2).Plus(x.Minus(z)).Minus(x) // z again
	assert.InDelta(t, z.U(), scale.U(), 1e-12)
}

// Two joints that share a shaft: correlation -0.5 and √6·u for the mismatch of a
// gauge of ±0.1 (the difference of the two differences, by hand).
func TestSharedShaft(t *testing.T) {
	var s Sources
	axis := func(v float64, name string) Number { return with(t, &s, v, Half(name, 0.1)) }
	a, b, c := axis(4, "the output"), axis(2, "the shaft"), axis(4.5, "the pinion")
	first, second := a.Minus(b), b.Minus(c)
	assert.InDelta(t, -0.5, Correlation(first, second), 1e-12)
	assert.InDelta(t, 0.141421356, first.Minus(second).U(), 1e-9)
	assert.InDelta(t, 0.141421356, Sum(Weighted{1, a}, Weighted{-2, b}, Weighted{1, c}).U(), 1e-9)
	assert.InDelta(t, 0.163299316, first.Expanded(), 1e-9)
	m := first.Minus(second)
	assert.InDelta(t, -2, m.Of(2), 1e-12)
	assert.InDelta(t, 4.5-4, c.Minus(a).V, 1e-12)
	assert.InDelta(t, 3, a.Mean(b).V, 1e-12)
	assert.InDelta(t, 0.0577350269/math.Sqrt2, a.Mean(b).U(), 1e-9)
	assert.Zero(t, a.Minus(a).U(), "what cancels is gone")
	assert.InDelta(t, 5, a.Shift(1).V, 0)
	top := m.Largest()
	assert.Equal(t, "the shaft", top[0].Label)
	assert.InDelta(t, 4.0/6, top[0].Part, 1e-12)
	assert.InDelta(t, 2*0.0577350269, top[0].U, 1e-9)
	assert.InDelta(t, 1.0/6, top[1].Part, 1e-12)
	assert.Equal(t, [2]Share{}, Exact(3).Largest())
}

// A source may come in again and again: the gradient of a random chain of sums
// and products by each source is that of finite differences, and the spread that
// of drawn errors.
func TestSensitivitiesAgainstDifferences(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		const n = 5
		var s Sources
		at, u := make([]float64, n), make([]float64, n)
		ids := make([]ID, n)
		in := make([]Number, n)
		for i := range n {
			at[i] = rapid.Float64Range(-3, 3).Draw(rt, "at")
			u[i] = rapid.Float64Range(0.001, 0.1).Draw(rt, "u")
			var err error
			if ids[i], err = s.Add(Source{Label: "x", U: u[i]}); err != nil {
				rt.Fatal(err)
			}
			in[i] = s.Number(at[i], Part{ids[i], 1})
		}
		type step struct{ kind, a, b int }
		var steps []step
		for k := range 6 {
			steps = append(steps, step{rapid.IntRange(0, 4).Draw(rt, "kind"), rapid.IntRange(0, n+k-1).Draw(rt, "a"), rapid.IntRange(0, n+k-1).Draw(rt, "b")})
		}
		plain := func(x []float64) float64 {
			all := append([]float64(nil), x...)
			for _, st := range steps {
				a, b := all[st.a], all[st.b]
				all = append(all, [...]float64{a + b, a - b, a * b / 4, math.Sin(a) * b, 0.7*a - 1.3*b}[st.kind])
			}
			return all[len(all)-1]
		}
		all := append([]Number(nil), in...)
		for _, st := range steps {
			a, b := all[st.a], all[st.b]
			sn, cs := math.Sincos(a.V)
			switch st.kind {
			case 0:
				all = append(all, a.Plus(b))
			case 1:
				all = append(all, a.Minus(b))
			case 2:
				all = append(all, Product(a, b).Times(0.25))
			case 3:
				all = append(all, Smooth(sn*b.V, Weighted{cs * b.V, a}, Weighted{sn, b}))
			default:
				all = append(all, Sum(Weighted{0.7, a}, Weighted{-1.3, b}))
			}
		}
		out := all[len(all)-1]
		if d := math.Abs(out.V - plain(at)); d > 1e-9*(1+math.Abs(out.V)) {
			rt.Fatalf("value off by %g", d)
		}
		sum := 0.0
		for i := range n {
			const h = 1e-5
			x, y := append([]float64(nil), at...), append([]float64(nil), at...)
			x[i], y[i] = x[i]+h, y[i]-h
			want := (plain(x) - plain(y)) / (2 * h)
			if got := out.Of(ids[i]); math.Abs(got-want) > 1e-5*(1+math.Abs(want)+math.Abs(out.V)) {
				rt.Fatalf("by source %d: %g, differences say %g", i, got, want)
			}
			sum += want * want * u[i] * u[i]
		}
		if got := out.U(); math.Abs(got-math.Sqrt(sum)) > 1e-4*(got+math.Sqrt(sum))+1e-6 {
			rt.Fatalf("u %g, differences say %g", got, math.Sqrt(sum))
		}
	})
}

// The sum in one pass is the sum two by two, for more operands than fit on the
// stack too.
func TestSumIsTheSameInOnePass(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var s Sources
	var ids []ID
	for range 40 {
		id, err := s.Add(Source{Label: "x", U: 1 + r.Float64()})
		require.NoError(t, err)
		ids = append(ids, id)
	}
	var parts []Weighted
	slow := Exact(0)
	for range 12 {
		var ps []Part
		for _, k := range r.Perm(40)[:7] {
			ps = append(ps, Part{ids[k], r.NormFloat64()})
		}
		w := Weighted{r.NormFloat64(), s.Number(r.NormFloat64(), ps...)}
		parts = append(parts, w)
		slow = slow.Plus(w.N.Times(w.K))
	}
	fast := Sum(parts...)
	assert.InDelta(t, slow.V, fast.V, 1e-12)
	assert.InDelta(t, slow.U(), fast.U(), 1e-12)
	for _, id := range ids {
		assert.InDelta(t, slow.Of(id), fast.Of(id), 1e-12)
	}
}

// A zero cancels between readings of known sign, adds where they are opposite,
// and counts with the worse sign where one is not known.
func TestUnknownSigns(t *testing.T) {
	var s Sources
	src := Half("the gauge's zero", 1)
	src.Turns = true
	zero, err := s.Add(src)
	require.NoError(t, err)
	unsigned := func() ID {
		id, err := s.Unsigned(zero)
		require.NoError(t, err)
		return id
	}
	u := 1 / math.Sqrt(3)
	a, b := s.Number(4, Part{zero, 1}), s.Number(2, Part{zero, -1})
	c, d := s.Number(4, Part{unsigned(), 1}), s.Number(2, Part{unsigned(), 1})
	assert.InDelta(t, 0, a.Plus(b).U(), 1e-12)
	assert.InDelta(t, 2*u, a.Minus(b).U(), 1e-12)
	assert.InDelta(t, 2*u, a.Minus(c).U(), 1e-12)
	assert.InDelta(t, 2*u, a.Plus(c).U(), 1e-12)
	assert.InDelta(t, 2*u, c.Minus(d).U(), 1e-12)
	assert.InDelta(t, u, c.U(), 1e-12)
	assert.InDelta(t, 0, c.Minus(c).U(), 1e-12, "one reading's own sign is one sign")
	assert.InDelta(t, 4*u, Sum(Weighted{1, c}, Weighted{-2, d}, Weighted{1, a}).U(), 1e-12)
	top := a.Minus(c).Largest()
	assert.Equal(t, "the gauge's zero", top[0].Label)
	assert.InDelta(t, 1, top[0].Part, 1e-12)
	e := with(t, &s, 0, Source{Label: "the reading", U: 3})
	assert.Equal(t, "the reading", a.Minus(c).Plus(e).Largest()[0].Label)
	assert.InDelta(t, 9/(9+4*u*u), a.Minus(c).Plus(e).Largest()[0].Part, 1e-12)
	// Of more gauges than are looked for first.
	sum, want := Exact(0), 0.0
	for range 7 {
		z, err := s.Add(src)
		require.NoError(t, err)
		w, err := s.Unsigned(z)
		require.NoError(t, err)
		sum = sum.Plus(s.Number(0, Part{z, 1}, Part{w, 2}))
		want += 9 * u * u
	}
	assert.InDelta(t, math.Sqrt(want), sum.U(), 1e-12)
	plain, err := s.Add(Half("no sign", 1))
	require.NoError(t, err)
	_, err = s.Unsigned(plain)
	assert.Error(t, err)
	none, err := s.Unsigned(None)
	require.NoError(t, err)
	assert.Equal(t, None, none)
}

func TestSourcesRefuse(t *testing.T) {
	var s Sources
	for _, bad := range []Source{{U: -1}, {U: math.NaN()}, {U: math.Inf(1)}, {U: 1, DoF: 0.5}, {U: 1, DoF: math.NaN()}, {U: 1, Pool: 7}, {U: 1, Pool: -1}} {
		_, err := s.Add(bad)
		assert.Error(t, err)
	}
	id, err := s.Add(Source{Label: "nothing"})
	require.NoError(t, err)
	assert.Equal(t, None, id)
	assert.Zero(t, s.Number(3, Part{id, 1}).U())
	_, err = s.Correlated("fit", []float64{1, 2}, mat.NewSymDense(2, []float64{1, 2, 2, 1}), 0)
	assert.ErrorIs(t, err, ErrCovariance)
	_, err = s.Correlated("fit", []float64{1, 2}, mat.NewSymDense(2, []float64{1, math.NaN(), math.NaN(), 1}), 0)
	assert.ErrorIs(t, err, ErrCovariance)
	_, err = s.Correlated("fit", []float64{1}, mat.NewSymDense(2, []float64{1, 0, 0, 1}), 0)
	assert.Error(t, err)
}

// Numbers of a fork go with those they came from, and with no other fork's.
func TestFork(t *testing.T) {
	var s Sources
	a := with(t, &s, 1, Source{Label: "a", U: 1})
	left, right := s.Fork(), s.Fork()
	b, c := with(t, left, 2, Source{Label: "b", U: 2}), with(t, right, 2, Source{Label: "c", U: 3})
	assert.Equal(t, 1, s.Len())
	_, err := s.Add(Source{Label: "late", U: 1})
	assert.ErrorIs(t, err, ErrForked)
	_, err = s.Unsigned(1)
	assert.Error(t, err)
	assert.InDelta(t, math.Sqrt(5), a.Plus(b).U(), 1e-12)
	assert.InDelta(t, math.Sqrt(10), c.Plus(a).U(), 1e-12)
	assert.Equal(t, "c", c.Plus(a).Largest()[0].Label)
	assert.Panics(t, func() { b.Plus(c) })
	deeper := left.Fork().Fork()
	assert.InDelta(t, 3, with(t, deeper, 0, Source{U: 2}).Plus(b).Plus(a).U(), 1e-12)
}

// The factor of a covariance gives it back, of full rank or not.
func TestCorrelatedGivesTheCovarianceBack(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for _, rank := range []int{5, 3, 1, 0} {
		cov := mat.NewSymDense(5, nil)
		for range rank {
			x := make([]float64, 5)
			for i := range x {
				x[i] = r.NormFloat64()
			}
			cov.SymRankOne(cov, 1, mat.NewVecDense(5, x))
		}
		var s Sources
		ns, err := s.Correlated("the survey", []float64{1, 2, 3, 4, 5}, cov, 0)
		require.NoError(t, err)
		for i := range ns {
			assert.InDelta(t, cov.At(i, i), ns[i].U()*ns[i].U(), 1e-9)
			for j := range ns {
				assert.InDelta(t, cov.At(i, j), Covariance(ns[i], ns[j]), 1e-9, "rank %d", rank)
			}
		}
		if rank > 0 {
			assert.InDelta(t, 1, ns[0].Largest()[0].Part, 1e-12, "one label is one source")
		}
	}
}

// A vector turned and then measured along an axis is the vector measured along
// the axis turned back.
func TestVectors(t *testing.T) {
	var s Sources
	v := Vec{with(t, &s, 1, Source{U: 0.1}), with(t, &s, 2, Source{U: 0.2}), with(t, &s, 3, Source{U: 0.3})}
	q := r3.NewRotation(0.7, r3.Vec{X: 1, Y: -2, Z: 0.5})
	turned := v.Linear(q.Rotate(r3.Vec{X: 1}), q.Rotate(r3.Vec{Y: 1}), q.Rotate(r3.Vec{Z: 1}))
	d := r3.Unit(r3.Vec{X: 3, Y: 1, Z: -1})
	back := r3.NewRotation(-0.7, r3.Vec{X: 1, Y: -2, Z: 0.5}).Rotate(d)
	assert.InDelta(t, v.Dot(back).V, turned.Dot(d).V, 1e-12)
	assert.InDelta(t, v.Dot(back).U(), turned.Dot(d).U(), 1e-12)
	assert.InDelta(t, math.Sqrt(0.01*back.X*back.X+0.04*back.Y*back.Y+0.09*back.Z*back.Z), turned.Dot(d).U(), 1e-12)
	zero := v.Plus(v).Minus(v.Times(2)).Plus(ExactVec(r3.Vec{Z: 1}))
	assert.Zero(t, zero.X.U())
	assert.Equal(t, r3.Vec{Z: 1}, zero.V())
}

// What several numbers share and what each has alone are their covariance together.
func TestSharedAndOwnAreTheCovariance(t *testing.T) {
	s := new(Sources)
	add := func(u float64) ID {
		id, err := s.Add(Source{Label: "x", U: u})
		require.NoError(t, err)
		return id
	}
	scale, faint, a, b := add(2), add(1), add(3), add(0.5)
	of := []Number{s.Number(1, Part{scale, 0.5}, Part{a, 1}), s.Number(2, Part{scale, -1}, Part{b, 4}, Part{faint, 1e-5}), s.Number(3, Part{faint, 1e-5}, Part{b, 2})}
	common, labels, own := Shared(of)
	assert.Len(t, common, 2, "a faint one stays with each")
	assert.Equal(t, []string{"x", "x"}, labels)
	sameCovariance(t, of, common, own)
}

// Where more errors are shared than there are numbers, as many as these do the same.
func TestSharedAreNoMoreThanTheNumbers(t *testing.T) {
	s := new(Sources)
	dice := rand.New(rand.NewPCG(3, 3))
	of := make([]Number, 3)
	for k := range 9 {
		x, err := s.Add(Source{Label: "x", U: 1 + dice.Float64()})
		require.NoError(t, err)
		for i := range of {
			if k != i { // what one has alone stays with it
				of[i] = of[i].Plus(s.Number(0, Part{x, dice.NormFloat64()}))
			}
		}
	}
	alone, err := s.Add(Source{Label: "alone", U: 2})
	require.NoError(t, err)
	of[1] = of[1].Plus(s.Number(0, Part{alone, 1}))
	common, labels, own := Shared(of)
	assert.Len(t, common, 3)
	assert.Len(t, labels, 3)
	assert.InDelta(t, 2, own[1], 1e-9)
	sameCovariance(t, of, common, own)
}

// sameCovariance holds what numbers share and have alone against what they are.
func sameCovariance(t *testing.T, of []Number, common [][]float64, own []float64) {
	t.Helper()
	for i := range of {
		for j := range of {
			sum := 0.0
			for _, c := range common {
				sum += c[i] * c[j]
			}
			if i == j {
				sum += own[i] * own[i]
			}
			both, apart := of[i].Plus(of[j]).U(), of[i].Minus(of[j]).U()
			assert.InDelta(t, (both*both-apart*apart)/4, sum, 1e-9)
		}
	}
}
