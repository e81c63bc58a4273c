package assess

import (
	"fitup/internal/assess/finding"
	"fitup/internal/project/example"
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/edit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func taken(of, on, shown, lower, more string) string {
	return fmt.Sprintf("[[reading]]\nof = %q\non = %q\nshown = %q\nlower = %q\n%s\n", of, on, shown, lower, more)
}

// The classic slip: 85.6 lower at the rear, then 85.2 lower at the front, 9.2°
// apart. Their mean is level, and nothing that rests on it may be judged.
func TestReadingsThatCannotBothBeTrue(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[line.rear]\nspeed = \"3000 rpm\"\n" + taken("powertrain", "square face", "85.2 deg", "front", "")
	a := Run(build(t, text))
	for _, id := range []string{"line.rear.powertrain.read", "line.rear.joint.1.max", "line.rear.joint.1.min", "line.rear.joint.1.speed",
		"line.rear.shaft.1.mismatch", "line.rear.residual", "line.rear.shaft.1.inertia.drive", "line.rear.shaft.1.inertia.coast"} {
		f := findingOf(t, a, id)
		assert.Equal(t, NotKnown, f.Status, id)
		assert.Equal(t, Read, f.Basis, id)
		for _, want := range []string{"reading 1", "85.60°", "lower at the rear", "reading 4", "85.20°", "lower at the front", "9.20°", "wrong way round"} {
			assert.Contains(t, f.Missing, want, id)
		}
	}
	assert.Equal(t, OK, findingOf(t, a, "line.rear.joint.2.max").Status)
	assert.True(t, a.Lines[0].Axes[0].Clash)
	assert.ElementsMatch(t, []int{0, 3}, a.Lines[0].Axes[0].Set)
}

// A gauge good for 0.1° each way: two readings 0.27° apart and more contradict,
// 0.17° and more ask for a third, which settles it.
func TestTwoReadingsAndAThird(t *testing.T) {
	with := func(shown ...string) Finding {
		text := example.Three("rear", "rear", "rear")
		for _, s := range shown {
			text += taken("powertrain", "square face", s, "rear", "")
		}
		return findingOf(t, Run(build(t, text)), "line.rear.powertrain.read")
	}
	assert.Equal(t, OK, with("85.5 deg").Status)
	doubtful := with("85.4 deg")
	assert.Equal(t, Tight, doubtful.Status)
	assert.Contains(t, doubtful.Advice(), "take a third")
	apart := with("85.3 deg")
	assert.Equal(t, NotKnown, apart.Status)
	assert.Contains(t, apart.Missing, "face")
	assert.Equal(t, OK, with("85.4 deg", "85.5 deg").Status)
	one := with("85.3 deg", "85.6 deg")
	assert.Equal(t, NotKnown, one.Status, "two stand together and one apart")
	assert.Contains(t, one.Missing, "85.30°")
}

// A reading that was taken of another axis is told by what that axis reads.
func TestReadingOfTheWrongAxisIsNamed(t *testing.T) {
	f := findingOf(t, Run(build(t, example.Three("rear", "rear", "rear")+taken("powertrain", "along", "2.4 deg", "rear", ""))), "line.rear.powertrain.read")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "taken of shaft 1")
}

// Two readings 0.2° apart show more than one does: their mean is good for the
// gauge's accuracy and half of that 0.2°, and all that rests on it knows.
func TestScatterReachesEverything(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[line.rear]\nspeed = \"3000 rpm\"\n"
	calm := Run(build(t, text)).Lines[0]
	a := Run(build(t, text+taken("powertrain", "square face", "85.4 deg", "rear", "")))
	l := a.Lines[0]
	one := 0.1 / math.Sqrt(3)
	u := one + 0.1/2 // and so is a single reading by that gauge
	assert.InDelta(t, 4.5, deg(l.Axes[0].Read.V), 1e-9)
	assert.InDelta(t, u, deg(l.Axes[0].Read.U()), 1e-9)
	assert.InDelta(t, math.Hypot(u, u), deg(l.Joints[0].Read.U()), 1e-5)
	assert.InDelta(t, math.Hypot(u, u), deg(l.Shafts[0].MismatchRead.U()), 1e-5)
	assert.Greater(t, l.Read.Residual.U(), 1.1*calm.Read.Residual.U())
	for i := range l.Read.Drive {
		assert.Greater(t, l.Read.Drive[i].U(), 1.1*calm.Read.Drive[i].U())
		assert.Positive(t, calm.Read.Coast[i].U())
	}
	for _, f := range a.Findings {
		if from := f.Largest(); f.ID == finding.ShaftMismatch("rear", 1) || f.ID == finding.Residual("rear") || f.ID == finding.JointMax("rear", 1) {
			require.NotEmpty(t, from, f.ID)
			assert.Contains(t, from[0].Label, "reading", f.ID)
		}
	}
}

// A frame reading that cannot be used is not taken as level.
func TestFrameReadingThatCannotBeUsed(t *testing.T) {
	a := Run(build(t, example.Three("rear", "rear", "rear")+"[[reading]]\nof = \"frame\"\non = \"along\"\nshown = \"1 deg\"\n"))
	f := findingOf(t, a, "line.rear.joint.1.max")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "the frame has no direction")
}

func raise(t *testing.T, f *project.File, mm float64) *project.File {
	t.Helper()
	edits, err := edit.MoveRow(f, 2, f.Build.Placement.Rear.V()+mm)
	require.NoError(t, err)
	edits, err = edit.WithPlaces(f, edits)
	require.NoError(t, err)
	g, err := edit.Apply(f, edits...)
	require.NoError(t, err)
	return g
}

// After a move nothing is read or proved any more, in any finding; back at the
// old place it is again. The ± is the gauge's and that of the measured move.
func TestMovedReadingIsPlannedEverywhere(t *testing.T) {
	f, err := project.Parse("test.toml", []byte(example.TwoEnds+example.ReadAtRest))
	require.NoError(t, err)
	ids := []string{"line.rear.joint.1.max", "line.rear.joint.1.min", "line.rear.joint.1.speed", "line.rear.joint.2.max",
		"line.rear.shaft.1.mismatch", "line.rear.residual", "line.rear.shaft.1.inertia.drive", "line.rear.powertrain.read", "line.rear.shaft.1.read"}
	before := Run(f.Build)
	for _, id := range ids {
		assert.Equal(t, Proved, findingOf(t, before, id).Basis, id)
	}
	up := raise(t, f, 10)
	a := Run(up.Build)
	for _, id := range ids {
		g := findingOf(t, a, id)
		assert.Equal(t, Planned, g.Basis, id)
		assert.True(t, g.Moved, id)
		assert.Contains(t, strings.ToLower(g.Advice()), "read again", id)
	}
	assert.Equal(t, Proved, findingOf(t, a, "line.rear.pinion.read").Basis)
	x := a.Lines[0].Axes[0]
	// the rear pad is 1250 mm behind the front ones: 1 mm is 1/1250 of a turn
	assert.InDelta(t, math.Hypot(0.1*math.Pi/180, 1/1250.)/math.Sqrt(3), x.Read.U(), 1e-7)
	assert.Contains(t, findingOf(t, a, "line.rear.powertrain.read").Advice(), "rear mount at 0.0 mm, planned at 10.0 mm")

	back := Run(raise(t, up, -10).Build)
	for _, id := range ids {
		g := findingOf(t, back, id)
		assert.Equal(t, Proved, g.Basis, id)
		assert.False(t, g.Moved, id)
	}
}

// Readings first, geometry later, then a nudge: the place that the powertrain
// leaves is written to the readings that have none.
func TestMoveStampsReadingsWithoutAPlace(t *testing.T) {
	text := example.TwoEnds + strings.ReplaceAll(example.ReadAtRest, "placed = { left_front = 0, right_front = 0, rear = 0, setback = 0 }\n", "")
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	assert.Equal(t, Proved, findingOf(t, Run(f.Build), "line.rear.powertrain.read").Basis)
	g := raise(t, f, 40)
	_, ok := g.Build.Readings[2].Placed.Seat()
	assert.False(t, ok, "the pinion stays where it is")
	for i := range 2 {
		then, ok := g.Build.Readings[i].Placed.Seat()
		require.True(t, ok)
		assert.Zero(t, then.Rear)
	}
	a := Run(g.Build)
	assert.Equal(t, Planned, findingOf(t, a, "line.rear.powertrain.read").Basis)
	assert.InDelta(t, deg(a.Lines[0].Axes[0].Planned.V)+1, deg(a.Lines[0].Axes[0].Read.V), 1e-9)
	// what a step would do follows the reading, before anything is written
	e := Run(f.Build).Effects("line.rear.joint.1.max", Step{Length: 40, Angle: 0.1})[2]
	assert.InDelta(t, findingOf(t, a, "line.rear.joint.1.max").Value-findingOf(t, Run(f.Build), "line.rear.joint.1.max").Value, e.Change.V, 1e-9)
}

// A move that the model cannot follow leaves nothing to judge by.
func TestMoveWithoutAModel(t *testing.T) {
	text := strings.Replace(example.TwoEnds+example.ReadAtRest, "rear = [1250, 0, 0]\n[placement]", "[placement]", 1)
	text = strings.Replace(text, "rear = 0\nsetback = 0\n[line", "rear = 4\nsetback = 0\n[line", 1)
	f := findingOf(t, Run(build(t, text)), "line.rear.joint.1.max")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "moved since")
}

// No message has an empty slot, whatever is missing.
func TestNoEmptySlots(t *testing.T) {
	for _, text := range []string{
		"format = 1\n[line.rear]\nspeed = \"3000 rpm\"\n",
		"format = 1\n[line.rear.pinion]\n[powertrain]\nredline = \"5000 rpm\"\n",
		"format = 1\n[line.rear.first]\nslope = \"1 deg down to the rear\"\n[line.rear]\nspeed = \"3000 rpm\"\n",
		example.Three("rear", "rear", "") + "[line.rear]\nspeed = \"3000 rpm\"\n",
		example.TwoEnds + "[line.rear]\nspeed = \"3000 rpm\"\n",
	} {
		for _, f := range Run(build(t, text)).Findings {
			for _, bad := range []string{": ;", ": .", "; .", "yet: ;", ":  ", "plan: ."} {
				assert.NotContains(t, f.Advice(), bad, f.ID)
			}
			if f.Status == NotKnown {
				assert.NotEmpty(t, f.Missing, f.ID)
			}
		}
	}
}

// A line that does not hang on the powertrain is judged by readings alone.
func TestOwnOutputByReadingsAlone(t *testing.T) {
	text := strings.ReplaceAll(example.Three("rear", "rear", "rear"), `"powertrain"`, `"line.rear.first"`)
	a := Run(build(t, text))
	assert.InDelta(t, 2, deg(findingOf(t, a, "line.rear.joint.1.max").Value), 1e-9)
	assert.Equal(t, OK, findingOf(t, a, "line.rear.first.read").Status)
	assert.Contains(t, build(t, "format = 1\n[line.rear.pinion]\n").Targets(), "line.rear.first")
}

// One axis near the plan is no agreement while another of the line is not; a
// move is not put down to the gauge.
func TestAgreementOfALineIsOfAllItsAxes(t *testing.T) {
	text := example.TwoEnds + strings.Replace(example.ReadAtRest, "plan_gap = \"5 deg\"", "plan_gap = \"1.5 deg\"", 1)
	a := Run(build(t, text)) // powertrain is planned level and reads 1°, the shaft planned level reads 2°
	assert.Equal(t, Over, findingOf(t, a, "line.rear.shaft.1.agree").Status)
	ok := findingOf(t, a, "line.rear.powertrain.agree")
	assert.Equal(t, OK, ok.Status)
	assert.NotContains(t, ok.Advice(), "agree")
	assert.Contains(t, ok.Advice(), "that of the shaft is not")

	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	moved := findingOf(t, Run(raise(t, f, 40).Build), "line.rear.shaft.1.agree")
	assert.Equal(t, Over, moved.Status)
	assert.NotContains(t, moved.Advice(), "which end was lower")
}

// A pinion read with the axle hanging: with trailing arms the pinion turns by
// the whole angle of the arms, asin(drop/length) in side view.
func TestPinionReadInDroop(t *testing.T) {
	text := example.TwoEnds + example.ReadAtRest + `
[line.rear.suspension]
kind = "trailing arms"
bump = 80
droop = 100
axle = [2700, 0, 0]
[[line.rear.suspension.pivot]]
at = [1700, 0, 0]
`
	text = strings.Replace(text, "shown = \"3 deg\"\nlower = \"rear\"\nafter = \"tacked\"\n", "shown = \"3 deg\"\nlower = \"rear\"\nafter = \"tacked\"\nstood = \"frame on stands\"\n", 1)
	a := Run(build(t, text))
	x := a.Lines[0].Axes[2]
	turned := deg(math.Asin(100. / 1000))
	assert.InDelta(t, turned, math.Abs(deg(x.Read.V)-3), 1e-6)
	assert.InDelta(t, 3, deg(x.Raw.V), 1e-9)
	f := findingOf(t, a, "line.rear.joint.2.max")
	assert.Equal(t, Planned, f.Basis)
	assert.Contains(t, strings.Join(f.Assumes, "; "), "travel model")
	for _, id := range []string{"joint.2.max", "joint.2.min", "shaft.1.mismatch", "equivalent"} {
		assert.NotContains(t, strings.Join(findingOf(t, a, "line.rear."+id).Assumes, "; "), "as built", "%s was read, and is not the plan's", id)
	}
	assert.Contains(t, strings.Join(findingOf(t, a, "line.rear.travel.joint.2.max").Assumes, "; "), "as built")
	// nose ahead of the axle: in droop it has turned nose up, so at ride height
	// it is less so
	assert.Less(t, deg(x.Read.V), 3.0)

	none := findingOf(t, Run(build(t, strings.Split(text, "[line.rear.suspension]")[0])), "line.rear.joint.2.max")
	assert.Equal(t, NotKnown, none.Status)
	assert.Contains(t, none.Missing, "on its wheels")

	wheels := Run(build(t, strings.Replace(text, "frame on stands", "axle on stands", 1)))
	assert.InDelta(t, 3, deg(wheels.Lines[0].Axes[2].Read.V), 1e-9)
	assert.Equal(t, Proved, findingOf(t, wheels, "line.rear.joint.2.max").Basis)
}

// A frame read at one stand says nothing about another.
func TestFrameReadAtAnotherStand(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + taken("frame", "along", "0.5 deg", "rear", `stood = "frame on stands"`)
	f := findingOf(t, Run(build(t, text)), "line.rear.joint.1.max")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "standing otherwise")
}

// The plan of what was read can be watched and nudged, and is not counted.
func TestPlanIsWatchableBesideReadings(t *testing.T) {
	f, err := project.Parse("test.toml", []byte(example.TwoEnds+example.ReadAtRest))
	require.NoError(t, err)
	a := Run(f.Build)
	id := "line.rear.joint.1.max.planned"
	assert.Contains(t, a.Watchable(), id)
	p := findingOf(t, a, id)
	assert.Equal(t, Planned, p.Basis)
	assert.InDelta(t, 0, deg(p.Value), 1e-9)
	e, ok := a.Effects(id, Step{Length: 10, Angle: 0.1})[2]
	require.True(t, ok)
	assert.InDelta(t, deg(findingOf(t, Run(raise(t, f, 10).Build), id).Value), deg(e.Change.V), 1e-9)
	for _, g := range a.Findings {
		assert.NotEqual(t, id, g.ID)
	}
	_, ok = Run(build(t, example.TwoEnds)).Finding(id)
	assert.False(t, ok, "without a reading the plan is the verdict")
}

func BenchmarkReadingsAloneAtSpeed(b *testing.B) {
	built := build(b, example.Three("rear", "rear", "rear")+"[line.rear]\nspeed = \"3000 rpm\"\n")
	for b.Loop() {
		Run(built)
	}
}
