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

// Secondary couples of a Cardan joint at 5° and 500 N·m: derived from the
// balance of the cross.
func TestCouples(t *testing.T) {
	c := couples(500e3, (5 * geom.Deg).Rad())
	assert.InDelta(t, 43.744e3, c.Driver, 0.5)
	assert.InDelta(t, 43.578e3, c.Driven, 0.5)
}

// The couples against the cross itself: it passes only a couple M along the
// normal of its two arms. What of M does not turn a shaft goes into supports.
func TestCouplesFromTheCross(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := geom.Angle(rapid.Float64Range(0.01, 1.3).Draw(t, "b"))
		m := single(t, b, true)
		u, v := m.Shafts()[0].Axis, m.Shafts()[1].Axis
		const torque = 1000.0
		// Up to 45° the peaks come at quarter turns; past that between samples.
		tol := 1e-9
		if b > 45*geom.Deg {
			tol = 1e-3
		}
		var driving, driven Couples
		for i := range 360 {
			st := m.At(geom.Angle(i)*geom.Deg, nil)
			n := r3.Cross(st[0].Rear, st[1].Front)
			across := func(moment r3.Vec, axis r3.Vec) float64 { return r3.Norm(r3.Cross(moment, axis)) }
			moment := r3.Scale(torque/r3.Dot(n, u), n)
			driving.Driver = max(driving.Driver, across(moment, u))
			driving.Driven = max(driving.Driven, across(moment, v))
			moment = r3.Scale(torque/r3.Dot(n, v), n)
			driven.Driver = max(driven.Driver, across(moment, u))
			driven.Driven = max(driven.Driven, across(moment, v))
		}
		want := couples(torque, b.Rad())
		assert.InDelta(t, want.Driver, driving.Driver, 1e-9*(1+want.Driver))
		assert.InDelta(t, want.Driven, driving.Driven, tol*(1+want.Driver))
		// Steady on the driven side, the two change places.
		assert.InDelta(t, want.Driven, driven.Driver, tol*(1+want.Driver))
		assert.InDelta(t, want.Driver, driven.Driven, 1e-9*(1+want.Driver))
	})
}

// Loads is never less than what the crosses pass at any instant of the turn.
func TestLoadsCoverTheTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChain(t, 0.6)
		m := solve(t, c)
		const torque = -300e3
		loads, err := m.Loads(torque)
		require.NoError(t, err)
		require.Len(t, loads, len(m.Joints()))
		peak := make([]float64, len(loads))
		for i := range 360 {
			st := m.At(geom.Angle(i)*geom.Deg, nil)
			for j, l := range loads {
				assert.Equal(t, j+1, l.Joint)
				assert.InDelta(t, math.Abs(torque), l.Torque, 1e-9)
				u, v := m.Shafts()[j].Axis, m.Shafts()[j+1].Axis
				n := r3.Cross(st[j].Rear, st[j+1].Front)
				moment := r3.Scale(torque/st[j].Ratio/r3.Dot(n, u), n)
				assert.LessOrEqual(t, r3.Norm(r3.Cross(moment, u)), l.Couples.Driver*(1+1e-9)+1e-6)
				assert.LessOrEqual(t, r3.Norm(r3.Cross(moment, v)), l.Couples.Driven*(1+1e-9)+1e-6)
				peak[j] = max(peak[j], math.Abs(r3.Dot(moment, u)), math.Abs(r3.Dot(moment, v)))
			}
		}
		for j, l := range loads {
			assert.LessOrEqual(t, peak[j], l.Peak*(1+1e-9))
			assert.InDelta(t, 1, l.Peak/peak[j], 1e-3)
		}
	})
}

func TestLoadsOfOtherKinds(t *testing.T) {
	c := walk(pitched(0, 10, 0))
	c.Joints[0].Kind, c.Joints[1].Kind = DoubleCardan, ConstantVelocity
	m := solve(t, c)
	loads, err := m.Loads(1000)
	require.NoError(t, err)
	for _, l := range loads {
		assert.InDelta(t, 1000, l.Peak, 1e-9)
		assert.InDelta(t, 1000*math.Tan(5*math.Pi/180), l.Couples.Driver, 1e-9)
		assert.InDelta(t, 1000*math.Tan(5*math.Pi/180), l.Couples.Driven, 1e-9)
	}
	_, err = m.Loads(math.NaN())
	assert.Error(t, err)
}

// Torque behind gears: 400 N·m, first gear 3.06, axle 3.73. Derived.
func TestTorqueBehindGears(t *testing.T) {
	prop, err := Torque(400e3, 3.06)
	require.NoError(t, err)
	assert.InDelta(t, 1224e3, prop, 1e-6)
	axle, err := Torque(400e3, 3.06, 3.73)
	require.NoError(t, err)
	assert.InDelta(t, 4565.52e3, axle, 1e-6)
	for _, bad := range []float64{0, math.NaN(), math.Inf(1)} {
		_, err = Torque(400e3, bad)
		assert.Error(t, err)
	}
	_, err = Torque(math.NaN())
	assert.Error(t, err)
}
