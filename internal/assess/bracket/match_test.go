package bracket

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// On mirrored rails the other leg is the mirror image exactly.
func TestMirroredRailsGiveTheMirrorImage(t *testing.T) {
	a := runLegs(t, example.Legs("", "foot = [340, -380, -20]\npad_plate = { thickness = 8 }\nrail_plate = { thickness = 6 }", example.OtherLeg))
	l, r := leg(t, a, "left_front"), leg(t, a, "right_front")
	require.NotNil(t, r.Match)
	rows := r.MatchRows()
	require.Greater(t, len(rows), 12)
	for _, row := range rows {
		assert.InDelta(t, 0, row.By, 1e-9, row.Label)
	}
	assert.InDelta(t, l.Cut.Length, r.Cut.Length, 1e-9)
	assert.InDelta(t, l.Cut.Foot.X, r.Cut.Foot.X, 1e-9)
	assert.InDelta(t, -l.Cut.Foot.Y, r.Cut.Foot.Y, 1e-9)
	assert.InDelta(t, l.Cut.Foot.Z, r.Cut.Foot.Z, 1e-9)
	assert.InDelta(t, l.Mass.V, r.Mass.V, 1e-9)
	assert.InDelta(t, 0, value(t, a, "match.right_front.rail_miss"), 1e-9)
}

// A right rail that stands 6 mm farther out and runs out by 1.2 degrees: the
// plain mirror image would miss, the leg made for it lands on both faces to
// 0.01 mm. The face is worked out here by itself: y = 386 + (x-300) tan 1.2.
func TestRailsThatDifferAreLandedOn(t *testing.T) {
	tan := math.Tan((1.2 * geom.Deg).Rad())
	y := func(x float64) float64 { return 386 + (x-300)*tan }
	text := strings.Replace(example.Legs("", "foot_drop = 40\npad_plate = { thickness = 8 }\nrail_plate = { thickness = 6 }", example.OtherLeg),
		"[[-500, 380, 0], [2000, 380, 0]]", fmt.Sprintf("[[-500, %.12f, 0], [2000, %.12f, 0]]", y(-500), y(2000)), 1)
	a := runLegs(t, text)
	r := leg(t, a, "right_front")
	cos := 1 / math.Hypot(1, tan)
	for _, p := range r.Cut.Outline(true, 5) {
		assert.InDelta(t, 6, (y(p.X)-p.Y)*cos, 0.01, "off the rail's plate")
	}
	for _, p := range r.Cut.Outline(false, 5) {
		assert.InDelta(t, 208, p.Y, 0.01, "off the pad's plate")
	}
	assert.InDelta(t, 300, r.Cut.Foot.X, 0.3)
	assert.Greater(t, value(t, a, "match.right_front.rail_miss"), 6.0)
	by := map[string]float64{}
	for _, row := range r.MatchRows() {
		by[row.Label] = row.By
		assert.InDelta(t, row.Made-row.Mirror, row.By, 1e-9, row.Label)
		assert.InDelta(t, row.By, value(t, a, row.Name+".by"), 1e-12)
	}
	assert.InDelta(t, 6, by["foot offset"], 0.01)
	l := leg(t, a, "left_front")
	assert.InDelta(t, math.Hypot(186, 35)-14/math.Cos(math.Atan2(35, 186)), r.Cut.Length, 0.2)
	assert.InDelta(t, r.Cut.Length-l.Cut.Length, by["length on the axis"], 1e-9)
}

// The other leg is made after the first one as it was finished.
func TestMatchTakesWhatWasBuilt(t *testing.T) {
	built := "[mount.left_front.built]\npad = [302, -199, -76]\nfoot = [305, -380, -70]\n"
	a := runLegs(t, example.Legs("", "", example.OtherLeg+built))
	r := leg(t, a, "right_front")
	assert.True(t, r.Match.AsBuilt)
	assert.InDelta(t, 305, r.Cut.Foot.X, 1e-9)
	assert.InDelta(t, -70, r.Cut.Foot.Z, 1e-9)
	assert.InDelta(t, 380, r.Cut.Foot.Y, 1e-9)
	assert.InDelta(t, 200, r.Leg.Pad.Point.Y, 1e-9, "its own pad stays where the powertrain has it")
	for id, want := range map[string]float64{"bracket.left_front.place": math.Sqrt(4 + 1 + 1), "bracket.left_front.foot": math.Hypot(5, 5)} {
		f, ok := a.Finding(id)
		require.True(t, ok, id)
		assert.Equal(t, finding.Over, f.Status, id)
		assert.InDelta(t, want, f.Value, 1e-9, id)
	}
}

// Three points on the finished side's rail are a measurement too: they say
// where the leg of that side stands, 2 mm farther out than planned.
func TestMatchTakesAMeasuredRailAlone(t *testing.T) {
	built := "[mount.left_front.built]\nrail_points = [[250, -382, -100], [350, -382, -100], [300, -382, -20]]\n"
	r := leg(t, runLegs(t, example.Legs("", "", example.OtherLeg+built)), "right_front")
	assert.True(t, r.Match.AsBuilt)
	assert.InDelta(t, 382, r.Match.Result.MirrorCut.Foot.Y, 1e-9)
	assert.InDelta(t, 380, r.Cut.Foot.Y, 1e-9, "its own rail stays where it is")
}

// A mark that both rails have carries the foot with it.
func TestSameMarkOnBothRails(t *testing.T) {
	text := example.Legs("", "foot = [300, -380, -60]\nmark = [250, -380, -50]", example.OtherLeg+"mark = [262, 380, -54]\n")
	r := leg(t, runLegs(t, text), "right_front")
	assert.True(t, r.Match.SameMark)
	assert.InDelta(t, 312, r.Cut.Foot.X, 1e-9)
	assert.InDelta(t, -64, r.Cut.Foot.Z, 1e-9)
}

// The second mount as built, against what was wanted there: 0.9 mm off and 0.4
// degrees are within the limits, 1.1 mm and 0.6 degrees are not.
func TestBuiltSecondMount(t *testing.T) {
	for _, c := range []struct {
		off, lean float64
		want      finding.Status
	}{{0.9, 0.4, finding.OK}, {1.1, 0.6, finding.Over}} {
		rise := 50 * math.Tan((geom.Angle(c.lean) * geom.Deg).Rad())
		built := fmt.Sprintf("[mount.right_front.built]\npad = [%g, 200, -75]\npad_points = [[250, %.9f, -75], [350, %.9f, -75], [300, 200, -40]]\n",
			300+c.off, 200-rise, 200+rise)
		a := runLegs(t, example.Legs("", "", example.OtherLeg+built))
		for id, want := range map[string]float64{"match.right_front.place": c.off, "match.right_front.lean": (geom.Angle(c.lean) * geom.Deg).Rad()} {
			f, ok := a.Finding(id)
			require.True(t, ok, id)
			assert.Equal(t, c.want, f.Status, id)
			assert.InDelta(t, want, f.Value, 1e-6, id)
		}
		_, ok := a.Finding("bracket.right_front.place")
		assert.False(t, ok)
	}
	a := runLegs(t, example.Legs("", "", example.OtherLeg+"[mount.right_front.built]\nfoot = [300, 380.4, -75.3]\n"))
	f, _ := a.Finding("match.right_front.foot")
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 0.5, f.Value, 1e-9)
	f, _ = a.Finding("match.right_front.place")
	assert.Equal(t, finding.NotKnown, f.Status)
}

// The shim goes thick where the pad has fallen away from its isolator. The left
// leg goes left from its isolator, so a pad whose top lies farther left than
// its bottom has its gap at the top; the rear likewise on the right leg, which
// goes right. A pad built 0.5 mm short of its isolator stands off it by that.
func TestShimGoesThickWhereThePadFallsAway(t *testing.T) {
	for _, c := range []struct{ built, id, want string }{
		{"[mount.left_front.built]\npad = [300, -200.5, -75]\npad_points = [[280, -199, -95], [320, -199, -95], [300, -201, -55]]\n", "bracket.left_front", "thick toward the top"},
		{"[mount.left_front.built]\npad = [300, -200.5, -75]\npad_points = [[280, -201, -95], [320, -201, -95], [300, -199, -55]]\n", "bracket.left_front", "thick toward the bottom"},
		{"[mount.right_front.built]\npad = [300, 200.5, -75]\npad_points = [[280, 199, -95], [280, 199, -55], [320, 201, -75]]\n", "match.right_front", "thick toward the rear"},
	} {
		a := runLegs(t, example.Legs("", "", example.OtherLeg+c.built))
		f, ok := a.Finding(c.id + ".lean")
		require.True(t, ok)
		assert.Contains(t, f.Advice(), c.want)
		assert.InDelta(t, -0.5, value(t, a, c.id+".off"), 1e-9)
	}
}

func TestMatchOfAnyTwoMounts(t *testing.T) {
	a := runLegs(t, example.Legs("", "", "[mount.right_front.leg]\nsection = \"SHS 40x40x3 cold\"\nstanding = 40\n"))
	b, err := a.MatchOf("left_front", "right_front")
	require.NoError(t, err)
	assert.Equal(t, "SHS 50x50x3 cold", b.Section)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Vec{X: 300, Y: 380, Z: -75}, b.Cut.Foot)), 1e-9)
	_, err = a.MatchOf("left_front", "left_front")
	require.ErrorContains(t, err, "left front")
	_, err = a.MatchOf("gearbox", "right_front")
	require.ErrorContains(t, err, "gearbox")
}

// The right rail runs 20 mm higher than the left one and falls by 1 in 100: the
// foot keeps the height of the mirrored one, so from its own rail's edge it lies
// deeper, by 20 less what the rail has fallen at the foot.
func TestFootFromItsOwnRailsEdge(t *testing.T) {
	text := strings.Replace(example.Legs("", "foot_drop = 40", example.OtherLeg), "[[-500, 380, 0], [2000, 380, 0]]", "[[-500, 380, 20], [2000, 380, -5]]", 1)
	a := runLegs(t, text)
	r := leg(t, a, "right_front")
	assert.InDelta(t, 40, value(t, a, "bracket.left_front.foot_drop"), 1e-9)
	edge := 20 - (r.Cut.Foot.X+500)/100
	assert.InDelta(t, -40, r.Cut.Foot.Z, 1e-9)
	assert.InDelta(t, 40+edge, value(t, a, "bracket.right_front.foot_drop"), 1e-9)
	assert.InDelta(t, 40, value(t, a, "match.right_front.foot_drop.mirror"), 1e-9)
	assert.InDelta(t, 40+edge, value(t, a, "match.right_front.foot_drop.made"), 1e-9)
	assert.InDelta(t, edge, value(t, a, "match.right_front.foot_drop.by"), 1e-9)
}

// Without a mark on both rails the foot rests on stations that begin alike: it is
// said, with the mark that is missing.
func TestMarksOnBothRailsAreAskedFor(t *testing.T) {
	left, right := "mark = [250, -380, -50]", "mark = [262, 380, -54]\n"
	for name, c := range map[string]struct{ left, right, want string }{
		"neither": {"", "", "mount.left_front.leg.mark and mount.right_front.leg.mark are not in the file yet"},
		"left":    {left, "", "(mount.right_front.leg.mark is not in the file yet)"},
		"right":   {"", right, "(mount.left_front.leg.mark is not in the file yet)"},
		"both":    {left, right, ""},
	} {
		a := runLegs(t, example.Legs("", "foot = [300, -380, -60]\n"+c.left, example.OtherLeg+c.right+"[mount.right_front.built]\nfoot = [312, 380, -64]\n"))
		for _, id := range []string{"bracket.right_front.fits", "match.right_front.foot"} {
			f, ok := a.Finding(id)
			require.True(t, ok, id)
			if c.want == "" {
				assert.Empty(t, f.Assumes, name)
				continue
			}
			require.Len(t, f.Assumes, 1, name)
			assert.Contains(t, f.Assumes[0], "begin at the same place on both rails", name)
			assert.Contains(t, f.Assumes[0], c.want, name)
		}
		f, _ := a.Finding("bracket.left_front.fits")
		assert.Empty(t, f.Assumes, "it mirrors none")
	}
}

// A leg that mirrors one that cannot be made cannot be made, and of one that is not
// known it is not known.
func TestALegIsAsGoodAsTheOneItMirrors(t *testing.T) {
	for text, c := range map[string]struct {
		want finding.Status
		says string
	}{
		example.Legs("", "pad = [300, -500, -75]", example.OtherLeg):                     {finding.Over, "that one cannot be made"},
		strings.Replace(example.Legs("", "", example.OtherLeg), "height = 150\n", "", 1): {finding.NotKnown, "the left front leg, which it mirrors: rails.left.height is not in the file yet"},
	} {
		f, ok := runLegs(t, text).Finding("bracket.right_front.fits")
		require.True(t, ok)
		assert.Equal(t, c.want, f.Status)
		assert.Contains(t, f.Advice(), c.says)
	}
}
