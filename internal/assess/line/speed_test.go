package line

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/wheel"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
)

// What governs the speed stands with whirl, and a material that nobody named is
// said where strength rests on it, and on the order sheet.
func TestWhatTheTubeRestsOn(t *testing.T) {
	text := example.Points("slope = \"3 deg down to the rear\"", "slope = \"3 deg down to the rear\"", "[0, 0, 0]", "[1000, 0, 0]") +
		"[powertrain]\nredline = \"4800 rpm\"\ntorque = \"300 N m\"\ngears = [4, 2, 1, 0.79]\n[[line.rear.shaft]]\noutside = 76.2\nwall = 2.1\n"
	for material, said := range map[string]bool{"": true, `material = "steel"`: false, `material = "aluminium"`: false, `yield = "350 MPa"`: false} {
		a := run(build(t, text+material+"\n"))
		assert.Contains(t, findingOf(t, a, "line.rear.shaft.1.whirl").Advice(), "redline in top gear (0.79)")
		assert.Equal(t, said, strings.Contains(strings.Join(findingOf(t, a, "line.rear.shaft.1.shear").Assumes, "; "), "taken as steel"), material)
		for _, r := range a.Lines[0].Order {
			if strings.Contains(r.Label, "material") {
				assert.Equal(t, !strings.Contains(material, "material"), strings.Contains(r.Words, "(assumed)"), r.Words)
			}
		}
	}
}

// A list of gears that ends far above 1 is not all of them: 4800/3.9 = 1231 rpm
// would be no largest speed.
func TestNoSpeedWithoutATopGear(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[powertrain]\nredline = \"4800 rpm\"\ngears = "
	for gears, known := range map[string]bool{"[3.9]": false, "[3.9, 2.1]": false, "[3.9, 1.2]": true, "[3.9, 2.1, 1]": true} {
		a := run(build(t, text+gears+"\n"))
		assert.Equal(t, known, a.Lines[0].Speed.Known, gears)
		for _, id := range []string{"line.rear.residual", "line.rear.joint.1.speed", "line.rear.shaft.1.inertia.drive"} {
			assert.Equal(t, known, findingOf(t, a, id).Status != finding.NotKnown, "%s %s", gears, id)
		}
		if !known {
			assert.Contains(t, a.Lines[0].Speed.Why, "no top gear")
		}
	}
}

// A comma for a point makes six gears of four: nothing rests on such a list.
func TestGearsThatDoNotFall(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[powertrain]\ntorque = \"400 N m\"\nredline = \"4800 rpm\"\ngears = [4,2, 2,4, 1,5, 1]\n"
	l := run(build(t, text)).Lines[0]
	assert.False(t, l.Speed.Known)
	assert.False(t, l.Torque.Known)
	for _, why := range []string{l.Speed.Why, l.Torque.Why} {
		assert.Contains(t, why, "do not fall from first to top: gear 2 is 2 and gear 3 is 2")
		assert.Contains(t, why, "point")
	}
}

// 4800 rpm in an overdrive of 0.79 is 6076 rpm at the shaft; a truck that goes
// no faster than 70 mph on 31 in tyres with a 3.7 axle turns it at
// 70·5280·12/60/(31·π)·3.7 = 2809 rpm by the round tyre, 3 % more by one that
// rolls 3.05 diameters. The lower governs and both are kept.
func TestWhatGovernsTheSpeed(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[powertrain]\nredline = \"4800 rpm\"\ngears = [4, 2, 1, 0.79]\n[vehicle]\ntop_speed = \"70 mph\"\ntyre_diameter = \"31 in\"\n[line.rear]\nratio = 3.7\n"
	a := run(build(t, text))
	l := a.Lines[0]
	want := 70.0 * 5280 * 12 / 60 / (31 * 3.05) * 3.7
	assert.InDelta(t, want, l.Speed.V/rpm, 0.01)
	assert.InDelta(t, 6075.9, l.ByRedline.V/rpm, 0.1)
	assert.InDelta(t, want, l.ByRoad.V/rpm, 0.01)
	assert.Contains(t, l.Speed.From, "top speed (113 km/h)")
	assert.Contains(t, l.Speed.From, "tyre_diameter")
	assert.Contains(t, l.Speed.From, "redline in top gear (0.79) would be 6076 rpm")
	l = run(build(t, strings.Replace(text, "70 mph", "200 mph", 1))).Lines[0]
	assert.InDelta(t, 6075.9, l.Speed.V/rpm, 0.1)
	assert.Contains(t, l.Speed.From, "redline in top gear (0.79); top speed")

	// A line that is engaged only off the road goes by its own speed.
	l = run(build(t, text+"top_speed = \"35 mph\"\n")).Lines[0]
	assert.InDelta(t, want/2, l.Speed.V/rpm, 0.01)
	assert.Contains(t, l.Speed.From, "this line's own top speed")

	// What cannot be worked out does not lower the speed.
	l = run(build(t, strings.Replace(text, "ratio = 3.7\n", "", 1))).Lines[0]
	assert.InDelta(t, 6075.9, l.Speed.V/rpm, 0.1)
	assert.Contains(t, l.Speed.From, "the top speed does not count, since line.rear.ratio")
}

// An old or flotation size gives no diameter; the measured one serves.
func TestDiameterServesForATyreSize(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[vehicle]\ntop_speed = \"100 km/h\"\ntyre = \"31x10.5R15\"\n[line.rear]\nratio = 3.7\n"
	l := run(build(t, text)).Lines[0]
	assert.False(t, l.Speed.Known)
	assert.Contains(t, l.Speed.Why, "flotation")
	assert.Contains(t, l.Speed.Why, "vehicle.tyre_diameter")
	l = run(build(t, strings.Replace(text, "[vehicle]\n", "[vehicle]\ntyre_diameter = 780\n", 1))).Lines[0]
	w, err := wheel.ShaftSpeed(100*wheel.KmH, 3.05*780, 3.7)
	assert.NoError(t, err)
	assert.InDelta(t, w, l.Speed.V, 1e-9)
}

// The torque case is named; reverse counts where it is the lowest gear; a share
// takes its part.
func TestTheTorqueCaseIsNamed(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[powertrain]\ntorque = \"400 N m\"\ngears = [4, 2, 1]\n"
	l := run(build(t, text+"reverse = 3.6\n")).Lines[0]
	assert.InDelta(t, 1600e3, l.Torque.V, 1e-6)
	assert.Equal(t, "peak engine torque in first gear (4)", l.Torque.From)
	l = run(build(t, text+"reverse = 4.4\n[line.rear]\nreduction = 2.5\nshare = 0.5\n")).Lines[0]
	assert.InDelta(t, 400e3*4.4*2.5*0.5, l.Torque.V, 1e-6)
	assert.Equal(t, "peak engine torque in reverse (4.4), in low range (2.5), 50 % of it this way", l.Torque.From)
}

// 76.2 x 2.1 mm at 2000 N·m is sheared at 113.460 MPa, at 20 000 N·m ten times
// as much: no steel tube carries that, rated or not. Yield in shear is 1/√3 of
// that in tension (von Mises).
func TestTubeShearIsJudgedWithoutARating(t *testing.T) {
	text := func(torque, shaft string) string {
		return example.Points(`slope = "0 deg"`, `slope = "0 deg"`, "[0, 0, 0]", "[1270, 0, 0]") +
			"[powertrain]\ntorque = \"" + torque + "\"\ngears = [4, 1]\nreverse = 3\n[[line.rear.shaft]]\noutside = 76.2\nwall = 2.1\n" + shaft
	}
	f := findingOf(t, run(build(t, text("5000 N m", ""))), "line.rear.shaft.1.shear")
	assert.Equal(t, finding.Over, f.Status)
	assert.InDelta(t, 1134.60, f.Value, 0.01)
	assert.Contains(t, f.Advice(), "first gear (4)")

	f = findingOf(t, run(build(t, text("500 N m", ""))), "line.rear.shaft.1.shear")
	assert.Equal(t, finding.NotKnown, f.Status, "a tube of mild steel would be past three quarters of its yield")
	assert.Contains(t, f.Missing, "yield is not in the file; a tube of 262 MPa")
	f = findingOf(t, run(build(t, text("400 N m", ""))), "line.rear.shaft.1.shear")
	assert.Equal(t, finding.OK, f.Status)
	assert.Contains(t, strings.Join(f.Assumes, " "), "taken as 235 MPa")

	f = findingOf(t, run(build(t, text("500 N m", "yield = \"355 MPa\"\n"))), "line.rear.shaft.1.shear")
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 0.75*355/math.Sqrt(3), f.Limit, 1e-9)
	assert.Empty(t, f.Assumes)
	f = findingOf(t, run(build(t, text("500 N m", "yield = \"250 MPa\"\n"))), "line.rear.shaft.1.shear")
	assert.Equal(t, finding.Over, f.Status)

	// The length does not matter to it.
	long := strings.Replace(text("5000 N m", ""), "at = [0, 0, 0]\n", "", 1)
	f = findingOf(t, run(build(t, long)), "line.rear.shaft.1.shear")
	assert.Equal(t, finding.Over, f.Status)

	// Without reverse in the file what is assumed of it is said.
	f = findingOf(t, run(build(t, strings.Replace(text("400 N m", ""), "reverse = 3\n", "", 1))), "line.rear.shaft.1.shear")
	assert.Contains(t, strings.Join(f.Assumes, " "), "reverse")
}

// A Cardan joint at β passes T/cos β at its highest (Schmelz, Seherr-Thoss,
// Aucktor, Universal Joints and Driveshafts, ch. 1, from memory): 1000 N·m at
// 10° is 1015.4. A rating below that is over, and without a torque not known.
func TestRatings(t *testing.T) {
	text := func(power string, rating int) string {
		return example.Points(`slope = "0 deg"`, `slope = "0 deg"`, fmt.Sprintf("[0, 0, 0]\nrating = \"%d N m\"", rating), fmt.Sprintf("[1000, 0, %g]", -1000*math.Tan(math.Pi/18))) +
			"[[line.rear.shaft]]\nrating = \"900 N m\"\n[powertrain]\n" + power
	}
	power := "torque = \"250 N m\"\ngears = [4, 1]\nreverse = 3\n"
	a := run(build(t, text(power, 1016)))
	f := findingOf(t, a, "line.rear.joint.1.torque")
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 1000e3/math.Cos(math.Pi/18), f.Value, 1)
	assert.InDelta(t, f.Value, a.Lines[0].Joints[0].Load.Peak.V, 1e-9)
	assert.InDelta(t, 1000e3, a.Lines[0].Joints[0].Load.Torque.V, 1e-6)
	assert.Equal(t, finding.Over, findingOf(t, a, "line.rear.shaft.1.torque").Status)
	assert.Equal(t, finding.Over, findingOf(t, run(build(t, text(power, 1015))), "line.rear.joint.1.torque").Status)
	_, ok := a.Finding("line.rear.joint.2.torque")
	assert.False(t, ok, "nobody rated it")

	f = findingOf(t, run(build(t, text("", 1016))), "line.rear.joint.1.torque")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Equal(t, "powertrain.torque is not in the file yet", f.Missing)
	f = findingOf(t, run(build(t, strings.Replace(text(power, 1016), "at = [0, 0, 0]\n", "", 1))), "line.rear.joint.1.torque")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "joint.1.at")
	assert.Contains(t, strings.Join(findingOf(t, run(build(t, text(strings.Replace(power, "reverse = 3\n", "", 1), 1016))), "line.rear.joint.1.torque").Assumes, " "), "no lower than first")
}

// An axis that nobody read has no reading, at every place in the line.
func TestAxesWithoutAReading(t *testing.T) {
	for _, x := range run(build(t, example.Points(`slope = "0 deg"`, `slope = "0 deg"`, "[0, 0, 0]", "[500, 0, 0]", "[1000, 0, 0]"))).Lines[0].Axes {
		assert.Equal(t, -1, x.Reading, x.Label)
		assert.Zero(t, x.Count)
	}
}
