package assess

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project/joblist"

	"github.com/stretchr/testify/assert"
)

// Whatever can be wrong with frame, rails, subframe, steering and pick-ups keeps some
// step of the built-in list from being ticked.
func TestAStepWaitsForEveryFindingOfTheFrame(t *testing.T) {
	t.Parallel()
	var holds []string
	for _, s := range joblist.For(joblist.Facts{joblist.FrontDrive: false, joblist.UnitBody: false, joblist.Transaxle: false}) {
		for _, h := range s.Hold {
			h, _ = strings.CutSuffix(h, "?")
			h, _ = strings.CutSuffix(h, "@proved")
			holds = append(holds, h)
		}
	}
	of := map[finding.Trade]int{}
	for _, r := range finding.Table() {
		switch r.Trade {
		case finding.FrameTrade, finding.RailTrade, finding.SteerTrade, finding.PickupTrade, finding.SubframeTrade:
		default:
			continue
		}
		of[r.Trade]++
		waits := false
		for _, h := range holds {
			waits = waits || finding.Matches(h, strings.ReplaceAll(r.Shape, "*", "x"))
		}
		assert.True(t, waits, "no step waits for %s: %s", r.Shape, r.Judges)
	}
	assert.Len(t, of, 5)
}
