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

// Twin ears by hand: each carries half of 3000 N down, 70 mm from the rail: bending and
// shear at its foot, half of the load in each shear plane of an M12 8.8 (EN 1993-1-8,
// table 3.4: 0.6 · 800 · 84.3 / 1.25), and on the metal beside a hole of 13 mm.
func TestTwinEarsByHand(t *testing.T) {
	r := runLegs(t, kind(t, "twin_ears"), loadsOf(0, r3.Vec{Z: -3000})...)
	b := r.bracketNamed("left_front")
	require.NotNil(t, b.Members, b.Why)
	for i := range b.Members.Solved.Parts {
		assert.InDelta(t, 70+35, b.Members.Solved.Parts[i].Cut.Length, 1e-9)
	}
	w, shear := 10*80.0*80/6, 10*80/1.5 // the largest shear of a flat bar is one and a half of its mean
	want := math.Hypot(1500*70/w, math.Sqrt(3)*1500/shear) / 235
	assert.InEpsilon(t, want, b.Strength.Leg.Of.V, 1e-6)
	u := b.Strength.Pin
	assert.InEpsilon(t, 1500, u.Across, 1e-6)
	assert.InDelta(t, 0, u.Along, 1e-6)
	assert.InEpsilon(t, 1500/(67*10.0)/235, u.NetUsed, 1e-6)
	assert.InEpsilon(t, 1500/(0.6*800*84.27/1.25), u.BoltUsed, 0.01)
	assert.InEpsilon(t, max(u.NetUsed, u.BoltUsed), u.Of.V, 1e-9)
	right := r.bracketNamed("right_front")
	require.NotNil(t, right.Members, right.Why)
	assert.InEpsilon(t, u.Of.V, right.Strength.Pin.Of.V, 0.001, "the other side is its mirror image, on a rail that toes in a little")
	for _, id := range []string{finding.BracketFits("left_front"), finding.BracketBending("left_front"), finding.BracketWeld("left_front"), finding.BracketPin("left_front")} {
		assert.Equal(t, finding.OK, r.Result.last(id).Status, id)
	}
}

// A force along the bolt bends both ears sideways, each held by the bolt at its end: as
// beams fixed at both ends, F/2 · L/2 at the foot.
func TestTwinEarsSideways(t *testing.T) {
	r := runLegs(t, kind(t, "twin_ears"), loadsOf(0, r3.Vec{X: 1000})...)
	b := r.bracketNamed("left_front")
	side := 500 * 70 / 2 / (80 * 10 * 10 / 6.0) // less what the two carry as a pair, pushed and pulled
	assert.InEpsilon(t, side/235, b.Strength.Leg.Of.V, 0.1)
	assert.Less(t, b.Strength.Leg.Of.V, 500*70/(80*10*10/6.0)/235)
}

// A missing answer of twin ears is named, and their bolt is not known without it; ears
// that cannot be are over.
func TestTwinEarsThatAreNotWhole(t *testing.T) {
	for _, c := range []struct{ was, is, want string }{
		{"gap = 60 ", "# gap", "bracket.gap"},
		{"past = 35 ", "# past", "bracket.past"},
		{"section = \"Flat 80x10\"\ngap", "section = \"SHS 60x60x4 cold\"\ngap", "is no ear; take a flat bar"},
	} {
		r := runLegs(t, strings.Replace(kind(t, "twin_ears"), c.was, c.is, 1), loadsOf(0, r3.Vec{Z: -3000})...)
		b := r.bracketNamed("left_front")
		assert.Nil(t, b.Members, c.want)
		assert.Contains(t, b.Why, c.want)
	}
	for _, key := range []string{"thread", "class", "hole"} {
		text := strings.Replace(kind(t, "twin_ears"), "\n"+key+" = ", "\n# "+key+" = ", 1)
		r := runLegs(t, text, loadsOf(0, r3.Vec{Z: -3000})...)
		f := r.Result.last(finding.BracketPin("left_front"))
		assert.Equal(t, finding.NotKnown, f.Status)
		assert.Contains(t, f.Missing, "bracket.pin."+key)
	}
	for _, spoil := range [][2]string{{"past = 35 ", "past = 8 "}, {"section = \"Flat 80x10\"\ngap", "section = \"Flat 30x5\"\ngap"}} {
		r := runLegs(t, strings.Replace(kind(t, "twin_ears"), spoil[0], spoil[1], 1), loadsOf(0, r3.Vec{Z: -10})...)
		f := r.Result.last(finding.BracketFits("left_front"))
		assert.Equal(t, finding.Over, f.Status, "the bolt tears out of the ears")
		assert.Contains(t, f.Advice(), "at least 15.6 mm is wanted")
	}
}

// The bolt goes through both ears of 10 mm and the 60 mm between them, along the vehicle.
func TestTheThroughBoltIsAsLongAsWhatItPasses(t *testing.T) {
	r := runLegs(t, kind(t, "twin_ears"))
	b := r.bracketNamed("left_front")
	all := b.ThroughBolts()
	require.Len(t, all, 1)
	assert.InDelta(t, 60+2*10, r3.Norm(r3.Sub(all[0].To, all[0].From)), 1e-9)
	assert.InDelta(t, 12, all[0].Diameter, 1e-9)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(b.Members.Pad.Point, r3.Scale(0.5, r3.Add(all[0].From, all[0].To)))), 1e-9)
	bare := runLegs(t, strings.Replace(kind(t, "twin_ears"), `thread = "M12"`, "", 1))
	assert.Empty(t, bare.bracketNamed("left_front").ThroughBolts())
}
