package bracket

import (
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project/example"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rowsBy are the words of the rows of a bracket, by the name of each behind its mount.
func rowsBy(rows []Row, id string) (label map[string]string, v map[string]float64) {
	label, v = map[string]string{}, map[string]float64{}
	for _, r := range rows {
		key := strings.TrimPrefix(r.Name, id)
		label[key], v[key] = r.Label, r.V
	}
	return label, v
}

// Where a slanting leg lands on its plates, by hand. Its pad's middle is at 300, -200, -75
// and looks to the left; its foot is at 348, -380, 0 on the rail's face, which looks to the
// right. From pad to foot it goes 48 to the rear, 180 to the left and 75 up.
//
// At the pad its plate is 8 thick: it is cut 8 of the 180 along, 48·8/180 = 2.13 to the rear
// of the pad's middle and 75·8/180 = 3.33 above it. The plate is 90 by 100: that is
// 45 + 2.13 from its front edge and 50 + 3.33 from its lower one.
//
// At the rail there are 6 of plate and 1 of gap: it ends 7 of the 180 short of the foot,
// 48·7/180 = 1.87 ahead of that and 75·7/180 = 2.92 below. The plate is 110 by 120 about
// the foot: 55 + 1.87 from its rear edge and 60 − 2.92 from its lower one.
func TestWhereALegLandsOnItsPlatesByHand(t *testing.T) {
	r := runLegs(t, example.Legs("", `foot = [348, -380, 0]
pad_plate = { thickness = 8, width = 90, height = 100, across = 1, high = 1 }
rail_plate = { thickness = 6, gap = 1, width = 110, height = 120 }`, ""))
	b := leg(t, r, "left_front")
	label, v := rowsBy(b.SawRows(), "bracket.left_front.")
	assert.InDelta(t, 45+48*8/180.0, v["pad.from_side"], 1e-9)
	assert.Equal(t, "pad, plate's front edge", label["pad.from_side"])
	assert.InDelta(t, 50+75*8/180.0, v["pad.from_edge"], 1e-9)
	assert.Equal(t, "pad, plate's bottom edge", label["pad.from_edge"])
	assert.InDelta(t, 55+48*7/180.0, v["rail.from_side"], 1e-9)
	assert.Equal(t, "rail, plate's rear edge", label["rail.from_side"])
	assert.InDelta(t, 60-75*7/180.0, v["rail.from_edge"], 1e-9)
	assert.Equal(t, "rail, plate's bottom edge", label["rail.from_edge"])
}

// The same of a leg of the ready kind, under a level pad. The powertrain's pad is at height
// 70 and the isolator stands 40 high: the pad's middle is at 260, -220, 30, and the foot 75
// below the rail's edge at 260, -380, -75. From pad to foot it goes 160 to the left and 105
// down.
//
// Under the pad there are 10 of plate: it begins 10 of the 105 down, 160·10/105 = 15.24 to
// the left of the pad's middle, on a plate 150 across and 100 fore and aft: 75 − 15.24 from
// the left edge, 50 from the rear one. The rail's plate is 12: it ends 12 of the 160 short,
// 105·12/160 = 7.88 above the foot, and the plate's middle is put there, at −67.13.
func TestWhereAMemberLandsOnItsPlatesByHand(t *testing.T) {
	text := kind(t, "inclined_leg")
	r := runLegs(t, text)
	b := r.bracketNamed("left_front")
	require.NotNil(t, b.Members, b.Why)
	pad := b.Members.Pad.Point
	require.InDelta(t, 220, -pad.Y, 1e-9)
	require.InDelta(t, 380-160, -pad.Y, 1e-9)
	down := pad.Z + 75 // from the pad to the foot
	label, v := rowsBy(b.MemberCuts()[0].Rows, "bracket.left_front.member.leg.")
	assert.InDelta(t, 160*10/down, v["first.lands_across"], 1e-6)
	assert.InDelta(t, 0, v["first.lands_along"], 1e-6)
	assert.InDelta(t, 75-160*10/down, v["first.from_side"], 1e-6)
	assert.Contains(t, label["first.from_side"], "plate's left edge")
	assert.InDelta(t, 50, v["first.from_edge"], 1e-6)
	assert.InDelta(t, 260, v["second.station"], 1e-6)
	assert.InDelta(t, -75+down*12/160, v["second.height"], 1e-6)
	assert.Equal(t, finding.OK, r.Result.last(finding.BracketFits("left_front")).Status)
}
