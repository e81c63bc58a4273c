package gauge

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Common practice, no source: a gauge on a square face reads what is left to 90°.
func TestSlope(t *testing.T) {
	for _, c := range []struct {
		name  string
		shown float64
		on    Surface
		lower End
		want  float64
	}{
		{"square face, rear low", 85.6, SquareFace, Rear, 4.4},
		{"square face past square", 94.4, SquareFace, Rear, 4.4},
		{"along, rear low", 2.4, Along, Rear, 2.4},
		{"along, front low", 2.4, Along, Front, -2.4},
		{"flange", 85.2, SquareFace, Rear, 4.8},
		{"flange the other way", 85.2, SquareFace, Front, -4.8},
		{"level needs no direction", 0, Along, EndUnknown, 0},
		{"square and level", 90, SquareFace, EndUnknown, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := Reading{Shown: geom.Angle(c.shown) * geom.Deg, On: c.on, Lower: c.lower}.Slope()
			require.NoError(t, err)
			assert.InDelta(t, c.want, s.Degrees(), 1e-12)
		})
	}
}

func TestSlopeRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		r    Reading
		want error
	}{
		{"no direction", Reading{Shown: 2 * geom.Deg, On: Along}, ErrNoSense},
		{"no surface", Reading{Shown: 2 * geom.Deg, Lower: Rear}, ErrNoSurface},
		{"85 along", Reading{Shown: 85 * geom.Deg, On: Along, Lower: Rear}, ErrLikeFace},
		{"4 on a face", Reading{Shown: 4 * geom.Deg, On: SquareFace, Lower: Rear}, ErrLikeAlong},
	} {
		_, err := c.r.Slope()
		assert.ErrorIs(t, err, c.want, c.name)
	}
}

// JCGM 100:2008, 4.3.7 and 5.1.2; the last two rows share the middle reading:
// T - 2S + P when both joints bend the same way, T - P when they bend opposite
// ways and the shaft's reading drops out.
func TestUncertaintyOfAGauge(t *testing.T) {
	u := Reading{PlusMinus: 0.1 * geom.Deg}.Standard()
	three := []geom.Angle{u, u, u}
	assert.InDelta(t, 0.0577350, u.Degrees(), 1e-7)
	for _, c := range []struct {
		name  string
		coeff []float64
		want  float64
	}{
		{"difference of two", []float64{1, -1}, 0.0816497},
		{"mismatch, shaft shared", []float64{1, -2, 1}, 0.1414214},
		{"mismatch, shaft cancelled", []float64{1, 0, -1}, 0.0816497},
	} {
		assert.InDelta(t, c.want, Combined(c.coeff, three).Degrees(), 1e-7, c.name)
	}
	// Two readings with a 0.1° step: NIST TN 1297, 4.6 treats the step as a
	// rectangle of half width 0.05°.
	step := geom.Angle(0.05*math.Pi/180) / geom.Angle(math.Sqrt(3))
	one := Combined([]float64{1, 1}, []geom.Angle{u, step})
	assert.InDelta(t, 0.0645497, one.Degrees(), 1e-7)
}
