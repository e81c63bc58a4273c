package project

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func adapterBuild(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/mounts/adapter_plate.toml")
	require.NoError(t, err)
	text = []byte(strings.ReplaceAll(string(text), "-220.1", "-220"))
	return string(text)
}

// The pad that the file has on the face of the bosses stands off it by plate and spacers:
// 12 and 8 mm to the left. A spacer that is longer by what it may be off moves it by that,
// and so again; the other pads stand where they were typed.
func TestAnAdapterMovesItsPad(t *testing.T) {
	f, err := Parse("a.toml", []byte(strings.Replace(adapterBuild(t), "spacer = 8", `spacer = "8 mm ± 0.5"`, 1)))
	require.NoError(t, err)
	b := f.Build
	near := func(want r3.Vec, got Point) {
		t.Helper()
		assert.True(t, got.Known)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want, got.At)), 1e-9, "%v", got.At)
	}
	near(r3.Vec{Y: -240, Z: 40}, b.Powertrain.Pads.LeftFront)
	near(r3.Vec{Y: 220, Z: 40}, b.Powertrain.Pads.RightFront)
	for range 2 {
		longer, err := b.Varied("mount.left_front.adapter.spacer", 0.5)
		require.NoError(t, err)
		near(r3.Vec{Y: -240.5, Z: 40}, longer.Powertrain.Pads.LeftFront)
		near(r3.Vec{Y: -240, Z: 40}, b.Powertrain.Pads.LeftFront)
		longer, err = longer.Varied("powertrain.pads.left_front[2]", 3)
		require.NoError(t, err)
		near(r3.Vec{Y: -240.5, Z: 43}, longer.Powertrain.Pads.LeftFront)
	}
	// An edit that changes nothing of it leaves the pad where it is, and one of the plate moves it.
	for _, edit := range [][2]string{{"thickness = 12\nspacer", "thickness = 15\nspacer"}, {"mass = \"320 kg\"", "mass = \"330 kg\""}} {
		whole, err := Parse("a.toml", []byte(strings.Replace(adapterBuild(t), edit[0], edit[1], 1)))
		require.NoError(t, err)
		doc := whole.doc
		again, err := f.With(doc)
		require.NoError(t, err)
		near(whole.Build.Powertrain.Pads.LeftFront.At, again.Build.Powertrain.Pads.LeftFront)
	}
}

// Half an adapter leaves its pad without a place, and the powertrain too: nothing is
// reckoned with a plate that is not whole.
func TestHalfAnAdapterHasNoPad(t *testing.T) {
	for _, c := range [][2]string{
		{"thickness = 12\n", "adapter.thickness"}, {"facing = \"left\"\n", "adapter.facing"},
		{"bosses = [[-70, -220, 75], [60, -220, 80], [70, -220, -15], [-60, -220, -20]]\n", "adapter.bosses"},
	} {
		text := adapterBuild(t)
		require.Contains(t, text, c[0])
		f, err := Parse("a.toml", []byte(strings.Replace(text, c[0], "", 1)))
		require.NoError(t, err)
		_, _, err = f.Build.Seat()
		require.ErrorContains(t, err, "mount.left_front."+c[1])
		assert.Contains(t, f.Build.Mount("left_front").NoPad(), "mount.left_front."+c[1])
	}
}

// What cannot be is refused at its line.
func TestAdaptersThatCannotBe(t *testing.T) {
	for says, c := range map[string][2]string{
		"thickness = 0; want more":              {"thickness = 12\nspacer", "thickness = 0\nspacer"},
		"has 1.5 holes in a row":                {"hole = 13", "hole = 13\nacross = 1.5"},
		"2 bosses are no face":                  {", [70, -220, -15], [-60, -220, -20]]", "]"},
		"lie in one line":                       {"[70, -220, -15], [-60, -220, -20]", "[0, -220, 77], [30, -220, 79]"},
		"look 90° away":                         {`facing = "left"`, `facing = "rear"`},
		"20.0 mm off the face of the bosses":    {"left_front = [0, -220, 40]", "left_front = [0, -240, 40]"},
		"20.0 mm behind the face":               {"left_front = [0, -220, 40]", "left_front = [0, -200, 40]"},
		`read "zinc"; want one of: steel, cast`: {"cast iron", "zinc"},
	} {
		text := adapterBuild(t)
		require.Contains(t, text, c[0])
		_, err := Parse("a.toml", []byte(strings.Replace(text, c[0], c[1], 1)))
		require.ErrorContains(t, err, says)
	}
}
