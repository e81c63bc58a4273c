package scene

import (
	"math"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A wedge is drawn where it lies, its thick end the way the file says; what has no place
// is not drawn.
func TestWedgesAreDrawn(t *testing.T) {
	const text = "format = 3\nname = \"x\"\n[[packing]]\nname = \"wedge\"\nkind = \"wedge\"\nat = [2900, -480, -120]\nlength = 100\nwidth = 60\nthickness = 4\nangle = \"2 deg\"\nthick_end = \"rear\"\n" +
		"[[packing]]\nname = \"shim\"\nkind = \"shim\"\nlength = 100\nwidth = 60\nthickness = 4\n"
	f, err := project.Parse("x", []byte(text))
	require.NoError(t, err)
	s := Of(assess.Run(f.Build))
	var seen []Part
	for _, p := range s.Parts {
		if p.ID == "packing.1" || p.ID == "packing.2" {
			seen = append(seen, p)
		}
	}
	require.Len(t, seen, 1)
	room := seen[0].Solid.Room()
	assert.InDelta(t, 2850, room.Min.X, 1e-9)
	assert.InDelta(t, 2950, room.Max.X, 1e-9)
	assert.InDelta(t, -510, room.Min.Y, 1e-9)
	assert.InDelta(t, -120, room.Min.Z, 1e-9)
	assert.InDelta(t, -120+4+100*math.Tan(2*math.Pi/180), room.Max.Z, 1e-9)
}
