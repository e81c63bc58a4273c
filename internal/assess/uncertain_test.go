package assess

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// slopes is a line of one shaft read along its axes, down to the rear.
func slopes(gauge string, engine, shaft, pinion float64, more string) string {
	return gaugeText(gauge,
		readOf("powertrain", fmt.Sprintf("%g deg", engine), "rear", more),
		readOf("line.rear.shaft.1", fmt.Sprintf("%g deg", shaft), "rear", more),
		readOf("line.rear.pinion", fmt.Sprintf("%g deg", pinion), "rear", more))
}

// One reading an axis with a gauge good for 0.1° each way: a joint angle is
// good for 2·0.1·√(2/3) = 0.163°, and a joint 0.3° inside its limits is ok.
func TestOneReadingAnAxis(t *testing.T) {
	a := Run(build(t, slopes("", 4.7, 2, 4.7, "")))
	for _, id := range []string{finding.JointMax("rear", 1), finding.JointMax("rear", 2), finding.JointMin("rear", 1)} {
		f := findingOf(t, a, id)
		assert.InDelta(t, 0.1633, deg(f.Uncertainty), 1e-4, id)
		assert.Equal(t, OK, f.Status, id)
	}
	a = Run(build(t, slopes("", 4.85, 2, 4.85, "")))
	assert.Equal(t, Tight, findingOf(t, a, finding.JointMax("rear", 1)).Status)
	a = Run(build(t, slopes("", 2.8, 2, 2.8, "")))
	assert.Equal(t, OK, findingOf(t, a, finding.JointMin("rear", 1)).Status, "0.3 above the least")
}

// The accuracy of a gauge is the same in every reading of one surface: 25 equal
// readings are as good as one, 2·0.2/√3 = 0.231°.
func TestRepeatsDoNotAverageTheAccuracy(t *testing.T) {
	text := slopes("plus_minus = \"0.2 deg\"", 4, 2, 4, "")
	for range 24 {
		text += "[[reading]]\n" + readOf("powertrain", "4 deg", "rear", "") + "\n"
	}
	l := Run(build(t, text)).Lines[0]
	assert.Equal(t, 25, l.Axes[0].Count)
	assert.InDelta(t, 0.2309, deg(l.Axes[0].Read.Expanded()), 1e-4)
}

// A second reading never makes a result worse than the accuracy and half of what
// the two differ by.
func TestASecondReadingIsNotPunished(t *testing.T) {
	for _, d := range []float64{0, 0.05, 0.1, 0.15, 0.2, 0.25} {
		text := slopes("", 4, 2, 4, "") + "[[reading]]\n" + readOf("powertrain", fmt.Sprintf("%g deg", 4+d), "rear", "") + "\n"
		l := Run(build(t, text)).Lines[0]
		require.True(t, l.Axes[0].Read.Known, "%g: %s", d, l.Axes[0].Read.Why)
		assert.LessOrEqual(t, deg(l.Axes[0].Read.Expanded()), 0.2/math.Sqrt(3)+d/2+1e-9, "%g", d)
	}
	l := Run(build(t, slopes("", 3.6, 2, 4, "")+"[[reading]]\n"+readOf("powertrain", "4.6 deg", "rear", "")+"\n[[reading]]\n"+readOf("powertrain", "5.6 deg", "rear", "")+"\n")).Lines[0]
	assert.True(t, l.Axes[0].Clash, "1° apart is no scatter of a gauge good for 0.1°")
}

// A zero 1° off is in two readings of known sign alike and drops out of what they
// differ by; of unknown sign it counts the worse way, 2·(2·1/√3) = 2.31°.
func TestZeroOfKnownAndUnknownSign(t *testing.T) {
	pm := func(engine, shaft string) float64 {
		text := gaugeText("zero = \"1 deg\"", readOf("powertrain", "4 deg", "rear", engine), readOf("line.rear.shaft.1", "2 deg", "rear", shaft))
		return deg(Run(build(t, text)).Lines[0].Joints[0].Read.Expanded())
	}
	rear, front := `gauge_end = "rear"`, `gauge_end = "front"`
	assert.InDelta(t, 0.1633, pm(rear, rear), 1e-4)
	assert.InDelta(t, 2.315, pm(rear, front), 2e-3)
	assert.InDelta(t, 2.315, pm("", ""), 2e-3, "nobody said which way round it stood")
	assert.InDelta(t, 2.315, pm(rear, ""), 2e-3)
	a := Run(build(t, gaugeText("zero = \"1 deg\"", readOf("powertrain", "4 deg", "rear", ""), readOf("line.rear.shaft.1", "2 deg", "rear", rear))))
	f := findingOf(t, a, finding.JointMax("rear", 1))
	assert.Contains(t, strings.Join(f.Assumes, "; "), "not said which way round the gauge stood on the powertrain")
	assert.Contains(t, strings.Join(f.Assumes, "; "), "on top of shaft 1")
	require.NotEmpty(t, f.Largest())
	assert.Equal(t, "the gauge's zero", f.Largest()[0].Label)
}

// Two joints of 10° that cancel as read, good for 0.3° each way, at 4000 rpm: what
// they leave is nothing, and may be 450 rad/s² and more against 400. The upper
// limit judges, so it is not ok.
func TestWhatCancelsAsReadIsNotSure(t *testing.T) {
	text := strings.Replace(slopes("plus_minus = \"0.3 deg\"", 12, 2, 12, ""), "[line.rear.pinion]\n", "[line.rear]\nspeed = \"4000 rpm\"\n[line.rear.pinion]\n", 1)
	a := Run(build(t, text))
	f := findingOf(t, a, finding.Residual("rear"))
	assert.InDelta(t, 0, f.Value, 1e-6)
	w, b, u := 4000*rpm, (10 * geom.Deg).Rad(), (0.3*geom.Deg).Rad()/math.Sqrt(3)
	straight := w * w * 2 * b * 2 * math.Sqrt2 * u // two standard uncertainties of both ends
	assert.Greater(t, f.Uncertainty, 0.97*straight)
	assert.Less(t, f.Uncertainty, 1.15*straight)
	assert.Greater(t, straight, 400.0)
	assert.Equal(t, Tight, f.Status)
	assert.Equal(t, Tight, findingOf(t, a, finding.Equivalent("rear")).Status)
	assert.NotEqual(t, OK, findingOf(t, a, finding.ShaftMismatch("rear", 1)).Status)
}

// What welding did is the difference of two single readings, and says so once.
func TestDriftSaysWhatItsReadingsAssume(t *testing.T) {
	text := gaugeText("", readOf("line.rear.pinion", "4 deg", "rear", `after = "tacked"`), readOf("line.rear.pinion", "4.1 deg", "rear", `after = "welded"`))
	f := findingOf(t, Run(build(t, text)), finding.Drift("line.rear.pinion"))
	assert.InDelta(t, 0.1, deg(f.Value), 1e-9)
	assert.Equal(t, []string{"the gauge taken to repeat within its accuracy"}, f.Assumes)
	f = findingOf(t, Run(build(t, strings.Replace(text, "[gauge]", "[gauge]\nrepeat = \"0.05 deg\"", 1))), finding.Drift("line.rear.pinion"))
	assert.Empty(t, f.Assumes)
}

// A finding knows what its ± comes from, and how likely its limit is kept.
func TestFindingsKnowTheirSources(t *testing.T) {
	a := Run(build(t, example.Three("rear", "rear", "rear")+"[line.rear]\nspeed = \"3000 rpm\"\n"))
	for _, f := range a.Findings {
		if f.Basis != Read || !f.HasValue {
			continue
		}
		assert.NotEmpty(t, f.Largest(), f.ID)
		if f.Status == OK && f.HasLimit {
			if p, stated := f.Within(); stated {
				assert.GreaterOrEqual(t, p, 0.975, f.ID)
			}
		}
	}
}

// twisted is a line of one shaft whose slopes and directions from above were read,
// each moved by so much (rad).
func twisted(t *testing.T, off [6]float64) *Line {
	t.Helper()
	text := "format = 3\n[gauge]\naccuracy = \"0.2 deg\"\n[line.rear]\nspeed = \"3000 rpm\"\n[line.rear.pinion]\n"
	for i, of := range []string{"powertrain", "line.rear.shaft.1", "line.rear.pinion"} {
		slope := [3]float64{4, 1.5, 5}[i] + off[i]*180/math.Pi
		aside := 1000 * math.Tan(math.Atan([3]float64{0.01, 0.03, -0.01}[i])+off[3+i])
		side := "right"
		if aside < 0 {
			side = "left"
		}
		text += fmt.Sprintf("[[reading]]\nof = %q\non = \"along\"\nshown = \"%.12f deg\"\nlower = \"rear\"\n[[reading]]\nof = %q\naside = \"%.12f mm %s\"\nover = \"1000 mm\"\n", of, slope, of, math.Abs(aside), side)
	}
	l := &Run(build(t, text)).Lines[0]
	require.True(t, l.Read.Known, l.Read.Why)
	return l
}

// numbersOf are numbers of a line that rest on all its readings.
func numbersOf(l *Line) map[string]finding.Number {
	return map[string]finding.Number{"joint 1": l.Joints[0].Read, "joint 2": l.Joints[1].Read, "difference": l.Shafts[0].MismatchRead,
		"equivalent": l.Read.Equivalent, "residual": l.Read.Residual, "drive": l.Read.Drive[0], "coast": l.Read.Coast[0]}
}

// half are the half widths of what is read in twisted, rad: a gauge good for 0.2°
// and a tape good for 1 mm at each end of a metre.
func half(i int) float64 {
	if i < 3 {
		return (0.2 * geom.Deg).Rad()
	}
	return math.Sqrt2 / 1000
}

// The ± of what is worked out from readings against the build itself: each reading
// moved a little in the file, and the squares of what that changes added up (JCGM
// 100:2008, 5.1.3, note 2). What straight lines leave out is on top.
func TestUncertaintyAgainstDifferences(t *testing.T) {
	const step = 1e-5
	square := map[string]float64{}
	for i := range 6 {
		var up, down [6]float64
		up[i], down[i] = step, -step
		above, below := numbersOf(twisted(t, up)), numbersOf(twisted(t, down))
		for name := range above {
			u := half(i) / math.Sqrt(3)
			square[name] += math.Pow((above[name].V-below[name].V)/(2*step)*u, 2)
		}
	}
	for name, n := range numbersOf(twisted(t, [6]float64{})) {
		want := math.Sqrt(square[name])
		assert.Greater(t, n.U(), 0.97*want, name)
		assert.Less(t, n.U(), 1.25*want, name)
	}
}

// The same by draws (JCGM 101:2008): the readings drawn anew from what they may be
// off by, the build worked out for each. What 97.5 % of the draws reach above the
// middle is no more than the upper limit, and not much less.
func TestUncertaintyAgainstDraws(t *testing.T) {
	dice := rand.New(rand.NewPCG(7, 7))
	draws := 400
	at := twisted(t, [6]float64{})
	values := map[string][]float64{}
	for range draws {
		var off [6]float64
		for i := range off {
			off[i] = either(dice, half(i))
		}
		for name, n := range numbersOf(twisted(t, off)) {
			values[name] = append(values[name], n.V)
		}
	}
	for name, n := range numbersOf(at) {
		slices.Sort(values[name])
		reach := values[name][draws*39/40] - n.V
		assert.Less(t, reach, 1.05*n.Expanded(), name)
		assert.Greater(t, reach, 0.7*n.Expanded(), name)
	}
}
