package assess

import (
	"strings"
	"testing"

	"fitup/internal/geom/vibration"
	"fitup/internal/geom/wheel"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// truck is a four-wheel drive with a reduction of 2.5. Its tyre has a round
// circumference of 2000 mm, so it turns 10 times a second at 72 km/h, and one of
// 3 % less rolling.
const truck = `format = 3
[vehicle]
tyre_diameter = "636.6198 mm"
[powertrain]
gears = [4, 2, 1]
cylinders = 4
[line.rear]
ratio = 2.08
reduction = 2.5
[line.rear.pinion]
`

func shake(t *testing.T, text string, s Shake) Shaking {
	t.Helper()
	found, err := Run(build(t, text)).FindShake(s)
	require.NoError(t, err)
	return found
}

// The wheel at 10 turns a second, the shaft at 20.8, the engine in third (1:1)
// and low range (2.5) at 52.0; in high range at 20.8.
func TestReductionCountsBothWays(t *testing.T) {
	road := 72 * wheel.KmH
	s := shake(t, truck, Shake{Road: road, Gear: 3, Range: LowRange})
	assert.InDelta(t, 20.8, suspect(t, s, vibration.Shaft, 1).Lo, 1e-4)
	assert.InDelta(t, 52.0, suspect(t, s, vibration.Engine, 1).Lo, 1e-3)
	s = shake(t, truck, Shake{Road: road, Gear: 3, Range: HighRange})
	assert.InDelta(t, 20.8, suspect(t, s, vibration.Engine, 1).Lo, 1e-4)

	// And back, from engine to shaft and wheel.
	s = shake(t, truck, Shake{Engine: 52 * 60 * rpm, Gear: 3, Range: LowRange})
	assert.InDelta(t, 20.8, suspect(t, s, vibration.Shaft, 1).Lo, 1e-9)
	assert.InDelta(t, 10, suspect(t, s, vibration.Wheel, 1).Lo, 1e-9)
	s = shake(t, truck, Shake{Engine: 52 * 60 * rpm, Gear: 3, Range: HighRange})
	assert.InDelta(t, 52, suspect(t, s, vibration.Shaft, 1).Lo, 1e-9)

	// With neither range told, speeds that go together tell it, or nothing does.
	s = shake(t, truck, Shake{Road: road, Engine: 52.5 * 60 * rpm, Gear: 3})
	assert.InDelta(t, 52.5, suspect(t, s, vibration.Engine, 1).Lo, 1e-9)
	s = shake(t, truck, Shake{Road: road, Gear: 3})
	for _, x := range s.Suspects {
		assert.NotEqual(t, vibration.Engine, x.Part)
	}
	assert.Contains(t, strings.Join(s.Notes, " "), "high or low range")
}

func TestContradictingSpeedsAreRefused(t *testing.T) {
	a := Run(build(t, truck))
	road := 72 * wheel.KmH
	for _, s := range []Shake{
		{Road: road, Engine: 35 * 60 * rpm, Gear: 3},
		{Road: road, Engine: 52 * 60 * rpm, Gear: 3, Range: HighRange},
		{Road: road, Engine: 20.8 * 60 * rpm, Gear: 3, Range: LowRange},
		{Road: road, Engine: 20.8 * 60 * rpm, Gear: 1},
	} {
		_, err := a.FindShake(s)
		require.ErrorContains(t, err, "contradict each other", "%+v", s)
		assert.ErrorContains(t, err, "rpm")
	}
	_, err := a.FindShake(Shake{Road: road, Engine: 20.8 * 60 * rpm, Gear: 3, Range: HighRange})
	require.NoError(t, err)
	_, err = a.FindShake(Shake{Road: road, Range: "middle"})
	require.ErrorContains(t, err, "high or low")
	_, err = a.FindShake(Shake{Road: road, Frequency: 300, Rate: 100})
	require.ErrorContains(t, err, "show nothing above 50 Hz")
	// A converter slips: 15 % more is possible with one, not without.
	slip := Shake{Road: road, Engine: 20.8 * 1.15 * 60 * rpm, Gear: 3, Range: HighRange}
	_, err = a.FindShake(slip)
	require.Error(t, err)
	_, err = Run(build(t, strings.Replace(truck, "gears", "converter = 2\ngears", 1))).FindShake(slip)
	require.NoError(t, err)
}

// 44 Hz at 90 km/h with a shaft at 39.6 to 40.8 Hz is not that shaft; 300 Hz is
// nothing that turns here.
func TestNothingInTheListFits(t *testing.T) {
	text := strings.Replace(truck, "2.08", "3.168", 1) // 12.5 · 3.168 = 39.6 Hz
	road := 90 * wheel.KmH
	for _, felt := range []float64{44, 300} {
		s := shake(t, text, Shake{Road: road, Frequency: felt})
		assert.Equal(t, vibration.Other, s.Suspects[0].Part, "%g Hz", felt)
		assert.Equal(t, "none of these", s.Suspects[0].What)
		assert.Greater(t, s.Suspects[0].Share, 0.9)
		assert.Contains(t, s.Tests[0], "Nothing that this file knows of fits")
	}
	s := shake(t, text, Shake{Road: road, Frequency: 40})
	assert.Equal(t, vibration.Shaft, s.Suspects[0].Part)
	assert.Less(t, suspect(t, s, vibration.Other, 0).Share, 0.25)
}

// 104 Hz is above half of 100 samples a second: it shows at 4 Hz, which is said,
// and that the rate is assumed.
func TestAliasesAreNamed(t *testing.T) {
	s := shake(t, truck, Shake{Engine: 52 * 60 * rpm})
	firing := suspect(t, s, vibration.Engine, 2)
	assert.Contains(t, firing.Why, "100 samples a second shows it near 4.0 Hz")
	assert.Contains(t, strings.Join(s.Notes, " "), "taken to sample 100 times a second")
	s = shake(t, truck, Shake{Engine: 52 * 60 * rpm, Frequency: 4})
	assert.Equal(t, 2.0, s.Suspects[0].Order)
	s = shake(t, truck, Shake{Engine: 52 * 60 * rpm, Frequency: 80})
	assert.Contains(t, suspect(t, s, vibration.Engine, 2).Why, "200 samples a second shows it near 96.0 Hz")
	s = shake(t, truck, Shake{Engine: 52 * 60 * rpm, Rate: 400})
	assert.NotContains(t, suspect(t, s, vibration.Engine, 2).Why, "samples")
	assert.NotContains(t, strings.Join(s.Notes, " "), "sample")
}

// A line with constant-velocity joints has no universal joint to blame.
func TestShakeOfConstantVelocityJoints(t *testing.T) {
	even := "[[line.rear.joint]]\nkind = \"constant velocity\"\n[[line.rear.joint]]\nkind = \"constant velocity\"\n"
	s := shake(t, truck+even, Shake{Road: 72 * wheel.KmH})
	assert.Contains(t, suspect(t, s, vibration.Shaft, 3).What, "constant-velocity joint")
	for _, x := range s.Suspects {
		assert.False(t, x.Part == vibration.Shaft && x.Order == 2, x.What)
	}
	half := "[line.rear.suspension]\nkind = \"fixed\"\n[[line.rear.suspension.half_shaft]]\nname = \"left\"\n"
	s = shake(t, truck+half, Shake{Road: 72 * wheel.KmH})
	assert.InDelta(t, 30, suspect(t, s, vibration.HalfShaft, 3).Lo, 1e-3)
}

// What is left out is said: without a tyre the wheels, without a ratio the
// shaft, without gear or engine speed the engine, without road speed the wheels.
func TestWhatIsLeftOutIsSaid(t *testing.T) {
	for cut, s := range map[string]Shake{
		"tyre_diameter = \"636.6198 mm\"\n": {Road: 72 * wheel.KmH, Engine: 100},
		"ratio = 2.08\n":                    {Road: 72 * wheel.KmH},
		"cylinders = 4\n":                   {Road: 72 * wheel.KmH},
	} {
		found := shake(t, strings.Replace(truck, cut, "", 1), s)
		key, _, _ := strings.Cut(cut, " ")
		assert.Contains(t, strings.Join(found.Notes, "; "), strings.Replace(key, "_diameter", "", 1), cut)
		assert.Contains(t, strings.Join(found.Notes, "; "), "left out", cut)
	}
	assert.Contains(t, strings.Join(shake(t, truck, Shake{Road: 72 * wheel.KmH}).Notes, "; "), "bring the engine in")
	notes := strings.Join(shake(t, strings.Replace(truck, "ratio = 2.08\n", "", 1), Shake{Road: 72 * wheel.KmH, Gear: 2}).Notes, "; ")
	assert.Contains(t, notes, "gear 2 gives its speed only with the road speed, the tyre and the line's ratio")
	assert.NotContains(t, notes, "the gear to bring", "a gear that was given is not asked for")
	notes = strings.Join(shake(t, truck, Shake{Engine: 100}).Notes, "; ")
	assert.Contains(t, notes, "rear shaft is left out")
	assert.Contains(t, notes, "bring the wheels in")
}

// Low range with no reduction in the file is not taken as high; a gear that was
// given is not asked for.
func TestLowRangeWithoutAReduction(t *testing.T) {
	bare := strings.Replace(truck, "reduction = 2.5\n", "", 1)
	s := shake(t, bare, Shake{Road: 72 * wheel.KmH, Gear: 1, Range: LowRange})
	for _, x := range s.Suspects {
		assert.NotEqual(t, vibration.Engine, x.Part, x.What)
	}
	notes := strings.Join(s.Notes, "; ")
	assert.Contains(t, notes, "line.rear.reduction is not in the file yet")
	assert.NotContains(t, notes, "or the gear to bring")
	assert.Contains(t, strings.Join(shake(t, bare, Shake{Road: 72 * wheel.KmH, Range: LowRange}).Notes, "; "), "or the gear to bring")
}
