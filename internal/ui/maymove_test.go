package ui

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fitup/internal/project"
)

// From nothing to a proposal that is tried, by keys alone: what may move is let move as it
// is offered, its steps and its work are turned, and each answer is one step that undo
// takes back.
func TestLettingThingsMove(t *testing.T) {
	t.Parallel()
	d := demo(t, 120, 45)
	before := string(d.s.Now().Bytes())
	find := func() project.Find { return d.m.now.Build.Find }
	d.keys("L")
	assert.Contains(t, flat(d), "Nothing may move yet")
	d.keys("g") // nothing to search: it stays
	assert.Contains(t, flat(d), "What may move")
	d.keys("down", "down", "space")
	require.Equal(t, []project.FindMove{{Of: "placement.rear", Range: []string{"-314.5 mm", "-264.5 mm"}, Step: "1 mm"}}, find().Moves)
	assert.Contains(t, flat(d), "51 places to try")
	d.keys("left", "+", "right", "-", "right", "+", "+", "right", "enter")
	assert.Equal(t, project.FindMove{Of: "placement.rear", Range: []string{"-313.5 mm", "-265.5 mm"}, Step: "2 mm", Work: "shim"}, find().Moves[0])
	assert.Contains(t, flat(d), "[shimmed]")
	d.keys("left", "left", "left", "3", "esc", "enter") // the lowest: typed
	d.keys("ctrl+u", "text:-300", "enter")
	assert.Equal(t, "-300", find().Moves[0].Range[0])
	d.keys("enter").keys("ctrl+u", "text:-200", "enter")
	assert.Contains(t, flat(d), "runs backwards", "and is not taken")
	d.keys("esc", "space")
	assert.Empty(t, find().Moves)
	d.keys("space")
	assert.Equal(t, "-300", find().Moves[0].Range[0], "as it was")
	d.keys("down", "space")
	assert.Contains(t, d.m.message.text, "move each other")
	require.Len(t, find().Moves, 1)

	at := func(words string) { // the row with these words
		for range 30 {
			if b := d.m.dialogs[len(d.m.dialogs)-1].(*mayMove); b.here(d.m).group != nil && b.here(d.m).group.Title == words {
				return
			}
			d.keys("down")
		}
		require.Fail(t, "no row "+words)
	}
	at("rear driveline")
	d.keys("space")
	assert.Equal(t, []string{"line.rear.**"}, find().Hold)
	d.keys("space", "space", "end")
	for range 20 {
		d.keys("down")
	}
	d.keys("space")
	assert.Equal(t, project.AcceptTight, find().Accept)
	d.keys("g")
	s := d.m.finder.last
	require.NotNil(t, s)
	require.NotEmpty(t, s.answer.Proposals)
	assert.True(t, d.m.proposalsOnTop())
	d.keys("t", "esc")
	for range 40 {
		d.keys("u")
	}
	assert.Equal(t, before, string(d.s.Now().Bytes()))
}

// Every cell is seen at every size, in either set of signs.
func TestWhatMayMoveAtEverySize(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 36}} {
		d := drive(t, asking(`"line.rear.**"`), size[0], size[1])
		d.keys("L", "e", "down", "down")
		for _, words := range []string{"from [-300 mm]", "to -276 mm", "by 4 mm", "cut anew"} {
			assert.Contains(t, flat(d), words, size)
		}
		d.keys("down", "down", "down", "down", "down", "down", "right", "right", "right")
		for _, words := range []string{"pinion slope", "from 2 deg down to the rear", "to 6 deg down to the rear", "by 1 deg", "[wedged]"} {
			assert.Contains(t, flat(d), words, size)
		}
	}
}

// What the file says of what may move and is not there to be moved can be taken out.
func TestWhatMayMoveAndIsGone(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(string(asking(``))+"\n[[find.move]]\nof = \"line.front.pinion.slope\"\n"), 120, 45)
	d.keys("L", "e")
	for range 30 {
		if b := d.m.dialogs[len(d.m.dialogs)-1].(*mayMove); b.here(d.m).entry == 2 {
			break
		}
		d.keys("down")
	}
	assert.Contains(t, flat(d), "line.front.pinion.slope: it is not there to be moved")
	d.keys("enter", "esc", "left", "+", "space")
	assert.Len(t, d.m.now.Build.Find.Moves, 2)
}
