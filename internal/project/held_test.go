package project

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// Two bushes one behind the other give as much as both together: 1/(1/600 + 1/300) = 200.
func TestLinksAndStopsOfTheFile(t *testing.T) {
	f, err := Parse("x", []byte(`format = 3
[torque_link.upper]
rate_on = 600
rate_to = 300
[torque_link.lower]
rate = 350
[roll_stop.left]
axis = [0, -3, 4]
back = 5
`))
	require.NoError(t, err)
	rate, lacks := f.Build.TorqueLinks[0].Stiffness()
	if f.Build.TorqueLinks[0].Name != "upper" {
		t.Fatal("links stand in the order of the file")
	}
	assert.InDelta(t, 200, rate, 1e-12)
	assert.Empty(t, lacks)
	rate, _ = f.Build.TorqueLinks[1].Stiffness()
	assert.InDelta(t, 350, rate, 0)
	s := f.Build.RollStops[0]
	along, against := s.Sides()
	assert.True(t, math.IsInf(along, 1))
	assert.InDelta(t, 5, against, 0)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(s.Way(), r3.Vec{Y: -0.6, Z: 0.8})), 1e-12)
	assert.Equal(t, r3.Vec{Z: 1}, new(RollStop).Way())
	for text, want := range map[string]string{
		"[torque_link.upper]\nrate = 0":      "rate of the upper torque link has to be more than 0",
		"[torque_link.upper]\nrate_to = 0":   "rate_to of the upper torque link has to be more than 0",
		"[roll_stop.left]\nrating = 0":       "rating of the left roll stop has to be more than 0",
		"[roll_stop.left]\naxis = [0,0,0]":   "an axis without a direction",
		"[roll_stop.left]\ndynamic = 9":      "9 times as stiff",
		"[torque_link.upper]\nloss = 2":      "a loss factor of 2",
		"[roll_stop.left]\nmount = \"reer\"": "did you mean \"rear\"",
		"[torque_link.upper]\nplay = 2":      "is not a key here",
		"[roll_stop.left]\nfitted = \"hot\"": "as built",
	} {
		_, err := Parse("x", []byte("format = 3\n"+text+"\n"))
		require.ErrorContains(t, err, want)
	}
}
