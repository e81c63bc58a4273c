package project

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every file of an earlier format that was ever kept is read, and what the next
// save writes differs in the renamed keys and the format only.
func TestOldFormatsAreRead(t *testing.T) {
	names, err := filepath.Glob("../../testdata/old/format*.toml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(names), 8)
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			src, err := os.ReadFile(name)
			require.NoError(t, err)
			f, err := Parse(name, src)
			require.NoError(t, err)
			from, ok := strings.CutPrefix(filepath.Base(name), "format")
			require.True(t, ok)
			assert.Equal(t, from[:1], strconv.FormatInt(f.From, 10))
			assert.EqualValues(t, FormatNow, f.Build.Format)
			was, now := strings.Split(string(src), "\n"), strings.Split(string(f.Bytes()), "\n")
			require.Len(t, now, len(was))
			changed := 0
			for i := range was {
				if was[i] == now[i] {
					continue
				}
				changed++
				assert.Regexp(t, `^format ?= ?[12]|wheel_diameter|^plus_minus|^gauge\.plus_minus`, was[i])
				if _, comment, ok := strings.Cut(was[i], "#"); ok {
					assert.True(t, strings.HasSuffix(now[i], "#"+comment), now[i])
				}
				assert.Equal(t, strings.HasSuffix(was[i], "\r"), strings.HasSuffix(now[i], "\r"))
			}
			assert.Positive(t, changed)
			again, err := Parse(name, f.Bytes())
			require.NoError(t, err)
			assert.Zero(t, again.From, "it is migrated once")
			assert.Equal(t, f.Build, again.Build)
		})
	}
}

func TestMigrationKeepsTheValue(t *testing.T) {
	f, err := Parse("b", []byte("format = 1\n[vehicle]\nwheel_diameter  = 740 # tread\nname            = \"x\"\n"))
	require.NoError(t, err)
	assert.InDelta(t, 740, f.Build.Vehicle.WheelDiameter.Or(0), 0)
	assert.Equal(t, "format = 3\n[vehicle]\ntyre_diameter   = 740 # tread\nname            = \"x\"\n", string(f.Bytes()))
}

func TestOldNamesInNewFiles(t *testing.T) {
	_, err := Parse("b.toml", []byte("format = 3\n[vehicle]\nwheel_diameter = 740\n"))
	require.Error(t, err)
	assert.Equal(t, `b.toml:3:1: vehicle: "wheel_diameter" is not a key here; since format 2 it is called "tyre_diameter"`, err.Error())
	_, err = Parse("b.toml", []byte("format = 1\n[vehicle]\nwheel_diameter = 740\ntyre_diameter = 730\n"))
	require.Error(t, err)
	assert.Contains(t, err.Error(), "keep one of the two")
	f, err := Parse("b.toml", []byte("format = 3\n"))
	require.NoError(t, err)
	_, err = f.SetText("vehicle.wheel_diameter", "700")
	require.Error(t, err)
	assert.Contains(t, err.Error(), "is called vehicle.tyre_diameter since format 2")
	_, err = f.SetText("vehicle.wheelbas", "700")
	require.Error(t, err)
	assert.Contains(t, err.Error(), "did you mean vehicle.wheelbase?")
}

// Edits that an earlier fitup noted fit the text as it is read today.
func TestOldEditsFit(t *testing.T) {
	old := "format = 1\n[vehicle]\nwheel_diameter = 740\nname = \"x\"\n"
	f, err := Parse("b", []byte(old))
	require.NoError(t, err)
	for name, e := range map[string]Edit{
		"set": {Op: OpSet, Path: "vehicle.wheel_diameter", Text: "750"},
		"splice": {Op: OpSplice, At: 21, Old: "wheel_diameter = 740\nname = \"x\"\n",
			Text: "wheel_diameter = 750\nname = \"x\"\n"},
		"splice from the top": {Op: OpSplice, Old: old, Text: strings.Replace(old, "740", "750", 1)},
	} {
		g, err := f.Apply(e)
		require.NoError(t, err, name)
		assert.Equal(t, "format = 3\n[vehicle]\ntyre_diameter = 750\nname = \"x\"\n", string(g.Bytes()), name)
	}
}

// A file of a newer format is refused before anything else is said about it.
func TestNewerFormatIsRefused(t *testing.T) {
	for _, v := range []string{"4", "99", "9223372036854775807"} {
		_, err := Parse("b.toml", []byte("format = "+v+"\nnonsense = [1]\n"))
		require.Error(t, err)
		assert.Contains(t, err.Error(), "it is left as it is, use a newer fitup")
		assert.NotContains(t, err.Error(), "nonsense")
	}
}

// A name that was given up in one table goes on in others.
func TestOldPassagesOfOtherTables(t *testing.T) {
	old := "format = 2\n[gauge]\nplus_minus = 0.1 # good\nzero       = 0.2\n[[reading]]\nof = \"powertrain\"\nshown = 4\nlower = \"rear\"\nplus_minus = 0.3\n"
	now := "format = 3\n[gauge]\naccuracy   = 0.1 # good\nzero       = 0.2\n[[reading]]\nof = \"powertrain\"\nshown = 4\nlower = \"rear\"\nplus_minus = 0.3\n"
	f, err := Parse("b", []byte(old))
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
		g, err := f.Apply(Edit{Op: OpSplice, Path: "reading", At: 9999, Old: c.old, Text: c.text})
		require.NoError(t, err, name)
		assert.Equal(t, c.want, string(g.Bytes()), name)
	}
	_, err = f.Apply(Edit{Op: OpSplice, Path: "gauge", Old: "plus_minus = 0.9\n", Text: "plus_minus = 0.8\n"})
	require.Error(t, err, "what is not there is not found")
	inline, err := Parse("b", []byte("format = 2\ngauge = { zero = 0.1, plus_minus = 0.1 }\n"))
	require.NoError(t, err)
	g, err := inline.Apply(Edit{Op: OpSplice, Old: "format = 2\ngauge = { zero = 0.1, plus_minus = 0.1 }\n",
		Text: "format = 2\ngauge = { zero = 0.1, plus_minus = 0.2 }\n"})
	require.NoError(t, err)
	assert.Equal(t, "format = 3\ngauge = { zero = 0.1, accuracy = 0.2 }\n", string(g.Bytes()))
}

// Problems of an old file are told in its own words and columns.
func TestProblemsOfOldFiles(t *testing.T) {
	for text, want := range map[string]string{
		"[vehicle]\nwheel_diameter = -3\n":                               "b.toml:3:18: vehicle.wheel_diameter: ",
		"[vehicle]\nname = 3\n":                                          "b.toml:3:8: vehicle.name: ",
		"vehicle = { wheel_diameter = 4, wheelbase = true, tyre = 3 }\n": "b.toml:2:45: vehicle.wheelbase: ",
	} {
		_, err := Parse("b.toml", []byte("format = 1\n"+text))
		require.Error(t, err)
		assert.Contains(t, err.Error(), want)
	}
}
