package project

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestLoadCasesThatCannotBe(t *testing.T) {
	for row, want := range map[string]string{
		`drive = 1, source = "x"`:                                                    "a load case has no name",
		`name = "a", drive = 1`:                                                      `the load case "a" does not say where its figures come from; want source = "..."`,
		`name = "a", drive = 1, braking = 1, source = "x"`:                           "has both drive and braking; the brakes hold the wheels that the torque would turn, so make two cases of it",
		`name = "a", drive = 1.5, source = "x"`:                                      "takes 1.5 times the largest torque; drive is a part of it, at most 1",
		`name = "a", source = "x"`:                                                   "loads nothing; want one or more of drive, braking, cornering and bump",
		`name = "a", bump = -1, source = "x"`:                                        "bump cannot be negative",
		`name = "a", breaking = 1, source = "x"`:                                     `did you mean "braking"?`,
		`name = "a", bump = 2, source = "x" }, { name = "a", bump = 3, source = "x"`: `the load case "a" stands here twice`,
	} {
		_, err := Parse("x", []byte("format = 3\n[loads]\ncase = [{ "+row+" }]\n"))
		assert.ErrorContains(t, err, want, row)
	}
}

func TestMountAxes(t *testing.T) {
	for text, want := range map[string][2]r3.Vec{
		"":                            {{Z: 1}, {X: 1}},
		"rate_axis = [0, 0.6, 0.8]":   {{Y: 0.6, Z: 0.8}, {X: 1}},
		"rate_axis = [0.6, 0, 0.8]":   {{X: 0.6, Z: 0.8}, {X: 0.8, Z: -0.6}},
		"along_axis = [0.8, 0, -0.6]": {{X: 0.6, Z: 0.8}, {X: 0.8, Z: -0.6}},
		"rate_axis = [2, 0, 0]\nalong_axis = [0, 3, 0]": {{X: 1}, {Y: 1}},
	} {
		f, err := Parse("x", []byte("format = 3\n[mount.rear]\nrate_up = 1\n"+text+"\n"))
		require.NoError(t, err, text)
		up, along, err := f.Build.Mount("rear").Axes()
		require.NoError(t, err)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want[0], r3.Unit(up))), 1e-12, text)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want[1], r3.Unit(along))), 1e-12, text)
	}
	for text, want := range map[string]string{
		"rate_axis = [1, 0, 0.01]":                      "mount.rear.rate_axis: rear mount: which way the mount's other rates look is left open; give along_axis too",
		"along_axis = [0, 0, 1]":                        "mount.rear.along_axis: rear mount: which way the mount's other rates look is left open; give rate_axis too",
		"rate_axis = [0, 0, 0]":                         "mount.rear.rate_axis: rear mount: 0, 0, 0 is no direction",
		"along_axis = [0, 0, 0]":                        "mount.rear.along_axis: rear mount: 0, 0, 0 is no direction",
		"rate_axis = [0, 0, 1]\nalong_axis = [1, 0, 1]": "rear mount: its upward and its fore-aft axis are 45 degrees off square",
		"rate_axis = [0, 0, 0]\nalong_axis = [1, 0, 0]": "its upward axis has no direction",
	} {
		_, err := Parse("x", []byte("format = 3\n[mount.rear]\nrate_up = 1\n"+text+"\n"))
		assert.ErrorContains(t, err, want, text)
	}
}

func TestASolidMountsRatesAreItsBrackets(t *testing.T) {
	_, err := Parse("x", []byte("format = 3\n[mount.rear]\nholds = \"solid\"\nrate_up = 9000\n"))
	require.NoError(t, err)
	_, err = Parse("x", []byte("format = 3\n[mount.rear]\nholds = \"solid\"\nhardness = 50\n"))
	assert.ErrorContains(t, err, "the rear mount is bolted solid, so it has no rubber; its rates are those of its bracket")
}

// Where a line's reduction sits decides what of it turns the powertrain.
func TestWhatOfAReductionTurnsThePowertrain(t *testing.T) {
	const first = "[line.rear.first]\nslope = \"2 deg down to the rear\"\n"
	for _, c := range []struct {
		text string
		want float64
		ok   bool
	}{
		{"", 1, true},
		{first, 1, true},
		{"reduction = 2.7\n" + first, 0, false},
		{"reduction = 2.7\n", 2.7, true},
		{"reduction = 2.7\nreduction_in = \"own case\"\n", 1, true},
		{"reduction = 2.7\nreduction_in = \"own case\"\n" + first, 1, true},
		{"reduction = 2.7\nreduction_in = \"gearbox\"\n" + first, 2.7, true},
	} {
		f, err := Parse("x", []byte("format = 3\n[line.rear]\n"+c.text))
		require.NoError(t, err, c.text)
		got, ok := f.Build.Lines[0].OnPowertrain()
		assert.Equal(t, c.ok, ok, c.text)
		assert.Equal(t, c.want, got, c.text)
	}
	_, err := Parse("x", []byte("format = 3\n[line.rear]\nreduction_in = \"case\"\n"))
	assert.ErrorContains(t, err, "want one of: gearbox, own case")
	assert.True(t, strings.HasPrefix(err.Error(), "x:3:"))
}
