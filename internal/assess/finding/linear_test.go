package finding

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"fitup/internal/geom/gauge"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// JCGM 100:2008, 5.2.2: what two numbers share counts once in their sum and
// drops out of their difference.
func TestLinear(t *testing.T) {
	s := Sources{Readings: []float64{0.3, 0.4}, Zero: 1.2, Move: [6]float64{2: 0.5}}
	x := Linear{V: 5, C: []float64{1, 0}, Zero: 1}
	y := Linear{V: 2, C: []float64{0, 1}, Zero: 1}
	for name, c := range map[string]struct {
		l    Linear
		v, u float64
	}{
		"one":                  {x, 5, math.Sqrt(0.09 + 1.44)},
		"the difference":       {x.Minus(y), 3, 0.5},
		"the sum":              {x.Plus(y), 7, math.Sqrt(0.25 + 4*1.44)},
		"half":                 {x.Times(0.5), 2.5, math.Sqrt(0.09+1.44) / 2},
		"with itself":          {x.Minus(x), 0, 0},
		"moved":                {x.Minus(y).Plus(Linear{V: 1, Move: [6]float64{2: 3}}), 4, math.Sqrt(0.25 + 1.5*1.5)},
		"exact":                {NewLinear(2), 0, 0},
		"a function":           {Smooth(9, Weighted{2, &x}, Weighted{-2, &y}), 9, 1},
		"three times and once": {Sum(Weighted{3, &x}, Weighted{-3, &y}, Weighted{1, &Linear{}}), 9, 1.5},
	} {
		got := s.Of(c.l)
		assert.InDelta(t, c.v, got.V, 1e-12, name)
		assert.InDelta(t, c.u, got.U, 1e-12, name)
		assert.True(t, got.Known)
	}
}

// The two sums of a pair are what each is alone, and both together what they are
// added.
func TestPair(t *testing.T) {
	number := rapid.Float64Range(-2, 2)
	linear := rapid.Custom(func(t *rapid.T) *Linear {
		l := NewLinear(rapid.IntRange(0, 3).Draw(t, "n"))
		for i := range l.C {
			l.C[i] = number.Draw(t, "c")
		}
		l.Zero, l.Move[3] = number.Draw(t, "zero"), number.Draw(t, "move")
		return &l
	})
	s := Sources{Readings: []float64{0.3, 0.4, 0.1}, Zero: 0.2, Move: [6]float64{3: 0.7}}
	rapid.Check(t, func(t *rapid.T) {
		var k, l []Weighted
		var parts []WeightedPair
		for range rapid.IntRange(0, 4).Draw(t, "parts") {
			p := WeightedPair{number.Draw(t, "k"), number.Draw(t, "l"), linear.Draw(t, "of")}
			k, l, parts = append(k, Weighted{p.K, p.N}), append(l, Weighted{p.L, p.N}), append(parts, p)
		}
		first, second, both := s.Pair(parts)
		x, y := Sum(k...), Sum(l...)
		for _, c := range [][2]float64{{first, s.Standard(x)}, {second, s.Standard(y)}, {both, s.Standard(x.Plus(y))}} {
			if math.Abs(c[0]-c[1]) > 1e-12 {
				t.Fatalf("%v: %g is not %g", parts, c[0], c[1])
			}
		}
	})
}

func TestUnreadable(t *testing.T) {
	slip := fmt.Errorf("1 and 2 are apart: %w", ErrContradict)
	for want, err := range map[string]error{
		"two readings of the pinion cannot both be true: 1 and 2 are apart: the readings cannot all be true":   slip,
		"the reading of the pinion has no direction; which end is lower, front or rear?":                       gauge.ErrNoSense,
		"the reading of the pinion does not say what the gauge stood on; along the axis, or on a square face?": gauge.ErrNoSurface,
		"the reading of the pinion: of no use":                                                                 errors.New("of no use"),
	} {
		assert.Equal(t, want, Unreadable("the pinion", Number{Why: "of no use", Err: err}))
	}
}
