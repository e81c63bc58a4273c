package assess

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A ± that a number does not take along is said where the number stands; one
// that it takes along is not.
func TestATypedPlusMinusIsNeverPassedOverInSilence(t *testing.T) {
	demo := string(starter.Demo())
	const was = `slope = "4.8 deg down to the rear"`
	require.Contains(t, demo, was)
	plain := Run(build(t, demo))
	stated := Run(build(t, strings.Replace(demo, was, `slope = "4.8 deg ± 0.2 down to the rear"`, 1)))
	const says = "the ± typed of line.rear.pinion.slope is not in this number's own"
	said := map[finding.Trade]int{}
	for _, f := range stated.Findings {
		if strings.Contains(strings.Join(f.Assumes, "; "), says) {
			said[f.By]++
			assert.True(t, f.HasValue, f.ID)
			assert.NotEqual(t, finding.LineTrade, f.By, f.ID)
		}
	}
	assert.Positive(t, said[finding.TravelTrade])
	for _, f := range plain.Findings {
		assert.NotContains(t, strings.Join(f.Assumes, "; "), "is not in this number's own", f.ID)
	}
}
