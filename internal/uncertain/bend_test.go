package uncertain

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// JCGM 101:2008, 9.4: the sum of two squares near zero, u 0.005 each, with and
// without correlation (values from memory; first order and mean and standard
// deviation by the closed form). The half width covers what a first order leaves
// out, wherever the first is.
func TestTwoSquaresNearZero(t *testing.T) {
	const u = 0.005
	dice := rand.New(rand.NewPCG(21, 22))
	for _, r := range []float64{0, 0.9} {
		for _, x := range []float64{0, 0.010, 0.050} {
			var s Sources
			first, err := s.Add(Source{U: u})
			require.NoError(t, err)
			second, err := s.Add(Source{U: u})
			require.NoError(t, err)
			a := s.Number(x, Part{first, 1})
			b := s.Number(0, Part{first, r}, Part{second, math.Sqrt(1 - r*r)})
			assert.InDelta(t, r, Correlation(a, b), 1e-12)
			y := Curved(x*x, []float64{2, 0, 0, 2}, Weighted{2 * x, a}, Weighted{0, b})
			assert.InDelta(t, 2*x*u, y.U(), 1e-15, "first order: 0, 100 and 500 in 10⁻⁶")
			in, mean := 0, 0.0
			const draws = 20000
			for range draws {
				e, f := dice.NormFloat64(), dice.NormFloat64()
				v, w := x+u*e, u*(r*e+math.Sqrt(1-r*r)*f)
				mean += (v*v + w*w) / draws
				if v*v+w*w <= y.V+y.Expanded() {
					in++
				}
			}
			assert.InDelta(t, x*x+2*u*u, mean, 0.05*(x*x+2*u*u), "50, 150 and 2550 in 10⁻⁶")
			assert.Greater(t, float64(in)/draws, 0.975)
			t.Logf("r %.1f x %.3f: ±%.0f, covered %.4f", r, x, 1e6*y.Expanded(), float64(in)/draws)
		}
	}
}

// Two arguments by their closed form, three by eigenvalues, and by sizes where
// signs are not known: each bounds what is drawn, and an argument that comes
// twice is the same as one.
func TestBendBoundsQuadraticForms(t *testing.T) {
	some := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0.001, 1), rapid.Float64Range(-1, -0.001))
	rapid.Check(t, func(rt *rapid.T) {
		var s Sources
		var ids [3]ID
		for i := range ids {
			var err error
			ids[i], err = s.Add(Source{U: 1})
			require.NoError(rt, err)
		}
		n := rapid.IntRange(1, 3).Draw(rt, "n")
		args, c := make([]Number, n), make([][3]float64, n)
		for i := range args {
			for k := range c[i] {
				c[i][k] = some.Draw(rt, "c")
			}
			args[i] = s.Number(0, Part{ids[0], c[i][0]}, Part{ids[1], c[i][1]}, Part{ids[2], c[i][2]})
		}
		h := make([]float64, n*n)
		for i := range n {
			for j := range i + 1 {
				h[i*n+j] = some.Draw(rt, "h")
				h[j*n+i] = h[i*n+j]
			}
		}
		got := bent(h, args)
		if most := quadratic / 2 * bySizes(h, args); got > most+1e-9 {
			rt.Fatalf("%g, whatever the correlation %g", got, most)
		}
		if n == 2 {
			full := bending{args: args}
			for i := range args {
				full.u[i] = args[i].U()
			}
			correlationRoot(&full.root, args, full.u[:n])
			if slow := quadratic / 2 * full.ofMany(h); math.Abs(slow-got) > 1e-9 {
				rt.Fatalf("%g, by eigenvalues %g", got, slow)
			}
		}
		dice := rand.New(rand.NewPCG(1, 1))
		past := 0
		const draws = 400
		for range draws {
			e := [3]float64{dice.NormFloat64(), dice.NormFloat64(), dice.NormFloat64()}
			sum := 0.0
			for i := range n {
				for j := range n {
					sum += h[i*n+j] * dot(c[i], e) * dot(c[j], e) / 2
				}
			}
			if math.Abs(sum) > got {
				past++
			}
		}
		if float64(past)/draws > 0.025+0.03 {
			rt.Fatalf("exceeded in %d of %d", past, draws)
		}
	})
	var s Sources
	src := Source{U: 1, Turns: true}
	id, err := s.Add(src)
	require.NoError(t, err)
	x := s.Number(0, Part{id, 1})
	assert.InDelta(t, quadratic, bent([]float64{2}, []Number{x}), 1e-12)
	assert.InDelta(t, quadratic*4, bent([]float64{2, 2, 2, 2}, []Number{x, x}), 1e-12)
	y := with(t, &s, 0, Source{U: 1})
	assert.InDelta(t, quadratic, bent([]float64{2}, []Number{y}), 1e-12)
	assert.InDelta(t, quadratic*4, bent([]float64{2, 2, 2, 2}, []Number{y, y}), 1e-12)
	assert.Zero(t, bent([]float64{1, -1, -1, 1}, []Number{y, y}), "a difference of one and the same")
	assert.Zero(t, bent(nil, nil))
	square := Curved(0, []float64{2}, Weighted{0, y})
	for _, less := range []Number{Exact(1).Minus(square), square.Times(-1), Sum(Weighted{-1, square}), Product(square, Exact(-1))} {
		assert.InDelta(t, quadratic, less.Expanded(), 1e-12, "a bend has no sign")
	}
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
