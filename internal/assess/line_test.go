package assess

import (
	"fitup/internal/project/example"
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/geom/shaft"
	"fitup/internal/project"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const rpm = math.Pi / 30

func gaugeText(extra string, readings ...string) string {
	s := "format = 1\n[gauge]\n" + extra + "\n[line.rear.pinion]\n"
	for _, r := range readings {
		s += "[[reading]]\n" + r + "\n"
	}
	return s
}

func readOf(of, shown, lower, rest string) string {
	return fmt.Sprintf("of = %q\non = \"along\"\nshown = %q\nlower = %q\n%s", of, shown, lower, rest)
}

// The slope of frame or floor comes off every reading; it is in both axes of a
// joint and drops out of its angle.
func TestFrameSlopeComesOff(t *testing.T) {
	a := Run(build(t, gaugeText("",
		readOf("frame", "1 deg", "rear", ""),
		readOf("powertrain", "5.4 deg", "rear", ""),
		readOf("line.rear.shaft.1", "3.4 deg", "rear", ""),
		readOf("line.rear.pinion", "5.8 deg", "rear", ""))))
	l := a.Lines[0]
	assert.InDelta(t, 4.4, deg(l.Axes[0].Read.V), 1e-9)
	assert.InDelta(t, 2.0, deg(l.Joints[0].Read.V), 1e-9)
	assert.InDelta(t, 0.0816497, deg(l.Axes[0].Read.U()), 1e-7, "two readings in a slope")
	assert.InDelta(t, 0.0816497, deg(l.Joints[0].Read.U()), 5e-6, "and still two in a joint angle")
}

// Two readings of one thing with the gauge turned round give its zero error,
// which is then taken off the others.
func TestGaugeTurnedRound(t *testing.T) {
	a := Run(build(t, gaugeText("zero = \"0.3 deg\"",
		readOf("powertrain", "4.7 deg", "rear", `gauge_end = "rear"`),
		readOf("powertrain", "4.1 deg", "rear", `gauge_end = "front"`),
		readOf("line.rear.shaft.1", "2.7 deg", "rear", `gauge_end = "rear"`),
		readOf("line.rear.pinion", "4.5 deg", "rear", `gauge_end = "front"`))))
	l := a.Lines[0]
	assert.InDelta(t, 4.4, deg(l.Axes[0].Read.V), 1e-9)
	assert.InDelta(t, 2.4, deg(l.Axes[1].Read.V), 1e-9)
	assert.InDelta(t, 4.8, deg(l.Axes[2].Read.V), 1e-9)
	u := 0.1 / math.Sqrt(3)
	assert.InDelta(t, u, deg(l.Axes[0].Read.U()), 1e-7, "the zero drops out of the pair, the accuracy on one surface does not")
	// shaft: its own reading, and the scale where the gauge was turned round
	assert.InDelta(t, u*math.Sqrt2, deg(l.Axes[1].Read.U()), 1e-7)
	assert.Equal(t, 2, l.Axes[0].Count)
}

// An unknown zero is in every slope, and in no joint angle while the gauge
// stays the same way round (JCGM 100:2008, 5.2).
func TestSameZeroCancels(t *testing.T) {
	text := func(end string) string {
		return gaugeText("zero = \"0.3 deg\"",
			readOf("powertrain", "4.4 deg", "rear", `gauge_end = "rear"`),
			readOf("line.rear.shaft.1", "2.4 deg", "rear", fmt.Sprintf("gauge_end = %q", end)),
			readOf("line.rear.pinion", "4.8 deg", "rear", `gauge_end = "rear"`))
	}
	u, z := 0.1/math.Sqrt(3), 0.3/math.Sqrt(3)
	same := Run(build(t, text("rear"))).Lines[0]
	assert.InDelta(t, math.Hypot(u, z), deg(same.Axes[0].Read.U()), 1e-7)
	assert.InDelta(t, math.Sqrt2*u, deg(same.Joints[0].Read.U()), 5e-6)
	turned := Run(build(t, text("front"))).Lines[0]
	assert.InDelta(t, math.Sqrt(2*u*u+4*z*z), deg(turned.Joints[0].Read.U()), 1e-4)
}

// Resolution adds half a step (NIST TN 1297); repeats do not
// average the gauge's accuracy away.
func TestResolutionAndRepeats(t *testing.T) {
	one := Run(build(t, gaugeText("resolution = \"0.1 deg\"", readOf("powertrain", "4.4 deg", "rear", "")))).Lines[0]
	assert.InDelta(t, 0.0645497, deg(one.Axes[0].Read.U()), 1e-7)

	shown := []string{"4.35 deg", "4.4 deg", "4.45 deg"}
	var rs []string
	for _, s := range shown {
		rs = append(rs, readOf("powertrain", s, "rear", ""))
	}
	l := Run(build(t, gaugeText("", rs...))).Lines[0]
	assert.InDelta(t, 4.4, deg(l.Axes[0].Read.V), 1e-9)
	assert.Equal(t, 3, l.Axes[0].Count)
	assert.Greater(t, deg(l.Axes[0].Read.U()), 0.1/math.Sqrt(3), "the accuracy stays whole")
	assert.LessOrEqual(t, deg(l.Axes[0].Read.Expanded()), 0.2/math.Sqrt(3)+0.05+1e-9, "and no mean is off by more than that and its farthest reading")

	// a reading taken after tacking starts anew
	l = Run(build(t, gaugeText("", append(rs, readOf("powertrain", "4.6 deg", "rear", `after = "tacked"`))...))).Lines[0]
	assert.Equal(t, 1, l.Axes[0].Count)
	assert.InDelta(t, 4.6, deg(l.Axes[0].Read.V), 1e-9)
	assert.Equal(t, Proved, l.Axes[0].Basis)
}

// What the limits say comes from the same place as the geometry's figures.
func TestLimitsMatchTheirSource(t *testing.T) {
	b := &project.Build{}
	assert.Equal(t, shaft.ResidualTruck, b.Limit("residual").Value)
	assert.Equal(t, shaft.InertiaLimit, b.Limit("inertia").Value)
	assert.Equal(t, shaft.SourceAcceleration, b.Limit("residual").Source)
	assert.Equal(t, shaft.SourceSpeedTable, b.Limit("joint_at_speed").Source)
}

// A three-joint line with a 41-point travel sweep: the whole assessment has to
// fit a key press many times over.
func BenchmarkThreeJointLineWithTravel(b *testing.B) {
	text := example.Points(`slope = "2.5 deg down to the rear"`, `slope = "2 deg down to the rear"`, "[1450, 0, 380]", "[2350, 0, 345]", "[3300, -45, 250]") + `
[line.rear]
speed = "3000 rpm"
[line.rear.suspension]
kind = "leaf"
bump = 80
droop = 90
axle = [3700, 0, 80]
fixed_eye = [3130, 480, 155]
seat = [3700, 480, 120]
shackle_eye = [4330, 480, 160]
shackle_pivot = [4305, 480, 265]
clamped = 120
leaves = "many"
`
	built := build(b, text)
	a := Run(built)
	require.NotNil(b, a.Lines[0].Travel)
	require.Len(b, a.Lines[0].Travel.Points, 41)
	b.ReportAllocs()
	for b.Loop() {
		Run(built)
	}
}

// How the cost grows with the number of joints.
func BenchmarkLineByJoints(b *testing.B) {
	for n := 2; n <= 4; n++ {
		var at []string
		for i := range n {
			at = append(at, fmt.Sprintf("[%d, 0, %d]", 1400+600*i, 380-30*i*i))
		}
		built := build(b, example.Points(`slope = "2 deg down to the rear"`, `slope = "6 deg down to the rear"`, at...)+"[line.rear]\nspeed = \"3000 rpm\"\n")
		b.Run(fmt.Sprintf("joints=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Run(built)
			}
		})
	}
}

// Nor do the loads of the mounts rest on such a list.
func TestMountTorqueOfGearsThatDoNotFall(t *testing.T) {
	for gears, known := range map[string]bool{"[4,2, 2,4]": false, "[4.2, 2.4]": true} {
		a := levelBuild(t, strings.Replace(weight, "[4, 2, 1]", gears, 1), rubbers)
		assert.Equal(t, known, a.Statics.Torque.Known, gears)
		if !known {
			assert.Contains(t, a.Statics.TorqueWhy, "do not fall")
		}
	}
}
