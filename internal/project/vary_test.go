package project

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Each value with a ± is found under the path of the text, and varied it alone
// changes, with what was measured from it.
func TestStatedValuesAreVaried(t *testing.T) {
	example, err := os.ReadFile("../../testdata/example.toml")
	require.NoError(t, err)
	for name, text := range map[string]string{
		"points": surveyed, "example": string(example),
		"line": "format = 3\n[line.rear.pinion]\nslope = \"4.8 deg ± 0.2 up to the rear\"\n[[line.rear.joint]]\nat = [\"1 ± 1\", 2, \"3 ± 0.5\"]\n[[line.rear.joint]]\nrating = \"2500 N m ± 100\"\n",
	} {
		f, err := Parse("b.toml", []byte(text))
		require.NoError(t, err)
		stated := f.Build.StatedValues()
		require.NotEmpty(t, stated, name)
		for i, s := range stated {
			assert.Positive(t, s.Half, s.Path)
			got, ok := f.QuantityAt(s.Path, s.Kind)
			if ok { // repeats are a list
				assert.InDelta(t, s.Value, got, 1e-12, s.Path)
			}
			varied, err := f.Build.Varied(s.Path, 0.25)
			require.NoError(t, err, s.Path)
			for j, v := range varied.StatedValues() {
				want := stated[j]
				if i == j {
					want.Value += 0.25
				}
				assert.Equal(t, want.Path, v.Path)
				assert.InDelta(t, want.Value, v.Value, 1e-9, "%s by %s", v.Path, s.Path)
			}
			assert.Equal(t, stated, f.Build.StatedValues(), "the build itself stays as it is")
		}
	}
}

// A point that is varied by what it rests on lies where its terms say.
func TestVariedPointsFollow(t *testing.T) {
	f, err := Parse("b.toml", []byte(surveyed))
	require.NoError(t, err)
	b := f.Build
	bolt, _ := b.PointNamed("point.bolt")
	for _, term := range bolt.Terms {
		if term.Path == "point.hanger.station" {
			continue // it is in two of them
		}
		varied, err := b.Varied(term.Path, 0.5)
		require.NoError(t, err, term.Path)
		now, _ := varied.PointNamed("point.bolt")
		assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Sub(now.At, bolt.At), r3.Scale(0.5, term.Dir))), 1e-9, term.Path)
		assert.Equal(t, now.At, varied.Lines[0].Pinion.At.At, "and what is given by its name")
	}
	assert.Equal(t, bolt.At, b.Lines[0].Pinion.At.At)
	_, err = b.Varied("point.hanger.station", 400)
	assert.ErrorContains(t, err, "the left rail runs from station", "past its end there is nothing to measure from")
	for _, path := range []string{"", "name", "point.bolt", "point.none.station", "point.later.station", "line.rear.pinion.at[0]", "line.rear.pinion.slope", "rails.left.points[9][0]", "rails.left.points[0]", "rails.left.points[0][3]", "chassis[0].on[x]"} {
		_, err := b.Varied(path, 1)
		assert.Error(t, err, path)
	}
}
