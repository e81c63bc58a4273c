package section

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
)

// A box of four plates flush at its corners is a rectangle less a rectangle, and its
// torsion Bredt's: 4 A²/Σ(l/t) (Gere, Mechanics of Materials, thin-walled tubes), to the
// little that its walls carry beside.
func TestAWeldedBoxIsARectangleLessARectangle(t *testing.T) {
	b := WeldedBox{Name: "box", Width: 80, Depth: 100, Cover: 8, Side: 6}
	p, err := b.Properties()
	require.NoError(t, err)
	assert.InEpsilon(t, 80*100-68*84.0, p.Area, 1e-12)
	assert.InEpsilon(t, (80*100*100*100-68*84*84*84.0)/12, p.Iy, 1e-12)
	assert.InEpsilon(t, (100*80*80*80-84*68*68*68.0)/12, p.Iz, 1e-12)
	assert.InEpsilon(t, p.Iy/50, p.Wy, 1e-12)
	assert.InEpsilon(t, p.Iz/40, p.Wz, 1e-12)
	cell := 74 * 92.0
	bredt := 4 * cell * cell / (2*74/8.0 + 2*92/6.0)
	assert.InEpsilon(t, bredt, p.It, 0.02)
	assert.Greater(t, p.It, bredt)
	assert.InEpsilon(t, 2*cell*6, p.Wt, 0.12, "the thinner wall shears most")
	assert.Less(t, p.Wt, 2*cell*6, "and as a plate by itself besides")
	assert.Less(t, p.Avz, 2*6*100.0)
	assert.Greater(t, p.Avz, 2*6*84*2/3.0)
	assert.InEpsilon(t, p.Area*SteelDensity*1000, p.Mass, 1e-12)
}

// What a seam carries is what a cover, or a side, is pulled more at one place than at
// another: the stress of bending summed over its metal, by two moments a length apart.
func TestASeamHandsOnWhatThePlatesArePulled(t *testing.T) {
	b := WeldedBox{Name: "box", Width: 90, Depth: 70, Cover: 10, Side: 5, Inset: 6}
	built, err := b.Built()
	require.NoError(t, err)
	f, err := built.Figures()
	require.NoError(t, err)
	pull := func(mx, my, x0, x1, y0, y1 float64) (sum float64) {
		const n = 40
		for i := range n {
			for k := range n {
				q := r2.Vec{X: x0 + (x1-x0)*(float64(i)+0.5)/n, Y: y0 + (y1-y0)*(float64(k)+0.5)/n}
				sum += f.Stress(mx, my, q) * (x1 - x0) * (y1 - y0) / (n * n)
			}
		}
		return sum
	}
	const v, length = 5000.0, 40.0
	up, err := b.Seam(Forces{ShearZ: -v})
	require.NoError(t, err)
	assert.InEpsilon(t, pull(v*length, 0, -45, 45, 25, 35)/length/2, up, 1e-9)
	across, err := b.Seam(Forces{ShearY: v})
	require.NoError(t, err)
	assert.InEpsilon(t, pull(0, v*length, 34, 39, -25, 25)/length/2, across, 1e-9)
	turned, err := b.Seam(Forces{Torsion: -1e6})
	require.NoError(t, err)
	assert.InEpsilon(t, 1e6/(2*73*60), turned, 1e-9)
	all, err := b.Seam(Forces{ShearZ: v, ShearY: -v, Torsion: 1e6})
	require.NoError(t, err)
	assert.InEpsilon(t, up+across+turned, all, 1e-12)
}

func TestBoxesThatAreNone(t *testing.T) {
	for want, b := range map[string]WeldedBox{
		"sides of 6.0 mm, set in by 30.0 mm, meet": {Width: 70, Depth: 80, Cover: 8, Side: 6, Inset: 30},
		"leaves nothing between two covers":        {Width: 70, Depth: 16, Cover: 8, Side: 6},
		"is no box":                                {Width: 70, Depth: math.NaN(), Cover: 8, Side: 6},
	} {
		b.Name = "left front"
		_, err := b.Properties()
		require.ErrorContains(t, err, want)
		assert.ErrorContains(t, err, "box left front")
	}
}
