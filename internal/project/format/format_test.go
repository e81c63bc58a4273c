package format

import (
	"errors"
	"testing"

	"fitup/internal/project/tomltext"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func read(t *testing.T, text string) *tomltext.Doc {
	t.Helper()
	d, err := tomltext.Parse("b.toml", []byte(text))
	require.NoError(t, err)
	return d
}

func TestMigrate(t *testing.T) {
	for name, c := range map[string]struct {
		text, want string
		from       int64
	}{
		"today's":                          {"format = 3\n[vehicle]\nwheel_diameter = 1\n", "format = 3\n[vehicle]\nwheel_diameter = 1\n", 0},
		"the first":                        {"format = 1\nvehicle.wheel_diameter = 1 # x\n[gauge]\nplus_minus = 2\n", "format = 3\nvehicle.tyre_diameter = 1 # x\n[gauge]\naccuracy = 2\n", 1},
		"the second":                       {"format = 2\n[gauge]\nplus_minus = 2\n[[reading]]\nplus_minus = 3\n", "format = 3\n[gauge]\naccuracy = 2\n[[reading]]\nplus_minus = 3\n", 2},
		"a name that came with the second": {"format = 2\n[vehicle]\nwheel_diameter = 1\n", "format = 3\n[vehicle]\nwheel_diameter = 1\n", 2},
	} {
		got, from, err := Migrate(read(t, c.text))
		require.NoError(t, err, name)
		assert.Equal(t, c.want, got.Text(), name)
		assert.Equal(t, c.from, from, name)
	}
	_, _, err := Migrate(read(t, "format = 1\n[vehicle]\n  wheel_diameter = 1\ntyre_diameter = 2\n"))
	var f *Fault
	require.True(t, errors.As(err, &f))
	assert.Equal(t, []any{"vehicle.wheel_diameter", 3, 3}, []any{f.Path, f.Pos.Line, f.Pos.Col})
	assert.Contains(t, f.Error(), "keep one of the two")
}

func TestRenamedPath(t *testing.T) {
	for path, want := range map[string]string{
		"vehicle.wheel_diameter": "vehicle.tyre_diameter", "gauge.plus_minus": "gauge.accuracy", "gauge.plus_minus.x": "gauge.accuracy.x",
		"gauge.plus_minus[0]": "gauge.accuracy[0]", "gauge.plus_minuses": "gauge.plus_minuses", "reading[0].plus_minus": "reading[0].plus_minus", "": "",
	} {
		now, since := RenamedPath(path)
		assert.Equal(t, want, now)
		assert.Equal(t, path != want, since > 0, path)
	}
	_, since := RenamedPath("gauge.plus_minus")
	assert.EqualValues(t, 3, since)
}

// Places of today's text in the text as its owner knows it: the name as it was, and
// the column moved by what the renaming took or gave on that line before it.
func TestWrittenPlace(t *testing.T) {
	was := read(t, "format = 1\nvehicle = { wheel_diameter = 4, tyre = 3 }\n")
	now, _, err := Migrate(was)
	require.NoError(t, err)
	w := NewWritten(was, now)
	for _, c := range []struct {
		path      string
		line, col int
		want      string
		wantCol   int
	}{
		{"vehicle.tyre_diameter", 2, 29, "vehicle.wheel_diameter", 30},
		{"vehicle.tyre", 2, 39, "vehicle.tyre", 40},
		{"vehicle", 2, 11, "vehicle", 11},
		{"x", 9, 7, "x", 7},
	} {
		path, col := w.Place(c.path, c.line, c.col)
		assert.Equal(t, c.want, path)
		assert.Equal(t, c.wantCol, col, c.path)
	}
}

func TestPassage(t *testing.T) {
	src := "format = 3\n[gauge]\naccuracy = 0.1\nzero = 0.2\n"
	old, text, at := Passage("plus_minus  = 0.1\n", "plus_minus = 0.3\n", src)
	assert.Equal(t, []any{"accuracy = 0.1\n", "accuracy = 0.3\n", 19}, []any{old, text, at})
	_, _, at = Passage("plus_minus = 0.9\n", "x", src)
	assert.Equal(t, -1, at, "not there")
	_, _, at = Passage("plus_minus = 0.1\n", "x", src+"[other]\naccuracy = 0.1\n")
	assert.Equal(t, -1, at, "not the only one")
}
