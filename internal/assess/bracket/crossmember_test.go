package bracket

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"

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
	for _, name := range []string{"dropped_crossmember", "raised_crossmember", "straight_crossmember"} {
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
		{"straight_crossmember", "foot_in = 35", "foot_in = 90", "that rail is 75.0 mm wide"},
		{"dropped_crossmember", "foot_drop = 75", "onto = \"underside\"\nfoot_in = 5 #", "past the rail's edge"},
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

// withoutRails is a build with no rails.
func withoutRails(text string) string {
	i, j := strings.Index(text, "[rails.left]"), strings.Index(text, "[powertrain]")
	return text[:i] + text[j:]
}

// Where there are no rails a mount stands by its own foot and the way the face there
// looks; a foot at the same place and facing as the rail gives the same mount.
func TestMountsStandByTheirOwnFoot(t *testing.T) {
	for _, name := range []string{"inclined_leg", "level_arm_with_perch", "arm_with_a_brace", "two_legs_in_an_a"} {
		t.Run(name, func(t *testing.T) {
			loads := loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})
			rail := runLegs(t, kind(t, name), loads...)
			on := rail.bracketNamed("left_front")
			require.NotNil(t, on.Members, on.Why)
			text := withoutRails(kind(t, name))
			before := runLegs(t, text, loads...)
			require.Nil(t, before.bracketNamed("left_front").Members)
			if i := strings.Index(text, "\nfoot_drop"); i > 0 {
				text = text[:i+1] + "# " + text[i+1:]
			}
			text = strings.Replace(text, "kind = ", "foot = [260, -380, -75]\nfoot_facing = \"right\"\nkind = ", 1)
			r := runLegs(t, text, loads...)
			own := r.bracketNamed("left_front")
			require.NotNil(t, own.Members, own.Why)
			assert.InEpsilon(t, on.Members.Solved.Parts[0].Cut.Length, own.Members.Solved.Parts[0].Cut.Length, 1e-9)
			assert.InEpsilon(t, on.Strength.Leg.Of.V, own.Strength.Leg.Of.V, 1e-9)
			f := r.Result.last(finding.BracketBending("left_front"))
			assert.Equal(t, finding.OK, f.Status, f.Missing)
			assert.Contains(t, strings.Join(f.Assumes, "; "), "a subframe or body that does not give way")
			other := r.bracketNamed("right_front")
			require.NotNil(t, other.Members, other.Why)
			for _, m := range other.MemberMatches() {
				assert.InDelta(t, 0, m.By, 1e-6, m.Label)
			}
		})
	}
}

// A crossmember on no rails stands by its own two feet.
func TestCrossmemberStandsByItsOwnFeet(t *testing.T) {
	text := withoutRails(kind(t, "dropped_crossmember"))
	text = strings.Replace(text, "foot_drop = 75", "left_foot = [1510, -380, -75]\nright_foot = [1510, 380, -75] #", 1)
	r := runLegs(t, text, rearLoads(r3.Vec{Z: -3000})...)
	b := r.bracketNamed("rear")
	require.NotNil(t, b.Members, b.Why)
	l, right := b.Members.Solved.Parts[0].Cut, b.Members.Solved.Parts[2].Cut
	assert.InEpsilon(t, l.Length, right.Length, 1e-9)
	assert.Equal(t, finding.OK, r.Result.last(finding.BracketFits("rear")).Status)
}

// A single leg does so with foot and rail_normal.
func TestALegStandsByItsOwnFoot(t *testing.T) {
	text := strings.Replace(kind(t, "inclined_leg"), "[mount.left_front.bracket]", "[mount.left_front.leg]", 1)
	i, j := strings.Index(text, "[mount.left_front.leg]"), strings.Index(text, "[mount.right_front]")
	leg := "[mount.left_front.leg]\nsection = \"SHS 60x60x4 cold\"\npad_facing = \"down\"\nstanding = 40\nfoot = [260, -330, -75]\n%s\n\n"
	k := strings.Index(text, "[mount.right_front.bracket]")
	l := strings.Index(text, "[mount.rear]")
	text = withoutRails(text[:i] + leg + text[j:k] + text[l:])
	r := runLegs(t, strings.Replace(text, "%s", "", 1), loadsOf(70, r3.Vec{Z: -3000})...)
	assert.Contains(t, r.bracketNamed("left_front").Why, "rails.left.points is not in the file yet")
	r = runLegs(t, strings.Replace(text, "%s", "rail_normal = [0, 0, 1]", 1), loadsOf(70, r3.Vec{Z: -3000})...)
	b := r.bracketNamed("left_front")
	require.True(t, b.HasCut, b.Why)
	assert.InDelta(t, -75, b.Cut.Foot.Z, 1e-9)
	assert.InDelta(t, 0, b.Cut.Pad.Angle.Rad()-b.Cut.Rail.Angle.Rad(), 1e-9, "both faces are level")
}

// A gusset under an arm is cut out and weighed, is the same on the other side, and is
// not counted as strength; it has to stand on the rail's plate where there is one.
func TestGussetsAreCutAndNotCounted(t *testing.T) {
	loads := loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})
	text := kind(t, "level_arm_with_perch")
	with := runLegs(t, text, loads...)
	i, j := strings.Index(text, "[mount.left_front.bracket.gusset]"), strings.Index(text, "[mount.left_front.bracket.weld]")
	without := runLegs(t, text[:i]+text[j:], loads...)
	b, bare := with.bracketNamed("left_front"), without.bracketNamed("left_front")
	require.Len(t, b.Sheets, 1)
	assert.InEpsilon(t, bare.Mass.V+b.Sheets[0].Figures.Mass, b.Mass.V, 1e-9)
	assert.InDelta(t, bare.Strength.Leg.Of.V, b.Strength.Leg.Of.V, 1e-12)
	f := with.Result.last(finding.BracketBending("left_front"))
	assert.Contains(t, strings.Join(f.Assumes, "; "), "no help of its gussets")
	other := with.bracketNamed("right_front")
	require.Len(t, other.Sheets, 1)
	assert.InDelta(t, b.Sheets[0].Figures.Mass, other.Sheets[0].Figures.Mass, 0.002)
	for _, c := range []struct{ was, is, want string }{
		{"down = 60\n", "", "bracket.gusset.down"},
		{"down = 60\n", "down = 60\n\n[mount.left_front.bracket.rail_plate]\nthickness = 8\nwidth = 120\nheight = 120\n", "beyond the edge of its rail plate"},
		{"along = 80\n", "along = 800\n", "reaches 800.0 mm along the member"},
	} {
		r := runLegs(t, strings.Replace(text, c.was, c.is, 1), loads...)
		assert.Contains(t, r.bracketNamed("left_front").Why, c.want)
		assert.Empty(t, r.bracketNamed("left_front").Sheets)
	}
}

// Welded to the underside of its rails a crossmember is cautioned; bolted there it is not.
func TestAWeldAcrossAFlangeIsCautioned(t *testing.T) {
	text := kind(t, "straight_crossmember")
	fits := func() finding.Finding {
		r := runLegs(t, text, rearLoads(r3.Vec{Z: -3000})...)
		return r.Result.last(finding.BracketFits("rear"))
	}
	f := fits()
	assert.Equal(t, finding.OK, f.Status)
	i, j := strings.Index(text, "[mount.rear.bracket.bolts]"), strings.Index(text, "[mount.rear.bracket.weld]")
	text = text[:i] + text[j:]
	i, j = strings.Index(text, "pitch_across = 50"), strings.Index(text, "[mount.rear.bracket.weld]")
	text = text[:i] + text[j:]
	f = fits()
	assert.Equal(t, finding.Tight, f.Status)
	assert.Contains(t, f.Advice(), "across a rail's flange")
}

// The foot of a finished mount is held against the nearest that was wanted.
func TestFinishedMountOfMembersIsHeldAtItsFeet(t *testing.T) {
	text := kind(t, "two_legs_in_an_a") + "\n[mount.left_front.built]\nfoot = [%s]\n"
	plan := runLegs(t, strings.Replace(text, "[%s]", "[260, -380, -75]", 1), loadsOf(70, r3.Vec{Z: -3000})...)
	b := plan.bracketNamed("left_front")
	require.NotNil(t, b.Members, b.Why)
	foot := b.Members.Solved.Parts[1].Ends[1].At
	at := fmt.Sprintf("[%g, %g, %g]", foot.X+3, foot.Y, foot.Z-4)
	r := runLegs(t, strings.Replace(text, "[%s]", at, 1), loadsOf(70, r3.Vec{Z: -3000})...)
	f := r.Result.last(finding.BuiltFoot("left_front", false))
	assert.InDelta(t, 5, f.Value, 1e-6)
}

// A vehicle that is mirrored has its crossmember mirrored: what is on the left is on the
// right, and it uses as much of its strength; one of its feet slides, whichever is worse.
func TestAMirroredCrossmemberIsAlike(t *testing.T) {
	for _, fixed := range []string{"", "one slides"} {
		text := strings.Replace(kind(t, "dropped_crossmember"), "between = ", "fixed = \""+fixed+"\"\nbetween = ", 1)
		if fixed == "" {
			text = kind(t, "dropped_crossmember")
		}
		i, j, k := strings.Index(text, "[rails.left]"), strings.Index(text, "[rails.right]"), strings.Index(text, "[powertrain]")
		swap := strings.NewReplacer("left", "right", ", -380,", ", 380,", ", 384,", ", -384,", ", 368,", ", -368,", "[rails.right]", "[rails.left]")
		turned := text[:i] + swap.Replace(text[i:j]) + swap.Replace(text[j:k]) + text[k:]
		a, b := runLegs(t, text, rearLoads(r3.Vec{X: 300, Y: 200, Z: -3000})...), runLegs(t, turned, rearLoads(r3.Vec{X: 300, Y: -200, Z: -3000})...)
		x, y := a.bracketNamed("rear"), b.bracketNamed("rear")
		require.NotNil(t, y.Members, y.Why)
		p, q := x.Members.Solved.Parts, y.Members.Solved.Parts
		require.NotEqual(t, p[0].Cut.Length, p[2].Cut.Length)
		for k := range p {
			assert.InEpsilon(t, p[k].Cut.Length, q[len(q)-1-k].Cut.Length, 1e-9)
			assert.InEpsilon(t, p[k].Cut.Sides[0], q[len(q)-1-k].Cut.Sides[0], 1e-9)
		}
		for _, of := range [][2]float64{{x.Strength.Leg.Of.V, y.Strength.Leg.Of.V}, {x.Strength.Weld.Of.V, y.Strength.Weld.Of.V}, {x.Strength.Bolts.Of.V, y.Strength.Bolts.Of.V},
			{x.Strength.RailPlate.Of.V, y.Strength.RailPlate.Of.V}, {x.Strength.Fixings[1].Sinks.V, y.Strength.Fixings[1].Sinks.V}} {
			assert.InEpsilon(t, of[0], of[1], 1e-9)
		}
	}
}

// A member of the file's own beside a crossmember stands on the rail on its own side:
// that of its foot, or else of its other end.
func TestAStayBesideACrossmemberStandsOnItsOwnSide(t *testing.T) {
	r := runLegs(t, kind(t, "dropped_crossmember"), rearLoads(r3.Vec{Z: -3000})...)
	b := r.bracketNamed("rear")
	foot := func(y float64) project.Point { return project.Point{At: r3.Vec{X: 1640, Y: y}, Known: true} }
	for _, c := range []struct {
		given project.Point
		other float64
		want  project.Side
	}{{foot(-380), 300, project.LeftSide}, {foot(380), -300, project.RightSide}, {project.Point{}, -300, project.LeftSide}, {project.Point{}, 300, project.RightSide}} {
		side, err := (&planned{}).sideOf(b, c.given, r3.Vec{Y: c.other}, "mount.rear.member[0].from")
		require.NoError(t, err)
		assert.Equal(t, c.want, side)
	}
	_, err := (&planned{}).sideOf(b, foot(0), r3.Vec{}, "mount.rear.member[0].from")
	assert.ErrorContains(t, err, "on the left or on the right rail")
}
