package bracket

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// The pad stands at 300, -200, -75 and the rail's middle is at -75: the leg
// runs level and square, 180 mm long, less its plates.
func TestLegStraightAcross(t *testing.T) {
	a := runLegs(t, example.Legs("", "pad_plate = { thickness = 8 }\nrail_plate = { thickness = 6, gap = 1 }", ""))
	b := leg(t, a, "left_front")
	assert.InDelta(t, 165, b.Cut.Length, 1e-9)
	assert.InDelta(t, 165, value(t, a, "bracket.left_front.long_point"), 1e-9)
	gaps := runLegs(t, example.Legs("", "pad_plate = { thickness = 8, gap = 2 }\nrail_plate = { thickness = 6, gap = 1 }", ""))
	assert.InDelta(t, 163, value(t, gaps, "bracket.left_front.length"), 1e-9)
	assert.InDelta(t, 165, value(t, a, "bracket.left_front.overall"), 1e-9)
	for _, side := range []string{"top", "right", "bottom", "left"} {
		assert.InDelta(t, 165, value(t, a, "bracket.left_front.side."+side), 1e-9)
	}
	assert.InDelta(t, 0, value(t, a, "bracket.left_front.rail.mitre"), 1e-9)
	// SHS 50x50x3 cold weighs 4.25 kg/m (EN 10219-2, annex, table of sizes).
	assert.InDelta(t, 4.25*0.165, value(t, a, "bracket.left_front.tube_mass"), 0.002)
	f, ok := a.Finding("bracket.left_front.fits")
	require.True(t, ok)
	assert.Equal(t, finding.OK, f.Status)
}

// A leg that rises 75 over 180 mm is cut 22.62 degrees from square at both
// ends, parallel: long and short point are the same, and the tips lie the
// tube's height times the tangent beyond the axis.
func TestLegThatRises(t *testing.T) {
	a := runLegs(t, example.Legs("", "foot_drop = 0", ""))
	slope := math.Atan2(75, 180)
	assert.InDelta(t, math.Hypot(75, 180), value(t, a, "bracket.left_front.length"), 1e-9)
	assert.InDelta(t, slope, value(t, a, "bracket.left_front.pad.from_square"), 1e-9)
	assert.InDelta(t, slope, value(t, a, "bracket.left_front.rail.from_square"), 1e-9)
	assert.InDelta(t, slope, value(t, a, "bracket.left_front.from_level"), 1e-9)
	for drop, words := range map[string]string{"foot_drop = 0": "rises to its foot", "foot_drop = 140": "falls to its foot"} {
		b := leg(t, runLegs(t, example.Legs("", drop, "")), "left_front")
		assert.True(t, slices.ContainsFunc(b.Rows(), func(r Row) bool { return r.Words == words }), words)
	}
	// To 22.5° it is off by what the swing is wrong at the top of the slanting cut, by hand.
	wrong := slope - 22.5*math.Pi/180
	assert.InDelta(t, 25/math.Cos(slope)*math.Sin(wrong), value(t, a, "bracket.left_front.rail.half_miss"), 1e-9)
	rises := leg(t, a, "left_front")
	labels := []string{}
	for _, r := range rises.SawRows() {
		labels = append(labels, r.Label)
		assert.True(t, slices.ContainsFunc(a.Values, func(v finding.Value) bool { return v.Name == r.Name }), r.Name)
	}
	assert.Equal(t, []string{"top side", "bottom side", "left side", "right side", "pad off at its tip", "rail off at its tip"}, labels)
	f, _ := a.Finding("bracket.left_front.fits")
	assert.InDelta(t, slope, f.Value, 1e-9, "the swing, of as much as a saw does")
	assert.InDelta(t, (60 * geom.Deg).Rad(), f.Limit, 1e-9)
	assert.InDelta(t, math.Hypot(75, 180), value(t, a, "bracket.left_front.long_point"), 1e-6)
	// Corner radius 2T = 6: the tips of the rounded envelope (EN 10219-2).
	tan := math.Tan(slope)
	assert.InDelta(t, math.Hypot(75, 180)+50*tan, value(t, a, "bracket.left_front.overall"), 6*tan)
}

func TestLegFollowsThePowertrain(t *testing.T) {
	a := runLegs(t, example.Legs("", "", ""))
	b := runLegs(t, strings.Replace(example.Legs("", "", ""), "left_front = -35", "left_front = -30", 1))
	assert.InDelta(t, value(t, a, "bracket.left_front.pad.height")+5, value(t, b, "bracket.left_front.pad.height"), 0.05)
	fixed := runLegs(t, example.Legs("", "pad = [300, -210, -75]", ""))
	assert.InDelta(t, 170, value(t, fixed, "bracket.left_front.length"), 1e-9)
}

func TestWhatIsMissingIsNamed(t *testing.T) {
	for text, want := range map[string]string{
		strings.Replace(example.Legs("", "", ""), "setback = 300", "", 1):                               "placement.setback",
		strings.Replace(example.Legs("", "", ""), "height = 150", "", 1):                                "rails.left.height",
		strings.Replace(example.Legs("", "", ""), "points = [[-500, -380, 0], [2000, -380, 0]]", "", 1): "rails.left.points",
		example.Legs("", "rail_plate = {}", "[mount.rear.leg]\nkind = \"round tube\"\n"):                "",
	} {
		a := runLegs(t, text)
		f, ok := a.Finding("bracket.left_front.fits")
		require.True(t, ok)
		if want == "" {
			assert.Equal(t, finding.OK, f.Status)
			rear, _ := a.Finding("bracket.rear.fits")
			assert.Equal(t, finding.NotKnown, rear.Status)
			assert.Contains(t, rear.Missing, "height of the rear leg's section")
			continue
		}
		assert.Equal(t, finding.NotKnown, f.Status, want)
		assert.Contains(t, f.Missing, want)
	}
}

// Legs that cannot be: the finding is over and its advice names the leg and
// what to do.
func TestLegsThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct{ leg, want string }{
		"no length":          {`pad = [300, -380, -75]`, "no length"},
		"pad at its foot":    {"pad = [300, -380, -75]\nfoot = [300, -380, -75]", "no length"},
		"rail behind":        {`pad_facing = "right"`, "behind the pad"},
		"pad past the rail":  {`pad = [300, -500, -75]`, "behind the pad"},
		"along the pad":      {`pad_facing = "down"`, "runs along the pad's face"},
		"off the rail":       {`pad = [2500, -200, -75]`, "off the end of the left rail"},
		"plates too thick":   {"rail_plate = { thickness = 200 }", "no leg is left"},
		"too steep":          {"foot = [800, -380, -75]", "saw cannot"},
		"foot off the rail":  {"foot = [300, -460, -75]", "80.0 mm off the face of the left rail"},
		"square on a header": {"header = 60\nheader_from = [300, -380, -75]\nheader_to = [400, -380, -75]", "round tube"},
		"unknown section":    {"", "there is no section"},
	} {
		text := example.Legs("", c.leg, "")
		if name == "unknown section" {
			text = strings.Replace(text, "SHS 50x50x3 cold", "SHS 51x50x3", 1)
		}
		f, ok := runLegs(t, text).Finding("bracket.left_front.fits")
		require.True(t, ok, name)
		assert.Equal(t, finding.Over, f.Status, name)
		assert.Contains(t, f.Advice(), c.want, name)
		assert.Contains(t, strings.ToLower(f.Advice()), "left front", name)
	}
}

// A round leg on a round crossmember: every point of the outside edge lies on
// the crossmember when that is the edge that is fitted; and the lengths on the
// outside are those between the pad's plane and these points.
func TestSaddleLiesOnTheCrossmember(t *testing.T) {
	for _, c := range []struct{ from, to, foot r3.Vec }{
		{r3.Vec{X: 300, Y: -300, Z: -400}, r3.Vec{X: 300, Y: 300, Z: -400}, r3.Vec{X: 300, Y: -200, Z: -400}},
		{r3.Vec{X: 310, Y: -300, Z: -420}, r3.Vec{X: 290, Y: 300, Z: -380}, r3.Vec{X: 305, Y: -100, Z: -400}},
		{r3.Vec{X: 290, Y: 300, Z: -400}, r3.Vec{X: 305, Y: -300, Z: -380}, r3.Vec{X: 295, Y: -320, Z: -390}},
	} {
		list := func(p r3.Vec) string { return fmt.Sprintf("[%g, %g, %g]", p.X, p.Y, p.Z) }
		text := strings.Replace(example.Legs("", "pad_facing = \"down\"\nheader = 76.1\nheader_from = "+list(c.from)+"\nheader_to = "+list(c.to)+
			"\nfoot = "+list(c.foot)+"\nfit = \"outside edge\"", ""), "SHS 50x50x3 cold", "CHS 42.4x2.6", 1)
		a := runLegs(t, text)
		b := leg(t, a, "left_front")
		require.NotNil(t, b.Saddle)
		h := r3.Unit(r3.Sub(c.to, c.from))
		longest, shortest := 0.0, math.Inf(1)
		tip, tail := math.Inf(-1), math.Inf(1)
		for _, p := range b.Saddle.Template.Points {
			turn := p.X/21.2 + b.Saddle.Acute.Rad()
			out := r3.Add(r3.Scale(21.2*math.Cos(turn), b.Cut.V), r3.Scale(21.2*math.Sin(turn), b.Cut.U))
			at := r3.Add(r3.Add(b.Saddle.Base, r3.Scale(-p.Y, b.Cut.Axis)), out)
			off := r3.Sub(at, c.from)
			off = r3.Sub(off, r3.Scale(r3.Dot(off, h), h))
			assert.InDelta(t, 38.05, r3.Norm(off), 1e-6)
			// Back along the tube to the level pad.
			l := (at.Z - b.Leg.Pad.Point.Z) / b.Cut.Axis.Z
			longest, shortest = max(longest, l), min(shortest, l)
			along := r3.Dot(at, b.Cut.Axis)
			tip, tail = max(tip, along), min(tail, along-l)
		}
		assert.InDelta(t, longest, b.LongPoint(), 1e-6)
		assert.InDelta(t, shortest, b.ShortPoint(), 1e-6)
		assert.InDelta(t, tip-tail, b.Overall(), 1e-6)
		for _, r := range b.Rows() {
			assert.Equal(t, r.Label == "on the axis", r.Words == "to the crossmember's axis", r.Label)
		}
		per := b.Cut.Section.Mass / 1000 // kg per mm
		assert.Less(t, b.Saddle.Mass, per*b.LongPoint())
		assert.Greater(t, b.Saddle.Mass, per*b.ShortPoint())
		assert.InDelta(t, b.Saddle.Mass, b.Mass.V, 1e-12, "no plates")
		assert.InDelta(t, 90, geom.Angle(value(t, a, "bracket.left_front.saddle.angle")).Degrees(), 30)
	}
	small := strings.Replace(example.Legs("", "pad_facing = \"down\"\nheader = 40\nheader_from = [300,-300,-400]\nheader_to = [300,300,-400]", ""),
		"SHS 50x50x3 cold", "CHS 42.4x2.6", 1)
	f, _ := runLegs(t, small).Finding("bracket.left_front.fits")
	assert.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "left front")
	assert.Contains(t, f.Advice(), "larger header")
}

// A plate of 140 by 140 outside with a 45 edge: the blank is the sum of the
// outsides less the deduction, 2 (R+T) - pi/2 (R + K T) at a square bend.
func TestFoldedPlate(t *testing.T) {
	a := runLegs(t, example.Legs("", `rail_plate = { thickness = 8, width = 140, height = 140, flange = 45, radius = 8, k = 0.4, pitch_across = 100, pitch_high = 60, hole = 13 }`, ""))
	deduction := 2*16 - math.Pi/2*(8+0.4*8)
	assert.InDelta(t, 185-deduction, value(t, a, "bracket.left_front.rail_plate.blank"), 1e-9)
	assert.InDelta(t, 140-16, value(t, a, "bracket.left_front.rail_plate.bend_from"), 1e-9)
	// It hangs from the rail's top edge: the foot, 75 below that, is 140 - 8 - 75
	// above the lower edge.
	assert.InDelta(t, 57, value(t, a, "bracket.left_front.rail_plate.middle"), 1e-9)
	area := 140*(185-deduction) - 4*math.Pi/4*13*13
	assert.InDelta(t, area*8*7850e-9, value(t, a, "bracket.left_front.rail_plate.mass"), 1e-9)
	f, _ := a.Finding("bracket.left_front.rail_plate.edge")
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 20, f.Value, 1e-9) // (140-100)/2
	near := runLegs(t, example.Legs("", `rail_plate = { thickness = 8, width = 120, height = 140, pitch_across = 100, pitch_high = 60, hole = 13 }`, ""))
	f, _ = near.Finding("bracket.left_front.rail_plate.edge")
	assert.Equal(t, finding.Over, f.Status)
}

// Every mark of a template, carried back onto the tube, lies on the plane of
// its cut.
func TestWrapsLieOnTheCuts(t *testing.T) {
	text := strings.Replace(example.Legs("", "pad_normal = [0.2, -1, 0.1]\nfoot = [330, -380, -30]", ""), "SHS 50x50x3 cold", "CHS 48.3x3", 1)
	b := leg(t, runLegs(t, text), "left_front")
	wraps, err := b.Wraps(36)
	require.NoError(t, err)
	require.Len(t, wraps, 2)
	for _, w := range wraps {
		at, normal, way := b.Cut.Pad.At, b.Cut.Pad.Normal, -1.0
		if w.End == "rail" {
			at, normal, way = b.Cut.Rail.At, b.Cut.Rail.Normal, 1
		}
		assert.Greater(t, w.Deepest, 1.0)
		assert.GreaterOrEqual(t, w.Zero, 0.0)
		assert.Less(t, w.Zero, 2*math.Pi)
		for _, p := range w.Points {
			turn := w.Zero + p.Angle
			out := r3.Add(r3.Scale(24.15*math.Cos(turn), b.Cut.V), r3.Scale(24.15*math.Sin(turn), b.Cut.U))
			mark := r3.Add(r3.Add(b.Cut.Pad.At, r3.Scale(w.Ring+way*p.Toward, b.Cut.Axis)), out)
			assert.InDelta(t, 0, r3.Dot(normal, r3.Sub(mark, at)), 1e-9)
			assert.InDelta(t, 24.15*p.Angle, p.Around, 1e-9)
			assert.GreaterOrEqual(t, p.Toward, -1e-9)
		}
	}
	for _, places := range []int{11, 361} {
		_, err = b.Wraps(places)
		require.ErrorContains(t, err, "12 to 360")
	}
	square := leg(t, runLegs(t, example.Legs("", "", "")), "left_front")
	_, err = square.Wraps(24)
	require.ErrorContains(t, err, "cut on the saw")
	for _, places := range []int{12, 360} {
		_, err = b.Wraps(places)
		require.NoError(t, err)
	}
}

// What the geometry says in mm is said in the file's unit, wherever it is asked.
func TestReasonsAreInTheFilesUnit(t *testing.T) {
	inch := "[units]\nsystem = \"inch\"\n"
	a := runLegs(t, strings.Replace(example.Legs("", "rail_plate = { thickness = 200 }", inch), "format = 1", "format = 3", 1))
	b, ok := a.Bracket("left_front")
	require.True(t, ok)
	require.False(t, b.HasCut)
	_, err := a.MatchOf("left_front", "right_front")
	require.Error(t, err)
	_, wraps := b.Wraps(24)
	require.Error(t, wraps)
	for _, said := range []string{b.Why, wraps.Error()} {
		assert.Contains(t, said, " in")
		assert.NotContains(t, said, "mm")
	}
}

// A saw that does not tilt makes a compound cut with the tube rolled, if it swings
// far enough: the swing is the angle between the cut and a square one.
func TestASawThatDoesNotTilt(t *testing.T) {
	const compound = "foot = [330, -380, -40]"
	for shop, want := range map[string]finding.Status{"mitre = 60\ntilt = 0\n": finding.OK, "mitre = 10\ntilt = 0\n": finding.Over, "tilt = 0\n": finding.OK, "": finding.OK} {
		a := runLegs(t, example.Legs("", compound, "[shop]\n"+shop))
		f, ok := a.Finding("bracket.left_front.fits")
		require.True(t, ok)
		assert.Equal(t, want, f.Status, shop)
		b := leg(t, a, "left_front")
		if shop == "" {
			assert.NotContains(t, f.Advice(), "rolled")
			assert.Equal(t, finding.Practice, f.Source)
			continue
		}
		assert.Contains(t, f.Advice(), "rolled")
		assert.InDelta(t, max(b.Cut.Pad.Angle, b.Cut.Rail.Angle).Rad(), f.Value, 1e-9, shop)
		assert.Contains(t, f.Source, "as entered in [shop]")
	}
}

// A mount whose name has no side stands on the rail its pad is nearer to, and one
// in the middle on none.
func TestTheRailOfAMount(t *testing.T) {
	for offset, want := range map[float64]string{60: "bracket.extra.foot.offset", -60: "bracket.extra.foot.offset", 40: "", -40: ""} {
		a := runLegs(t, example.Legs("", "", fmt.Sprintf("[mount.extra]\nat = [0, %g, 0]\n[mount.extra.leg]\nsection = \"SHS 50x50x3 cold\"\n", offset)))
		f, ok := a.Finding("bracket.extra.fits")
		require.True(t, ok)
		if want == "" {
			assert.Equal(t, finding.NotKnown, f.Status, "%g", offset)
			assert.Contains(t, f.Missing, "mount.extra.leg.rail")
			continue
		}
		assert.InDelta(t, math.Copysign(380, offset), value(t, a, want), 1e-9)
	}
}

// A mark says where the rail's face is: the foot stands on it, straight across.
func TestTheFootStandsOnTheFaceOfTheMark(t *testing.T) {
	a := runLegs(t, example.Legs("", "mark = [300, -376, -50]\nrail_normal = [0, 2, 0.5]", ""))
	// Square to (0, 2, 0.5) through the mark: y = -376 - (z + 50)/4, at z = -75.
	assert.InDelta(t, -376+25/4., value(t, a, "bracket.left_front.foot.offset"), 1e-9)
}
