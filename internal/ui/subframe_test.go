package ui

import (
	"strings"
	"testing"

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
