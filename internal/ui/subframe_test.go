package ui

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/assess"
	small "fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A height of a corner that is taken again on the screen moves that corner: the page,
// the sketch and the finding follow in the same frame.
func TestACornerFollowsItsReading(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(small.Subframe), 120, 40).keys("4", "page:subframe")
	require.Contains(t, d.screen(), "too far back")
	assert.Contains(t, d.screen(), "from above, errors ×20")
	up := func() float64 { return d.m.now.Subframes[0].Points[2].Move[2].V }
	corner := func() float64 {
		f, ok := d.m.now.Finding("subframe.front.corner.sub_lr")
		require.True(t, ok)
		return f.Value
	}
	wasUp, was := up(), corner()
	for range 40 { // to the height of the left rear corner
		if strings.Contains(d.screen(), "▸ sub lr over rail lr") {
			break
		}
		d.keys("down")
	}
	d.keys("enter")
	require.NotNil(t, d.m.data)
	d.keys("enter", "ctrl+u", "text:-117", "enter", "esc")
	assert.Greater(t, up(), wasUp+0.2, "read 1.5 mm lower, it has to go up more")
	assert.NotEqual(t, was, corner())
	assert.Contains(t, d.screen(), "sub lr over rail lr")
}

// A subframe in a surveyed frame is turned square at its left front corner: what was
// measured to it is taken again from the keyboard, tape by tape. One tape alone
// contradicts the others; with all of them it is square and every corner is at its place.
func TestACornerIsMovedToSquare(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(small.Hung(0.4)), 120, 60).keys("4", "z", "page:subframe")
	status := func(id string) assess.Status {
		f, ok := d.m.now.Finding("subframe.front." + id)
		require.True(t, ok, id)
		return f.Status
	}
	require.Equal(t, assess.Over, status("square"))
	require.Equal(t, assess.OK, status("fit"))
	assert.Contains(t, d.screen(), "rear to the right")
	taped, set := small.HungCorners(0.4), small.HungCorners(0)
	rows := []string{
		"rail lf to sub lf", "rail lf to sub lr", "rail rf to sub rf", "rail rf to sub rr", "rail lr to sub lf",
		"rail lr to sub lr", "rail rr to sub rf", "rail rr to sub rr", "rail lf to sub rf", "rail rf to sub lf",
	}
	for i, row := range rows {
		if taped[i] == set[i] {
			continue
		}
		for range 60 {
			if strings.Contains(d.screen(), "▸ "+row) {
				break
			}
			d.keys("down")
		}
		require.Contains(t, d.screen(), "▸ "+row)
		d.keys("enter")
		require.NotNil(t, d.m.data, row)
		d.keys("enter", "ctrl+u", fmt.Sprintf("text:%.1f", set[i]), "enter", "esc")
		if i == 0 {
			assert.Equal(t, assess.Over, status("fit"), "it moved, and one tape alone was taken again")
		}
	}
	for _, id := range []string{"fit", "square", "wheelbase", "centre", "corner.sub_lf", "corner.sub_rf", "corner.sub_lr", "corner.sub_rr"} {
		assert.Equal(t, assess.OK, status(id), id)
	}
	assert.NotContains(t, d.screen(), "✗ over")
}
