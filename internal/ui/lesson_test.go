package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// learner is a bench on which the walk begins.
func learner(t *testing.T, w, h int) *driver {
	d := demo(t, w, h)
	d.m.scratch = true
	d.m.startLesson()
	return d.keys("1")
}

// The walk is done with the keys that it names, at every size, and nothing but them.
func TestTheWalkTeachesByDoing(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{60, 20}, {80, 24}, {140, 45}} {
		d := learner(t, size[0], size[1])
		assert.Contains(t, d.words(), "Walk 1 of 5, esc leaves it. Nudge.")
		d.keys("2", "down", "down", "right", "right")
		assert.Contains(t, d.words(), "Walk 1 of 5")
		d.keys("right")
		assert.Contains(t, d.words(), "Walk 2 of 5")
		d.keys("n", "text:85.6", "down", "r", "enter")
		require.Empty(t, d.m.dialogs, d.screen())
		assert.Contains(t, d.words(), "Walk 3 of 5")
		d.keys("2", "enter", "text:-284.5", "enter")
		require.Empty(t, d.m.dialogs, d.screen())
		assert.Contains(t, d.words(), "Walk 4 of 5")
		assert.Contains(t, d.words(), "Press 5")
		d.keys("5", "down", "space")
		assert.Contains(t, d.words(), "Walk 5 of 5", d.screen())
		d.keys("u")
		assert.Nil(t, d.m.lesson)
		assert.Contains(t, d.words(), "That was the walk")
		d.keys("down")
		assert.NotContains(t, d.words(), "Walk ")
	}
}

func TestTheWalkIsLeftAndComesWhenAsked(t *testing.T) {
	t.Parallel()
	d := learner(t, 80, 24)
	d.keys("?", "esc")
	assert.Contains(t, d.words(), "Walk 1 of 5", "Esc closes the box first")
	d.keys("esc")
	assert.NotContains(t, d.words(), "Walk 1 of 5")
	d.keys("down", "right")
	assert.NotContains(t, d.words(), "Walk")
	d.m.perform(actWalk)
	d.keys("down")
	assert.Contains(t, d.words(), "Walk 1 of 5")

	own := demo(t, 80, 24)
	own.m.perform(actWalk)
	assert.Nil(t, own.m.lesson, "nobody practises on a build")
	assert.Contains(t, own.m.message.text, "fitup demo --walk")
}
