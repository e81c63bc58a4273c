package edit

import (
	"math"
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

// What is moved goes by steps from where it stands, so nobody knows better than before
// where that is: each ± stays, of what is moved and of what is not, in the build as it is
// tried and in the file.
func TestMovesKeepThePlusMinus(t *testing.T) {
	for _, c := range []struct{ rear, slope, moved, turned string }{
		{`"-95.9 mm ± 1"`, `"4.8 deg ± 0.15 down to the rear"`, `"-90.5 mm ± 1"`, `"5.5 deg ± 0.15 down to the rear"`},
		{`"-95.9 ± 1 mm"`, `"4.8 ± 0.15 deg down to the rear"`, `"-90.5 mm ± 1"`, `"5.5 deg ± 0.15 down to the rear"`},
		{`"-95.9 +- 1.5 mm"`, `"4.8 deg +/- 0.2 down to the rear"`, `"-90.5 mm ± 1.5"`, `"5.5 deg ± 0.2 down to the rear"`},
		{`-95.9`, `"4.8 deg down to the rear"`, `-90.5`, `"5.5 deg down to the rear"`},
	} {
		f, err := project.Parse("build.toml", []byte("format = 3\n[powertrain]\noutput = [1395, 0, 0]\n[powertrain.pads]\nleft_front = [0, -250, -60]\nright_front = [0, 250, -60]\nrear = [1250, 0, -110]\n"+
			"[placement]\nleft_front = \"52 mm ± 1\"\nright_front = 52\nrear = "+c.rear+"\nsetback = \"140 mm ± 1.5\"\n[line.rear.pinion]\nat = [3010, 0, -52]\nslope = "+c.slope+"\n"))
		require.NoError(t, err)
		var moves []project.Move
		for of, to := range map[string]float64{"placement.rear": -90.5, "line.rear.pinion.slope": 5.5 * math.Pi / 180} {
			m, err := f.Build.MovableNamed(of)
			require.NoError(t, err)
			moves = append(moves, project.Move{Of: m, To: to})
		}
		edits, _, err := Moves(f, moves...)
		require.NoError(t, err)
		g, err := Apply(f, edits...)
		require.NoError(t, err)
		rear, _ := g.Raw("placement.rear")
		slope, _ := g.Raw("line.rear.pinion.slope")
		assert.Equal(t, c.moved, rear)
		assert.Equal(t, c.turned, slope)
		tried, err := f.Build.With(moves...)
		require.NoError(t, err)
		for _, b := range []*project.Build{g.Build, tried} {
			before, after := f.Build.StatedValues(), b.StatedValues()
			require.Len(t, after, len(before))
			for i := range before {
				assert.Equal(t, before[i].Path, after[i].Path)
				assert.InDelta(t, before[i].Half, after[i].Half, 1e-12)
			}
		}
	}
}
