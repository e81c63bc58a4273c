package ui

import (
	"strings"
	"testing"

	"fitup/internal/ui/layout"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sketched is what the sketch has on the screen.
func (d *driver) sketched() string {
	r := d.m.plan().Panes[layout.Sketch]
	lines := strings.Split(d.screen(), "\n")
	return strings.Join(lines[r.Y:r.Y+r.H], "\n")
}

// The sketch follows the cursor of the pane in focus, on every page, and that of
// the pane before while it has the focus itself.
func TestTheSketchFollowsTheCursor(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45)
	require.Contains(t, d.sketched(), "106.0 mm below rail", "the left front mount")
	d.keys("down", "down")
	assert.Contains(t, d.sketched(), "-289.5 mm from zero", "the rear one")
	d.keys("down", "down")
	assert.Contains(t, d.sketched(), "4.30° down to the rear", "the tilt")
	d.keys("]", "down", "down", "down", "down")
	assert.Contains(t, d.sketched(), "59.2 mm gap", "the clearance of the steering shaft")
	d.keys("1")
	assert.Contains(t, d.sketched(), "59.2 mm gap")
	d.keys("3")
	assert.NotContains(t, d.sketched(), "59.2 mm gap")
	d.keys("3", "down")
	assert.Contains(t, d.sketched(), "1458.7 mm", "the length of the shaft")
}

// F shows what the cursor is on large wherever the focus is, 0 all again; what has
// no place says so.
func TestNearAndAllAgain(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45).keys("]", "down")
	all := d.sketched()
	d.keys("F")
	assert.Contains(t, d.sketched(), "zoomed")
	assert.Contains(t, d.sketched(), "steering shaft")
	d.keys("0")
	assert.Equal(t, all, d.sketched())
	d.toJob(0).keys("F")
	assert.Contains(t, d.m.message.text, "no place in the sketch")
}

// Where it stood is that before the row was begun to be moved: further steps of it
// are the same move, another row is another, and a change that moves nothing
// ends it.
func TestWhereItStoodBefore(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45)
	assert.Nil(t, d.m.stood.before)
	first := d.m.now
	d.keys("down", "down", "right")
	assert.Same(t, first, d.m.stood.before)
	d.keys("right", "right")
	assert.Same(t, first, d.m.stood.before)
	then := d.m.now
	d.keys("down", "right")
	assert.Same(t, then, d.m.stood.before)
	last := d.m.now
	d.keys("u")
	assert.Same(t, last, d.m.stood.before, "taking back moves it too")
	d.keys("5").toJob(6).keys("space")
	assert.Nil(t, d.m.stood.before)
}
