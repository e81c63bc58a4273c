package clear

import (
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What was kept of a build serves the next where pieces of the vehicle stand as they stood,
// whatever else is said of them, and no other.
func TestWhatWasKeptServesTheSamePieces(t *testing.T) {
	prepared := func(text string, before *Prepared) *Prepared {
		f, err := project.Parse("kept", []byte("format = 3\n"+text))
		require.NoError(t, err)
		return Prepare(f.Build, finding.Estimate{}, before)
	}
	const box = "[[chassis]]\nname = \"box\"\nfrom = [0, 0, 0]\nto = [100, 100, 100]\n"
	first := prepared(box, nil)
	k := first.spares.take()
	k.crowds = [][]crowd{nil}
	first.spares.give(k)
	for text, serves := range map[string]bool{
		box:                        true,
		box + "gap = 20\n":         true,
		"name = \"other\"\n" + box: true,
		box + "[[chassis]]\nname = \"more\"\nfrom = [0, 0, 0]\nto = [9, 9, 9]\n": false,
		"": false,
		"[[chassis]]\nname = \"box\"\nfrom = [0, 0, 0]\nto = [100, 100, 101]\n":     false,
		"[[chassis]]\nname = \"another\"\nfrom = [0, 0, 0]\nto = [100, 100, 100]\n": false,
	} {
		assert.Equal(t, serves, prepared(text, first).spares == first.spares, text)
	}
	assert.Same(t, k, first.spares.take())
	assert.NotSame(t, k, first.spares.take(), "one has it at a time")
}
