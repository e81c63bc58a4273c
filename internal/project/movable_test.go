package project_test

import (
	"math"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every movable takes a value and reads it back, and the build it was made from
// stays as it was.
func TestMovablesReadWhatTheyAreMovedTo(t *testing.T) {
	b := demoBuild(t)
	moved := 0
	for _, m := range b.Movables() {
		was, err := b.Reads(m)
		require.NoError(t, err, m.Path())
		to := was + 0.01
		c, err := b.With(project.Move{Of: m, To: to})
		require.NoError(t, err, m.Path())
		got, err := c.Reads(m)
		require.NoError(t, err)
		assert.InDelta(t, to, got, 1e-9, m.Path())
		still, err := b.Reads(m)
		require.NoError(t, err)
		assert.InDelta(t, was, still, 1e-12, "%s of the build it was made from", m.Path())
		same, err := b.MovableNamed(m.Path())
		require.NoError(t, err)
		assert.Equal(t, m, same)
		moved++
	}
	assert.Greater(t, moved, 9, "rows, pinion and yokes at least")
}

// A reading of a pinion that was turned holds no longer; one of the powertrain
// goes along with a move of it and keeps where it was taken.
func TestReadingsOfWhatIsMoved(t *testing.T) {
	b := demoBuild(t)
	pinion := project.Reading{Of: b.Lines[0].PinionTarget()}
	b.Readings = append(b.Readings, pinion)
	m, err := b.MovableNamed("line." + b.Lines[0].Name + ".pinion.slope")
	require.NoError(t, err)
	c, err := b.With(project.Move{Of: m, To: 0.1})
	require.NoError(t, err)
	for _, r := range c.Readings {
		assert.NotEqual(t, pinion.Of, r.Of)
	}
	assert.Contains(t, b.Readings, pinion)

	row, err := b.MovableNamed("placement.rear")
	require.NoError(t, err)
	d, err := b.With(project.Move{Of: row, To: -100})
	require.NoError(t, err)
	assert.Len(t, d.Readings, len(b.Readings))
}

func TestWhatCannotBeMoved(t *testing.T) {
	b := demoBuild(t)
	_, err := b.MovableNamed("placement.raer")
	require.ErrorContains(t, err, "placement.rear?")
	m, err := b.MovableNamed("line." + b.Lines[0].Name + ".pinion.slope")
	require.NoError(t, err)
	_, err = (&project.Build{}).With(project.Move{Of: m, To: 1})
	require.ErrorContains(t, err, "there is no line")
	row, err := b.MovableNamed("placement.tilt")
	require.NoError(t, err)
	_, err = b.With(project.Move{Of: row, To: math.Pi})
	require.Error(t, err)
	_, err = (&project.Build{}).With(project.Move{Of: row, To: 0.1})
	require.ErrorContains(t, err, "powertrain.pads.left_front")
}

func demoBuild(t *testing.T) *project.Build {
	t.Helper()
	f, err := project.Parse("demo.toml", starter.Demo())
	require.NoError(t, err)
	return f.Build
}
