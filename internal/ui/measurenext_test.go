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
	assert.Contains(t, flat(d), "come before any reading. Measure next: "+w.next.Readings[0].Name)
	assert.Contains(t, flat(d), "off the chance of a wrong weld")
	d.keys("esc", "right", "L")
	assert.NotContains(t, flat(d), "Measure next", "it was of the build before")
	d.m.startWeighing()
	w = d.m.finder.weighing
	w.of = nil
	assert.Nil(t, d.m.weighWork())
	assert.ErrorContains(t, w.ctx.Err(), "canceled")
	assert.False(t, w.over(d.m), "nobody waits for it any longer")
}

// near is a line whose joints are near their limit by what was read, and a tack that waits
// for them.
const near = `format = 3
[line.rear.pinion]
[limits]
joint_max = "2.45 deg"
mismatch = "2.45 deg"
equivalent = "2.45 deg"
[[reading]]
of = "powertrain"
on = "along"
shown = "4.4 deg"
lower = "rear"
[[reading]]
of = "line.rear.shaft.1"
on = "along"
shown = "2.4 deg"
lower = "rear"
[[reading]]
of = "line.rear.pinion"
on = "along"
shown = "4.8 deg"
lower = "rear"
[[job]]
id = "clean"
title = "Clean the ends"
[[job]]
id = "tack"
title = "Tack the rear mount"
hard_to_undo = "tack"
hold = ["line.rear.joint.2.max"]
`

// When a build was left alone for a while, what to measure next is weighed without being
// asked for, said where the hold point is, and never of a build that has been changed.
func TestWhatToMeasureNextBeforeAHoldPoint(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(near), 120, 45)
	f := &d.m.finder
	require.Same(t, d.m.now.Build, f.settling, "it is waited for to stand a while")
	d.keys("5")
	assert.NotContains(t, d.words(), "Measure next")
	d.send(settledMsg{d.m.now.Build})
	require.True(t, f.weighing.done)
	assert.Empty(t, d.m.message.text, "nobody asked")
	d.toJob(1)
	assert.Contains(t, d.words(), "Measure next: the ")
	want := f.weighing.next.For(d.m.now.Jobs[1])
	assert.Contains(t, want, "off the chance of a wrong weld")
	d.keys("enter")
	assert.Contains(t, flat(d), want, "the card of the job")
	d.keys("esc", "f")
	assert.Contains(t, flat(d), `Before "Tack the rear mount": Ok to tack, at least `, "the findings")
	assert.Contains(t, flat(d), "Measure next: "+f.weighing.next.Readings[0].Name)
	d.keys("esc", "up", " ")
	assert.Contains(t, d.m.message.text, `Next, "Tack the rear mount": `)
	assert.Empty(t, d.m.nextFor(d.m.now.Jobs[1]), "it was of the build before")
	assert.Same(t, d.m.now.Build, f.settling)

	late := f.weighing
	d.send(settledMsg{late.of})
	assert.Same(t, late, f.weighing, "of a build that is no more nothing is weighed")
	f.last, f.begun, f.settling = &searching{aside: newAside()}, true, d.m.now.Build
	d.send(settledMsg{d.m.now.Build})
	assert.Same(t, late, f.weighing, "a search goes first")
	assert.Nil(t, f.settling)
	f.last = nil
	d.send(settledMsg{d.m.now.Build})
	assert.NotSame(t, late, f.weighing)
}
