package bracket

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	geombracket "fitup/internal/geom/bracket"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// kinds are the builds of the ready kinds, and one of members of its own.
func kind(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("../../../testdata/mounts", name+".toml"))
	require.NoError(t, err)
	return string(text)
}

var kindNames = []string{"level_arm_with_perch", "inclined_leg", "two_legs_in_an_a", "arm_with_a_brace", "channel_arm_with_a_brace", "own_members", "coped_members"}

// at is the pad of the left front mount of those builds, vehicle axes.
func loadsOf(height float64, force r3.Vec) []MountLoad {
	flip := force
	flip.Y = -flip.Y
	return []MountLoad{
		{Mount: "left_front", At: r3.Vec{X: 260, Y: -220, Z: height}, Cases: []Case{{"bump", force}}},
		{Mount: "right_front", At: r3.Vec{X: 260, Y: 220, Z: height}, Cases: []Case{{"bump", flip}}},
	}
}

// Every kind is cut and judged on both sides, and each member has its four sides,
// its settings and where it lands.
func TestKindsAreCutAndJudged(t *testing.T) {
	for _, name := range kindNames {
		t.Run(name, func(t *testing.T) {
			r := runLegs(t, kind(t, name), loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})...)
			for _, mount := range []string{"left_front", "right_front"} {
				b, ok := r.Bracket(mount)
				require.True(t, ok)
				require.NotNil(t, b.Members, b.Why)
				require.NoError(t, b.Members.loose)
				assert.True(t, b.Mass.Known)
				for _, id := range []string{finding.BracketFits(mount), finding.BracketBending(mount), finding.BracketStruts(mount), finding.BracketWeld(mount), finding.PadPlateBending(mount)} {
					f := r.Result.last(id)
					assert.Equal(t, finding.OK, f.Status, "%s: %s %s", id, f.Missing, f.Advice())
				}
				for i, m := range b.MemberCuts() {
					id := "bracket." + mount + ".member." + finding.Slug(m.Name) + "."
					for _, key := range []string{"overall", "side.top", "side.bottom", "side.left", "side.right", "first.mitre", "second.half_miss", "mass"} {
						has := true
						for side := geombracket.Bottom; side <= geombracket.Right; side++ {
							has = has && (key != "side."+side.String() || b.Members.Solved.Parts[i].Cut.HasSide(side))
						}
						assert.Equal(t, has, slices.ContainsFunc(r.Values, func(v finding.Value) bool { return v.Name == id+key }), id+key)
					}
				}
			}
			assert.NotEmpty(t, r.bracketNamed("right_front").MemberMatches())
		})
	}
}

// On rails that are each other's mirror image both sides are the same, whatever kind.
func TestMirroredMountsAreAlike(t *testing.T) {
	for _, name := range kindNames {
		t.Run(name, func(t *testing.T) {
			text := strings.Replace(kind(t, name), "points = [[-450, 384, -2], [2600, 368, -2]]", "points = [[-450, 380, 0], [2600, 380, 0]]", 1)
			r := runLegs(t, text, loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})...)
			left, right := r.bracketNamed("left_front"), r.bracketNamed("right_front")
			require.NotNil(t, right.Members, right.Why)
			for _, m := range right.MemberMatches() {
				assert.InDelta(t, 0, m.By, 1e-6, m.Label)
			}
			assert.InEpsilon(t, left.Strength.Leg.Of.V, right.Strength.Leg.Of.V, 1e-9)
			assert.InEpsilon(t, left.Strength.Weld.Of.V, right.Strength.Weld.Of.V, 1e-9)
			assert.InEpsilon(t, left.Strength.PadPlate.Of.V, right.Strength.PadPlate.Of.V, 1e-9)
		})
	}
}

// A level arm by hand: 220 mm from the pad to the rail's plate of none, under 3000 N
// down: M = F l at the weld on the rail.
func TestLevelArmByHand(t *testing.T) {
	r := runLegs(t, kind(t, "level_arm_with_perch"), loadsOf(0, r3.Vec{Z: -3000})...)
	b := r.bracketNamed("left_front")
	c := b.Members.Solved.Parts[0].Cut
	assert.InDelta(t, 380-220+50, c.Length, 1e-9)
	assert.InEpsilon(t, math.Hypot(3000*160/c.Section.Wy, math.Sqrt(3)*3000/c.Section.Avz)/235, b.Strength.Leg.Of.V, 1e-6)
	assert.Equal(t, "arm, at the rail", b.Strength.Leg.At)
	// The perch is welded along both edges of the arm, 100 mm each, straight above: no
	// moment, 3000 N over 200 mm of 0.7071 times 4 mm.
	assert.Equal(t, 4.0, b.Strength.Weld.Counted)
	j, err := b.perchWeld()
	require.NoError(t, err)
	ready, err := j.group.Ready()
	require.NoError(t, err)
	assert.InDelta(t, 200, ready.Line().Length, 1e-6)
	s, err := ready.Stress(j.pulls(underLoad{}, r3.Vec{Z: -3000}, b.Members.Pad.Point), b.ready.weldStrength)
	require.NoError(t, err)
	assert.InEpsilon(t, 3000/(200*math.Sqrt2/2*4), s.Throat, 1e-9)
}

// A missing answer is named, by its path, and nothing is worked out without it.
func TestMissingAnswersAreNamed(t *testing.T) {
	for _, c := range []struct{ kind, without, want string }{
		{"level_arm_with_perch", "past = 50", "mount.left_front.bracket.past"},
		{"level_arm_with_perch", "thickness = 10", "mount.left_front.bracket.pad_plate.thickness"},
		{"two_legs_in_an_a", "apart = 90", "mount.left_front.bracket.apart"},
		{"two_legs_in_an_a", "spread = 220", "mount.left_front.bracket.spread"},
		{"arm_with_a_brace", "brace = ", "mount.left_front.bracket.brace"},
		{"arm_with_a_brace", "brace_drop = 80", "mount.left_front.bracket.brace_drop"},
		{"arm_with_a_brace", "brace_along = 95", "mount.left_front.bracket.brace_along"},
		{"inclined_leg", "section = \"SHS 60x60x4 cold\"", "mount.left_front.bracket.section"},
		{"own_members", "to_along = 120", "mount.left_front.member[1].to_along"},
		{"own_members", "from = [350", "mount.left_front.member[1].from"},
	} {
		t.Run(c.want, func(t *testing.T) {
			text := kind(t, c.kind)
			i := strings.Index(text, "\n"+c.without) + 1
			require.Positive(t, i)
			text = text[:i] + "# " + text[i:]
			r := runLegs(t, text, loadsOf(70, r3.Vec{Z: -3000})...)
			b := r.bracketNamed("left_front")
			assert.Nil(t, b.Members)
			f := r.Result.last(finding.BracketFits("left_front"))
			assert.Equal(t, finding.NotKnown, f.Status)
			assert.Contains(t, b.Why, c.want)
			for _, x := range r.Values {
				assert.NotContains(t, x.Name, "bracket.left_front.", "a number of a half-described mount")
			}
		})
	}
}

// What cannot be made is over, by name, and the other side says whose fault it is.
func TestMountsThatCannotBe(t *testing.T) {
	for _, c := range []struct{ kind, was, is, want string }{
		{"two_legs_in_an_a", "apart = 90", "apart = 40", "member rear leg: it runs"},
		{"two_legs_in_an_a", "width = 180", "width = 60", "its pad plate is smaller than what stands on it"},
		{"arm_with_a_brace", "brace = \"SHS 40x40x4 cold\"", "brace = \"SHS 80x80x4 cold\"", "too short for these angles"},
		{"arm_with_a_brace", "brace_along = 95", "brace_along = 900", "off its"},
		{"arm_with_a_brace", "past = 50", "past = 0\nperch = \"brace\"", "member brace: the pad lies"},
		{"own_members", "standing = 40\n\n[[mount.left_front.member]]\nname = \"arm\"\nsection = \"SHS 60x60x4 cold\"\nends = [\"rail\", \"pad\"]\n",
			"standing = 40\nperch = \"arm\"\n[[mount.left_front.member]]\nname = \"arm\"\nsection = \"SHS 60x60x4 cold\"\nends = [\"rail\", \"square\"]\nto = [260, -120, 60]\n", "its pad plate does not lie flat on the arm"},
		{"inclined_leg", "section = \"SHS 60x60x4 cold\"", "section = \"SHS 61x61x4 cold\"", "there is no section"},
		{"own_members", "ends = [\"rail\", \"pad\"]", "ends = [\"rail\", \"square\"]\nto = [260, -220, 0]", "nothing of it reaches the pad"},
		{"arm_with_a_brace", "brace_drop = 80", "brace_drop = 4", "member brace:"},
		{"own_members", "from = [260, -380, -70]", "from = [260, -300, -70]", "a foot stands 80.0 mm off the face of the left rail"},
		{"own_members", "from = [260, -380, -70]", "from = [260, -380, -70]\nheld = [\"ball\", \"welded\"]", "nothing holds it against"},
	} {
		t.Run(c.want, func(t *testing.T) {
			text := kind(t, c.kind)
			require.Contains(t, text, c.was)
			r := runLegs(t, strings.Replace(text, c.was, c.is, 1), loadsOf(70, r3.Vec{Z: -3000})...)
			f := r.Result.last(finding.BracketFits("left_front"))
			assert.Equal(t, finding.Over, f.Status, f.Missing)
			assert.Contains(t, f.Advice(), c.want)
		})
	}
}
