package gauge

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// shows is what a gauge with a zero error shows: the direction of gravity in its
// own frame of marked end and outward side, turned by the error, folded to the
// angle between its base and level that a display without a sign has. marked and
// outward are unit vectors, rearward and upward.
func shows(marked, outward [2]float64, zero float64) float64 {
	along, out := -marked[1], -outward[1] // of gravity, which points down
	a := math.Atan2(along, -out) + zero
	return math.Asin(math.Abs(math.Sin(a)))
}

// Against a gauge made of nothing but gravity: along an axis on top and
// underneath, on both faces square to it, each way round. What is left of the
// slope is the error times the sign.
func TestZeroSign(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		slope := rapid.Float64Range(2, 20).Draw(t, "slope") * geom.Deg.Rad()
		lower := Rear
		if rapid.Bool().Draw(t, "up") {
			slope, lower = -slope, Front
		}
		zero := rapid.Float64Range(-1, 1).Draw(t, "zero") * geom.Deg.Rad()
		marked := rapid.SampledFrom([]Way{ToFront, ToRear, Upward, Downward}).Draw(t, "marked")
		outward := rapid.SampledFrom([]Way{ToFront, ToRear, Upward, Downward}).Draw(t, "outward")
		if sign := ZeroSign(marked, outward); sign == 0 {
			mr, mu := marked.vector()
			or, ou := outward.vector()
			if mr*or+mu*ou == 0 {
				t.Fatalf("a gauge can stand so")
			}
			return
		}
		turned := func(w Way) [2]float64 { // with the axis, rear end down
			r, u := w.vector()
			s, c := math.Sincos(slope)
			return [2]float64{c*float64(r) + s*float64(u), -s*float64(r) + c*float64(u)}
		}
		on := Along
		if outward == ToFront || outward == ToRear {
			on = SquareFace
		}
		read, err := Reading{Shown: geom.Angle(shows(turned(marked), turned(outward), zero)), On: on, Lower: lower}.Slope()
		if err != nil {
			t.Fatal(err)
		}
		if got, want := read.Rad()-slope, float64(ZeroSign(marked, outward))*zero; math.Abs(got-want) > 1e-9 {
			t.Fatalf("reads %g more, want %g", got, want)
		}
	})
	require.Zero(t, ZeroSign(WayUnknown, Upward))
	require.Zero(t, ZeroSign(ToRear, WayUnknown))
	assert.Equal(t, 1, ZeroSign(ToRear, Upward))
}
