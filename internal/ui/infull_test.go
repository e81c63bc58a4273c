package ui

import (
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/starter"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a pane cuts is marked with the key that shows it, and that key shows all of it, on
// every page of every pane and on the data page.
func TestWhatIsCutCanBeReadInFull(t *testing.T) {
	t.Parallel()
	cut := 0
	d := demo(t, 80, 24)
	for p := range benchPanes[1:] {
		d.keys(string(rune('2' + p)))
		for range d.m.panes[p+1].(pane.Paged).Leafs() {
			d.keys("down", "down")
			told, ok := d.m.panes[p+1].(pane.Telling)
			require.True(t, ok)
			_, words := told.Tell(d.m.view(layout.Slot(p + 1)))
			if !strings.Contains(d.words(), "(h: in full)") {
				d.keys("]")
				continue
			}
			cut++
			require.NotEmpty(t, words)
			d.keys("h")
			box := d.m.dialogs[0]
			_, _, lines := box.draw(d.m, 78, 200)
			shown := strings.Join(strings.Fields(strings.Join(lines, " ")), " ")
			for _, w := range words {
				assert.Contains(t, shown, strings.Join(strings.Fields(project.Printable(w)), " "))
			}
			d.keys("esc", "]")
		}
	}
	assert.Greater(t, cut, 3)
	d.keys("d")
	require.True(t, d.m.data.Go("mount.left_front.leg.section"))
	d.keys("h")
	_, words := d.m.data.InFull()
	require.NotEmpty(t, words)
	require.IsType(t, &inFull{}, d.m.dialogs[len(d.m.dialogs)-1])
	d.keys("h")
	require.True(t, d.m.dataOnTop())
	same(t, string(starter.Demo()), d.bytes())
}

// The terminal's cursor stands in the text that is searched for while that is typed, and
// on the row under the cursor once one goes through the list.
func TestTheCursorIsInTheListThatIsSearched(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24).keys("/", "text:mount")
	field := d.m.caret
	d.keys("down")
	on := strings.Split(d.screen(), "\n")[d.m.caret.Y]
	assert.Greater(t, d.m.caret.Y, field.Y)
	assert.Contains(t, on, d.m.theme.Focus)
	d.keys("down")
	assert.Contains(t, strings.Split(d.screen(), "\n")[d.m.caret.Y], d.m.theme.Focus)
	d.keys("text:s")
	assert.Equal(t, field.Y, d.m.caret.Y, "typing again")
}

// A finding in the list of them, and what a job waits for, is lit in the sketch, which the
// list leaves in sight where there is room.
func TestTheSketchShowsWhatFindingsAndJobsAreAbout(t *testing.T) {
	t.Parallel()
	d := demo(t, 140, 45)
	plain := d.sketched()
	d.keys("f")
	assert.Equal(t, worstFirst(d.m.now)[0].ID, d.m.view(layout.Sketch).Subject)
	assert.Contains(t, d.screen(), "1 Sketch: ", "it is left in sight")
	d.keys("down", "down", "down", "esc")
	assert.Equal(t, plain, d.sketched())
	lit := false
	for i := range d.m.now.Jobs {
		d.toJob(i)
		lit = lit || d.m.view(layout.Sketch).Subject != ""
	}
	assert.True(t, lit)
}

// Pages without anything say what to do once, not on every page.
func TestAnEmptyPageIsNotRepeated(t *testing.T) {
	t.Parallel()
	d := drive(t, starter.New(), 140, 60).keys("4", "z")
	assert.Equal(t, 1, strings.Count(d.screen(), "No survey of the frame yet"))
}
