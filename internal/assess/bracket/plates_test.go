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

// A boxed plate and a tab on a clamp close on both sides and are judged: the plates,
// what holds them, their holes; each plate is flat, and drawn.
func TestBoxesAndTabsAreJudged(t *testing.T) {
	for name, c := range map[string]struct {
		judged []func(string) string
		values []string
		bodies int
	}{
		"boxed_plate": {[]func(string) string{finding.BracketSeams, finding.BracketWeld, finding.BracketWeldSize},
			[]string{"plate.upper.length", "plate.under.length", "plate.side.foot", "plate.seam.least", "plate.foot.least", "seams.flow"}, 4},
		"clamp_on_tab": {[]func(string) string{finding.BracketGrip, finding.BracketBolts, finding.BracketWeld},
			[]string{"plate.length", "plate.grip.holds", "plate.grip.on_tube", "plate.foot.least", "bolts.torque"}, 2},
	} {
		t.Run(name, func(t *testing.T) {
			r := runLegs(t, kind(t, name), loadsOf(70, r3.Vec{X: 300, Y: 200, Z: -3000})...)
			for _, mount := range []string{"left_front", "right_front"} {
				b := r.bracketNamed(mount)
				require.NotNil(t, b.Plates, b.Why)
				for _, id := range append(c.judged, finding.BracketFits, finding.BracketBending, func(m string) string { return finding.PlateEdge(m, "pad") }) {
					f := r.Result.last(id(mount))
					assert.Equal(t, finding.OK, f.Status, "%s: %s %s", id(mount), f.Missing, f.Advice())
				}
				for _, key := range append(c.values, "plate.stiffness.up", "plate.gives", "plate.mass") {
					assert.True(t, slices.ContainsFunc(r.Values, func(v finding.Value) bool { return v.Name == "bracket."+mount+"."+key }), key)
				}
				assert.Len(t, b.Bodies(), c.bodies)
				mass := 0.0
				for _, w := range b.Sheets {
					mass += float64(w.Count) * w.Figures.Mass
				}
				if clip := b.Plates.Clip; clip != nil {
					mass += clip.Sleeve()
				}
				assert.InEpsilon(t, mass, b.Mass.V, 1e-12)
			}
			assert.NotEmpty(t, r.bracketNamed("right_front").PlateMatches())
		})
	}
}

// On rails and tubes that are each other's mirror image both sides are the same.
func TestMirroredBoxesAndTabsAreAlike(t *testing.T) {
	for name, pads := range map[string][2]string{
		"boxed_plate":  {"pad = [260, 291, -7]", "pad = [260, 290, -5]"},
		"clamp_on_tab": {"pad = [260, 292, 28]", "pad = [260, 290, 30]"},
	} {
		text := strings.Replace(kind(t, name), "points = [[-450, 384, -2], [2600, 368, -2]]", "points = [[-450, 380, 0], [2600, 380, 0]]", 1)
		require.Contains(t, text, pads[0])
		r := runLegs(t, strings.Replace(text, pads[0], pads[1], 1), loadsOf(70, r3.Vec{X: 300, Z: -3000})...)
		a, b := r.bracketNamed("left_front"), r.bracketNamed("right_front")
		require.NotNil(t, b.Plates, b.Why)
		require.NotEmpty(t, b.PlateMatches())
		for _, m := range b.PlateMatches() {
			assert.InDelta(t, 0, m.By, 1e-9, m.Label)
		}
		for _, u := range [][2]Use{{a.Strength.Leg.Use, b.Strength.Leg.Use}, {a.Strength.Weld.Use, b.Strength.Weld.Use},
			{a.Strength.Seams.Use, b.Strength.Seams.Use}, {a.Strength.Grip.Use, b.Strength.Grip.Use}} {
			if u[0].Begun {
				assert.InEpsilon(t, u[0].Of.V, u[1].Of.V, 1e-9, name)
			}
		}
	}
}

// A box of one depth, by hand: 4 kN down 90 mm off the rail bend it at the rail, its seams
// take V·S/I of that, and the ring of its foot's fillets the bending as lines.
func TestABoxByHand(t *testing.T) {
	text := kind(t, "boxed_plate")
	text = strings.Replace(text, "end_depth = 60 ", "end_depth = 110 ", 1)
	r := runLegs(t, text, loadsOf(70, r3.Vec{Z: -3000})...)
	b := r.bracketNamed("left_front")
	require.NotNil(t, b.Plates, b.Why)
	at, down := b.Plates.Pad.Point, r3.Vec{Z: -4000}
	// Two covers of 80 by 6 and two sides of 5 by 98.
	i := 2*(80*6*52*52.0+80*216/12.0) + 2*5*98*98*98/12.0
	moment := 4000 * 90.0
	sc, err := b.plateScreen(at)
	require.NoError(t, err)
	used, err := sc.used(down)
	require.NoError(t, err)
	s := 80*6*52 + 2*5*49*24.5
	shear := 4000 * s / i / 10
	assert.InEpsilon(t, math.Sqrt(math.Pow(moment*55/i, 2)+3*shear*shear)/235, used, 1e-3)
	seam, err := b.seamScreen(at)
	require.NoError(t, err)
	got, err := seam.used(down)
	require.NoError(t, err)
	assert.InEpsilon(t, 4000*80*6*52/i/2/(0.7*4*360/(math.Sqrt(3)*0.8*1.25)), got, 0.011) // throat 0.7 or 1/√2 of the leg
	weld, err := b.plateWeldScreen(at)
	require.NoError(t, err)
	got, err = weld.used(down)
	require.NoError(t, err)
	lines := 2*80*55*55.0 + 2*110*110*110/12.0 // ∫y² of the ring, mm³
	length := 2*80.0 + 2*110
	flow := math.Hypot(moment*55/lines, 4000/length)
	assert.InEpsilon(t, flow/(0.7*5*360/(math.Sqrt(3)*0.8*1.25)), got, 0.011)
	seam.keep(down)
	assert.InEpsilon(t, 4*got0(seam, down), b.Strength.Seams.Least, 1e-9)
}

func got0(s screen, force r3.Vec) float64 {
	v, _ := s.used(force)
	return v
}

// A clamp by hand: 4 kN along the tube at the pad, 90 mm off the axis, slip as they are,
// and tip the tab along the tube, which takes a couple over half the clamp's length from
// what six bolts press; across the tube they turn it round. Friction 0.2 on both halves.
func TestAClampByHand(t *testing.T) {
	r := runLegs(t, kind(t, "clamp_on_tab"), loadsOf(70, r3.Vec{Z: -3000})...)
	b := r.bracketNamed("left_front")
	require.NotNil(t, b.Plates, b.Why)
	at := b.Plates.Pad.Point
	arm := 90.0 // of the pad off the axis
	sc, err := b.gripScreen(at)
	require.NoError(t, err)
	press := 6 * 0.75 * b.Strength.Bolts.Tighten.Preload
	assert.Greater(t, b.Strength.Bolts.Tighten.Preload, 40000.0)
	assert.InEpsilon(t, 4000/(0.2*2*(press-4000*arm/60)/1.25), got0(sc, r3.Vec{X: 4000}), 1e-9)
	assert.InEpsilon(t, 4000*arm/30.15/(0.2*2*press/1.25), got0(sc, r3.Vec{Y: 4000}), 1e-9)
	assert.InDelta(t, 0, got0(sc, r3.Vec{Z: -4000}), 1e-12, "pressed on its tube")
	assert.InDelta(t, mostUsed, got0(sc, r3.Vec{X: 1, Z: 4 * press}), 0, "nothing is left that presses")
	bolts, err := b.clampBoltsScreen(at)
	require.NoError(t, err)
	assert.InEpsilon(t, 2*got0(bolts, r3.Vec{Z: 4000}), got0(bolts, r3.Vec{Z: 8000}), 1e-9)
	// The pad's face is 6 mm off the middle of the tab and of the clamp.
	bolts.keep(r3.Vec{Z: -4000})
	assert.InEpsilon(t, 4000*6/60.0/3, b.Strength.Bolts.Tension, 1e-9)
	bolts.keep(r3.Vec{Z: 4000})
	assert.InEpsilon(t, (4000+4000*6/60.0)/3, b.Strength.Bolts.Tension, 1e-9)
}

// What cannot be is refused by the part's name, with what would do, and has no number.
func TestBoxesAndTabsThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct{ build, from, to, says string }{
		"no depth":              {"boxed_plate", "foot_depth = 110 ", "# ", "plate.foot_depth is not in the file"},
		"no width":              {"boxed_plate", "width = 80\n", "", "plate.width is not in the file"},
		"sides meet":            {"boxed_plate", "width = 80\n", "width = 18\n", "meet under a cover of 18.0 mm"},
		"hole over a side":      {"boxed_plate", "hole = 13", "hole = 13\nacross = 2\npitch_across = 50", "over a side"},
		"hole without pitch":    {"boxed_plate", "hole = 13", "hole = 13\nacross = 2", "pad_plate.pitch_across is not in the file"},
		"hole off the end":      {"boxed_plate", "past = 40", "past = 5", "breaks out of the plate"},
		"above the rail":        {"boxed_plate", "pad = [260, -290, -5]", "pad = [260, -290, 5]", "5.0 mm above the edge of the left rail"},
		"below the rail":        {"boxed_plate", "foot_depth = 110", "foot_depth = 160", "below the left rail"},
		"pad in the rail":       {"boxed_plate", "pad = [260, -290, -5]", "pad = [260, -390, -5]", "behind the face it stands on"},
		"pad faces the rail":    {"boxed_plate", "past = 40\n", "past = 40\npad_facing = \"right\"\n", "looks almost the way the face does"},
		"no room in it":         {"boxed_plate", "end_depth = 60 ", "end_depth = 12 ", "leaves nothing between two covers"},
		"no tube":               {"clamp_on_tab", "tube = 60.3\n", "", "clamp.tube is not in the file"},
		"no place of the tube":  {"clamp_on_tab", "to = [700, -290, -60]\n", "", "clamp.to is not in the file"},
		"off the tube's end":    {"clamp_on_tab", "to = [700, -290, -60]", "to = [280, -290, -60]", "off the end of the tube"},
		"pad in the clamp":      {"clamp_on_tab", "pad = [260, -290, 30]", "pad = [260, -290, -30]", "inside the clamp"},
		"pad looks elsewhere":   {"clamp_on_tab", "pad_facing = \"rear\"", "pad_normal = [1, 1, 0]", "along the tube or square across it"},
		"tab wider than it":     {"clamp_on_tab", "thickness = 12\nwidth = 60\n", "thickness = 12\nwidth = 75\n", "make the tab no wider than"},
		"larger than its hole":  {"clamp_on_tab", "hole = 17", "hole = 61", "breaks out of the plate"},
		"tab beside the middle": {"clamp_on_tab", "pad = [260, -290, 30]\npad_facing = \"rear\"", "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			text := kind(t, c.build)
			if c.says == "" { // a tab along its tube, which passes it
				text = strings.Replace(strings.Replace(text, "pad = [260, -290, 30]", "pad = [260, -260, 30]", 1), "pad_facing = \"rear\"", "pad_facing = \"right\"", 1)
				c.says = "stand beside the clamp"
			} else {
				require.Contains(t, text, c.from)
				text = strings.Replace(text, c.from, c.to, 1)
			}
			r := runLegs(t, text, loadsOf(70, r3.Vec{Z: -3000})...)
			b := r.bracketNamed("left_front")
			require.Nil(t, b.Plates)
			assert.Contains(t, b.Why, c.says)
			assert.False(t, b.Mass.Known)
			assert.Empty(t, b.PlateRows())
			assert.Empty(t, b.Sheets)
			assert.Empty(t, r.Result.last(finding.BracketBending("left_front")).ID)
			assert.NotEqual(t, finding.OK, r.Result.last(finding.BracketFits("left_front")).Status)
		})
	}
}

// A box by its own foot stands where there are no rails, and a tab without bolts or a
// fillet is not known to hold.
func TestWhatBoxesAndTabsLackIsNotOK(t *testing.T) {
	text := strings.Replace(kind(t, "boxed_plate"), "past = 40\n", "past = 40\nfoot = [250, -380, 0]\nfoot_facing = \"right\"\n", 1)
	before, rest, ok := strings.Cut(text, "# The right rail")
	require.True(t, ok)
	_, powertrain, ok := strings.Cut(rest, "[powertrain]")
	require.True(t, ok)
	text = before + "[powertrain]" + powertrain
	r := runLegs(t, text, loadsOf(70, r3.Vec{Z: -3000})...)
	b := r.bracketNamed("left_front")
	require.NotNil(t, b.Plates, b.Why)
	assert.InDelta(t, -380, b.Plates.Foot.At.Y, 1e-9)
	assert.InDelta(t, 1, r3.Dot(b.Plates.Foot.Z, r3.Vec{Y: 1}), 1e-12)

	text = strings.Replace(kind(t, "clamp_on_tab"), "class = \"10.9\"\n", "", 1)
	text = strings.Replace(text, "size = 6\n", "runs = \"all round\"\n", 1)
	r = runLegs(t, text, loadsOf(70, r3.Vec{Z: -3000})...)
	for id, want := range map[string]string{
		finding.BracketGrip("left_front"): "bolts.class", finding.BracketBolts("left_front"): "bolts.class", finding.BracketWeld("left_front"): "weld.size",
	} {
		f := r.Result.last(id)
		assert.Equal(t, finding.NotKnown, f.Status, id)
		assert.Contains(t, f.Missing, want)
	}
	var holes []geombracket.Hole
	for _, w := range r.bracketNamed("left_front").Sheets {
		holes = append(holes, w.Plate.Holes...)
	}
	assert.Len(t, holes, 1)
}
