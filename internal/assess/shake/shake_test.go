package shake

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/vibration"
	"fitup/internal/geom/wheel"
	"fitup/internal/project"

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

// input is what the finder gets of a build whose lines nobody has judged.
func input(t *testing.T, text string) *Input {
	t.Helper()
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	in := &Input{Build: f.Build, Final: finding.Missing("powertrain.final is not in the file yet")}
	in.Tyre.Why = "vehicle.tyre is not in the file yet"
	if d, ok := f.Build.Vehicle.WheelDiameter.Get(); ok {
		in.Tyre = finding.Maybe[wheel.Tyre]{V: wheel.Tyre{Measured: d}, Known: true}
	} else if tyre, err := wheel.Parse(f.Build.Vehicle.Tyre); err == nil {
		in.Tyre = finding.Maybe[wheel.Tyre]{V: tyre, Known: true}
	}
	for _, l := range f.Build.Lines {
		out := Line{Name: l.Name}
		for i := range l.JointCount() {
			out.Joints = append(out.Joints, l.Joint(i).OfKind())
		}
		in.Lines = append(in.Lines, out)
	}
	return in
}

func found(t *testing.T, text string, s Felt) Shaking {
	t.Helper()
	got, err := input(t, text).Find(s)
	require.NoError(t, err)
	return got
}

func suspect(t *testing.T, s Shaking, p vibration.Part, order float64) Suspect {
	t.Helper()
	for _, x := range s.Suspects {
		if x.Part == p && x.Order == order {
			return x
		}
	}
	require.Fail(t, "no such suspect")
	return Suspect{}
}

// The wheel at 10 turns a second, the shaft at 20.8, the engine in third (1:1)
// and low range (2.5) at 52.0; in high range at 20.8.
func TestReductionCountsBothWays(t *testing.T) {
	road := 72 * wheel.KmH
	s := found(t, truck, Felt{Road: road, Gear: 3, Range: LowRange})
	assert.InDelta(t, 20.8, suspect(t, s, vibration.Shaft, 1).Lo, 1e-4)
	assert.InDelta(t, 52.0, suspect(t, s, vibration.Engine, 1).Lo, 1e-3)
	s = found(t, truck, Felt{Road: road, Gear: 3, Range: HighRange})
	assert.InDelta(t, 20.8, suspect(t, s, vibration.Engine, 1).Lo, 1e-4)

	// And back, from engine to shaft and wheel.
	s = found(t, truck, Felt{Engine: 52 * 60 * rpm, Gear: 3, Range: LowRange})
	assert.InDelta(t, 20.8, suspect(t, s, vibration.Shaft, 1).Lo, 1e-9)
	assert.InDelta(t, 10, suspect(t, s, vibration.Wheel, 1).Lo, 1e-9)
	s = found(t, truck, Felt{Engine: 52 * 60 * rpm, Gear: 3, Range: HighRange})
	assert.InDelta(t, 52, suspect(t, s, vibration.Shaft, 1).Lo, 1e-9)

	// With neither range told, speeds that go together tell it, or nothing does.
	s = found(t, truck, Felt{Road: road, Engine: 52.5 * 60 * rpm, Gear: 3})
	assert.InDelta(t, 52.5, suspect(t, s, vibration.Engine, 1).Lo, 1e-9)
	s = found(t, truck, Felt{Road: road, Gear: 3})
	for _, x := range s.Suspects {
		assert.NotEqual(t, vibration.Engine, x.Part)
	}
	assert.Contains(t, strings.Join(s.Notes, " "), "high or low range")
}

func TestContradictingSpeedsAreRefused(t *testing.T) {
	a := input(t, truck)
	road := 72 * wheel.KmH
	for _, s := range []Felt{
		{Road: road, Engine: 35 * 60 * rpm, Gear: 3},
		{Road: road, Engine: 52 * 60 * rpm, Gear: 3, Range: HighRange},
		{Road: road, Engine: 20.8 * 60 * rpm, Gear: 3, Range: LowRange},
		{Road: road, Engine: 20.8 * 60 * rpm, Gear: 1},
	} {
		_, err := a.Find(s)
		require.ErrorContains(t, err, "contradict each other", "%+v", s)
		assert.ErrorContains(t, err, "rpm")
	}
	_, err := a.Find(Felt{Road: road, Engine: 20.8 * 60 * rpm, Gear: 3, Range: HighRange})
	require.NoError(t, err)
	_, err = a.Find(Felt{Road: road, Range: "middle"})
	require.ErrorContains(t, err, "high or low")
	_, err = a.Find(Felt{Road: road, Frequency: 300, Rate: 100})
	require.ErrorContains(t, err, "show nothing above 50 Hz")
	// A converter slips: 15 % more is possible with one, not without.
	slip := Felt{Road: road, Engine: 20.8 * 1.15 * 60 * rpm, Gear: 3, Range: HighRange}
	_, err = a.Find(slip)
	require.Error(t, err)
	_, err = input(t, strings.Replace(truck, "gears", "converter = 2\ngears", 1)).Find(slip)
	require.NoError(t, err)
}

// 44 Hz at 90 km/h with a shaft at 39.6 to 40.8 Hz is not that shaft; 300 Hz is
// nothing that turns here.
func TestNothingInTheListFits(t *testing.T) {
	text := strings.Replace(truck, "2.08", "3.168", 1) // 12.5 · 3.168 = 39.6 Hz
	road := 90 * wheel.KmH
	for _, felt := range []float64{44, 300} {
		s := found(t, text, Felt{Road: road, Frequency: felt})
		assert.Equal(t, vibration.Other, s.Suspects[0].Part, "%g Hz", felt)
		assert.Equal(t, "none of these", s.Suspects[0].What)
		assert.Greater(t, s.Suspects[0].Share, 0.9)
		assert.Contains(t, s.Tests[0], "Nothing that this file knows of fits")
	}
	s := found(t, text, Felt{Road: road, Frequency: 40})
	assert.Equal(t, vibration.Shaft, s.Suspects[0].Part)
	assert.Less(t, suspect(t, s, vibration.Other, 0).Share, 0.25)
}

// 104 Hz is above half of 100 samples a second: it shows at 4 Hz, which is said,
// and that the rate is assumed.
func TestAliasesAreNamed(t *testing.T) {
	s := found(t, truck, Felt{Engine: 52 * 60 * rpm})
	firing := suspect(t, s, vibration.Engine, 2)
	assert.Contains(t, firing.Why, "100 samples a second shows it near 4.0 Hz")
	assert.Contains(t, strings.Join(s.Notes, " "), "taken to sample 100 times a second")
	s = found(t, truck, Felt{Engine: 52 * 60 * rpm, Frequency: 4})
	assert.Equal(t, 2.0, s.Suspects[0].Order)
	s = found(t, truck, Felt{Engine: 52 * 60 * rpm, Frequency: 80})
	assert.Contains(t, suspect(t, s, vibration.Engine, 2).Why, "200 samples a second shows it near 96.0 Hz")
	s = found(t, truck, Felt{Engine: 52 * 60 * rpm, Rate: 400})
	assert.NotContains(t, suspect(t, s, vibration.Engine, 2).Why, "samples")
	assert.NotContains(t, strings.Join(s.Notes, " "), "sample")
}

const rpm = math.Pi / 30

// A line with constant-velocity joints has no universal joint to blame.
func TestShakeOfConstantVelocityJoints(t *testing.T) {
	even := "[[line.rear.joint]]\nkind = \"constant velocity\"\n[[line.rear.joint]]\nkind = \"constant velocity\"\n"
	s := found(t, truck+even, Felt{Road: 72 * wheel.KmH})
	assert.Contains(t, suspect(t, s, vibration.Shaft, 3).What, "constant-velocity joint")
	for _, x := range s.Suspects {
		assert.False(t, x.Part == vibration.Shaft && x.Order == 2, x.What)
	}
	half := "[line.rear.suspension]\nkind = \"fixed\"\n[[line.rear.suspension.half_shaft]]\nname = \"left\"\n"
	s = found(t, truck+half, Felt{Road: 72 * wheel.KmH})
	assert.InDelta(t, 30, suspect(t, s, vibration.HalfShaft, 3).Lo, 1e-3)
}

// What is left out is said: without a tyre the wheels, without a ratio the
// shaft, without gear or engine speed the engine, without road speed the wheels.
func TestWhatIsLeftOutIsSaid(t *testing.T) {
	for cut, s := range map[string]Felt{
		"tyre_diameter = \"636.6198 mm\"\n": {Road: 72 * wheel.KmH, Engine: 100},
		"ratio = 2.08\n":                    {Road: 72 * wheel.KmH},
		"cylinders = 4\n":                   {Road: 72 * wheel.KmH},
	} {
		got := found(t, strings.Replace(truck, cut, "", 1), s)
		key, _, _ := strings.Cut(cut, " ")
		assert.Contains(t, strings.Join(got.Notes, "; "), strings.Replace(key, "_diameter", "", 1), cut)
		assert.Contains(t, strings.Join(got.Notes, "; "), "left out", cut)
	}
	assert.Contains(t, strings.Join(found(t, truck, Felt{Road: 72 * wheel.KmH}).Notes, "; "), "bring the engine in")
	notes := strings.Join(found(t, strings.Replace(truck, "ratio = 2.08\n", "", 1), Felt{Road: 72 * wheel.KmH, Gear: 2}).Notes, "; ")
	assert.Contains(t, notes, "gear 2 gives its speed only with the road speed, the tyre and the line's ratio")
	assert.NotContains(t, notes, "the gear to bring", "a gear that was given is not asked for")
	notes = strings.Join(found(t, truck, Felt{Engine: 100}).Notes, "; ")
	assert.Contains(t, notes, "rear shaft is left out")
	assert.Contains(t, notes, "bring the wheels in")
}

// Low range with no reduction in the file is not taken as high; a gear that was
// given is not asked for.
func TestLowRangeWithoutAReduction(t *testing.T) {
	bare := strings.Replace(truck, "reduction = 2.5\n", "", 1)
	s := found(t, bare, Felt{Road: 72 * wheel.KmH, Gear: 1, Range: LowRange})
	for _, x := range s.Suspects {
		assert.NotEqual(t, vibration.Engine, x.Part, x.What)
	}
	notes := strings.Join(s.Notes, "; ")
	assert.Contains(t, notes, "line.rear.reduction is not in the file yet")
	assert.NotContains(t, notes, "or the gear to bring")
	assert.Contains(t, strings.Join(found(t, bare, Felt{Road: 72 * wheel.KmH, Range: LowRange}).Notes, "; "), "or the gear to bring")
}

const shaker = `format = 1
[vehicle]
tyre = "225/45R17"
[powertrain]
cylinders = 6
gears = [3.5, 2, 1]
[line.rear]
ratio = 3.73
[line.rear.pinion]
`

// 225/45R17, axle 3.73, 100 km/h: 501.83 to 517.14 turns of the wheel per km
// (round tyre; 3.05 times the design diameter, ETRTO from memory).
func TestShakeAtOneHundred(t *testing.T) {
	a := input(t, shaker)
	road := 100 * wheel.KmH
	s, err := a.Find(Felt{Road: road, Gear: 3})
	require.NoError(t, err)
	for _, c := range []struct {
		p      vibration.Part
		order  float64
		lo, hi float64
	}{
		{vibration.Wheel, 1, 13.9397, 14.3651},
		{vibration.Shaft, 1, 51.9950, 53.5817},
		{vibration.Shaft, 2, 103.990, 107.163},
		{vibration.Engine, 3, 155.985, 160.745},
	} {
		got := suspect(t, s, c.p, c.order)
		assert.InEpsilon(t, c.lo, got.Lo, 1e-4)
		assert.InEpsilon(t, c.hi, got.Hi, 1e-4)
	}
	assert.Equal(t, vibration.Wheel, s.Suspects[0].Part, "with nothing known, wheels come first")
	assert.NotEmpty(t, s.Tests)
	assert.Contains(t, s.Tests[0], "neutral")

	for felt, want := range map[float64]vibration.Part{14: vibration.Wheel, 53: vibration.Shaft, 105: vibration.Shaft, 158: vibration.Engine} {
		s, err := a.Find(Felt{Road: road, Gear: 3, Frequency: felt})
		require.NoError(t, err)
		assert.Equal(t, want, s.Suspects[0].Part, "%g Hz", felt)
		assert.Greater(t, s.Suspects[0].Share, 0.5)
	}
}

func TestShakeWithLittleKnown(t *testing.T) {
	a := input(t, "format = 1\n[line.rear.pinion]\n")
	_, err := a.Find(Felt{Road: 20000})
	require.ErrorIs(t, err, vibration.ErrStanding)
	s, err := a.Find(Felt{Engine: 200})
	require.NoError(t, err)
	assert.NotEmpty(t, s.Notes)
	for _, bad := range []Felt{{Road: -1}, {Engine: math.NaN()}, {Frequency: math.Inf(1)}, {Engine: 100, Gear: 2}} {
		_, err := a.Find(bad)
		require.Error(t, err)
	}
	b := input(t, shaker)
	_, err = b.Find(Felt{Engine: 100, Gear: 9})
	assert.ErrorContains(t, err, "gears 1 to 3")
	s, err = b.Find(Felt{Engine: 314.16, Gear: 2})
	require.NoError(t, err)
	assert.InEpsilon(t, 25.0, suspect(t, s, vibration.Shaft, 1).Lo, 1e-4, "3000 rpm in second, ratio 2")
}

// A line's own findings rank its universal joints: how the whole runs where that
// is known, each joint and shaft where it is not. At 80 % of the limit the weight
// is 0.3 + 1.4·0.64 = 1.196; at twice it, 5.9, which is more than any gets: 4.
func TestJointsByTheirFindings(t *testing.T) {
	of := func(title string, share float64) finding.Finding {
		return finding.Finding{Title: title, Value: 3 * share, HasValue: true, Limit: 3, HasLimit: true}
	}
	cause := vibration.Cause{Part: vibration.Shaft, Order: 2}
	in := Input{Lines: []Line{{Name: "rear", Angles: []finding.Finding{of("joint 1", 0.5), of("joint 2", 0.8), {Title: "unknown", HasLimit: true, Limit: 3}}}}}
	w, why := in.suspicion(cause)
	assert.InDelta(t, 1.196, w, 1e-9)
	assert.Equal(t, "joint 2 is at 80 % of its limit", why)
	in.Lines[0].Uneven = []finding.Finding{of("the line", 2)}
	w, why = in.suspicion(cause)
	assert.InDelta(t, 4, w, 1e-12)
	assert.Equal(t, "the line is at 200 % of its limit", why)
	in.Lines[0].Uneven = []finding.Finding{of("the line", 0.1)}
	_, why = in.suspicion(cause)
	assert.Equal(t, "the line is at 10 % of its limit", why, "the whole counts before its parts")
	w, why = (&Input{Lines: []Line{{}}}).suspicion(cause)
	assert.InDelta(t, 1, w, 1e-12)
	assert.Contains(t, why, "not known yet")
}

// A tube that turns at 60 % of its whirling speed weighs 1 + 3·0.36 = 2.08.
func TestUnbalanceNearTheWhirl(t *testing.T) {
	in := Input{Lines: []Line{{Whirl: []finding.Number{finding.Missing("no wall"), finding.Exact(2 * math.Pi * 100)}}}}
	cause := vibration.Cause{Part: vibration.Shaft, Order: 1, Lo: 60, Hi: 60}
	w, why := in.suspicion(cause)
	assert.InDelta(t, 2.08, w, 1e-9)
	assert.Equal(t, "it turns at 60 % of its whirling speed", why)
}

// A transaxle turns its wheels by gear and final drive, either way. By hand: the
// wheel at 10 turns a second, gear 2, final drive 4: 80 at the engine.
func TestTransaxleTiesWheelAndEngine(t *testing.T) {
	text := strings.Replace(strings.Split(truck, "[line.rear]")[0], "[powertrain]", "[powertrain]\nlayout = \"transaxle\"\nfinal = 4", 1)
	in := input(t, text)
	in.Final = finding.Exact(4)
	s, err := in.Find(Felt{Road: 72 * wheel.KmH, Gear: 2})
	require.NoError(t, err)
	assert.InDelta(t, 80, suspect(t, s, vibration.Engine, 1).Lo, 1e-3)
	s, err = in.Find(Felt{Engine: 80 * 60 * rpm, Gear: 2})
	require.NoError(t, err)
	assert.InDelta(t, 10, suspect(t, s, vibration.Wheel, 1).Lo, 1e-9)
	_, err = in.Find(Felt{Road: 72 * wheel.KmH, Engine: 100 * 60 * rpm, Gear: 2})
	require.ErrorContains(t, err, "by powertrain.final")
	in.Final = finding.Missing("powertrain.final is not in the file yet")
	s, err = in.Find(Felt{Road: 72 * wheel.KmH, Gear: 2})
	require.NoError(t, err)
	assert.Contains(t, strings.Join(s.Notes, "; "), "powertrain.final is not in the file yet, so the engine's speed does not follow")
}
