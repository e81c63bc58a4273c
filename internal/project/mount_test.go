package project

import (
	"strings"
	"testing"

	"fitup/internal/geom/seat"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A piece or a mount that cannot be is refused by name, at its line.
func TestPiecesThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"negative mass":         {"[powertrain]\nmass = -3\n", "b.toml:3:8: powertrain.mass: "},
		"negative radius":       {"[[chassis]]\nname = \"rack\"\nat = [0, 0, 0]\nradius = -4\n", "b.toml:5:10: chassis.1.radius: radius cannot be negative"},
		"two places":            {"[[chassis]]\nname = \"rack\"\nat = [0, 0, 0]\nfrom = [0, 0, 0]\n", "the part \"rack\" has both at and from or to"},
		"rod without length":    {"[[powertrain.part]]\nname = \"dipstick\"\nfrom = [1, 1, 1]\nto = [1, 1, 1]\nradius = 4\n", "the part \"dipstick\" begins where it ends"},
		"surface and box":       {"[[chassis]]\nname = \"floor\"\non = [0, 0, 0]\nfrom = [0, 0, 0]\n", "the part \"floor\" is a flat surface by on and facing"},
		"faces two ways":        {"[[chassis]]\nname = \"floor\"\non = [0, 0, 0]\nfacing = \"up\"\nnormal = [0, 0, 1]\n", "has both facing and normal"},
		"faces nowhere":         {"[[chassis]]\nname = \"floor\"\non = [0, 0, 0]\nnormal = [0, 0, 0]\n", "a normal without a direction"},
		"faces sideways":        {"[[chassis]]\nname = \"floor\"\non = [0, 0, 0]\nfacing = \"sideways\"\n", "want one of: up, down, front, rear, left, right"},
		"no name":               {"[[chassis]]\nat = [0, 0, 0]\n", "b.toml:2:"},
		"name twice":            {"[[chassis]]\nname = \"rack\"\n[[chassis]]\nname = \"rack\"\n", "the name \"rack\" stands at line 2 already"},
		"mount without a place": {"[mount.gearbox]\nholds = \"captive\"\n", "b.toml:2:1: mount.gearbox: the gearbox mount has no place"},
		"mount with two places": {"[mount.left_front]\nat = [0, 0, 0]\n", "b.toml:3:6: mount.left_front.at: the left front mount stands at powertrain.pads.left_front"},
		"round and square":      {"[mount.rear]\ndiameter = 60\nwidth = 30\n", "the rear mount has both a diameter and a length or width"},
		"solid with rubber":     {"[mount.rear]\nholds = \"solid\"\nhardness = 50\n", "the rear mount is bolted solid, so it has no rubber"},
		"rate of nothing":       {"[mount.rear]\nrate_up = 0\n", "b.toml:3:11: mount.rear.rate_up: rate_up of the rear mount has to be more than 0"},
		"rate in the wrong way": {"[mount.rear]\nrate_up = \"30 mm\"\n", "b.toml:3:11: mount.rear.rate_up: "},
		"held by what":          {"[mount.rear]\nholds = \"glue\"\n", "want one of: captive, bonded only, solid"},
		"load that is none":     {"[loads]\nbraking = -1\n", "b.toml:3:11: loads.braking: a limit cannot be negative"},
		"load nobody knows":     {"[loads]\nbrakng = 1\n", "did you mean \"braking\"?"},
		"loads as a value":      {"loads = 3\n", "want a table, like [loads]"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("b.toml", []byte("format = 1\n"+c.text))
			var ps Problems
			require.ErrorAs(t, err, &ps)
			require.Len(t, ps, 1, "%v", err)
			assert.Contains(t, ps[0].Error(), c.want)
		})
	}
}

func TestMountsThatCarry(t *testing.T) {
	b := parse(t, "format = 1\n[mount.rear]\nfit_up_only = true\n[mount.left_rear]\nat = [1, 2, 3]\n[mount.left_front]\nholds = \"bonded only\"\n").Build
	var names []string
	for _, m := range b.CarryingMounts() {
		names = append(names, m.Name)
	}
	assert.Equal(t, []string{"left_front", "right_front", "left_rear"}, names)
	assert.Equal(t, BondedOnly, b.Mount("left_front").Holds)
	assert.Equal(t, seat.BondedOnly, b.Mount("left_front").Holds.Construction())
	assert.Equal(t, "mount.left_rear.at", b.Mount("left_rear").PadPath())
	assert.Equal(t, "powertrain.pads.rear", b.Mount("rear").PadPath())
	assert.True(t, b.Mount("left_front").Begun())
	assert.False(t, b.Mount("left_front").Rubber())
	assert.False(t, b.Mount("rear").Begun())
}

func TestWordsOfMountsAndSurfaces(t *testing.T) {
	for _, f := range Facing("").Words() {
		v, ok := Facing(f).Vector()
		assert.True(t, ok, f)
		assert.InDelta(t, 1, r3.Norm(v), 0, f)
	}
	_, ok := Facing("").Vector()
	assert.False(t, ok)
	assert.Equal(t, seat.Transaxle, Transaxle.Seat())
	assert.Equal(t, seat.Longitudinal, Layout("").Seat())
	var kinds []string
	for _, h := range Holds("").Words() {
		kinds = append(kinds, Holds(h).Construction().String())
	}
	assert.Equal(t, "interlocked bonded only solid", strings.Join(kinds, " "))
	assert.Equal(t, seat.ConstructionUnknown, Holds("").Construction())
}

func TestLoadsAreRules(t *testing.T) {
	b := parse(t, "format = 1\n[loads]\nbump = 2\n").Build
	assert.InDelta(t, 2, b.Load("bump").Value, 0)
	assert.True(t, b.Load("bump").Changed)
	assert.False(t, b.Load("braking").Changed)
	assert.Equal(t, practice, b.Load("braking").Source)
	assert.Empty(t, b.Load("jump").Key)
	assert.InDelta(t, 1, (&Build{}).Load("cornering").Value, 0)
}
