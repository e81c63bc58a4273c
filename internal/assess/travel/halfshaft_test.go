package travel

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

var halfShaftFindings = []string{
	"line.rear.half_shaft.left.inner", "line.rear.half_shaft.left.outer",
	"line.rear.half_shaft.left.plunge_in", "line.rear.half_shaft.left.plunge_out",
	"line.rear.half_shaft.right__long.inner", "line.rear.half_shaft.right__long.outer",
	"line.rear.half_shaft.right__long.plunge_in", "line.rear.half_shaft.right__long.plunge_out",
}

// Usual limits hold where the file gives none, the maker's where it does.
func TestHalfShafts(t *testing.T) {
	a, tr := moved(t, fixedText)
	assert.Equal(t, halfShaftFindings, ids(a))
	assert.Equal(t, "fixed", tr.Kind)
	assert.Empty(t, tr.Points, "the line itself does not move")
	assert.Contains(t, tr.Why, "fixed")
	require.Len(t, tr.HalfShafts, 2)

	inner := findingOf(t, a, "line.rear.half_shaft.left.inner")
	assert.Equal(t, finding.OK, inner.Status)
	assert.InDelta(t, 23, deg(inner.Limit), 1e-9)
	assert.Equal(t, "common practice, not a standard", inner.Source)
	assert.InDelta(t, 47, deg(findingOf(t, a, "line.rear.half_shaft.left.outer").Limit), 1e-9)

	outer := findingOf(t, a, "line.rear.half_shaft.right__long.outer")
	assert.Equal(t, finding.Over, outer.Status)
	assert.InDelta(t, 4, deg(outer.Limit), 1e-9)
	assert.Contains(t, outer.Source, "in this build's file")
	assert.Contains(t, outer.Advice(), tr.HalfShafts[1].Outer.Where(quantity.Metric()))
}

// The left shaft in the plane across the vehicle: the arm turns about a line
// along the vehicle at (-250, -110), its ball joint at (-660, -140), and the
// outer joint goes with the ball without turning.
func TestHalfShaftByHand(t *testing.T) {
	_, tr := moved(t, fixedText)
	ry, rz := -660+250.0, -140+110.0
	for _, p := range tr.HalfShafts[0].Points {
		z := rz + p.Rise
		y := -math.Sqrt(ry*ry + rz*rz - z*z)
		out := r3.Vec{X: 3010, Y: -640 + y - ry, Z: -80 + p.Rise}
		d := r3.Sub(out, r3.Vec{X: 3000, Y: -120, Z: -60})
		assert.InDelta(t, r3.Norm(d), p.Length, 1e-9)
		angle := math.Acos(-d.Y / r3.Norm(d))
		assert.InDelta(t, angle, p.InnerAngle.Rad(), 1e-9)
		assert.InDelta(t, angle, p.OuterAngle.Rad(), 1e-9)
	}
	first, last := tr.HalfShafts[0].Points[0], tr.HalfShafts[0].Points[travelSteps-1]
	assert.Equal(t, []float64{-80, 70}, []float64{first.Rise, last.Rise})
	assert.InDelta(t, first.InnerAngle.Rad(), tr.HalfShafts[0].Inner.Value, 1e-12, "this shaft hangs, so droop is worst")
	assert.Equal(t, -80.0, tr.HalfShafts[0].Inner.Rise)
}

func TestHalfShaftLacksSomething(t *testing.T) {
	for _, key := range []string{"bump", "droop", "inner", "outer", "pivot_a", "pivot_b"} {
		a, _ := moved(t, without(fixedText, key))
		require.Equal(t, halfShaftFindings, ids(a), key)
		for _, f := range a.Findings {
			assert.Equal(t, finding.NotKnown, f.Status, f.ID)
			assert.Contains(t, f.Missing, key+" is not in the file yet")
		}
	}
	a, _ := moved(t, without(fixedText, "plunge_in"))
	f := findingOf(t, a, "line.rear.half_shaft.left.plunge_in")
	assert.Equal(t, finding.NotKnown, f.Status)
	assert.Equal(t, "line.rear.suspension.half_shaft.1.plunge_in is not in the file yet", f.Missing)
	assert.Equal(t, finding.OK, findingOf(t, a, "line.rear.half_shaft.left.plunge_out").Status)

	a, tr := moved(t, strings.Split(fixedText, "[[")[0])
	assert.Empty(t, a.Findings)
	assert.Contains(t, tr.Why, "no half shaft")
}

// An arm that cannot swing so far says so.
func TestHalfShaftBinds(t *testing.T) {
	a, tr := moved(t, strings.Replace(fixedText, "bump = 70", "bump = 700", 1))
	assert.Contains(t, tr.HalfShafts[0].Why, "binds")
	for _, f := range a.Findings {
		assert.NotEqual(t, finding.OK, f.Status, f.ID)
	}
}
