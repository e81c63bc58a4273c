package assess

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// tied is a powertrain with a torque link and a roll stop, two pieces of it and one of the
// vehicle beside the link, a pipe under the stop and more.
func tied(t *testing.T, more string, edits ...string) *Assessment {
	t.Helper()
	text := example.Level + example.Heavy + example.Rubbers + example.Held + `
[[powertrain.part]]
name = "block"
from = [-100, -200, 0]
to = [300, 200, 340]
[[powertrain.part]]
name = "gearbox"
from = [500, -100, -100]
to = [1200, 100, 100]
[[chassis]]
name = "brake line"
from = [88, 150, 300]
to = [88, 150, 700]
radius = 3
[[chassis]]
name = "tower"
from = [0, 350, 300]
to = [100, 420, 500]
` + more
	for i := 0; i < len(edits); i += 2 {
		require.Contains(t, text, edits[i])
		text = strings.Replace(text, edits[i], edits[i+1], 1)
	}
	return Run(file(t, text).Build)
}

// onSegment is how far a place is from a straight line between two.
func onSegment(p, a, b r3.Vec) float64 {
	d := r3.Sub(b, a)
	s := max(0, min(1, r3.Dot(r3.Sub(p, a), d)/r3.Norm2(d)))
	return r3.Norm(r3.Sub(p, r3.Add(a, r3.Scale(s, d))))
}

// The link of 20 mm goes along y at 50, 400 as built, and the line of 6 mm stands up at x =
// 88: 38 − 10 − 3 mm. At every stand its one end is where the powertrain has it.
func TestATorqueLinkTakesRoom(t *testing.T) {
	a := tied(t, "")
	f := found(t, a, "torque_link.upper.room")
	require.True(t, f.HasValue, f.Missing)
	assert.Contains(t, f.Advice(), "brake line")
	least := math.Inf(1)
	for _, s := range a.mounts.Standings().All {
		if s.Soft {
			continue
		}
		on, to := s.Pose.Point(r3.Vec{X: 50, Z: 400}), r3.Vec{X: 50, Y: 350, Z: 400}
		for k := range 4001 {
			p := r3.Vec{X: 88, Y: 150, Z: 300 + 0.1*float64(k)}
			least = min(least, onSegment(p, on, to)-13)
		}
	}
	assert.InDelta(t, least, f.Value, 1e-3)
	assert.Less(t, f.Value, 25.0, "as built it is 25, and the powertrain goes")
	assert.Contains(t, strings.Join(f.Assumes, "; "), "its first 60 mm from the tower, which it is bolted to, are not held against that")

	assert.Equal(t, finding.Over, found(t, tied(t, "", "to = [88, 150, 700]", "to = [40, 150, 400]"), "torque_link.upper.room").Status)
	none := found(t, tied(t, "", "diameter = 20\n", ""), "torque_link.upper.room")
	assert.Equal(t, finding.NotKnown, none.Status)
	assert.Contains(t, none.Missing, "torque_link.upper.diameter is not in the file yet")
	thin := found(t, tied(t, "", "eye = 44\n", ""), "torque_link.upper.room")
	assert.Contains(t, strings.Join(thin.Assumes, "; "), "torque_link.upper.eye is not in the file yet")
}

// The buffers of the stop stand 4 mm above and 6 mm below where it is met at z 50, 30 mm
// high and 40 across; a pipe of 50 that runs along 80 mm under the lower one's foot.
func TestARollStopTakesRoom(t *testing.T) {
	pipe := "[[exhaust]]\nname = \"down pipe\"\npoints = [[-100, -300, -91], [700, -300, -91]]\ndiameter = 50\nheat_gap = 40\n"
	a := tied(t, pipe)
	heat := found(t, a, "exhaust.down_pipe")
	assert.InDelta(t, 80, heat.Value, 1e-6) // 50 − 6 − 30 = 14; −91 + 25 = −66
	assert.Contains(t, heat.Advice(), "left roll stop")
	assert.Equal(t, finding.Over, found(t, tied(t, pipe, "-300, -91]]", "-300, -40]]", "[-100, -300, -91]", "[-100, -300, -40]", "heat_gap = 40", "heat_gap = 60"), "exhaust.down_pipe").Status)
	lacks := found(t, tied(t, pipe, "height = 30\n", ""), "roll_stop.left.room")
	assert.Contains(t, lacks.Missing, "roll_stop.left.height is not in the file yet")
	room := found(t, a, "roll_stop.left.room")
	assert.True(t, room.HasValue, room.Missing)
	hit := tied(t, "[[chassis]]\nname = \"steering box\"\nfrom = [215, -330, 60]\nto = [300, -240, 80]\n")
	assert.Equal(t, finding.Over, found(t, hit, "roll_stop.left.room").Status, "5 mm of it stand in the buffer")
	assert.InDelta(t, -5, found(t, hit, "roll_stop.left.room").Value, 1e-6)
	_, ok := tied(t, "", "rating = \"15 kN\"", "rating = \"15 kN\"\nmount = \"rear\"").Finding("roll_stop.left.room")
	assert.False(t, ok, "one that is part of a mount lies inside it")
}
