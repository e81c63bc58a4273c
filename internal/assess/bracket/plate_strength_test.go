package bracket

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

const m10 = "\nbolts = { thread = \"M10\", class = \"8.8\" }"

// A rail plate of 8 mm with its bolts 80 by 60 apart about a box of 50: the
// upper two pull with F L/(2 x 60) each, off the tube's corner by 15 across and
// 5 up. It bends through at yield t²/4 on a line twice as wide as the arm.
func TestRailPlateBends(t *testing.T) {
	a, s := strong(t, `rail_plate = { thickness = 8, width = 140, height = 120, pitch_across = 80, pitch_high = 60, hole = 11 }`+m10)
	f, ok := a.Finding("bracket.left_front.rail_plate.bending")
	require.True(t, ok)
	pull := bump * 180 / 120
	// The foot's rounded corner of 6 mm lies a little inside the sharp one.
	arm := math.Hypot(40-19, 30-19) - 6
	assert.InDelta(t, arm, value(t, a, "bracket.left_front.rail_plate.arm"), 0.01)
	assert.InDelta(t, 2*arm, value(t, a, "bracket.left_front.rail_plate.spread"), 0.02)
	assert.InDelta(t, pull/(2*235*64/4), f.Value, 1e-3)
	assert.InDelta(t, pull, s.RailPlate.Bending.Force, 1)
	assert.Contains(t, f.Advice(), "bump")
	require.NotEmpty(t, f.Assumes)

	// A millimetre of plate holds 64 times less: over.
	a, _ = strong(t, `rail_plate = { thickness = 1, width = 140, height = 120, pitch_across = 80, pitch_high = 60, hole = 11 }`+m10)
	f, _ = a.Finding("bracket.left_front.rail_plate.bending")
	assert.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "thicker rail plate")

	// Not known without the plate's sizes, or the place of its bolts.
	for leg, want := range map[string]string{
		`rail_plate = { thickness = 8, height = 120, pitch_across = 80, pitch_high = 60 }`: "rail_plate.width",
		`rail_plate = { thickness = 8, width = 140, pitch_across = 80, pitch_high = 60 }`:  "rail_plate.height",
		`rail_plate = { thickness = 8, width = 140, height = 120, pitch_high = 60 }`:       "rail_plate.pitch_across",
		`rail_plate = { thickness = 8, width = 140, height = 120, pitch_across = 60 }`:     "rail_plate.pitch_high",
	} {
		a, _ := strong(t, leg+m10)
		f, ok := a.Finding("bracket.left_front.rail_plate.bending")
		require.True(t, ok, leg)
		assert.Equal(t, finding.NotKnown, f.Status, leg)
		assert.Contains(t, f.Missing, "mount.left_front.leg."+want, leg)
	}
}

// A rail plate without bolts is welded down: the pull of the tube's wall, M/W of
// its line per mm, has the way to the plate's nearest edge for an arm.
func TestRailPlateWeldedDown(t *testing.T) {
	const t4 = 10 * 10 * 235 / 4.
	a, _ := strong(t, "weld = { size = 3, runs = \"top and bottom\" }\nrail_plate = { thickness = 10, width = 140, height = 90 }")
	f, ok := a.Finding("bracket.left_front.rail_plate.bending")
	require.True(t, ok)
	pull := bump * (180 - 10) / (38 * 50) // the foot's cut lies 10 mm nearer
	assert.InDelta(t, pull*(45-25)/t4, f.Value, 1e-3)
}

// A leg that rises by 75 in 180 is welded to a plate of 10 mm 10·75/180 below the
// middle of its foot, so the strip above it is longer by that: 45 less the half of
// the cut's height, 25 over the cosine.
func TestWeldOfASlantingLegLiesBesideItsFoot(t *testing.T) {
	a, _ := strong(t, "foot_drop = 0\nweld = { size = 3, runs = \"top and bottom\" }\nrail_plate = { thickness = 10, width = 140, height = 90 }")
	assert.InDelta(t, 45-25*math.Hypot(75, 180)/180+10*75/180., value(t, a, "bracket.left_front.rail_plate.arm"), 1e-6)
}

// A plate smaller than the tube's foot is not judged: nothing of it is looked at
// where the tube stands beside it.
func TestATubeBesideItsPlateIsNotKnown(t *testing.T) {
	for _, plate := range []string{"width = 140, height = 45", "width = 40, height = 90"} {
		a, _ := strong(t, "weld = { size = 3 }\nrail_plate = { thickness = 10, "+plate+" }")
		f, ok := a.Finding("bracket.left_front.rail_plate.bending")
		require.True(t, ok)
		assert.Equal(t, finding.NotKnown, f.Status)
		assert.Contains(t, f.Missing, "stands off the plate")
	}
}

// A pad plate of 1 mm under a stud: the leg hangs below its isolator and goes
// down, so the weight presses square on it, over the tube's bore: 2π yield t²/4.
func TestPadPlateBends(t *testing.T) {
	under := func(plate string) (finding.Finding, legs) {
		a, _ := strong(t, "pad_facing = \"down\"\nfoot = [300, -380, -75]\nrail_normal = [0, 1, 1]\n"+plate)
		f, ok := a.Finding("bracket.left_front.pad_plate.bending")
		require.True(t, ok)
		return f, a
	}
	thin := "pad = [300, -200, 100]\n"
	f, _ := under(thin + "pad_plate = { thickness = 1, width = 100, height = 100 }")
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, bump/(2*math.Pi*235/4), f.Value, 1e-6)
	assert.Contains(t, strings.Join(f.Assumes, " "), "one stud in the middle")
	f, _ = under(thin + "pad_plate = { thickness = 10, width = 100, height = 100, across = 1, high = 1 }")
	assert.Equal(t, finding.OK, f.Status)

	// Two bolts 90 apart, beside the tube: each has half, and the arm counts for
	// nothing but the spread.
	f, _ = under(thin + "pad_plate = { thickness = 10, width = 200, height = 200, across = 2, high = 1, pitch_across = 140 }")
	assert.InDelta(t, bump/2/(2*235*100/4), f.Value, 1e-3)
	f, _ = under(thin + "pad_plate = { thickness = 10, height = 200, pitch_across = 140 }")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "pad_plate.width")
	f, _ = under(thin + "pad_plate = { thickness = 10, width = 200, height = 200, pitch_across = 140 }")
	assert.Contains(t, f.Missing, "pad_plate.pitch_high")
}

// The isolator stands off its plate: a force along the plate bends it, too. Half
// of the isolator's 40 mm is the least arm; it makes a pair of forces half the
// tube's size either side.
func TestPadPlateIsBentByWhatStandsOffIt(t *testing.T) {
	a := runLegs(t, example.Legs("", "pad_plate = { thickness = 4, width = 90, height = 90 }", ""), bumped("left_front", r3.Vec{X: 300, Y: -200, Z: -35}))
	f, ok := a.Finding("bracket.left_front.pad_plate.bending")
	require.True(t, ok)
	assert.InDelta(t, 2*bump*20/50/(2*math.Pi*235*16/4), f.Value, 1e-6)
}

// Two bolts in one row hold a pull, and what tips along the row; what tips about it is held by
// the edge of the isolator's foot, which the file does not have, and that is said with how
// much it is: 300 N to the rear, half of 40 mm over the plate.
func TestTwoBoltsInOneRow(t *testing.T) {
	text := kind(t, "level_arm_with_perch")
	i, j := strings.Index(text, "[mount.left_front.bracket.pad_plate]"), strings.Index(text, "[mount.left_front.bracket.gusset]")
	plate := "[mount.left_front.bracket.pad_plate]\nthickness = 10\nwidth = 120\nheight = 120\nacross = 2\nhigh = 1\npitch_across = 90\nhole = 13\n\n"
	require.True(t, i > 0 && j > i)
	text = text[:i] + plate + text[j:]
	plan := runLegs(t, text)
	b := plan.bracketNamed("left_front")
	require.NotNil(t, b.Members, b.Why)
	load := func(force r3.Vec) MountLoad {
		return MountLoad{Mount: "left_front", At: b.Members.Pad.Point, Cases: []Case{{"bump", force}}}
	}
	pose, err := geombracket.FacePose("pad", b.Members.Pad, r3.Vec{})
	require.NoError(t, err)
	across := runLegs(t, text, load(r3.Scale(300, pose.Y)))
	f := across.Result.last(finding.PadPlateBending("left_front"))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "how far the foot of its isolator reaches beside its one row of bolts is not in the file yet")
	assert.Contains(t, f.Missing, "6 N·m tip it about that row")
	along := runLegs(t, text, load(r3.Scale(300, pose.X)))
	f = along.Result.last(finding.PadPlateBending("left_front"))
	assert.True(t, f.HasValue, f.Missing)
}

// A rail plate of 140 by 100 with two bolts in one row, level with the leg: down at the pad
// tips it about the row, and its lower edge presses, 50 mm below. Each bolt pulls with
// F L/(2 · 50); the edge bends the plate from the box, 25 mm off, over its 50 mm of width
// less what its rounded corners stand back.
func TestRailPlateWithOneRow(t *testing.T) {
	const row = `rail_plate = { thickness = 10, width = 140, height = 100, across = 2, high = 1, pitch_across = 100, hole = 11 }`
	a, s := strong(t, row+m10)
	assert.InDelta(t, bump*180/50/2, s.Bolts.Tension, 1)
	f, ok := a.Finding("bracket.left_front.bolts")
	require.True(t, ok)
	assert.Contains(t, strings.Join(f.Assumes, "; "), "one row of bolts: what tips the plate about it is held by the plate's edge")
	assert.NotContains(t, strings.Join(f.Assumes, "; "), noPrying)
	f, ok = a.Finding("bracket.left_front.rail_plate.bending")
	require.True(t, ok)
	require.True(t, f.HasValue, f.Missing)
	press, hinge := bump*180/50., 235*100/4.
	assert.InEpsilon(t, press*25/50/hinge, f.Value, 0.03)
	assert.Less(t, f.Value, press*31/50/hinge)
	assert.Contains(t, f.Advice(), "where its bottom edge presses")
	// Twice as thick a quarter of it, and then a bolt governs it or the edge still.
	b, _ := strong(t, strings.Replace(row, "thickness = 10", "thickness = 20", 1)+m10)
	g, _ := b.Finding("bracket.left_front.rail_plate.bending")
	assert.InEpsilon(t, f.Value/4, g.Value, 1e-9)
	// One bolt above the other: nothing tips it about that row in a bump, and half is pulled.
	_, s = strong(t, `rail_plate = { thickness = 10, width = 140, height = 100, across = 1, high = 2, pitch_high = 80, hole = 11 }`+m10)
	assert.InDelta(t, bump*180/80, s.Bolts.Tension, 1)
	// On a rail 120 mm high a plate of 130 mm reaches past both of its edges, and the lever is
	// not known either.
	text := strings.Replace(example.LegsAtPads("", strings.Replace(row, "height = 100", "height = 130", 1)+m10, ""), "height = 150", "height = 120", 1)
	low := runLegs(t, text, bumped("left_front", r3.Vec{X: 300, Y: -200, Z: -75}))
	f, _ = low.Finding("bracket.left_front.bolts")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "the plate reaches 5.0 mm past the rail's edge")
	// Without the sizes of the plate the lever is not known.
	for without, want := range map[string]string{"width = 140, ": "rail_plate.width", "height = 100, ": "rail_plate.height"} {
		a, _ = strong(t, strings.Replace(row, without, "", 1)+m10)
		f, _ = a.Finding("bracket.left_front.bolts")
		assert.Equal(t, finding.NotKnown, f.Status)
		assert.Contains(t, f.Missing, "mount.left_front.leg."+want)
		assert.Contains(t, f.Missing, "what tips about that is held by the plate's edge")
	}
}

// Bolts stand in the rail, not beside it: on a rail 120 mm high those 180 mm apart do not,
// nor at the feet of a mount of several members.
func TestHolesPastTheRail(t *testing.T) {
	const wide = `rail_plate = { thickness = 10, width = 140, height = 220, across = 2, high = 2, pitch_across = 100, pitch_high = 100, hole = 11 }`
	at := func(plate string) legs {
		text := strings.Replace(example.LegsAtPads("", plate+m10, ""), "height = 150", "height = 120", 1)
		return runLegs(t, text, bumped("left_front", r3.Vec{X: 300, Y: -200, Z: -75}))
	}
	in, past := at(wide), at(strings.Replace(wide, "pitch_high = 100", "pitch_high = 180", 1))
	feet := strings.Replace(kind(t, "inclined_leg"), "height = 140\nacross = 2\nhigh = 2\npitch_across = 120\npitch_high = 100", "height = 180\nacross = 2\nhigh = 2\npitch_across = 120\npitch_high = 140", 1)
	several := runLegs(t, feet, loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})...)
	for _, id := range []string{"bracket.left_front.bolts", "bracket.left_front.rail_plate.bending"} {
		f, _ := in.Finding(id)
		assert.True(t, f.HasValue, f.Missing)
		f, _ = past.Finding(id)
		assert.Equal(t, finding.NotKnown, f.Status)
		assert.Contains(t, f.Missing, "holes of its rail plate reach 35.5 mm past the rail's edge") // 90 and half a hole of 60
		g := several.Result.last(id)
		assert.Equal(t, finding.NotKnown, g.Status, id)
		assert.Contains(t, g.Missing, "past the rail's edge, where nothing holds their bolts")
	}
}

// A rail plate with one row at the feet of a mount of several members, on both sides alike.
func TestFeetWithOneRow(t *testing.T) {
	text := strings.Replace(kind(t, "inclined_leg"), "high = 2\npitch_across = 120\npitch_high = 100", "high = 1\npitch_across = 120", 1)
	load := loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})
	// Its plates reach 2.9 mm past the edge of the rails, where they have nothing to press on.
	past := runLegs(t, text, load...)
	for _, id := range []string{finding.BracketBolts("left_front"), finding.RailPlateBending("left_front")} {
		f := past.Result.last(id)
		assert.Equal(t, finding.NotKnown, f.Status)
		assert.Contains(t, f.Missing, "the plate reaches 2.9 mm past the rail's edge")
	}
	require.Equal(t, 1, strings.Count(text, "height = 140"), "of the plates")
	text = strings.Replace(text, "height = 140", "height = 130", 1)
	r := runLegs(t, text, load...)
	for _, mount := range []string{"left_front", "right_front"} {
		b := r.bracketNamed(mount)
		require.NotNil(t, b.Members, b.Why)
		for _, id := range []string{finding.BracketBolts(mount), finding.RailPlateBending(mount)} {
			f := r.Result.last(id)
			assert.True(t, f.HasValue, f.Missing)
			assert.Contains(t, strings.Join(f.Assumes, "; "), "one row of bolts", id)
		}
		poses, err := b.feetPoses()
		require.NoError(t, err)
		side := map[string]float64{"left_front": 1, "right_front": -1}[mount]
		all, err := b.Members.under(r3.Vec{X: 300, Y: 200 * side, Z: -3000}, r3.Vec{X: 260, Y: -220 * side, Z: 70})
		require.NoError(t, err)
		load := b.footLoad(all[0], &b.Members.Feet[0], poses[0])
		m := r3.Add(load.Moment, r3.Cross(load.At, load.Force))
		want := load.Force.Z/2 + math.Abs(m.X)/65/2 + math.Abs(m.Y)/120 // the edges are 65 mm off, the bolts 120 apart
		assert.InDelta(t, want, b.Strength.Bolts.Tension, 1)
	}
}
