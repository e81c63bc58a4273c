package bracket

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// By hand, an arm of SHS 80x80x4 welded along top and bottom, 3000 N down on its pad: two lines
// of 64 at 40 above and below, and of the gusset of 80 by 60, its corner cut by 8, two from
// 48 to 100 below. The group turns about its middle; the gusset's lines pull with what is
// straight between their ends, and hand that on along the arm, on two lines from 8 to 80.
func TestGussetsByHand(t *testing.T) {
	text := strings.Replace(kind(t, "level_arm_with_perch"), "size = 4", "size = 4\nruns = \"top and bottom\"", 1)
	plan := runLegs(t, text)
	b := plan.bracketNamed("left_front")
	require.NotNil(t, b.Members, b.Why)
	const load = 3000.0
	at := b.Members.Pad.Point
	r := runLegs(t, text, MountLoad{Mount: "left_front", At: at, Cases: []Case{{"bump", r3.Vec{Z: -load}}}})
	f := r.Result.last(finding.BracketGusset("left_front"))
	require.True(t, f.HasValue, f.Missing)

	lever := math.Abs(at.Y - b.Members.Solved.Parts[0].Cut.Pad.At.Y) // from its cut at the rail
	length := 2*64. + 2*52
	middle := -2 * 52 * 74. / length // of the group below the arm's axis
	inertia := 64*(40-middle)*(40-middle) + 64*(-40-middle)*(-40-middle) + 2*(52*52*52/12.+52*(-74-middle)*(-74-middle))
	push := func(y float64) float64 { return load * lever * (middle - y) / inertia } // out of the rail, N/mm
	shear := load / length                                                           // up
	throat := 4 * math.Sqrt2 / 2 * 360 / (math.Sqrt(3) * 0.8 * 1.25)
	used := func(square, along float64) float64 { // a fillet, or the half of the plate that goes with it
		return max(math.Hypot(square, along)/throat, math.Sqrt(square*square+3*along*along)/3/235)
	}
	rail := max(used(push(-48), shear), used(push(-100), shear))
	out, up := 104*push(-74), 104*shear
	// About the middle of its edge on the arm, 44 out and 40 below the axis: each line's push
	// as a trapezium, below that edge, and what goes up, before it.
	slope := (push(-100) - push(-48)) / 52
	below := 2 * (push(-48)*(8*52+52*52/2.) + slope*(8*52*52/2.+52*52*52/3.))
	turn := below - 44*up
	member := used(up/144+math.Abs(turn)*36/(2*72*72*72/12.), out/144)
	assert.InEpsilon(t, max(rail, member), f.Value, 1e-3)
	assert.Contains(t, f.Advice(), "gusset of the arm, ")
	for _, says := range []string{"as one group of lines", "the wall of a member under a gusset and at its toe: not judged", "whose own web and face under the foot are not judged"} {
		assert.Contains(t, strings.Join(f.Assumes, "; "), says)
	}
}

// Gussets that are not judged say why and what would do; one that is too weak is over, and
// one that is as strong on the other side is as much.
func TestGussetsThatAreNotJudged(t *testing.T) {
	text := kind(t, "level_arm_with_perch")
	loads := loadsOf(40, r3.Vec{X: 300, Y: 200, Z: -3000})
	of := func(was, is string) finding.Finding {
		require.Contains(t, text, was)
		r := runLegs(t, strings.Replace(text, was, is, 1), loads...)
		left, right := r.Result.last(finding.BracketGusset("left_front")), r.Result.last(finding.BracketGusset("right_front"))
		assert.Equal(t, left.Status, right.Status)
		return left
	}
	assert.Equal(t, finding.OK, of("along = 80", "along = 80").Status)
	f := of("thickness = 6", "thickness = 4")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "the gusset of the arm stands out 15.0 times its thickness")
	assert.Contains(t, f.Missing, "make it thicker, or along and down smaller")
	assert.Contains(t, of("size = 4", "# size = 4").Missing, "mount.left_front.bracket.weld.size")
	r := runLegs(t, strings.Replace(text, "along = 80", "along = 80\ncount = 2", 1), loads...)
	two := r.Result.last(finding.BracketGusset("left_front"))
	assert.Less(t, two.Value, of("along = 80", "along = 80").Value, "two of them share it")
	r = runLegs(t, text, loadsOf(40, r3.Vec{Z: -60000})...)
	f = r.Result.last(finding.BracketGusset("left_front"))
	assert.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "make the gusset's fillets larger")
	// One without gussets has no finding of them.
	r = runLegs(t, kind(t, "inclined_leg"), loads...)
	assert.Empty(t, r.Result.last(finding.BracketGusset("left_front")).ID)
}
