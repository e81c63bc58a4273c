package bracket

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A cut that leans out toward a place around the tube is told from the corner nearest to
// it: those of a 40 by 60 tube lie atan(40/60) = 33.69° either side of its top and bottom.
func TestCutIsToldFromACorner(t *testing.T) {
	for _, c := range []struct {
		clock  float64
		corner Corners
		by     float64
	}{
		{40, TopRight, 6.31}, {20, TopRight, -13.69}, {120, BottomRight, -26.31}, {150, BottomRight, 3.69},
		{-170, BottomLeft, -23.69}, {-100, BottomLeft, 46.31}, {-30, TopLeft, 3.69},
	} {
		s, k := math.Sincos(c.clock * math.Pi / 180)
		for _, shape := range []section.Shape{{Kind: section.RectTube, B: 40, H: 60, T: 3}, {Kind: section.RoundTube, H: 60, T: 3}} {
			// Along Y with V up, U is d × V: to the rear. Leaning out there the rail looks back and up.
			leg := Leg{Name: "x", Shape: shape, Axis: r3.Vec{Y: 1}, Pad: Face{Normal: r3.Vec{X: 0.3 * s, Y: 1, Z: 0.3 * k}},
				Rail: Face{Point: r3.Vec{Y: 200}, Normal: r3.Vec{X: 0.2 * s, Y: -1, Z: 0.2 * k}}}
			cut, err := leg.Cut()
			require.NoError(t, err)
			for _, rail := range []bool{true, false} {
				corner, by := cut.LongFrom(rail)
				if shape.Kind == section.RoundTube {
					assert.Equal(t, NoCorner, corner)
					assert.InDelta(t, c.clock, by.Degrees(), 1e-6)
					continue
				}
				assert.Equal(t, c.corner, corner, "%g", c.clock)
				assert.InDelta(t, c.by, by.Degrees(), 0.005, "%g", c.clock)
			}
		}
	}
	square, err := Leg{Name: "x", Shape: section.Shape{Kind: section.RoundBar, H: 20}, Pad: Face{Normal: r3.Vec{Y: 1}}, Rail: Face{Point: r3.Vec{Y: 200}, Normal: r3.Vec{Y: -1}}}.Cut()
	require.NoError(t, err)
	_, by := square.LongFrom(true)
	assert.Equal(t, geom.Angle(0), by)
}
