package uncertain

import (
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/inturn"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

// The farthest and the nearest point of an ellipsoid, against a search over all
// its points.
func TestEllipsoidAgainstSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var y, v [3]float64
		for i := range 3 {
			y[i] = rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(-5, 5)).Draw(t, "y")
			v[i] = rapid.OneOf(rapid.Just(0.0), rapid.Just(1.0), rapid.Float64Range(0, 2)).Draw(t, "v")
		}
		const k = 2.0
		most, least := 0.0, math.Inf(1)
		inside := 0.0
		for i := range 3 {
			if y[i] != 0 {
				inside += y[i] * y[i] / (k * k * v[i])
			}
		}
		const n = 40
		for i := range n + 1 {
			for j := range 2*n + 1 {
				st, ct := math.Sincos(math.Pi * float64(i) / n)
				sp, cp := math.Sincos(math.Pi * float64(j) / n)
				p := [3]float64{y[0] + k*math.Sqrt(v[0])*st*cp, y[1] + k*math.Sqrt(v[1])*st*sp, y[2] + k*math.Sqrt(v[2])*ct}
				most, least = max(most, length(p)), min(least, length(p))
			}
		}
		if inside <= 1 {
			least = 0
		}
		if got := length(farthest(y, v, k)); got < most-1e-9 || got > most*1.004+1e-9 {
			t.Fatalf("farthest %v, by search %v", got, most)
		}
		if got := length(nearest(y, v, k)); got > least+1e-9 || got < least-0.2 {
			t.Fatalf("nearest %v, by search %v", got, least)
		}
	})
}

// covered draws a vector of errors about a truth and counts how often each
// limit holds.
func covered(t *testing.T, truth, u [3]float64, n, draws int) (upper, lower, number, width float64) {
	r := rand.New(rand.NewPCG(11, uint64(n)))
	var s Sources
	base := make([]Number, n)
	for i := range base {
		base[i] = with(t, &s, 0, Source{U: u[i]})
	}
	size := 0.0
	for i := range n {
		size = math.Hypot(size, truth[i])
	}
	parts := make([]Number, n)
	for range draws {
		for i := range parts {
			parts[i] = base[i].Shift(truth[i] + u[i]*r.NormFloat64())
		}
		m := Norm(parts...)
		width += m.Upper
		if m.Upper >= size {
			upper++
		}
		if m.Lower <= size {
			lower++
		}
		if math.Abs(m.Number.V-size) <= m.Number.Expanded() {
			number++
		}
	}
	d := float64(draws)
	return upper / d, lower / d, number / d, width/d - size
}

// Both limits hold with 97.5 % at any distance from zero, round or not, in two
// and three components, and no more than they have to along the longest axis: the
// lower limit at any distance, the upper one from k standard uncertainties, below
// which it never falls. The mean width is logged.
func TestMagnitudesCover(t *testing.T) {
	for _, c := range []struct {
		name string
		u    [3]float64
		n    int
	}{
		{"one component", [3]float64{1}, 1},
		{"round", [3]float64{1, 1}, 2},
		{"flat", [3]float64{1, 0.2}, 2},
		{"line", [3]float64{1, 0}, 2},
		{"ball", [3]float64{1, 1, 1}, 3},
		{"cigar", [3]float64{1, 0.3, 0.1}, 3},
	} {
		for i, size := range []float64{0, 0.3, 1, 2, 4, 10} {
			for k, turn := range []float64{0, 0.8, math.Pi / 2} {
				if alone := c.n == 1 || size == 0; alone && turn > 0 || !alone && !inturn.Try(t, i+k, 3) {
					continue // by default each size in one direction
				}
				upper, lower, number, width := covered(t, [3]float64{size * math.Cos(turn), size * math.Sin(turn)}, c.u, c.n, 2500)
				t.Logf("%-13s truth %4.1f at %2.0f°: upper %.4f lower %.4f number %.4f, upper limit %.2f above on average", c.name, size, turn*180/math.Pi, upper, lower, number, width)
				const noise = 0.007 // two sigma of 2500 draws
				assert.Greater(t, upper, 0.975-noise)
				assert.Greater(t, lower, 0.975-noise)
				assert.Greater(t, number, 0.95-noise)
				if c.n < 3 && (turn == 0 || c.name == "round") {
					assert.Less(t, lower, 0.98+noise)
					if size > 2 {
						assert.Less(t, upper, 0.98+noise)
					}
				}
			}
		}
	}
}

// rice is the probability that a size r with normal errors of 1 in both components is
// measured no larger than x: the noncentral chi-squared distribution as a Poisson
// mixture.
func rice(x, r float64) float64 {
	sum := 0.0
	for j := range 200 {
		lg, _ := math.Lgamma(float64(j + 1))
		w := math.Exp(-r*r/2 - lg + float64(j)*math.Log(math.Max(r*r/2, 1e-300)))
		sum += w * distuv.ChiSquared{K: float64(2 + 2*j)}.CDF(x*x)
	}
	return sum
}

// In the round case, and of one component, the limits are those of a distribution
// that is known: a truth at the upper limit would be measured as small with the
// probability of one side of k, one at the lower limit as large.
func TestLimitsAgainstRice(t *testing.T) {
	folded := func(x, r float64) float64 { return phi(x-r) - phi(-x-r) }
	side := phi(-Coverage)
	for _, x := range []float64{0, 0.1, 0.3, 0.7, 1, 2, 2.25, 2.3, 2.5, 2.7, 2.9, 3, 4, 5, 7, 9, 11.9, 12, 12.1, 15} {
		var s Sources
		for name, c := range map[string]struct {
			m    Magnitude
			of   func(x, r float64) float64
			zero float64 // what is measured of no size at all with the probability of one side
		}{
			"one":   {Norm(with(t, &s, x, Source{U: 1})), folded, 2.2776},
			"round": {Norm(with(t, &s, 0.6*x, Source{U: 1}), with(t, &s, 0.8*x, Source{U: 1})), rice, 2.7504},
		} {
			assert.GreaterOrEqual(t, c.m.Upper, Coverage, "%s %g", name, x)
			switch missed := c.of(x, c.m.Upper); {
			case c.m.Upper > Coverage+1e-9:
				assert.InDelta(t, side, missed, 2.5e-4, "%s %g: upper limit %g", name, x, c.m.Upper)
			default:
				assert.LessOrEqual(t, missed, side+1e-6, "%s %g: upper limit %g", name, x, c.m.Upper)
			}
			if x < c.zero {
				assert.Zero(t, c.m.Lower, "%s %g", name, x)
			} else {
				assert.InDelta(t, 1-side, c.of(x, c.m.Lower), 2.5e-4, "%s %g: lower limit %g", name, x, c.m.Lower)
			}
		}
	}
	var s Sources
	x, y := with(t, &s, 3, Source{U: 1}), with(t, &s, 4, Source{U: 1})
	assert.InDelta(t, 5-3.057516, Norm(x, y, with(t, &s, 0, Source{U: 1})).Lower, 1e-6)
	assert.InDelta(t, 7, Norm(x, y, with(t, &s, 0, Source{U: 1})).Upper, 1e-9)
	assert.InDelta(t, 3, Norm(Exact(3), with(t, &s, 1, Source{U: 2})).Lower, 1e-9, "the exact component stays")
}

// A disc over which a flat distribution is added up, against draws.
func TestBelowAgainstDraws(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 12 {
		turn, truth := r.Float64()*math.Pi/2, 4*r.Float64()
		s := seen{size: 0.3 + 4*r.Float64(), big: 1, small: 0.05 + 0.95*r.Float64()}
		s.points(math.Cos(turn), math.Sin(turn))
		in := 0.0
		const draws = 40000
		for range draws {
			if math.Hypot(truth*math.Cos(turn)+r.NormFloat64(), truth*math.Sin(turn)+s.small*r.NormFloat64()) <= s.size {
				in++
			}
		}
		assert.InDelta(t, in/draws, s.below(truth), 0.011, "%+v %g", s, truth)
	}
}

// Whether there is a limit above zero is mostly told without the distribution, and of one
// component far from zero so is the limit: both as the distribution has it.
func TestLimitsTellWithoutTheDistribution(t *testing.T) {
	for _, small := range []float64{0, 0.1, 0.5, 1} {
		for x := 0.05; x < 6; x += 0.05 {
			for _, k := range []float64{Coverage, -Coverage} {
				s := seen{size: x, big: 1, small: small}
				s.points(1, 0)
				above := probit(s.below(0)) + k
				if s.within(k) {
					assert.LessOrEqual(t, above, 1e-6, "%g of %g", x, small)
				}
				if s.beyond(k) {
					assert.Greater(t, above, -1e-6, "%g of %g", x, small)
				}
				if at := s.limit(k); small == 0 && at > 0 {
					assert.InDelta(t, -k, probit(s.below(at)), 5e-4, "%g", x)
				}
			}
		}
	}
}

// Far from zero the expansion takes the place of the inversion, and they agree.
func TestFarSizesAreExpanded(t *testing.T) {
	for _, small := range []float64{0, 0.2, 0.5, 1} {
		for turn := 0.0; turn < 1.6; turn += 0.2 {
			y := [3]float64{12 * math.Cos(turn), 12 * math.Sin(turn)}
			s := seen{size: 12, big: 1, small: small}
			s.points(y[0], y[1])
			if !s.far() {
				continue
			}
			upper, lower := s.expanded(Coverage), s.expanded(-Coverage)
			to := farthest(y, [3]float64{1, small * small}, Coverage)
			s.points(to[0], to[1])
			assert.InDelta(t, s.upper(), upper, 0.03, "%g at %g", small, turn)
			to = nearest(y, [3]float64{1, small * small}, Coverage)
			s.points(to[0], to[1])
			assert.InDelta(t, s.lower(), lower, 0.03, "%g at %g", small, turn)
		}
	}
}

// A magnitude carried on: its number moves as the size does away from zero, and
// at zero is as wide as the error that may lie across it.
func TestMagnitudeAsNumber(t *testing.T) {
	var s Sources
	x, y := with(t, &s, 3, Source{U: 0.1}), with(t, &s, 4, Source{U: 0.2})
	m := Norm(x, y)
	assert.InDelta(t, 5, m.Number.V, 1e-12)
	assert.InDelta(t, math.Hypot(0.6*0.1, 0.8*0.2), m.Number.U(), 1e-12)
	assert.Less(t, m.Number.Bend(), 0.02)
	assert.InDelta(t, m.Upper, m.V+m.Number.Expanded(), 0.02)
	z := Norm(x.Shift(-3), y.Shift(-4))
	assert.Zero(t, z.V)
	assert.Zero(t, z.Lower)
	assert.InDelta(t, 0.4, z.Upper, 1e-9)
	assert.InDelta(t, 0.4+0.2, z.Number.Expanded(), 1e-9)
	assert.Panics(t, func() { Norm() })
	assert.InDelta(t, 3, Norm(Exact(3), Exact(0)).Upper, 0)
	assert.InDelta(t, 3, Norm(Exact(3), Exact(0)).Lower, 0)
	assert.InDelta(t, 3.2, Norm(x).Upper, 1e-9)
}

// Signs that nobody knows make the ellipse as large as the worst of them.
func TestMagnitudeOfUnknownSigns(t *testing.T) {
	src := Half("zero", math.Sqrt(3))
	src.Turns = true
	rapid.Check(t, func(rt *rapid.T) {
		var s Sources
		z, err := s.Add(src)
		require.NoError(rt, err)
		var parts [2][]Part
		var c [3][2]float64
		for i := range c {
			id := z
			if i > 0 {
				id, err = s.Unsigned(z)
				require.NoError(rt, err)
			}
			for k := range 2 {
				c[i][k] = rapid.Float64Range(-1, 1).Draw(rt, "c")
				parts[k] = append(parts[k], Part{id, c[i][k]})
			}
		}
		at := rapid.Float64Range(0, 5).Draw(rt, "at")
		got := Norm(s.Number(at, parts[0]...), s.Number(1, parts[1]...))
		for signs := range 4 {
			a, b := float64(signs%2*2-1), float64(signs/2*2-1)
			x, y := c[0][0]+a*c[1][0]+b*c[2][0], c[0][1]+a*c[1][1]+b*c[2][1]
			if far := max(math.Hypot(at+2*x, 1+2*y), math.Hypot(at-2*x, 1-2*y)); got.Upper < far-1e-9 {
				rt.Fatalf("upper %g, and one choice of signs reaches %g", got.Upper, far)
			}
		}
	})
}

// A pooled estimate widens the ellipse as it widens a number.
func TestMagnitudeOfFewRepeats(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	in, inLower := 0, 0
	const draws = 10000
	for range draws {
		var s Sources
		x := [3][2]float64{}
		mean, sum := [2]float64{}, 0.0
		for i := range x {
			for k := range 2 {
				x[i][k] = r.NormFloat64()
				mean[k] += x[i][k] / 3
			}
		}
		for i := range x {
			for k := range 2 {
				sum += (x[i][k] - mean[k]) * (x[i][k] - mean[k])
			}
		}
		u := math.Sqrt(sum / 4 / 3)
		first, err := s.Add(Source{U: u, DoF: 4})
		require.NoError(t, err)
		second, err := s.Add(Source{U: u, DoF: 4, Pool: first})
		require.NoError(t, err)
		m := Norm(s.Number(5+mean[0], Part{first, 1}), s.Number(mean[1], Part{second, 1}))
		if m.Upper >= 5 {
			in++
		}
		if m.Lower <= 5 {
			inLower++
		}
	}
	assert.Greater(t, float64(in)/draws, 0.975-0.003)
	assert.Greater(t, float64(inLower)/draws, 0.975-0.003)
}

// direction is an axis by its slope and heading.
func direction(slope, heading Number) Vec {
	ss, cs := math.Sincos(slope.V)
	sh, ch := math.Sincos(heading.V)
	return SmoothVec(geom.Direction(geom.Angle(slope.V), geom.Angle(heading.V)),
		WeightedVec{r3.Vec{X: -ss * ch, Y: -ss * sh, Z: -cs}, slope},
		WeightedVec{r3.Vec{X: -cs * sh, Y: cs * ch}, heading})
}

// The angle between two axes is that of their directions, its uncertainty that
// of the slopes where both lie in one vertical plane; nearly in line, it is
// judged by both.
func TestAngleBetweenAxes(t *testing.T) {
	const deg = math.Pi / 180
	var s Sources
	axis := func(slope float64) (Number, Number) {
		return with(t, &s, slope*deg, Source{U: 0.1 * deg}), with(t, &s, 0, Source{U: 0.5 * deg})
	}
	a, h := axis(5)
	b, k := axis(2)
	m := Between(direction(a, Exact(0)), direction(b, Exact(0)))
	assert.InDelta(t, 3*deg, m.V, 1e-12)
	assert.InDelta(t, a.Minus(b).U(), m.Number.U(), 1e-6*deg)
	assert.InDelta(t, (3+0.2*math.Sqrt2)*deg, m.Upper, 1e-4*deg)
	m = Between(direction(a, h), direction(b, k))
	assert.InDelta(t, 3*deg, m.V, 1e-12)
	assert.Greater(t, m.Upper, (3+0.2*math.Sqrt2)*deg)
	m = Between(direction(a, h), direction(b.Shift(3*deg), k))
	assert.InDelta(t, 0, m.V, 1e-12)
	assert.InDelta(t, math.Sqrt2*deg*math.Cos(5*deg), m.Upper, 0.01*deg)
	rapid.Check(t, func(t *rapid.T) {
		d := func() r3.Vec {
			return geom.Direction(geom.Angle(rapid.Float64Range(-1.5, 1.5).Draw(t, "slope")), geom.Angle(rapid.Float64Range(-3, 3).Draw(t, "heading")))
		}
		v, w := d(), d()
		if got, want := Between(ExactVec(v), ExactVec(w)).V, geom.Between(v, w).Rad(); math.Abs(got-want) > 1e-6 {
			t.Fatalf("%g, want %g", got, want)
		}
	})
}

// Newton's steps end where halving the interval does, from any distance.
func TestOnUnitAgainstHalving(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var c, gap [3]float64
		for i := range 3 {
			if !rapid.Bool().Draw(rt, "none") {
				c[i] = math.Exp(rapid.Float64Range(-12, 12).Draw(rt, "c"))
			}
			gap[i] = math.Exp(rapid.Float64Range(-12, 12).Draw(rt, "gap")) * float64(rapid.IntRange(0, 1).Draw(rt, "apart"))
		}
		sum := func(x float64) float64 {
			s := 0.0
			for i := range 3 {
				if c[i] > 0 {
					s += c[i] / (x + gap[i]) * c[i] / (x + gap[i])
				}
			}
			return s
		}
		low := 1e-9
		for i := range 3 {
			low = max(low, c[i]-gap[i])
		}
		got, at := onUnit(&c, &gap, low)
		if sum(low) <= 1 {
			require.InDelta(rt, low, got, 0)
			return
		}
		lo, hi := low, c[0]+c[1]+c[2]
		for range 200 {
			if mid := (lo + hi) / 2; sum(mid) > 1 {
				lo = mid
			} else {
				hi = mid
			}
		}
		require.InDelta(rt, lo, got, 1e-9*(lo+gap[0]+gap[1]+gap[2]))
		require.InDelta(rt, 1, at, 1e-9)
	})
}

// What is exact is exact as a size, at zero too.
func TestSizeOfExactNumbers(t *testing.T) {
	for _, v := range [][]Number{{Exact(0)}, {Exact(0), Exact(0)}, {Exact(3), Exact(-4)}, {Exact(0), Exact(3), Exact(4)}, {Exact(0), Exact(0), Exact(0)}} {
		m := Norm(v...)
		require.InDelta(t, length([3]float64{v[0].V, append(v, Exact(0))[1].V, append(v, Exact(0), Exact(0))[2].V}), m.V, 1e-12)
		require.InDelta(t, m.V, m.Lower, 1e-12)
		require.InDelta(t, m.V, m.Upper, 1e-12)
		require.InDelta(t, 0, m.Number.Expanded(), 0)
	}
}
