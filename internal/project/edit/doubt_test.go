package edit

import (
	"strings"
	"testing"

	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func demoWith(t *testing.T, old, now string) *project.File {
	t.Helper()
	src := string(dressed(t)["demo.toml"])
	require.Contains(t, src, old)
	f, err := project.Parse("demo.toml", []byte(strings.Replace(src, old, now, 1)))
	require.NoError(t, err)
	return f
}

// A bare number ten times off what stood there, or off what stands beside it, is
// asked about; with its unit it is not.
func TestBareNumberTenTimesOff(t *testing.T) {
	f := demoWith(t, "setback = 260", "setback = 260")
	for typed, odd := range map[string]bool{
		"2600": true, "26": true, "-2600": true, "262": false, "520": false, "2600 mm": false, "0": false, "nonsense": false,
	} {
		why, got := TypedDoubt(f, "placement.setback", typed)
		assert.Equal(t, odd, got, typed)
		if odd {
			assert.Contains(t, why, "260.0 mm")
		}
	}
	supports, from, err := f.Build.Seat()
	require.NoError(t, err)
	lift, err := supports.Value(from, seat.Lift)
	require.NoError(t, err)
	typed := quantity.Format(quantity.Length, 10*lift, f.Build.Units, 1)
	why, odd := TypedDoubt(f, "placement.lift", strings.TrimSuffix(typed, " mm"))
	assert.True(t, odd, "a row that is no key of the file is asked about too: %s", typed)
	assert.Contains(t, why, "10 times what stands there now")
	_, odd = TypedDoubt(f, "placement.lift", typed)
	assert.False(t, odd, typed)
	_, odd = TypedDoubt(f, "limits.joint_max", "25")
	assert.False(t, odd, "a limit is chosen")

	assert.Empty(t, Doubts(f), "the demo has none")
	f = demoWith(t, "\nleft_front = -106\n", "\nleft_front = -1060\n")
	doubts := Doubts(f)
	require.NotEmpty(t, doubts)
	assert.Equal(t, "placement.left_front", doubts[0].Path)
	assert.Contains(t, doubts[0].Text, "-1060.0 mm, and what stands beside it is 106.0 mm")
	f = demoWith(t, "\nleft_front = -106\n", "\nleft_front = \"-1060 mm\"\n")
	for _, d := range Doubts(f) {
		assert.NotEqual(t, "placement.left_front", d.Path, "with its unit nothing is asked")
	}
}

// No file of ours is doubted.
func TestOwnFilesAreNotDoubted(t *testing.T) {
	for name, src := range dressed(t) {
		f, err := project.Parse(name, src)
		require.NoError(t, err)
		assert.Empty(t, Doubts(f), name)
	}
}

// What was typed stands in the file: no number that nobody wrote.
func TestMixedSpellingsSurvive(t *testing.T) {
	f, err := project.Parse("b.toml", []byte("format = 1\nunits.system = \"inch\"\n[placement]\nsetback = \"150 mm\"\nrear = \"5 7/8 in\"\n"))
	require.NoError(t, err)
	for _, c := range []struct{ path, typed, want string }{
		{"placement.setback", "6.1", `"6.1 in"`},
		{"placement.setback", "155 mm", `"155 mm"`},
		{"placement.setback", "6 1/8", `"6 1/8"`},
		{"placement.rear", "6.5", `"6 1/2 in"`},
	} {
		e, err := SetText(f, c.path, c.typed)
		require.NoError(t, err)
		assert.Equal(t, c.want, e.Text)
		g, err := Apply(f, e)
		require.NoError(t, err)
		want, err := quantity.Parse(quantity.Length, c.typed, quantity.Inch())
		require.NoError(t, err)
		got, ok := g.QuantityAt(c.path, quantity.Length)
		require.True(t, ok)
		assert.InDelta(t, want, got, 1e-9)
	}
}

// Another system of units: every bare number gets its unit first, so that the
// build stays what it is.
func TestSetUnits(t *testing.T) {
	f := demoWith(t, "setback = 260", "setback = 260")
	for _, word := range []string{"inch", "Inches", "imperial", "in"} {
		edits, err := SetUnits(f, word)
		require.NoError(t, err)
		g, err := Apply(f, edits...)
		require.NoError(t, err)
		assert.Equal(t, quantity.Inch().Length, g.Build.Units.Length)
		assert.Equal(t, f.Build.Placement, g.Build.Placement)
		assert.Equal(t, f.Build.Rails, g.Build.Rails)
		assert.Equal(t, f.Build.Powertrain.Pads, g.Build.Powertrain.Pads)
		assert.Equal(t, f.Build.Lines, g.Build.Lines)
		back, err := SetUnits(g, "metric")
		require.NoError(t, err)
		h, err := Apply(g, back...)
		require.NoError(t, err)
		assert.Equal(t, f.Build.Placement, h.Build.Placement)
	}
	_, err := SetUnits(f, "cubits")
	assert.ErrorContains(t, err, "want metric or inch")
	edits, err := SetUnits(f, "metric")
	require.NoError(t, err)
	for _, e := range edits {
		assert.Equal(t, "units.system", e.Path)
	}
}

func TestUnitsAsPeopleCallThem(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{`units.system = "imperial"`, `write it as system = "inch"`},
		{`units.system = "mm"`, `write it as system = "metric"`},
		{`units = "inch"`, `write it as units.system = "inch"`},
		{`units.system = "cubits"`, `want "metric" or "inch"`},
	} {
		_, err := project.Parse("b.toml", []byte("format = 1\n"+c.line+"\n"))
		assert.ErrorContains(t, err, c.want)
	}
	_, err := project.Parse("b.toml", []byte("format = 1\nunits.system = \"inch\"\n"))
	assert.NoError(t, err)
}
