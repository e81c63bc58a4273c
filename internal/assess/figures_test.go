package assess

import (
	"fmt"
	"math"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// three is a line whose powertrain reads 3.6, 4.6 and 5.6 degrees down to the rear and
// whose shaft reads 2.4.
func threeReadings(gauge string) string {
	return gaugeText(gauge, readOf("powertrain", "3.6 deg", "rear", ""), readOf("powertrain", "4.6 deg", "rear", ""), readOf("powertrain", "5.6 deg", "rear", ""),
		readOf("line.rear.shaft.1", "2.4 deg", "rear", ""), readOf("line.rear.pinion", "4 deg", "rear", ""))
}

// Three readings 2 degrees apart with a gauge good for 0.1 are of two things, and
// nothing is known of the axis or its joint. With a repeat of 1 degree they scatter as
// stated: their own standard deviation is 1, more than 1/√3; of three it leaves 1/√3,
// and with the accuracy of 0.1/√3 the slope has 2·√(1/3 + 0.01/3) = 1.160 degrees. The
// joint is 4.6 - 2.4 = 2.2 degrees. The shaft read once has the pooled scatter of 1 and
// its own accuracy, so the joint has 2·√(1/3 + 1 + 2·0.01/3) = 2.315 degrees and
// reaches past 3: tight.
func TestThreeReadingsTwoDegreesApart(t *testing.T) {
	a := Run(build(t, threeReadings("accuracy = \"0.1 deg\"")))
	for _, id := range []string{"line.rear.powertrain.read", finding.JointMax("rear", 1), finding.JointMin("rear", 1)} {
		f := findingOf(t, a, id)
		assert.Equal(t, NotKnown, f.Status, id)
		assert.Contains(t, f.Missing, "2.00° apart", id)
	}
	a = Run(build(t, threeReadings("accuracy = \"0.1 deg\"\nrepeat = \"1 deg\"")))
	require.True(t, a.Lines[0].Axes[0].Read.Known, a.Lines[0].Axes[0].Read.Why)
	assert.InDelta(t, 1.160, deg(a.Lines[0].Axes[0].Read.Expanded()), 5e-4)
	f := findingOf(t, a, finding.JointMax("rear", 1))
	assert.InDelta(t, 2.2, deg(f.Value), 1e-9)
	assert.InDelta(t, 2*math.Sqrt(1.0/3+1+2*0.01/3), deg(f.Uncertainty), 2e-2)
	assert.InDelta(t, 3, deg(f.Limit), 1e-9)
	assert.Equal(t, Tight, f.Status)
}

// A zero 1 degree off, on a face of the powertrain and along the shaft. The errors of
// zero in the two add the worse way where a sign is not known: 2·(1 + 1)/√3 = 2.309,
// and with 0.1/√3 of accuracy in each 2.315 degrees. With the marked end up on a face
// that looks to the front the error adds to the slope as it does along the shaft with
// the end to the rear, and drops out of the joint: 2·0.1·√(2/3) = 0.163; on a face
// that looks to the rear it is the other way round.
func TestZeroOnAFaceAgainstAlong(t *testing.T) {
	pm := func(face, along string) float64 {
		a := Run(build(t, gaugeText("accuracy = \"0.1 deg\"\nzero = \"1 deg\"", "of = \"powertrain\"\non = \"square face\"\nshown = \"86 deg\"\nlower = \"rear\"\n"+face,
			readOf("line.rear.shaft.1", "2 deg", "rear", along))))
		return deg(findingOf(t, a, finding.JointMax("rear", 1)).Uncertainty)
	}
	const rear, up = `gauge_end = "rear"`, `gauge_end = "up"`
	assert.InDelta(t, 2.315, pm("", ""), 2e-3)
	assert.InDelta(t, 2.315, pm("", rear), 2e-3)
	assert.InDelta(t, 2.315, pm(up+"\nface = \"rear\"", ""), 2e-3)
	assert.InDelta(t, 0.1633, pm(up+"\nface = \"front\"", rear), 1e-4)
	assert.InDelta(t, 2.315, pm(up+"\nface = \"rear\"", rear), 2e-3)
}

// 25 equal readings of a gauge good for 0.2 leave 2·0.2/√3 = 0.231 degrees of its
// accuracy, and a joint of two such axes 2·0.2·√(2/3) = 0.327.
func TestEqualReadingsInAVerdict(t *testing.T) {
	text := slopes("accuracy = \"0.2 deg\"", 4, 2, 4, "")
	once := findingOf(t, Run(build(t, text)), finding.JointMax("rear", 1))
	for range 24 {
		text += "[[reading]]\n" + readOf("powertrain", "4 deg", "rear", "") + "\n"
	}
	often := findingOf(t, Run(build(t, text)), finding.JointMax("rear", 1))
	assert.InDelta(t, 0.3266, deg(once.Uncertainty), 1e-4)
	assert.InDelta(t, 0.3266, deg(often.Uncertainty), 1e-4)
}

// A second reading d away leaves the mean of the two within the accuracy of 0.1 and
// half of d of the truth. That the gauge scatters so holds for the shaft read once as
// well, so a joint is open by no more than 2·√2·(0.1/√3 + d/4).
func TestASecondReadingInAVerdict(t *testing.T) {
	for _, d := range []float64{0, 0.05, 0.1, 0.2, 0.25} {
		text := slopes("accuracy = \"0.1 deg\"", 4.4, 2, 4.4, "") + "[[reading]]\n" + readOf("powertrain", fmt.Sprintf("%g deg", 4.4+d), "rear", "") + "\n"
		f := findingOf(t, Run(build(t, text)), finding.JointMax("rear", 1))
		assert.InDelta(t, 2.4+d/2, deg(f.Value), 1e-9)
		assert.LessOrEqual(t, deg(f.Uncertainty), 2*math.Sqrt2*(0.1/math.Sqrt(3)+d/4)+1e-4, "%g", d)
	}
}
