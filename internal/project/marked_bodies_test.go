package project

import (
	"strings"
	"testing"

	small "fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A mark that is no point, that stands twice or that something else has for its own is
// refused, each with what to do.
func TestMarksThatCannotBe(t *testing.T) {
	for _, c := range []struct{ from, to, says string }{
		{"[point.pulley]\n", "", "there is no [point.pulley]"},
		{"at = \"point.flange\"", "at = \"point.pulley\"", "is a mark already"},
		{"[point.rail_l]", "[survey]\nleft = [\"point.flange\"]\nright = [\"point.rail_r\"]\n[point.rail_l]", "the survey has point.flange among the points of the frame"},
		{"[point.rail_l]", "[[subframe.front.point]]\nat = \"point.flange\"\nbench = [0, 0, 0]\n[point.rail_l]", "is a point of a subframe"},
	} {
		_, err := Parse("x.toml", []byte(strings.Replace(small.Marked, c.from, c.to, 1)))
		require.Error(t, err, c.says)
		assert.Contains(t, err.Error(), c.says)
	}
}

// What was measured to a mark keeps where the powertrain hung then when that is moved.
func TestMeasuredToAMarkKeepsItsPlace(t *testing.T) {
	f, err := Parse("x.toml", []byte(small.Marked))
	require.NoError(t, err)
	_, at, err := f.Build.Seat()
	require.NoError(t, err)
	at.Rear += 7
	moved := f.Build.Placed(at)
	for i, m := range moved.Measurements {
		assert.InDelta(t, f.Build.Placement.Rear.V(), m.Placed.Rear.V(), 1e-9, "%d", i)
	}
	assert.False(t, f.Build.Measurements[0].Placed.Any(), "the build itself is as it was")
	assert.True(t, f.Build.HangsLoose(&f.Build.Measurements[0]))
	assert.False(t, f.Build.HangsLoose(&Measurement{From: "point.rail_l", To: "point.rail_r"}))
}
