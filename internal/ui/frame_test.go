package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What is wrong with the demo's frame is found from the keyboard: the tape that was
// misread, the rail that stands 3 mm ahead, and the end that was widened by unequal
// amounts. The sketch shows it from above, twenty times as large.
func TestTheDemosFrameIsFoundOut(t *testing.T) {
	d := demo(t, 110, 60).keys("4", "z")
	assert.Contains(t, d.screen(), "rail lf to rail rr reads 10.4 mm more, left out")
	d.keys("]")
	assert.Contains(t, d.screen(), "left rail ahead")
	assert.Contains(t, flat(d), "The left rail stands 3.0 mm ahead of the other")
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
