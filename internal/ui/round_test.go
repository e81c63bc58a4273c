package ui

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/starter"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shows what an instrument types: figures that come in one read, and Enter.
func (d *driver) shows(values ...string) *driver {
	d.t.Helper()
	for _, v := range values {
		d.keys("type:"+v, "enter")
	}
	return d
}

// Three readings by instrument, each with one key for the lower end, wherever that key
// comes: before the value, before Enter, or after it. The next axis comes up by itself.
func TestRoundOfReadings(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("B")
	require.Equal(t, "powertrain", d.m.round.list().at)
	d.shows("85.6")
	assert.Contains(t, d.screen(), "Which end is lower?")
	same(t, string(starter.New()), d.bytes())
	d.keys("right")
	require.Equal(t, "line.rear.shaft.1", d.m.round.list().at)
	d.keys("r").shows("2.4")
	require.Equal(t, "line.rear.pinion", d.m.round.list().at)
	d.keys("type:85.2", "right", "enter")
	assert.Contains(t, d.screen(), "the round is done")
	d.keys("esc")
	require.Empty(t, d.m.dialogs)
	l := d.m.now.Lines[0]
	assert.InDelta(t, 2.0, l.Joints[0].Read.V*180/math.Pi, 1e-9)
	assert.InDelta(t, 2.4, l.Joints[1].Read.V*180/math.Pi, 1e-9)
	undo, _ := d.m.sess.Depth()
	assert.Equal(t, 3, undo, "one step each")
}

// The left arrow says that the front end is lower.
func TestRoundLowerEnd(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 60, 20).keys("B").shows("85.6").keys("left")
	v, ok := d.slope(0)
	require.True(t, ok)
	assert.InDelta(t, -4.4, v, 1e-9)
	d = drive(t, starter.New(), 60, 20).keys("B").shows("85.6").keys("n")
	_, ok = d.slope(0)
	assert.False(t, ok, "nobody was sure")
	assert.NotContains(t, d.bytes()[len(starter.New()):], "lower =")
	d = drive(t, starter.New(), 60, 20).keys("B").shows("90")
	v, ok = d.slope(0)
	assert.True(t, ok && v == 0, "level needs no end")
}

// A value that comes while another waits for its end is kept and not taken: it belongs to
// what comes up then.
func TestRoundKeepsWhatComesTooSoon(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("B").shows("85.6", "2.4")
	assert.Contains(t, d.screen(), "First say which end was lower at 85.6")
	same(t, string(starter.New()), d.bytes())
	d.keys("right")
	r := d.m.round.list()
	assert.Equal(t, "line.rear.shaft.1", r.at)
	assert.Equal(t, "2.4", r.field.Text())
	assert.Equal(t, 1, strings.Count(d.bytes()[len(starter.New()):], "[[reading]]"))
}

// A refusal says what is wanted and keeps what was typed.
func TestRoundRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ typed, says string }{
		{"2.4", "looks like one taken"}, // along, on a face
		{"12 mm", "want"},
		{"8..5", "want"},
		{"400", "want"},
	} {
		d := drive(t, starter.New(), 80, 24).keys("B", "text:"+c.typed, "enter")
		assert.NotEmpty(t, d.m.round.refused, c.typed)
		assert.Contains(t, strings.Join(strings.Fields(strings.ReplaceAll(d.screen(), "┃", " ")), " "), strings.Fields(d.m.round.refused)[0])
		assert.Equal(t, c.typed, d.m.round.list().field.Text())
		same(t, string(starter.New()), d.bytes())
	}
	d := drive(t, starter.New(), 80, 24).keys("B", "enter")
	assert.Contains(t, d.screen(), "such as 85.6")
	d.keys("text:2.4", "enter", "o", "enter", "right")
	v, _ := d.slope(0)
	assert.InDelta(t, 2.4, v, 1e-9, "the gauge stood along it")
}

// What Esc drops comes back, and closing keeps what is typed.
func TestRoundLosesNothing(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("B", "text:85.6", "esc")
	assert.Equal(t, "", d.m.round.list().field.Text())
	d.keys("u")
	assert.Equal(t, "85.6", d.m.round.list().field.Text())
	d.send(tea.WindowSizeMsg{Width: 60, Height: 20})
	d.keys("tab", "tab")
	assert.Equal(t, "85.6", d.m.round.list().field.Text())
	d.keys("down")
	assert.Equal(t, "85.6", d.m.round.list().field.Text(), "it was typed at the wrong one")
}

// The sign of a gauge says how it stood: it is left out, and said to be.
func TestRoundLeavesOutTheSign(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 120, 36).keys("B", "type:-85.6")
	assert.Contains(t, d.screen(), "its sign left out")
	d.keys("enter", "right")
	assert.Contains(t, d.bytes(), `shown = "85.6 deg"`)
	v, _ := d.slope(0)
	assert.InDelta(t, 4.4, v, 1e-9)
}

// Repeats come before the next axis as often as is wanted, how far they are apart stands
// in large digits, and what cannot be true stays until it is dropped or taken back.
func TestRoundRepeats(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 140, 45).keys("B", "e").shows("85.6").keys("right")
	require.Equal(t, "powertrain", d.m.round.list().at, "two of each")
	d.shows("85.5").keys("right")
	require.Equal(t, "line.rear.shaft.1", d.m.round.list().at)
	d.keys("up")
	s := d.m.round.agree(d.m)
	assert.Equal(t, 2, s.count)
	assert.InDelta(t, 0.1*math.Pi/180, s.apart, 1e-9)
	at := slices.IndexFunc(d.m.now.Values(), func(v assess.Value) bool { return v.Name == "line.rear.powertrain.slope.apart" })
	require.GreaterOrEqual(t, at, 0)
	assert.Equal(t, s.apart, d.m.now.Values()[at].V)
	assert.Empty(t, s.clash)
	assert.Contains(t, d.screen(), "apart, 2 repeats")
	d.shows("80").keys("right")
	require.Equal(t, "powertrain", d.m.round.list().at)
	assert.Contains(t, d.screen(), "they cannot all be true")
	d.keys("x")
	require.Len(t, d.m.dialogs, 2)
	d.keys("esc", "u")
	assert.Equal(t, 2, d.m.round.agree(d.m).count)
	assert.NotContains(t, d.screen(), "cannot all be true")
}

// What is taken back is what is shown then.
func TestRoundUndo(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("B").shows("85.6").keys("right")
	require.NotEqual(t, "powertrain", d.m.round.list().at)
	d.keys("u")
	same(t, string(starter.New()), d.bytes())
	assert.Equal(t, "powertrain", d.m.round.list().at)
}

// The answers of the round go into each reading.
func TestRoundAnswers(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("B", "a", "t").shows("85.6").keys("right")
	x := d.m.now.Build.Readings[0]
	assert.Equal(t, project.Tacked, x.After)
	assert.Equal(t, project.OnWheels, x.Stood)
	assert.Equal(t, project.SquareFace, x.On)
}

// A digit on the large figures is the first of a reading.
func TestLargeTakesNumbers(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("b", "8")
	require.Len(t, d.m.dialogs, 1)
	require.Equal(t, dialog(d.m.round), d.m.dialogs[0])
	assert.Equal(t, "8", d.m.round.list().field.Text())
	same(t, string(starter.Demo()), d.bytes())
}

const twoMeasures = `format = 3
[[measure]]
of = "diagonal, left front to right rear"
with = "tape"
lengths = ["4120 mm", "4121 mm"] # by two
taken = 2026-05-14
[[measure]]
of = "rail height"
with = "tape"
lengths = ["16 1/4 in"]
plus_minus = "3 mm"
taken = 2026-05-01
[[measure]]
of = "floor"
with = "level"
angles = ["0.2 deg"]
`

// Measures in turn: what was measured today goes in with its repeats, what was measured
// another day or in another state is a measurement of its own.
func TestRoundOfMeasures(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(twoMeasures), 80, 24).keys("B", "tab")
	require.Equal(t, "diagonal, left front to right rear", d.m.round.list().at)
	assert.Contains(t, d.screen(), "apart, 2 repeats")
	d.shows("4122.5")
	require.Equal(t, "rail height", d.m.round.list().at)
	d.keys("text:16 3/8 in", "enter")
	require.Equal(t, "floor", d.m.round.list().at)
	d.shows("0.3")
	assert.Contains(t, d.screen(), "the round is done")
	ms := d.m.now.Measurements
	require.Len(t, ms, 5)
	assert.Equal(t, 3, ms[0].Count)
	assert.InDelta(t, 2.5, ms[0].Spread, 1e-9)
	assert.Contains(t, d.bytes(), "# by two")
	assert.InDelta(t, 16.375*25.4, ms[3].Mean.V, 1e-9)
	assert.Equal(t, "rail height", ms[3].Of)
	assert.InDelta(t, 3, ms[3].PlusMinus.V(), 1e-9, "the same tape")
	assert.InDelta(t, 0.3*math.Pi/180, ms[4].Mean.V, 1e-9)
	undo, _ := d.m.sess.Depth()
	assert.Equal(t, 3, undo)
	d.keys("u", "u", "u")
	same(t, twoMeasures, d.bytes())
	assert.Equal(t, "diagonal, left front to right rear", d.m.round.list().at)
	d.keys("a").shows("4120")
	assert.Len(t, d.m.now.Measurements, 4, "after tacking it is another measurement")
}

// Lines of a survey come up by their points, each for itself, heights below the other
// point too, and go into the file as they stand there.
func TestRoundOfSurveyLines(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(`format = 3
[point.a]
note = "left"
[point.b]
note = "right"
[[measure]]
from = "point.a"
to = "point.b"
with = "tape"
lengths = [900]
[[measure]]
from = "point.a"
to = "point.b"
as = "height"
with = "level"
lengths = [-2]
`), 80, 24).keys("B", "tab")
	require.Equal(t, "a to b", d.m.round.list().at)
	assert.Contains(t, d.screen(), "a to b  (1 of 2")
	d.shows("900.5")
	require.Equal(t, "b over a", d.m.round.list().at)
	d.shows("-2.5")
	assert.Contains(t, d.screen(), "the round is done")
	ms := d.m.now.Build.Measurements
	require.Len(t, ms, 4)
	assert.Equal(t, "point.a", ms[2].From)
	assert.Equal(t, "b over a", ms[3].Title())
	assert.InDelta(t, -2.5, ms[3].Lengths[0].V(), 1e-9)
	d.shows("900.5").keys("text:2 2", "enter")
	assert.Contains(t, d.screen(), "one value at a time")
}

// In the round too a tape that does not fit, measured again, stands in the place of the old
// one; what is measured then is a repeat of it.
func TestRoundTakesAMisreadTapeAgain(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	bad := d.m.accused(finding.SurveyFit)
	require.Len(t, bad, 1)
	had := len(d.m.sess.Now().Build.Measurements)
	d.keys("B", "tab")
	for n := 0; d.m.round.list().at != "rail lf to rail rr"; n++ {
		require.Less(t, n, 100)
		d.keys("down")
	}
	d.shows("4813.5")
	all := d.m.sess.Now().Build.Measurements
	require.Len(t, all, had, "none beside it")
	require.Len(t, all[bad[0]].Lengths, 1)
	assert.InDelta(t, 4813.5, all[bad[0]].Lengths[0].V(), 1e-9)
	assert.Contains(t, all[bad[0]].Note, "it read 4824, 4823.5 before and did not fit")
	assert.Equal(t, assess.OK, d.verdict(finding.SurveyFit))
	for d.m.round.list().at != "rail lf to rail rr" {
		d.keys("up")
	}
	d.shows("4813")
	all = d.m.sess.Now().Build.Measurements
	require.Len(t, all, had)
	require.Len(t, all[bad[0]].Lengths, 2, "a repeat of what fits")
	d.keys("u", "u")
	same(t, string(starter.Demo()), d.bytes())
}

// What looks like a reading along the axis is said while it is typed, and not only when
// it is refused.
func TestRoundSaysAtOnceWhatItWouldRefuse(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("B", "type:4.3")
	assert.Contains(t, d.screen(), "looks like one taken along the axis")
	assert.NotContains(t, d.screen(), "lower; enter takes it")
	d.keys("o")
	assert.Contains(t, d.screen(), "= 4.300")
}

func TestRoundOfMeasuresRefuses(t *testing.T) {
	t.Parallel()
	for _, typed := range []string{"12 deg", "4; 5", "x", "-3", "1e9"} {
		d := drive(t, []byte(twoMeasures), 60, 20).keys("B", "tab", "text:1", "backspace", "type:"+typed, "enter")
		assert.Equal(t, twoMeasures, d.bytes(), typed)
	}
	d := drive(t, starter.New(), 60, 20).keys("B", "tab")
	assert.Contains(t, d.screen(), "no measurement yet")
	d.keys("up", "down", "text:12", "enter", "tab", "esc")
	same(t, string(starter.New()), d.bytes())
}

// What stands typed on a round that is closed is asked about before the program ends.
func TestQuitAsksForWhatStandsTypedOnARound(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 80, 24).keys("B", "type:85.6", "tab", "esc")
	require.Empty(t, d.m.dialogs, d.screen())
	d.keys("q")
	require.False(t, d.quit)
	require.Contains(t, d.screen(), "Typed, and not taken")
	require.Contains(t, d.screen(), "85.6")
	d.keys("b")
	require.Equal(t, "85.6", d.m.round.lists[gaugeList].field.Text())
	d.keys("tab", "esc", "esc", "q")
	require.True(t, d.quit)
}
