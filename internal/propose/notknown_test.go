package propose

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// block is a piece of the powertrain above a piece of the vehicle.
const block = `[[powertrain.part]]
name = "block"
from = [-200, -170, -200]
to = [560, 170, 400]
[[chassis]]
name = "axle"
from = [0, -600, -400]
to = [0, 600, -400]
radius = 35
`

// A finding that is known where the build stands and not known in part of the range: nothing
// is proposed there, whatever is asked for, and what is not known is said, with what to do.
func TestAFindingThatIsNotKnownInPartOfTheRange(t *testing.T) {
	b := parsed(t, example.PastThePinion)
	back := func(from, to float64) []Allowed {
		return []Allowed{{Of: "placement.setback", From: from, To: to, Step: 10}, {Of: "placement.rear", From: -60, To: -20, Step: 10}}
	}
	for name, w := range map[string]Wanted{
		"all that moves can change": {Moves: back(-50, 450)},
		"named":                     {Moves: back(-50, 450), Hold: []string{"line.rear.joint.*.max", "line.rear.shaft.1.mismatch"}, Tight: true},
		"only what has no bound":    {Moves: back(-50, 450), Hold: []string{"line.rear.joint.*.speed", "line.rear.joint.1.max"}},
	} {
		p, err := New(b, w)
		require.NoError(t, err, name)
		var known []bool
		each(p.axes(), func(cell []int) {
			s, all := p.at(cell), true
			p.whole(cell, s)
			for _, short := range s.short {
				all = all && !math.IsInf(short, 1)
			}
			known = append(known, all)
		})
		require.Contains(t, known, true, name)
		require.Contains(t, known, false, name)
		a := p.Run(t.Context(), nil)
		require.NotEmpty(t, a.Proposals, name)
		for i := range a.Proposals {
			after, err := b.With(a.Proposals[i].MovesTo()...)
			require.NoError(t, err)
			fresh := assess.Run(after)
			for _, c := range p.Held(&a.Proposals[i]) {
				f, ok := fresh.Finding(c.Before.ID)
				require.True(t, ok)
				require.NotEqual(t, finding.NotKnown, f.Status, "%s: %s", name, f.ID)
			}
		}
		assert.NotEmpty(t, p.NotKnownThere(), name)
		assert.Contains(t, p.NotKnownWords(), "not known in part of the range, and nothing is proposed there: ")
		assert.Contains(t, p.NotKnownWords(), "the shafts meet at 90° or more")
		assert.Contains(t, p.NotKnownWords(), "Shorten the range")
	}

	// Only there: none, and each that is not known says so instead of by how much it misses.
	p, err := New(b, Wanted{Moves: back(300, 450), Hold: []string{"line.rear.joint.1.max"}})
	require.NoError(t, err)
	a := p.Run(t.Context(), nil)
	require.True(t, a.None)
	require.Empty(t, a.Proposals)
	require.Len(t, a.Conflicts, 1)
	words := a.Conflicts[0].ShortWords(b.Units, true)
	assert.True(t, math.IsInf(a.Conflicts[0].Short, 1))
	assert.Contains(t, words, "it is not known anywhere in these ranges: ")
	assert.Contains(t, words, "the shafts meet at 90° or more")
	assert.Contains(t, words, "put that right first")

	// And where all is known nothing is said.
	p, err = New(b, Wanted{Moves: back(-50, 50)})
	require.NoError(t, err)
	p.Run(t.Context(), nil)
	assert.Empty(t, p.NotKnownWords())

	// What is not known as it stands is refused by name, and left out and named otherwise.
	bare := parsed(t, strings.Replace(example.PastThePinion, "slope = \"3 deg down to the rear\"\n", "", 1)+block)
	_, err = New(bare, Wanted{Moves: back(-50, 50), Hold: []string{"line.rear.joint.2.max"}})
	require.ErrorContains(t, err, "line.rear.joint.2.max cannot be held, it is not known: ")
	p, err = New(bare, Wanted{Moves: back(-50, 50)})
	require.NoError(t, err)
	assert.Contains(t, strings.Join(p.Left, "; "), "line.rear.joint.2.max is not known and is not held: ")
}
