package bracket

import (
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

// bump is what a front mount carries in a bump of 3 g, N.
const bump = 3 * 100 * geom.Gravity

// bumped is a front mount that carries 100 kg at rest and in a bump of 3 g.
func bumped(mount string, at r3.Vec) MountLoad {
	return MountLoad{Mount: mount, At: at, Cases: []Case{{"at rest", r3.Vec{Z: -bump / 3}}, {"bump", r3.Vec{Z: -bump}}}}
}

func strong(t *testing.T, leg string) (legs, Strength) {
	t.Helper()
	return strongOf(t, "SHS 50x50x3 cold", leg)
}

// strongOf is a leg in a bump, its load at its pad.
func strongOf(t *testing.T, section, text string) (legs, Strength) {
	t.Helper()
	a := runLegs(t, strings.Replace(example.LegsAtPads("", text, ""), "SHS 50x50x3 cold", section, 1),
		bumped("left_front", r3.Vec{X: 300, Y: -200, Z: -75}))
	return a, leg(t, a, "left_front").Strength
}

// A leg 180 mm long, square and level, is a cantilever: F L over the section's
// modulus, 7.79 cm3 for SHS 50x50x3 cold (EN 10219-2, annex), and the shear
// over the two webs, together after von Mises.
func TestLegBending(t *testing.T) {
	a, s := strong(t, "")
	bending := bump * 180 / 7790
	assert.Equal(t, "bump", s.Leg.Case)
	assert.Equal(t, "at its foot", s.Leg.At)
	assert.InDelta(t, bending, value(t, a, "bracket.left_front.leg.bending"), 0.01*bending)
	assert.InDelta(t, math.Sqrt(bending*bending+3*s.Leg.Stress.Shear*s.Leg.Stress.Shear), s.Leg.Stress.Equivalent, 1)
	f, ok := a.Finding("bracket.left_front.bending")
	require.True(t, ok)
	assert.InDelta(t, s.Leg.Stress.Equivalent/235, f.Value, 1e-9)
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, f.Advice(), "a licensed engineer and the local rules decide")
	assert.Contains(t, f.Advice(), "bump")
}

func TestTooWeakALeg(t *testing.T) {
	a, _ := strong(t, "yield = \"100 MPa\"")
	f, _ := a.Finding("bracket.left_front.bending")
	assert.Equal(t, finding.Over, f.Status)
	assert.Contains(t, f.Advice(), "licensed engineer")
}

// Two runs at the top and the bottom, 50 mm apart, as long as the flats: 50 less
// the corners of 2T = 6 mm (EN 10219-2), 38 mm. As lines their section modulus is
// b d (Blodgett, Design of Welded Structures, table 5), so the bending gives
// M/(38 x 50) per mm, across the direct F/76. The strength is 360/(sqrt 3 x 0.8 x
// 1.25) on a throat of 0.7071 of the leg (EN 1993-1-8).
func TestWeldAsLines(t *testing.T) {
	a, s := strong(t, "weld = { size = 3, runs = \"top and bottom\" }")
	per := math.Hypot(bump*180/(38*50), bump/76)
	assert.InDelta(t, per, s.Weld.Stress.PerLength, 1e-6*per)
	assert.InDelta(t, 76, value(t, a, "bracket.left_front.weld.length"), 1e-6)
	f, ok := a.Finding("bracket.left_front.weld")
	require.True(t, ok)
	assert.InDelta(t, per/(3*math.Sqrt2/2)/(360/(math.Sqrt(3)*0.8*1.25)), f.Value, 1e-6)
	assert.Equal(t, "at its foot", s.Weld.At)
	assert.False(t, s.Weld.ByWall)

	// The line is that at the foot, whatever the cut at the pad is like.
	tilted, _ := strong(t, "pad_normal = [0.3, -1, 0.2]\nweld = { size = 3, runs = \"top and bottom\" }")
	assert.InDelta(t, 76, value(t, tilted, "bracket.left_front.weld.length"), 1e-6)

	// Both sides: upright lines of 38, two of them: d²/3 each way (Blodgett), so
	// a third less holds. The tube's own wall beside them counts too.
	_, s = strong(t, "weld = { size = 3, runs = \"both sides\" }")
	per = math.Hypot(bump*180/(38*38/3.), bump/76)
	assert.InDelta(t, per, s.Weld.Stress.PerLength, 1e-6*per)
}

// Welded all round, a round tube's line is a circle, not a polygon: its modulus
// is pi r² (Blodgett), and the direct force stands square to the bending.
func TestWeldRoundARoundTube(t *testing.T) {
	_, s := strongOf(t, "CHS 60.3x4", "weld = { size = 4 }")
	const r = 30.15
	per := math.Hypot(bump*180/(math.Pi*r*r), bump/(2*math.Pi*r))
	assert.InDelta(t, per, s.Weld.Stress.PerLength, 1e-9*per)
	assert.InDelta(t, 2*math.Pi*r, s.Weld.Line.Length, 1e-9)
}

// 20 mm of fillet on a wall of 3 mm counts as 3 mm, and is told.
func TestAFilletTooLargeForItsWall(t *testing.T) {
	a, large := strong(t, "weld = { size = 20 }")
	_, fits := strong(t, "weld = { size = 3 }")
	assert.InDelta(t, fits.Weld.Of.V, large.Weld.Of.V, 1e-12)
	assert.InDelta(t, 3, value(t, a, "bracket.left_front.weld.counted"), 1e-12)
	f, ok := a.Finding("bracket.left_front.weld_size")
	require.True(t, ok)
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, 3, f.Limit, 1e-12)
	assert.Contains(t, f.Advice(), "weld 3.0 mm")
	for leg, want := range map[string]struct {
		status finding.Status
		limit  float64
	}{
		"weld = { size = 3 }": {finding.OK, 3},
		"weld = { size = 2 }": {finding.Over, 3}, // too little: it cracks
		"weld = { size = 3 }\nrail_plate = { thickness = 2, width = 90, height = 90 }": {finding.Over, 2},
		"weld = { size = 3 }\npad_plate = { thickness = 2, width = 90, height = 90 }":  {finding.Over, 2},
	} {
		a, _ := strong(t, leg)
		f, ok := a.Finding("bracket.left_front.weld_size")
		require.True(t, ok, leg)
		assert.Equal(t, want.status, f.Status, leg)
		assert.InDelta(t, want.limit, f.Limit, 1e-12, leg)
	}
	// At each end the thinner of tube and plate counts.
	ends := leg(t, runLegs(t, example.Legs("", "weld = { size = 3 }\npad_plate = { thickness = 1, width = 90, height = 90 }\nrail_plate = { thickness = 8, width = 90, height = 90 }", "")), "left_front")
	welds, err := ends.legWelds()
	require.NoError(t, err)
	require.Len(t, welds, 2)
	assert.InDelta(t, 3, welds[0].group.Leg, 1e-12)
	assert.InDelta(t, 1, welds[1].group.Leg, 1e-12)
	_, thin := strong(t, "weld = { size = 3 }\nrail_plate = { thickness = 2, width = 90, height = 90 }")
	assert.InDelta(t, 2, thin.Weld.Counted, 1e-12)
	// A bar has no wall: its own size counts.
	a, _ = strongOf(t, "", "kind = \"flat bar\"\nheight = 60\nwidth = 12\nweld = { size = 10 }")
	f, _ = a.Finding("bracket.left_front.weld_size")
	assert.InDelta(t, 12, f.Limit, 1e-12)
	assert.Equal(t, finding.OK, f.Status)
}

// A leg whose weld is not in the file has a weld all the same.
func TestALegWithoutAFilletIsNotKnown(t *testing.T) {
	a, s := strong(t, "")
	assert.True(t, s.Weld.Begun)
	f, ok := a.Finding("bracket.left_front.weld")
	require.True(t, ok)
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "mount.left_front.leg.weld.size is not in the file yet")
	// Mounts that are bolted on have bolts.
	_, ok = a.Finding("bracket.left_front.bolts")
	assert.False(t, ok)
	for _, plate := range []string{"pitch_across = 80", "pitch_high = 60", "hole = 11"} { // nor has a plate holes for nothing
		holes, _ := strong(t, "rail_plate = { thickness = 8, "+plate+" }")
		f, ok = holes.Finding("bracket.left_front.bolts")
		require.True(t, ok, plate)
		assert.Equal(t, finding.NotKnown, f.Status, plate)
	}
	text := strings.Replace(example.Legs("fixing = \"bolted\"", "", example.OtherLeg), "format = 1", "format = 3", 1)
	b := runLegs(t, text, bumped("left_front", r3.Vec{X: 300, Y: -200, Z: -35}), bumped("right_front", r3.Vec{X: 300, Y: 200, Z: -35}))
	for _, name := range []string{"left_front", "right_front"} {
		f, ok = b.Finding("bracket." + name + ".bolts")
		require.True(t, ok)
		assert.Equal(t, finding.NotKnown, f.Status)
		assert.Contains(t, f.Missing, "mount.left_front.leg.bolts.thread")
		f, ok = b.Finding("bracket." + name + ".rail_plate.bending")
		require.True(t, ok)
		assert.Equal(t, finding.NotKnown, f.Status)
		assert.Contains(t, f.Missing, "mount.left_front.leg.rail_plate.thickness")
	}
}

// The correlation factor goes with the steel the strength is of: 0.8 for S235,
// 0.85 for S275, 0.9 for S355, 1.0 for S420 and S460 (EN 1993-1-8, table 4.1,
// from memory), whether it is given by its grade or by its strength.
func TestWeldStrengthGoesWithTheSteel(t *testing.T) {
	for steel, want := range map[string]float64{
		`steel = "S235"`:                         360 / 0.8,
		`steel = "S275"`:                         430 / 0.85,
		`steel = "S355"`:                         490 / 0.9,
		`yield = "355 MPa"\ntensile = "490 MPa"`: 490 / 0.9,
		`yield = "460 MPa"\ntensile = "540 MPa"`: 540 / 1.0,
	} {
		a, _ := strong(t, strings.ReplaceAll(steel, `\n`, "\n")+"\nweld = { size = 4 }")
		assert.InDelta(t, want/(math.Sqrt(3)*1.25), value(t, a, "bracket.left_front.weld.strength"), 1e-9, steel)
	}
	// A rail of S235 under a leg of S355 is the weaker part.
	a, _ := strong(t, "steel = \"S355\"\nweld = { size = 4, tensile = \"360 MPa\" }")
	assert.InDelta(t, 360/(math.Sqrt(3)*0.8*1.25), value(t, a, "bracket.left_front.weld.strength"), 1e-9)
}

// Four bolts 60 mm apart in height: the upper two hold the moment about the
// middle, F L/(2 x 60) each; all share the shear. An M10 has a stress area of
// 58 mm2 and class 8.8 a proof stress of 580 MPa up to M16 (ISO 898-1): 0.75 of
// the proof load by K = 0.2 and the diameter is the torque.
func TestBolts(t *testing.T) {
	a, s := strong(t, `rail_plate = { thickness = 0.001, width = 120, height = 100, pitch_across = 80, pitch_high = 60, hole = 0 }
bolts = { thread = "M10", class = "8.8" }`)
	assert.InDelta(t, bump*180/120, s.Bolts.Tension, 1)
	assert.InDelta(t, bump/4, s.Bolts.Shear, 1)
	proof := 58.0 * 580
	assert.InDelta(t, 0.75*proof, value(t, a, "bracket.left_front.bolts.preload"), 0.002*proof)
	assert.InDelta(t, 0.2*10*0.75*proof, value(t, a, "bracket.left_front.bolts.torque"), 0.005*proof)
	f, ok := a.Finding("bracket.left_front.bolts")
	require.True(t, ok)
	// 0.9 x 800 x 58 / 1.25 in tension, 0.6 x 800 x 58 / 1.25 in shear
	// (EN 1993-1-8, table 3.4), or parting against the preload.
	together := s.Bolts.Shear/(0.6*800*58/1.25) + s.Bolts.Tension/(1.4*0.9*800*58/1.25)
	parting := s.Bolts.Tension / (0.75 * proof)
	assert.InDelta(t, math.Max(together, parting), f.Value, 0.01*f.Value)
	assert.Contains(t, strings.Join(f.Assumes, " "), "what the bolts bear on is not looked at")

	// With a hole of 11 mm in a plate of 2 mm bearing counts, too: k1 αb fu d t/1.25,
	// k1 2.8·20/11 - 1.7, at most 2.5, αb 20/33 (EN 1993-1-8, table 3.4), the edge
	// 20 mm from the hole.
	a, s = strong(t, `rail_plate = { thickness = 2, width = 120, height = 100, pitch_across = 80, pitch_high = 60, hole = 11 }
bolts = { thread = "M10", class = "8.8" }`)
	assert.InDelta(t, 2.5*20/33*360*10*2/1.25, s.Bolts.Check.BearingLimit, 1)
	f, _ = a.Finding("bracket.left_front.bolts")
	assert.Equal(t, []string{railHolds, noPrying}, f.Assumes)
}

// A leg without a pad plate is welded to something at its pad all the same: what
// of that is not looked at is said.
func TestAWeldWithoutAPadPlateSaysWhatIsNotLookedAt(t *testing.T) {
	const not = "the weld at its pad is not looked at: mount.left_front.leg.pad_plate is not in the file"
	a, _ := strong(t, "weld = { size = 3 }")
	f, ok := a.Finding("bracket.left_front.weld")
	require.True(t, ok)
	assert.Contains(t, f.Assumes, not)
	a, _ = strong(t, "weld = { size = 3 }\npad_plate = { thickness = 8, width = 90, height = 90 }")
	f, _ = a.Finding("bracket.left_front.weld")
	assert.NotContains(t, f.Assumes, not)
	assert.NotContains(t, strings.Join(f.Assumes, " "), "saddle")
	a, _ = strongOf(t, "CHS 42.4x2.6", "pad_facing = \"down\"\nheader = 76.1\nheader_from = [300, -300, -400]\nheader_to = [300, 300, -400]\nweld = { size = 2 }")
	f, _ = a.Finding("bracket.left_front.weld")
	assert.Contains(t, strings.Join(f.Assumes, " "), "the saddle's weld as the flat ring")
}
