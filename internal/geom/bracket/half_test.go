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

// A cut of 10.2° across a 50 mm bar set at 10°: 25 mm of it, 25.4 along the cut, are
// off by sin 0.2°.
func TestHalfDegree(t *testing.T) {
	lean := 10.2 * geom.Deg
	s, c := math.Sincos(lean.Rad())
	leg := Leg{Name: "x", Shape: section.Shape{Kind: section.FlatBar, B: 20, H: 50},
		Pad: Face{Normal: r3.Vec{Y: 1}}, Rail: Face{Point: r3.Vec{Y: 200}, Normal: r3.Vec{Y: -c, Z: s}}, Axis: r3.Vec{Y: 1}}
	cut, err := leg.Cut()
	require.NoError(t, err)
	want := 25 / c * math.Sin((0.2 * geom.Deg).Rad())
	r := cut.HalfDegree(true)
	assert.InDelta(t, 10, max(r.Mitre, r.Tilt).Degrees(), 1e-9)
	assert.InDelta(t, 0, min(r.Mitre, r.Tilt).Degrees(), 1e-9)
	assert.InDelta(t, want, r.Miss, 1e-9)
	assert.InDelta(t, 0, cut.HalfDegree(false).Miss, 1e-12)

	// The same by rolling, on a saw that does not tilt and with the lean askew.
	leg.Shape = section.Shape{Kind: section.RoundBar, H: 50}
	leg.Rail.Normal = r3.Vec{X: s / math.Sqrt2, Y: -c, Z: s / math.Sqrt2}
	leg.Saw = &SawLimit{Mitre: 45 * geom.Deg}
	cut, err = leg.Cut()
	require.NoError(t, err)
	require.True(t, cut.Rail.Rolled)
	r = cut.HalfDegree(true)
	assert.InDelta(t, 10, r.Mitre.Degrees(), 1e-9)
	assert.InDelta(t, 0, r.Tilt.Degrees(), 1e-12)
	assert.InDelta(t, want, r.Miss, want*0.01) // of a circle by points
}
