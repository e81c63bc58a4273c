package edit

import (
	"strings"
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOldNamesInNewFiles(t *testing.T) {
	_, err := project.Parse("b.toml", []byte("format = 3\n[vehicle]\nwheel_diameter = 740\n"))
	require.Error(t, err)
	assert.Equal(t, `b.toml:3:1: vehicle: "wheel_diameter" is not a key here; since format 2 it is called "tyre_diameter"`, err.Error())
	_, err = project.Parse("b.toml", []byte("format = 1\n[vehicle]\nwheel_diameter = 740\ntyre_diameter = 730\n"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "keep one of the two")
	f, err := project.Parse("b.toml", []byte("format = 3\n"))
	require.NoError(t, err)
	_, err = SetText(f, "vehicle.wheel_diameter", "700")
	require.Error(t, err)
	assert.Contains(t, err.Error(), "is called vehicle.tyre_diameter since format 2")
	_, err = SetText(f, "vehicle.wheelbas", "700")
	require.Error(t, err)
	assert.Contains(t, err.Error(), "did you mean vehicle.wheelbase?")
}

// Edits that an earlier fitup noted fit the text as it is read today.
func TestOldEditsFit(t *testing.T) {
	old := "format = 1\n[vehicle]\nwheel_diameter = 740\nname = \"x\"\n"
	f, err := project.Parse("b", []byte(old))
	require.NoError(t, err)
	for name, e := range map[string]Edit{
		"set": {Op: OpSet, Path: "vehicle.wheel_diameter", Text: "750"},
		"splice": {Op: OpSplice, At: 21, Old: "wheel_diameter = 740\nname = \"x\"\n",
			Text: "wheel_diameter = 750\nname = \"x\"\n"},
		"splice from the top": {Op: OpSplice, Old: old, Text: strings.Replace(old, "740", "750", 1)},
	} {
		g, err := Apply(f, e)
		require.NoError(t, err, name)
		assert.Equal(t, "format = 3\n[vehicle]\ntyre_diameter = 750\nname = \"x\"\n", string(g.Bytes()), name)
	}
}

// A name that was given up in one table goes on in others.
func TestOldPassagesOfOtherTables(t *testing.T) {
	old := "format = 2\n[gauge]\nplus_minus = 0.1 # good\nzero       = 0.2\n[[reading]]\nof = \"powertrain\"\nshown = 4\nlower = \"rear\"\nplus_minus = 0.3\n"
	now := "format = 3\n[gauge]\naccuracy   = 0.1 # good\nzero       = 0.2\n[[reading]]\nof = \"powertrain\"\nshown = 4\nlower = \"rear\"\nplus_minus = 0.3\n"
	f, err := project.Parse("b", []byte(old))
	require.NoError(t, err)
	require.Equal(t, now, string(f.Bytes()))
	for name, c := range map[string]struct{ old, text, want string }{
		"under its header": {"[gauge]\nplus_minus = 0.1 # good\n", "[gauge]\nplus_minus = 0.4 # good\n",
			strings.Replace(now, "accuracy   = 0.1", "accuracy = 0.4", 1)},
		"header out of sight": {"plus_minus = 0.1 # good\nzero       = 0.2\n", "plus_minus = 0.4 # good\nzero       = 0.2\n",
			strings.Replace(now, "accuracy   = 0.1", "accuracy = 0.4", 1)},
		"both": {old, strings.Replace(old, "0.3", "0.5", 1), "format = 3\n[gauge]\naccuracy = 0.1 # good\n" +
			"zero       = 0.2\n[[reading]]\nof = \"powertrain\"\nshown = 4\nlower = \"rear\"\nplus_minus = 0.5\n"},
		"a reading's own": {"of = \"powertrain\"\nshown = 4\nlower = \"rear\"\nplus_minus = 0.3\n", "of = \"powertrain\"\nshown = 4\nlower = \"rear\"\nplus_minus = 0.6\n",
			strings.Replace(now, "0.3", "0.6", 1)},
	} {
		g, err := Apply(f, Edit{Op: OpSplice, Path: "reading", At: 9999, Old: c.old, Text: c.text})
		require.NoError(t, err, name)
		assert.Equal(t, c.want, string(g.Bytes()), name)
	}
	_, err = Apply(f, Edit{Op: OpSplice, Path: "gauge", Old: "plus_minus = 0.9\n", Text: "plus_minus = 0.8\n"})
	require.Error(t, err, "what is not there is not found")
	inline, err := project.Parse("b", []byte("format = 2\ngauge = { zero = 0.1, plus_minus = 0.1 }\n"))
	require.NoError(t, err)
	g, err := Apply(inline, Edit{Op: OpSplice, Old: "format = 2\ngauge = { zero = 0.1, plus_minus = 0.1 }\n",
		Text: "format = 2\ngauge = { zero = 0.1, plus_minus = 0.2 }\n"})
	require.NoError(t, err)
	assert.Equal(t, "format = 3\ngauge = { zero = 0.1, accuracy = 0.2 }\n", string(g.Bytes()))
}
