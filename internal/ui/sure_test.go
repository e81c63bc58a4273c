package ui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A ± that is typed with a value stands in the file; the next value drops it and
// says so, and undo brings it back. The lift has no key to keep one with.
func TestTypedBoundGoesWithItsValue(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("down", "down", "enter", "text:-288 mm ± 1", "enter")
	assert.Empty(t, d.m.dialogs)
	assert.Equal(t, `"-288 mm ± 1"`, d.raw("placement.rear"))
	d.keys("right")
	assert.Equal(t, `"-287.5 mm"`, d.raw("placement.rear"))
	assert.Contains(t, d.screen(), "the ± was of the old value")
	d.keys("right")
	assert.NotContains(t, d.screen(), "the ± was of the old value", "it has none now")
	d.keys("u", "u")
	assert.Equal(t, `"-288 mm ± 1"`, d.raw("placement.rear"))
	d.keys("down", "enter", "text:5 ± 1", "enter")
	assert.NotEmpty(t, d.m.dialogs)
	assert.Contains(t, d.screen(), "no ± is taken here")
}

// A ± has its plain spelling where the terminal has no other.
func TestBoundInPlainSigns(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, starter.Demo(), 0o644))
	d := driveLook(t, path, 120, 36, "plain", theme.ASCII())
	for _, keys := range [][]string{{"down", "down", "enter", "text:-288 mm +- 0"}, {"backspace", "text:1", "enter"}, {"right"},
		{"3", "n", "up", "right", "down", "down", "down", "down", "down", "down", "right"}} {
		d.keys(keys...)
		screen := d.screen()
		assert.Contains(t, screen, "+/-")
		assert.NotContains(t, strings.ReplaceAll(screen, "Its ±", ""), "±")
	}
}

// A tool that was never said is not assumed. One that is chosen comes into the file
// with its usual figures and the word that they are, in the step of what was measured,
// and is offered from then on.
func TestMeasuredWith(t *testing.T) {
	t.Parallel()
	tape := []string{"n", "up", "right", "right", "down", "text:4 ± 1", "enter", "text:1000"}
	d := drive(t, []byte(readingsOnly), 120, 36).keys("3", "down").keys(tape...).keys("enter")
	require.Empty(t, d.m.dialogs, d.screen())
	assert.Equal(t, `"4 ± 1 right"`, d.raw("reading[3].aside"))
	assert.NotContains(t, d.bytes(), "tool", "nothing was chosen")
	d.keys("u")

	d.keys(tape...).keys("down", "down", "down", "u")
	for d.m.dialogs[0].(*reading).with.value() != "tool.tape" {
		d.keys("right")
	}
	assert.Contains(t, d.screen(), "usual steel tape, ± 0.5 mm + 0.2 mm/m")
	assert.Contains(t, d.screen(), "Assumed, with repeats within 1 mm: common practice")
	d.keys("enter")
	require.Empty(t, d.m.dialogs, d.screen())
	assert.Equal(t, `"tool.tape"`, d.raw("reading[3].with"))
	assert.Equal(t, `"common practice, no source"`, d.raw("tool.tape.source"))
	assert.Equal(t, `"0.5 mm"`, d.raw("tool.tape.accuracy"))
	assert.Equal(t, `"0.2 mm"`, d.raw("tool.tape.per_metre"))

	d.keys("5", "m", "text:diagonal", "down")
	assert.Contains(t, d.screen(), "my tape", "asked once")
	d.keys("down", "down", "text:4212; 4213", "enter")
	require.Empty(t, d.m.dialogs, d.screen())
	assert.Equal(t, `"tool.tape"`, d.raw("measure[0].with"))
	d.keys("u", "u")
	assert.NotContains(t, d.bytes(), "tool", "one step took both")
}

// On a square face the marked end points up or down, and the face looks somewhere.
func TestGaugeOnASquareFace(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(readingsOnly), 120, 36).keys("3", "down", "down", "n", "text:85.2", "down", "r", "down", "right")
	assert.Contains(t, d.screen(), "end up, on a face that looks to the rear")
	d.keys("right", "right", "right", "enter")
	require.Empty(t, d.m.dialogs, d.screen())
	assert.Equal(t, `"down"`, d.raw("reading[3].gauge_end"))
	assert.Equal(t, `"front"`, d.raw("reading[3].face"))
	sense, known := d.m.now.Build.Readings[3].ZeroSense()
	assert.True(t, known && sense == -1)
}

// Where a ± is mostly what the gauge is good for, the list of findings says that the same
// face again does not help and another one does; and it says what one reading takes for
// granted.
func TestAnotherFaceIsTheRepeatThatHelps(t *testing.T) {
	t.Parallel()
	said := func(d *driver) string {
		return strings.Join(strings.Fields(strings.NewReplacer("┃", "", "│", "").Replace(d.screen())), " ")
	}
	once := said(demo(t, 120, 36).keys("f"))
	assert.Contains(t, once, "only reading another face helps")
	assert.Contains(t, once, "the gauge taken to repeat within")
	stated := strings.Replace(string(starter.Demo()), "[gauge]\n", "[gauge]\nrepeat = \"0.6 deg\"\n", 1)
	require.NotEqual(t, string(starter.Demo()), stated)
	scattered := said(drive(t, []byte(stated), 120, 36).keys("f"))
	assert.NotContains(t, scattered, "only reading another face helps", "its readings scatter by more than that")
	assert.NotContains(t, scattered, "the gauge taken to repeat within", "which is stated")
}
