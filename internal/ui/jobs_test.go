package ui

import (
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func (d *driver) state(i int) assess.JobState { return d.m.now.Jobs[i].State }

// Ticking what is held asks for a reason; without one nothing happens, with
// one it stays visible, and undo takes it back to the byte.
func TestOverride(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).toJob(9).keys("space")
	require.Len(t, d.m.dialogs, 1)
	assert.Contains(t, d.screen(), "rear joint 2, largest angle is over")
	d.keys("enter")
	require.Len(t, d.m.dialogs, 1, "no reason, no tick")
	d.keys("esc")
	same(t, string(starter.Demo()), d.bytes())

	d.keys("space", "text:the welder comes today", "enter")
	assert.Equal(t, assess.Done, d.state(9))
	assert.Equal(t, `"the welder comes today"`, d.raw("job[9].override"))
	assert.Equal(t, "2026-05-14", d.raw("job[9].done_on"))
	assert.Contains(t, d.screen(), "overridden: the welder comes today")
	d.keys("u")
	same(t, string(starter.Demo()), d.bytes())
}

func TestProveAgain(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).toJob(5)
	assert.Equal(t, assess.ProveAgain, d.state(5))
	assert.Contains(t, d.screen(), "prove again: ")
	d.keys("space")
	assert.Equal(t, assess.Done, d.state(5), "ticked again on what is read now")
	assert.Contains(t, d.raw("job[5].relied"), "4.3")
	d.keys("space")
	assert.Equal(t, assess.Open, d.state(5))
	d.keys("u", "u")
	same(t, string(starter.Demo()), d.bytes())
}

func TestEngineOutAndIn(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("5", "o")
	assert.Equal(t, `"out"`, d.raw("powertrain.standing"))
	assert.Contains(t, d.screen(), "[engine-out]", "when the engine comes out, that list is the list")
	assert.Contains(t, d.screen(), "3 open")
	d.keys("o")
	require.Len(t, d.m.dialogs, 1)
	assert.Contains(t, d.screen(), "weld left front, foot to rail, rear side")
	d.keys("esc")
	assert.Equal(t, `"out"`, d.raw("powertrain.standing"))

	d.keys("down", "space", "text:no proof yet, a mock-up", "enter", "space") // the weld side with its reason, then the bolts
	assert.Equal(t, `"finished"`, d.raw("weld[0].side.rear.state"))
	assert.Equal(t, `"no proof yet, a mock-up"`, d.raw("weld[0].side.rear.override"))
	assert.Equal(t, "true", d.raw("fastener[2].marked"))
	assert.Contains(t, d.screen(), "1 open")
	d.keys("o", "y")
	assert.Equal(t, `"in"`, d.raw("powertrain.standing"))
	d.keys("u", "u", "u", "u")
	same(t, string(starter.Demo()), d.bytes())
}

func TestOwnListOfJobs(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).toJob(0).keys("a", "text:Feed the dog", "enter")
	assert.Equal(t, "Feed the dog", d.m.now.Jobs[1].Title)
	d.keys("down", "J")
	assert.Equal(t, "Feed the dog", d.m.now.Jobs[2].Title)
	d.keys("K", "x")
	assert.NotContains(t, string(d.bytes()), "dog")
	few := len(d.m.now.Jobs)
	d.keys("A") // so much by one letter is asked about: a split Up key ends in it
	assert.Contains(t, d.screen(), "jobs of the built-in list into the file")
	d.keys("esc")
	assert.Len(t, d.m.now.Jobs, few)
	d.keys("A", "y")
	assert.Greater(t, len(d.m.now.Jobs), 90)
	n := len(d.m.now.Jobs)
	d.keys("A")
	assert.Len(t, d.m.now.Jobs, n)
	for range 5 {
		d.keys("u")
	}
	same(t, string(starter.Demo()), d.bytes())
}

func TestJobLeaves(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45).keys("5")
	for _, want := range []string{"list [engine-out] measured", "engine-out [measured] fasteners", "measured [fasteners]", "[list] engine-out"} {
		d.keys("]")
		assert.Contains(t, d.screen(), want)
	}
	d.keys("[")
	assert.Contains(t, d.screen(), "worked out")
	assert.Contains(t, d.screen(), "40.0 N m, maker's")
	d.keys("down", "space")
	assert.Equal(t, "true", d.raw("fastener[1].marked"))
	d.keys("down", "down", "space")
	assert.Equal(t, "true", d.raw("fluid[0].filled"))
}

func TestJobCard(t *testing.T) {
	t.Parallel()
	d := demo(t, 100, 45).toJob(12).keys("enter")
	screen := d.screen()
	for _, want := range []string{"it is done when", "mind", "eyes, ears and lungs", "it waits for", "tools"} {
		assert.Contains(t, screen, want)
	}
	d.keys("esc")
	assert.Empty(t, d.m.dialogs)
}

func TestVibrationFinder(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 45).keys("5", "V", "text:90 km/h")
	require.Len(t, d.m.dialogs, 1)
	assert.Contains(t, d.screen(), "rear shaft, twice a turn: its universal joints")
	assert.Contains(t, d.screen(), "Drive such tests where the law")
	first := func() string {
		for _, l := range strings.Split(d.screen(), "\n") {
			if strings.Contains(l, " %  ") {
				return l
			}
		}
		return ""
	}
	d.keys("down", "down", "down", "text:40 Hz")
	assert.Contains(t, first(), "rear shaft, once a turn", "90 km/h on 740 mm turns the wheel 10.8 times a second and shaft 3.7 times that")
	d.keys("text:x")
	assert.Contains(t, d.screen(), "frequency")
	d.keys("backspace", "down", "text:middle")
	assert.Contains(t, d.screen(), "range: high or low is wanted")
	d.keys("backspace", "backspace", "backspace", "backspace", "backspace", "backspace", "text:lo", "down", "text:60")
	assert.Contains(t, d.screen(), "60 samples a second show nothing above 30 Hz")
	d.keys("esc")
	same(t, string(starter.Demo()), d.bytes())
}

func TestMeasurementIsEntered(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 200).keys("5", "m", "enter")
	require.Len(t, d.m.dialogs, 1)
	d.keys("text:frame diagonal, left front to right rear", "down", "down", "down", "enter")
	require.Len(t, d.m.dialogs, 1, "a value is wanted")
	d.keys("text:4219; 4219.5", "down", "right", "right", "enter")
	require.Empty(t, d.m.dialogs)
	assert.Equal(t, `["4219 mm", "4219.5 mm"]`, d.raw("measure[58].lengths"))
	assert.Equal(t, `"welded"`, d.raw("measure[58].after"))
	f, ok := d.m.now.Finding("drift.measure.frame-diagonal-left-front-to-right-rear")
	require.True(t, ok, "the same words before and after welding make a pair")
	assert.Equal(t, assess.Over, f.Status)
	d.keys("u")
	same(t, string(starter.Demo()), d.bytes())
}

func TestWeldSidesAndChecks(t *testing.T) {
	t.Parallel()
	text := strings.Replace(string(starter.Demo()), "tyre_diameter = 740", "tyre_diameter = 740\ndriven_km = 60", 1)
	d := drive(t, []byte(text), 120, 36).keys("5", "page:fasteners", "space")
	assert.Equal(t, "60", d.raw("fastener[0].rechecked_km"), "what was due is checked, and keeps its mark")
	assert.Equal(t, "true", d.raw("fastener[0].marked"))
	d.keys("space")
	assert.Equal(t, "false", d.raw("fastener[0].marked"))
	d.keys("down", "down", "down", "down", "down", "space", "space")
	assert.Equal(t, `"tacked"`, d.raw("weld[0].side.front.state"), "no further while proof is missing")
	require.Len(t, d.m.dialogs, 1)
	d.keys("enter")
	require.Len(t, d.m.dialogs, 1, "no reason, no weld")
	d.keys("text:the mock-up stays", "enter")
	assert.Equal(t, `"finished"`, d.raw("weld[0].side.front.state"))
	assert.Equal(t, `"the mock-up stays"`, d.raw("weld[0].side.front.override"))
	d.keys("space", "esc", "enter", "enter")
	assert.Equal(t, `"finished"`, d.raw("weld[0].side.front.state"), "an inspection is its own act")
	d.keys("i", "enter")
	require.Len(t, d.m.dialogs, 1, "it wants a name")
	d.keys("text:the yard", "enter")
	assert.Equal(t, `"inspected"`, d.raw("weld[0].side.front.state"))
	assert.Equal(t, `"the yard"`, d.raw("weld[0].side.front.inspected_by"))
	d.keys("space", "t")
	assert.Equal(t, `"tacked"`, d.raw("weld[0].side.front.state"))
	assert.NotContains(t, string(d.bytes()), "inspected_by", "what went with the state goes with it")
	assert.NotContains(t, string(d.bytes()), "mock-up")
	d.keys("down", "i")
	assert.Contains(t, d.screen(), "inspected once it is finished")
	d.keys("down", "space")
	assert.Equal(t, `"none"`, d.raw("weld[0].side.rear.state"), "it is out of reach while the powertrain is in")
	assert.Contains(t, d.screen(), "can only be reached with the powertrain out")
}

// With the powertrain in nothing on the engine-out page can have been reached:
// space changes nothing there.
func TestEngineOutPageWithThePowertrainIn(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("5", "]")
	for range 3 {
		d.keys("space")
		if len(d.m.dialogs) > 0 {
			d.keys("esc")
		}
		d.keys("enter")
		if len(d.m.dialogs) > 0 {
			d.keys("esc")
		}
		d.keys("down")
	}
	same(t, string(starter.Demo()), d.bytes())
}

// Letters that lie scattered over a name do not change the build unasked.
func TestScatteredLettersAsk(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("5", ":", "text:eno", "enter")
	for len(d.m.dialogs) > 0 {
		d.keys("esc")
	}
	same(t, string(starter.Demo()), d.bytes())
	d.keys(":", "text:engine out", "enter")
	assert.Equal(t, `"out"`, d.raw("powertrain.standing"), "what is named is done")
}

// Dropping a job that others wait for asks and says which; they wait for what
// it waited for.
func TestDroppingAsks(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).toJob(10).keys("x")
	require.Len(t, d.m.dialogs, 1)
	assert.Contains(t, d.screen(), "Weld the mounts")
	d.keys("esc")
	same(t, string(starter.Demo()), d.bytes())
	d.keys("x", "y")
	require.Equal(t, "weld-mounts", d.m.now.Jobs[10].ID)
	assert.Equal(t, []string{"tack-mounts"}, d.m.now.Jobs[10].Needs)
}

// What rests on a job to be proved again shows that it does.
func TestInDoubtShows(t *testing.T) {
	t.Parallel()
	text := strings.Replace(string(starter.Demo()), "steering column, exhaust\"\ndone = false", "steering column, exhaust\"\ndone = true", 1)
	d := drive(t, []byte(text), 140, 45).toJob(7)
	require.Equal(t, assess.InDoubt, d.state(7))
	assert.Contains(t, d.screen(), "in doubt: prove again first: Read powertrain")
	d.toJob(5).keys("space")
	assert.Equal(t, assess.Done, d.state(7), "proved again, it stands")
}
