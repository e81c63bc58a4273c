package bracket

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A slender leg that is pressed along itself is judged as a strut: at a slenderness of 1
// curve c of EN 1993-1-1, table 6.2 and figure 6.4 leaves 0.540 of its yield (from memory).
// Pulled, it is judged by its stress alone, and a stubby one always is.
func TestSlenderLegIsAStrut(t *testing.T) {
	// SHS 25x25x2: sizes by hand, so that the length for a slenderness of 1 follows from
	// the section that is used: π √(E I/(A fy)) / 2.
	of := func(long float64) Bracket {
		at := r3.Vec{X: 300, Y: -380 + long, Z: -75}
		return leg(t, runLegs(t, `format = 1
[rails.left]
points = [[-500, -380, 0], [2000, -380, 0]]
height = 150
[mount.left_front.leg]
section = "SHS 25x25x2 cold"
rail = "left"
pad = [300, `+num(at.Y)+`, -75]
`), "left_front")
	}
	first := of(300)
	p := first.Cut.Section
	long := math.Pi / 2 * math.Sqrt(210000*p.Least()/(p.Area*235))
	for _, c := range []struct {
		long, force float64
		want        float64
	}{
		{long, -3000, 3000 / (0.540 * p.Area * 235)},
		{long, 3000, 3000 / (p.Area * 235)},
		{60, -3000, 3000 / (p.Area * 235)},
	} {
		got := of(c.long)
		require.InDelta(t, c.long, got.Cut.Length, 1e-6)
		sc, err := got.legScreen(got.Leg.Pad.Point)
		require.NoError(t, err)
		used, err := sc.used(r3.Vec{Y: c.force}) // the leg runs to -Y, so that way it is pressed
		require.NoError(t, err)
		assert.InEpsilon(t, c.want, used, 0.002, "%g mm, %g N", c.long, c.force)
		assert.Equal(t, c.long == 60, sc.adds)
	}
}

func num(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
