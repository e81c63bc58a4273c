package mount

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// spring is a mount as the test knows it: three rates along three directions.
type spring struct {
	at    r3.Vec
	axes  [3]r3.Vec
	rates [3]float64
}

// restingForces finds what springs do to a body under a dead force at its
// centre and a torque, by going down to the least of energy in six numbers. The
// torque is that of two dead weights at the ends of an arm, put right until
// they make it where the body rests.
func restingForces(t require.TestingT, centre, force, torque r3.Vec, springs []spring) []r3.Vec {
	const reach = 400.0
	moved := func(x []float64) geom.Pose {
		turn := geom.Orient(geom.Angle(x[3]/reach), geom.Angle(x[4]/reach), geom.Angle(x[5]/reach), r3.Vec{})
		turn.At = r3.Add(r3.Sub(centre, turn.Dir(centre)), r3.Vec{X: x[0], Y: x[1], Z: x[2]})
		return turn
	}
	arms := [3]r3.Vec{{Y: reach}, {Z: reach}, {X: reach}}
	var pulls [3]r3.Vec // of the weight at each arm's end; its fellow pulls the other way
	ask := torque
	potential := func(x []float64) float64 {
		m := moved(x)
		e := -r3.Dot(force, r3.Sub(m.Point(centre), centre))
		for i, arm := range arms {
			e -= 2 * r3.Dot(pulls[i], r3.Sub(m.Dir(arm), arm))
		}
		for _, s := range springs {
			d := r3.Sub(m.Point(s.at), s.at)
			for i, axis := range s.axes {
				e += s.rates[i] * r3.Dot(d, axis) * r3.Dot(d, axis) / 2
			}
		}
		return e
	}
	slope := func(grad, x []float64) {
		y := append([]float64{}, x...)
		for i := range x {
			const h = 1e-3
			d := 0.0
			for _, k := range [...][2]float64{{-2, 1}, {-1, -8}, {1, 8}, {2, -1}} {
				y[i] = x[i] + k[0]*h
				d += k[1] * potential(y)
			}
			y[i], grad[i] = x[i], d/(12*h)
		}
	}
	x := make([]float64, 6)
	for range 12 {
		pulls = [3]r3.Vec{{Z: ask.X / (2 * reach)}, {X: ask.Y / (2 * reach)}, {Y: ask.Z / (2 * reach)}}
		got, err := optimize.Minimize(optimize.Problem{Func: potential, Grad: slope}, x,
			&optimize.Settings{GradientThreshold: 1e-4, MajorIterations: 300}, &optimize.BFGS{})
		require.NotNil(t, got, "%v", err)
		x = got.X
		var made r3.Vec
		for i, arm := range arms {
			made = r3.Add(made, r3.Scale(2, r3.Cross(moved(x).Dir(arm), pulls[i])))
		}
		off := r3.Sub(torque, made)
		if r3.Norm(off) < 1e-3 {
			break
		}
		ask = r3.Add(ask, off)
	}
	var out []r3.Vec
	m := moved(x)
	for _, s := range springs {
		var f r3.Vec
		d := r3.Sub(m.Point(s.at), s.at)
		for i, axis := range s.axes {
			f = r3.Add(f, r3.Scale(-s.rates[i]*r3.Dot(d, axis), axis))
		}
		out = append(out, f)
	}
	return out
}

func loadOf(t testing.TB, a *judged, mount, load string) r3.Vec {
	t.Helper()
	name := "mount." + mount + ".load." + load
	return r3.Vec{X: value(t, a, name+".along"), Y: value(t, a, name+".across"), Z: value(t, a, name+".up")}
}

// sameForce asserts that two forces agree to a tenth of a newton and a few in ten
// thousand.
func sameForce(t assert.TestingT, want, got r3.Vec, msg ...any) {
	assert.LessOrEqual(t, r3.Norm(r3.Sub(want, got)), 0.1+3e-4*r3.Norm(want), append([]any{want, got}, msg...)...)
}

var along3 = [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}

// A transverse engine hangs on two upper mounts; a link low behind it takes its
// torque, stiff fore and aft and with 1 N/mm up.
const transverse = `
format = 3
[powertrain]
layout = "transaxle"
mass = 210
centre_of_mass = [20, -10, 40]
torque = "210 N m"
gears = [3.5, 1.9, 1.2]
reverse = 3.4
final = 3.9
[powertrain.pads]
left_front = [10, -430, 180]
right_front = [-15, 410, 200]
rear = [330, 30, -190]
[placement]
left_front = 180
right_front = 200
rear = -190
setback = -2.5
offset = "10 mm left"
[mount.left_front]
rate_up = 320
rate_across = 140
rate_along = 160
holds = "bonded only"
[mount.right_front]
rate_up = 300
rate_across = 130
rate_along = 150
holds = "bonded only"
[mount.rear]
rate_up = 1
rate_across = 4
rate_along = 450
holds = "captive"
`

// Forces by balance at three points had the link carry thousands of newtons up,
// where it gives way at once, and nothing along, where it holds.
func TestALowerLinkCarriesAlong(t *testing.T) {
	a := run(build(t, transverse))
	require.Empty(t, a.Statics.Partial)
	pose := a.Pose
	at := func(own r3.Vec) r3.Vec { return pose.Point(own) }
	springs := []spring{
		{at(r3.Vec{X: 10, Y: -430, Z: 180}), along3, [3]float64{160, 140, 320}},
		{at(r3.Vec{X: -15, Y: 410, Z: 200}), along3, [3]float64{150, 130, 300}},
		{at(r3.Vec{X: 330, Y: 30, Z: -190}), along3, [3]float64{450, 4, 1}},
	}
	weight := r3.Vec{Z: -210 * geom.Gravity}
	for load, ratio := range map[string]float64{"rest": 0, "gear_1": 3.5, "reverse": -3.4} {
		torque := r3.Scale(210e3*3.9*ratio, pose.Y)
		want := restingForces(t, at(r3.Vec{X: 20, Y: -10, Z: 40}), weight, torque, springs)
		for i, m := range []string{"left_front", "right_front", "rear"} {
			sameForce(t, want[i], loadOf(t, a, m, load), load, m)
		}
	}
	link := loadOf(t, a, "rear", "gear_1")
	assert.Greater(t, link.X, 6000.0)
	assert.Less(t, math.Abs(link.Z), 200.0)
	byLever := 210e3 * 3.9 * 3.5 / (330 - 0) // what three points would have it carry
	assert.Greater(t, byLever, 8000.0)
}

// A rubber that gives way stiffly up would have to be there for what statics by
// position says; with a weak one the number does not run away.
func TestAWeakSpringTakesNoLoadThatItCannot(t *testing.T) {
	for _, up := range []string{"rate_up = 0.1\n", "rate_up = 10\n"} {
		a := run(build(t, strings.Replace(transverse, "rate_up = 1\n", up, 1)))
		for c := range a.Statics.Cases {
			assert.Less(t, math.Abs(a.Statics.Mounts[2].Force[c].Z), 1500.0, a.Statics.Cases[c].Name)
		}
	}
}

// Loads on random builds, mounts that lean among them, against least energy.
func TestLoadsOfRandomBuilds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(label string, lo, hi float64) float64 {
			return math.Round(rapid.Float64Range(lo, hi).Draw(t, label))
		}
		pads := []r3.Vec{
			{X: num("x", -80, 80), Y: -num("y", 200, 400), Z: num("z", -150, 150)},
			{X: num("x", -80, 80), Y: num("y", 200, 400), Z: num("z", -150, 150)},
			{X: num("x", 700, 1300), Y: num("y", -80, 80), Z: num("z", -150, 150)},
		}
		centre := r3.Vec{X: num("cx", 250, 500), Y: num("cy", -40, 40), Z: num("cz", 0, 180)}
		mass := num("mass", 120, 400)
		point := func(p r3.Vec) string { return fmt.Sprintf("[%g, %g, %g]", p.X, p.Y, p.Z) }
		text := fmt.Sprintf("format = 3\n[powertrain]\nmass = %g\ncentre_of_mass = %s\ntorque = \"%g N m\"\ngears = [4]\nreverse = 3.7\n", mass, point(centre), num("torque", 100, 300))
		text += fmt.Sprintf("[powertrain.pads]\nleft_front = %s\nright_front = %s\nrear = %s\n", point(pads[0]), point(pads[1]), point(pads[2]))
		text += fmt.Sprintf("[placement]\nleft_front = %g\nright_front = %g\nrear = %g\nsetback = 300\n", pads[0].Z+100, pads[1].Z+100, pads[2].Z+100)
		text += "[loads]\ncase = [{ name = \"all\", drive = 0.5, cornering = 0.6, bump = 1.5, source = \"drawn\" }]\n"
		names := []string{"left_front", "right_front", "rear"}
		springs := make([]spring, 3)
		for i, name := range names {
			lean := geom.Orient(geom.Angle(rapid.Float64Range(-0.6, 0.6).Draw(t, "tip")), 0, geom.Angle(rapid.Float64Range(-0.6, 0.6).Draw(t, "lean")), r3.Vec{})
			r := [3]float64{num("k", 150, 600), num("k", 150, 600), num("k", 200, 900)}
			springs[i] = spring{axes: [3]r3.Vec{lean.X, lean.Y, lean.Z}, rates: r}
			text += fmt.Sprintf("[mount.%s]\nrate_along = %g\nrate_across = %g\nrate_up = %g\nrate_axis = [%.12f, %.12f, %.12f]\nalong_axis = [%.12f, %.12f, %.12f]\n",
				name, r[0], r[1], r[2], lean.Z.X, lean.Z.Y, lean.Z.Z, lean.X.X, lean.X.Y, lean.X.Z)
		}
		f, err := project.Parse("drawn.toml", []byte(text))
		require.NoError(t, err)
		a := run(f.Build)
		require.Empty(t, a.Statics.Why+a.Statics.Partial)
		for i := range springs {
			springs[i].at = a.Pose.Point(pads[i])
		}
		at := rapid.SampledFrom(a.Statics.Cases).Draw(t, "case")
		for c, lc := range a.Statics.Cases {
			if lc.ID != at.ID {
				continue
			}
			force := r3.Scale(-mass*geom.Gravity, r3.Add(lc.Load.Accel, r3.Vec{Z: 1}))
			want := restingForces(t, a.Pose.Point(centre), force, lc.Load.Torque, springs)
			for i := range names {
				sameForce(t, want[i], a.Statics.Mounts[i].Force[c], lc.Name, names[i])
			}
		}
	})
}

// Without rates three mounts tell their weights at rest, and no more.
func TestUnknownRatesTellTheWeightsAtRest(t *testing.T) {
	a := levelBuild(t, weight)
	w := 300 * geom.Gravity
	assert.InDelta(t, w/3, value(t, a, "mount.rear.load.rest.up"), 1e-9)
	for _, v := range a.Values {
		if strings.HasPrefix(v.Name, "mount.rear.load.") {
			assert.Equal(t, "mount.rear.load.rest.up", v.Name)
		}
	}
	f := findingOf(t, a, "mount.rear.lifts")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "mount.left_front.rate_up is not in the file yet")
	assert.InDelta(t, w/3, f.Value, 1e-9)
	// Behind the rear mount the fronts are pulled up whatever the rates.
	a = levelBuild(t, strings.Replace(weight, "[400, 0, 100]", "[1300, 0, 100]", 1), "[mount.left_front]\nholds = \"bonded only\"\n")
	assert.Equal(t, finding.Over, findingOf(t, a, "mount.left_front.lifts").Status)
}

// Two solid mounts share by their brackets; with the brackets' stiffness the
// loads are known again. One alone holds its point whatever its bracket gives.
func TestSolidMountsShareByTheirBrackets(t *testing.T) {
	solid := "holds = \"solid\"\n"
	one := func(text, name string) string {
		before, after, _ := strings.Cut(text, "[mount."+name+"]\n")
		_, rest, _ := strings.Cut(after, "holds = \"captive\"\n")
		return before + "[mount." + name + "]\n" + solid + rest
	}
	two := one(one(rubbers, "left_front"), "right_front")
	a := levelBuild(t, weight, two)
	assert.Contains(t, findingOf(t, a, "mount.rear.lifts").Missing, "the left front and the right front mount are bolted solid and share the load by the stiffness of their brackets")
	assert.Contains(t, findingOf(t, a, "mount.rear.lifts").Missing, "mount.left_front and mount.right_front")
	bracket := solid + "rate_up = 8000\nrate_across = 5000\nrate_along = 3000\n"
	a = levelBuild(t, weight, strings.ReplaceAll(two, solid, bracket))
	assert.Equal(t, finding.OK, findingOf(t, a, "mount.rear.lifts").Status)
	assert.InDelta(t, 8000, value(t, a, "mount.left_front.load.rest.up")/value(t, a, "mount.left_front.sag"), 10)

	a = levelBuild(t, weight, one(rubbers, "rear"))
	f := findingOf(t, a, "mount.rear.lifts")
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, f.Assumes, "the bracket of the rear mount gives less than 1 mm under 5 kN")
}

// Estimates of one mount's rate leave open how they share: the ± is that of the
// two ends of the estimate, worked out by a second build with rates there.
func TestEstimatedRatesLeaveTheShareOpen(t *testing.T) {
	four := "[mount.left_rear]\nat = [1200, -200, 0]\nLEFT\n[mount.right_rear]\nat = [1200, 200, 0]\nrate_up = 300\nrate_across = 150\nrate_along = 140\nholds = \"captive\"\n"
	text := strings.Replace(rubbers, "[mount.rear]", "[mount.rear]\nfit_up_only = true", 1)
	with := func(left string) *judged {
		return levelBuild(t, weight, text, strings.Replace(four, "LEFT", left, 1))
	}
	a := with("hardness = 50\nthickness = 30\ndiameter = 60\nholds = \"captive\"")
	v := a.Statics.Along(2, 0, r3.Vec{Z: 1})
	e, err := seat.Rubber{Hardness: 50, Thickness: 30, Diameter: 60}.Estimate()
	require.NoError(t, err)
	most := 0.0
	for _, k := range [][2]float64{{e.Compression.Low(), e.Shear.Low()}, {e.Compression.High(), e.Shear.High()}} {
		b := with(fmt.Sprintf("rate_up = %v\nrate_across = %v\nrate_along = %v\nholds = \"captive\"", k[0], k[1], k[1]))
		most = max(most, math.Abs(value(t, b, "mount.left_rear.load.rest.up")-v.V))
	}
	assert.Greater(t, most, 0.01*v.V)
	assert.InDelta(t, most*2/math.Sqrt(3), v.Expanded(), 1e-6)
	assert.InDelta(t, v.V, value(t, a, "mount.left_rear.load.rest.up"), 1e-9)
}

// A mount that may lift at the end of an estimate is not ok: its rubber alone
// would hold it.
func TestAMountThatMayLift(t *testing.T) {
	text := strings.Replace(rubbers, "[mount.rear]", "[mount.rear]\nfit_up_only = true", 1) +
		"[mount.left_rear]\nat = [1200, -200, 0]\nrate_up = 300\nrate_across = 150\nrate_along = 140\nholds = \"HOLDS\"\n" +
		"[mount.right_rear]\nat = [1200, 200, 0]\nhardness = 50\nthickness = 30\ndiameter = 60\nholds = \"captive\"\n" + noRebound
	seen := map[finding.Status]bool{}
	for torque := 20; torque < 200; torque += 5 {
		w := strings.Replace(weight, "300 N m", fmt.Sprint(torque, " N m"), 1)
		f := findingOf(t, levelBuild(t, w, strings.Replace(text, "HOLDS", "bonded only", 1)), "mount.left_rear.lifts")
		seen[f.Status] = true
		switch {
		case f.Value < -liftsFrom:
			assert.Equal(t, finding.Over, f.Status)
		case f.Value-f.Uncertainty < -liftsFrom:
			assert.Equal(t, finding.Tight, f.Status)
			unsaid := findingOf(t, levelBuild(t, w, strings.Replace(text, "HOLDS", "", 1)), "mount.left_rear.lifts")
			assert.Equal(t, finding.NotKnown, unsaid.Status)
			assert.Contains(t, unsaid.Missing, "mount.left_rear.holds")
		}
	}
	assert.True(t, seen[finding.OK] && seen[finding.Tight] && seen[finding.Over], seen)
}

// A pair that leans couples: under a side load it also tips, so the powertrain
// rolls where upright mounts of the same rates up and across would not.
func TestLeaningMountsCouple(t *testing.T) {
	lean := strings.NewReplacer(
		"[mount.left_front]", "[mount.left_front]\nrate_axis = [0, 0.5, 0.866]",
		"[mount.right_front]", "[mount.right_front]\nrate_axis = [0, -0.5, 0.866]").Replace(rubbers)
	a := levelBuild(t, weight, lean)
	upright := levelBuild(t, weight, rubbers)
	assert.NotEqual(t, value(t, upright, "mount.left_front.load.rest.across"), value(t, a, "mount.left_front.load.rest.across"))
	// At rest each pushes the powertrain inward as it sinks; the two cancel.
	assert.Greater(t, value(t, a, "mount.left_front.load.rest.across"), 100.0)
	assert.InDelta(t, 0, value(t, a, "mount.left_front.load.rest.across")+value(t, a, "mount.right_front.load.rest.across"), 1e-6)
	// Bounce up and down is over the rates along the leaning axes, in the
	// vertical: 300 cos² 30° + 150 sin² 30° at each front, by hand.
	k := 2*(300*0.75+150*0.25) + 250
	assert.InDelta(t, math.Sqrt(dynamicMiddle*k*1000/300)/(2*math.Pi), value(t, a, "mounts.bounce"), 1e-3)
}

// The right side is heavier: it sinks, and roll is positive with the right side
// up, so it falls.
func TestRollUnderAWeightToTheRight(t *testing.T) {
	a := levelBuild(t, strings.Replace(weight, "[400, 0, 100]", "[400, 60, 100]", 1), rubbers)
	assert.Greater(t, value(t, a, "mount.right_front.sag"), value(t, a, "mount.left_front.sag"))
	// By hand, nearly: the difference of the front sags over their distance.
	want := (value(t, a, "mount.left_front.sag") - value(t, a, "mount.right_front.sag")) / 600
	assert.Less(t, want, 0.0)
	assert.InDelta(t, want, value(t, a, "mounts.sag.roll"), 0.01*math.Abs(want))
	// Hung with a roll already, it is the change that counts.
	b := run(build(t, strings.NewReplacer("right_front = 0\n", "right_front = 10\n", "format = 1", "format = 3").Replace(levelHead)+
		strings.Replace(weight, "[400, 0, 100]", "[400, 60, 100]", 1)+rubbers))
	assert.InDelta(t, want, value(t, b, "mounts.sag.roll"), 0.1*math.Abs(want))
}

// One mount softer than its fellows tilts the powertrain, all of them softer do
// not: the ± of a tilt is that of each by itself.
func TestTiltIsAsOpenAsEachRateLeavesIt(t *testing.T) {
	rubber := "hardness = 50\nthickness = 30\ndiameter = 60\nholds = \"captive\"\n"
	front := "[mount.left_front]\n" + rubber + "[mount.right_front]\n" + rubber
	a := levelBuild(t, weight, front, "[mount.rear]\n"+rubber)
	e, err := seat.Rubber{Hardness: 50, Thickness: 30, Diameter: 60}.Estimate()
	require.NoError(t, err)
	b := levelBuild(t, weight, front, fmt.Sprintf("[mount.rear]\nrate_up = %v\nrate_across = %v\nrate_along = %v\n", e.Compression.Low(), e.Shear.Low(), e.Shear.Low()))
	off := math.Abs(value(t, b, "mounts.sag.tilt") - value(t, a, "mounts.sag.tilt"))
	require.Greater(t, off, 1e-4)
	assert.GreaterOrEqual(t, value(t, a, "mounts.sag.tilt.uncertainty"), off)
	assert.InDelta(t, value(t, a, "mounts.sag.tilt.uncertainty"), value(t, a, "mounts.sag.slope.uncertainty"), 1e-12)
}

// The mount that may sink too far is judged, not one that sinks a little more
// and is known.
func TestSagOfTheMountThatIsLeastSure(t *testing.T) {
	known := strings.NewReplacer("rate_up = 300", "rate_up = 330").Replace(rubbers)
	text := strings.Replace(known, "rate_up = 250\nrate_across = 120\nrate_along = 110\n", "hardness = 50\nthickness = 25\ndiameter = 60\n", 1)
	a := levelBuild(t, weight, text, "[limits]\nsag = 3.5\n")
	require.Greater(t, value(t, a, "mount.left_front.sag"), value(t, a, "mount.rear.sag"))
	f := findingOf(t, a, "mounts.sag")
	assert.Equal(t, finding.Tight, f.Status)
	assert.InDelta(t, value(t, a, "mount.rear.sag"), f.Value, 1e-12)
	a = levelBuild(t, weight, text, "[limits]\nsag = 2.9\n") // past it for sure comes first
	f = findingOf(t, a, "mounts.sag")
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, value(t, a, "mount.left_front.sag"), f.Value, 1e-12)
}
