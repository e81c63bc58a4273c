package dimension

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

var size = Size{Arrow: 10, Gap: 2, Over: 4}

func longest(d Drawn) (l float64) {
	for _, s := range d.Strokes {
		for i := 1; i < len(s); i++ {
			l = max(l, r2.Norm(r2.Sub(s[i], s[i-1])))
		}
	}
	return l
}

// Level, 100 long, drawn 20 above: two extension lines from 2 to 24 above, the
// line, and two arrowheads with their tips at its ends.
func TestALevelDimension(t *testing.T) {
	d := Line{From: r2.Vec{X: 5, Y: 1}, To: r2.Vec{X: 105, Y: 1}, Aside: r2.Vec{Y: 20}}.Draw(size)
	require.Len(t, d.Strokes, 5)
	assert.Equal(t, []r2.Vec{{X: 5, Y: 3}, {X: 5, Y: 25}}, d.Strokes[0])
	assert.Equal(t, []r2.Vec{{X: 105, Y: 3}, {X: 105, Y: 25}}, d.Strokes[1])
	assert.Equal(t, []r2.Vec{{X: 5, Y: 21}, {X: 105, Y: 21}}, d.Strokes[2])
	assert.Equal(t, r2.Vec{X: 55, Y: 21}, d.Middle)
	assert.False(t, d.Outside)
	assert.Equal(t, r2.Vec{X: 5, Y: 21}, d.Strokes[3][1])
	assert.InDelta(t, 15, d.Strokes[3][0].X, 1e-9, "the arrowhead lies within")
	assert.InDelta(t, 10*math.Tan(15*math.Pi/180), d.Strokes[3][0].Y-21, 1e-9, "half of 30°")
}

// One too short for its arrowheads has them outside, pointing inward.
func TestAShortDimension(t *testing.T) {
	d := Line{From: r2.Vec{}, To: r2.Vec{X: 3}}.Draw(size)
	assert.True(t, d.Outside)
	assert.Equal(t, []r2.Vec{{X: -20}, {}}, d.Strokes[0])
	tips := d.Strokes[len(d.Strokes)-2:]
	assert.Equal(t, r2.Vec{}, tips[0][1])
	assert.InDelta(t, -10, tips[0][0].X, 1e-9)
	assert.InDelta(t, 13, tips[1][0].X, 1e-9)
	assert.Empty(t, Line{}.Draw(size).Strokes, "no distance, no direction")
}

// The dimension line is as long as what it measures, whichever way it lies.
func TestDimensionLinesAreTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := rapid.Float64Range(-500, 500)
		a, b := r2.Vec{X: num.Draw(t, "ax"), Y: num.Draw(t, "ay")}, r2.Vec{X: num.Draw(t, "bx"), Y: num.Draw(t, "by")}
		n := r2.Norm(r2.Sub(b, a))
		if n < 1 {
			return
		}
		aside := r2.Scale(num.Draw(t, "aside")/n, r2.Vec{X: a.Y - b.Y, Y: b.X - a.X})
		d := Line{From: a, To: b, Aside: aside}.Draw(size)
		require.InDelta(t, n, r2.Norm(r2.Sub(d.Ends[1], d.Ends[0])), 1e-9)
		require.InDelta(t, 0, r2.Dot(r2.Sub(d.Ends[0], a), r2.Sub(b, a)), 1e-6, "straight across from it")
		require.LessOrEqual(t, longest(d), n+r2.Norm(aside)+2*size.Arrow+size.Over+1e-9)
	})
}

func TestAnAngle(t *testing.T) {
	d := Angle{From: 0, To: math.Pi / 2, Radius: 100}.Draw(size)
	assert.False(t, d.Outside)
	assert.InDelta(t, 100/math.Sqrt2, d.Middle.X, 1e-9)
	assert.InDelta(t, 104, d.Strokes[0][1].X, 1e-9)
	assert.InDelta(t, 104, d.Strokes[1][1].Y, 1e-9)
	arc := d.Strokes[2]
	for _, p := range arc {
		assert.InDelta(t, 100, r2.Norm(p), 1e-9)
	}
	assert.InDelta(t, 0, r2.Norm(r2.Sub(arc[len(arc)-1], r2.Vec{Y: 100})), 1e-9)
	head := d.Strokes[3]
	assert.InDelta(t, 10, head[0].Y, 3, "along the arc")

	d = Angle{From: -3, To: 3, Radius: 100}.Draw(size)
	assert.InDelta(t, -100, d.Middle.X, 1e-9, "the short way round")
	d = Angle{From: 0, To: 0.02, Radius: 100}.Draw(size)
	assert.True(t, d.Outside)
	assert.Less(t, d.Strokes[2][0].Y, 0.0, "the arc goes on beyond both ways")
	assert.Empty(t, Angle{To: 1}.Draw(size).Strokes)
}
