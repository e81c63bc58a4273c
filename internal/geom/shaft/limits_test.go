package shaft

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Operating angle by speed: driveline service literature, from memory. Each row
// amounts to about 1000 rad/s² of one joint.
func TestOperatingAngle(t *testing.T) {
	for _, c := range []struct{ rpm, deg, acc float64 }{
		{5000, 3.25, 882}, {4500, 3 + 2.0/3, 910}, {4000, 4.25, 965}, {3500, 5, 1023},
		{3000, 5 + 5.0/6, 1023}, {2500, 7, 1023}, {2000, 8 + 2.0/3, 1004}, {1500, 11.5, 994},
	} {
		a, err := OperatingAngle(c.rpm * RPM)
		require.NoError(t, err)
		assert.InDelta(t, c.deg, a.Degrees(), 1e-9)
		assert.InDelta(t, c.acc, math.Pow(a.Rad()*c.rpm*RPM, 2), 1)
	}
	for _, c := range []struct{ rpm, deg float64 }{
		{100, 11.5}, {1750, (11.5 + 8 + 2.0/3) / 2}, {3250, (5 + 5 + 5.0/6) / 2}, {10000, 1.625},
	} {
		a, err := OperatingAngle(c.rpm * RPM)
		require.NoError(t, err)
		assert.InDelta(t, c.deg, a.Degrees(), 1e-9)
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err := OperatingAngle(bad)
		assert.Error(t, err)
	}
	table := speedTable()
	for i, row := range table[1:] {
		assert.Greater(t, row.Speed, table[i].Speed)
		assert.Less(t, row.Angle, table[i].Angle)
	}
}

// SAE AE-7 limits as usually quoted, from memory, turned into angles by √a/ω.
func TestAccelerationLimits(t *testing.T) {
	for _, c := range []struct{ acc, rpm, deg, tol float64 }{
		{ResidualCar, 3000, 3.1589, 5e-5}, {ResidualTruck, 3000, 3.6476, 5e-5}, {InertiaLimit, 3000, 5.767, 5e-4},
		{ResidualCar, 5000, 1.895, 5e-4}, {ResidualTruck, 5000, 2.189, 5e-4}, {InertiaLimit, 5000, 3.460, 5e-4},
	} {
		a, err := SmallAngleFor(c.acc, c.rpm*RPM)
		require.NoError(t, err)
		assert.InDelta(t, c.deg, a.Degrees(), c.tol)
		exact, err := AngleFor(c.acc, c.rpm*RPM)
		require.NoError(t, err)
		assert.InEpsilon(t, a.Rad(), exact.Rad(), 2e-3)
	}
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		_, err := SmallAngleFor(bad, 300)
		assert.Error(t, err)
		_, err = AngleFor(300, bad)
		assert.Error(t, err)
	}
}

func TestAngleForUndoesAcceleration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		acc := rapid.Float64Range(1, 20000).Draw(t, "acc")
		speed := rapid.Float64Range(1, 800).Draw(t, "speed")
		a, err := AngleFor(acc, speed)
		require.NoError(t, err)
		require.Less(t, a, 90*geom.Deg)
		if a > 89*geom.Deg {
			return // the angle has no digits left there
		}
		r, err := RippleOf(a)
		require.NoError(t, err)
		assert.InEpsilon(t, acc, r.Acceleration(speed), 1e-9)
	})
}

// Compound angles: projections (tan form), inclinometer and heading (product of
// cosines), and the shop formula. Derived.
func TestCompoundFormulas(t *testing.T) {
	for _, c := range []struct{ s, p, shop, views, readings float64 }{
		{5, 12, 13.0000, 12.94502, 12.98589},
		{10, 10, 14.14214, 14.00194, 14.10604},
		{20, 20, 28.28427, 27.23631, 27.99089},
		{30, 20, 36.05551, 34.31358, 35.53135},
	} {
		s, p := geom.Angle(c.s)*geom.Deg, geom.Angle(c.p)*geom.Deg
		a, err := CompoundShop(s, p)
		require.NoError(t, err)
		assert.InDelta(t, c.shop, a.Degrees(), 6e-6)
		a, err = CompoundViews(-s, p)
		require.NoError(t, err)
		assert.InDelta(t, c.views, a.Degrees(), 6e-6)
		drawn := r3.Vec{X: 1, Y: math.Tan(p.Rad()), Z: -math.Tan(s.Rad())}
		assert.InDelta(t, a.Rad(), geom.Between(r3.Vec{X: 1}, drawn).Rad(), 1e-12)
		a, err = CompoundReadings(s, -p)
		require.NoError(t, err)
		assert.InDelta(t, c.readings, a.Degrees(), 6e-6)
		assert.InDelta(t, math.Acos(math.Cos(s.Rad())*math.Cos(p.Rad())), a.Rad(), 1e-12)
	}
	// How far the shop formula is above the two.
	for _, c := range []struct{ deg, views, readings, tol float64 }{
		{3, 0.004, 0, 5e-4}, {5, 0.018, 0.005, 5.1e-4}, {10, 0.14, 0, 5e-3}, {20, 1.05, 0.29, 5e-3},
	} {
		a := geom.Angle(c.deg) * geom.Deg
		shop, err := CompoundShop(a, a)
		require.NoError(t, err)
		views, err := CompoundViews(a, a)
		require.NoError(t, err)
		assert.InDelta(t, c.views, (shop - views).Degrees(), c.tol)
		if c.readings != 0 {
			readings, err := CompoundReadings(a, a)
			require.NoError(t, err)
			assert.InDelta(t, c.readings, (shop - readings).Degrees(), c.tol)
		}
	}
	// Side and plan angles of a shaft running to an offset pinion, against a
	// line 3° down.
	shop, err := CompoundShop(-0.81407*geom.Deg, -2.86241*geom.Deg)
	require.NoError(t, err)
	assert.InDelta(t, 2.97592, shop.Degrees(), 1e-5)
	for _, f := range []func(a, b geom.Angle) (geom.Angle, error){CompoundShop, CompoundViews, CompoundReadings} {
		for _, bad := range []geom.Angle{90 * geom.Deg, geom.Angle(math.NaN())} {
			_, err := f(bad, 0)
			assert.Error(t, err)
			_, err = f(0, bad)
			assert.Error(t, err)
		}
	}
}
