package line

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/shaft"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Equal angles of 2.4° with the shaft's yokes crossed leave 2.4·√2 = 3.39° over
// (b_eq² = b1² + b2², small angles): the difference of the angles, which is
// nothing, says nothing.
func TestCrossedYokesDoNotCancel(t *testing.T) {
	a := run(build(t, example.Slopes(4.8, 2.4, 4.8)))
	for _, id := range []string{"line.rear.shaft.1.mismatch", "line.rear.equivalent"} {
		assert.Equal(t, finding.OK, findingOf(t, a, id).Status, id)
	}
	for phase, word := range map[string]string{`phase = "crossed"`: "crossed", `yoke_offset = "88 deg"`: "offset by 88.0 degrees"} {
		a = run(build(t, example.Slopes(4.8, 2.4, 4.8)+"[[line.rear.shaft]]\n"+phase+"\n"))
		for _, id := range []string{"line.rear.shaft.1.mismatch", "line.rear.equivalent"} {
			f := findingOf(t, a, id)
			assert.Equal(t, finding.Over, f.Status, id)
			assert.InDelta(t, 3.394, deg(f.Value), 0.004, id)
			assert.InDelta(t, 3, deg(f.Limit), 1e-9)
			assert.Contains(t, f.Source, "from memory")
			assert.Contains(t, f.Advice(), word)
			assert.NotContains(t, f.Advice(), "is within its limit")
		}
	}
}

// Where the file does not say how the yokes stand, what rests on it says that
// they are taken as in phase, as read and as planned, and on the order sheet.
func TestYokesTakenAsInPhaseAreSaid(t *testing.T) {
	plan := example.Points(`slope = "3 deg down to the rear"`, `slope = "3 deg down to the rear"`, "[0, 0, 0]", "[1000, 0, 0]")
	for _, text := range []string{example.Slopes(4.8, 2.4, 4.8) + "[line.rear]\nspeed = \"3000 rpm\"\n", strings.Replace(plan, "[line.rear.first]", "[line.rear]\nspeed = \"3000 rpm\"\n[line.rear.first]", 1)} {
		for phase, said := range map[string]bool{"": true, `phase = "in phase"`: false, `yoke_offset = "0 deg"`: false} {
			a := run(build(t, text+"[[line.rear.shaft]]\n"+phase+"\n"))
			for _, id := range []string{"line.rear.shaft.1.mismatch", "line.rear.equivalent", "line.rear.residual"} {
				f := findingOf(t, a, id)
				assert.Equal(t, said, strings.Contains(strings.Join(f.Assumes, "; "), "the yokes of shaft 1 in phase"), "%s with %q", id, phase)
			}
			sheet := ""
			for _, r := range a.Lines[0].Order {
				sheet += r.Label + " " + r.Words + "\n"
			}
			assert.Equal(t, said, strings.Contains(sheet, "(assumed)"), sheet)
		}
	}
	f := findingOf(t, run(build(t, plan+"kind = \"double cardan\"\n")), "line.rear.equivalent")
	assert.NotContains(t, strings.Join(f.Assumes, "; "), "yokes")
}

// A joint that nothing cancels is not told to be made equal to an even one.
func TestResidualOfALoneJointIsNotCancelled(t *testing.T) {
	text := example.Points(`slope = "10 deg down to the rear"`, `slope = "10 deg down to the rear"`, "[0, 0, 0]\nkind = \"double cardan\"", "[1000, 0, 0]")
	f := findingOf(t, run(build(t, strings.Replace(text, "[line.rear.first]", "[line.rear]\nspeed = \"3000 rpm\"\n[line.rear.first]", 1))), "line.rear.residual")
	require.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "looks along the shaft")
	assert.NotContains(t, f.Advice(), "nearer to each other")
	assert.NotContains(t, f.Advice(), "in phase")
}

// Advice moves what the joint hangs on, and the way that most of its angle goes:
// equal slopes help nothing where the shaft runs aside.
func TestAdviceOnTooMuchAngle(t *testing.T) {
	own := run(build(t, example.Points(`slope = "4 deg down to the rear"`, `slope = "4 deg down to the rear"`, "[0, 0, 0]", "[1000, 0, 0]")))
	for _, id := range []string{"line.rear.joint.1.max", "line.rear.joint.2.max"} {
		f := findingOf(t, own, id)
		require.Equal(t, finding.Over, f.Status)
		assert.Contains(t, f.Advice(), "case")
		for _, not := range []string{"mounts", "placement", "from above"} {
			assert.NotContains(t, f.Advice(), not, id)
		}
	}
	hung := example.Slopes(7, 2.4, 4.8)
	f := findingOf(t, run(build(t, hung)), "line.rear.joint.1.max")
	assert.Contains(t, f.Advice(), "by its mounts")
	assert.NotContains(t, f.Advice(), "from above")
	aside := example.Slopes(4.8, 2.4, 4.8) + "[[reading]]\nof = \"line.rear.shaft.1\"\naside = \"60 mm right\"\nover = \"1000 mm\"\n"
	f = findingOf(t, run(build(t, aside)), "line.rear.joint.1.max")
	require.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "seen from above, 3.4 degrees")
}

// Joints of 2.5° each that bend in planes square to each other: 2.5·√2 = 3.54°.
func TestJointPlanesSquareToEachOther(t *testing.T) {
	text := example.Points(`slope = "2.5 deg down to the rear"`, "slope = \"0 deg\"\nheading = \"2.5 deg rear to the right\"", "[0, 0, 0]", "[1000, 0, 0]")
	a := run(build(t, text))
	for _, b := range a.Lines[0].Joints {
		assert.InDelta(t, 2.5, deg(b.Planned.V), 1e-9)
	}
	for _, id := range []string{"line.rear.shaft.1.mismatch", "line.rear.equivalent"} {
		f := findingOf(t, a, id)
		assert.Equal(t, finding.Over, f.Status, id)
		assert.InDelta(t, 3.5355, deg(f.Value), 0.004)
		assert.Contains(t, f.Advice(), "planes 90 degrees apart")
		assert.Contains(t, f.Advice(), "Turning the rear yoke of shaft 1 by 90.0 degrees")
	}
}

// With a speed the limit is what the residual allows there: 400 rad/s² at 3000
// rpm is 3.6476°, so 3.39° passes and at 3500 rpm does not.
func TestEquivalentAngleAtSpeed(t *testing.T) {
	text := example.Slopes(4.8, 2.4, 4.8) + "[[line.rear.shaft]]\nphase = \"crossed\"\n[line.rear]\n"
	f := findingOf(t, run(build(t, text+"speed = \"3000 rpm\"\n")), "line.rear.equivalent")
	assert.InDelta(t, 3.6476, deg(f.Limit), 0.004)
	assert.Equal(t, finding.OK, f.Status, "3.39 and 0.2 of uncertainty stay below")
	assert.InDelta(t, 2*math.Sqrt(6)*2.4*0.0577350*2/(2*3.394), deg(f.Uncertainty), 0.01)
	f = findingOf(t, run(build(t, text+"speed = \"3500 rpm\"\n")), "line.rear.equivalent")
	assert.Equal(t, finding.Over, f.Status)
	assert.Equal(t, finding.Over, findingOf(t, run(build(t, text+"speed = \"3500 rpm\"\n")), "line.rear.residual").Status)
}

// Joints that cancel exactly: whichever way the gauge was off, they cancel less,
// so the number is not exact. Against the corners of what it may be off.
func TestUncertaintyWhereJointsCancel(t *testing.T) {
	a := run(build(t, example.Slopes(5, 2, 5)+"[line.rear]\nspeed = \"3000 rpm\"\n"))
	l := a.Lines[0]
	assert.InDelta(t, 0, l.Read.Residual.V, 1e-6)
	// β1² - β2² with β1 = engine - shaft, β2 = pinion - shaft: the shaft drops
	// out, and engine and pinion each count 2·3°·u (JCGM 100:2008, 5.2).
	u := (0.1 * geom.Deg).Rad() / math.Sqrt(3)
	w := 3000 * rpm
	want := w * w * 2 * (3 * geom.Deg).Rad() * math.Sqrt2 * u
	between(t, want, l.Read.Residual.U(), 0.1)
	up := math.Sqrt(2 * 2 * (3 * geom.Deg).Rad() * math.Sqrt2 * u)
	assert.InDelta(t, up/2, l.Read.Equivalent.U(), 0.03*up)
	f := findingOf(t, a, "line.rear.shaft.1.inertia.drive")
	b := 3 * geom.Deg.Rad()
	between(t, 2*w*w*2*b*math.Sqrt2*u, f.Uncertainty, 0.1)
}

// Parallel ends at 8° with the rear yoke at 20°: back by 20°, not by nothing.
func TestYokeAdviceIsATurnFromWhereItIs(t *testing.T) {
	text := example.Points(`slope = "8 deg down to the rear"`, `slope = "8 deg down to the rear"`, "[0, 0, 0]", "[1000, 0, 0]") + "[[line.rear.shaft]]\nyoke_offset = \"20 deg\"\n"
	for _, speed := range []string{"", "[line.rear]\nspeed = \"3000 rpm\"\n"} {
		a := run(build(t, text+speed))
		assert.InDelta(t, 0, deg(a.Lines[0].Planned.Best[0].Offset), 1e-6)
		assert.InDelta(t, -20, deg(a.Lines[0].Planned.Best[0].Turn), 1e-6)
		f := findingOf(t, a, "line.rear.shaft.1.mismatch")
		assert.Contains(t, f.Advice(), "by 20.0 degrees to the left from where it is, anticlockwise")
		assert.Contains(t, f.Advice(), "offset by 20.0 degrees")
	}
}

// A line whose planes are twisted 32.3° to the left, with the yoke 40° to the
// right: 72.3° to the left, the twist of the planes less where the yoke is.
func TestYokeAdviceOnATwistedLine(t *testing.T) {
	const twist, b = -32.3, 8.0
	c := (twist * geom.Deg).Rad()
	// shaft along X; the second joint's plane turned about it
	v := geom.Direction(b*geom.Deg, 0)
	y, z := -v.Z*math.Sin(c), v.Z*math.Cos(c)
	out := fmt.Sprintf("slope = \"%.9f deg down to the rear\"\nheading = \"%.9f deg rear to the %s\"",
		math.Asin(-z)/geom.Deg.Rad(), math.Abs(math.Atan2(y, v.X))/geom.Deg.Rad(), map[bool]string{true: "right", false: "left"}[y > 0])
	text := example.Points(`slope = "8 deg down to the rear"`, out, "[0, 0, 0]", "[1000, 0, 0]")
	plain := run(build(t, text)).Lines[0]
	require.Len(t, plain.Planned.Best, 1)
	best := deg(plain.Planned.Best[0].Offset)
	assert.InDelta(t, 32.3, math.Abs(best), 1e-6)
	present := 40.0
	if best > 0 {
		present = -40
	}
	a := run(build(t, text+fmt.Sprintf("[[line.rear.shaft]]\nyoke_offset = \"%g deg\"\n", present)))
	assert.InDelta(t, 72.3, math.Abs(deg(a.Lines[0].Planned.Best[0].Turn)), 1e-6)
	assert.Contains(t, findingOf(t, a, "line.rear.equivalent").Advice(), "by 72.3 degrees to the")
	turned := present + deg(a.Lines[0].Planned.Best[0].Turn)
	set := run(build(t, text+fmt.Sprintf("[[line.rear.shaft]]\nyoke_offset = \"%.6f deg\"\n", turned)))
	assert.InDelta(t, 0, deg(set.Lines[0].Planned.Equivalent.V), 0.01, "turned as advised, it runs evenly")
}

// A double joint at the gearbox: one running limit for its kind, at speed each
// half by half of the angle; and the pinion has to look along the shaft.
func TestDoubleCardanArrangement(t *testing.T) {
	text := example.Slopes(4.4, 12.4, 11.4) + example.Kinds("double cardan", "cardan") + "[line.rear]\nspeed = \"3000 rpm\"\n"
	a := run(build(t, text))
	f := findingOf(t, a, "line.rear.joint.1.max")
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 10, deg(f.Limit), 1e-9)
	by, err := shaft.OperatingAngle(3000 * rpm)
	require.NoError(t, err)
	f = findingOf(t, a, "line.rear.joint.1.speed")
	assert.InDelta(t, 2*by.Degrees(), deg(f.Limit), 1e-9)
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, f.Source, "half")
	f = findingOf(t, a, "line.rear.joint.2.max")
	assert.Equal(t, finding.OK, f.Status, "1° low")
	assert.InDelta(t, 2, deg(f.Limit), 1e-9)
	assert.Contains(t, f.Advice(), "1.0 degrees low")
	_, ok := a.Finding("line.rear.shaft.1.mismatch")
	assert.False(t, ok)

	// 2.6° low: too much, and equal angles are not what it wants.
	f = findingOf(t, run(build(t, example.Slopes(4.4, 12.4, 9.8)+example.Kinds("double cardan", "cardan"))), "line.rear.joint.2.max")
	assert.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "equal angles are of no use")
	assert.Contains(t, f.Advice(), "2.6 degrees low now")
	// 1.5° high: the wind-up adds to it.
	f = findingOf(t, run(build(t, example.Slopes(4.4, 12.4, 13.9)+example.Kinds("double cardan", "cardan"))), "line.rear.joint.2.max")
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, 1, deg(f.Limit), 1e-9)
	assert.Contains(t, f.Advice(), "1.5 degrees high now")
}

// Nothing cancels the one Cardan joint of such a shaft: what it leaves over is
// its own angle, with a speed or without.
func TestALoneCardanLeavesItsOwnAngle(t *testing.T) {
	f := findingOf(t, run(build(t, example.Slopes(4.4, 12.4, 8.4)+example.Kinds("double cardan", "cardan"))), "line.rear.equivalent")
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, 4, deg(f.Value), 1e-6)
	assert.Contains(t, f.Advice(), "the pinion looks along the shaft")
}

func TestTheOtherArrangementIsHinted(t *testing.T) {
	f := findingOf(t, run(build(t, example.Slopes(4.4, 1.9, 4.4)+example.Kinds("double cardan", "cardan"))), "line.rear.joint.2.max")
	assert.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "Two single joints with their yokes in phase would serve")
	f = findingOf(t, run(build(t, example.Slopes(4.4, 12.4, 11.4))), "line.rear.joint.1.max")
	assert.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "a double Cardan joint in place of joint 1 would serve")
}

// What a joint's maker allows before it binds is no leave to run there; a
// maker's figure for running is.
func TestLargestAngleIsNoRunningLimit(t *testing.T) {
	text := func(key string) string {
		return example.Slopes(4.4, 16.4, 15.4) + "[[line.rear.joint]]\nkind = \"double cardan\"\n" + key + "\n[[line.rear.joint]]\nkind = \"cardan\"\n"
	}
	for key, want := range map[string]struct {
		limit float64
		is    finding.Status
	}{`max_angle = "30 deg"`: {10, finding.Over}, `max_angle = "8 deg"`: {8, finding.Over}, `run_angle = "14 deg"`: {14, finding.OK}} {
		f := findingOf(t, run(build(t, text(key))), "line.rear.joint.1.max")
		assert.InDelta(t, want.limit, deg(f.Limit), 1e-9, key)
		assert.Equal(t, want.is, f.Status, key)
	}
}

// Ahead of a front axle full torque turns the pinion's nose down, so at rest it
// stands high; a differential held by the chassis does not wind up at all.
func TestAimOfAFrontPinion(t *testing.T) {
	text := func(pinion, suspension string) string {
		return example.Points(`slope = "4.4 deg down to the rear"`, fmt.Sprintf("slope = %q", pinion), "[1250, 200, -80]", "[330, 200, -41.4]") +
			"[line.rear]\ntoward = \"front\"\n" + suspension
	}
	double := func(s string) string {
		return strings.Replace(s, "[[line.rear.joint]]\n", "[[line.rear.joint]]\nkind = \"double cardan\"\n", 1)
	}
	shaft := math.Atan2(38.6, 920) / geom.Deg.Rad()
	for _, c := range []struct {
		pinion     float64
		suspension string
		limit      float64
		word       string
	}{
		{shaft - 0.9, "", 2, "high"},
		{shaft + 0.9, "", 1, "low"},
		{shaft + 0.9, "[line.rear.suspension]\nkind = \"fixed\"\n", 2, "low"},
		{shaft + 0.9, "[line.rear.suspension]\nwind_up = \"1.5 deg\"\n", 0.5, "low"},
	} {
		a := run(build(t, double(text(fmt.Sprintf("%.6f deg down to the rear", c.pinion), c.suspension))))
		f := findingOf(t, a, "line.rear.joint.2.max")
		assert.InDelta(t, c.limit, deg(f.Limit), 1e-9, "%+v", c)
		assert.Contains(t, f.Advice(), "0.9 degrees "+c.word+" now")
	}
}

// The last two joints cancel, and a third ahead of them works at 3.2° against
// nothing: the difference of the two does not make the line ok.
func TestJointsAheadOfThePairCount(t *testing.T) {
	s := func(deg float64) float64 { return 1000 * math.Tan(deg*math.Pi/180) }
	text := example.Points(`slope = "4.2 deg down to the rear"`, `slope = "1 deg down to the rear"`,
		"[0, 0, 0]", fmt.Sprintf("[1000, 0, %g]", -s(1)), fmt.Sprintf("[2000, 0, %g]", -s(1)-s(3.5)))
	a := run(build(t, text))
	for id, want := range map[string]float64{"line.rear.equivalent": 3.2, "line.rear.shaft.2.mismatch": 3.2, "line.rear.joint.2.max": 2.5, "line.rear.joint.3.max": 2.5} {
		assert.InDelta(t, want, deg(findingOf(t, a, id).Value), 1e-6, id)
	}
	f := findingOf(t, a, "line.rear.shaft.2.mismatch")
	assert.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "the first nearer to nothing")
}

// Where a speed lets crossed yokes pass, they are not said to cancel, and the
// difference of the angles, which is nothing, is not shown for it.
func TestCrossedYokesThatPass(t *testing.T) {
	f := findingOf(t, run(build(t, example.Slopes(4.8, 2.4, 4.8)+"[[line.rear.shaft]]\nphase = \"crossed\"\n[line.rear]\nspeed = \"2500 rpm\"\n")), "line.rear.shaft.1.mismatch")
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 3.394, deg(f.Value), 0.004)
	assert.Contains(t, f.Title, "leave over")
	assert.Contains(t, f.Advice(), "its joints add up instead of cancelling")
	assert.NotContains(t, f.Advice(), "cancel each other")
}

// Another arrangement is hinted at only where it would serve: single joints at
// nearly equal angles that both may have, a double joint within its own limit
// and with the pinion along the shaft.
func TestNoOtherArrangementWhereItWouldNotServe(t *testing.T) {
	for _, c := range []struct {
		engine, shaft, pinion float64
		double                bool
		joint                 int
	}{
		{4.4, 1.9, 6.9, true, 2}, // 2.5° and 5°: unequal
		{8.4, 1.9, 8.4, true, 2}, // 6.5° each: more than single joints may have
		{4.4, 12.4, 9, false, 1}, // the pinion 3.4° off the shaft
		{4.4, 18, 17, false, 1},  // 13.6°: more than a double joint may have
	} {
		text := example.Slopes(c.engine, c.shaft, c.pinion)
		if c.double {
			text += example.Kinds("double cardan", "cardan")
		}
		f := findingOf(t, run(build(t, text)), fmt.Sprintf("line.rear.joint.%d.max", c.joint))
		assert.Equal(t, finding.Over, f.Status, "%+v", c)
		assert.NotContains(t, f.Advice(), "would serve", "%+v", c)
	}
}

// A note on the yokes of two joints is of their own shaft.
func TestYokesOfAnotherShaft(t *testing.T) {
	text := example.Points(`slope = "1 deg down to the rear"`, `slope = "1.2 deg down to the rear"`, "[0, 0, 0]", "[1000, 0, -15]", "[2000, 0, -75]") +
		"[[line.rear.shaft]]\nyoke_offset = \"20 deg\"\n[[line.rear.shaft]]\nphase = \"in phase\"\n"
	a := run(build(t, text))
	assert.Contains(t, findingOf(t, a, "line.rear.equivalent").Advice(), "shaft 1 are offset by 20.0 degrees")
	f := findingOf(t, a, "line.rear.shaft.2.mismatch")
	require.Equal(t, finding.OK, f.Status)
	assert.NotContains(t, f.Advice(), "shaft 1")
}

// Planes are those of what was read only where every axis was; a straight joint
// has none, so that no yoke stands wrong for it.
func TestPlanesOfAShaft(t *testing.T) {
	axis := func(planned, heading float64) Axis {
		return Axis{Planned: finding.Exact((geom.Angle(planned) * geom.Deg).Rad()), Heading: finding.Exact((geom.Angle(heading) * geom.Deg).Rad())}
	}
	l := Line{HasReads: true, Axes: []Axis{axis(3, 0), axis(0, 0), axis(0, 3)}, Shafts: []Shaft{{Number: 1}}}
	twist, ok := l.twist(0)
	require.True(t, ok)
	assert.InDelta(t, 90, twist.Abs().Degrees(), 1e-6, "as planned: one joint bends down, the other aside")
	l.Axes[0].Read = finding.Exact(0.05)
	again, _ := l.twist(0)
	assert.Equal(t, twist, again, "two axes were not read")
	for i := range l.Axes {
		l.Axes[i].Read = finding.Exact([]float64{0.05, 0, -0.05}[i])
		l.Axes[i].Plan = finding.Exact(0)
	}
	twist, _ = l.twist(0)
	assert.InDelta(t, 0, twist.Degrees(), 1e-6, "as read: both in side view")

	straight := Line{Axes: []Axis{axis(0, 0), axis(0, 0), axis(3, 0)}, Shafts: []Shaft{{Number: 1, Yokes: shaft.Crossed}}}
	assert.False(t, straight.misphased(0))
	_, ok = (&Line{Axes: []Axis{axis(3, 0), axis(0, 0), {}}}).aim()
	assert.False(t, ok, "nobody knows where the pinion looks")
}

// A line names what it begins with.
func TestDrivingEnd(t *testing.T) {
	assert.Equal(t, "output", run(build(t, example.Points(`slope = "0 deg"`, `slope = "0 deg"`, "[0, 0, 0]", "[1000, 0, 0]"))).Lines[0].Axes[0].Label)
	assert.Equal(t, "powertrain", run(build(t, example.Three("rear", "rear", "rear"))).Lines[0].Axes[0].Label)
}
