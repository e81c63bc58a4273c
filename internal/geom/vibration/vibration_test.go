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
	cs, err := Orders(Speeds{Wheel: wheel, Shafts: []Turning{{Span: shaft, Cardan: true}}, Engine: at(3000 * rpm), Cylinders: 6})
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
	_, err = Rank([]Cause{c}, nil, Felt{Frequency: 10, U: 1})
	require.Error(t, err)
	_, err = Rank([]Cause{c}, []float64{math.NaN()}, Felt{Frequency: 10, U: 1})
	require.Error(t, err)
}

// What was felt at a cause's own frequency puts that cause first, however the
// others lie, when all weigh the same; more weight never lowers a share.
func TestRanking(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := rapid.Float64Range(20, 200).Draw(t, "wheel")
		ratio := rapid.Float64Range(2.5, 5).Draw(t, "ratio")
		cs, err := Orders(Speeds{Wheel: Span{w, 1.03 * w}, Shafts: []Turning{{Span: Span{w * ratio, 1.03 * w * ratio}, Cardan: true}}})
		require.NoError(t, err)
		weights := make([]float64, len(cs))
		for i := range weights {
			weights[i] = 1
		}
		n := rapid.IntRange(0, len(cs)-1).Draw(t, "cause")
		ranked, err := Rank(cs, weights, Felt{Frequency: cs[n].Mid(), U: 0.1})
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
		more, err := Rank(cs, weights, Felt{Frequency: cs[n].Mid(), U: 0.1})
		require.NoError(t, err)
		require.Equal(t, cs[n], more[0].Cause)
		require.GreaterOrEqual(t, more[0].Share, share)
	})
}

// A line with constant-velocity joints has nothing that comes twice a turn; its
// joints come three and six times, and those of half shafts at wheel speed.
func TestOrdersOfEvenJoints(t *testing.T) {
	w := at(2 * math.Pi)
	cs, err := Orders(Speeds{Wheel: w, HalfShafts: true, Shafts: []Turning{{Span: at(8 * math.Pi), Even: true}}})
	require.NoError(t, err)
	orders := map[Part][]float64{}
	for _, c := range cs {
		orders[c.Part] = append(orders[c.Part], c.Mid())
	}
	assert.InDeltaSlice(t, []float64{4, 12, 24}, orders[Shaft], 1e-9)
	assert.InDeltaSlice(t, []float64{3, 6}, orders[HalfShaft], 1e-9)
}

// Where nothing in the list fits, it is none of these; where something does,
// that is likelier.
func TestNoneOfThese(t *testing.T) {
	cs, err := Orders(Speeds{Shafts: []Turning{{Span: Span{39.6 * 2 * math.Pi, 40.8 * 2 * math.Pi}, Cardan: true}}})
	require.NoError(t, err)
	for felt, none := range map[float64]bool{44: true, 300: true, 40: false, 81: false} {
		ranked, err := Rank(cs, []float64{1, 1}, Felt{Frequency: felt, U: 0.5})
		require.NoError(t, err)
		assert.Equal(t, none, ranked[0].Part == Other, "%g Hz", felt)
		if none {
			assert.Greater(t, ranked[0].Share, 0.9)
		} else {
			assert.Greater(t, ranked[0].Share, 0.8)
		}
	}
}

// Sampled 100 times a second, 60 Hz shows as 40, 150 as 50, 107 as 7, 250 as 50
// and 400 as 0; half the rate and less stay.
func TestAlias(t *testing.T) {
	for f, want := range map[float64]float64{60: 40, 150: 50, 107: 7, 250: 50, 400: 0, 50: 50, 12: 12, 93: 7} {
		assert.InDelta(t, want, Alias(f, 100), 1e-9, "%g Hz", f)
		assert.InDelta(t, f, Alias(f, 0), 1e-9)
		// by the samples themselves: the same, or turned over
		for n := range 7 {
			a, b := 2*math.Pi*f*float64(n)/100, 2*math.Pi*want*float64(n)/100
			assert.InDelta(t, math.Cos(a), math.Cos(b), 1e-9)
		}
	}
	cs, err := Orders(Speeds{Engine: at(50 * 2 * math.Pi), Cylinders: 6})
	require.NoError(t, err)
	weights := []float64{1, 1, 1}
	ranked, err := Rank(cs, weights, Felt{Frequency: 40, U: 0.3, Rate: 110})
	require.NoError(t, err)
	assert.Equal(t, 3.0, ranked[0].Order, "150 Hz sampled 110 times a second shows as 40")
	assert.InDelta(t, 150, ranked[0].Folded, 1e-9)
	ranked, err = Rank(cs, weights, Felt{Frequency: 40, U: 0.3})
	require.NoError(t, err)
	assert.Equal(t, Other, ranked[0].Part)
	_, err = Rank(cs, weights, Felt{Frequency: 40, U: 0.3, Rate: math.NaN()})
	require.Error(t, err)
}
