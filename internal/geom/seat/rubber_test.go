package seat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Gent 1958 (Rubber Chemistry and Technology 31): Young's modulus by hardness,
// MPa, worked from the relation.
func TestGent(t *testing.T) {
	for hardness, want := range map[float64]float64{40: 1.68964, 50: 2.45581, 60: 3.60507, 70: 5.52051} {
		assert.InDelta(t, want, gent(hardness), 5e-6)
	}
}

// Lindley, Engineering Design with Natural Rubber, table and E(1+2kS²),
// worked for two pads.
func TestLindleyPads(t *testing.T) {
	disc, err := Rubber{Hardness: 60, Diameter: 50, Thickness: 20}.Estimate()
	require.NoError(t, err)
	assert.InDelta(t, 0.625, disc.Shape, 1e-12)
	assert.InDelta(t, 631.425, disc.Compression.Value, 5e-4)
	assert.InDelta(t, 104.065, disc.Shear.Value, 5e-4)
	assert.InDelta(t, 6.431641, disc.Compression.Value*20/disc.Area, 5e-7)

	block, err := Rubber{Hardness: 50, Length: 60, Width: 40, Thickness: 25}.Estimate()
	require.NoError(t, err)
	assert.InDelta(t, 0.48, block.Shape, 1e-12)
	assert.InDelta(t, 2.940045, block.Compression.Value*25/block.Area, 5e-7)
	assert.InDelta(t, 282.244, block.Compression.Value, 5e-4)
	assert.InDelta(t, 61.44, block.Shear.Value, 5e-4)
	assert.Equal(t, Rates{X: block.Shear.Value, Y: block.Shear.Value, Z: block.Compression.Value}, block.Rates())

	same, err := DiscOfArea(60, 20, math.Pi*625).Estimate()
	require.NoError(t, err)
	assert.InDelta(t, disc.Compression.Value, same.Compression.Value, 1e-9)
}

// The range holds what every form gives, is never tighter than 30 %, and a
// harder pad is stiffer by either form.
func TestEstimateCoversItsForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := Rubber{
			Hardness:  rapid.Float64Range(40, 69).Draw(t, "irhd"),
			Thickness: rapid.Float64Range(10, 60).Draw(t, "thick"),
			Diameter:  rapid.Float64Range(25, 120).Draw(t, "dia"),
		}
		e, err := r.Estimate()
		require.NoError(t, err)
		r.Hardness++
		harder, err := r.Estimate()
		require.NoError(t, err)
		for i, f := range e.Forms {
			assert.LessOrEqual(t, e.Compression.Low(), f.Compression)
			assert.GreaterOrEqual(t, e.Compression.High(), f.Compression)
			assert.LessOrEqual(t, e.Shear.Low(), f.Shear)
			assert.GreaterOrEqual(t, e.Shear.High(), f.Shear)
			assert.Greater(t, harder.Forms[i].Compression, f.Compression*0.99)
			assert.Greater(t, harder.Forms[i].Shear, f.Shear)
		}
		assert.GreaterOrEqual(t, e.Compression.PlusMinus, 0.3*e.Compression.Value)
		assert.Positive(t, e.Shear.Low())
	})
}

func TestRubberRefuses(t *testing.T) {
	for want, r := range map[string]Rubber{
		"85 IRHD":           {Hardness: 85, Diameter: 50, Thickness: 20},
		"thickness is 0":    {Hardness: 50, Diameter: 50},
		"either a diameter": {Hardness: 50, Diameter: 50, Length: 4, Width: 4, Thickness: 20},
		"or a length":       {Hardness: 50, Length: 4, Thickness: 20},
		"flat":              {Hardness: 50, Diameter: 500, Thickness: 5},
		"tall":              {Hardness: 50, Diameter: 10, Thickness: 50},
		"not a number":      {Hardness: math.NaN()},
	} {
		_, err := r.Estimate()
		assert.ErrorContains(t, err, want)
	}
}

// f = √(g/d)/2π worked from standard gravity.
func TestBounceOfSag(t *testing.T) {
	for sag, want := range map[float64]float64{1: 15.7609, 3: 9.09955, 5: 7.04848, 10: 4.98403} {
		got, err := BounceOfSag(sag, 1)
		require.NoError(t, err)
		assert.InEpsilon(t, want, got, 5e-6)
	}
	stiffer, err := BounceOfSag(5, 1.44)
	require.NoError(t, err)
	assert.InEpsilon(t, 1.2*7.04848, stiffer, 1e-5)
	// Springs that sink alike under the weight: the two ways agree.
	pads := threePads(Rates{X: 200, Y: 200, Z: 400})
	f, err := Bounce(example, pads, 1)
	require.NoError(t, err)
	g, err := BounceOfSag(example.Weight()/1200, 1)
	require.NoError(t, err)
	assert.InDelta(t, g, f, 1e-12)
	for _, bad := range [][2]float64{{0, 1}, {-1, 1}, {math.NaN(), 1}, {1, 0.5}, {1, 9}} {
		_, err := BounceOfSag(bad[0], bad[1])
		assert.Error(t, err)
	}
	_, err = Bounce(example, nil, 1)
	assert.Error(t, err)
	_, err = Bounce(Body{}, pads, 1)
	assert.Error(t, err)
	_, err = Bounce(example, pads, 0)
	assert.Error(t, err)
	pads[1].Rates.Z = -1
	_, err = Bounce(example, pads, 1)
	assert.ErrorContains(t, err, "right front mount")
}

// Ogata, System Dynamics, force transmissibility, worked at round ratios.
func TestTransmissibility(t *testing.T) {
	for _, c := range []struct{ r, z, want float64 }{
		{0.5, 0, 1.333333}, {1, 0.05, 10.04988}, {1, 0.1, 5.09902}, {math.Sqrt2, 0.3, 1}, {math.Sqrt2, 0, 1},
		{2, 0.1, 0.355862}, {3, 0, 0.125}, {3, 0.05, 0.130412}, {3, 0.2, 0.193096}, {5, 0.1, 0.058874},
	} {
		got, err := Transmissibility(c.r, c.z)
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, got, 1e-5)
	}
	_, err := Transmissibility(1, 0)
	assert.ErrorIs(t, err, ErrResonance)
	_, err = Transmissibility(-1, 0)
	assert.Error(t, err)
	_, err = Transmissibility(1e300, 1e300)
	assert.Error(t, err)
	none, err := Transmissibility(1e300, 0)
	require.NoError(t, err)
	assert.Zero(t, none)
}

// An eight at 700 rpm fires at 46.6667 Hz; on mounts that bounce at half of
// that without damping, T(2) = 1/3.
func TestIdle(t *testing.T) {
	k := example.Mass * math.Pow(2*math.Pi*700*8/120/2, 2) / 1000 / 3
	got, err := Idle(example, threePads(Rates{X: 1, Y: 1, Z: k / 1.3}), 1.3, 0, 8, 700)
	require.NoError(t, err)
	assert.InDelta(t, 46.6667, got.Firing, 5e-5)
	assert.InDelta(t, 23.3333, got.Bounce, 5e-5)
	assert.InDelta(t, 1.0/3, got.Passed, 1e-9)
	assert.True(t, got.Isolates)
	shaken, err := Idle(example, threePads(Rates{X: 1, Y: 1, Z: 3 * k / 1.3}), 1.3, 0.1, 8, 700)
	require.NoError(t, err)
	assert.False(t, shaken.Isolates)
	assert.Greater(t, shaken.Passed, 1.0)
	_, err = Idle(example, nil, 1.3, 0, 8, 700)
	assert.Error(t, err)
	_, err = Idle(example, threePads(Rates{X: 1, Y: 1, Z: k}), 1.3, 0, 8, 0)
	assert.Error(t, err)
	_, err = Idle(example, threePads(Rates{X: 1, Y: 1, Z: k}), 1.3, -1, 8, 700)
	assert.Error(t, err)
}

// Four-stroke firing, even spacing.
func TestFiring(t *testing.T) {
	for _, c := range []struct {
		n         int
		rpm, want float64
	}{{8, 700, 46.6667}, {4, 800, 26.6667}, {6, 3000, 150}, {3, 750, 18.75}} {
		got, err := Firing(c.n, c.rpm)
		require.NoError(t, err)
		assert.InDelta(t, c.want, got, 5e-5)
	}
	_, err := Firing(0, 700)
	assert.Error(t, err)
	_, err = Firing(4, 0)
	assert.Error(t, err)
}
