package shake

import (
	"testing"

	"fitup/internal/geom/vibration"

	"github.com/stretchr/testify/assert"
)

// A cause by the engine within a tenth of a way in which the powertrain swings on its
// mounts is told so, the nearest of them; no other cause is.
func TestEngineNearASwing(t *testing.T) {
	in := &Input{Swings: []Swing{{"bounce 10.0 Hz", 10}, {"roll about the crank 11.5 Hz", 11.5}}}
	at := func(p vibration.Part, hz float64) string {
		said, _ := in.roused(vibration.Cause{Part: p, Lo: hz, Hi: hz})
		return said
	}
	assert.Equal(t, "bounce 10.0 Hz", at(vibration.Engine, 10.3))
	assert.Equal(t, "roll about the crank 11.5 Hz", at(vibration.Engine, 11))
	assert.Empty(t, at(vibration.Engine, 13))
	assert.Empty(t, at(vibration.Wheel, 10.3))
}
