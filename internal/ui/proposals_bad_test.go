package ui

import (
	"strings"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	small "fitup/internal/project/example"
	"fitup/internal/project/starter"
	"fitup/internal/propose"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// movesBy is a thing that may move, as a file has it.
func movesBy(of, from, to, step string) string {
	return "[[find.move]]\nof = \"" + of + "\"\nrange = [\"" + from + "\", \"" + to + "\"]\nstep = \"" + step + "\"\n"
}

// tooMany lets more things of the demo move than can be searched.
func tooMany(t *testing.T) string {
	t.Helper()
	const most = propose.MostMoves + 1
	f, err := project.Parse("build.toml", starter.Demo())
	require.NoError(t, err)
	var out strings.Builder
	n := 0
	for _, o := range propose.Offers(assessed(f)) {
		if n < most && o.Cannot == "" {
			out.WriteString(movesBy(o.Move.Of, o.Move.Range[0], o.Move.Range[1], o.Move.Step))
			n++
		}
	}
	require.Equal(t, most, n)
	return out.String()
}

// What cannot be searched is said in the box, with what to do, and nothing is proposed.
func TestWhatCannotBeSearchedIsSaid(t *testing.T) {
	t.Parallel()
	rear := movesBy("placement.rear", "-300 mm", "-276 mm", "4 mm")
	for name, c := range map[string]struct{ find, want string }{
		"unknown finding": {"[find]\nhold = [\"line.rear.joint.2.mux\"]\n" + rear, "no finding line.rear.joint.2.mux to hold; did you mean line.rear.joint.2.max?"},
		"too many move":   {tooMany(t), "9 things may move; at most 8 can be searched at once"},
		"move each other": {rear + movesBy("placement.lift", "-10 mm", "10 mm", "1 mm"), "move each other"},
		"tiny steps":      {movesBy("placement.rear", "-300 mm", "-276 mm", "0.001 mm"), "take larger steps or a shorter range"},
	} {
		d := drive(t, append(starter.Demo(), c.find...), 120, 45)
		d.keys("L", "g")
		s := d.m.finder.last
		require.NotNil(t, s, name)
		require.True(t, s.done, name)
		assert.Contains(t, flat(d), c.want, name)
		d.keys("t")
		assert.Contains(t, d.m.message.text, "no proposal here yet", name)
	}
}

// A range that runs backwards and a step of nothing are refused where they are typed, and
// when a file with them is opened.
func TestARangeThatIsNoneIsRefusedWhereItIsTyped(t *testing.T) {
	t.Parallel()
	rear := movesBy("placement.rear", "-300 mm", "-276 mm", "4 mm")
	for find, want := range map[string]string{
		movesBy("placement.rear", "-276 mm", "-300 mm", "4 mm"): "runs backwards", movesBy("placement.rear", "-300 mm", "-276 mm", "0 mm"): "step", rear + rear: "may move already",
	} {
		_, err := project.Parse("build.toml", append(starter.Demo(), find...))
		require.ErrorContains(t, err, want)
	}
	d := drive(t, append(starter.Demo(), rear...), 120, 45)
	before := d.bytes()
	for path, want := range map[string]string{
		`find.move[0].step="0 mm"`: "step", `find.move[0].range=["-276 mm", "-300 mm"]`: "backwards",
	} {
		at, literal, _ := strings.Cut(path, "=")
		assert.False(t, d.m.do("typed", edit.Edit{Op: edit.OpSet, Path: at, Text: literal}), path)
		assert.Contains(t, d.m.message.text, want, path)
		assert.Equal(t, before, d.bytes(), path)
	}
}

// What is not known in part of the range is said with the proposals.
func TestWhatIsNotKnownInPartOfTheRangeIsSaid(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte(small.PastThePinion+movesBy("placement.setback", "-50 mm", "450 mm", "10 mm")), 120, 45)
	d.keys("L", "g")
	require.NotEmpty(t, d.m.finder.last.answer.Proposals)
	assert.Contains(t, flat(d), "not known in part of the range, and nothing is proposed there")
	assert.Contains(t, flat(d), "Shorten the range to where it is known")
}
