package project

import (
	"strings"
	"testing"

	builds "fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What cannot be is refused, at its line.
func TestPickupsThatCannotBe(t *testing.T) {
	whole := builds.Pickups()
	_, err := Parse("x.toml", []byte(whole))
	require.NoError(t, err)
	for _, c := range []struct{ from, to, path, says string }{
		{"wheel = [0, -760, -40]", "wheel = [0, 790, -40]", "pickup.front.left.wheel", "does not stand left of the right one"},
		{"pivot_b = [470, -450, -76]", "pivot_b = [-8, -385, -88]", "pickup.front.left.pivot_b", "pivot_b stands where pivot_a does"},
		{"ball = [-6, -700, -130]", "ball = [231, -417.5, -82]", "pickup.front.left.ball", "lies on the line through the arm's two pivots"},
		{"upper_ball = [16, -668, 112]", "upper_ball = [-60, -470, 120]", "pickup.front.left.upper_ball", "lies on the line"},
		{"upper_ball = [16, -668, 112]", "upper_ball = [16, -668, -140]", "pickup.front.left.upper_ball", "exchanged"},
		{"tie_outer = [-140, -690, -92]", "tie_outer = [-150, -400, -70]", "pickup.front.left.tie_outer", "the tie rod has no length"},
		{"length = 400", "upper = [0, -590, -100]", "pickup.front.left.spring.upper", "the spring has no length"},
		{"length = 400\nlean_in = \"15 deg\"", "upper = [0, -590, -300]", "pickup.front.left.spring.upper", "exchanged"},
		{"length = 400", "upper = [0, -500, 300]", "pickup.front.left.spring.lean_in", "leave one of them out"},
		{"lean_in = \"15 deg\"", "lean_in = \"75 deg\"", "pickup.front.left.spring.lean_in", "at most 60 degrees"},
		{"coil = 242", "coil = 341", "pickup.front.left.spring.coil", "longer at ride height than unloaded"},
		{"coil = 242", "coil = 120", "pickup.front.left.spring.solid", "shorter at ride height than with its turns touching"},
		{"solid = 130", "solid = 340", "pickup.front.left.spring.solid", "touch with nothing on the spring"},
		{"rate = \"60 N/mm\"", "rate = \"0 N/mm\"", "pickup.front.left.spring.rate", "above 0"},
		{"upper = [2800, -470, 270]", "upper = [2800, -470, 400]", "pickup.rear.left.spring.upper", "longer at ride height than unloaded"},
		{"open = 480", "open = 320", "pickup.front.left.damper.closed", "pushed home"},
		{"stop = 372", "stop = 320", "pickup.front.left.damper.closed", "only with the damper pushed home"},
		{"stop = 372", "stop = 490", "pickup.front.left.damper.stop", "with the damper drawn out"},
		{"end = [20, -650, -124]", "end = [470, -450, -76]", "pickup.front.left.rod[0].end", "the rod has no length"},
		{"name = \"upper link\"", "name = \"lower link\"", "pickup.rear.left.rod[1]", "taken by another rod"},
		{"name = \"tension rod\"", "name = \"tension rod\"\nrigid = true", "pickup.front.left.rod[0]", "leave rigid out"},
		{"name = \"tension rod\"", "name = \"tension rod\"\non = \"axle\"", "pickup.front.left.rod[0].on", "have no axle to be on"},
		{"bush = [-200, -330, -40]", "bush = [-200, 330, -40]", "pickup.front.bar.left.bush", "does not stand left"},
		{"arm = [20, -560, -40]", "arm = [-200, -560, -40]", "pickup.front.bar.left.arm", "so it is no arm"},
		{"link = [20, -565, -115]", "link = [20, -560, -40]", "pickup.front.bar.left.link", "the drop link has no length"},
		{"carried = \"axle\"", "carried = \"axle\"\nline = \"rear\"", "pickup.rear.line", "is not in this file"},
		{"carried = \"axle\"", "carried = \"wings\"", "pickup.rear.carried", "wings"},
	} {
		require.Contains(t, whole, c.from)
		_, err := Parse("x.toml", []byte(strings.Replace(whole, c.from, c.to, 1)))
		var problems Problems
		require.ErrorAs(t, err, &problems, c.to)
		found := ""
		for _, p := range problems {
			if p.Path == c.path && p.Line > 1 {
				found += p.Msg
			}
		}
		assert.Contains(t, found, c.says, "%s at %s: %v", c.to, c.path, err)
	}
	lone := "format = 3\n[pickup.front.left]\nwheel = [0, 700, 0]\n"
	_, err = Parse("x.toml", []byte(lone))
	require.ErrorContains(t, err, "other side of the centre line")
}

func TestWhatWheelsAreCarriedBy(t *testing.T) {
	for c, words := range map[Carried]string{ByArms: "lower arm, upper arm, hub", ByStrut: "lower arm, hub", ByTrailingArm: "lower arm", ByAxle: "axle"} {
		assert.Equal(t, words, allowed(c))
		assert.True(t, c.Allows(""))
	}
}
