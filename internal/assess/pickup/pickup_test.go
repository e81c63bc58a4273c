package pickup

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/travel"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func run(t *testing.T, text string) *Result {
	t.Helper()
	f, err := project.Parse("x.toml", []byte(text))
	require.NoError(t, err)
	return Of(f.Build, nil, Guide{Axle: func(project.Line) (travel.Suspension, error) { return nil, errors.New("no line") }})
}

func of(t *testing.T, r *Result, id string) finding.Finding {
	t.Helper()
	for _, f := range r.Findings {
		if f.ID == id {
			return f
		}
	}
	require.Fail(t, "no finding "+id)
	return finding.Finding{}
}

// straight is an axle without rods that goes straight up, everything upright: what is
// left follows by subtraction.
const straight = `format = 3
[pickup.rear]
carried = "axle"
bump = 60
droop = 50
[pickup.rear.left]
wheel = [0, -700, 0]
load = "400 kg"
[pickup.rear.left.spring]
kind = "coil"
lower = [0, -500, 50]
upper = [0, -500, 350]
free = 400
rate = "40 N/mm"
solid = 140
[pickup.rear.left.damper]
lower = [60, -500, 0]
upper = [60, -500, 400]
closed = 330
open = 470
stop = 370
[pickup.rear.left.tower]
foot = [0, -410, 250]
stack = 20
stands = [3, -500, 366]
[pickup.rear.right]
wheel = [2, 701, 1]
[[pickup.rear.left.rod]]
name = "radius rod"
chassis = [600, -400, 0]
end = [0, -400, 0]
`

func TestByHand(t *testing.T) {
	r := run(t, straight)
	for id, want := range map[string]float64{
		finding.PickupSpringBind("rear", "left"):   300 - 60 - 140,
		finding.PickupSpringSeated("rear", "left"): 400 - 350,
		finding.PickupSpringRide("rear", "left"):   100 - 400*9.80665/40,
		finding.PickupSpringLean("rear", "left"):   0,
		finding.PickupDamperBump("rear", "left"):   400 - 60 - 330,
		finding.PickupDamperDroop("rear", "left"):  470 - 450,
		// The stop touches at 30; the damper would be home at 70 and the coil at 160, and
		// the travel ends at 60.
		finding.PickupStop("rear", "left"):        30,
		finding.PickupTower("rear", "left"):       5,
		finding.PickupRodGive("rear", "left", 1):  math.Hypot(600, 60) - 600,
		finding.PickupRodAngle("rear", "left", 1): math.Atan2(60, 600),
		finding.PickupWheels("rear"):              math.Sqrt(4 + 1 + 1),
	} {
		f := of(t, r, id)
		assert.InDelta(t, want, f.Value, 1e-5, id)
	}
	x := r.Axles[0].Sides[0]
	assert.InDelta(t, 4000, x.Spring.Force.V, 1e-9)
	assert.InDelta(t, 4000, x.Spring.AtWheel.V, 1e-6)
	assert.InDelta(t, 40, x.Spring.WheelRate.V, 1e-6)
	assert.InDelta(t, 150, x.Tower.Length.V, 1e-9, "3-4-5")
	assert.InDelta(t, 120, x.Tower.Height.V, 1e-9)
	assert.InDelta(t, math.Atan2(3, 4), x.Tower.Mitre.V, 1e-9)
	assert.Equal(t, finding.Read, of(t, r, finding.PickupTower("rear", "left")).Basis)
	assert.Contains(t, of(t, r, finding.PickupTower("rear", "left")).Advice(), "3.0 mm to the front, 4.0 mm up")
	give := of(t, r, finding.PickupRodGive("rear", "left", 1))
	assert.Equal(t, finding.Over, give.Status)
	assert.Contains(t, strings.Join(give.Assumes, " "), "straight up and down")
}

// A rod that is rigid with the axle keeps its length, and the axle turns about its joint.
// With one wheel at full bump and the other hanging the two are turned against each other,
// and each bush gives by its part of that: 400 of 1401 mm of track, of 110 mm.
func TestRigidRods(t *testing.T) {
	text := strings.Replace(straight, "name = \"radius rod\"", "name = \"radius rod\"\nrigid = true", 1) +
		"[[pickup.rear.right.rod]]\nname = \"radius rod\"\nrigid = true\nchassis = [600, 400, 0]\nend = [0, 400, 0]\n"
	r := run(t, text)
	f := of(t, r, finding.PickupRodGive("rear", "left", 1))
	for _, v := range r.Axles[0].Sides[0].Rods[0].Longer {
		assert.InDelta(t, 0, v.V, 1e-6)
	}
	assert.InDelta(t, 400*110/1401.0, f.Value, 0.1)
	assert.Contains(t, strings.Join(f.Assumes, " "), "rigid with it")
	assert.Contains(t, strings.Join(f.Assumes, " "), "with one wheel up the axle leans so that its bushes give as little as they can")
}

// With one wheel up an axle leans, and what stands off its middle goes with it. By hand, of
// an axle that nothing holds: a spring outside the track, which with both wheels up is 60
// shorter, is so by 60 and what the lean of 110 on a track of 1400 adds on 200 more.
func TestOneWheelUp(t *testing.T) {
	text := strings.Replace(strings.Replace(straight, "wheel = [2, 701, 1]", "wheel = [0, 700, 0]", 1), "[[pickup.rear.left.rod]]", "[[pickup.rear.left.rod]]\nalone = true", 1)
	out := run(t, strings.Replace(strings.Replace(text, "lower = [0, -500, 50]", "lower = [0, -900, 50]", 1), "upper = [0, -500, 350]", "upper = [0, -900, 350]", 1))
	sin := 110.0 / 1400
	cos := math.Sqrt(1 - sin*sin)
	// Its lower end: about the middle, which has risen by 5, left side up.
	y, z := -900*cos+sin*50, 900*sin+cos*50+5
	assert.InDelta(t, math.Hypot(y+900, 350-z)-140, of(t, out, finding.PickupSpringBind("rear", "left")).Value, 1e-4)
	assert.Less(t, of(t, out, finding.PickupSpringBind("rear", "left")).Value, 100.0)
	assert.Contains(t, strings.Join(of(t, out, finding.PickupSpringBind("rear", "left")).Assumes, " "), "leans about the middle between its wheel centres")
}

// An anti-roll bar on wheels that move by themselves: in full roll each arm is turned as its
// own wheel turns it, and a bar of 22 mm is sheared by G·r·θ/L.
func TestBarInRoll(t *testing.T) {
	b := run(t, example.Pickups()).Axles[0].Bar
	up, down := b.Halves[0].Turn[0].V, b.Halves[1].Turn[1].V
	require.Negative(t, up*down)
	assert.InDelta(t, math.Abs(up-down), b.Roll.V, 1e-9)
	assert.InDelta(t, math.Abs(up), b.One.V, 1e-9)
	assert.InDelta(t, 81000*11*b.Roll.V/660, b.Shear.V, 1e-9)
}

// A coil-over that the file gives no coil length of is as long as its load makes it; so
// where it settles says nothing and is not known.
func TestCoilByItsLoad(t *testing.T) {
	text := strings.Replace(straight, `kind = "coil"`, `kind = "coil-over"`, 1)
	r := run(t, text)
	assert.InDelta(t, 400-400*9.80665/40, r.Axles[0].Sides[0].Spring.Coil.V, 1e-4)
	f := of(t, r, finding.PickupSpringRide("rear", "left"))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Equal(t, []string{"pickup.rear.left.spring.coil"}, f.Lacks())
	bind := of(t, r, finding.PickupSpringBind("rear", "left"))
	assert.InDelta(t, 400-400*9.80665/40-60-140, bind.Value, 1e-4)
	assert.Contains(t, strings.Join(bind.Assumes, " "), "spring.coil is not in the file yet")
	none := of(t, run(t, strings.Replace(text, "load = \"400 kg\"\n", "", 1)), finding.PickupSpringBind("rear", "left"))
	assert.Equal(t, finding.NotKnown, none.Status)
	assert.Equal(t, []string{"pickup.rear.left.spring.coil", "pickup.rear.left.load"}, none.Lacks())
}

// Whatever is missing leaves what rests on it not known, and its path is named: no value
// can be taken out of the build and leave all findings of its part ok.
// What no room says anything of stands with the rods of wheels that steer, and of no others.
func TestTyresAtLockAreSaid(t *testing.T) {
	for carried, want := range map[project.Carried]bool{project.ByArms: true, project.ByStrut: true, project.ByTrailingArm: false} {
		a := &Axle{Name: "front", in: &project.Pickup{Carried: carried}, Bar: &Bar{}, Sides: [2]*Side{{Why: "no arms"}, {Why: "no arms"}}}
		r := &Result{Axles: []*Axle{a}}
		b := r.Bodies()
		require.Len(t, b, 1, carried)
		assert.Equal(t, want, slices.Contains(b[0].Assumes, atLock), carried)
	}
}

func TestUnknownIsNeverOk(t *testing.T) {
	whole := example.Pickups()
	for key, id := range map[string]string{
		"wheel": finding.PickupSpringBind("front", "left"), "pivot_a": finding.PickupRodGive("front", "left", 1), "pivot_b": finding.PickupSpringLean("front", "left"),
		"ball": finding.PickupCaster("front", "left"), "upper_pivot_a": finding.PickupDamperBump("front", "left"), "upper_ball": finding.PickupCasters("front"),
		"tie_inner": finding.PickupStop("front", "left"), "load": finding.PickupSpringRide("front", "left"), "carried": finding.PickupSpringSeated("front", "left"),
		"bump": finding.PickupSpringBind("front", "left"), "droop": finding.PickupSpringSeated("front", "left"), "caster": finding.PickupCaster("front", "left"),
		"kind": finding.PickupSpringBind("front", "left"), "lower": finding.PickupTowers("front"), "length": finding.PickupTower("front", "left"),
		"free": finding.PickupSpringSeated("front", "left"), "rate": finding.PickupSpringRide("front", "left"), "solid": finding.PickupSpringBind("front", "left"),
		"closed": finding.PickupDamperBump("front", "left"), "open": finding.PickupDamperDroop("front", "left"), "stop": finding.PickupStop("front", "left"),
		"stack": finding.PickupTower("front", "left"), "stands": finding.PickupTower("front", "left"), "chassis": finding.PickupRodPlace("front", 1), "end": finding.PickupRodLength("front", 1),
		"bush": finding.PickupBarSquare("front"), "arm": finding.PickupBarArms("front"), "link": finding.PickupBarLink("front", "left"),
	} {
		at := strings.Index(whole, "\n"+key+" = ")
		require.Positive(t, at, key)
		end := at + 1 + strings.IndexByte(whole[at+1:], '\n')
		f := of(t, run(t, whole[:at]+whole[end:]), id)
		assert.Equal(t, finding.NotKnown, f.Status, "%s %s", key, id)
		found := false
		for _, path := range f.Lacks() {
			found = found || strings.HasSuffix(path, "."+key)
		}
		assert.True(t, found, "%s: %s lacks %v: %s", key, id, f.Lacks(), f.Missing)
	}
	for _, side := range []string{finding.PickupWheels("rear"), finding.PickupTowers("rear"), finding.PickupRodLength("rear", 1), finding.PickupRodPlace("rear", 1)} {
		text := strings.Replace(straight, "[pickup.rear.right]\nwheel = [2, 701, 1]\n", "", 1)
		assert.Equal(t, finding.NotKnown, of(t, run(t, text), side).Status, side)
	}
	empty := run(t, "format = 3\n[pickup.front]\n")
	assert.Equal(t, finding.NotKnown, of(t, empty, finding.PickupWheels("front")).Status)
}

// Past what can be: a wheel that cannot go so far, a spring that carries nothing, a stop
// that never touches, a link that folds over.
func TestPastTheirRange(t *testing.T) {
	r := run(t, strings.Replace(example.Pickups(), "bump = 70", "bump = 400", 1))
	f := of(t, r, finding.PickupSpringBind("front", "left"))
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "cannot go through its travel")
	loose := of(t, run(t, strings.Replace(straight, "stop = 370", "stop = 335", 1)), finding.PickupStop("rear", "left"))
	assert.Equal(t, finding.Over, loose.Status)
	assert.Contains(t, loose.Advice(), "does not touch within the bump travel")
	weak := of(t, run(t, strings.Replace(straight, "40 N/mm", "4 N/mm", 1)), finding.PickupSpringRide("rear", "left"))
	assert.Equal(t, finding.NotKnown, weak.Status)
	assert.Contains(t, weak.Missing, "does not carry the load")
	folds := run(t, strings.Replace(example.Pickups(), "link = [20, -565, -115]", "link = [120, -565, -44]", 1))
	assert.Equal(t, finding.Over, of(t, folds, finding.PickupBarLink("front", "left")).Status)
	side := strings.Replace(straight, "lower = [0, -500, 50]\nupper = [0, -500, 350]", "lower = [0, -500, 50]\nupper = [300, -500, 52]", 1)
	assert.Contains(t, of(t, run(t, side), finding.PickupSpringBind("rear", "left")).Missing, "does not shorten as the wheel rises")
}

func TestMoveInWords(t *testing.T) {
	a := &Axle{build: &project.Build{}}
	assert.Equal(t, "2.0 mm to the right, 1.5 mm down", a.towards(r3.Vec{Y: 2, Z: -1.5}))
	assert.Equal(t, "nowhere", a.towards(r3.Vec{X: 0.01}))
}

// The shear of the bar in full roll by the torque that turns it: a round bar of 22 between
// bushes 660 apart, G 81 GPa (EN 1993-1-1, 3.2.6), T = G·π·d⁴/32·θ/L and τ = 16·T/(π·d³).
// A thicker one is sheared more; one without a diameter, or a way to go, is not known.
func TestShearOfTheBar(t *testing.T) {
	r := run(t, example.Pickups())
	f := of(t, r, finding.PickupBarShear("front"))
	d, turn := 22.0, r.Axles[0].Bar.Roll.V
	require.Positive(t, turn)
	torque := 81000 * math.Pi * math.Pow(d, 4) / 32 * turn / 660
	assert.InDelta(t, 16*torque/(math.Pi*d*d*d), f.Value, 1e-6)
	assert.Contains(t, strings.Join(f.Assumes, " "), "a solid round bar of steel")
	assert.Equal(t, finding.Over, of(t, run(t, strings.Replace(example.Pickups(), "diameter = 22", "diameter = 44", 1)), finding.PickupBarShear("front")).Status)
	for cut, lacks := range map[string]string{"diameter = 22\n": "pickup.front.bar.diameter", "bump = 70\n": "pickup.front.bump", "arm = [20, -560, -40]\n": "pickup.front.bar.left.arm"} {
		f := of(t, run(t, strings.Replace(example.Pickups(), cut, "", 1)), finding.PickupBarShear("front"))
		assert.Equal(t, finding.NotKnown, f.Status, cut)
		assert.Contains(t, f.Lacks(), lacks)
	}
}

// An axle is taken over from before as long as all that it rests on is alike, and no longer.
func TestAnAxleIsTakenOver(t *testing.T) {
	none := Guide{Axle: func(project.Line) (travel.Suspension, error) { return nil, errors.New("no axle") }}
	build := func(wheel float64, more string) *project.Build {
		b := &project.Build{Pickups: []project.Pickup{{Name: "front"}}, Name: more}
		b.Pickups[0].Left.Wheel = project.Point{At: r3.Vec{X: wheel, Y: -700}, Known: true}
		return b
	}
	first := Of(build(100, ""), nil, none)
	assert.Same(t, first.Axles[0], Of(build(100, "another name"), first, none).Axles[0])
	assert.NotSame(t, first.Axles[0], Of(build(101, ""), first, none).Axles[0])
	limited := build(100, "")
	limited.Limits = map[string]project.Rule{"caster": {Value: 1}}
	assert.NotSame(t, first.Axles[0], Of(limited, first, none).Axles[0])
}
