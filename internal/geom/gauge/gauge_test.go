package gauge

import (
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
