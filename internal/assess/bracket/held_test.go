package bracket

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// atRearPad is one case on the rear mount of a build, at its pad's middle.
func atRearPad(t *testing.T, text string, force r3.Vec) legs {
	plan := runLegs(t, text)
	b := plan.bracketNamed("rear")
	require.NotNil(t, b.Members, b.Why)
	return runLegs(t, text, MountLoad{Mount: "rear", At: b.Members.Pad.Point, Cases: []Case{{"bump", force}}})
}

// Every kind of end is cut, judged and told how it is fixed.
func TestHeldEndsAreJudged(t *testing.T) {
	for _, name := range []string{"straight_crossmember_in_ears", "dropped_crossmember_in_ears", "straight_crossmember_in_sockets", "dropped_crossmember_in_sockets"} {
		t.Run(name, func(t *testing.T) {
			text := kind(t, name)
			r := atRearPad(t, text, r3.Vec{X: 300, Y: 200, Z: -3000})
			b := r.bracketNamed("rear")
			require.NoError(t, b.Members.loose)
			for _, id := range []string{finding.BracketBending("rear"), finding.BracketStruts("rear"), finding.BracketWeld("rear"), finding.BracketPin("rear"), finding.PadPlateBending("rear")} {
				f := r.Result.last(id)
				assert.Equal(t, finding.OK, f.Status, "%s: %s %s", id, f.Missing, f.Advice())
			}
			ears := strings.Contains(name, "ears")
			assert.Equal(t, ears || strings.Contains(name, "dropped"), b.ComesOut())
			says := r.Result.last(finding.BracketFits("rear")).Advice()
			assert.Contains(t, says, map[bool]string{true: "weld across a rail's flange", false: map[bool]string{true: "comes out by its two through bolts", false: "sockets"}[ears]}[name == "dropped_crossmember_in_ears"])
			fixed := b.Strength.Fixings
			worst := 0.0
			for _, u := range fixed {
				if u.Counts {
					worst = max(worst, u.Stress.V)
				}
			}
			assert.InEpsilon(t, worst/235, b.Strength.Leg.Of.V, 1e-9, "the worst of what counts is judged")
			require.Len(t, fixed, map[bool]int{true: 2, false: 3}[ears])
			assert.Equal(t, !ears, fixed[0].Counts, "ears do not hold")
			assert.Len(t, b.ThroughBolts(), 2)
			stays := 0
			for _, x := range b.Bodies() {
				if x.Stays {
					stays++
				}
			}
			assert.Equal(t, map[bool]int{true: 4, false: 0}[ears], stays)
			without := strings.Replace(text, `thread = "M12"`, "", 1)
			bare := atRearPad(t, without, r3.Vec{Z: -3000})
			f := bare.Result.last(finding.BracketPin("rear"))
			assert.Equal(t, finding.NotKnown, f.Status)
			assert.Contains(t, f.Missing, "mount.rear.bracket.pin.thread")
		})
	}
}

// A dropped one of which an end slides in its socket sinks ten times as far as one that is
// held at both.
func TestASlidingSocketSinksTenTimes(t *testing.T) {
	r := atRearPad(t, kind(t, "dropped_crossmember_in_sockets"), r3.Vec{Z: -3000})
	fixed := r.bracketNamed("rear").Strength.Fixings
	require.Len(t, fixed, 3)
	assert.Equal(t, "one end slides", fixed[2].Words)
	assert.Greater(t, fixed[2].Sinks.V/fixed[0].Sinks.V, 10.0)
	snug := strings.Replace(kind(t, "dropped_crossmember_in_sockets"), "standing = 45", "fixed = \"held\"\nstanding = 45", 1)
	r = atRearPad(t, snug, r3.Vec{Z: -3000})
	require.Len(t, r.bracketNamed("rear").Strength.Fixings, 2)
	assert.Less(t, r.bracketNamed("rear").Strength.Leg.Of.V, fixed[2].Stress.V/235/2, "as the file has it")
}

// By hand, straight in ears: 3000 N down is 750 on each ear and on each wall of the beam.
// M12 8.8 in the thread: 0.6 · 800 · 84.27 / 1.25 = 32358 N. In the beam's walls of 4 mm,
// 25 mm from its end and hole 13: k1 = 2.5, αb = 25/39, fu 360: 2.5 · 0.641 · 360 · 12 · 4 /
// 1.25 = 22154 N. What is left of the beam at its bolt carries no moment there; an ear is
// 60 - 13 by 8 beside its hole. Bending of an ear at the rail: 750 · 50 on 8 · 60² / 6.
func TestEarsOfACrossmemberByHand(t *testing.T) {
	r := atRearPad(t, kind(t, "straight_crossmember_in_ears"), r3.Vec{Z: -3000})
	b := r.bracketNamed("rear")
	u := b.Strength.Pin
	parts := b.Members.Solved.Parts
	left, right := parts[0].Ends[0].At.Y, parts[0].Ends[1].At.Y
	share := max(-left, right) / (right - left) // the pad is not quite in the middle
	assert.InEpsilon(t, 3000*share/2, u.Across, 2e-3)
	assert.InEpsilon(t, u.Across/22154, u.BoltUsed, 1e-3)
	assert.Contains(t, u.At, "beam, at its bolt before the ")
	bolts, err := b.throughs()
	require.NoError(t, err)
	require.Len(t, bolts, 2)
	require.Len(t, bolts[0].in, 3)
	ear, err := bolts[0].in[1].bolt.Check(750, 0)
	require.NoError(t, err)
	assert.InEpsilon(t, 750/32358., ear.Shear, 1e-3)
	assert.InEpsilon(t, 750/(2.5*25/39*360*12*8/1.25), ear.Bearing, 1e-9)
	assert.InDelta(t, 47*8, bolts[0].in[1].net.area, 1e-9)
	f := b.Members.frames[0]
	res, err := f.Under(r3.Vec{Z: -3000}, b.Members.Pad.Point)
	require.NoError(t, err)
	s, at, err := f.Stress(res, 1)
	require.NoError(t, err)
	assert.InEpsilon(t, 3000*right/(right-left)/2*50/(8*60*60/6.), math.Abs(s.Normal), 2e-3)
	assert.InDelta(t, 0, at, 1e-6)
}

// What is left of a tube of 60 by 40 by 4, its corners rounded by 8 and 4, at a hole of 13
// through both sides, by hand: the holes lie on the axis of bending up and down, and at the
// far sides of the other.
func TestNetSectionByHand(t *testing.T) {
	r := atRearPad(t, kind(t, "straight_crossmember_in_ears"), r3.Vec{Z: -3000})
	p := &r.bracketNamed("rear").Members.Solved.Parts[0]
	n := netOf(p, 13)
	assert.InEpsilon(t, 60*40-(4-math.Pi)*64-(52*32-(4-math.Pi)*16)-2*13*4, n.area, 1e-9)
	assert.InEpsilon(t, p.Cut.Section.Iy, n.about*30+2*4*13*13*13/12., 1e-9)
	assert.InEpsilon(t, p.Cut.Section.Iz, n.across*20+2*4*13*18*18, 1e-9)
	assert.InEpsilon(t, 1000/n.area/235+2000/n.about/235+3000/n.across/235, n.used(-1000, 2000, -3000, 235), 1e-12)
}

// A bolt in a socket carries half of what goes across it on each wall, and what tips its end,
// on the way from the bolt to where the tube is pressed on farthest off: by hand.
func TestSocketBoltsByHand(t *testing.T) {
	r := atRearPad(t, kind(t, "straight_crossmember_in_sockets"), r3.Vec{Z: -3000})
	b := r.bracketNamed("rear")
	bolts, err := b.throughs()
	require.NoError(t, err)
	p := &b.Members.Solved.Parts[0]
	f, err := b.Members.Solved.FrameOn(0)
	require.NoError(t, err)
	res, err := f.Under(r3.Vec{Z: -3000}, b.Members.Pad.Point)
	require.NoError(t, err)
	_, push := f.AtEnd(res, 0, 0)
	m := math.Abs(push.Moment.X)
	assert.InEpsilon(t, math.Abs(push.Force.Z)/2+m/40/2, b.onWall(p, &bolts[0], push), 1e-3, "the mouth is 40 mm from the bolt, the tip 25")
	push.Moment.Y = 1e6
	assert.InEpsilon(t, math.Abs(push.Force.Z)/2+m/40/2, b.onWall(p, &bolts[0], push), 1e-3, "the walls of a box take the twist")
}

// Two ears of a side share a plate that is bolted to the rail: it carries what both do, by
// hand half of 3000 N or so down, on its four bolts, which pull with what that tips the ears,
// and each ear is welded to it. Nothing is welded to the rail.
func TestEarsOnABoltedPlate(t *testing.T) {
	text := kind(t, "straight_crossmember_in_bolted_ears")
	r := atRearPad(t, text, r3.Vec{Z: -3000})
	b := r.bracketNamed("rear")
	for _, id := range []string{finding.BracketFits("rear"), finding.BracketBending("rear"), finding.BracketStruts("rear"), finding.BracketWeld("rear"), finding.BracketPin("rear"),
		finding.BracketBolts("rear"), finding.RailPlateBending("rear")} {
		f := r.Result.last(id)
		assert.Equal(t, finding.OK, f.Status, "%s: %s %s", id, f.Missing, f.Advice())
	}
	require.Len(t, b.Members.Feet, 2, "two ears have one plate")
	parts := b.Members.Solved.Parts
	left, right := parts[0].Ends[0].At, parts[0].Ends[1].At
	share := max(-left.Y, right.Y) / (right.Y - left.Y) * 3000
	u := b.Strength.Bolts
	assert.InEpsilon(t, share/4, u.Shear, 0.01)
	// 50 mm from the rail: each pair of bolts, 80 apart, above and below.
	assert.InEpsilon(t, share*50/80/2, u.Tension, 0.03)
	assert.Contains(t, u.At, "ears, on the ")
	for i := range b.Members.Feet {
		f := &b.Members.Feet[i]
		require.Len(t, f.Also, 1)
		front, rear := parts[f.Part].Ends[0].At, parts[f.Also[0]].Ends[0].At
		assert.InDelta(t, (front.X+rear.X)/2, f.Face.Point.X, 0.1) // the right rail toes in
		assert.InDelta(t, 48, math.Abs(front.X-rear.X), 0.1)
	}
	// Against the same ears welded on: the same bolts through, ears cut shorter by the plate.
	other := atRearPad(t, kind(t, "straight_crossmember_in_ears"), r3.Vec{Z: -3000})
	welded := other.bracketNamed("rear")
	assert.InEpsilon(t, welded.Strength.Pin.Across, b.Strength.Pin.Across, 1e-3)
	assert.InDelta(t, 12, welded.Members.Solved.Parts[1].Cut.Length-parts[1].Cut.Length, 0.05)
	require.Len(t, welded.Members.Feet, 4)
	// The plates and the ears stay when it is taken out.
	stays := 0
	for _, x := range b.Bodies() {
		if x.Stays {
			stays++
		}
	}
	assert.Equal(t, 4+2, stays)
	assert.True(t, b.ComesOut())
	// Each ear's place on its plate is printed: 24 mm either side of the middle of 160.
	front, rear := value(t, r, "bracket.rear.member.left_front_ear.first.from_side"), value(t, r, "bracket.rear.member.left_rear_ear.first.from_side")
	assert.InDelta(t, 160, front+rear, 0.01)
	assert.InDelta(t, 48, math.Abs(front-rear), 0.1)
	for _, c := range []struct{ was, is, want string }{
		{"height = 120\n", "height = 95\n", "its rail plate is smaller than what stands on it: the left front ear"},
		{"thickness = 12\n", "", "mount.rear.bracket.rail_plate.thickness"},
	} {
		require.Contains(t, text, c.was)
		r := atRearPadOf(t, strings.Replace(strings.Replace(text, c.was, c.is, 1), "Flat 60x8", "Flat 100x8", 1))
		f, g := r.Result.last(finding.BracketFits("rear")), r.Result.last(finding.RailPlateBending("rear"))
		assert.Contains(t, f.Advice()+f.Missing+g.Missing, c.want)
		assert.False(t, g.HasValue)
	}
}

// atRearPadOf is a load on the rear mount of a build that may not close.
func atRearPadOf(t *testing.T, text string) legs {
	return runLegs(t, text, rearLoads(r3.Vec{Z: -3000})...)
}

// Twin ears that carry a pad stand on one bolted plate too.
func TestTwinEarsOnABoltedPlate(t *testing.T) {
	text := kind(t, "twin_ears")
	plate := "[mount.left_front.bracket.rail_plate]\nthickness = 12\nwidth = 170\nheight = 120\npitch_across = 130\npitch_high = 80\nhole = 13\n\n[mount.left_front.bracket.bolts]\nthread = \"M12\"\nclass = \"8.8\"\n\n"
	text = strings.Replace(text, "[mount.left_front.bracket.pin]", plate+"[mount.left_front.bracket.pin]", 1)
	plan := runLegs(t, text)
	require.NotNil(t, plan.bracketNamed("left_front").Members, plan.bracketNamed("left_front").Why)
	at := plan.bracketNamed("left_front").Members.Pad.Point
	r := runLegs(t, text, MountLoad{Mount: "left_front", At: at, Cases: []Case{{"bump", r3.Vec{Z: -3000}}}})
	b := r.bracketNamed("left_front")
	require.Len(t, b.Members.Feet, 1)
	for _, id := range []string{finding.BracketBolts("left_front"), finding.RailPlateBending("left_front")} {
		f := r.Result.last(id)
		assert.True(t, f.HasValue, "%s: %s", id, f.Missing)
	}
	assert.InEpsilon(t, 3000/4., b.Strength.Bolts.Shear, 1e-3)
	out := math.Abs(at.Y - b.Members.Feet[0].Face.Point.Y)
	assert.InEpsilon(t, 3000*out/80/2, b.Strength.Bolts.Tension, 1e-2)
	other := r.bracketNamed("right_front")
	require.NotNil(t, other.Members, other.Why)
	require.Len(t, other.Members.Feet, 1)
}
