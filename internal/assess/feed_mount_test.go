package assess

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func value(t testing.TB, a *Assessment, name string) float64 {
	t.Helper()
	for _, v := range a.Values() {
		if v.Name == name {
			require.True(t, v.Known, name)
			return v.V
		}
	}
	require.Fail(t, "no value is called "+name)
	return 0
}

const oneLine = `
[line.rear.pinion]
at = [2600, 0, -50]
slope = "2 deg down to the rear"
`

// The loaded angle is what the line has when the powertrain is put where it
// comes to rest.
func TestLoadedAngleIsThatOfThePlacementItSinksTo(t *testing.T) {
	text := levelHead + strings.Replace(weight, "mass", "output = [1300, 0, 0]\nmass", 1) + rubbers + oneLine
	a := Run(build(t, text))
	loaded := value(t, a, "line.rear.joint.1.angle.loaded")
	down := func(m string) float64 { return -value(t, a, "mount."+m+".sag") }
	supports, _, err := a.Build.Seat()
	require.NoError(t, err)
	b := a.Build.Placed(supports.Placement(a.Isolators.Poses[1].Pose))
	assert.InDelta(t, down("rear"), b.Placement.Rear.V(), 1e-9)
	c := Run(b)
	assert.InDelta(t, value(t, c, "line.rear.joint.1.angle.planned"), loaded, 1e-9)
	assert.NotEqual(t, value(t, a, "line.rear.joint.1.angle.planned"), loaded)
}

// The difference of two joints is held where it runs: on soft mounts the
// powertrain tilts and the two change by different amounts. Against the build put
// where it comes to rest.
func TestDifferenceOfJointsIsJudgedWithTheWeightOn(t *testing.T) {
	soft := strings.ReplaceAll(rubbers, "rate_up = 300", "rate_up = 60")
	text := levelHead + strings.Replace(weight, "mass", "output = [1300, 0, 0]\nmass", 1) + soft + oneLine
	a := Run(build(t, text))
	supports, _, err := a.Build.Seat()
	require.NoError(t, err)
	c := Run(a.Build.Placed(supports.Placement(a.Isolators.Poses[1].Pose)))
	built, sunk := a.Lines[0].Shafts[0].MismatchPlanned.V, c.Lines[0].Shafts[0].MismatchPlanned.V
	require.Greater(t, sunk-built, (0.2 * geom.Deg).Rad())

	limit := func(v float64) Finding {
		return findingOf(t, Run(build(t, text+fmt.Sprintf("[limits]\nmismatch = \"%.4f deg\"\n", geom.Angle(v).Degrees()))), "line.rear.shaft.1.mismatch")
	}
	f := limit((built + sunk) / 2)
	assert.Equal(t, Over, f.Status)
	assert.InDelta(t, sunk, f.Value, 1e-9)
	assert.Contains(t, strings.Join(f.Assumes, "\n"), "the powertrain with its weight on its mounts; as built it is")
	f = limit(2 * max(built, sunk))
	assert.Equal(t, OK, f.Status)
	assert.InDelta(t, built, f.Value, 1e-9)
	assert.Contains(t, strings.Join(f.Assumes, "\n"), "the powertrain as built; with its weight on its mounts it is "+fmt.Sprintf("%.2f°", geom.Angle(sunk).Degrees()))
}

// The wheels slip by the size of their tyres: 0.8 × 1500 kg × 9.80665 × 0.4 m
// over 4 at the propshaft, by hand.
func TestWheelsSlipByTheSizeOfTheirTyres(t *testing.T) {
	tyres := "[line.rear]\nratio = 4\n[vehicle]\ntyre_diameter = 800\nrear_laden = 1500\n[loads]\nfriction = { value = 0.8, source = \"gravel\" }\n"
	a := levelBuild(t, weight, rubbers, tyres)
	assert.InDelta(t, 0.8*1500*geom.Gravity*400/4, value(t, a, "mounts.torque.slip"), 1e-6)
	a = levelBuild(t, weight, rubbers, strings.Replace(tyres, "tyre_diameter = 800\n", "", 1))
	assert.Equal(t, "vehicle.tyre is not in the file yet", a.Statics.Slip.Why)
}
