package edit

import (
	"math"
	"testing"
	"time"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const bounded = `format = 3
[vehicle]
wheelbase = "3300 mm ± 2"       # by tape
front_track = "1480"
[powertrain]
cylinders = 6
[powertrain.pads]
left_front = [0, -250, -60]
right_front = [0, 250, -60]
rear = [1250, 0, -110]
[placement]
left_front = "52 ± 1"
right_front = 52
rear = -95.9
setback = 140
[line.rear.pinion]
at = ["3010 mm ± 2", 0, -52]
slope = "4.8 deg ± 0.2 down to the rear"
`

// Another value drops the ± of the old one and says so; one that is typed with
// its ± keeps it, the same value keeps the old one, and undo brings it back.
func TestBoundGoesWithItsValue(t *testing.T) {
	f := parse(t, bounded)
	half, stated := f.Build.Lines[0].Pinion.Slope.HalfWidth()
	require.True(t, stated)
	assert.InDelta(t, 0.2*math.Pi/180, half, 1e-12)
	assert.Equal(t, 2.0, f.Build.Lines[0].Pinion.At.Half.X)
	assert.Zero(t, f.Build.Lines[0].Pinion.At.Half.Y, "nothing is claimed of it")

	for _, c := range []struct {
		path, typed, want string
		dropped           bool
	}{
		{"line.rear.pinion.slope", "5 deg down to the rear", `"5 deg down to the rear"`, true},
		{"line.rear.pinion.slope", "5 deg ± 0.1 down to the rear", `"5 deg ± 0.1 down to the rear"`, false},
		{"line.rear.pinion.at[0]", "3012", `"3012 mm"`, true},
		{"line.rear.pinion.at[0]", "3012 ± 3", `"3012 ± 3"`, false},
		{"line.rear.pinion.at[1]", "4+-1", `"4+-1"`, false},
		{"line.rear.pinion.at", "3012, 0, -52", `[3012, 0, -52]`, true},
		{"vehicle.wheelbase", "3301", `"3301 mm"`, true},
		{"vehicle.wheelbase", "3300", `"3300 mm ± 2"`, false},
		{"vehicle.front_track", "1490 ± 5", `"1490 ± 5"`, false},
	} {
		e, err := SetText(f, c.path, c.typed)
		require.NoError(t, err, "%s = %s", c.path, c.typed)
		assert.Equal(t, c.want, e.Text, "%s = %s", c.path, c.typed)
		assert.Equal(t, c.dropped, len(BoundsDropped(f, []Edit{e})) > 0, "%s = %s", c.path, c.typed)
		next, err := Apply(f, e)
		require.NoError(t, err)
		back, err := Apply(next, Splice(next, f))
		require.NoError(t, err)
		assert.Equal(t, string(f.Bytes()), string(back.Bytes()))
	}
	for path, typed := range map[string]string{"powertrain.cylinders": "6 ± 1", "limits.joint_max": "3 deg ± 1"} {
		e, err := SetText(f, path, typed)
		if err == nil {
			_, err = Apply(f, e)
		}
		assert.ErrorContains(t, err, "±", path)
	}
	_, err := SetText(f, "vehicle.wheelbase", "3300 ± 0")
	assert.ErrorContains(t, err, "no value is exact")

	edits, err := MoveRow(f, 0, 60)
	require.NoError(t, err)
	assert.Equal(t, []string{"placement.left_front"}, BoundsDropped(f, edits))
}

// A number in quotes without a unit is in the file's units like a bare one, and
// keeps its size when those change.
func TestQuotedNumbersKeepTheirSizeInOtherUnits(t *testing.T) {
	f := parse(t, bounded)
	edits, err := SetUnits(f, "inch")
	require.NoError(t, err)
	next, err := Apply(f, edits...)
	require.NoError(t, err)
	assert.InDelta(t, 1480, next.Build.Vehicle.FrontTrack.V(), 1e-9)
	assert.InDelta(t, 52, next.Build.Placement.LeftFront.V(), 1e-9)
	half, _ := next.Build.Placement.LeftFront.HalfWidth()
	assert.InDelta(t, 1, half, 1e-9)
	raw, _ := next.Raw("placement.left_front")
	assert.Equal(t, `"52 mm ± 1"`, raw)
}

// What a person types of a reading may carry its ±.
func TestTypedReadingKeepsItsBound(t *testing.T) {
	f := parse(t, bounded)
	for _, c := range []struct {
		r    TypedReading
		want float64
	}{
		{TypedReading{Of: "line.rear.pinion", On: project.SquareFace, Shown: "85.2 ± 0.2", Lower: project.RearEnd, GaugeEnd: project.MarkedUp, Face: project.RearEnd}, 0.2 * math.Pi / 180},
		{TypedReading{Of: "line.rear.pinion", Aside: "4 mm ± 1 right", Over: "1000"}, 1e3 / (1e6 + 16)},
	} {
		e, err := AddReading(f, c.r, time.Time{})
		require.NoError(t, err)
		next, err := Apply(f, e)
		require.NoError(t, err)
		got, known := next.Build.Readings[0].PlusMinus.Get()
		assert.True(t, known)
		assert.InDelta(t, c.want, got, 1e-9)
	}
}

const measured = `format = 3
[tool.tape]
accuracy = 1
[point.eye]
from = "rails.left.top"
station = 1200
offset = [3, 4]
height = "-20 ± 1"
with = "tool.tape"
[rails.left]
points = [[0, -380, 0], [4000, -380, 0]]
[line.rear.pinion]
at = "point.eye"
[[measure]]
of = "diagonal"
with = "tape"
lengths = [4212]
`

// Points and tools are typed by name, where one is wanted, and repeats with
// semicolons between them.
func TestTypedByName(t *testing.T) {
	f := parse(t, measured)
	assert.Equal(t, []string{"tape", "plumb", "level", "gauge", "tool.tape"}, f.Choices("measure[0].with"))
	for _, c := range []struct{ path, typed, want string }{
		{"measure[0].with", "tool.tape", `"tool.tape"`},
		{"point.eye.offset", "3; 5 mm", `[3, "5 mm"]`},
		{"point.eye.offset", "4", "4"},
		{"point.eye.offset", "4 ± 1", `"4 ± 1"`},
		{"point.eye.offset[1]", "6", "6"},
		{"line.rear.pinion.at", "3010 ± 2, 0, -52", `["3010 ± 2", 0, -52]`},
		{"line.rear.pinion.at", "point.eye", `"point.eye"`},
	} {
		edits, err := Typed(f, Value{Path: c.path, Text: c.typed})
		require.NoError(t, err, c.typed)
		require.Len(t, edits, 1)
		assert.Equal(t, c.want, edits[0].Text)
		_, err = Apply(f, edits...)
		require.NoError(t, err, c.typed)
	}
	_, err := SetText(f, "line.rear.pinion.at[2]", "-50")
	assert.ErrorContains(t, err, "it is point.eye by its name; change what was measured of that point")
	edits, err := Typed(f, Value{Path: "measure[0].with", Text: "tool.rule"})
	assert.Error(t, err, "%v: there is none", edits)

	edits, err = Rename(f, "point.eye", "front_eye")
	require.NoError(t, err)
	next, err := Apply(f, edits...)
	require.NoError(t, err)
	assert.Equal(t, "point.front_eye", next.Build.Lines[0].Pinion.At.Ref)
	edits, err = Rename(f, "tool.tape", "long_tape")
	require.NoError(t, err)
	next, err = Apply(f, edits...)
	require.NoError(t, err)
	assert.Equal(t, "tool.long_tape", next.Build.Points[0].With)
	assert.Equal(t, project.TapeMeasure, next.Build.Measurements[0].With, "the word is not that tool")
}

func TestBeginTool(t *testing.T) {
	f := parse(t, measured)
	edits, err := BeginTool(f, "tool.rule")
	require.NoError(t, err)
	next, err := Apply(f, edits...)
	require.NoError(t, err)
	rule, ok := next.Build.ToolNamed("tool.rule")
	require.True(t, ok)
	usual, _ := project.CommonToolNamed("rule")
	assert.Equal(t, usual.Tool, rule, "and nothing else")
	_, known := rule.PerMetre.Get()
	assert.False(t, known)
	for _, path := range []string{"tool.stick", "rule", "tool.tool.rule"} {
		_, err := BeginTool(f, path)
		assert.ErrorContains(t, err, "no tool whose figures are usual", path)
	}
}
