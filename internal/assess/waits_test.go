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

// Whatever a piece of the steering, a tower or a rod is called, and whatever the pick-ups
// are, the steps that look at them wait for the room to them.
func TestAStepWaitsForTheRoomWhateverItIsCalled(t *testing.T) {
	t.Parallel()
	const text = `format = 3
[[powertrain.part]]
name = "block"
from = [-300, -200, -300]
to = [600, 200, 600]
[pickup.middle]
[pickup.middle.left.tower]
diameter = 80
[[pickup.middle.left.rod]]
name = "strut rod"
[[chassis]]
name = "lower shaft"
of = "steering"
[[chassis]]
name = "Tie-rod, left"
[[chassis]]
name = "roof bracket"
[[chassis]]
name = "steering wheel lock bracket"
of = "other"
[subframe.front]
[[subframe.front.part]]
name = "main"
[[job]]
id = "column"
title = "the shaft"
from = "column"
[[job]]
id = "towers"
title = "the towers"
from = "towers"
[[job]]
id = "rods"
title = "the rods"
from = "suspension-room"
[[job]]
id = "subframe"
title = "the subframe"
from = "subframe-square"
`
	a := pickedUp(t, text)
	holds := map[string]string{}
	for _, j := range a.Jobs {
		for _, h := range j.Holds {
			if strings.HasPrefix(h.ID, "clearance.") {
				holds[h.ID] += j.ID
			}
		}
	}
	assert.Equal(t, map[string]string{"clearance.lower_shaft": "column", "clearance.tie_rod__left": "column", "clearance.middle_left_tower": "towers",
		"clearance.middle_right_tower": "towers", "clearance.middle_left_strut_rod": "rods", "clearance.main": "subframe", "clearance.main.steering": "subframe", "clearance.main.suspension": "subframe"}, holds)
}
