package assess

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// mounted is one of the builds of testdata/mounts with pieces of the powertrain, each a name
// and its two corners in own frame.
func mounted(t *testing.T, build string, parts ...string) *Assessment {
	t.Helper()
	text, err := os.ReadFile("../../testdata/mounts/" + build + ".toml")
	require.NoError(t, err)
	return Run(file(t, string(text)+strings.Join(parts, "")).Build)
}

func partOfIt(name string, from, to r3.Vec) string {
	return fmt.Sprintf("\n[[powertrain.part]]\nname = %q\nfrom = [%g, %g, %g]\nto = [%g, %g, %g]\n", name, from.X, from.Y, from.Z, to.X, to.Y, to.Z)
}

// A leg that is drawn through the sump is told, by its own name and that of the sump. By
// hand: its pad is at −220 and 40 below the powertrain's at 40 above the crank, 70 over the
// rails: so the face at 70 of height, and its foot 75 below at the rail. A sump of that
// height with its side at −250 has the leg in it, and one at −100 has not.
func TestALegThroughTheSumpIsTold(t *testing.T) {
	through := mounted(t, "inclined_leg", partOfIt("sump", r3.Vec{X: -60, Y: -330, Z: -90}, r3.Vec{X: 400, Y: 140, Z: -30}))
	f := found(t, through, "bracket.left_front.room")
	assert.Equal(t, finding.Over, f.Status)
	assert.Less(t, f.Value, -10.0)
	assert.Regexp(t, `^Its leg runs into the sump by \d+`, f.Advice())
	assert.Equal(t, finding.Over, found(t, through, "bracket.left_front.room.rocked").Status)

	clears := mounted(t, "inclined_leg", partOfIt("sump", r3.Vec{X: -60, Y: -60, Z: -90}, r3.Vec{X: 400, Y: 140, Z: -30}))
	f = found(t, clears, "bracket.left_front.room")
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, f.Advice(), "comes nearest to the sump")
	rocked := found(t, clears, "bracket.left_front.room.rocked")
	assert.Less(t, rocked.Value, f.Value, "it swings toward the bracket one way or the other")

	bare := found(t, mounted(t, "inclined_leg"), "bracket.left_front.room")
	assert.Equal(t, finding.NotKnown, bare.Status)
	assert.Contains(t, bare.Missing, "powertrain.part is not in the file yet")
	ahead := adapted(t, "reverse = 3.8\n", "")
	assert.NotEqual(t, finding.OK, found(t, ahead, "bracket.left_front.room.rocked").Status, "reverse may throw it farther")
}

// Over its pad a bracket meets the powertrain on purpose: what it is, and how far about the
// pad's middle nothing is looked at, is said. Beyond that it is looked at, and a piece that
// the pad does not lie under is looked at wholly.
func TestWhatABracketMeetsOnPurpose(t *testing.T) {
	// The pad's face lies 40 below the pad, at 0 own height; its plate is 150 by 100.
	boss := partOfIt("block", r3.Vec{X: -30, Y: -240, Z: -2}, r3.Vec{X: 30, Y: -200, Z: 90})
	f := found(t, mounted(t, "inclined_leg", boss), "bracket.left_front.room")
	assert.Contains(t, strings.Join(f.Assumes, "; "), "within 90 mm of the middle of its pad is not held against the block")
	assert.Equal(t, finding.OK, f.Status)

	wide := partOfIt("block", r3.Vec{X: -30, Y: -360, Z: -60}, r3.Vec{X: 30, Y: -200, Z: 90})
	assert.Equal(t, finding.Over, found(t, mounted(t, "inclined_leg", wide), "bracket.left_front.room").Status, "the leg farther out is in it")

	aside := partOfIt("starter", r3.Vec{X: -30, Y: -200, Z: -30}, r3.Vec{X: 30, Y: -150, Z: 90})
	f = found(t, mounted(t, "inclined_leg", aside), "bracket.left_front.room")
	assert.Equal(t, finding.Over, f.Status, "the pad does not lie under it")
	assert.NotContains(t, strings.Join(f.Assumes, "; "), "starter")
}

// The room of every ready kind to pieces of the powertrain, where it stands and where the
// mounts let it go, is no more than that of any of many places drawn in both; and where the
// two hardly differ it is found.
func TestRoomOfReadyKindsByPlacesDrawn(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 5))
	for _, kind := range []string{"inclined_leg", "level_arm_with_perch", "two_legs_in_an_a", "arm_with_a_brace", "twin_ears", "folded_u_plate", "folded_z_plate", "boxed_plate", "clamp_on_tab", "bolted_tab", "own_members", "coped_members"} {
		from, to := r3.Vec{X: -70, Y: -150, Z: -160}, r3.Vec{X: 60, Y: -40, Z: -60}
		a := mounted(t, kind, partOfIt("sump", from, to))
		f := found(t, a, "bracket.left_front.room")
		require.True(t, f.HasValue, "%s: %s", kind, f.Missing)
		b, ok := a.Bracket("left_front")
		require.True(t, ok)
		least, rocked := math.Inf(1), math.Inf(1) // and with the powertrain at any of its stands
		for _, x := range b.Bodies() {
			for range 400 {
				own := r3.Vec{X: x.Half.X * (2*rnd.Float64() - 1), Y: x.Half.Y * (2*rnd.Float64() - 1), Z: x.Half.Z * (2*rnd.Float64() - 1)}
				if x.Round && math.Hypot(own.Y, own.Z) > x.Half.Y {
					continue
				}
				for k, stand := range a.mounts.Standings().All {
					q := stand.Pose.Own(x.Pose.Point(own))
					gap := r3.Norm(r3.Vec{X: max(from.X-q.X, q.X-to.X, 0), Y: max(from.Y-q.Y, q.Y-to.Y, 0), Z: max(from.Z-q.Z, q.Z-to.Z, 0)})
					if rocked = min(rocked, gap); k == 0 {
						least = min(least, gap)
					}
				}
			}
		}
		assert.LessOrEqual(t, f.Value, least+1e-9, kind)
		assert.Greater(t, f.Value, least-35, kind)
		r := found(t, a, "bracket.left_front.room.rocked")
		assert.LessOrEqual(t, r.Value-r.Uncertainty, rocked+1e-9, kind)
		assert.Greater(t, r.Value, rocked-35, kind)
		assert.Less(t, r.Value, f.Value, kind)
	}
}
