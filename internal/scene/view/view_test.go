package view

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func near(t require.TestingT, want, got float64) { require.InDelta(t, want, got, 1e-9) }

// Station is to the right in the side view and the plan, height is up where one
// does not look from above, and left is the driver's in the front view.
func TestViewsOfAPoint(t *testing.T) {
	p := r3.Vec{X: 1, Y: 2, Z: 3}
	for v, want := range map[View]r2.Vec{FromLeft: {X: 1, Y: 3}, FromAbove: {X: 1, Y: 2}, FromBehind: {X: 2, Y: 3}} {
		got := v.Sight().At(p)
		near(t, want.X, got.X)
		near(t, want.Y, got.Y)
	}
	// What is nearer to the eye: the left side, the top, the rear.
	for v, d := range map[View]r3.Vec{FromLeft: {Y: -1}, FromAbove: {Z: 1}, FromBehind: {X: 1}} {
		near(t, 1, v.Sight().See(d).Z)
	}
	// Isometric (ISO 5456-3): turned by 45° and tilted by 35.26° all three axes
	// are shortened alike, to √(2/3).
	iso := View{Turn: math.Pi / 4, Tilt: geom.Angle(math.Atan(1 / math.Sqrt2))}.Sight()
	for _, axis := range []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		near(t, math.Sqrt(2.0/3), r2.Norm(iso.At(axis)))
	}
}

// Projection is true to scale: lengths in space stay, and what lies in the plane
// of the drawing has there its length and its angle.
func TestProjectionIsTrueToScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-math.Pi, math.Pi)
		num := rapid.Float64Range(-5000, 5000)
		v := View{Turn: geom.Angle(angle.Draw(t, "turn")), Tilt: geom.Angle(angle.Draw(t, "tilt") / 2)}
		s := v.Sight()
		right, up, toward := v.Axes()
		near(t, 1, r3.Dot(r3.Cross(right, up), toward))
		d := r3.Vec{X: num.Draw(t, "x"), Y: num.Draw(t, "y"), Z: num.Draw(t, "z")}
		require.InDelta(t, r3.Norm(d), r3.Norm(s.See(d)), 1e-6)
		require.LessOrEqual(t, r2.Norm(s.At(d)), r3.Norm(d)+1e-6, "nothing is drawn longer than it is")

		a, b, turn := num.Draw(t, "a"), num.Draw(t, "b"), angle.Draw(t, "angle")
		in := func(x, y float64) r3.Vec { return r3.Add(r3.Scale(x, right), r3.Scale(y, up)) }
		sin, cos := math.Sincos(turn)
		p, q := s.At(in(a, b)), s.At(in(a*cos-b*sin, a*sin+b*cos))
		require.InDelta(t, math.Hypot(a, b), r2.Norm(p), 1e-6)
		if math.Hypot(a, b) > 1 {
			got := math.Atan2(r2.Cross(p, q), r2.Dot(p, q))
			require.InDelta(t, 0, math.Remainder(got-turn, 2*math.Pi), 1e-6)
		}
	})
}

func TestTurning(t *testing.T) {
	assert.Equal(t, FromBehind, FromLeft.Turned(6, 0))
	assert.Equal(t, FromAbove, FromLeft.Turned(0, 6))
	assert.Equal(t, FromAbove, FromLeft.Turned(0, 9), "no further than straight from above")
	v := ThreeQuarter
	for range 24 {
		v = v.Turned(1, 0)
	}
	assert.Equal(t, ThreeQuarter, v, "once round")
	assert.Equal(t, View{Turn: steps(12)}, FromLeft.Turned(-12, 0), "the right side, whichever way round")
	assert.True(t, FromBehind.Along())
	assert.True(t, FromLeft.Turned(12, 0).Along())
	assert.False(t, ThreeQuarter.Along())
}

func TestNames(t *testing.T) {
	for v, want := range map[View]string{
		FromLeft: "side view, from the left", FromAbove: "plan view, from above", FromBehind: "seen from behind",
		ThreeQuarter:             "view from the front left, 30° above",
		FromLeft.Turned(12, -1):  "view from the right, 15° below",
		FromBehind.Turned(2, 1):  "view from the rear right, 15° above",
		FromLeft.Turned(-6, 0):   "view from the front",
		FromAbove.Turned(6, 0):   "view from above, turned",
		FromLeft.Turned(0, -100): "view from below",
	} {
		assert.Equal(t, want, v.String())
	}
}
