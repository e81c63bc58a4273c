package line

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Compound cases derived from first principles and computed by two methods:
// the angles, the exact residual at 3000 rpm and the small-angle equivalent.
func TestLineGivenByPoints(t *testing.T) {
	three := `slope = "3 deg down to the rear"`
	for _, c := range []struct {
		name     string
		text     string
		angles   []float64
		residual float64 // rad/s²
		small    float64 // deg
	}{
		{"parallel ends", example.Points(three, three, "[1500, 0, 350]", "[2700, -60, 270]"),
			[]float64{2.969737, 2.969737}, 0, 0},
		{"pinion turned", example.Points(three, "slope = \"1.5 deg down to the rear\"\nheading = \"0.5 deg rear to the right\"", "[1500, 0, 350]", "[2700, -60, 270]"),
			[]float64{2.969737, 4.075902}, 330.982, 3.316374},
		{"two-piece", example.Points(`slope = "2.5 deg down to the rear"`, `slope = "2 deg down to the rear"`, "[1450, 0, 380]", "[2350, 0, 345]", "[3300, -45, 250]"),
			[]float64{0.272953, 4.405481, 4.586988}, 63.308, 1.449932},
		{"two-piece, front shaft crossed", example.Points(`slope = "2.5 deg down to the rear"`, `slope = "2 deg down to the rear"`, "[1450, 0, 380]", "[2350, 0, 345]", "[3300, -45, 250]") + "[[line.rear.shaft]]\nphase = \"crossed\"\n",
			[]float64{0.272953, 4.405481, 4.586988}, 59.727, 1.408242},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := run(build(t, c.text+"[line.rear]\nspeed = \"3000 rpm\"\n"))
			l := a.Lines[0]
			require.Len(t, l.Joints, len(c.angles))
			for i, want := range c.angles {
				assert.InDelta(t, want, deg(l.Joints[i].Planned.V), 2e-6)
			}
			require.True(t, l.Planned.Known, l.Planned.Why)
			assert.InDelta(t, c.residual, l.Planned.Residual.V, 1e-3*math.Max(1, c.residual/100))
			assert.InDelta(t, c.small, deg(l.Planned.SmallAngle), 2e-6)
			assert.Len(t, l.Planned.Curve, TurnSteps+1)
		})
	}
}

// Turning the rear yoke by 18.70° about the shaft makes the twisted line run
// as its coplanar picture would (2.791709° equivalent).
func TestBestYokeOfATwistedLine(t *testing.T) {
	text := example.Points(`slope = "3 deg down to the rear"`, "slope = \"1.5 deg down to the rear\"\nheading = \"0.5 deg rear to the right\"", "[1500, 0, 350]", "[2700, -60, 270]") +
		"[line.rear]\nspeed = \"3000 rpm\"\n"
	l := run(build(t, text)).Lines[0]
	require.Len(t, l.Planned.Best, 1)
	assert.InDelta(t, 18.70, deg(l.Planned.Best[0].Offset), 0.05)
	set := run(build(t, text+fmt.Sprintf("[[line.rear.shaft]]\nyoke_offset = \"%.6f deg\"\n", deg(l.Planned.Best[0].Offset)))).Lines[0]
	assert.InDelta(t, l.Planned.Best[0].Residual.V, set.Planned.Residual.V, 1e-6)
	assert.InDelta(t, 2.791709, deg(set.Planned.SmallAngle), 1e-3)
}

// A line that runs forward to a front axle: the same shaft looked at from the
// other end, so the same angles.
func TestFrontLineIsTheRearLineTurnedRound(t *testing.T) {
	rear := run(build(t, example.Points(`slope = "3 deg down to the rear"`, `slope = "1 deg down to the rear"`, "[1500, 0, 350]", "[2700, -60, 270]"))).Lines[0]
	front := run(build(t, strings.ReplaceAll(example.Points(`slope = "1 deg down to the rear"`, `slope = "3 deg down to the rear"`, "[2700, -60, 270]", "[1500, 0, 350]"), "line.rear", "line.front")+"[line.front]\ntoward = \"front\"\n")).Lines[0]
	require.True(t, front.HasPlan, front.PlanWhy)
	assert.InDelta(t, rear.Joints[0].Planned.V, front.Joints[1].Planned.V, 1e-12)
	assert.InDelta(t, rear.Joints[1].Planned.V, front.Joints[0].Planned.V, 1e-12)
	assert.InDelta(t, rear.Axes[1].Planned.V, front.Axes[1].Planned.V, 1e-12, "a slope is to the rear whichever way the shaft runs")
}

func TestCarrierBearingWithoutAPlace(t *testing.T) {
	a := run(build(t, example.Points(`slope = "3 deg down to the rear"`, `slope = "1 deg down to the rear"`, "[1500, 0, 350]", "[2000, 0, 340]", "[2700, -60, 270]")+"\n"))
	require.True(t, a.Lines[0].HasPlan)
	_, ok := a.Finding("line.rear.joint.1.min")
	assert.False(t, ok, "a joint ahead of a carrier bearing should hardly work")
	f := findingOf(t, a, "line.rear.joint.1.max")
	assert.InDelta(t, 1, deg(f.Limit), 1e-9)

	text := strings.Replace(example.Points(`slope = "3 deg down to the rear"`, `slope = "1 deg down to the rear"`, "[1500, 0, 350]", "X", "[2700, -60, 270]"), "at = X\n", "", 1)
	a = run(build(t, text))
	assert.False(t, a.Lines[0].HasPlan)
	assert.Contains(t, a.Lines[0].PlanWhy, "line.rear.joint.2.at")
}

func TestConstantVelocityJointsRunEvenly(t *testing.T) {
	text := "format = 1\n[line.rear]\nspeed = \"4000 rpm\"\n[line.rear.first]\nslope = \"1 deg down to the rear\"\n[line.rear.pinion]\nslope = \"8 deg down to the rear\"\n" +
		"[[line.rear.joint]]\nkind = \"constant velocity\"\nat = [0,0,0]\n[[line.rear.joint]]\nkind = \"double cardan\"\nat = [1000,0,-200]\n"
	a := run(build(t, text))
	l := a.Lines[0]
	assert.InDelta(t, 0, l.Planned.Residual.V, 1e-9)
	_, ok := a.Finding("line.rear.joint.1.min")
	assert.False(t, ok)
	_, ok = a.Finding("line.rear.shaft.1.mismatch")
	assert.False(t, ok)
}

// 16/9 in top gear of 0.8: 4000/0.8 = 5000 rpm; the table then allows 3 1/4°
// (driveline service literature, from memory).
func TestSpeedFromRedline(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[powertrain]\nredline = \"4000 rpm\"\ngears = [6.4, 3.1, 1, 0.8]\ntorque = \"400 N m\"\n"
	a := run(build(t, text))
	l := a.Lines[0]
	assert.InDelta(t, 5000, l.Speed.V/rpm, 1e-9)
	assert.InDelta(t, 400*6.4*1000, l.Torque.V, 1e-6)
	f := findingOf(t, a, "line.rear.joint.1.speed")
	assert.InDelta(t, 3.25, deg(f.Limit), 1e-9)
	assert.Equal(t, finding.OK, f.Status)
	f = findingOf(t, a, "line.rear.residual")
	assert.Equal(t, finding.Read, f.Basis)
	assert.Greater(t, f.Uncertainty, 0.0)

	a = run(build(t, text+"[limits]\njoint_at_speed = \"2.2 deg\"\n"))
	f = findingOf(t, a, "line.rear.joint.2.speed")
	assert.Equal(t, finding.Over, f.Status)
	assert.True(t, f.Changed)
}

// 3.73 axle, 205/55R16, 100 km/h: 3225.08 rpm with a rolling circumference of
// 3.05 design diameters (ETRTO practice, from memory).
func TestSpeedFromRoad(t *testing.T) {
	base := example.Three("rear", "rear", "rear") + "[vehicle]\ntop_speed = \"100 km/h\"\n"
	f := findingOf(t, run(build(t, base)), "line.rear.residual")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "vehicle.tyre")
	f = findingOf(t, run(build(t, base+"tyre = \"205/55R16\"\n")), "line.rear.residual")
	assert.Contains(t, f.Missing, "line.rear.ratio")
	l := run(build(t, base+"tyre = \"205/55R16\"\n[line.rear]\nratio = 3.73\n")).Lines[0]
	assert.InDelta(t, 3225.08, l.Speed.V/rpm, 0.01)
}

func TestNothingAboutSpeedIsNoFinding(t *testing.T) {
	a := run(build(t, example.Three("rear", "rear", "rear")))
	for _, f := range a.Findings {
		assert.NotContains(t, f.ID, "residual")
		assert.NotContains(t, f.ID, ".speed")
	}
}

// Steel tube 76.2 × 2.1 mm, 1270 mm between centres, E 206 GPa, 7850 kg/m³:
// whirls at 7845.31 rpm (pinned Euler-Bernoulli beam, Machinery's Handbook
// form), 113.460 MPa at 2000 N·m.
func TestTube(t *testing.T) {
	text := example.Points(`slope = "0 deg"`, `slope = "0 deg"`, "[0, 0, 0]", "[1270, 0, 0]") +
		"[line.rear]\nspeed = \"4500 rpm\"\n[powertrain]\ntorque = \"500 N m\"\ngears = [4]\n" +
		"[[line.rear.shaft]]\noutside = 76.2\nwall = 2.1\nrating = \"1800 N m\"\nslip_closed = 1240\nslip_open = 1330\n"
	a := run(build(t, text))
	tube := a.Lines[0].Shafts[0].Tube
	assert.InDelta(t, 7845.31, tube.Whirl.V/rpm, 0.01)
	assert.InDelta(t, 113.460, tube.Shear.V, 1e-3)
	assert.InDelta(t, 1270*488.8632*7850e-9, tube.Mass.V, 1e-6)
	f := findingOf(t, a, "line.rear.shaft.1.whirl")
	assert.Equal(t, finding.OK, f.Status)
	assert.InDelta(t, 0.7*7845.31, f.Limit/rpm, 0.01)
	f = findingOf(t, a, "line.rear.shaft.1.torque")
	assert.Equal(t, finding.Over, f.Status)
	rows := map[string]finding.Number{}
	for _, r := range a.Lines[0].Order {
		rows[r.Name] = r.Value
	}
	assert.InDelta(t, 30, rows["line.rear.order.shaft.1.slip_from_closed"].V, 1e-9)
	assert.InDelta(t, 60, rows["line.rear.order.shaft.1.slip_to_open"].V, 1e-9)

	a = run(build(t, strings.Replace(text, "wall = 2.1\n", "", 1)))
	f = findingOf(t, a, "line.rear.shaft.1.whirl")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "line.rear.shaft.1.wall")
}

// The uncertainty of the residual against brute force: the three readings
// moved by their whole ± in every combination bracket it.
func TestResidualUncertainty(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[line.rear]\nspeed = \"3000 rpm\"\n"
	m := run(build(t, text)).Lines[0].Read.Residual
	require.True(t, m.Known)
	// engine and pinion differ by 0.4°, so b² changes by about 2·b·db for each
	w := 3000 * rpm
	t1, t2 := 2.0*geom.Deg.Rad(), 2.4*geom.Deg.Rad()
	u := (0.1 * geom.Deg).Rad() / math.Sqrt(3)
	// a = w²(t2²-t1²): engine -2·t1, shaft 2·t1-2·t2... with t1 = T-S, t2 = P-S
	want := w * w * 2 * u * math.Sqrt(t1*t1+t2*t2+(t2-t1)*(t2-t1))
	between(t, want, m.U(), 0.1)
}

// A converter multiplies what reaches the gearbox, and so everything behind it.
func TestConverterMultipliesTheTorque(t *testing.T) {
	text := example.Three("rear", "rear", "rear") + "[powertrain]\ntorque = \"400 N m\"\ngears = [2.5, 1]\nredline = \"4000 rpm\"\n"
	plain := run(build(t, text)).Lines[0].Torque
	with := run(build(t, strings.Replace(text, "[powertrain]\n", "[powertrain]\nconverter = 2\n", 1))).Lines[0].Torque
	assert.InDelta(t, 2*plain.V, with.V, 1e-6)
}
