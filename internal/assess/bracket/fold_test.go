package bracket

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	geombracket "fitup/internal/geom/bracket"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

var plateKindNames = []string{"folded_angle_plate", "folded_z_plate", "folded_u_plate", "bolted_tab"}

// Every kind that is plate closes on both sides, and is judged: the plate, what holds it,
// its holes.
func TestPlatesAreFoldedAndJudged(t *testing.T) {
	for _, name := range plateKindNames {
		t.Run(name, func(t *testing.T) {
			r := runLegs(t, kind(t, name), loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})...)
			for _, mount := range []string{"left_front", "right_front"} {
				b, ok := r.Bracket(mount)
				require.True(t, ok)
				require.NotNil(t, b.Plates, b.Why)
				assert.True(t, b.Stands() && b.Mass.Known)
				holds := finding.BracketBolts(mount)
				if name == "folded_u_plate" {
					holds = finding.BracketWeld(mount)
				}
				for _, id := range []string{finding.BracketFits(mount), finding.BracketBending(mount), holds, finding.PlateEdge(mount, "pad")} {
					f := r.Result.last(id)
					assert.Equal(t, finding.OK, f.Status, "%s: %s %s", id, f.Missing, f.Advice())
				}
				for _, key := range []string{"plate.length", "plate.stiffness.up", "plate.gives", "plate.mass"} {
					id := "bracket." + mount + "." + key
					assert.True(t, slices.ContainsFunc(r.Values, func(v finding.Value) bool { return v.Name == id }), id)
				}
				assert.Len(t, b.Bodies(), len(b.Plates.Fold.Flats)+bendPieces*len(b.Plates.Fold.Bends))
			}
			assert.NotEmpty(t, r.bracketNamed("right_front").PlateMatches())
		})
	}
}

// The pad's face lies where it is wanted, and the foot on the rail's face.
func TestPlatesReachTheirPad(t *testing.T) {
	for _, name := range plateKindNames {
		r := runLegs(t, kind(t, name))
		for _, mount := range []string{"left_front", "right_front"} {
			m := r.bracketNamed(mount).Plates
			require.NotNil(t, m)
			last := len(m.Fold.Flats) - 1
			on := m.Fold.At(last, m.padAlong, 0, 0)
			off := r3.Sub(m.Pad.Point, on)
			assert.InDelta(t, m.Fold.Thickness/2+m.Packing, r3.Dot(off, r3.Unit(m.Pad.Normal)), 1e-9, "%s %s", name, mount)
			assert.InDelta(t, m.Fold.Thickness/2+m.Packing, r3.Norm(off), 1e-9)
			under := m.Fold.At(0, m.Ends[0], 0, -m.Fold.Thickness/2)
			assert.InDelta(t, 0, r3.Norm(r3.Sub(under, m.Foot.At)), 1e-9)
			assert.InDelta(t, 1, r3.Dot(m.Fold.Upper(0), m.Foot.Z), 1e-12)
		}
	}
}

// On rails that are each other's mirror image both sides are the same.
func TestMirroredPlatesAreAlike(t *testing.T) {
	for _, name := range plateKindNames {
		text := strings.Replace(kind(t, name), "points = [[-450, 384, -2], [2600, 368, -2]]", "points = [[-450, 380, 0], [2600, 380, 0]]", 1)
		at := strings.Index(text, "match = \"left_front\"\n") + len("match = \"left_front\"\n")
		own, _, _ := strings.Cut(text[at:], "\n") // its own pad, which is for its own rail
		left := text[strings.Index(text, "\npad = [260, -")+len("\npad = [260, -"):]
		left, _, _ = strings.Cut(left, "]")
		text = strings.Replace(text, own, "pad = [260, "+left+"]", 1)
		r := runLegs(t, text, loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})...)
		a, b := r.bracketNamed("left_front"), r.bracketNamed("right_front")
		require.NotNil(t, b.Plates, b.Why)
		for _, m := range b.PlateMatches() {
			assert.InDelta(t, 0, m.By, 1e-9, m.Label)
		}
		assert.InEpsilon(t, a.Strength.Leg.Of.V, b.Strength.Leg.Of.V, 1e-9, name)
		ka, _ := a.PlateStiffness()
		kb, _ := b.PlateStiffness()
		assert.InEpsilon(t, ka.Z, kb.Z, 1e-9)
	}
}

// An angle of 120 by 10 on three bolts in a row, by hand: 2 kN down at its pad, 60 mm off
// the rail's face, pull its bend off the rail and press on its free end, which bears no
// farther from the bolts than 1.25 times what those are from the bend; 2 kN up press where
// the bend begins. Each bolt has a third of the moment over the arm, and a third of the shear.
func TestAFootTipsAboutItsEdge(t *testing.T) {
	r := runLegs(t, `format = 3
[rails.left]
points = [[-500, -380, 0], [2000, -380, 0]]
height = 150
[mount.left_front.bracket]
kind = "folded angle plate"
pad = [300, -320, -10]
past = 30
[mount.left_front.bracket.plate]
thickness = 10
width = 120
radius = 10
foot_bend = 45
foot_end = 25
[mount.left_front.bracket.rail_plate]
across = 3
pitch_across = 40
hole = 11
[mount.left_front.bracket.bolts]
thread = "M10"
class = "8.8"
`)
	b := r.bracketNamed("left_front")
	require.NotNil(t, b.Plates, b.Why)
	at := b.Plates.Pad.Point
	s, err := b.seatOfFoot()
	require.NoError(t, err)
	bend := 45 - 15.0 // from the bolts to where the bend begins
	for _, c := range []struct{ up, arm float64 }{{2000, bend}, {-2000, min(25, 1.25*bend)}} {
		load := geombracket.Load{Force: b.Plates.Foot.OwnDir(r3.Vec{Z: c.up}), At: b.Plates.Foot.Own(at)}
		shares, err := s.share(load)
		require.NoError(t, err)
		for _, x := range shares {
			assert.InEpsilon(t, 2000*60/c.arm/3, x.Tension, 1e-9)
			assert.InEpsilon(t, 2000.0/3, math.Hypot(x.Shear.X, x.Shear.Y), 1e-9)
		}
	}
	// The plate: at the row of bolts the moment of the force about it, on what three holes
	// leave, and at the bend more by its curve. At the bolts 2 kN stand 55 mm off the middle of the foot.
	sc, err := b.plateScreen(at)
	require.NoError(t, err)
	used, err := sc.used(r3.Vec{Z: -2000})
	require.NoError(t, err)
	bolts := 2000 * 55 / ((120 - 33) * 100 / 6.0)
	axial := 2000.0 / 870
	assert.InEpsilon(t, (bolts+axial)/235, used, 0.02)
}

// What does not close is refused by name, with what would do, and a half-described mount
// has no number.
func TestPlatesThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct{ build, from, to, says string }{
		"hole near the bend":    {"folded_angle_plate", "foot_bend = 52", "foot_bend = 20", "lies in a bend"},
		"no thickness":          {"folded_angle_plate", "thickness = 12\n", "", "plate.thickness"},
		"no foot_end":           {"folded_z_plate", "foot_end = 25", "", "plate.foot_end"},
		"no pad_bend":           {"folded_z_plate", "pad_bend = 62", "", "plate.pad_bend"},
		"no past":               {"bolted_tab", "past = 30\n", "", "bracket.past"},
		"pitch":                 {"folded_angle_plate", "pitch_across = 45", "", "rail_plate.pitch_across"},
		"foot past the rail":    {"folded_z_plate", "foot_in = 42", "foot_in = 56", "past the edge of the left rail"},
		"runs into the rail":    {"folded_z_plate", "pad = [260, -300, 80]", "pad = [260, -340, -80]", "flat between its bends runs 14.9 mm into the left rail"},
		"looks the same way":    {"folded_angle_plate", "standing = 40", "standing = 40\nonto = \"top\"", "one bend"},
		"tab with a turned pad": {"bolted_tab", "pad_facing = \"right\"", "pad_facing = \"up\"", "flat"},
		"pad inside the tab":    {"bolted_tab", "pad = [260, -360, 45]", "pad = [260, -372, 45]", "inside it"},
		"pad over its foot":     {"bolted_tab", "pad = [260, -360, 45]", "pad = [260, -360, -40]", "straight over its foot"},
		"leaning pad":           {"folded_angle_plate", "standing = 40", "standing = 40\nfoot_facing = \"right\"\nfoot = [260, -380, -40]\npad_normal = [0.1, 0, 1]", "beside that of its pad, along its bends"},
		"leaning along bends":   {"folded_z_plate", "past = 35", "past = 35\npad_normal = [0.05, 0, 1]", "would lean 2.86° against the face"},
		"two rows too wide":     {"bolted_tab", "pitch_high = 50", "pitch_high = 95", "off the end"},
		"foot the wrong way":    {"folded_z_plate", "foot_toward = \"left\"", "foot_toward = \"front\"", "cannot run front"},
	} {
		t.Run(name, func(t *testing.T) {
			text := kind(t, c.build)
			require.Contains(t, text, c.from)
			r := runLegs(t, strings.Replace(text, c.from, c.to, 1), loadsOf(70, r3.Vec{Z: -3000})...)
			b := r.bracketNamed("left_front")
			require.Nil(t, b.Plates, b.Why)
			assert.Contains(t, b.Why, c.says)
			assert.False(t, b.Mass.Known)
			assert.Empty(t, b.PlateRows())
			for _, id := range []string{finding.BracketBending("left_front"), finding.BracketBolts("left_front")} {
				assert.Empty(t, r.Result.last(id).ID)
			}
			f := r.Result.last(finding.BracketFits("left_front"))
			assert.Contains(t, []finding.Status{finding.Over, finding.NotKnown}, f.Status)
		})
	}
}

// A U on the place of a Z closes in another way: its pad lies where it is wanted.
func TestAUInsteadOfAZ(t *testing.T) {
	r := runLegs(t, strings.Replace(kind(t, "folded_z_plate"), "folded Z plate", "folded U plate", 1))
	b := r.bracketNamed("left_front")
	require.NotNil(t, b.Plates, b.Why)
	last := len(b.Plates.Fold.Flats) - 1
	assert.InDelta(t, b.Plates.Fold.Thickness/2, r3.Norm(r3.Sub(b.Plates.Pad.Point, b.Plates.Fold.At(last, b.Plates.padAlong, 0, 0))), 1e-9)
}

// What stands in the way at an edge of a plate is met as well as at its middle, and a face
// that its own foot stands on is not run through.
func TestAPlateIsLookedAtOverItsWholeWidth(t *testing.T) {
	r := runLegs(t, kind(t, "folded_z_plate"))
	m := r.bracketNamed("left_front").Plates
	for _, side := range []float64{-1, 1} {
		at, most := m.runsInto(func(q r3.Vec) float64 { return side*m.Foot.Own(q).X - m.Fold.Width/2 + 3 })
		assert.InDelta(t, 3, most, 1e-9)
		assert.Equal(t, 0, at)
	}
	b := r.bracketNamed("left_front")
	require.NoError(t, b.clearOfOwnFace(m))
	m.Foot.At = r3.Add(m.Foot.At, r3.Scale(m.Fold.Thickness+5, m.Foot.Z)) // as if the face were there
	assert.ErrorContains(t, b.clearOfOwnFace(m), "mm through the face that its own foot stands on")
}

// A foot that is bolted and welded has both judged as if each held alone, and says so.
func TestAFootBoltedAndWelded(t *testing.T) {
	text := strings.Replace(kind(t, "folded_z_plate"), "[mount.left_front.bracket.bolts]", "[mount.left_front.bracket.weld]\nsize = 5\n\n[mount.left_front.bracket.bolts]", 1)
	r := runLegs(t, text, loadsOf(70, r3.Vec{Z: -3000})...)
	for _, id := range []string{finding.BracketBolts("left_front"), finding.BracketWeld("left_front")} {
		assert.Contains(t, r.Result.last(id).Assumes, bothHold, id)
	}
	r = runLegs(t, kind(t, "folded_z_plate"), loadsOf(70, r3.Vec{Z: -3000})...)
	assert.NotContains(t, r.Result.last(finding.BracketBolts("left_front")).Assumes, bothHold)
}
