package shaft

import (
	"math"
	"math/cmplx"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// twisted is two joints of angles b1 and b2 (deg) whose planes are twist (deg)
// apart about the shaft between them.
func twisted(b1, b2, twist float64) []r3.Vec {
	u := geom.Direction(geom.Angle(-b1)*geom.Deg, 0)
	v := geom.Direction(geom.Angle(b2)*geom.Deg, 0)
	q := r3.NewRotation((geom.Angle(twist) * geom.Deg).Rad(), r3.Vec{X: 1})
	return []r3.Vec{u, {X: 1}, q.Rotate(v)}
}

// Two joints by the vectors of their yokes and by the chained closed form
// (derived, both agree to 1e-10): extremes of the speed, for a twist of the
// planes and an offset of the yokes in the same sense. The best offset is the
// twist.
func TestTwistAgainstOffset(t *testing.T) {
	for _, c := range []struct{ b1, b2, twist, offset, max, min float64 }{
		{20, 20, 0, 0, 1, 1},
		{20, 20, 0, 10, 1.02185152, 0.97861576},
		{20, 20, 0, 90, 1.13247433, 0.88302222},
		{25, 25, 30, 0, 1.10350916, 0.90620000},
		{25, 25, 30, 30, 1, 1},
		{30, 18, 40, 0, 1.15481362, 0.86594060},
		{30, 18, 40, 40, 1.09818547, 0.91059300},
		{35, 35, 0, 5, 1.03562170, 0.96560356},
	} {
		axes := twisted(c.b1, c.b2, c.twist)
		m := solve(t, walk(axes, geom.Angle(c.offset)*geom.Deg))
		assert.InDelta(t, c.max, last(m).Drive.Max(), 1e-8, "%+v", c)
		assert.InDelta(t, c.min, last(m).Drive.Min(), 1e-8, "%+v", c)
		twist, ok := PlaneTwist(axes[0], axes[1], axes[2])
		require.True(t, ok)
		assert.InDelta(t, c.twist, twist.Degrees(), 1e-9)
		best, _, err := m.BestYoke(1)
		require.NoError(t, err)
		assert.InDelta(t, c.twist, best.Degrees(), 1e-6)
		turned := TurnTo(best, geom.Angle(c.offset)*geom.Deg)
		assert.InDelta(t, 1, math.Cos(2*(turned.Rad()-(c.twist-c.offset)*math.Pi/180)), 1e-12)
		assert.LessOrEqual(t, turned.Abs().Degrees(), 90.0)
	}
}

// A turn is counted by half turns, the short way: from 40° one way to 32.3° the
// other are 72.3°, and from crossed to in phase a quarter turn.
func TestTurnTo(t *testing.T) {
	for _, c := range []struct{ wanted, present, turn float64 }{
		{0, 20, -20}, {-32.3, 40, -72.3}, {0, 90, 90}, {80, -80, -20}, {18.7, 18.7, 0}, {5, 185, 0},
	} {
		assert.InDelta(t, c.turn, TurnTo(geom.Angle(c.wanted)*geom.Deg, geom.Angle(c.present)*geom.Deg).Degrees(), 1e-9, "%+v", c)
	}
}

func TestStraightJointHasNoPlane(t *testing.T) {
	for _, axes := range [][]r3.Vec{twisted(0, 5, 0), twisted(5, 0, 0)} {
		_, ok := PlaneTwist(axes[0], axes[1], axes[2])
		assert.False(t, ok)
	}
}

// The vector of a ripple is as large as the ripple, turns with the place of the
// highest speed, and changes smoothly where the ripple itself has its kink.
func TestRippleVector(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := solve(t, drawChain(t, 0.6))
		for _, s := range m.Shafts() {
			assert.InDelta(t, s.Drive.k, cmplx.Abs(s.DriveVector), 1e-12)
			assert.InDelta(t, s.Coast.k, cmplx.Abs(s.CoastVector), 1e-12)
		}
		if last(m).Drive.k < 1e-4 {
			return
		}
		top := geom.Angle(cmplx.Phase(last(m).DriveVector) / 2)
		st := m.At(top, nil)
		assert.InDelta(t, last(m).Drive.Max(), st[len(st)-1].Ratio, 1e-9)
	})
	// Two joints of 8° that cancel: half a degree more on one or the other puts
	// the highest speed a quarter turn apart, so the vectors are opposite.
	more, less := solve(t, walk(pitched(0, 8.5, 0.5))), solve(t, walk(pitched(0, 8, 8-8.5)))
	sum := last(more).DriveVector + last(less).DriveVector
	assert.InDelta(t, 0, cmplx.Abs(sum), 1e-12)
	assert.Greater(t, last(more).Drive.k, 1e-4)
}

// A double joint of 10° whose device gives 7° to the first cross and 3° to the
// second: T tan 7° on the driving side and, with what the halves leave over,
// T tan 3° on the driven one.
func TestLoadsOfUnevenHalves(t *testing.T) {
	c := walk(pitched(0, 10))
	c.Joints[0].Kind, c.Joints[0].Uneven = DoubleCardan, 4*geom.Deg
	m := solve(t, c)
	loads, err := m.Loads(1000)
	require.NoError(t, err)
	assert.InDelta(t, 1000*last(m).Drive.Max()*math.Tan(3*math.Pi/180), loads[0].Couples.Driven, 1e-9)
	assert.InDelta(t, 1000*math.Tan(7*math.Pi/180), loads[0].Couples.Driver, 1e-9)
}
