package mount

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const poundFeet = 1355.8179483314004 // N·mm (NIST SP 811, app. B)

// lowRange is a 4x4 with 400 lb ft, a first gear of 3.16 and a low range of
// 2.72 on one case that feeds both axles.
func lowRange(in string) string {
	engine := strings.NewReplacer(`"300 N m"`, `"400 lb ft"`, "[4, 2, 1]", "[3.16, 1.8, 1]", "reverse = 3.5", "reverse = 2.9").Replace(weight)
	return engine + strings.ReplaceAll(rubbers, "= 300\n", "= 240\n") + `
[line.rear]
reduction = 2.72
ratio = 4.1
` + in + `
[line.rear.first]
slope = "2 deg down to the rear"
[line.front]
toward = "front"
reduction = 2.72
ratio = 4.1
` + in + `
[line.front.first]
slope = "2 deg down to the rear"
`
}

// A case hung on the gearbox turns the powertrain by its low range, once,
// however many lines leave it; one of its own does not. Low range left out had
// 1264 lb ft stand where 3438 act, and 2.4 degrees of rock for 6.
func TestLowRangeTurnsThePowertrain(t *testing.T) {
	own := levelBuild(t, lowRange(`reduction_in = "own case"`))
	hung := levelBuild(t, lowRange(`reduction_in = "gearbox"`))
	assert.InDelta(t, 1264, value(t, own, "mounts.torque")/poundFeet, 0.1)
	assert.InDelta(t, 3438, value(t, hung, "mounts.torque")/poundFeet, 0.2)
	assert.InDelta(t, value(t, hung, "mounts.torque"), value(t, hung, "mounts.torque.gear"), 1e-6)
	rock := func(a *judged) float64 { return findingOf(t, a, "mounts.rock").Value }
	assert.InDelta(t, 2.72, rock(hung)/rock(own), 0.3)
	assert.Equal(t, finding.OK, findingOf(t, own, "mounts.rock").Status)
	assert.Equal(t, finding.Over, findingOf(t, hung, "mounts.rock").Status)
	assert.Less(t, value(t, hung, "mount.left_front.load.gear_1_low.up"), value(t, hung, "mount.left_front.load.gear_1.up"))

	// Where lines say different reductions the larger counts, in either order;
	// one below 1 is followed too.
	for _, swap := range [][2]string{{"2.72", "1.5"}, {"1.5", "2.72"}, {"2.72", "1"}, {"1", "2.72"}} {
		text := strings.Replace(lowRange(`reduction_in = "gearbox"`), "reduction = 2.72", "reduction = "+swap[0], 1)
		at := strings.LastIndex(text, "reduction = 2.72")
		if swap[1] != "2.72" {
			text = text[:at] + strings.Replace(text[at:], "reduction = 2.72", "reduction = "+swap[1], 1)
		}
		assert.InDelta(t, 3438, value(t, levelBuild(t, text), "mounts.torque")/poundFeet, 0.2, swap)
	}
	quick := levelBuild(t, strings.ReplaceAll(lowRange(`reduction_in = "gearbox"`), "reduction = 2.72", "reduction = 0.8"))
	assert.InDelta(t, value(t, own, "mounts.torque"), value(t, quick, "mounts.torque"), 1e-6, "high range turns it harder then")
	low := value(t, quick, "mount.left_front.load.gear_1_low.up")
	assert.Greater(t, low, value(t, quick, "mount.left_front.load.gear_1.up"))

	said := levelBuild(t, lowRange(""))
	for _, id := range []string{"mounts.rock", "mount.left_front.lifts"} {
		assert.Contains(t, findingOf(t, said, id).Missing, "line.rear.reduction_in is not in the file yet", id)
	}
	// What lies ahead of a joint of the powertrain hangs on it.
	joint := strings.NewReplacer("[line.rear.first]\nslope = \"2 deg down to the rear\"\n", "", "[line.front.first]\nslope = \"2 deg down to the rear\"\n", "").Replace(lowRange(""))
	assert.InDelta(t, 3438, value(t, levelBuild(t, joint), "mounts.torque")/poundFeet, 0.2)
}

const laden = `
[vehicle]
tyre_diameter = 800
front_laden = 1000
rear_laden = 1500
[loads]
friction = { value = 0.8, source = "gravel" }
`

// By hand: 0.8 × 2500 kg × 9.80665 × 0.4 m over 4.1 at the propshafts.
func TestTheSmallerOfGearAndSlipGoverns(t *testing.T) {
	slip := 0.8 * 2500 * geom.Gravity * 400 / 4.1
	a := levelBuild(t, lowRange(`reduction_in = "gearbox"`), laden)
	assert.InDelta(t, slip, value(t, a, "mounts.torque.slip"), 1e-6)
	assert.InDelta(t, 3438, value(t, a, "mounts.torque.gear")/poundFeet, 0.2)
	assert.InDelta(t, slip, value(t, a, "mounts.torque"), 1e-6)
	f := findingOf(t, a, "mounts.rock")
	assert.Contains(t, strings.Join(f.Assumes, "; "), "the wheels slip at 1913 N m, before the gear torque of 4661 N m")
	assert.Contains(t, findingOf(t, a, "mount.left_front.lifts").Advice(), "wheels slipping in 1st gear, low range")

	high := levelBuild(t, lowRange(`reduction_in = "own case"`), laden)
	assert.InDelta(t, 1264, value(t, high, "mounts.torque")/poundFeet, 0.1, "the gear torque is the smaller one")
	assert.InDelta(t, slip, value(t, high, "mounts.torque.slip"), 1e-6)

	for cut, want := range map[string]string{
		"front_laden = 1000\n":                              "vehicle.front_laden is not in the file yet",
		"rear_laden = 1500\n":                               "vehicle.rear_laden is not in the file yet",
		"tyre_diameter = 800\n":                             "vehicle.tyre is not in the file yet",
		"friction = { value = 0.8, source = \"gravel\" }\n": "loads.friction is not in the file yet",
	} {
		b := levelBuild(t, lowRange(`reduction_in = "gearbox"`), strings.Replace(laden, cut, "", 1))
		assert.Equal(t, want, b.Statics.Slip.Why, cut)
		assert.InDelta(t, 3438, value(t, b, "mounts.torque")/poundFeet, 0.2, cut)
	}
	b := levelBuild(t, strings.Replace(lowRange(`reduction_in = "gearbox"`), "ratio = 4.1\n", "", 1), laden)
	assert.Equal(t, "line.rear.ratio is not in the file yet", b.Statics.Slip.Why)
}

// A transaxle's wheels are those of the axle it stands at, and there is no
// ratio behind its final drive.
func TestSlipOfATransaxle(t *testing.T) {
	cross := strings.Replace(weight, "mass", "layout = \"transaxle\"\nfinal = 4\nmass", 1)
	more := strings.Replace(laden, "[vehicle]", "[vehicle]\nfront_axle = 0\nwheelbase = 2600", 1)
	a := levelBuild(t, cross, rubbers, more)
	assert.InDelta(t, 0.8*1000*geom.Gravity*400, value(t, a, "mounts.torque.slip"), 1e-6)
	a = levelBuild(t, cross, rubbers, strings.Replace(more, "front_axle = 0", "front_axle = -2200", 1))
	assert.InDelta(t, 0.8*1500*geom.Gravity*400, value(t, a, "mounts.torque.slip"), 1e-6)
	a = levelBuild(t, cross, rubbers, laden)
	assert.Equal(t, "vehicle.front_axle is not in the file yet", a.Statics.Slip.Why)
}

func noReverse(text string) string { return strings.Replace(text, "reverse = 3.5\n", "", 1) }

// noRebound leaves the powertrain on its mounts: the frame falls no faster than it does,
// and the wheels hardly drive the engine.
const noRebound = "[loads]\nrebound = { value = 0, source = \"a test\" }\noverrun = { value = 0.1, source = \"a test\" }\n"

// Reverse left out: over where first gear's ratio the other way already breaks
// the limit, else not known, up to the ratio at which it would.
func TestReverseLeftOut(t *testing.T) {
	springs := strings.ReplaceAll(rubbers, `"captive"`, `"bonded only"`)
	bonded := springs + noRebound
	a := levelBuild(t, noReverse(weight), bonded)
	f := findingOf(t, a, "mount.right_front.lifts")
	assert.Equal(t, finding.Over, f.Status, "it lifts in reverse")
	assert.Contains(t, f.Advice(), "Reverse is not in the file; with a ratio as low as that of first gear it is past the limit")
	same := levelBuild(t, strings.Replace(weight, "reverse = 3.5", "reverse = 4", 1), bonded)
	assert.InDelta(t, findingOf(t, same, "mount.right_front.lifts").Value, f.Value, 1e-6)

	// A weaker engine: the ratio named is the last that holds.
	weak := strings.Replace(weight, "300 N m", "100 N m", 1)
	a = levelBuild(t, noReverse(weak), bonded)
	f = findingOf(t, a, "mount.right_front.lifts")
	require.Equal(t, finding.NotKnown, f.Status)
	at := func(ratio string) finding.Status {
		b := levelBuild(t, strings.Replace(weak, "reverse = 3.5", "reverse = "+ratio, 1), bonded)
		return findingOf(t, b, "mount.right_front.lifts").Status
	}
	_, upTo, ok := strings.Cut(f.Missing, "powertrain.reverse is not in the file yet; it holds up to a ratio of ")
	require.True(t, ok, f.Missing)
	assert.Equal(t, finding.OK, at(upTo))
	assert.Equal(t, finding.Over, at(upTo+"9"), "a little more is too much, within the digit given")

	// Rock likewise, and what else holds for the largest torque.
	a = levelBuild(t, noReverse(weight), rubbers)
	f = findingOf(t, a, "mounts.rock")
	require.Equal(t, finding.NotKnown, f.Status)
	_, upTo, ok = strings.Cut(f.Missing, "it holds up to a ratio of ")
	require.True(t, ok, f.Missing)
	status := func(ratio string) finding.Status {
		return findingOf(t, levelBuild(t, strings.Replace(weight, "reverse = 3.5", "reverse = "+ratio, 1), rubbers), "mounts.rock").Status
	}
	assert.Equal(t, finding.OK, status(upTo))
	assert.Equal(t, finding.Over, status(upTo+"9"))
	assert.Equal(t, "powertrain.reverse is not in the file yet; it holds up to first gear's ratio of 4", a.NoReverse())
	assert.Empty(t, levelBuild(t, weight, rubbers).NoReverse())

	// A captive mount holds whatever pulls, but how much does is open.
	assert.Equal(t, "powertrain.reverse is not in the file yet", findingOf(t, a, "mount.right_front.lifts").Missing)
	slip := strings.Replace(laden, "[loads]\n", noRebound, 1)
	// Where the wheels slip before the limit is met, any reverse holds.
	a = levelBuild(t, noReverse(weak), springs, "[line.rear]\nratio = 4\n", strings.Replace(slip, "rear_laden = 1500", "rear_laden = 550", 1))
	f = findingOf(t, a, "mount.right_front.lifts")
	assert.Equal(t, finding.OK, f.Status, f.Missing)
	assert.Contains(t, f.Assumes, "reverse as far as the wheels grip")
	// Where they slip in first gear already, no reverse can be worse.
	slow := strings.Replace(slip, "rear_laden = 1500", "rear_laden = 400", 1)
	a = levelBuild(t, noReverse(weak), springs, "[line.rear]\nratio = 4\n", slow)
	f = findingOf(t, a, "mount.right_front.lifts")
	assert.Equal(t, finding.OK, f.Status, f.Missing)
	assert.Contains(t, f.Assumes, "reverse as far as the wheels grip")
	assert.InDelta(t, 0.8*400*geom.Gravity*400/4, value(t, a, "mounts.torque"), 1e-6)
	assert.Less(t, f.Value, value(t, a, "mount.right_front.load.rest.up"), "reverse is among the cases")
}

// The combined cases are rows of a table; what one row says acts at once.
func TestCombinedCases(t *testing.T) {
	rows := `
[loads]
case = [
  { name = "pull in a bend", drive = 0.5, cornering = 0.4, bump = 1.5, source = "test road" },
  { name = "stop in a hole", braking = 0.9, bump = 2, source = "test road" },
]
`
	a := levelBuild(t, weight, stiffly(), rows)
	ids := map[string]LoadCase{}
	for _, c := range a.Statics.Cases {
		ids[c.ID] = c
	}
	for _, id := range []string{"case_pull_in_a_bend_right", "case_pull_in_a_bend_left", "case_pull_in_a_bend_reverse_right", "case_pull_in_a_bend_reverse_left", "case_stop_in_a_hole"} {
		assert.Equal(t, "test road", ids[id].Source, id)
	}
	w := 300 * geom.Gravity
	// Half of 1200 N m over 600 mm, 0.4 g at 100 mm over the same, 1.5 times the weight.
	want := 1.5*w/3 - 0.5*1200e3/600 + 0.4*w*100/600
	assert.InDelta(t, want, value(t, a, "mount.left_front.load.case_pull_in_a_bend_right.up"), 2)
	assert.InDelta(t, 2*w/3-0.9*w*100/1200, value(t, a, "mount.rear.load.case_stop_in_a_hole.up"), 2)

	// Without a table there are rows of our own; an empty one means none.
	b := levelBuild(t, weight, rubbers)
	assert.Len(t, b.Statics.Cases, len(levelBuild(t, weight, rubbers, "[loads]\ncase = []\n").Statics.Cases)+5)
	for _, c := range b.Statics.Cases {
		assert.False(t, c.Load.Accel.X >= 1 && c.Load.Torque.X != 0, "drive torque with full braking: %s", c.Name)
		if strings.HasPrefix(c.ID, "case_") {
			assert.NotEmpty(t, c.Source)
		}
	}
	full := value(t, b, "mount.left_front.load.gear_1.up")
	assert.Greater(t, value(t, b, "mount.left_front.load.case_full_torque_over_a_bump.up"), full)
	assert.InDelta(t, 1.2e6, math.Abs(ids["gear_1"].Load.Torque.X), 1e-6)
}

// Whether the torque is the engine's, through a converter, and the other way
// round when the engine turns so.
func TestConverterAndRotationReachTheMounts(t *testing.T) {
	a := levelBuild(t, strings.Replace(weight, "mass", "converter = 2\nturns = \"opposite\"\nmass", 1), stiffly())
	w := 300 * geom.Gravity
	assert.InDelta(t, w/3+300e3*2*4/600, value(t, a, "mount.left_front.load.gear_1.up"), 0.3)
	assert.Equal(t, project.OppositeTurns, a.Build.Powertrain.Turns)
	assert.Equal(t, quantity.Force, findingOf(t, a, "mount.left_front.lifts").Kind)
}

// On overrun a part of full torque turns the powertrain the other way, in every gear and
// in reverse; in rebound it pulls up on its mounts.
func TestOverrunAndRebound(t *testing.T) {
	a := levelBuild(t, weight, rubbers, "[loads]\noverrun = { value = 0.4, source = \"a test\" }\nrebound = { value = 0.7, source = \"a test\" }\n")
	torques, up := map[string]float64{}, map[string]float64{}
	for c, lc := range a.Statics.Cases {
		torques[lc.ID] = lc.Load.Torque.X
		for i := range a.Statics.Mounts {
			up[lc.ID] += a.Statics.Mounts[i].Force[c].Z
		}
	}
	for _, gear := range []string{"gear_1", "gear_2", "gear_3", "reverse"} {
		require.Contains(t, torques, gear+"_overrun")
		assert.InDelta(t, -0.4*torques[gear], torques[gear+"_overrun"], 1e-9)
		assert.InDelta(t, 300*geom.Gravity, up[gear+"_overrun"], 1e-6)
	}
	assert.InDelta(t, 0.4*300e3*4, torques["gear_1_overrun"], 1e-6)
	assert.InDelta(t, -0.7*300*geom.Gravity, up["rebound"], 1e-6)
	assert.Contains(t, findingOf(t, a, "mount.rear.lifts").Advice(), "rebound")
}
