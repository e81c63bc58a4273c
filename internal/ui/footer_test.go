package ui

import (
	"fmt"
	"strings"
	"testing"

	"fitup/internal/project/starter"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// words are the words of the screen, however they are broken into lines.
func (d *driver) words() string { return strings.Join(strings.Fields(d.screen()), " ") }

// Save, undo, findings, the pages, help and the way out stand in the footer of
// every pane at every size.
func TestTheFooterHasWhatNobodyCanDoWithout(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{60, 20}, {79, 40}, {80, 24}, {120, 36}, {140, 45}} {
		for p := range benchPanes {
			d := demo(t, size[0], size[1]).keys(fmt.Sprint(p + 1))
			plan := d.m.plan()
			lines := strings.Split(d.screen(), "\n")
			foot := strings.Join(lines[plan.Footer.Y:], " ")
			for _, want := range []string{"f findings", "u undo", "s save", "? help", "q quit"} {
				assert.Contains(t, foot, want, "%v, pane %d", size, p+1)
			}
			assert.Equal(t, layout.Slot(p) != layout.Sketch, strings.Contains(foot, "pgdn page"), "%v, pane %d", size, p+1)
		}
	}
}

// A message stands there whole, in as many rows as it takes; one that is longer
// than any screen has room for can be read in full.
func TestAMessageIsNeverCutUnsaid(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{60, 20}, {80, 24}, {140, 45}} {
		d := demo(t, size[0], size[1])
		const long = "Not changed: the reading of the pinion has no direction; which end is lower, front or rear? Say it with Left or Right, and press Enter to take it."
		d.m.say(theme.Danger, "%s", long)
		d.keys("down")
		assert.Contains(t, d.words(), long, "%v", size)
		endless := strings.Repeat("word ", 300) + "end"
		d.m.say(theme.Danger, "%s", endless)
		d.keys("up")
		assert.Contains(t, d.words(), "(M shows it whole)")
		d.keys("M")
		require.Len(t, d.m.dialogs, 1)
		all := ""
		for range 40 {
			all += d.screen()
			d.keys("pgdown")
		}
		assert.Contains(t, all, "end ")
		assert.Contains(t, strings.Join(strings.Fields(all), " "), "Not changed: the reading", "what was said before is there too")
		d.keys("M")
		assert.Empty(t, d.m.dialogs)
	}
}

// A list that shows only a part of itself says how much there is above and below.
func TestScrollingSaysHowMuchThereIs(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("pgdown", "pgdown")
	assert.Equal(t, "brackets", d.m.mounts().Leaf())
	first := d.screen()
	assert.Regexp(t, `[0-9]+ below ━┛`, first)
	assert.NotContains(t, first, "above")
	for range 12 {
		d.keys("down")
	}
	assert.Regexp(t, `[0-9]+ above, [0-9]+ below ━┛`, d.screen())
	for range 60 {
		d.keys("down")
	}
	assert.Regexp(t, `[0-9]+ above ━┛`, d.screen())
	d.keys("z")
	d.keys("pgup", "pgup")
	assert.NotContains(t, d.screen(), "below", "a page that is whole says nothing")
}

// Pages turn with keys that every keyboard has.
func TestPagesTurnWithoutBrackets(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	first := d.screen()
	d.keys("pgdown")
	assert.Equal(t, "clearances", d.m.mounts().Leaf())
	d.keys("pgup")
	assert.Equal(t, first, d.screen())
}

// Keys that change much at once say how that is taken back, and one key does.
func TestWhatChangesMuchSaysHowItIsTakenBack(t *testing.T) {
	t.Parallel()
	for _, keys := range [][]string{{"5", "o"}, {"5", "x", "y"}, {"3", "x"}} {
		d := demo(t, 80, 24).keys(keys...)
		require.NotEqual(t, string(starter.Demo()), d.bytes(), "%v", keys)
		assert.Contains(t, d.m.message.text, "u takes it back", "%v", keys)
		same(t, string(starter.Demo()), d.keys("u").bytes())
	}
}

// That there is unsaved work stands in the title at every size, and every count.
func TestTheTitleSaysUnsavedAtEverySize(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{60, 20}, {80, 24}, {140, 45}} {
		d := demo(t, size[0], size[1])
		d.m.scratch = true
		d.keys("right")
		title, _, _ := strings.Cut(d.screen(), "\n")
		assert.Contains(t, title, "  unsaved ")
		for s, n := range d.m.now.Count() {
			assert.Contains(t, title, fmt.Sprintf("%s %d ", d.m.theme.Sign(pane.Status(s)), n), "%v", size)
		}
	}
}
