package assess_test

import (
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Level loads are taken out, so that a 3 g bump governs: the mounts at the
// front carry 300 (1 - 400/1200)/2 = 100 kg each.
const upright = example.Stiff + "[loads]\nbraking = 0\ncornering = 0\nbump = 3\ncase = []\n"

// strong is a leg in a bump of 3 g; more is what the file says besides.
func strong(t *testing.T, leg, more string) *assess.Assessment {
	t.Helper()
	return runLegs(t, example.LegsAtPads(example.Weighs+"\ntorque = 0.001\ngears = [1]\nreverse = 1", leg, more+upright))
}

func TestStrengthWaitsForWhatIsMissing(t *testing.T) {
	a := runLegs(t, example.Legs("mass = 300", "bolts = { thread = \"M10\" }", ""))
	for _, id := range []string{"bending", "bolts"} {
		f, ok := a.Finding("bracket.left_front." + id)
		require.True(t, ok)
		assert.Equal(t, assess.NotKnown, f.Status)
		assert.Contains(t, f.Missing, "centre_of_mass")
	}
	// Without torque the worst case is missing: never ok.
	b := runLegs(t, example.Legs(example.Weighs, "", example.Stiff))
	f, _ := b.Finding("bracket.left_front.bending")
	assert.Equal(t, assess.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "powertrain.torque")
	strange := leg(t, strong(t, "rail_plate = { thickness = 8, pitch_across = 80, pitch_high = 60 }\nbolts = { thread = \"M11.3\", class = \"8.8\" }", ""), "left_front").Strength
	assert.False(t, strange.Bolts.Of.Known)
	assert.Contains(t, strange.Bolts.Of.Why, "left front")
}
