package mount

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A reverse of 0 is none, and low range multiplies reverse as it does first.
func TestReverseInLowRange(t *testing.T) {
	a := levelBuild(t, strings.Replace(weight, "reverse = 3.5", "reverse = 0", 1), rubbers)
	assert.Equal(t, "powertrain.reverse is not in the file yet", a.Statics.ReverseWhy)

	text := lowRange(`reduction_in = "gearbox"`)
	torques := func(a *judged) map[string]float64 {
		out := map[string]float64{}
		for _, c := range a.Statics.Cases {
			out[c.ID] = c.Load.Torque.X
		}
		return out
	}
	got := torques(levelBuild(t, text))
	assert.InDelta(t, 400*2.9*2.72, got["reverse_low"]/poundFeet, 0.2)
	assert.InDelta(t, 400*2.9, got["reverse"]/poundFeet, 0.1)
	assert.InDelta(t, -400*3.16*2.72, got["gear_1_low"]/poundFeet, 0.2)
	_, ok := torques(levelBuild(t, weight, rubbers))["reverse_low"]
	assert.False(t, ok, "no low range, no case of it")

	// The ratio up to which a mount holds is that of the gear, in low range.
	weak := strings.NewReplacer(`"400 lb ft"`, `"35 N m"`, `"captive"`, `"bonded only"`).Replace(text) + noRebound
	f := findingOf(t, levelBuild(t, strings.Replace(weak, "reverse = 2.9\n", "", 1)), "mount.right_front.lifts")
	require.Equal(t, finding.NotKnown, f.Status, f.Advice())
	_, upTo, ok := strings.Cut(f.Missing, "it holds up to a ratio of ")
	require.True(t, ok, f.Missing)
	at := func(ratio string) finding.Status {
		return findingOf(t, levelBuild(t, strings.Replace(weak, "reverse = 2.9", "reverse = "+ratio, 1)), "mount.right_front.lifts").Status
	}
	assert.Equal(t, finding.OK, at(upTo))
	assert.Equal(t, finding.Over, at(upTo+"9"))
}

// Where a reverse as low as first gear throws the powertrain off its mounts, that
// is past the limit, and neither its figure nor that of the other cases stands
// there for it.
func TestReverseThatThrowsItOffHasNoFigure(t *testing.T) {
	res := &Result{pull: &pull{first: 4}}
	res.Statics.ReverseWhy = "powertrain.reverse is not in the file yet"
	f := finding.Finding{Value: 0.01, HasValue: true, Uncertainty: 0.001, Limit: 0.05, HasLimit: true, Margin: 0.04, Says: finding.Say("Forward is well.")}
	res.WithoutReverse(&f, func(ratio float64, _ bool) (finding.Number, bool) {
		assert.InDelta(t, 4, ratio, 0, "first gear's")
		return finding.Missing(staysNotUp), true
	})
	assert.Equal(t, finding.Over, f.Status)
	assert.False(t, f.HasValue)
	assert.Zero(t, f.Value)
	assert.Zero(t, f.Uncertainty)
	assert.Zero(t, f.Margin)
	assert.Equal(t, "Reverse is not in the file; with a ratio as low as that of first gear the powertrain does not stay up on its mounts: put powertrain.reverse in the file. Forward is well.", f.Advice())
}

// A transaxle that also drives the other axle is not followed; lines to its own
// axle are its half shafts.
func TestSlipOfATransaxleWithLines(t *testing.T) {
	cross := strings.Replace(weight, "mass", "layout = \"transaxle\"\nfinal = 4\nmass", 1)
	front := strings.Replace(laden, "[vehicle]", "[vehicle]\nfront_axle = 0\nwheelbase = 2600", 1)
	rear := strings.Replace(front, "front_axle = 0", "front_axle = -2200", 1)
	for _, c := range []struct {
		at, lines string
		load      float64
	}{
		{front, "[line.front]\ntoward = \"front\"\n", 1000},
		{front, "[line.front]\ntoward = \"front\"\n[line.rear]\ntoward = \"rear\"\n", 0},
		{front, "[line.rear]\nratio = 4\n", 0},
		{rear, "[line.rear]\ntoward = \"rear\"\n", 1500},
		{rear, "[line.rear]\nratio = 1\n", 1500},
		{rear, "[line.front]\ntoward = \"front\"\n", 0},
	} {
		s := levelBuild(t, cross, rubbers, c.at, c.lines).Statics.Slip
		if c.load == 0 {
			assert.Equal(t, "a transaxle that drives the other axle too is not followed", s.Why, c.lines)
			continue
		}
		require.True(t, s.Known, s.Why)
		assert.InDelta(t, 0.8*c.load*geom.Gravity*400, s.V, 1e-6, c.lines)
	}
}
