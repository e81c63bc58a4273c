package assess

import (
	"fitup/internal/project/example"
	"math"
	"strings"
	"testing"

	"fitup/internal/geom/vibration"
	"fitup/internal/geom/wheel"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOnlyFinishedWeldsCarry(t *testing.T) {
	a := Run(build(t, `format = 1
[[weld]]
bracket = "Left front"
at = "foot, to rail"
side.front = { state = "finished", length = 60, override = "a trailer" }
side.outer = { state = "inspected", length = 80, override = "a trailer" }
side.rear = { state = "tacked", length = 60 }
[[weld]]
bracket = "right"
at = "foot"
side.front = { state = "inspected", length = 60, override = "a trailer" }
[[weld]]
bracket = "rear"
at = "foot"
side.front = { state = "tacked" }
side.rear = { }
[[weld]]
bracket = "new"
at = "foot"
[[weld]]
bracket = "half"
at = "foot"
side.front = { state = "finished", override = "a trailer" }
[[weld]]
bracket = "bare"
at = "foot"
side.front = { state = "finished", length = 50 }
[[job]]
id = "a"
title = "drive"
hold = ["weld.**"]
`))
	var states []project.WeldState
	for _, w := range a.Welds {
		states = append(states, w.State)
	}
	assert.Equal(t, []project.WeldState{project.WeldPart, project.Inspected, project.WeldTacked, project.NoWeld, project.WeldFinished, project.WeldFinished}, states)
	assert.Equal(t, "weld.left-front.foot-to-rail", a.Welds[0].ID)
	assert.InDelta(t, 140, a.Welds[0].Carries.V, 1e-12)
	assert.InDelta(t, 200, a.Welds[0].AllSides.V, 1e-12)
	assert.Equal(t, []string{"rear tacked"}, a.Welds[0].Open)
	assert.True(t, a.Welds[2].Carries.Known, "nothing carries, whatever the lengths are")
	assert.Zero(t, a.Welds[2].Carries.V)
	assert.False(t, a.Welds[4].Carries.Known, "it carries, and how much is not known")
	var held []string
	for _, h := range a.Jobs[0].Holds {
		if h.Holds() {
			held = append(held, h.ID)
		}
	}
	assert.Equal(t, []string{"weld.left-front.foot-to-rail", "weld.rear.foot", "weld.new.foot", "weld.bare.foot"}, held, "the last is finished without proof and without a reason")
}

// Torques by T = K·d·F with K 0.2 and 75 % of proof load (ISO 898-1).
func TestFastenerTable(t *testing.T) {
	a := Run(build(t, `format = 1
[vehicle]
driven_km = 60
[[fastener]]
name = "a"
thread = "M10"
class = "8.8"
marked = true
[[fastener]]
name = "b"
thread = "M10"
class = "8.8"
maker_torque = "45 N m"
marked = true
rechecked_km = 55
[[fastener]]
name = "c"
thread = "M9"
class = "8.8"
[[fastener]]
name = "d"
marked = true
recheck_km = [100]
[[fastener]]
name = "e"
thread = "M10"
class = "8.8"
k = 0.15
`))
	fs := a.Fasteners
	assert.InEpsilon(t, 50460, fs[0].Torque.V, 0.005)
	assert.False(t, fs[0].Maker)
	assert.Contains(t, fs[0].Source, "ISO 898-1")
	assert.InDelta(t, 45000, fs[1].Torque.V, 1e-9)
	assert.True(t, fs[1].Maker, "the maker's figure wins and is marked")
	assert.InEpsilon(t, 50460, fs[1].Computed.V, 0.005)
	assert.Contains(t, fs[2].Torque.Why, `"M9" is no thread`)
	assert.Contains(t, fs[3].Torque.Why, "not in the file yet")
	assert.InEpsilon(t, 0.75*50460, fs[4].Torque.V, 0.005)
	assert.Equal(t, []float64{50}, fs[0].Due)
	assert.Empty(t, fs[1].Due)
	assert.Empty(t, fs[3].Due)
	texts := map[string]string{}
	for _, f := range a.Facts {
		texts[f.ID] = f.Text
	}
	assert.Equal(t, "to be tightened and marked: c, e", texts["fasteners.marked"])
	assert.Equal(t, "due to be checked again: a after 50 km", texts["fasteners.recheck"])
}

func drifted(before, after string) string {
	read := func(step, shown string) string {
		return "[[reading]]\nof = \"powertrain\"\non = \"along\"\nlower = \"rear\"\ngauge_end = \"rear\"\nshown = \"" + shown + "\"\nafter = \"" + step + "\"\n"
	}
	return "format = 1\n[line.rear.pinion]\n[gauge]\nplus_minus = \"0.1 deg\"\nzero = \"1 deg\"\n" +
		read("hung", "9 deg") + read("tacked", before) + read("welded", after)
}

// Welds pull: the difference of two readings, each rectangular within 0.1
// degrees, is good for 2·0.1·√(2/3) = 0.163 degrees; the gauge's own zero is
// in both and drops out.
func TestDriftOfReadings(t *testing.T) {
	for _, c := range []struct {
		after string
		want  Status
		v     float64
	}{{"4.4 deg", OK, 0}, {"4.6 deg", Tight, 0.2}, {"4.2 deg", Tight, 0.2}, {"5 deg", Over, 0.6}} {
		f := findingOf(t, Run(build(t, drifted("4.4 deg", c.after))), "drift.powertrain")
		assert.Equal(t, c.want, f.Status, c.after)
		assert.InDelta(t, c.v, deg(f.Value), 1e-9)
		assert.InDelta(t, 0.16330, deg(f.Uncertainty), 1e-4)
	}
	over := findingOf(t, Run(build(t, drifted("4.4 deg", "5 deg"))), "drift.powertrain")
	assert.Contains(t, over.Advice(), "0.60° down to the rear")
	_, ok := Run(build(t, example.Three("rear", "rear", "rear"))).Finding("drift.powertrain")
	assert.False(t, ok, "nothing is welded yet")

	moved := strings.Replace(drifted("4.4 deg", "5 deg"), "after = \"welded\"\n",
		"after = \"welded\"\nplaced = { left_front = 1, right_front = 1, rear = 1, setback = 1 }\n", 1)
	moved = strings.Replace(moved, "after = \"tacked\"\n", "after = \"tacked\"\nplaced = { left_front = 1, right_front = 1, rear = 9, setback = 1 }\n", 1)
	f := findingOf(t, Run(build(t, moved)), "drift.powertrain")
	assert.Equal(t, NotKnown, f.Status)
	assert.Contains(t, f.Missing, "moved between")
}

func TestDriftOfMeasurements(t *testing.T) {
	text := `format = 1
[[measure]]
of = "diagonal, left"
with = "tape"
lengths = [4000, 4001]
[[measure]]
of = "diagonal, left"
with = "tape"
lengths = [4000, 4000]
after = "tacked"
[[measure]]
of = "diagonal, left"
with = "tape"
lengths = [4005]
after = "welded"
[[measure]]
of = "plate"
with = "level"
angles = ["0.2 deg"]
`
	a := Run(build(t, text))
	f := findingOf(t, a, "drift.measure.diagonal-left")
	assert.Equal(t, Over, f.Status)
	assert.InDelta(t, 5, f.Value, 1e-9)
	assert.Greater(t, f.Uncertainty, 2*math.Sqrt(2.0/3))
	assert.LessOrEqual(t, f.Uncertainty, 2*math.Sqrt2*(1/math.Sqrt(3)+0.25), "two that differ by 1 show what one is good for")
	assert.Equal(t, quantity.Angle, a.Measurements[3].Kind)
	assert.InDelta(t, 0.1/math.Sqrt(3), deg(a.Measurements[3].Mean.U()), 1e-9)
}

func suspect(t *testing.T, s Shaking, p vibration.Part, order float64) Suspect {
	t.Helper()
	for _, x := range s.Suspects {
		if x.Part == p && x.Order == order {
			return x
		}
	}
	require.Fail(t, "no such suspect")
	return Suspect{}
}

// The same shake, in a build whose joints do not cancel, is laid to them.
func TestOwnNumbersRankTheJoints(t *testing.T) {
	text := func(pinion string) string {
		return "format = 1\n[vehicle]\ntyre = \"225/45R17\"\n[powertrain]\nredline = \"5000 rpm\"\ngears = [3, 1]\n[line.rear]\nratio = 3.73\n[line.rear.pinion]\n" +
			"[[reading]]\nof = \"powertrain\"\non = \"along\"\nlower = \"rear\"\ngauge_end = \"rear\"\nshown = 4.4\n" +
			"[[reading]]\nof = \"line.rear.shaft.1\"\non = \"along\"\nlower = \"rear\"\ngauge_end = \"rear\"\nshown = 2.4\n" +
			"[[reading]]\nof = \"line.rear.pinion\"\non = \"along\"\nlower = \"rear\"\ngauge_end = \"rear\"\nshown = " + pinion + "\n"
	}
	rank := func(pinion string) (float64, string) {
		a := Run(build(t, text(pinion)))
		s, err := a.FindShake(Shake{Road: 100 * wheel.KmH})
		require.NoError(t, err)
		x := suspect(t, s, vibration.Shaft, 2)
		return x.Share, x.Why
	}
	even, _ := rank("4.4")
	uneven, why := rank("7.4")
	assert.Greater(t, uneven, 2*even)
	assert.Contains(t, why, "of its limit")
	assert.Contains(t, why, "torsional vibration at the axle")
}
