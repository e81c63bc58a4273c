package project

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A mount that holds something else carries nothing of the powertrain, and says of itself
// nothing that only such a mount has.
func TestSupportsThatCannotBe(t *testing.T) {
	bytes, err := os.ReadFile("../../testdata/mounts/carrier_bearing.toml")
	require.NoError(t, err)
	text := string(bytes)
	f, err := Parse("a.toml", bytes)
	require.NoError(t, err)
	assert.Equal(t, []string{"bearing"}, f.Build.SupportNames())
	assert.NotContains(t, f.Build.CarryingNames(), "bearing")
	assert.Equal(t, []string{"transfer case", "line.rear.joint.2"}, f.Build.Carriable())
	assert.Equal(t, "mount.bearing.bracket.pad", f.Build.Mount("bearing").PadPath())
	const carries = `carries = "line.rear.joint.2"`
	for says, c := range map[string][2]string{
		"no carrier bearing at that joint; want one with a shaft on either side: transfer case, line.rear.joint.2": {carries, `carries = "line.rear.joint.3"`},
		`carries "gearbox"; want "transfer case"`:                    {carries, `carries = "gearbox"`},
		"no place on it; leave at out":                               {carries, carries + "\nat = [1, 2, 3]"},
		"leave fit_up_only out":                                      {carries, carries + "\nfit_up_only = true"},
		"leave its rates, its rubber and holds out":                  {carries, carries + "\nholds = \"captive\""},
		"an adapter plate is bolted to its block; leave adapter out": {"[mount.bearing.bracket]", "[mount.bearing.adapter]\nthickness = 10\n\n[mount.bearing.bracket]"},
		"one of the powertrain's three pads":                         {"[mount.rear]\n", "[mount.rear]\n" + carries + "\n"},
		"line.rear.joint.2 is held by mount.bearing already":         {"[mount.bearing.bracket]", "[mount.other]\n" + carries + "\n\n[mount.bearing.bracket]"},
		"holds a corner of a subframe and carries something else":    {carries, carries + "\ncorner = \"point.a\""},
	} {
		require.Contains(t, text, c[0])
		_, err := Parse("a.toml", []byte(strings.Replace(text, c[0], c[1], 1)))
		require.ErrorContains(t, err, says)
	}
}
