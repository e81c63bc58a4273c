package ui

import (
	"math"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// slope is the slope read of an axis of the first line, in degrees down to the
// rear.
func (d *driver) slope(axis int) (float64, bool) {
	m := d.m.now.Lines[0].Axes[axis].Read
	return m.V * 180 / math.Pi, m.Known
}

const newReadings = `

[[reading]]
of = "powertrain"
on = "square face"
shown = "85.6 deg"
lower = "rear"
after = "hung"
taken = 2026-05-14
`

// A square face shows what is left to 90 degrees: 90 - 85.6 = 4.4.
func TestReadingOfASquareFace(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("n")
	assert.Contains(t, d.screen(), "type what the gauge shows")
	d.keys("text:85.6", "down", "r")
	assert.Contains(t, d.screen(), "= 4.40° down to the rear")
	d.keys("enter")
	require.Empty(t, d.m.dialogs, d.screen())
	v, ok := d.slope(0)
	require.True(t, ok)
	assert.InDelta(t, 4.4, v, 1e-9)
	d.keys("s")
	assert.Contains(t, d.file(), newReadings)
}

func TestReadingToTheFrontIsUpToTheRear(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("n", "text:85.6", "down", "f")
	assert.Contains(t, d.screen(), "= 4.40° up to the rear")
	d.keys("enter")
	v, ok := d.slope(0)
	require.True(t, ok)
	assert.InDelta(t, -4.4, v, 1e-9)
}

func TestReadingAlongTheAxis(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("3", "down", "n", "text:2.4", "down", "right", "right", "enter")
	require.Empty(t, d.m.dialogs, d.screen())
	v, ok := d.slope(1)
	require.True(t, ok)
	assert.InDelta(t, 2.4, v, 1e-9)
}

// A reading without a direction is no slope: the form asks, and takes it only
// when one is chosen, or that nobody is sure.
func TestReadingWithoutDirectionAsks(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("n", "text:85.6", "enter")
	require.Len(t, d.m.dialogs, 1)
	assert.Contains(t, d.screen(), "Which end is lower, front or rear?")
	same(t, string(starter.New()), d.bytes())
	d.keys("enter")
	require.Len(t, d.m.dialogs, 1, "it keeps asking")
	d.keys("r", "enter")
	require.Empty(t, d.m.dialogs)
	v, ok := d.slope(0)
	require.True(t, ok)
	assert.InDelta(t, 4.4, v, 1e-9)
}

func TestReadingNotSureIsKeptAndNotKnown(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 120, 36).keys("n", "text:85.6", "enter", "n", "enter")
	require.Empty(t, d.m.dialogs, d.screen())
	assert.Contains(t, d.bytes(), `shown = "85.6 deg"`)
	assert.NotContains(t, d.bytes()[len(starter.New()):], "lower =")
	assert.Equal(t, assess.NotKnown, d.verdict("line.rear.powertrain.read"))
	f, _ := d.m.now.Finding("line.rear.powertrain.read")
	assert.Contains(t, f.Advice(), "which end is lower")
	_, ok := d.slope(0)
	assert.False(t, ok)
}

// Without any direction the three readings say nothing; with them the joint
// angles follow from the readings alone.
func TestThreeReadingsGiveJointAngles(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 120, 36)
	for _, keys := range [][]string{
		{"n", "text:85.6", "down", "r", "enter"},
		{"n", "text:2.4", "down", "r", "enter"},
		{"n", "text:85.2", "down", "r", "enter"},
	} {
		d.keys(keys...) // the form opens on the axis that has no reading yet
		require.Empty(t, d.m.dialogs)
	}
	l := d.m.now.Lines[0]
	assert.InDelta(t, 2.0, l.Joints[0].Read.V*180/math.Pi, 1e-9)
	assert.InDelta(t, 2.4, l.Joints[1].Read.V*180/math.Pi, 1e-9)
	assert.Contains(t, d.screen(), "2.00±0.16")
	assert.Contains(t, d.screen(), "2.40±0.16")
}

func TestReadingNeedsAnAngle(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"", "12 mm", "abc", "nan", "1e9"} {
		t.Run(text, func(t *testing.T) {
			d := drive(t, starter.New(), 80, 24).keys("n", "text:"+text, "down", "r", "enter")
			require.Len(t, d.m.dialogs, 1)
			assert.Contains(t, d.screen(), "Type what the gauge shows")
			same(t, string(starter.New()), d.bytes())
			d.keys("esc")
			assert.Empty(t, d.m.dialogs)
		})
	}
}

// A level axis has no lower end to ask for.
func TestLevelReadingNeedsNoDirection(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("n", "text:90", "enter")
	require.Empty(t, d.m.dialogs, d.screen())
	v, ok := d.slope(0)
	require.True(t, ok)
	assert.Zero(t, v)
}

// A reading taken after tacking proves; one taken before only reads.
func TestReadingAfterTackingProves(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("n", "text:85.6", "down", "r", "down", "down", "right", "enter")
	require.Empty(t, d.m.dialogs)
	f, ok := d.m.now.Finding("line.rear.powertrain.read")
	require.True(t, ok)
	assert.Equal(t, assess.Proved, f.Basis)
}

// Dropping a reading leaves the rest of the file as it was.
func TestDropReading(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(readingsOnly), 120, 36).keys("3", "down", "x")
	require.Len(t, d.m.sess.Now().Build.Readings, 2)
	assert.Equal(t, "line.rear.pinion", d.m.sess.Now().Build.Readings[1].Of)
	_, ok := d.slope(1)
	assert.False(t, ok)
	d.keys("x")
	assert.Contains(t, d.screen(), "There is no reading here to take out")
	d.keys("u")
	same(t, readingsOnly, d.bytes())
}

// A joint is not read; the pane says what is.
func TestJointAnglesAreNotRead(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(readingsOnly), 120, 36).keys("3", "down", "down", "down", "n")
	d2 := drive(t, []byte(readingsOnly), 120, 36).keys("3", "down", "down", "down", "enter")
	assert.Contains(t, d2.screen(), "A joint angle is not read")
	assert.Empty(t, d2.m.dialogs)
	require.NotEmpty(t, d.m.dialogs, "n always leads to the form")
}

// Moving the powertrain carries an old reading along and says so.
func TestReadingIsCarriedAlong(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("down", "down", ".", ".", ".", "right")
	line := d.m.now.Lines[0]
	require.True(t, line.Axes[0].Moved)
	planned, read := line.Axes[0].Planned.V, line.Axes[0].Read.V
	assert.InDelta(t, 0, (planned-read)*180/math.Pi, 0.01, "the reading follows the model")
	assert.InDelta(t, 4.3, line.Axes[0].Raw.V*180/math.Pi, 1e-9, "as it was read")
	assert.False(t, line.Axes[2].Moved, "the axle did not move")
}
