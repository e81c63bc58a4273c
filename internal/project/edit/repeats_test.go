package edit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Repeats stand with semicolons or with blanks between them; what may be a slip, such as
// a blank within a number, is none.
func TestRepeatsAreTypedWithBlanks(t *testing.T) {
	for _, c := range []struct{ path, text, want string }{
		{"point.p.station", "1182 1183 1182", "station = [1182, 1183, 1182]"},
		{"point.p.station", "1182; 1183", "station = [1182, 1183]"},
		{"point.p.station", "1182 1183 mm", `station = ["1182 mm", "1183 mm"]`},
		{"point.p.station", "46 1/2 46 9/16 in", `station = ["46 1/2 in", "46 9/16 in"]`},
		{"point.p.station", "1182 ± 1", `station = "1182 ± 1"`},
		{"point.p.station", "-26 -25,5", "station = [-26, -25.5]"},
		{"point.p.offset", "371 372 right", `offset = ["371 right", "372 right"]`},
		{"point.p.station", "1 182", ""},
		{"point.p.station", "1182 -1182", ""},
		{"point.p.station", "1182 1183 ± 1", ""},
		{"point.p.station", "1182 1183 kg", ""},
	} {
		f := parsed(t, "format = 3\n")
		edits, err := Typed(f, Value{c.path, c.text})
		if c.want == "" {
			assert.Error(t, err, c.text)
			continue
		}
		require.NoError(t, err, c.text)
		g, err := Apply(f, edits...)
		require.NoError(t, err, c.text)
		assert.Contains(t, string(g.Bytes()), c.want)
	}
	got, err := ParseRepeats(quantity.Length, "1182 1183 1182", quantity.Units{})
	require.NoError(t, err)
	assert.Equal(t, []float64{1182, 1183, 1182}, got)
}

// Where one value is kept the refusal says so.
func TestRepeatsOfOneValue(t *testing.T) {
	_, err := Typed(parsed(t, "format = 3\n"), Value{"vehicle.wheelbase", "1182 1183 1182"})
	require.ErrorContains(t, err, "is 3 values, and one is kept here")
	_, err = Typed(parsed(t, "format = 3\n"), Value{"vehicle.wheelbase", "46 1/2 in"})
	require.NoError(t, err)
}

// A key that no table has is led to the ones that a person means by it.
func TestNearestKeys(t *testing.T) {
	f, err := project.Parse("b.toml", []byte("format = 3\n"))
	require.NoError(t, err)
	for path, want := range map[string]string{
		"vehicle.track":            "vehicle.front_track or rear_track?",
		"rails.left.section":       "rails.left.length.N.section?",
		"mount.left_front.section": "mount.left_front.leg.section?",
	} {
		_, err := SetText(f, path, "1")
		require.ErrorContains(t, err, "did you mean "+want)
	}
}
