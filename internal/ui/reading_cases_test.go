package ui

import (
	"math"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Two readings that cannot both be true: the screen names both and drops the
// one that is chosen.
func TestReadingsThatContradictCanBeDropped(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(readingsOnly), 120, 36).keys("3", "n", "text:85.2", "down", "f", "enter")
	require.Len(t, d.m.dialogs, 1)
	assert.Contains(t, d.screen(), "These cannot both be true")
	assert.Equal(t, assess.NotKnown, d.verdict("line.rear.joint.1.max"))
	d.keys("2")
	require.Empty(t, d.m.dialogs)
	assert.Len(t, d.m.sess.Now().Build.Readings, 3)
	assert.Equal(t, assess.OK, d.verdict("line.rear.joint.1.max"))
	same(t, readingsOnly, d.bytes())

	d.keys("n", "text:85.2", "down", "f", "enter", "esc", "x")
	assert.Contains(t, d.screen(), "These cannot both be true", "x asks which")
	d.keys("1")
	v, ok := d.slope(0)
	require.True(t, ok)
	assert.InDelta(t, -4.8, v, 1e-9)
}

// The plan view by tape: 60 mm to the right over a metre is 3.43°, and two
// slopes 2° apart are 3.97° apart in space.
func TestPlanViewByTape(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(readingsOnly), 120, 36).keys("3", "down", "n", "up", "right", "right", "down")
	assert.Contains(t, d.screen(), "by tape, seen from above")
	d.keys("text:60", "enter")
	assert.Contains(t, d.screen(), "over how much")
	d.keys("text:1000")
	assert.Contains(t, d.screen(), "= 3.43° rear to the right")
	d.keys("enter")
	require.Empty(t, d.m.dialogs, d.screen())
	r := d.m.sess.Now().Build.Readings[3]
	assert.Equal(t, "line.rear.shaft.1", r.Of)
	assert.InDelta(t, 60, r.Aside.V(), 1e-9)
	assert.InDelta(t, 1000, r.Over.V(), 1e-9)
	f, ok := d.m.now.Finding("line.rear.joint.1.max")
	require.True(t, ok)
	assert.InDelta(t, 3.97, f.Value*180/math.Pi, 0.005)
	assert.Equal(t, assess.Over, f.Status)
}

// "Lower end" and "nose up" stand side by side, and turn round at a front axle.
func TestNoseIsEchoedBesideTheLowerEnd(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(readingsOnly), 120, 36).keys("3", "down", "down", "n", "text:85.2", "down", "r")
	assert.Contains(t, d.screen(), "(pinion nose up)")
	assert.Contains(t, d.screen(), "down to the rear, pinion nose up")
	front := drive(t, []byte(readingsOnly+"[line.rear]\ntoward = \"front\"\n"), 120, 36).keys("3", "down", "down", "n", "text:85.2", "down", "r")
	assert.Contains(t, front.screen(), "pinion nose down")
}

// How the vehicle stood goes into the file.
func TestHowTheVehicleStood(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(readingsOnly), 120, 36).keys("3", "down", "down", "n", "text:85.2", "down", "r", "down", "down", "down", "f", "enter")
	require.Empty(t, d.m.dialogs, d.screen())
	assert.Equal(t, project.OnFrame, d.m.sess.Now().Build.Readings[3].Stood)
	f, _ := d.m.now.Finding("line.rear.pinion.read")
	assert.Equal(t, assess.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "on its wheels")
}

// After a nudge of the plan the form asks where the iron hangs: a reading taken
// where it hung is stamped with that place, and proves nothing of the plan.
func TestReadingAfterTheIronHasNotMoved(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("down", "down", ".", ".", ".", "right", "3", "n", "text:85.7", "down", "r")
	assert.Contains(t, d.screen(), "it hangs")
	d.keys("down", "down", "down", "down", "right", "enter")
	require.Empty(t, d.m.dialogs, d.screen())
	rs := d.m.sess.Now().Build.Readings
	assert.InDelta(t, -289.5, rs[len(rs)-1].Placed.Rear.V(), 1e-9)
	f, _ := d.m.now.Finding("line.rear.powertrain.read")
	assert.True(t, f.Moved)
	assert.Equal(t, assess.Planned, f.Basis)
	d.keys("n", "text:85.93", "down", "r", "enter")
	rs = d.m.sess.Now().Build.Readings
	assert.InDelta(t, -284.5, rs[len(rs)-1].Placed.Rear.V(), 1e-9)
	f, _ = d.m.now.Finding("line.rear.powertrain.read")
	assert.False(t, f.Moved)
}

// The watched figure steps on to what is planned beside the readings.
func TestPlanCanBeWatchedBesideReadings(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36)
	var seen []string
	for range d.m.now.Watchable() { // once round
		d.keys("w")
		if seen = append(seen, d.m.watch); d.m.watch == "line.rear.joint.1.max.planned" {
			return
		}
	}
	assert.Fail(t, "never watched", "%v", seen)
}

// Two tape readings of one axis that cannot both be true are asked about as
// gauge readings are.
func TestTapeReadingsThatContradictCanBeDropped(t *testing.T) {
	t.Parallel()
	tape := func(aside string) []string {
		return []string{"n", "up", "right", "right", "down", "text:" + aside, "enter", "text:1000", "enter"}
	}
	d := drive(t, []byte(readingsOnly), 120, 36).keys("3", "down").keys(tape("10")...)
	require.Empty(t, d.m.dialogs, d.screen())
	d.keys(tape("60")...)
	require.Len(t, d.m.dialogs, 1, d.screen())
	assert.Contains(t, d.screen(), "These cannot both be true")
	assert.Contains(t, d.screen(), "by tape 60.0 mm right over 1000 mm")
	assert.Equal(t, assess.NotKnown, d.verdict("line.rear.joint.1.max"))
	d.keys("2")
	require.Empty(t, d.m.dialogs)
	assert.Equal(t, assess.OK, d.verdict("line.rear.joint.1.max"))
}
