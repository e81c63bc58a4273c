package assess

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A ± of a rate, of how far rubber stiffens and of a moment of inertia reaches the
// frequencies and what is judged: by as much as working it out at its ends says.
func TestStatedReachesShaking(t *testing.T) {
	engine := strings.Replace(example.Heavy, "mass", "cylinders = 4\nidle = \"650 rpm\"\nmass", 1)
	inertia := "[powertrain.inertia]\nroll = ROLL\npitch = 41\nyaw = 38\n"
	at := func(rate, dynamic, roll string) *Assessment {
		mounts := strings.ReplaceAll(example.Rubbers, "holds", "dynamic = 1.5\nholds")
		mounts = strings.Replace(mounts, "rate_up = 250\n", "rate_up = "+rate+"\n", 1)
		mounts = strings.Replace(mounts, "dynamic = 1.5", "dynamic = "+dynamic, 1)
		f, err := project.Parse("test.toml", []byte(example.Level+engine+strings.Replace(inertia, "ROLL", roll, 1)+mounts))
		require.NoError(t, err)
		return Run(f.Build)
	}
	plain := at("250", "1.5", "11")
	require.Len(t, plain.Shaking.Modes, 6)
	for i, c := range []struct{ open, low, high *Assessment }{
		{at(`"250 N/mm ± 40"`, "1.5", "11"), at("210", "1.5", "11"), at("290", "1.5", "11")},
		{at("250", `"1.5 ± 0.2"`, "11"), at("250", "1.3", "11"), at("250", "1.7", "11")},
		{at("250", "1.5", `"11 kg m2 ± 2"`), at("250", "1.5", "9"), at("250", "1.5", "13")},
	} {
		widest := 0.0
		for k, m := range c.open.Shaking.Modes {
			v := plain.Shaking.Modes[k].Frequency.V
			off := max(math.Abs(c.low.Shaking.Modes[k].Frequency.V-v), math.Abs(c.high.Shaking.Modes[k].Frequency.V-v))
			assert.InDelta(t, off*2/math.Sqrt(3), m.Frequency.Expanded(), 1e-9, "%d: mode %d", i, k)
			widest = max(widest, m.Frequency.Expanded())
		}
		assert.Greater(t, widest, 0.3)
		f, ok := c.open.Finding(finding.MountsShakeIdle)
		require.True(t, ok)
		low, _ := c.low.Finding(finding.MountsShakeIdle)
		high, _ := c.high.Finding(finding.MountsShakeIdle)
		off := max(math.Abs(low.Value-f.Value), math.Abs(high.Value-f.Value))
		assert.InDelta(t, off*2/math.Sqrt(3), f.Uncertainty, 1e-9)
		assert.InDelta(t, f.Uncertainty, c.open.Shaking.Idle.Worst.Expanded(), 1e-9)
	}
}
