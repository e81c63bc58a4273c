package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A ± that is typed with a value stands in the file; the next value drops it and
// says so, and undo brings it back. The lift has no key to keep one with.
func TestTypedBoundGoesWithItsValue(t *testing.T) {
	d := demo(t, 120, 36).keys("down", "down", "enter", "text:-288 mm ± 1", "enter")
	assert.Empty(t, d.m.dialogs)
	assert.Equal(t, `"-288 mm ± 1"`, d.raw("placement.rear"))
	d.keys("right")
	assert.Equal(t, `"-287.5 mm"`, d.raw("placement.rear"))
	assert.Contains(t, d.screen(), "the ± was of the old value")
	d.keys("right")
	assert.NotContains(t, d.screen(), "the ± was of the old value", "it has none now")
	d.keys("u", "u")
	assert.Equal(t, `"-288 mm ± 1"`, d.raw("placement.rear"))
	d.keys("down", "enter", "text:5 ± 1", "enter")
	assert.NotEmpty(t, d.m.dialogs)
	assert.Contains(t, d.screen(), "no ± is taken here")
}
