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

// same holds strokes point by point.
func same(t *testing.T, want, got [][]r2.Vec) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		require.Len(t, got[i], len(want[i]), "stroke %d", i)
		for k := range want[i] {
			assert.InDelta(t, 0, r2.Norm(r2.Sub(want[i][k], got[i][k])), 1e-9, "stroke %d, point %d: want %v, got %v", i, k, want[i][k], got[i][k])
		}
	}
}

// Every point of an upright dimension from below to above, drawn to its left, and
// of one that is too short, worked by hand.
func TestUprightDimensionsPointByPoint(t *testing.T) {
	w := 10 * math.Tan(15*math.Pi/180)
	same(t, [][]r2.Vec{
		{{X: -2}, {X: -24}}, {{X: -2, Y: 50}, {X: -24, Y: 50}},
		{{X: -20}, {X: -20, Y: 50}},
		{{X: -20 - w, Y: 10}, {X: -20}, {X: -20 + w, Y: 10}},
		{{X: -20 + w, Y: 40}, {X: -20, Y: 50}, {X: -20 - w, Y: 40}},
	}, Line{To: r2.Vec{Y: 50}, Aside: r2.Vec{X: -20}}.Draw(size).Strokes)
	same(t, [][]r2.Vec{
		{{Y: -20}, {}}, {{Y: 4}, {Y: 24}}, {{}, {Y: 4}},
		{{X: w, Y: -10}, {}, {X: -w, Y: -10}},
		{{X: -w, Y: 14}, {Y: 4}, {X: w, Y: 14}},
	}, Line{To: r2.Vec{Y: 4}}.Draw(size).Strokes)
}

// An angle of 60° on 100, either way round, and one of 3°, whose arc goes on by
// twice an arrowhead on both sides.
func TestAnglesPointByPoint(t *testing.T) {
	deg := math.Pi / 180
	at := func(angle, r float64) r2.Vec {
		return r2.Vec{X: 7 + r*math.Cos(angle*deg), Y: -3 + r*math.Sin(angle*deg)}
	}
	along := func(angle, way float64) r2.Vec {
		return r2.Vec{X: -way * math.Sin(angle*deg), Y: way * math.Cos(angle*deg)}
	}
	arrow := func(angle, way float64) []r2.Vec {
		tip, u := at(angle, 100), along(angle, way)
		w := r2.Scale(10*math.Tan(15*deg), r2.Vec{X: -u.Y, Y: u.X})
		back := r2.Add(tip, r2.Scale(10, u))
		return []r2.Vec{r2.Add(back, w), tip, r2.Sub(back, w)}
	}
	apex := r2.Vec{X: 7, Y: -3}
	for _, c := range []struct{ from, to, first, last, way float64 }{
		{20, 80, 20, 80, 1}, {80, 20, 80, 20, -1}, // within
		{20, 23, 20 - 0.2/deg, 23 + 0.2/deg, -1}, {23, 20, 23 + 0.2/deg, 20 - 0.2/deg, 1}, // from outside
	} {
		d := Angle{Apex: apex, From: c.from * deg, To: c.to * deg, Radius: 100}.Draw(size)
		require.Len(t, d.Strokes, 5)
		arc := d.Strokes[2]
		n := max(2, int(math.Ceil(math.Abs(c.last-c.first)/5)))
		require.Len(t, arc, n+1, "at most 5° to a piece")
		for i, p := range arc {
			assert.InDelta(t, 0, r2.Norm(r2.Sub(at(c.first+(c.last-c.first)*float64(i)/float64(n), 100), p)), 1e-9)
		}
		same(t, [][]r2.Vec{{apex, at(c.from, 104)}, {apex, at(c.to, 104)}, arrow(c.from, c.way), arrow(c.to, -c.way)},
			[][]r2.Vec{d.Strokes[0], d.Strokes[1], d.Strokes[3], d.Strokes[4]})
		assert.InDelta(t, 0, r2.Norm(r2.Sub(at((c.from+c.to)/2, 100), d.Middle)), 1e-9)
	}
}
