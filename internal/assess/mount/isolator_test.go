package mount

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// stiffly stands the powertrain on mounts that hardly give: loads are those of
// the lever, to a few thousandths.
func stiffly() string { return example.Stiffer() }

// Three mounts by the lever: the rear one carries 400/1200 of the weight, full
// torque in first gear changes the fronts by torque over their distance.
func TestLoadsByTheLever(t *testing.T) {
	a := levelBuild(t, weight, stiffly())
	w := 300 * geom.Gravity
	const near = 0.1 // N
	assert.InDelta(t, w/3, value(t, a, "mount.rear.load.rest.up"), near)
	assert.InDelta(t, w/3, value(t, a, "mount.left_front.load.rest.up"), near)
	couple := 300e3 * 4 / 600.0
	// Standard rotation lifts the left of the engine.
	assert.InDelta(t, w/3-couple, value(t, a, "mount.left_front.load.gear_1.up"), near)
	assert.InDelta(t, w/3+couple, value(t, a, "mount.right_front.load.gear_1.up"), near)
	assert.InDelta(t, w/3-couple/2, value(t, a, "mount.left_front.load.gear_2.up"), near)
	assert.InDelta(t, w/3+couple*3.5/4, value(t, a, "mount.left_front.load.reverse.up"), near)
	assert.InDelta(t, w, value(t, a, "mount.rear.load.bump.up"), near)
	// Braking at 1 g with the centre 100 mm above the pads, 1200 mm apart.
	assert.InDelta(t, w/3-w*100/1200, value(t, a, "mount.rear.load.braking.up"), near)
	assert.InDelta(t, w, value(t, a, "mount.left_front.load.braking.along")+value(t, a, "mount.right_front.load.braking.along")+value(t, a, "mount.rear.load.braking.along"), near)
	assert.InDelta(t, 1.2e6, value(t, a, "mounts.torque"), 1e-6)
	f := findingOf(t, a, "mount.left_front.lifts")
	assert.InDelta(t, w/3-couple, f.Value, near)
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, f.Advice(), "full torque in 1st gear")
	assert.False(t, f.HasLimit)

	b := levelBuild(t, weight, stiffly(), "[loads]\nbump = 2\nbraking = { value = 0.5, source = \"measured\" }\n")
	assert.InDelta(t, w*2/3, value(t, b, "mount.rear.load.bump.up"), near)
	assert.Equal(t, "measured", b.Build.Load("braking").Source)
	assert.InDelta(t, w/3-w*50/1200, value(t, b, "mount.rear.load.braking.up"), near)
}

func TestAMountThatLifts(t *testing.T) {
	for holds, want := range map[string]finding.Status{"captive": finding.OK, "bonded only": finding.Over, "": finding.NotKnown} {
		text := strings.Replace(rubbers, `holds = "captive"`, `holds = "`+holds+`"`, 1)
		a := levelBuild(t, weight, text)
		f := findingOf(t, a, "mount.left_front.lifts")
		assert.Equal(t, want, f.Status, holds)
		assert.Contains(t, f.Advice(), "pulls up on the left front mount", holds)
		assert.Equal(t, want, findingOf(t, a, "mount.left_front.captive").Status, holds)
	}
	// Nothing of torque: a verdict would leave out what lifts it.
	a := levelBuild(t, "[powertrain]\nmass = 300\ncentre_of_mass = [400, 0, 100]\n", rubbers, noRebound)
	f := findingOf(t, a, "mount.left_front.lifts")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "powertrain.torque")
	assert.InDelta(t, 0, f.Value, 1e-6, "in free fall it carries nothing")
}

func TestNothingIsSaidOfMountsNobodyHasBegun(t *testing.T) {
	a := levelBuild(t)
	for _, f := range a.Findings {
		assert.NotContains(t, f.ID, "mount")
	}
	// What holds a mount is one thing, its rubber another.
	a = levelBuild(t, "[mount.rear]\nholds = \"bonded only\"\n")
	require.Len(t, a.Findings, 1)
	assert.Equal(t, "mount.rear.captive", a.Findings[0].ID)
	assert.Equal(t, finding.Over, a.Findings[0].Status)
	a = levelBuild(t, "[mount.rear]\nholds = \"solid\"\n")
	assert.Equal(t, finding.OK, findingOf(t, a, "mount.rear.captive").Status)
	assert.Equal(t, finding.Over, findingOf(t, a, "mount.rear.solid").Status)
	assert.Len(t, a.Findings, 2)
}

// Springs that give alike: weight over rate, and no tilt.
func TestSagByHand(t *testing.T) {
	text := strings.NewReplacer("rate_up = 250", "rate_up = 300", "rate_across = 120", "rate_across = 150", "rate_along = 110", "rate_along = 140").Replace(rubbers)
	a := levelBuild(t, weight, text)
	sag := 300 * geom.Gravity / 900
	for _, m := range []string{"left_front", "right_front", "rear"} {
		assert.InDelta(t, sag, value(t, a, "mount."+m+".sag"), 1e-6, m)
	}
	assert.InDelta(t, 0, value(t, a, "mounts.sag.tilt"), 1e-9)
	assert.InDelta(t, sag, findingOf(t, a, "mounts.sag").Value, 1e-6)
	// √(k/m)/2π, the textbook formula (Ogata, System Dynamics).
	assert.InDelta(t, math.Sqrt(1.6*900e3/300)/(2*math.Pi), value(t, a, "mounts.bounce"), 1e-9)

	// A softer rear mount sinks further and tilts the nose up.
	a = levelBuild(t, weight, rubbers)
	assert.Greater(t, value(t, a, "mount.rear.sag"), value(t, a, "mount.left_front.sag"))
	assert.Greater(t, value(t, a, "mounts.sag.tilt"), 0.0)
}

// The turn by torque agrees with the one geometry gives.
func TestRockAgrees(t *testing.T) {
	a := levelBuild(t, weight, rubbers)
	pads := []seat.Isolator{
		seat.Upright("left front", r3.Vec{Y: -300}, seat.Rates{X: 140, Y: 150, Z: 300}),
		seat.Upright("right front", r3.Vec{Y: 300}, seat.Rates{X: 140, Y: 150, Z: 300}),
		seat.Upright("rear", r3.Vec{X: 1200}, seat.Rates{X: 110, Y: 120, Z: 250}),
	}
	body := seat.Body{Mass: 300, Centre: r3.Vec{X: 400, Z: 100}}
	most := 0.0
	for _, m := range []float64{1.2e6, -1.2e6} {
		// The whole turn: about the torque's axis alone it is a little less.
		r, err := seat.RockUnder(body, pads, seat.Load{Torque: r3.Vec{X: m}})
		require.NoError(t, err)
		most = max(most, turnBetween(r.Rest.Motion, r.Loaded.Motion).Rad())
		assert.InDelta(t, r.Angle.Rad(), turnBetween(r.Rest.Motion, r.Loaded.Motion).Rad(), 0.03*r.Angle.Rad())
	}
	assert.InDelta(t, most, findingOf(t, a, "mounts.rock").Value, 1e-9)
	assert.InDelta(t, 110, value(t, a, "mount.rear.rate.along"), 0)
	assert.InDelta(t, 120, value(t, a, "mount.rear.rate.across"), 0)
	p := geom.Orient(0.1, -0.2, 0.3, r3.Vec{})
	turned, err := geom.Turn(r3.Vec{X: 4}, r3.Vec{X: 1, Y: 2, Z: -1}, 0.4)
	require.NoError(t, err)
	assert.InDelta(t, 0.4, turnBetween(p, p.Then(turned)).Rad(), 1e-12)
}

// An estimate from hardness carries its ± into sag, and makes a limit near it
// tight instead of ok.
func TestEstimatedRatesCarryTheirUncertainty(t *testing.T) {
	soft := "hardness = 50\nthickness = 30\ndiameter = 60\nholds = \"captive\"\n"
	text := "[mount.left_front]\n" + soft + "[mount.right_front]\n" + soft + "[mount.rear]\n" + soft
	a := levelBuild(t, weight, text)
	f := findingOf(t, a, "mounts.sag")
	assert.Greater(t, f.Uncertainty, 0.3*f.Value)
	e, err := seat.Rubber{Hardness: 50, Thickness: 30, Diameter: 60}.Estimate()
	require.NoError(t, err)
	w := 300 * geom.Gravity / 3
	assert.InDelta(t, w/e.Compression.Value, f.Value, 1e-6)
	off := w/e.Compression.Low() - w/e.Compression.Value
	assert.GreaterOrEqual(t, f.Uncertainty, off-1e-6)
	assert.InDelta(t, off*2/math.Sqrt(3), f.Uncertainty, 0.01*off, "a bound, rectangular")
	assert.InDelta(t, e.Compression.Low(), value(t, a, "mount.rear.rate.up.low"), 1e-9)
	a = levelBuild(t, weight, text, "[limits]\nsag = 4.5\n")
	assert.Equal(t, finding.Tight, findingOf(t, a, "mounts.sag").Status)

	a = levelBuild(t, weight, strings.Replace(text, "hardness = 50", "hardness = 90", 1))
	assert.Contains(t, findingOf(t, a, "mounts.sag").Missing, "the left front mount: rubber: a hardness of 90 IRHD")
}

func TestShakingAtIdle(t *testing.T) {
	engine := strings.Replace(weight, "mass", "cylinders = 4\nidle = \"750 rpm\"\nmass", 1)
	a := levelBuild(t, engine, rubbers)
	f := findingOf(t, a, "mounts.isolation")
	assert.InDelta(t, 25, value(t, a, "mounts.firing"), 1e-9)
	bounce := value(t, a, "mounts.bounce")
	want, err := seat.Transmissibility(25/bounce, rubberDamping)
	require.NoError(t, err)
	assert.InDelta(t, want, f.Value, 1e-12)
	high, err := seat.Transmissibility(25/(bounce*math.Sqrt(2/1.6)), rubberDamping)
	require.NoError(t, err)
	assert.InDelta(t, (high-want)*2/math.Sqrt(3), f.Uncertainty, 1e-12, "the stiff end of the range lets most through")
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, bounce*(1-math.Sqrt(1.2/1.6))*2/math.Sqrt(3), a.Isolators.Bounce.Expanded(), 1e-9, "rubber is 1.2 to 2 times as stiff in vibration, and the soft end is farther off")

	near := new(Prepared).passed(10, rubberDamping, 9, 8, 12) // idle within what the bounce may be
	worst, err := seat.Transmissibility(1, rubberDamping)
	require.NoError(t, err)
	assert.InDelta(t, (worst-near.V)*2/math.Sqrt(3), near.Expanded(), 1e-12)

	slow := levelBuild(t, strings.Replace(engine, "750 rpm", "300 rpm", 1), rubbers)
	assert.Equal(t, finding.Over, findingOf(t, slow, "mounts.isolation").Status, "near resonance")
	none := levelBuild(t, weight, rubbers)
	assert.Equal(t, "powertrain.cylinders is not in the file yet", findingOf(t, none, "mounts.isolation").Missing)
	solid := levelBuild(t, engine, strings.Replace(rubbers, "rate_up = 250\nrate_across = 120\nrate_along = 110\nholds = \"captive\"", "holds = \"solid\"", 1))
	assert.Equal(t, finding.Over, findingOf(t, solid, "mounts.isolation").Status)
	assert.InDelta(t, 0, value(t, solid, "mount.rear.sag"), 0.02)
}

func TestMountsThatDoNotHoldItUpright(t *testing.T) {
	high := strings.Replace(weight, "[400, 0, 100]", "[400, 0, 30000]", 1)
	a := levelBuild(t, high, rubbers)
	for _, id := range []string{"mounts.sag", "mounts.rock"} {
		f := findingOf(t, a, id)
		assert.Equal(t, finding.Over, f.Status, id)
		assert.Contains(t, f.Advice(), "No balance", id)
	}
}

func TestFourMountsAndTransaxle(t *testing.T) {
	more := "[mount.left_rear]\nat = [1200, -200, 0]\nRATES\n[mount.right_rear]\nat = [1200, 200, 0]\nRATES\n"
	text := strings.Replace(stiffly(), "[mount.rear]", "[mount.rear]\nfit_up_only = true", 1)
	a := levelBuild(t, weight, text, strings.ReplaceAll(more, "RATES", "rate_up = 1e5\nrate_across = 1e5\nrate_along = 1e5"))
	w := 300 * geom.Gravity
	assert.InDelta(t, w/6, value(t, a, "mount.left_rear.load.rest.up"), 1)
	assert.InDelta(t, w/3, value(t, a, "mount.left_front.load.rest.up"), 1)
	_, ok := a.Finding("mount.rear.lifts")
	assert.False(t, ok, "it carries nothing after fit-up")

	// Four share by their stiffness: nothing is known without it, not even at rest.
	a = levelBuild(t, weight, text, strings.ReplaceAll(more, "RATES", ""))
	f := findingOf(t, a, "mount.left_rear.lifts")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.False(t, f.HasValue)
	assert.Contains(t, f.Missing, "more than three mounts share the weight by their stiffness, and mount.left_rear.rate_up is not in the file yet")

	cross := strings.Replace(weight, "mass", "layout = \"transaxle\"\nmass", 1)
	a = levelBuild(t, cross)
	assert.Contains(t, a.Statics.TorqueWhy, "powertrain.final")
	a = levelBuild(t, strings.Replace(cross, "mass", "final = 4\nmass", 1), stiffly())
	// 300 N m × 4 × 4 over 1200 mm lifts the front.
	assert.InDelta(t, w/3+300e3*16/1200, value(t, a, "mount.rear.load.gear_1.up"), 0.5)
}

func TestAbsurdWeightsGiveReasons(t *testing.T) {
	for text, want := range map[string]string{
		strings.Replace(weight, "mass = 300", "mass = 0", 1):               "powertrain.mass is 0",
		strings.Replace(weight, "centre_of_mass = [400, 0, 100]\n", "", 1): "powertrain.centre_of_mass is not in the file yet",
		"[powertrain]\ncentre_of_mass = [0, 0, 0]\n":                       "powertrain.mass is not in the file yet",
	} {
		a := levelBuild(t, text, rubbers)
		assert.Contains(t, findingOf(t, a, "mount.rear.lifts").Missing, want)
		assert.Contains(t, findingOf(t, a, "mounts.sag").Missing, want)
	}
	// Pads that are not in one line in space, but are seen from above.
	a := run(build(t, strings.Replace(levelHead, "rear = [1200, 0, 0]", "rear = [0, 0, 300]", 1)+weight))
	for _, f := range a.Findings {
		assert.Equal(t, finding.NotKnown, f.Status, f.ID)
		assert.NotEmpty(t, f.Missing, f.ID)
	}
}

// The lever over the axles and the springs over them, by hand.
func TestAxleLoadsAndRideHeight(t *testing.T) {
	text := weight + `
[vehicle]
wheelbase = 2500
front_axle = -100
front_load = 700
front_rate = 25
rear_rate = 30
[old_powertrain]
mass = 200
centre_of_mass = [100, 0, 0]
`
	a := levelBuild(t, text)
	rear := (300*500.0 - 200*200) / 2500
	assert.InDelta(t, rear, value(t, a, "axle.rear.load_change"), 1e-9)
	assert.InDelta(t, 100-rear, value(t, a, "axle.front.load_change"), 1e-9)
	assert.InDelta(t, 800-rear, value(t, a, "axle.front.load"), 1e-9)
	assert.InDelta(t, -rear*geom.Gravity/60, value(t, a, "axle.rear.height_change"), 1e-9)
	f := findingOf(t, a, "axle.rear.height")
	assert.InDelta(t, rear*geom.Gravity/60, f.Value, 1e-9)
	assert.Contains(t, f.Advice(), "sinks")
	// Less at the back: the body rises there.
	a = levelBuild(t, strings.Replace(text, "mass = 200", "mass = 900", 1))
	assert.Contains(t, findingOf(t, a, "axle.rear.height").Advice(), "rises")

	for cut, want := range map[string]string{
		"front_rate = 25\n":                "vehicle.front_rate is not in the file yet",
		"wheelbase = 2500\n":               "vehicle.wheelbase is not in the file yet",
		"mass = 200\n":                     "old_powertrain.mass is not in the file yet",
		"centre_of_mass = [100, 0, 0]\n":   "old_powertrain.centre_of_mass is not in the file yet",
		"centre_of_mass = [400, 0, 100]\n": "powertrain.centre_of_mass is not in the file yet",
	} {
		a := levelBuild(t, strings.Replace(text, cut, "", 1))
		assert.Equal(t, want, findingOf(t, a, "axle.front.height").Missing, cut)
	}
}
