package seat

import (
	"math"
	"testing"

	"fitup/internal/geom"

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

// Springs that sink alike under the weight: f = √(g/d)/2π of their sag.
func TestBounce(t *testing.T) {
	pads := threePads(Rates{X: 200, Y: 200, Z: 400})
	f, err := Bounce(example, pads, 1)
	require.NoError(t, err)
	assert.InDelta(t, math.Sqrt(geom.Gravity*1000*1200/example.Weight())/(2*math.Pi), f, 1e-12)
	for _, bad := range []float64{math.NaN(), 0.5, 9} {
		_, err := Bounce(example, pads, bad)
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
