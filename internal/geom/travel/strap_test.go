package travel

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// armsAt are trailing arms that turn about a line across the vehicle at (900, -250), with
// the axle's centre at (50, 0, -300).
func armsAt(t require.TestingT) *TrailingArms {
	a, err := NewTrailingArms(Axle{Centre: r3.Vec{X: 50, Z: -300}, Pinion: r3.Vec{X: 200, Z: -230}, PinionAxis: r3.Vec{X: 1}},
		ArmPivot{Name: "left", At: r3.Vec{X: 900, Y: -400, Z: -250}}, ArmPivot{Name: "right", At: r3.Vec{X: 900, Y: 400, Z: -250}})
	require.NoError(t, err)
	return a
}

// Where a strap comes taut against the triangle of pivot, strap's end on the frame and
// strap's end on the arm, by the law of cosines: what an axle on arms turns by follows
// from how far the strap is from that triangle at ride height.
func TestWhereAStrapComesTautAgainstTheTriangle(t *testing.T) {
	a := armsAt(t)
	d, err := DescentOf(a, 160)
	require.NoError(t, err)
	require.False(t, d.Binds)
	require.InDelta(t, 160, d.Droop(), 1e-9)
	rapid.Check(t, func(t *rapid.T) {
		pivot := r3.Vec{X: 900, Z: -250}
		s := Strap{Name: "the strap", Axle: r3.Vec{X: rapid.Float64Range(0, 250).Draw(t, "x"), Z: rapid.Float64Range(-330, -260).Draw(t, "z")}}
		s.Chassis = r3.Vec{X: s.Axle.X + rapid.Float64Range(-80, 80).Draw(t, "back"), Z: rapid.Float64Range(-50, 120).Draw(t, "high")}
		ride := s.Span(d.Points[0])
		s.Length = ride + rapid.Float64Range(0, 90).Draw(t, "slack")
		arm, frame := r3.Sub(s.Axle, pivot), r3.Sub(s.Chassis, pivot)
		between := func(long float64) float64 {
			p, q := r3.Norm(arm), r3.Norm(frame)
			return math.Acos((p*p + q*q - long*long) / (2 * p * q))
		}
		turn := between(s.Length) - between(ride) // the arm goes down, away from the frame
		out := r3.Sub(r3.Vec{X: 50, Z: -300}, pivot)
		// Down is a turn anticlockwise as the arm points forward: z of the end falls.
		want := -math.Sin(turn)*math.Abs(out.X) + (1-math.Cos(turn))*-out.Z
		p, taut, err := d.Taut(s)
		require.NoError(t, err)
		if want < -159.9 {
			return
		}
		require.True(t, taut)
		assert.InDelta(t, want, p.Rise, 2e-3)
		assert.InDelta(t, s.Length, s.Span(p), 2e-3)
	})
}

// No strap that is no longer than Longest lets the axle past that place, and one that is
// longer does: by going down in far smaller steps.
func TestTheLongestStrapAgainstASweep(t *testing.T) {
	a := armsAt(t)
	d, err := DescentOf(a, 120)
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		s := Strap{Name: "the strap", Axle: r3.Vec{X: rapid.Float64Range(0, 250).Draw(t, "x"), Z: -290}}
		s.Chassis = r3.Vec{X: rapid.Float64Range(-600, 900).Draw(t, "at"), Z: rapid.Float64Range(-600, 100).Draw(t, "high")}
		limit := rapid.Float64Range(-119, -2).Draw(t, "limit")
		end, k := d.First(func(p Point) float64 { return p.Rise - limit })
		require.InDelta(t, limit, end.Rise, 1.1e-3)
		most := 0.0
		for rise := 0.0; rise >= end.Rise; rise -= 0.37 {
			p, err := a.At(rise)
			require.NoError(t, err)
			most = max(most, s.Span(p))
		}
		s.Length = d.Longest(s, end, k)
		assert.GreaterOrEqual(t, s.Length, most-1e-2)
		if s.Length < s.Span(d.Points[0])+1e-6 {
			return // its ends only come together
		}
		p, taut, err := d.Taut(s)
		require.NoError(t, err)
		if taut {
			assert.GreaterOrEqual(t, p.Rise, end.Rise-1.5)
		}
	})
}

func TestAStrapThatCannotBe(t *testing.T) {
	d, err := DescentOf(armsAt(t), 100)
	require.NoError(t, err)
	s := Strap{Name: "the left strap", Axle: r3.Vec{X: 50, Z: -300}, Chassis: r3.Vec{X: 50, Z: 0}, Length: 290}
	_, _, err = d.Taut(s)
	assert.EqualError(t, err, "the left strap is 290.0 mm long and its ends are 300.0 mm apart at ride height")
	s.Length = 300
	p, taut, err := d.Taut(s)
	require.NoError(t, err)
	assert.True(t, taut)
	assert.InDelta(t, 0, p.Rise, 2e-3, "taut at ride height")
	s.Length = 500
	_, taut, err = d.Taut(s)
	require.NoError(t, err)
	assert.False(t, taut, "nothing holds it")
	for _, droop := range []float64{-1, math.NaN(), math.Inf(1)} {
		_, err = DescentOf(armsAt(t), droop)
		require.Error(t, err)
	}
	_, err = DescentOf(nil, 100)
	require.Error(t, err)
	bound, err := DescentOf(armsAt(t), 1200)
	require.NoError(t, err)
	assert.True(t, bound.Binds)
	assert.Less(t, bound.Droop(), 1200.0)
	assert.True(t, geom.Finite(bound.Droop()))
}
