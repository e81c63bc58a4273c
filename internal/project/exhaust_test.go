package project

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const soundExhaust = `format = 3
[[powertrain.exhaust]]
name = "down pipe"
points = [[300, 190, 60], [420, 260, 60], [420, 260, -180], [760, 260, -230]]
bend = 60
diameter = 57
[[exhaust]]
name = "tail pipe"
from = "down pipe"
points = [[1200, 260, -300], [2400, 300, -250]]
diameter = 57
heat_gap = 30
[[chassis]]
name = "firewall"
on = [900, 0, 0]
facing = "front"
opening = [[900, -200, -150], [900, 200, 250]]
[[chassis]]
name = "floor"
on = [0, 0, 100]
facing = "down"
opening = [[900, -200, 100], [1800, 200, 100]]
`

func TestPipesAndOpeningsThatCannotBe(t *testing.T) {
	f, err := Parse("x.toml", []byte(soundExhaust))
	require.NoError(t, err)
	middle, across, up, ok := f.Build.Chassis[1].OpeningAxes()
	require.True(t, ok)
	assert.InDelta(t, 1350, middle.X, 1e-9)
	assert.InDelta(t, 200, across.Y, 1e-9)
	assert.InDelta(t, 450, up.X, 1e-9)
	for name, c := range map[string]struct{ from, to, want string }{
		"one point":          {"[[1200, 260, -300], [2400, 300, -250]]", "[[1200, 260, -300]]", "x.toml:10:10: exhaust.1.points: a pipe of one point has no length"},
		"one place":          {"[2400, 300, -250]]", "[1200, 260, -300]]", "points 1 and 2 of the pipe are one place"},
		"bend too large":     {"bend = 60", "bend = 200", "bends of 200.0 mm take"},
		"bends of two":       {"bend = 60", "bend = 150", "from point"},
		"turns back":         {"[760, 260, -230]", "[420, 260, 100]", "turns back on itself at point 3"},
		"no diameter":        {"diameter = 57\n[[exhaust]]", "diameter = 0\n[[exhaust]]", "a pipe has a diameter above 0"},
		"no name":            {"name = \"tail pipe\"\n", "", "the pipe has no name"},
		"two of a name":      {"name = \"tail pipe\"", "name = \"down pipe\"", "there are two pipes called"},
		"no such pipe":       {"from = \"down pipe\"", "from = \"dwn pipe\"", "there is no [[powertrain.exhaust]] called \"dwn pipe\"; did you mean \"down pipe\"?"},
		"reversed":           {"[[900, -200, -150], [900, 200, 250]]", "[[900, 200, 250], [900, -200, -150]]", "x.toml:17:11: chassis.1.opening: the corners of the opening are the wrong way round"},
		"left and right":     {"[[900, -200, -150], [900, 200, 250]]", "[[900, 200, -150], [900, -200, 250]]", "the wrong way round"},
		"rear before front":  {"[[900, -200, 100], [1800, 200, 100]]", "[[1800, -200, 100], [900, 200, 100]]", "the wrong way round"},
		"a corner too many":  {"[900, 200, 250]]", "[900, 200, 250], [900, 0, 0]]", "an opening has two corners"},
		"in a box":           {"on = [900, 0, 0]\nfacing = \"front\"", "from = [890, -500, 0]\nto = [900, 500, 600]", "an opening is in a flat surface"},
		"own frame by point": {"[300, 190, 60]", "\"point.manifold\"", "own frame"},
		"negative gap":       {"heat_gap = 30", "heat_gap = -30", "heat_gap"},
	} {
		require.Contains(t, soundExhaust, c.from, name)
		_, err := Parse("x.toml", []byte(strings.Replace(soundExhaust, c.from, c.to, 1)))
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.want, name)
	}
}
