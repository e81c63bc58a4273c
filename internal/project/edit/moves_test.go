package edit

import (
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Moves written into a file read back as what the build is with them, and what was read
// of a pinion that is turned is not in it any more.
func TestMovesWrittenAreTheMovesTried(t *testing.T) {
	f, err := project.Parse("build.toml", starter.Demo())
	require.NoError(t, err)
	var moves []project.Move
	for _, of := range []string{"placement.rear", "placement.offset", "line.rear.pinion.slope", "line.rear.shaft.1.yoke_offset"} {
		m, err := f.Build.MovableNamed(of)
		require.NoError(t, err)
		now, err := f.Build.Reads(m)
		require.NoError(t, err)
		moves = append(moves, project.Move{Of: m, To: now + 0.01})
	}
	edits, gone, err := Moves(f, moves...)
	require.NoError(t, err)
	g, err := Apply(f, edits...)
	require.NoError(t, err)
	want, err := f.Build.With(moves...)
	require.NoError(t, err)
	for _, m := range moves {
		at, err := g.Build.Reads(m.Of)
		require.NoError(t, err)
		assert.InDelta(t, m.To, at, 1e-8, m.Of.Path())
	}
	assert.Len(t, g.Build.Readings, len(want.Readings))
	assert.Equal(t, len(want.Readings) < len(f.Build.Readings), len(gone) > 0)
	for _, r := range g.Build.Readings {
		assert.NotContains(t, gone, r.Of)
	}
}
