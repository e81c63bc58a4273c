package travel

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// lift is an axle that rises straight up, up to an end.
type lift struct{ end float64 }

func (l lift) At(rise float64) (Point, error) {
	if rise > l.end {
		return Point{}, &BindError{Rise: l.end, Why: "the stop is reached"}
	}
	m := geom.Identity()
	m.At.Z = rise
	a := testAxle()
	return a.point(rise, m), nil
}

func TestSweepRises(t *testing.T) {
	points, err := Sweep(lift{1e3}, 75, 50, 6)
	require.NoError(t, err)
	var got []float64
	for _, p := range points {
		got = append(got, p.Rise)
	}
	assert.Equal(t, []float64{-75, -50, -25, 0, 25, 50}, got)
	points, err = Sweep(lift{1e3}, 0, 90, 2)
	require.NoError(t, err)
	assert.Equal(t, 0.0, points[0].Rise)
	assert.Equal(t, 90.0, points[1].Rise)
	points, err = Sweep(lift{20}, 75, 50, 6)
	require.EqualError(t, err, "the suspension binds at 20.00 mm of bump: the stop is reached")
	assert.Len(t, points, 4)
	points, err = Sweep(lift{-30}, 75, 50, 6)
	require.ErrorContains(t, err, "30.00 mm of droop")
	assert.Empty(t, points, "what is beyond a bind that lies before ride height is not reached")
	for _, c := range []struct {
		droop, bump float64
		n           int
	}{{-1, 5, 5}, {5, -1, 5}, {nan, 5, 5}, {5, math.Inf(1), 5}, {0, 0, 5}, {5, 5, 1}, {5, 5, 1 << 30}} {
		_, err := Sweep(lift{1}, c.droop, c.bump, c.n)
		assert.Error(t, err)
	}
	_, err = Sweep(nil, 5, 5, 3)
	assert.Error(t, err)
}

func TestAdvanceFindsTheEnd(t *testing.T) {
	for _, end := range []float64{0.003, 1, 37.123456, 99.9999} {
		got, ok := advance(0, 100, 10, func(v float64) bool { return v <= end })
		assert.False(t, ok)
		assert.InDelta(t, end, got, bindTol)
		assert.LessOrEqual(t, got, end)
	}
	got, ok := advance(3, -7.3, 2, func(float64) bool { return true })
	assert.True(t, ok)
	assert.Equal(t, -7.3, got)
}

func TestSlipShaft(t *testing.T) {
	points, err := Sweep(lift{1e3}, 100, 100, 41)
	require.NoError(t, err)
	a := testAxle()
	s := SlipShaft{Fixed: r3.Vec{X: 1500, Y: -30, Z: 415}, Collapsed: 1215, Extended: 1225}
	r, err := s.Over(points)
	require.NoError(t, err)
	assert.InDelta(t, math.Hypot(1220, 40), r.Ride, 1e-9)
	for i, p := range r.Points {
		assert.InDelta(t, math.Hypot(1220, a.Pinion.Z+p.Rise-415), p.Length, 1e-9)
		assert.InDelta(t, p.Length-r.Ride, p.Change, 1e-9)
		assert.Equal(t, points[i].Rise, p.Rise)
	}
	// Level, so shortest, with the pinion 40 mm up; longest in full droop.
	assert.Equal(t, 40.0, r.Shortest.Rise)
	assert.InDelta(t, 1220, r.Shortest.Length, 1e-9)
	assert.InDelta(t, 5, r.BottomMargin, 1e-9)
	assert.False(t, r.Bottoms)
	assert.Equal(t, -100.0, r.Longest.Rise)
	assert.InDelta(t, 1225-math.Hypot(1220, 140), r.PullMargin, 1e-9)
	assert.True(t, r.PullsOut)
	s.Collapsed, s.Extended = 1220.5, 1300
	r, err = s.Over(points)
	require.NoError(t, err)
	assert.True(t, r.Bottoms)
	assert.False(t, r.PullsOut)
	for _, c := range []struct {
		want string
		s    SlipShaft
	}{
		{"has to be the longer", SlipShaft{Fixed: s.Fixed, Collapsed: 5, Extended: 5}},
		{"has to be the longer", SlipShaft{Fixed: s.Fixed, Collapsed: nan, Extended: 5}},
		{"fixed joint of the shaft", SlipShaft{Fixed: r3.Vec{X: nan}, Collapsed: 5, Extended: 6}},
		{"joints come together", SlipShaft{Fixed: a.Pinion, Collapsed: 5, Extended: 6}},
	} {
		_, err := c.s.Over(points)
		require.ErrorContains(t, err, c.want)
	}
	_, err = s.Over(nil)
	require.Error(t, err)
}

// The ride length is taken from the motion, so a sweep without ride height in
// it gives the same one, and a turning axle too.
func TestSlipKnowsRideHeight(t *testing.T) {
	l := mustLink(t, skew(t))
	a, err := Sweep(l, 80, 80, 17)
	require.NoError(t, err)
	b, err := Sweep(l, 75, 60, 4)
	require.NoError(t, err)
	s := SlipShaft{Fixed: r3.Vec{X: 1500, Y: -20, Z: 430}, Collapsed: 1000, Extended: 1400}
	ra, err := s.Over(a)
	require.NoError(t, err)
	rb, err := s.Over(b)
	require.NoError(t, err)
	assert.InDelta(t, ra.Ride, rb.Ride, 1e-9)
	assert.InDelta(t, 0, ra.Points[8].Change, 1e-9)
}
