package assess

import (
	"fitup/internal/project/example"
	"math"
	"strings"
	"testing"
	"time"

	"fitup/internal/project"
	"fitup/internal/project/edit"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A place that lacks a row still tells a move by the rows it has: with no setback
// in the file, readings taken before a nudge of the rear mount do not stay.
func TestMoveOfAPlaceThatIsNotComplete(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[placement]\nleft_front = 52\nright_front = 52\nrear = -95.9\n"
	f, err := project.Parse("test.toml", []byte(text))
	require.NoError(t, err)
	set := func(f *project.File, path, to string) *project.File {
		e, err := edit.WithPlaces(f, []edit.Edit{{Op: edit.OpSet, Path: path, Text: to}})
		require.NoError(t, err)
		next, err := edit.Apply(f, e...)
		require.NoError(t, err)
		return next
	}
	status := func(f *project.File) (Status, string) {
		x := findingOf(t, Run(f.Build), "line.rear.joint.1.max")
		return x.Status, x.Missing
	}
	moved := set(f, "placement.rear", "-60")
	s, why := status(moved)
	assert.Equal(t, NotKnown, s, "36 mm at the rear is more than a degree")
	assert.Contains(t, why, "moved since")
	back := set(moved, "placement.rear", "-95.9")
	s, _ = status(back)
	assert.Equal(t, OK, s, "back where it hung the reading counts again")

	// What was not known before is no move, and is one when it changes.
	whole := set(back, "placement.setback", "140")
	s, _ = status(whole)
	assert.Equal(t, OK, s)
	s, _ = status(set(whole, "placement.setback", "150"))
	assert.Equal(t, NotKnown, s)
	s, _ = status(set(whole, "placement.rear", "-60"))
	assert.Equal(t, NotKnown, s)

	day, err := edit.AddReading(f, edit.TypedReading{Of: "powertrain", On: "along", Shown: "4.4 deg", Lower: "rear"}, time.Time{})
	require.NoError(t, err)
	read, err := edit.Apply(f, day)
	require.NoError(t, err)
	s, _ = status(set(read, "placement.rear", "-60"))
	assert.Equal(t, NotKnown, s)
}

// A move stamps the place it leaves on a reading across as on any other: the
// number is then the old reading and the modelled change, and without a model
// nothing is known.
func TestReadingAcrossIsMovedWithThePowertrain(t *testing.T) {
	text := `format = 3
[powertrain]
layout = "transaxle"
[powertrain.pads]
left_front = [0, -250, -60]
right_front = [0, 250, -60]
rear = [600, 0, -110]
[placement]
left_front = 52
right_front = 52
rear = 0
setback = 140
` + taken("powertrain", "along", "0.2 deg", "left", "")
	after := func(text string) *Assessment {
		f, err := project.Parse("test.toml", []byte(text))
		require.NoError(t, err)
		e, err := edit.WithPlaces(f, []edit.Edit{{Op: edit.OpSet, Path: "placement.left_front", Text: "80"}})
		require.NoError(t, err)
		next, err := edit.Apply(f, e...)
		require.NoError(t, err)
		return Run(next.Build)
	}
	f := findingOf(t, after(text), "powertrain.across.read")
	assert.True(t, f.Moved)
	assert.Equal(t, Planned, f.Basis)
	assert.Equal(t, []string{"the vehicle level from side to side", "the gauge taken to repeat within its accuracy"}, f.Assumes)
	// the left pad rises 28 over a width of 500: asin, by the pads' own distance
	assert.InDelta(t, deg(math.Asin(28./500))-0.2, deg(f.Value), 0.01)
	assert.InDelta(t, 0.2, deg(findingOf(t, after(text), "powertrain.across.agree").Value), 0.01)

	f = findingOf(t, after(strings.Replace(text, "setback = 140\n", "", 1)), "powertrain.across.read")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "moved since")
}

// An axle lifted on stands pitches the frame: what is read then is set against
// what was read on the wheels only with the frame read each way, or with a word.
func TestReadingsAtStandsThatSlopeOtherwise(t *testing.T) {
	text := strings.Replace(example.Three("rear", "rear", "rear"), "of = \"line.rear.pinion\"\n", "of = \"line.rear.pinion\"\nstood = \"axle on stands\"\n", 1)
	require.Contains(t, text, "axle on stands")
	alike := "slope alike as it stood (on its wheels, axle on stands)"
	for id, said := range map[string]bool{"line.rear.joint.2.max": true, "line.rear.shaft.1.mismatch": true, "line.rear.equivalent": true, "line.rear.joint.1.max": false} {
		f := findingOf(t, Run(build(t, text)), id)
		assert.Equal(t, said, strings.Contains(strings.Join(f.Assumes, "; "), alike), id)
	}
	half := text + taken("frame", "along", "0.5 deg", "rear", "")
	f := findingOf(t, Run(build(t, half)), "line.rear.joint.2.max")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "axle on stands")
	both := Run(build(t, half+taken("frame", "along", "3 deg", "front", `stood = "axle on stands"`)))
	f = findingOf(t, both, "line.rear.joint.2.max")
	assert.NotContains(t, strings.Join(f.Assumes, "; "), "slope alike")
	assert.InDelta(t, 2.4+3.5, deg(f.Value), 1e-9, "the pinion at 4.8+3 of the frame, the shaft at 2.4-0.5")
}

// The values have where the powertrain hung only of readings that say so.
func TestPlacesOfReadingsAreTheFiles(t *testing.T) {
	a := Run(build(t, example.TwoEnds+strings.Replace(example.ReadAtRest, "placed = { left_front = 0, right_front = 0, rear = 0, setback = 0 }\n", "", 1)))
	names := map[string]bool{}
	for _, v := range a.Values() {
		names[v.Name] = true
	}
	assert.False(t, names["reading.1.placed.rear"])
	assert.True(t, names["reading.2.placed.rear"])
}
