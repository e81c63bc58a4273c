package travel

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func twoArms() []ArmPivot {
	return []ArmPivot{{"left arm", r3.Vec{X: 1900, Y: -300, Z: 420}}, {"right arm", r3.Vec{X: 1900, Y: 300, Z: 420}}}
}

// Side view by hand: an arm of length L at elevation e is at e' with sin e' =
// sin e + rise/L, and the pinion turns by e - e'.
func TestTrailingArmsInSideView(t *testing.T) {
	a := testAxle()
	arms, err := NewTrailingArms(a, twoArms()...)
	require.NoError(t, err)
	long := math.Hypot(1100, 70)
	points, err := Sweep(arms, 130, 130, 27)
	require.NoError(t, err)
	for _, p := range points {
		assertRigid(t, a, p)
		was, is := math.Asin(-70/long), math.Asin((-70+p.Rise)/long)
		assert.InDelta(t, was-is, p.Motion.Slope().Rad(), 1e-12)
		assert.InDelta(t, 1900+long*math.Cos(is), p.Centre.X, 1e-9)
		assert.InDelta(t, 5*math.Pi/180+was-is, geom.Slope(p.PinionAxis).Rad(), 1e-12, "nose drops in bump")
		for _, v := range twoArms() {
			assertVec(t, v.At, p.Motion.Point(v.At), 1e-9, v.Name)
		}
	}
	ride, err := arms.At(0)
	require.NoError(t, err)
	assert.Equal(t, geom.Identity(), ride.Motion)
	one, err := NewTrailingArms(a, ArmPivot{"torque arm", r3.Vec{X: 1900, Z: 420}})
	require.NoError(t, err)
	p, err := one.At(88)
	require.NoError(t, err)
	q, err := arms.At(88)
	require.NoError(t, err)
	assertVec(t, q.PinionAt, p.PinionAt, 1e-9, "pinion")
	_, err = arms.At(70 + long + 1)
	var bind *BindError
	require.ErrorAs(t, err, &bind)
	assert.InDelta(t, 70+long, bind.Rise, 1e-9)
	_, err = arms.At(70 - long - 1)
	require.ErrorAs(t, err, &bind)
	assert.InDelta(t, 70-long, bind.Rise, 1e-9)
}

// Any pivot line: the distance to every point of it is kept, the rise is met
// and no rise is no motion.
func TestSwingKeepsDistances(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := rapid.Float64Range(-1, 1)
		line := r3.Vec{X: c.Draw(rt, "x"), Y: 1.5, Z: c.Draw(rt, "z") / 2}
		u, err := geom.Unit(line)
		require.NoError(t, err)
		on := r3.Vec{X: 200 * c.Draw(rt, "on"), Z: 300}
		p := r3.Add(on, r3.Vec{X: 600, Y: 200 * c.Draw(rt, "py"), Z: 90 * c.Draw(rt, "pz")})
		rise := 100 * c.Draw(rt, "rise")
		m, err := swing(on, u, p, rise)
		require.NoError(t, err)
		got := m.Point(p)
		assert.InDelta(t, p.Z+rise, got.Z, 1e-9)
		for _, k := range []float64{0, -300, 700} {
			q := r3.Add(on, r3.Scale(k, u))
			assert.InDelta(t, r3.Norm(r3.Sub(p, q)), r3.Norm(r3.Sub(got, q)), 1e-9)
		}
		assert.Less(t, r3.Norm(r3.Sub(got, p)), 4*math.Abs(rise)+1e-9, "the near branch")
	})
}

func TestTrailingArmRefusals(t *testing.T) {
	arms := twoArms()
	for _, c := range []struct {
		name, want string
		pivots     []ArmPivot
	}{
		{"none", "at least one arm", nil},
		{"same", "left arm and right arm: their pivots are at the same point", []ArmPivot{arms[0], {"right arm", arms[0].At}}},
		{"not a number", "left arm pivot: its place is not a number", []ArmPivot{{"left arm", r3.Vec{X: nan}}}},
		{"out of line", "upper arm: its pivot is 40.0 mm off", append(twoArms(), ArmPivot{"upper arm", r3.Vec{X: 1900, Z: 460}})},
		{"at the axle", "does not lift", []ArmPivot{{"left arm", r3.Vec{X: 3000, Z: 350}}}},
		{"upright", "does not lift", []ArmPivot{{"left arm", r3.Vec{X: 3000, Z: 900}}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := NewTrailingArms(testAxle(), c.pivots...)
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err := NewTrailingArms(Axle{}, arms...)
	require.ErrorContains(t, err, "pinion axis")
	ok, err := NewTrailingArms(testAxle(), append(arms, ArmPivot{"middle arm", r3.Vec{X: 1901, Z: 420}})...)
	require.NoError(t, err)
	_, err = ok.At(nan)
	require.Error(t, err)
}
