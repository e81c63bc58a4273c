package book

import (
	"strings"
	"testing"

	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
)

// The book says where the powertrain was measured to hang, against the plan, and what was
// measured with what is left of it; nothing of it where nothing was measured to a mark.
func TestThePowertrainAsMeasured(t *testing.T) {
	text := chapterText(t, assessed(t, example.Marked), "readings")
	for _, want := range []string{"rear mount | ", "as planned, within its ±", "| rail l to flange | ", "the powertrain's slope by gauge | ", "powertrain as measured, against planned | ok"} {
		assert.Contains(t, text, want)
	}
	raised := chapterText(t, assessed(t, strings.Replace(example.Marked, "rear = -184", "rear = -150", 1)), "readings")
	assert.Contains(t, raised, "lower at the rear mount than planned")
	none, _, _ := strings.Cut(example.Marked, "[[measure]]")
	assert.NotContains(t, chapterText(t, assessed(t, none), "readings"), "by gauge, tape and level")
}

// It says where an axle was measured to stand, against where it is planned.
func TestTheAxleAsMeasured(t *testing.T) {
	text := chapterText(t, assessed(t, example.MarkedAxle()), "readings")
	for _, want := range []string{"Axle of line rear by gauge, tape and level", "joint at the pinion, height | ", "| rail lb to tube left | ", "rear axle as measured, against planned | ok"} {
		assert.Contains(t, text, want)
	}
	raised := chapterText(t, assessed(t, strings.Replace(example.MarkedAxle(), "at = [2900, 0, -230]", "at = [2900, 0, -210]", 1)), "readings")
	assert.Contains(t, raised, "mm lower than planned")
}
