package scene

import (
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A torque link is a rod from joint to joint, a roll stop a buffer with its axis both ways
// in which it is met; neither is drawn before it has a place.
func TestLinksAndStopsAreDrawn(t *testing.T) {
	f, err := project.Parse("x", []byte(example.Level+example.Heavy+example.Rubbers+example.Held))
	require.NoError(t, err)
	var rod, axis []r3.Vec
	balls := map[string]int{}
	for _, p := range Of(assess.Run(f.Build)).Parts {
		switch {
		case p.Ball != nil:
			balls[p.ID]++
		case p.ID == "torque_link.upper":
			rod = p.Line
		case p.ID == "roll_stop.left":
			axis = p.Line
		}
	}
	assert.Equal(t, []r3.Vec{{X: 50, Z: 400}, {X: 50, Y: 350, Z: 400}}, rod)
	assert.Equal(t, []r3.Vec{{X: 200, Y: -300, Z: -10}, {X: 200, Y: -300, Z: 110}}, axis)
	assert.Equal(t, 2, balls["torque_link.upper"])
	assert.Equal(t, 1, balls["roll_stop.left"])
	assert.Equal(t, "torque_link.upper", Subject("torque_link.upper"))

	f, err = project.Parse("x", []byte("format = 3\n[torque_link.upper]\nrate = 300\n[roll_stop.left]\nrate = 300\n"))
	require.NoError(t, err)
	for _, p := range Of(assess.Run(f.Build)).Parts {
		assert.NotContains(t, []string{"torque_link.upper", "roll_stop.left"}, p.ID)
	}
}
