package vibration

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

const rpm = math.Pi / 30

func at(v float64) Span { return Span{v, v} }

func find(t *testing.T, cs []Cause, p Part, order float64) Cause {
	t.Helper()
	for _, c := range cs {
		if c.Part == p && c.Order == order {
			return c
		}
	}
	require.Fail(t, "no such cause")
	return Cause{}
}

// Tyre 225/45R17 and axle 3.73 at 100 km/h: 501.8286 turns per km of the round
// tyre, 517.143 of one that rolls 3.05 times its design diameter (ETRTO, from
// memory); so 50182.86 and 51714.3 turns an hour.
func TestOrdersAtOneHundred(t *testing.T) {
	wheel := Span{50182.86 / 60 * rpm, 51714.3 / 60 * rpm}
	shaft := Span{3.73 * wheel.Lo, 3.73 * wheel.Hi}
	cs, err := Orders(Speeds{Wheel: wheel, Shafts: []Span{shaft}, Engine: at(3000 * rpm), Cylinders: 6})
	require.NoError(t, err)
	for _, c := range []struct {
		part   Part
		order  float64
		lo, hi float64
	}{
		{Wheel, 1, 13.9397, 14.3651}, {Wheel, 2, 27.8794, 28.7302},
		{Shaft, 1, 51.9950, 53.5817}, {Shaft, 2, 103.990, 107.163},
		{Engine, 1, 50, 50}, {Engine, 3, 150, 150}, {Engine, 0.5, 25, 25},
	} {
		got := find(t, cs, c.part, c.order)
		assert.InEpsilon(t, c.lo, got.Lo, 1e-4)
		assert.InEpsilon(t, c.hi, got.Hi, 1e-4)
	}
}

// Firing frequency of a four-stroke, n·c/120: V8 at 700, four at 800, six at
// 3000, three at 750 turns a minute.
func TestFiring(t *testing.T) {
	for _, c := range []struct {
		n    float64
		cyl  int
		want float64
	}{{700, 8, 46.6667}, {800, 4, 26.6667}, {3000, 6, 150}, {750, 3, 18.75}} {
		cs, err := Orders(Speeds{Engine: at(c.n * rpm), Cylinders: c.cyl})
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, find(t, cs, Engine, float64(c.cyl)/2).Mid(), 1e-5)
	}
}

func TestNothingTurns(t *testing.T) {
	for _, s := range []Speeds{{}, {Wheel: Span{-1, 2}}, {Wheel: Span{math.NaN(), 2}}, {Engine: Span{1, math.Inf(1)}}} {
		_, err := Orders(s)
		require.ErrorIs(t, err, ErrStanding)
	}
	_, err := Orders(Speeds{Engine: at(100), Cylinders: 99})
	require.Error(t, err)
	c := Cause{Lo: 10, Hi: 11, Order: 1}
	for _, f := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err := c.Fit(f, 0.5)
		require.Error(t, err)
	}
	_, err = Rank([]Cause{c}, nil, 10, 1)
	require.Error(t, err)
	_, err = Rank([]Cause{c}, []float64{math.NaN()}, 10, 1)
	require.Error(t, err)
}

// What was felt at a cause's own frequency puts that cause first, however the
// others lie, when all weigh the same; more weight never lowers a share.
func TestRanking(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(20, 200).Draw(t, "wheel")
		ratio := rapid.Float64Range(2.5, 5).Draw(t, "ratio")
		cs, err := Orders(Speeds{Wheel: Span{w, 1.03 * w}, Shafts: []Span{{w * ratio, 1.03 * w * ratio}}})
		require.NoError(t, err)
		weights := make([]float64, len(cs))
		for i := range weights {
			weights[i] = 1
		}
		n := rapid.IntRange(0, len(cs)-1).Draw(t, "cause")
		ranked, err := Rank(cs, weights, cs[n].Mid(), 0.1)
		require.NoError(t, err)
		sum, share := 0.0, 0.0
		for _, r := range ranked {
			sum += r.Share
			if r.Cause == cs[n] {
				share = r.Share
			}
			require.LessOrEqual(t, r.Share, ranked[0].Share)
		}
		require.InDelta(t, 1, sum, 1e-9)
		require.InDelta(t, ranked[0].Share, share, 1e-9)
		weights[n] = 3
		more, err := Rank(cs, weights, cs[n].Mid(), 0.1)
		require.NoError(t, err)
		require.Equal(t, cs[n], more[0].Cause)
		require.GreaterOrEqual(t, more[0].Share, share)
	})
}
