package frame

import (
	"math"
	"testing"

	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Every shape of the tables carries a moment with the stress of its own modulus.
func TestStockCarriesItsModuli(t *testing.T) {
	for _, e := range section.Table() {
		s, err := Stock(e.Shape)
		require.NoError(t, err, e.Name)
		p, err := e.Properties()
		require.NoError(t, err)
		wy, wz := p.Wy, p.Wz
		if p.TrueWy > 0 {
			wy, wz = p.TrueWy, p.TrueWz
		}
		m := Member{Section: s, Material: steel}
		assert.InEpsilon(t, 1e6/wy, math.Abs(m.stress(0, 0, Internal{MomentY: 1e6}).Normal), 5e-3, e.Name)
		assert.InEpsilon(t, 1e6/wz, math.Abs(m.stress(0, 0, Internal{MomentZ: 1e6}).Normal), 5e-3, e.Name)
		f := arm(s, 300)
		res, err := ready(t, f).Solve(at(1, r3.Vec{X: 200, Z: -1000}))
		require.NoError(t, err, e.Name)
		_, err = res.Worst()
		require.NoError(t, err, e.Name)
	}
	_, err := Stock(section.Shape{Name: "leg"})
	require.ErrorContains(t, err, "section leg")
}

// A channel 100x60x5 by its outline: seen along the member its back is on the left,
// so at +y; its shear centre lies behind its back. Middle-line formula of the shear
// centre: e = 3b²t/(6bt + ht) behind the web's middle (Gere, Mechanics of Materials,
// from memory).
func TestChannelLiesAsItsSheetDrawsIt(t *testing.T) {
	shape := section.Shape{Name: "rail", Kind: section.Channel, H: 100, B: 60, T: 5, Flange: 5}
	s, err := Stock(shape)
	require.NoError(t, err)
	assert.InEpsilon(t, 1050, s.Area, 1e-9)
	assert.InEpsilon(t, 1658750, s.Iy, 1e-6)
	assert.InEpsilon(t, 375401.786, s.Iz, 1e-6)
	const b, h = 57.5, 95.0
	assert.InDelta(t, 18.214286-2.5+3*b*b/(6*b+h), s.Shear.X, 0.5)
	assert.InDelta(t, 0, s.Shear.Y, 1e-9)
	back, tips := 0.0, 0.0
	for _, c := range s.Corners {
		back, tips = max(back, c.X), min(tips, c.X)
	}
	assert.InDelta(t, 18.214286, back, 1e-6)
	assert.InDelta(t, 18.214286-60, tips, 1e-6)
	// The tips are pressed when the channel bends about its z with them inside.
	m := Member{Section: s}
	got := m.stress(0, 0, Internal{MomentZ: -1e5})
	assert.InDelta(t, tips, got.Corner.X, 1e-6)
	assert.Negative(t, got.Normal)
}

// An angle's outline on the left and at the bottom: its toes are up and to the right,
// and it bends towards them and away.
func TestAngleLiesAsItsSheetDrawsIt(t *testing.T) {
	e, err := section.Find("", "L 50x50x5")
	require.NoError(t, err)
	s, err := Stock(e.Shape)
	require.NoError(t, err)
	// Seen along the member: metal at the left top and right bottom, so ∫xy < 0 with x to the
	// right, and y is −x.
	assert.Positive(t, s.Iyz)
	assert.InDelta(t, 1.40*10, maxOf(s.Corners, func(c r2.Vec) float64 { return c.X }), 0.06)
	assert.InDelta(t, -1.40*10, -maxOf(s.Corners, func(c r2.Vec) float64 { return -c.Y }), 0.06)
}

func maxOf(cs []r2.Vec, of func(r2.Vec) float64) float64 {
	most := math.Inf(-1)
	for _, c := range cs {
		most = max(most, of(c))
	}
	return most
}
