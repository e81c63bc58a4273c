package ui

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	small "fitup/internal/project/example"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The demo's misread tape is found on the screen; Enter there opens its row, and what is
// measured again stands in its place, with what it read before in its note.
func TestMisreadTapeIsTakenAgain(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 36).keys("4")
	require.Contains(t, d.screen(), "rail lf to rail rr reads 10.4 mm")
	f, ok := d.m.now.Finding(finding.SurveyFit)
	require.True(t, ok)
	require.Equal(t, assess.Over, f.Status)
	bad := d.m.accused(f.ID)
	require.Len(t, bad, 1)
	d.keys("enter")
	require.NotNil(t, d.m.data)
	_, row, ok := d.m.data.Here()
	require.True(t, ok)
	assert.Equal(t, fmt.Sprintf("measure[%d].lengths", bad[0]), row.Path, "where the cursor is on the largest misfit")
	d.keys("esc")
	had := len(d.m.sess.Now().Build.Measurements)
	d.keys("m", "text:rail rr to rail lf", "down", "down", "down", "text:4813.5 4813", "enter")
	require.Empty(t, d.m.dialogs)
	all := d.m.sess.Now().Build.Measurements
	require.Len(t, all, had, "none beside it")
	x := all[bad[0]]
	assert.InDelta(t, 4813.5, x.Lengths[0].V(), 1e-9)
	assert.Contains(t, x.Note, "it read 4824, 4823.5 before")
	f, _ = d.m.now.Finding(finding.SurveyFit)
	assert.Equal(t, assess.OK, f.Status)
	assert.Empty(t, d.m.accused(f.ID))
	f, _ = d.m.now.Finding("frame.square")
	assert.Equal(t, assess.Over, f.Status, "the frame is out of square with the right tape too")
	f, _ = d.m.now.Finding("frame.rails.3.offset")
	assert.Equal(t, assess.Over, f.Status, "and widened by unequal amounts")
	d.keys("u")
	same(t, string(starter.Demo()), d.bytes())

	// What is measured at another step stands beside it.
	d.keys("m", "text:rail lf to rail rr", "down", "down", "down", "text:4813.5", "down", "right", "enter")
	assert.Len(t, d.m.sess.Now().Build.Measurements, had+1)
}

// Where a point lies that does not fit what was measured from it leads to the value to take
// again: the data page opens there.
func TestAPlaceThatDoesNotFitOpensItsValue(t *testing.T) {
	t.Parallel()
	text := strings.Replace(small.Marked, "height = \"-20 mm ± 0.5\"", "height = \"-32 mm ± 0.5\"", 1)
	for _, m := range [][2]string{{"pulley", "30.5"}, {"flange", "-78.5"}, {"head_left", "378"}, {"head_right", "378"}} {
		text += "[[measure]]\nfrom = \"point.rail_r\"\nto = \"point." + m[0] + "\"\nas = \"height\"\nwith = \"tool.tape\"\nlengths = [" + m[1] + "]\n"
	}
	d := drive(t, []byte(text), 120, 36)
	require.Empty(t, d.m.accused(finding.PowertrainFit))
	path := d.m.placesAgain(finding.PowertrainFit)
	assert.Contains(t, path, ".height")
	require.True(t, d.m.openData().Go(path))
	_, row, ok := d.m.data.Here()
	require.True(t, ok)
	assert.Equal(t, path, row.Path)
	assert.Empty(t, d.m.placesAgain(finding.SurveyFit))
}
