package line

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two lines from one powertrain whose outputs are not parallel to the
// crankshaft: the reading is of the crankshaft, the line begins at its output.
func TestOutputSlopeIsInTheReading(t *testing.T) {
	a := run(build(t, example.Three("rear", "rear", "rear")+"[line.rear]\noutput_slope = \"1 deg up to the rear\"\n"))
	assert.InDelta(t, 1, deg(findingOf(t, a, "line.rear.joint.1.max").Value), 1e-9)
	assert.Contains(t, strings.Join(findingOf(t, a, "line.rear.joint.1.max").Assumes, "; "), "crankshaft")
}

// With shaft 60 mm aside per metre, two slopes 2° apart are 3.97° apart:
// cos β = cos of each, in space. The verdict on the side view holds while the
// shaft runs less than 36 mm aside per metre: there 2° and atan 0.036 make
// 2.87°, whose ± is 0.163° times 2/2.87.
func TestPlanViewIsSaidAndCanBeGiven(t *testing.T) {
	text := example.Three("rear", "rear", "rear")
	f := findingOf(t, run(build(t, text)), "line.rear.joint.1.max")
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, f.Assumes, "side view only: holds while the shaft runs less than 36 mm aside per metre, against the powertrain")

	tape := func(of, aside string) string {
		return fmt.Sprintf("[[reading]]\nof = %q\naside = %q\nover = \"1000 mm\"\n", of, aside)
	}
	a := run(build(t, text+tape("line.rear.shaft.1", "60 mm right")))
	f = findingOf(t, a, "line.rear.joint.1.max")
	assert.Equal(t, finding.Over, f.Status)
	v := geom.Direction(4.4*geom.Deg, 0)
	w := geom.Direction(2.4*geom.Deg, geom.Angle(math.Atan(0.06)))
	assert.InDelta(t, geom.Between(v, w).Degrees(), deg(f.Value), 1e-9)
	assert.InDelta(t, 3.97, deg(f.Value), 0.005)
	// of the two ± the slopes' counts with 2/3.97, the tape's with 3.43/3.97
	slopes := 0.1 / math.Sqrt(3) * math.Sqrt2 * 2 / 3.967
	plan := deg(math.Sqrt2*1/math.Sqrt(3)/1000) * 3.43 / 3.967
	assert.InDelta(t, 2*math.Hypot(slopes, plan), deg(f.Uncertainty), 1e-3)
	assert.Contains(t, strings.Join(f.Assumes, "; "), "side view only: holds", "nobody measured the powertrain")

	a = run(build(t, text+tape("line.rear.shaft.1", "60 mm right")+tape("line.rear.pinion", "60 mm right")+tape("powertrain", "60 mm right")))
	for _, id := range []string{"line.rear.joint.1.max", "line.rear.joint.2.max", "line.rear.shaft.1.mismatch"} {
		f = findingOf(t, a, id)
		assert.Equal(t, finding.OK, f.Status, id)
		assert.NotContains(t, strings.Join(f.Assumes, "; "), "side view", id)
	}
}

// Everything judged by readings alone says that it is the side view, and what
// it says is so: the verdict is the same just inside and another just outside.
func TestSideViewHoldsAsFarAsItSays(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[line.rear]\nspeed = \"3000 rpm\"\n"
	a := run(build(t, text))
	for _, f := range a.Findings {
		if f.HasValue && f.HasLimit {
			assert.Contains(t, strings.Join(f.Assumes, "; "), "side view only: holds", f.ID)
		}
	}
	at := func(mm float64) finding.Status {
		aside := fmt.Sprintf("%.1f mm right", mm)
		f := findingOf(t, run(build(t, text+fmt.Sprintf("[[reading]]\nof = \"line.rear.shaft.1\"\naside = %q\nover = \"1000 mm\"\nplus_minus = \"0.000001 deg\"\n", aside))), "line.rear.joint.1.max")
		return f.Status
	}
	assert.Equal(t, finding.OK, at(36))
	assert.Equal(t, finding.Tight, at(37.2))
	for _, f := range run(build(t, text+"[units]\nsystem = \"inch\"\n")).Findings {
		assert.NotContains(t, strings.Join(f.Assumes, "; "), " mm", f.ID)
	}
}

// A slope typed by itself is a plan of that axis: a reading that contradicts it
// is over, without any points in the file.
func TestTypedSlopeAgainstAReading(t *testing.T) {
	const text = `format = 3
[line.rear.pinion]
slope = "8 deg down to the rear"
[[reading]]
of = "line.rear.pinion"
on = "square face"
shown = "85.4 deg"
lower = "rear"
`
	f := findingOf(t, run(build(t, text)), "line.rear.pinion.agree")
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, (3.4 * geom.Deg).Rad(), f.Value, 1e-9)
	f = findingOf(t, run(build(t, strings.Replace(text, "8 deg", "4.6 deg", 1))), "line.rear.pinion.agree")
	assert.Equal(t, finding.OK, f.Status)
}

// A reading that cannot be used hides the plan, with one reason and one basis,
// for everything that rests on it.
func TestUnusableReadingSaysTheSameEverywhere(t *testing.T) {
	text := example.TwoEnds + strings.Replace(example.ReadAtRest, "shown = \"1 deg\"\nlower = \"rear\"\n", "shown = \"1 deg\"\n", 1)
	a := run(build(t, text))
	for _, id := range []string{"line.rear.joint.1.max", "line.rear.joint.1.speed", "line.rear.shaft.1.mismatch", "line.rear.residual",
		"line.rear.shaft.1.inertia.drive", "line.rear.shaft.1.inertia.coast"} {
		f := findingOf(t, a, id)
		assert.Equal(t, finding.NotKnown, f.Status, id)
		assert.Equal(t, finding.Read, f.Basis, id)
		assert.Equal(t, "the reading of the powertrain has no direction; which end is lower, front or rear? (reading.1.lower)", f.Missing, id)
	}
	assert.True(t, a.Lines[0].Read.Unusable)
}

// With several lines every finding on a reading names its line.
func TestFindingsNameTheirLine(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[line.front]\ntoward = \"front\"\n"
	titles := map[string]string{}
	for _, f := range run(build(t, text)).Findings {
		if other, ok := titles[f.Title]; ok {
			t.Errorf("%s and %s are both called %q", other, f.ID, f.Title)
		}
		titles[f.Title] = f.ID
		name := strings.Split(f.ID, ".")[1]
		assert.Contains(t, f.Title, name, f.ID)
	}
}

// Joints that cancel as read leave no residual, and its ± is not nothing: it
// grows whichever way a slope is wrong.
func TestResidualOfNothingHasItsUncertainty(t *testing.T) {
	text := strings.Replace(example.Three("rear", "rear", "rear"), "85.2 deg", "85.6 deg", 1) + "[line.rear]\nspeed = \"3000 rpm\"\n"
	m := run(build(t, text)).Lines[0].Read.Residual
	require.True(t, m.Known)
	assert.InDelta(t, 0, m.V, 1e-6)
	w, b := 3000*rpm, (2 * geom.Deg).Rad()
	// residual = w²·|b2² - b1²|, both 2°: 2b for either end's reading; the
	// shaft's own drops out, up to the step it is worked out with.
	want := w * w * 2 * b * math.Sqrt2 * (0.1 * geom.Deg).Rad() / math.Sqrt(3)
	between(t, want, m.U(), 0.1)
}

// A direction read by tape is held against the model like a slope, and no other
// reading of the line says that it agrees beside one that does not: 60 mm
// over a metre is 3.4 degrees.
func TestTapeIsHeldAgainstThePlan(t *testing.T) {
	atHalf := strings.Replace(example.ReadAtRest, "plan_gap = \"5 deg\"", "plan_gap = \"0.5 deg\"", 1)
	tape := func(side string) tried {
		return run(build(t, example.TwoEnds+atHalf+fmt.Sprintf("[[reading]]\nof = \"line.rear.shaft.1\"\naside = \"60 mm %s\"\nover = \"1000 mm\"\n", side)))
	}
	f := findingOf(t, tape("right"), "line.rear.shaft.1.agree.above")
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, deg(math.Atan2(60, 1000)), deg(f.Value), 1e-9, "the model has it straight")
	assert.Contains(t, f.Advice(), "which side")
	for _, id := range []string{"line.rear.powertrain.agree", "line.rear.shaft.1.agree", "line.rear.pinion.agree"} {
		assert.NotContains(t, findingOf(t, tape("right"), id).Advice(), "and the model agree", id)
	}
	straight := run(build(t, example.TwoEnds+atHalf+"[[reading]]\nof = \"line.rear.shaft.1\"\naside = \"1 mm left\"\nover = \"1000 mm\"\n"))
	assert.Equal(t, finding.OK, findingOf(t, straight, "line.rear.shaft.1.agree.above").Status)
}

func TestReadingThatContradictsTheModelIsNamed(t *testing.T) {
	a := run(build(t, example.TwoEnds+"[[reading]]\n"+"of = \"line.rear.pinion\"\non = \"along\"\nshown = \"3 deg\"\nlower = \"front\"\n"))
	f := findingOf(t, a, "line.rear.pinion.agree")
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, 6, deg(f.Value), 1e-9)
	assert.Contains(t, f.Advice(), "contradicts")
}
