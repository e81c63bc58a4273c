package project

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a rail says of itself that cannot be is named where it stands, and what would do.
func TestRailsRefused(t *testing.T) {
	const head = "format = 3\n[rails.left]\npoints = [[-400, -380, 0], [4000, -380, 0]]\nheight = 150\nwidth = 60\n"
	length := func(more string) string {
		return "[[rails.left.length]]\nsection = \"channel 150x60x5\"\n" + more
	}
	support := func(name, at string) string {
		return "[[rails.left.support]]\nname = \"" + name + "\"\nat = " + at + "\n"
	}
	for name, c := range map[string]struct{ text, at, want string }{
		"out of order":       {length("to = 1800\n") + length("to = 1500\n"), ":9:1: rails.left.length.2", "front to rear"},
		"no end":             {length("") + length("to = 1500\n"), ":6:1: rails.left.length.1", "want to ="},
		"behind the rail":    {length("to = 4200\n"), ":6:1: rails.left.length.1", "behind the rail's last point"},
		"no such section":    {"[[rails.left.length]]\nsection = \"PFC 150x75x19\"\n", "rails.left.length.1", "nearest are PFC 150x75x18"},
		"sizes of another":   {"[[rails.left.length]]\nsection = \"channel 150x60\"\n", "rails.left.length.1", "height, width and wall"},
		"no tube":            {"[[rails.left.length]]\nsection = \"tube 60x40\"\n", "rails.left.length.1", "wall of 40 mm"},
		"plate, no place":    {length("plate = 6\n"), "rails.left.length.1", "want plated"},
		"plated, no plate":   {length("plated = \"outside\"\n"), "rails.left.length.1", "want plate ="},
		"plate too wide":     {length("plated = \"outside\"\nplate = 6\nplate_width = 160\n"), "rails.left.length.1", "it lies on 150 mm"},
		"two kinds":          {length("to_section = \"box 100x50x4\"\n"), "rails.left.length.1", "one kind"},
		"folded, uneven":     {"[[rails.left.length]]\nacross = [0, 60]\nup = [0]\nwall = 5\n", "rails.left.length.1", "one of each"},
		"folded, no wall":    {"[[rails.left.length]]\nacross = [0, 60]\nup = [0, 0]\n", "rails.left.length.1", "want wall"},
		"folded and plated":  {"[[rails.left.length]]\nacross = [0, 60]\nup = [0, 0]\nwall = 5\nplated = \"top\"\nplate = 5\n", "rails.left.length.1", "no plates"},
		"was nothing":        {length("was = \"PFC 9x9x9\"\n"), "rails.left.length.1", "before"},
		"stretched too far":  {length("to = 500\n") + length("to = 700\nstretched = 300\n"), "rails.left.length.2", "put in"},
		"plate past the end": {length("") + "[[rails.left.splice]]\nat = 3900\nkind = \"fish plate\"\nlength = 400\n", "rails.left.splice.1", "off the rail"},
		"plate too long":     {length("") + "[[rails.left.splice]]\nat = 1000\nkind = \"fish plate\"\nlength = 9000\n", "rails.left.splice.1", "the whole rail is"},
		"splice off":         {length("") + "[[rails.left.splice]]\nat = 9000\nkind = \"butt\"\n", "rails.left.splice.1", "off the rail"},
		"splice, no kind":    {length("") + "[[rails.left.splice]]\nat = 900\n", "rails.left.splice.1", "want kind"},
		"butt with a plate":  {length("") + "[[rails.left.splice]]\nat = 900\nkind = \"butt\"\nplate = 5\n", "rails.left.splice.1", "butt with plates"},
		"hole off":           {"[[rails.left.hole]]\nat = 9000\nin = \"web\"\ndiameter = 20\n", "rails.left.hole.1", "off the rail"},
		"hole too low":       {"[[rails.left.hole]]\nat = 900\nin = \"web\"\ndiameter = 20\nup = 5\n", "rails.left.hole.1", "does not lie in a web"},
		"one place":          {support("a", "10") + support("b", "10"), ":6:1: rails.left.support.1", "two supports apart"},
		"support off":        {support("a", "10") + support("b", "4100"), "rails.left.support.2", "off the rail"},
		"twice":              {support("a", "10") + support("a", "400"), "rails.left.support.2", "each needs its own name"},
		"no name":            {"[[rails.left.support]]\nat = 10\n" + support("b", "300"), "rails.left.support.1", "without a name"},
		"like itself":        {"like = \"left\"\n", ":6:8: rails.left.like", "the other side"},
		"like nothing":       {"like = \"right\"\n", "rails.left.like", "of which nothing is said"},
		"like and own":       {"like = \"right\"\n" + length(""), "rails.left.like", "one or the other"},
		"load off":           {"[[rails.load]]\nname = \"cab\"\nmass = \"200 kg\"\nat = 100\nto = 4300\n", ":6:1: rails.load.1", "off the left rail"},
		"load backward":      {"[[rails.load]]\nname = \"cab\"\nmass = \"200 kg\"\nat = 900\nto = 300\n", "rails.load.1", "in front of"},
		"load without mass":  {"[[rails.load]]\nname = \"cab\"\nat = 900\n", "rails.load.1", "want mass"},
		"load without name":  {"[[rails.load]]\nmass = \"9 kg\"\nat = 900\n", "rails.load.1", "want name"},
		"load nowhere":       {"[[rails.load]]\nname = \"cab\"\nmass = \"9 kg\"\n", "rails.load.1", "want at"},
	} {
		_, err := Parse("t.toml", []byte(head+c.text))
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.at, name)
		assert.Contains(t, err.Error(), c.want, name)
		assert.NotContains(t, err.Error(), "%!", name)
		assert.NotContains(t, strings.ToLower(err.Error()), "invalid", name)
	}
}

// A rail like the other takes what that one says of itself, and keeps its own edge.
func TestRailLikeTheOther(t *testing.T) {
	f, err := Parse("t.toml", []byte("format = 3\n[rails.left]\npoints = [[-400, -380, 0], [4000, -380, 0]]\n[[rails.left.length]]\nsection = \"channel 6x2-1/2x1/4 in\"\n[rails.right]\nlike = \"left\"\npoints = [[-400, 381, 0], [4010, 380, 0]]\n"))
	require.NoError(t, err)
	r := f.Build.Rails.Rail(RightSide)
	require.Len(t, r.Lengths, 1)
	ends, ok := r.Ends()
	require.True(t, ok)
	assert.Equal(t, []float64{4010}, ends)
	s, err := RailShape("rail", r.Lengths[0].Section, -1, f.Build.Units)
	require.NoError(t, err)
	assert.InDelta(t, 152.4, s.H, 1e-9)
	assert.InDelta(t, 63.5, s.B, 1e-9)
	assert.InDelta(t, 6.35, s.T, 1e-9)
	assert.InDelta(t, 6.35, s.InnerRadius, 1e-9)
}
