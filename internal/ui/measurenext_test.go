package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What to measure next is weighed beside the keys, said in the box, and dropped when the
// build is changed.
func TestWhatToMeasureNext(t *testing.T) {
	t.Parallel()
	d := drive(t, asking(``), 120, 45)
	d.keys("L", "m")
	w := d.m.finder.weighing
	require.NotNil(t, w)
	require.True(t, w.done)
	require.NotEmpty(t, w.next.Readings)
	assert.Contains(t, flat(d), "come before any reading. Measure next: "+w.next.Readings[0].Of)
	assert.Contains(t, flat(d), "off the chance of a wrong weld")
	d.keys("esc", "right", "L")
	assert.NotContains(t, flat(d), "Measure next", "it was of the build before")
	d.m.startWeighing()
	w = d.m.finder.weighing
	w.of = nil
	assert.Nil(t, d.m.weighWork())
	assert.ErrorContains(t, w.ctx.Err(), "canceled")
	assert.False(t, d.m.weighed(weighedMsg{w}), "nobody waits for it any longer")
}
