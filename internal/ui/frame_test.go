package ui

import (
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is wrong with the demo's frame is found from the keyboard: the tape that was
// misread, the rail that stands 3 mm ahead, and the end that was widened by unequal
// amounts. The sketch shows it from above, twenty times as large.
func TestTheDemosFrameIsFoundOut(t *testing.T) {
	t.Parallel()
	d := demo(t, 110, 60).keys("4", "z")
	assert.Contains(t, d.screen(), "rail lf to rail rr reads 10.4 mm more, left out")
	d.keys("]")
	assert.Contains(t, d.screen(), "left rail ahead")
	assert.Contains(t, flat(d), "the left rail stands 3.0 mm ahead")
	d.keys("]", "down", "down")
	assert.Contains(t, flat(d), "The rails were moved out by unequal amounts there")
	assert.Contains(t, flat(d), "Their middle lies 3.8 mm to the left")
	d.keys("z")
	assert.Contains(t, d.screen(), "survey from above, errors ×20")
	for _, name := range []string{"rail lf", "rail rr", "hub lr"} {
		assert.Contains(t, d.screen(), name)
	}
	d.keys("2")
	assert.NotContains(t, d.screen(), "survey from above", "with the cursor elsewhere the sketch is the build")
}

// They are found on the smallest usual screen and on a large one too, and in the sketch no
// name of a point stands on another.
func TestTheDemosFrameIsFoundOutOnEveryScreen(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{80, 24}, {140, 45}} {
		d := demo(t, size[0], size[1]).keys("4")
		assert.Contains(t, d.screen(), "rail lf to rail rr reads 10.4 mm more, left out")
		for _, name := range []string{"rail lf", "rail rf", "rail lm", "rail rm", "rail lr", "rail rr", "hub lf", "hub rf", "hub lr", "hub rr"} {
			sketch, _, _ := strings.Cut(d.screen(), "2 Mounts")
			assert.Contains(t, sketch, name)
		}
		d.keys("]", "h")
		require.Contains(t, d.screen(), "In full")
		assert.Contains(t, flat(d), "the left rail stands 3.0 mm ahead")
		d.keys("esc", "]", "down", "down", "h")
		assert.Contains(t, flat(d), "by unequal amounts there, or one is bent")
		assert.Contains(t, flat(d), "Their middle lies 3.8 mm")
	}
}

// Names of rail points for which the columns leave no room stand over their figures, whole.
func TestLongNamesOfRailPointsAreWhole(t *testing.T) {
	t.Parallel()
	long := strings.NewReplacer("rail_lf", "left_rail_front_hanger", "rail_rf", "right_rail_front_hanger")
	d := drive(t, []byte(long.Replace(string(starter.Demo()))), 80, 24).keys("4", "z").keys("page:rails")
	assert.Contains(t, flat(d), "1: left rail front hanger, right rail front hanger")
	assert.Contains(t, d.screen(), "759.5")
}

// Sides and diagonals that are typed with m make a survey at once: its points are new
// in the file, and whether the tapes fit each other is judged.
func TestATapeBetweenPointsLandsInTheSurvey(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 110, 60).keys("4", "z")
	assert.Contains(t, flat(d), "No survey of the frame yet")
	for _, tape := range [][2]string{
		{"point.lf to point.rf", "700; 700.5"}, {"point.lf to point.lr", "2500; 2500"}, {"rf to point.rr", "2500; 2500.5"},
		{"lr to rr", "700; 700"}, {"lf to rr", "2596; 2596"}, {"rf to lr", "2596.5; 2596"},
	} {
		d.keys("m", "text:"+tape[0], "down", "down", "down", "text:"+tape[1], "enter")
	}
	require.Len(t, d.m.now.Build.Measurements, 6, d.m.message.text+d.m.sess.Now().Doc().Text())
	require.Len(t, d.m.now.Build.Points, 4)
	f, ok := d.m.now.Finding("frame.survey.fit")
	require.True(t, ok)
	assert.Equal(t, assess.OK, f.Status, f.Advice())
	assert.Contains(t, d.screen(), "lf to rr")
}

// Diagonals that are typed with m in plain words land at once, with a verdict: what is
// missing to prove the frame square, and with it how far out it is.
func TestDiagonalsInPlainWordsLandWithAVerdict(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 140, 60).keys("4")
	for _, tape := range [][3]string{
		{"diagonal, left front to right rear", "2516.3", "not known, diagonal, right front to left rear is not taped yet"},
		{"diagonal, right front to left rear", "2506.7", "not known, left front to left rear is not taped yet"},
		{"left side", "2400", "not known, right front to right rear is not taped yet"},
		{"right side", "2400", "one rail ahead of the other as taped: over, 5.0 mm"},
	} {
		d.keys("m", "text:"+tape[0], "down", "down", "down", "text:"+tape[1], "enter")
		assert.Contains(t, d.m.message.text, tape[2], tape[0])
	}
	f, ok := d.m.now.Finding("frame.taped.square")
	require.True(t, ok)
	assert.Equal(t, assess.Over, f.Status)
	assert.Contains(t, f.Advice(), "the left rail is 5.0 mm")
	d.keys("z", "]")
	assert.Contains(t, d.screen(), "left rail ahead")
	assert.Contains(t, d.screen(), "out of square, deg")
}

// The tape that was misread, typed right where its reading stands: nothing is left out any
// more, and what is still wrong with the frame is said of all its tapes.
func TestTheMisreadTapeTypedRightChangesTheWords(t *testing.T) {
	t.Parallel()
	d := demo(t, 110, 60).keys("4", "z")
	assert.Equal(t, assess.Over, d.verdict("frame.survey.fit"))
	assert.Contains(t, d.screen(), "left out")
	d.keys("d")
	require.True(t, d.m.data.Go("measure[12].lengths"))
	require.Equal(t, "[4824, 4823.5]", d.raw("measure[12].lengths"))
	d.keys("enter", "ctrl+u", "type:4813.5; 4813", "enter", "d")
	require.Equal(t, "[4813.5, 4813]", d.raw("measure[12].lengths"), d.m.message.text)
	assert.Equal(t, assess.OK, d.verdict("frame.survey.fit"))
	assert.NotContains(t, d.screen(), "left out")
	assert.NotContains(t, d.screen(), "reads 10.4 mm more")
	assert.Equal(t, assess.Over, d.verdict("frame.square"), "the frame is as crooked as before")
	d.keys("]")
	assert.Contains(t, flat(d), "the left rail stands 3.0 mm ahead")
	d.keys("u")
	assert.Equal(t, assess.Over, d.verdict("frame.survey.fit"), "and taken back")
}
