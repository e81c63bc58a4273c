package travel

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/geom"
	"fitup/internal/geom/seat"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// hungText is a half shaft to the left front wheel that hangs on a transaxle.
const hungText = `
[powertrain]
layout = "transaxle"
[line.front]
toward = "front"
[line.front.suspension]
kind = "fixed"
bump = 70
droop = 80
[[line.front.suspension.half_shaft]]
name = "left"
output = [0, -120, 0]
outer = [0, -640, 0]
pivot_a = [-150, -250, -30]
pivot_b = [150, -250, -30]
ball = [0, -660, -60]
lock = "0 deg"
plunge_closed = 505
plunge_open = 545
`

// hung moves it with the powertrain at those stands; as built it is level.
func hung(t *testing.T, text string, stands ...seat.Stand) (Result, HalfShaft) {
	t.Helper()
	b, l := lineOf(t, text)
	require.True(t, b.Hung(l))
	where := Stands{Built: finding.Maybe[geom.Pose]{V: geom.Identity(), Known: true}, Assumes: []string{"not rocked"}}
	where.All = append([]seat.Stand{{Pose: geom.Identity()}}, stands...)
	p := Prepare(b, l, finding.Maybe[End]{}, finding.Estimate{}, nil)
	at := p.At(Place{PlanWhy: "no joint"})
	require.Empty(t, at.Findings, "they are left to Hung")
	r := p.Hung(*at.Travel, where)
	if len(r.Travel.HalfShafts) == 0 {
		return r, HalfShaft{}
	}
	return r, r.Travel.HalfShafts[0]
}

func moveBy(name string, d r3.Vec, soft bool) seat.Stand {
	p := geom.Identity()
	p.At = d
	return seat.Stand{Name: name, Pose: p, Soft: soft}
}

// The inner joint goes with the powertrain. By hand: 20 mm outboard shortens the
// shaft of 520 mm to 500 at ride height; the plunge still counts from 520, to the
// ends at 505 and 545.
func TestHungShaftGoesWithThePowertrain(t *testing.T) {
	r, s := hung(t, hungText)
	assert.InDelta(t, 520, s.Ride, 1e-9)
	in := findingOf(t, r, "line.front.half_shaft.left.plunge_in")
	assert.InDelta(t, 15, in.Limit, 1e-9)
	assert.InDelta(t, 25, findingOf(t, r, "line.front.half_shaft.left.plunge_out").Limit, 1e-9)
	assert.Contains(t, in.Assumes, "not rocked")
	built := s.PlungeIn.Value

	r, s = hung(t, hungText, moveBy("rocked", r3.Vec{Y: -20}, false))
	in = findingOf(t, r, "line.front.half_shaft.left.plunge_in")
	assert.Equal(t, finding.Over, in.Status)
	assert.Greater(t, s.PlungeIn.Value, built+19)
	assert.Equal(t, "rocked", s.PlungeIn.Under)
	assert.Contains(t, in.Advice(), "rocked")
	assert.InDelta(t, 520, s.Ride, 1e-9, "the length as built")
	require.Len(t, s.Stands, 2)
	assert.Equal(t, r3.Vec{Y: -1}, s.Stands[1].Axis, "the output of a left shaft points to the left")
	assert.InDelta(t, -140, s.Stands[1].Inner.Y, 1e-9)
}

// What only estimated rates make of it is no value, but its uncertainty: within
// the limit by the one and past it by the other is tight.
func TestSoftStandsAreUncertainty(t *testing.T) {
	_, built := hung(t, hungText)
	text := strings.Replace(hungText, "505", "495", 1) // room for 25 mm
	r, s := hung(t, text, moveBy("sagged", r3.Vec{Y: -20}, true))
	assert.InDelta(t, built.PlungeIn.Value, s.PlungeIn.Value, 1e-9)
	f := findingOf(t, r, "line.front.half_shaft.left.plunge_in")
	assert.Equal(t, finding.Tight, f.Status)
	assert.InDelta(t, 20*2/math.Sqrt(3), f.Uncertainty, 0.5, "a bound, rectangular")
	assert.Contains(t, f.Advice(), "estimates")
}

// What cannot be moved is not known, and says what to give.
func TestHungShaftLacksSomething(t *testing.T) {
	r, s := hung(t, strings.Replace(hungText, "output = [0, -120, 0]", "inner = [10, -120, 5]", 1))
	assert.Contains(t, s.Why, "write output = [10.00, -120.00, 5.00]")
	assert.Contains(t, findingOf(t, r, "line.front.half_shaft.left.inner").Missing, "output is not in the file yet")
	_, s = hung(t, without(hungText, "output"))
	assert.Contains(t, s.Why, "powertrain's own frame")
	r, _ = hung(t, without(hungText, "lock"))
	assert.Contains(t, findingOf(t, r, "line.front.half_shaft.left.outer").Missing, "lock is not in the file yet")
	r, _ = hung(t, strings.Replace(hungText, "plunge_closed = 505", "plunge_in = 30", 1))
	f := findingOf(t, r, "line.front.half_shaft.left.plunge_in")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Contains(t, f.Missing, "counts from ride height, which is another length once the powertrain moves")

	b, l := lineOf(t, hungText)
	r = Prepare(b, l, finding.Maybe[End]{}, finding.Estimate{}, nil).Hung(Travel{}, Stands{Built: finding.Maybe[geom.Pose]{Why: "no place yet"}})
	assert.Equal(t, "no place yet", r.Travel.HalfShafts[0].Why)
	for _, f := range r.Findings {
		assert.Equal(t, finding.NotKnown, f.Status, f.ID)
	}
	r, _ = hung(t, strings.Split(hungText, "[[")[0])
	require.Len(t, r.Findings, 1)
	assert.Equal(t, "line.front.half_shafts", r.Findings[0].ID)
	assert.Equal(t, finding.NotKnown, r.Findings[0].Status)
}

// A wheel that steers bends the outer joint by its lock at least, and a joint
// beyond its angle is beyond it although the lock is not known.
func TestSteeringBendsTheOuterJoint(t *testing.T) {
	_, straight := hung(t, hungText)
	_, steered := hung(t, strings.Replace(hungText, `lock = "0 deg"`, `lock = "30 deg"`, 1))
	assert.Less(t, deg(straight.Outer.Value), 15.0)
	assert.GreaterOrEqual(t, deg(steered.Outer.Value), 30.0)
	r, _ := hung(t, strings.Replace(hungText, `lock = "0 deg"`, `outer_max = "1 deg"`, 1))
	assert.Equal(t, finding.Over, findingOf(t, r, "line.front.half_shaft.left.outer").Status)
}
