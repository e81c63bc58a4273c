package ui

import (
	"testing"

	"fitup/internal/assess"

	"github.com/stretchr/testify/assert"
)

func TestDoneUpToHereAsksAndListsTheRest(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45).keys("5")
	for range 9 {
		d.keys("down")
	}
	before := d.m.now.Headcount().Done
	d.keys("U")
	assert.Contains(t, d.screen(), "Done up to here")
	assert.Contains(t, d.screen(), "stay open: they want proof")
	d.keys("esc")
	assert.Equal(t, before, d.m.now.Headcount().Done, "nothing is ticked unasked")
	at := d.m.jobs().Job(d.m.now)
	ticks, left := d.m.now.UpTo(at)
	d.keys("U", "y")
	assert.Equal(t, before+len(ticks), d.m.now.Headcount().Done)
	for _, j := range left {
		assert.NotEqual(t, assess.Done, d.m.now.Jobs[j.Index].State, j.ID)
	}
	d.keys("u")
	assert.Equal(t, before, d.m.now.Headcount().Done, "one undo takes all back")
}
