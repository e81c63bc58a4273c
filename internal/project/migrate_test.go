package project

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"fitup/internal/project/format"

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
			assert.EqualValues(t, format.Now, f.Build.Format)
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

// A file of a newer format is refused before anything else is said about it.
func TestNewerFormatIsRefused(t *testing.T) {
	for _, v := range []string{"4", "99", "9223372036854775807"} {
		_, err := Parse("b.toml", []byte("format = "+v+"\nnonsense = [1]\n"))
		require.Error(t, err)
		assert.Contains(t, err.Error(), "it is left as it is, use a newer fitup")
		assert.NotContains(t, err.Error(), "nonsense")
	}
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
