package assess_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/geom"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// legs is a build with level, parallel rails, the powertrain level between
// them and one leg from the left front pad straight out to its rail.
const legs = `format = 1
[rails.left]
points = [[-500, -380, 0], [2000, -380, 0]]
height = 150
[rails.right]
points = [[-500, 380, 0], [2000, 380, 0]]
height = 150
[powertrain]
name = "p"
MASS
[powertrain.pads]
left_front = [0, -200, 0]
right_front = [0, 200, 0]
rear = [1200, 0, 0]
[placement]
left_front = -35
right_front = -35
rear = -35
setback = 300
[mount.left_front.leg]
section = "SHS 50x50x3 cold"
standing = 40
LEG
`

const weight = "mass = 300\ncentre_of_mass = [400, 0, 0]"

// stiffly stands the powertrain on mounts that hardly give, so that loads are
// those of the lever.
const stiffly = `
[mount.left_front]
rate_up = 1e5
rate_across = 1e5
rate_along = 1e5
[mount.right_front]
rate_up = 1e5
rate_across = 1e5
rate_along = 1e5
[mount.rear]
rate_up = 1e5
rate_across = 1e5
rate_along = 1e5
`

func legText(mass, leg, more string) string {
	return strings.NewReplacer("MASS", mass, "LEG", leg).Replace(legs) + more
}

func runLegs(t *testing.T, text string) *assess.Assessment {
	t.Helper()
	f, err := project.Parse("legs.toml", []byte(text))
	require.NoError(t, err)
	return assess.Run(f.Build)
}

func leg(t *testing.T, a *assess.Assessment, name string) assess.Bracket {
	t.Helper()
	b, ok := a.Bracket(name)
	require.True(t, ok)
	require.True(t, b.HasCut, b.Why)
	return b
}

func value(t *testing.T, a *assess.Assessment, name string) float64 {
	t.Helper()
	for _, v := range a.Values {
		if v.Name == name {
			require.True(t, v.Known, name)
			return v.V
		}
	}
	require.Fail(t, "no value "+name)
	return 0
}

// The pad stands at 300, -200, -75 and the rail's middle is at -75: the leg
// runs level and square, 180 mm long, less its plates.
func TestLegStraightAcross(t *testing.T) {
	a := runLegs(t, legText("", "pad_plate = { thickness = 8 }\nrail_plate = { thickness = 6, gap = 1 }", ""))
	b := leg(t, a, "left_front")
	assert.InDelta(t, 165, b.Cut.Length, 1e-9)
	assert.InDelta(t, 165, value(t, a, "bracket.left_front.long_point"), 1e-9)
	assert.InDelta(t, 165, value(t, a, "bracket.left_front.overall"), 1e-9)
	assert.InDelta(t, 0, value(t, a, "bracket.left_front.rail.mitre"), 1e-9)
	// SHS 50x50x3 cold weighs 4.25 kg/m (EN 10219-2, annex, table of sizes).
	assert.InDelta(t, 4.25*0.165, value(t, a, "bracket.left_front.tube_mass"), 0.002)
	assert.Equal(t, 165.0, math.Round(value(t, a, "cuts.shs_50x50x3_cold.total")))
	f, ok := a.Finding("bracket.left_front.fits")
	require.True(t, ok)
	assert.Equal(t, assess.OK, f.Status)
}

// A leg that rises 75 over 180 mm is cut 22.62 degrees from square at both
// ends, parallel: long and short point are the same, and the tips lie the
// tube's height times the tangent beyond the axis.
func TestLegThatRises(t *testing.T) {
	a := runLegs(t, legText("", "foot_drop = 0", ""))
	slope := math.Atan2(75, 180)
	assert.InDelta(t, math.Hypot(75, 180), value(t, a, "bracket.left_front.length"), 1e-9)
	assert.InDelta(t, slope, value(t, a, "bracket.left_front.pad.from_square"), 1e-9)
	assert.InDelta(t, slope, value(t, a, "bracket.left_front.rail.from_square"), 1e-9)
	assert.InDelta(t, math.Hypot(75, 180), value(t, a, "bracket.left_front.long_point"), 1e-6)
	// Corner radius 2T = 6: the tips of the rounded envelope (EN 10219-2).
	tan := math.Tan(slope)
	assert.InDelta(t, math.Hypot(75, 180)+50*tan, value(t, a, "bracket.left_front.overall"), 6*tan)
}

func TestLegFollowsThePowertrain(t *testing.T) {
	a := runLegs(t, legText("", "", ""))
	b := runLegs(t, strings.Replace(legText("", "", ""), "left_front = -35", "left_front = -30", 1))
	assert.InDelta(t, value(t, a, "bracket.left_front.pad.height")+5, value(t, b, "bracket.left_front.pad.height"), 0.05)
	fixed := runLegs(t, legText("", "pad = [300, -210, -75]", ""))
	assert.InDelta(t, 170, value(t, fixed, "bracket.left_front.length"), 1e-9)
}

// Nothing is said about a bracket that is not begun. Of one that is, whether it
// fits, and that its strength and weld are not known before there is a weight:
// what nobody has worked out must not pass for nothing wrong.
func TestNothingIsSaidOfWhatIsNotBegun(t *testing.T) {
	for text, most := range map[string]int{
		strings.Split(legText("", "", ""), "[mount")[0]: 0,
		legText("", "", ""):                             3,
	} {
		n := 0
		for _, f := range runLegs(t, text).Findings {
			if strings.HasPrefix(f.ID, "bracket.") || strings.HasPrefix(f.ID, "cuts.") {
				n++
				if f.ID != "bracket.left_front.fits" {
					assert.Equal(t, assess.NotKnown, f.Status, f.ID)
					assert.Contains(t, f.Missing, "powertrain.mass", f.ID)
				}
			}
		}
		assert.Equal(t, most, n)
	}
}

func TestWhatIsMissingIsNamed(t *testing.T) {
	for text, want := range map[string]string{
		strings.Replace(legText("", "", ""), "setback = 300", "", 1):                               "placement.setback",
		strings.Replace(legText("", "", ""), "height = 150", "", 1):                                "rails.left.height",
		strings.Replace(legText("", "", ""), "points = [[-500, -380, 0], [2000, -380, 0]]", "", 1): "rails.left.points",
		legText("", "rail_plate = {}", "[mount.rear.leg]\nkind = \"round tube\"\n"):                "",
	} {
		a := runLegs(t, text)
		f, ok := a.Finding("bracket.left_front.fits")
		require.True(t, ok)
		if want == "" {
			assert.Equal(t, assess.OK, f.Status)
			rear, _ := a.Finding("bracket.rear.fits")
			assert.Equal(t, assess.NotKnown, rear.Status)
			assert.Contains(t, rear.Missing, "height of the rear leg's section")
			continue
		}
		assert.Equal(t, assess.NotKnown, f.Status, want)
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
		text := legText("", c.leg, "")
		if name == "unknown section" {
			text = strings.Replace(text, "SHS 50x50x3 cold", "SHS 51x50x3", 1)
		}
		f, ok := runLegs(t, text).Finding("bracket.left_front.fits")
		require.True(t, ok, name)
		assert.Equal(t, assess.Over, f.Status, name)
		assert.Contains(t, f.Advice(), c.want, name)
		assert.Contains(t, strings.ToLower(f.Advice()), "left front", name)
	}
}

func TestFilesThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"negative mass":     {legText("mass = -3", "", ""), "powertrain.mass: "},
		"negative wall":     {legText("", "wall = -3", ""), "mount.left_front.leg.wall: wall cannot be negative"},
		"pads in a line":    {strings.Replace(legText("", "", ""), "rear = [1200, 0, 0]", "rear = [0, 0, 0]", 1), "powertrain.pads: the three pads lie in one line"},
		"matches nobody":    {legText("", "", "[mount.right_front.leg]\nmatch = \"left\"\n"), "mount.right_front.leg.match: the leg of the right front mount mirrors \"left\", which has no leg; want one of: left_front"},
		"matches itself":    {legText("", "", "[mount.right_front.leg]\nmatch = \"right_front\"\n"), "mirrors itself"},
		"match and its own": {legText("", "", "[mount.right_front.leg]\nmatch = \"left_front\"\nsection = \"x\"\n"), "takes its section from the leg it mirrors"},
		"points in a line":  {legText("", "", "[mount.left_front.built]\npad_points = [[0,0,0],[10,0,0],[20,0,0]]\n"), "the left front mount as built: want three points that do not lie in a line"},
		"two facings":       {legText("", "pad_facing = \"left\"\npad_normal = [0,1,0]", ""), "both pad_facing and pad_normal"},
		"no direction":      {legText("", "up = [0,0,0]", ""), "up without a direction"},
		"no preload":        {legText("", "bolts = { thread = \"M10\", class = \"8.8\", preload = 0 }", ""), "the leg of the left front mount has bolts.preload = 0; want more"},
		"no friction":       {legText("", "bolts = { thread = \"M10\", class = \"8.8\", torque_k = 0 }", ""), "has bolts.torque_k = 0; want more"},
		"no fillet":         {legText("", "weld = { size = 0 }", ""), "has weld.size = 0; want more"},
		"no bolts":          {legText("", "rail_plate = { across = 0 }", ""), "has rail_plate.across = 0; want more"},
		"stock for nothing": {legText("", "", "[[stock]]\nsection = \"SHS 50x50x3 cold\"\nlength = 6000\ncost = 0\n"), "costs 0; want its price"},
		"slippery fastener": {legText("", "", "[[fastener]]\nname = \"mount bolt\"\nk = 0\n"), "k = 0 of the fastener mount bolt"},
		"stock, no length":  {legText("", "", "[[stock]]\nsection = \"SHS 50x50x3 cold\"\n"), "has no length"},
	} {
		_, err := project.Parse("legs.toml", []byte(c.text))
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.want, name)
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
		text := strings.Replace(legText("", "pad_facing = \"down\"\nheader = 76.1\nheader_from = "+list(c.from)+"\nheader_to = "+list(c.to)+
			"\nfoot = "+list(c.foot)+"\nfit = \"outside edge\"", ""), "SHS 50x50x3 cold", "CHS 42.4x2.6", 1)
		a := runLegs(t, text)
		b := leg(t, a, "left_front")
		require.NotNil(t, b.Saddle)
		h := r3.Unit(r3.Sub(c.to, c.from))
		longest, shortest := 0.0, math.Inf(1)
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
		}
		assert.InDelta(t, longest, b.LongPoint(), 1e-6)
		assert.InDelta(t, shortest, b.ShortPoint(), 1e-6)
		assert.InDelta(t, 90, geom.Angle(value(t, a, "bracket.left_front.saddle.angle")).Degrees(), 30)
	}
	small := strings.Replace(legText("", "pad_facing = \"down\"\nheader = 40\nheader_from = [300,-300,-400]\nheader_to = [300,300,-400]", ""),
		"SHS 50x50x3 cold", "CHS 42.4x2.6", 1)
	f, _ := runLegs(t, small).Finding("bracket.left_front.fits")
	assert.Equal(t, assess.Over, f.Status)
	assert.Contains(t, f.Advice(), "left front")
	assert.Contains(t, f.Advice(), "larger header")
}

// A plate of 140 by 140 outside with a 45 edge: the blank is the sum of the
// outsides less the deduction, 2 (R+T) - pi/2 (R + K T) at a square bend.
func TestFoldedPlate(t *testing.T) {
	a := runLegs(t, legText("", `rail_plate = { thickness = 8, width = 140, height = 140, flange = 45, radius = 8, k = 0.4, pitch_across = 100, pitch_high = 60, hole = 13 }`, ""))
	deduction := 2*16 - math.Pi/2*(8+0.4*8)
	assert.InDelta(t, 185-deduction, value(t, a, "bracket.left_front.rail_plate.blank"), 1e-9)
	assert.InDelta(t, 140-16, value(t, a, "bracket.left_front.rail_plate.bend_from"), 1e-9)
	// It hangs from the rail's top edge: the foot, 75 below that, is 140 - 8 - 75
	// above the lower edge.
	assert.InDelta(t, 57, value(t, a, "bracket.left_front.rail_plate.middle"), 1e-9)
	area := 140*(185-deduction) - 4*math.Pi/4*13*13
	assert.InDelta(t, area*8*7850e-9, value(t, a, "bracket.left_front.rail_plate.mass"), 1e-9)
	f, _ := a.Finding("bracket.left_front.rail_plate.edge")
	assert.Equal(t, assess.OK, f.Status)
	assert.InDelta(t, 20, f.Value, 1e-9) // (140-100)/2
	near := runLegs(t, legText("", `rail_plate = { thickness = 8, width = 120, height = 140, pitch_across = 100, pitch_high = 60, hole = 13 }`, ""))
	f, _ = near.Finding("bracket.left_front.rail_plate.edge")
	assert.Equal(t, assess.Over, f.Status)
}

// 320, 180 and 180 mm come out of two bars of 500 with 3 mm kerfs: 320 and 180
// do not share one (503), the two of 180 do. No bar of 300 holds the 320.
func TestStock(t *testing.T) {
	const rest = `[mount.right_front.leg]
section = "SHS 50x50x3 cold"
standing = 40
[mount.extra]
at = [0, 60, 0]
[mount.extra.leg]
section = "shs 50 x 50 x 3.0 cold"
rail = "right"
standing = 40
[shop]
kerf = 3
trim = 0
[[stock]]
section = "shs 50x50x3 COLD"
length = %g
`
	a := runLegs(t, legText("", "", fmt.Sprintf(rest, 500.0)))
	require.Len(t, a.Cuts, 1)
	assert.InDelta(t, 180+180+320, value(t, a, "cuts.shs_50x50x3_cold.total"), 1e-9)
	assert.InDelta(t, 1000, value(t, a, "cuts.shs_50x50x3_cold.bought"), 1e-9)
	f, _ := a.Finding("cuts.shs_50x50x3_cold.stock")
	assert.Equal(t, assess.OK, f.Status)
	short := runLegs(t, legText("", "", fmt.Sprintf(rest, 300.0)))
	f, _ = short.Finding("cuts.shs_50x50x3_cold.stock")
	assert.Equal(t, assess.Over, f.Status)
	gone := runLegs(t, legText("", "", fmt.Sprintf(rest, 500.0)+"count = 0\n"))
	f, _ = gone.Finding("cuts.shs_50x50x3_cold.stock")
	assert.Equal(t, assess.NotKnown, f.Status, "none of it is left")
	none := runLegs(t, legText("", "", "[[stock]]\nsection = \"CHS 48.3x3\"\nlength = 1000\n"))
	f, _ = none.Finding("cuts.shs_50x50x3_cold.stock")
	assert.Equal(t, assess.NotKnown, f.Status)
}

// Every mark of a template, carried back onto the tube, lies on the plane of
// its cut.
func TestWrapsLieOnTheCuts(t *testing.T) {
	text := strings.Replace(legText("", "pad_normal = [0.2, -1, 0.1]\nfoot = [330, -380, -30]", ""), "SHS 50x50x3 cold", "CHS 48.3x3", 1)
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
		for _, p := range w.Points {
			turn := w.Zero + p.Angle
			out := r3.Add(r3.Scale(24.15*math.Cos(turn), b.Cut.V), r3.Scale(24.15*math.Sin(turn), b.Cut.U))
			mark := r3.Add(r3.Add(b.Cut.Pad.At, r3.Scale(w.Ring+way*p.Toward, b.Cut.Axis)), out)
			assert.InDelta(t, 0, r3.Dot(normal, r3.Sub(mark, at)), 1e-9)
			assert.InDelta(t, 24.15*p.Angle, p.Around, 1e-9)
			assert.GreaterOrEqual(t, p.Toward, -1e-9)
		}
	}
	_, err = b.Wraps(3)
	require.ErrorContains(t, err, "12 to 360")
}
