package uncertain

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// JCGM 100:2008, H.1.6 (from memory): an end gauge, 25, 9.7, 2.9 and 16.6 nm with
// 18, 25.6, 50 and 2 degrees of freedom: u 32 nm with 16.
func TestEffectiveDegreesOfFreedom(t *testing.T) {
	var s Sources
	sum := Exact(0)
	for _, c := range []struct{ u, dof float64 }{{25, 18}, {9.7, 25.6}, {2.9, 50}, {16.6, 2}} {
		sum = sum.Plus(with(t, &s, 0, Source{Label: "x", U: c.u, DoF: c.dof}))
	}
	assert.InDelta(t, 31.671, sum.U(), 5e-4)
	assert.Equal(t, 16, int(sum.DoF()))
	assert.InDelta(t, 2.1200, sum.Factor(), 1e-4)
	assert.InDelta(t, 2.12*31.671, sum.Expanded(), 0.01)
	assert.InDelta(t, 2, with(t, &s, 0, Half("typed", 1)).Factor(), 0)
	assert.True(t, math.IsInf(with(t, &s, 0, Half("typed", 1)).DoF(), 1))
	one := with(t, &s, 0, Source{U: 3, DoF: 4})
	assert.InDelta(t, 4, one.Plus(with(t, &s, 0, Source{U: 1e-6})).DoF(), 1e-6)
	assert.InDelta(t, 2.7765, one.Times(1.0/3).Plus(Exact(1)).Factor(), 1e-4, "4 as 3.999… is 4")
}

// Two means by one pooled standard deviation know no more than that one.
func TestAPoolIsOneEstimate(t *testing.T) {
	var s Sources
	first, err := s.Add(Source{U: 1, DoF: 3})
	require.NoError(t, err)
	second, err := s.Add(Source{U: 1, DoF: 3, Pool: first})
	require.NoError(t, err)
	third, err := s.Add(Source{U: 1, DoF: 3, Pool: second})
	require.NoError(t, err)
	other, err := s.Add(Source{U: 1, DoF: 3})
	require.NoError(t, err)
	assert.InDelta(t, 3, s.Number(0, Part{first, 1}, Part{second, -1}, Part{third, 2}).DoF(), 1e-12)
	assert.InDelta(t, 6, s.Number(0, Part{first, 1}, Part{other, -1}).DoF(), 1e-12)
}

// JCGM 100:2008, table G.2, by another road.
func TestStudentTable(t *testing.T) {
	for i, k := range student97 {
		want := distuv.StudentsT{Sigma: 1, Nu: float64(i + 1)}.Quantile(0.975)
		assert.InDelta(t, want+5e-6, k, 6e-6, "%d", i+1)
	}
	assert.InDelta(t, 2, factor(61), 0)
	assert.InDelta(t, 12.7062, factor(0.2), 5e-5)
	assert.InDelta(t, 4.3027, factor(2.9), 5e-5)
	assert.InDelta(t, 3.1824, factor(3-1e-12), 5e-5)
}

// A rectangle alone, and the difference of two: 0.155279 is the exact 95 % of
// the triangular difference of two ±0.1; taken as one rectangle and the rest
// normal it must not come out smaller by more than a hair, nor reach k = 2.
func TestDominance(t *testing.T) {
	var s Sources
	a, b := with(t, &s, 1, Half("a", 0.1)), with(t, &s, 0, Half("b", 0.1))
	assert.InDelta(t, 0.095, a.Exceeded(0.025), 1e-9)
	assert.InDelta(t, 1, a.AtMost(1.1), 1e-12)
	assert.InDelta(t, 0.75, a.AtMost(1.05), 1e-12)
	assert.InDelta(t, 0.25, a.AtLeast(1.05), 1e-12)
	d := a.Minus(b)
	assert.InDelta(t, 0.155279, d.Exceeded(0.025), 2.5e-3)
	assert.GreaterOrEqual(t, d.Exceeded(0.025), 0.155279)
	assert.Less(t, d.Exceeded(0.025), d.Expanded())
	assert.InDelta(t, 1, Exact(1).AtMost(1), 0)
	assert.InDelta(t, 0, Exact(1.1).AtMost(1), 0)
	n := with(t, &s, 0, Source{U: 1})
	assert.InDelta(t, 0.975, n.AtMost(1.959963985), 1e-9)
	assert.InDelta(t, 1.959963985, n.Exceeded(0.025), 1e-6)
	e := with(t, &s, 0, Source{U: 1, DoF: 4})
	assert.InDelta(t, 0.975, e.AtMost(2.7764451), 1e-6)
	assert.InDelta(t, 2.7764451, e.Exceeded(0.025), 1e-5)
	// An estimate that hardly counts leaves a rectangle.
	assert.InDelta(t, 0.095, a.Plus(with(t, &s, 0, Source{U: 1e-9, DoF: 1})).Exceeded(0.025), 1e-6)
	src := Half("zero", 1)
	src.Turns = true
	z, err := s.Add(src)
	require.NoError(t, err)
	w, err := s.Unsigned(z)
	require.NoError(t, err)
	assert.InDelta(t, 3*0.95, s.Number(0, Part{z, 1}, Part{w, -2}).Exceeded(0.025), 1e-9)
}

// The convolution against the sum over the rectangle by small steps, and its
// ends.
func TestRectangleAndNormal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		half, u := rapid.Float64Range(0.01, 3).Draw(t, "half"), rapid.Float64Range(0.01, 3).Draw(t, "u")
		x := rapid.Float64Range(-6, 6).Draw(t, "x")
		const steps = 4000
		sum := 0.0
		for i := range steps {
			sum += phi((x-half*(2*(float64(i)+0.5)/steps-1))/u) / steps
		}
		if got := boxed(x, half, u); math.Abs(got-sum) > 1e-5 {
			t.Fatalf("%g, by steps %g", got, sum)
		}
		if got := boxed(x, half, u) + boxed(-x, half, u); math.Abs(got-1) > 1e-9 {
			t.Fatalf("both sides add up to %g", got)
		}
	})
	assert.InDelta(t, boxed(0.3, 1, 1e-5), boxed(0.3, 1, 1e-9), 1e-6)
	assert.InDelta(t, boxed(0.3, 1e-5, 1), boxed(0.3, 1e-9, 1), 1e-6)
}

// k = 2 keeps 97.5 % to each side for any mixture of rectangles, triangles and
// normal errors, and never falls short of Exceeded by its own distribution.
func TestTwoUCoversSumsOfAllShapes(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for _, mix := range [][3]float64{{1, 0, 0}, {0, 1, 0}, {1, 1, 0}, {3, 1, 1}, {1, 1, 1}, {0, 0, 1}, {1, 0, 0.3}} {
		var s Sources
		n := with(t, &s, 0, Source{U: mix[2]}).Plus(with(t, &s, 0, Half("a", mix[0]))).Plus(with(t, &s, 0, Half("b", mix[1])))
		const draws = 40000
		in, inExact := 0, 0
		half, exact := n.Expanded(), n.Exceeded(0.025)
		for range draws {
			e := mix[0]*(2*r.Float64()-1) + mix[1]*(2*r.Float64()-1) + mix[2]*r.NormFloat64()
			if e <= half {
				in++
			}
			if e <= exact {
				inExact++
			}
		}
		assert.Greater(t, float64(in)/draws, 0.975, "%v", mix)
		assert.Greater(t, float64(inExact)/draws, 0.9735, "%v", mix) // two sigma of the simulation
		assert.LessOrEqual(t, exact, half+1e-12)
	}
}

// Where the slope vanishes the bend takes over: the square of something that was
// measured as anything near zero.
func TestSquaresNearZero(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for _, truth := range [][2]float64{{0, 0}, {0.5, 0}, {1, 0.3}, {0, 2}, {3, 3}} {
		in, draws, width := 0, 20000, 0.0
		var s Sources
		re, im := with(t, &s, 0, Source{U: 1}), with(t, &s, 0, Source{U: 0.6})
		want := math.Hypot(truth[0]*truth[0]-truth[1]*truth[1], 2*truth[0]*truth[1])
		for range draws {
			x, y := Square(re.Shift(truth[0]+r.NormFloat64()), im.Shift(truth[1]+0.6*r.NormFloat64()))
			m := Norm(x, y)
			width += m.Upper / float64(draws)
			if m.Upper >= want {
				in++
			}
		}
		assert.Greater(t, float64(in)/float64(draws), 0.975, "%v", truth)
		t.Logf("truth %.2f: covered %.4f, mean upper limit %.2f", want, float64(in)/float64(draws), width)
	}
	// Products of errors with nothing beside them.
	var s Sources
	a, b := with(t, &s, 0, Source{U: 1}), with(t, &s, 0, Source{U: 2})
	in := 0
	for range 20000 {
		p := Product(a.Shift(r.NormFloat64()), b.Shift(2*r.NormFloat64()))
		if p.V-p.Expanded() <= 0 {
			in++
		}
	}
	assert.Greater(t, float64(in)/20000, 0.975)
}
