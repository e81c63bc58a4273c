package bracket

import (
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// rearLoads are one bump on the rear mount of the builds of crossmembers.
func rearLoads(force r3.Vec) []MountLoad {
	return []MountLoad{{Mount: "rear", At: r3.Vec{X: 1510, Z: -170}, Cases: []Case{{"bump", force}}}}
}

// Each kind of crossmember is cut and judged, and shown with its feet held and pinned.
func TestCrossmembersAreCutAndJudged(t *testing.T) {
	for _, name := range []string{"dropped_crossmember", "straight_crossmember"} {
		t.Run(name, func(t *testing.T) {
			r := runLegs(t, kind(t, name), rearLoads(r3.Vec{X: 300, Y: 200, Z: -3000})...)
			b := r.bracketNamed("rear")
			require.NotNil(t, b.Members, b.Why)
			require.NoError(t, b.Members.loose)
			for _, id := range []string{finding.BracketFits("rear"), finding.BracketBending("rear"), finding.BracketStruts("rear"), finding.BracketWeld("rear"),
				finding.BracketBolts("rear"), finding.PadPlateBending("rear"), finding.RailPlateBending("rear")} {
				f := r.Result.last(id)
				assert.Equal(t, finding.OK, f.Status, "%s: %s %s", id, f.Missing, f.Advice())
			}
			require.Len(t, b.Members.Feet, 2)
			assert.Equal(t, []string{"left", "right"}, []string{string(b.Members.Feet[0].Side), string(b.Members.Feet[1].Side)})
			fixed := b.Strength.Fixings
			require.GreaterOrEqual(t, len(fixed), 2)
			assert.Greater(t, fixed[1].Sinks.V, fixed[0].Sinks.V, "pinned sinks more than held")
			worst := 0.0
			for _, u := range fixed {
				if u.Counts {
					worst = max(worst, u.Stress.V)
				}
			}
			assert.InEpsilon(t, worst/235, b.Strength.Leg.Of.V, 1e-9, "the worse of what counts is judged")
			assert.True(t, slices.ContainsFunc(r.Values, func(v finding.Value) bool { return v.Name == "bracket.rear.fixed.feet_pinned.sinks" }))
		})
	}
}

// What the file says of the feet is what is judged; where it says nothing the worse
// counts.
func TestFeetAreJudgedAsTheFileHasThem(t *testing.T) {
	used := map[string]float64{}
	for _, fixed := range []string{"", "held", "pinned", "one slides"} {
		text := kind(t, "dropped_crossmember")
		if fixed != "" {
			text = strings.Replace(text, "between = 420", "fixed = \""+fixed+"\"\nbetween = 420", 1)
		}
		r := runLegs(t, text, rearLoads(r3.Vec{Z: -3000})...)
		b := r.bracketNamed("rear")
		require.True(t, b.Strength.Leg.Of.Known, b.Strength.Leg.Of.Why)
		used[fixed] = b.Strength.Leg.Of.V
	}
	assert.Greater(t, used["one slides"], used["pinned"])
	assert.InDelta(t, max(used["held"], used["pinned"]), used[""], 1e-12)
}

// A missing answer of a crossmember is named, and nothing is worked out without it.
func TestMissingAnswersOfACrossmemberAreNamed(t *testing.T) {
	for _, c := range []struct{ kind, without, want string }{
		{"dropped_crossmember", "between = 420", "mount.rear.bracket.between"},
		{"dropped_crossmember", "section = \"RHS", "mount.rear.bracket.section"},
		{"dropped_crossmember", "thickness = 8", "mount.rear.bracket.pad_plate.thickness"},
		{"straight_crossmember", "past = 45", "mount.rear.bracket.past"},
		{"straight_crossmember", "thickness = 10", "mount.rear.bracket.rail_plate.thickness"},
	} {
		t.Run(c.want, func(t *testing.T) {
			text := kind(t, c.kind)
			i := strings.Index(text, "\n"+c.without) + 1
			require.Positive(t, i)
			r := runLegs(t, text[:i]+"# "+text[i:], rearLoads(r3.Vec{Z: -3000})...)
			b := r.bracketNamed("rear")
			assert.Nil(t, b.Members)
			assert.Contains(t, b.Why, c.want)
			for _, x := range r.Values {
				assert.NotContains(t, x.Name, "bracket.rear.", "a number of a half-described mount")
			}
		})
	}
}

// A crossmember that cannot be is over, and says why.
func TestCrossmembersThatCannotBe(t *testing.T) {
	for _, c := range []struct{ kind, was, is, want string }{
		{"dropped_crossmember", "between = 420", "between = 755", "it runs along the face"},
		{"dropped_crossmember", "foot_drop = 75", "foot_drop = 10", "past the rail's edge"},
		{"straight_crossmember", "pad = [1510, 0, -154]", "pad = [1510, 0, -120]", "inside left rail"},
		{"straight_crossmember", "pad = [1510, 0, -154]", "pad = [1510, 0, -250]", "clear of left rail"},
		{"straight_crossmember", "pad = [1510, 0, -154]", "pad = [1510, 0, -154]\npad_normal = [0, 0.1, 1]", "leans 5.7°"},
	} {
		t.Run(c.want, func(t *testing.T) {
			text := kind(t, c.kind)
			require.Contains(t, text, c.was)
			r := runLegs(t, strings.Replace(text, c.was, c.is, 1), rearLoads(r3.Vec{Z: -3000})...)
			f := r.Result.last(finding.BracketFits("rear"))
			assert.Equal(t, finding.Over, f.Status, f.Missing)
			assert.Contains(t, f.Advice(), c.want)
		})
	}
}
