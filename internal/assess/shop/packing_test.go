package shop

import (
	"testing"

	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func packed(t *testing.T, text string) []Packing {
	t.Helper()
	f, err := project.Parse("x.toml", []byte("format = 3\nname = \"x\"\n"+text))
	require.NoError(t, err)
	return Packings(f.Build.Packing)
}

// A wedge of 2° rises 3.492077 mm over 100 mm: L tan a. Its mass is that of its mean
// thickness, by hand.
func TestWedgesRise(t *testing.T) {
	p := packed(t, "[[packing]]\nname = \"wedge\"\nkind = \"wedge\"\nlength = 100\nwidth = 60\nthickness = 4\nangle = \"2 deg\"\nthick_end = \"front\"\ncount = 2\n")[0]
	assert.InDelta(t, 4, p.Thin.V, 1e-12)
	assert.InDelta(t, 7.492077, p.Thick.V, 1e-6)
	assert.InDelta(t, 100*60*(4+7.492077)/2*7850e-9, p.Mass.V, 1e-8)
	assert.Equal(t, 2, p.Count)
	assert.Equal(t, "packing.1", p.ID)
}

// What is not in the file is said, and no number is made of it.
func TestHalfDescribedPackingHasNoNumbers(t *testing.T) {
	for text, want := range map[string]string{
		"kind = \"wedge\"\nlength = 100\nwidth = 60\nthickness = 4\n":                            "packing[0].angle",
		"kind = \"wedge\"\nlength = 100\nwidth = 60\nangle = \"2 deg\"\nthick_end = \"rear\"\n":  "packing[0].thickness",
		"kind = \"wedge\"\nwidth = 60\nthickness = 4\nangle = \"2 deg\"\nthick_end = \"rear\"\n": "packing[0].length",
	} {
		p := packed(t, "[[packing]]\nname = \"x\"\n"+text)[0]
		assert.False(t, p.Thick.Known, text)
		assert.Contains(t, p.Thick.Why, want)
		assert.False(t, p.Mass.Known, text)
	}
	p := packed(t, "[[packing]]\nname = \"x\"\nkind = \"shim\"\nthickness = 4\n")[0]
	assert.True(t, p.Thick.Known)
	assert.False(t, p.Mass.Known)
	assert.Contains(t, p.Mass.Why, "length and width")
}
