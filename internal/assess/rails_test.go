package assess

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// overRail is a build whose left front pad stands 30 mm over the vehicle's zero at
// station 250, a quarter along a rail of a metre, with what is said of the rail's ends.
func overRail(t *testing.T, front, rear, more string) Number {
	t.Helper()
	a := Run(build(t, fmt.Sprintf(`format = 3
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1250, 0, 0]
[placement]
left_front = 30
right_front = 30
rear = 30
setback = 250
[rails.left]
points = [%s, %s]
%s`, front, rear, more)))
	_, over := a.PadOverRail("left_front")
	require.True(t, over.Known, over.Why)
	return over
}

// How high a pad stands over a rail takes the ± of the rail's points along: three
// quarters of the front one's and a quarter of the rear one's,
// 2·2·√(0.75² + 0.25²)/√3 = 1.826 mm of 2 mm each; of a rail that falls 100 mm in its
// metre also a tenth of the station's, 2·0.1·5·√(0.75² + 0.25²)/√3 = 0.456 mm of 5 mm.
func TestHeightOverARailTakesItsPoints(t *testing.T) {
	part := math.Hypot(0.75, 0.25)
	assert.Zero(t, overRail(t, "[0, -350, 0]", "[1000, -350, 0]", "").Expanded(), "where no ± is stated none is claimed")
	over := overRail(t, `[0, -350, "0 mm ± 2"]`, `[1000, -350, "0 mm ± 2"]`, "")
	assert.InDelta(t, 30, over.V, 1e-9)
	assert.InDelta(t, 4*part/math.Sqrt(3), over.Expanded(), 1e-6)
	falls := overRail(t, `["0 mm ± 5", -350, 0]`, `["1000 mm ± 5", -350, -100]`, "")
	assert.InDelta(t, 55, falls.V, 1e-9)
	assert.InDelta(t, 2*0.1*5*part/math.Sqrt(3), falls.Expanded(), 5e-3)
	named := overRail(t, `"point.lf"`, `"point.lr"`, `[point.lf]
station = 0
offset = "350 mm left"
height = "0 mm ± 2"
[point.lr]
from = "point.lf"
station = 1000
offset = 0
height = 0
`)
	assert.InDelta(t, 4/math.Sqrt(3), named.Expanded(), 1e-6, "the rear point is measured from the front one, so the rail goes up and down as a whole")
	tool := overRail(t, `"point.lf"`, "[1000, -350, 0]", "[tool.tape]\naccuracy = \"2 mm\"\n[point.lf]\nwith = \"tool.tape\"\nstation = 0\noffset = \"350 mm left\"\nheight = \"0 mm\"\n")
	assert.InDelta(t, 0.75*4/math.Sqrt(3), tool.Expanded(), 1e-6)
}

// The pad's own ± and that of the placement count as what they do to the pad.
func TestHeightOverARailTakesThePad(t *testing.T) {
	text := strings.NewReplacer("left_front = 30", "left_front = \"30 mm ± 1\"").Replace(`format = 3
[powertrain.pads]
left_front = [0, -300, 0]
right_front = [0, 300, 0]
rear = [1250, 0, 0]
[placement]
left_front = 30
right_front = 30
rear = 30
setback = 250
[rails.left]
points = [[0, -350, 0], [1000, -350, 0]]
`)
	_, over := Run(build(t, text)).PadOverRail("left_front")
	assert.InDelta(t, 2/math.Sqrt(3), over.Expanded(), 1e-6, "the row says how high that very pad stands")
	_, other := Run(build(t, strings.Replace(text, "[rails.left]", "[rails.right]\npoints = [[0, 350, 0], [1000, 350, 0]]\n[rails.left]", 1))).PadOverRail("right_front")
	assert.InDelta(t, 0, other.Expanded(), 1e-6)
}
