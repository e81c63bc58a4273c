package ui

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Where a page leaves room, those behind it stand below or beside it, without a
// cursor and without taking a key; the page that is open keeps its own.
func TestOtherPagesUseTheRoomThatIsLeft(t *testing.T) {
	t.Parallel()
	d := demo(t, 190, 45).keys("3")
	assert.Contains(t, d.screen(), "── travel, ")
	d.keys("2", "z")
	for _, name := range []string{"── clearances ──", "── brackets, ", "── loads"} {
		assert.Contains(t, d.screen(), name)
	}
	assert.Equal(t, 1, strings.Count(d.screen(), "▸ "), "one cursor")
	assert.Contains(t, d.screen(), "steering shaft")
	d.keys("down", "down", "right")
	assert.Contains(t, d.m.message.text, "rear mount")
	assert.Equal(t, "placement", d.m.mounts().Leaf())

	small := demo(t, 60, 20)
	assert.NotContains(t, small.screen(), "── clearances", "no page is squeezed in where there is none")
}

// At 80 by 24 the cuts of the legs stand with the angles of the saw.
func TestCutsHaveTheirAnglesOnASmallScreen(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("pgdown", "pgdown")
	assert.Regexp(t, `left front +164\.4 +133\.1 +133\.1 +27\.57/0\.00 +27\.57/0\.00 ✓ ok`, d.screen())
	assert.Regexp(t, `leg, mm, deg +overall +long +short +pad cut +rail cut`, d.screen())
}

// A job's title is whole where the list has room for all of them.
func TestTitlesOfJobsAreWholeWhereThereIsRoom(t *testing.T) {
	t.Parallel()
	d := demo(t, 66, 60).keys("5")
	_, panes, _ := strings.Cut(d.screen(), "\n") // the title's counts have their own cut
	assert.NotContains(t, panes, "…")
	assert.Contains(t, d.words(), "clamp them and tack")
}
