package pickup

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What one side has and the other not is not known of the other, and is not passed over.
func TestWhatOnlyOneSideHas(t *testing.T) {
	r := run(t, straight)
	for id, lacks := range map[string]string{
		finding.PickupSpringBind("rear", "right"): "pickup.rear.right.spring.kind",
		finding.PickupSpringRide("rear", "right"): "pickup.rear.right.spring.lower",
		finding.PickupDamperBump("rear", "right"): "pickup.rear.right.damper.lower",
		finding.PickupStop("rear", "right"):       "pickup.rear.right.damper.lower",
		finding.PickupTower("rear", "right"):      "pickup.rear.right.spring.kind",
	} {
		f := of(t, r, id)
		assert.Equal(t, finding.NotKnown, f.Status, id)
		assert.Contains(t, f.Missing, lacks, id)
	}
	require.NotEqual(t, finding.NotKnown, of(t, r, finding.PickupSpringBind("rear", "left")).Status)
}

// A stop that is as long as the damper at full droop is no stop: its length is another one.
func TestAStopThatAlwaysTouches(t *testing.T) {
	require.Equal(t, finding.OK, of(t, run(t, straight), finding.PickupStop("rear", "left")).Status)
	f := of(t, run(t, strings.Replace(straight, "stop = 370", "stop = 455", 1)), finding.PickupStop("rear", "left"))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "pickup.rear.left.damper.stop")
}
