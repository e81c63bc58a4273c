package bracket

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A leg of SHS 50x50x3 straight out, 180 mm long. A force that acts 180 mm
// beyond its foot, square to the leg, bends its pad by F x 360 and its foot by
// F x 180: the pad governs. Both ends of a leg are looked at, whichever is worse.
func TestBothEndsOfALegAreLookedAt(t *testing.T) {
	got := leg(t, runLegs(t, `format = 1
[rails.left]
points = [[-500, -380, 0], [2000, -380, 0]]
height = 150
[mount.left_front.leg]
section = "SHS 50x50x3 cold"
pad = [300, -200, -75]
`), "left_front")
	const modulus = 7787 // mm³, EN 10219-2
	for name, c := range map[string]struct {
		at  float64
		end string
		arm float64
	}{"beyond the foot": {-560, "at its pad", 360}, "at the pad": {-200, "at its foot", 180}} {
		g := got
		g.Strength.Leg = LegUse{}
		sc, err := g.legScreen(r3.Vec{X: 300, Y: c.at, Z: -75})
		require.NoError(t, err)
		require.NoError(t, sc.run(&g.Strength.Leg.Use, &MountLoad{Cases: []Case{{"pulled", r3.Vec{Z: -2000}}}}))
		assert.Equal(t, c.end, g.Strength.Leg.At, name)
		assert.InEpsilon(t, 2000*c.arm/modulus, g.Strength.Leg.Stress.BendY, 1e-3, name)
	}
}
