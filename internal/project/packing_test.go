package project

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const wedgeText = `format = 3
name = "x"
[[packing]]
name = "pinion wedge"
kind = "wedge"
length = 120
width = 64
thickness = 3
angle = "2 deg"
thick_end = "rear"
`

func TestPackingIsRead(t *testing.T) {
	f, err := Parse("x.toml", []byte(wedgeText))
	require.NoError(t, err)
	require.Len(t, f.Build.Packing, 1)
	assert.Equal(t, PackWedge, f.Build.Packing[0].Kind)
	assert.InDelta(t, 120, f.Build.Packing[0].Length.V(), 1e-12)
}

// A packing that cannot be is named, with what is wrong and what would do.
func TestPackingThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct{ was, is, want string }{
		"no name":     {`name = "pinion wedge"`, ``, "has no name"},
		"no kind":     {`kind = "wedge"`, ``, `want kind = "wedge"`},
		"other kind":  {`kind = "wedge"`, `kind = "wege"`, "want one of: wedge, shim, spring perch"},
		"no angle":    {`"2 deg"`, `"0 deg"`, "want more than 0"},
		"steep":       {`"2 deg"`, `"16 deg"`, "at most 15"},
		"which end":   {`thick_end = "rear"`, ``, "no thick end"},
		"a shim":      {`kind = "wedge"`, `kind = "shim"`, "which only a wedge has"},
		"a tube":      {`width = 64`, "width = 64\ntube = 76", "only a spring perch"},
		"no length":   {`length = 120`, `length = 0`, "has length = 0; want more"},
		"none":        {`width = 64`, "width = 64\ncount = 0", "has count = 0; want more"},
		"thin perch":  {"kind = \"wedge\"\nlength = 120\nwidth = 64\nthickness = 3\nangle = \"2 deg\"\nthick_end = \"rear\"", "kind = \"spring perch\"\nlength = 120\nthickness = 0", "has thickness = 0"},
		"small perch": {"kind = \"wedge\"\nlength = 120\nwidth = 64\nthickness = 3\nangle = \"2 deg\"\nthick_end = \"rear\"", "kind = \"spring perch\"\nlength = 30\nwidth = 64\nthickness = 30\ntube = 76", "would not hold"},
	} {
		require.Contains(t, wedgeText, c.was, name)
		_, err := Parse("x.toml", []byte(strings.Replace(wedgeText, c.was, c.is, 1)))
		require.ErrorContains(t, err, c.want, name)
	}
}
