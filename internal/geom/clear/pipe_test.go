package clear

import (
	"errors"
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A bend of a right angle by hand: it takes its radius of either leg, and its middle
// lies R·(√2 − 1) inside the corner.
func TestPipeRoundACorner(t *testing.T) {
	rods, err := Pipe([]r3.Vec{{}, {X: 400}, {X: 400, Y: 300}}, 90, 25)
	require.NoError(t, err)
	assert.Equal(t, r3.Vec{X: 310}, rods[0].B)
	assert.InDelta(t, 25, rods[0].R, 0)
	end := rods[len(rods)-1]
	assert.InDelta(t, 0, r3.Norm(r3.Sub(end.A, r3.Vec{X: 400, Y: 90})), 1e-9)
	for i, r := range rods {
		if i > 0 {
			assert.Equal(t, rods[i-1].B, r.A, "one run")
		}
		assert.LessOrEqual(t, r.R, 25+Sagitta)
		assert.GreaterOrEqual(t, r.R, 25.0)
	}
	gap := math.Inf(1)
	for _, r := range rods {
		g, _, _ := Distance(r, Point{At: r3.Vec{X: 400}})
		gap = min(gap, g)
	}
	// From the corner to the arc's middle, less the radius, and less the sagitta at most.
	assert.InDelta(t, 90*(math.Sqrt2-1)-25, gap, Sagitta+1e-9)
	assert.LessOrEqual(t, gap, 90*(math.Sqrt2-1)-25+1e-9)
}

// The rods hold all of the pipe: every place on the true centre line, by turning
// through its arcs, is inside them by the pipe's radius, and they reach beyond it by
// twice the sagitta at most.
func TestRodsHoldThePipe(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		at := r3.Vec{}
		d := r3.Vec{X: 1}
		points := []r3.Vec{at}
		for range rapid.IntRange(1, 4).Draw(rt, "legs") {
			at = r3.Add(at, r3.Scale(rapid.Float64Range(400, 700).Draw(rt, "long"), d))
			points = append(points, at)
			axis := r3.Unit(r3.Add(r3.Cross(d, r3.Vec{X: 0.3, Y: 0.5, Z: 1}), r3.Scale(1e-9, d)))
			d = r3.NewRotation(rapid.Float64Range(-1.6, 1.6).Draw(rt, "turn"), axis).Rotate(d)
		}
		bend, radius := rapid.Float64Range(40, 150).Draw(rt, "bend"), rapid.Float64Range(15, 50).Draw(rt, "radius")
		rods, err := Pipe(points, bend, radius)
		require.NoError(rt, err)
		for i := 1; i+1 < len(points); i++ {
			in, on := r3.Unit(r3.Sub(points[i], points[i-1])), r3.Unit(r3.Sub(points[i+1], points[i]))
			turn := geom.Between(in, on).Rad()
			if turn < 1e-3 {
				continue
			}
			axis := r3.Unit(r3.Cross(in, on))
			start := r3.Sub(points[i], r3.Scale(bend*math.Tan(turn/2), in))
			middle := r3.Add(start, r3.Scale(bend, r3.Cross(axis, in)))
			for k := range 21 {
				spot := r3.Add(middle, r3.NewRotation(turn*float64(k)/20, axis).Rotate(r3.Sub(start, middle)))
				deep := math.Inf(1)
				for _, r := range rods {
					g, _, _ := Distance(r, Sphere{At: spot, R: radius})
					deep = min(deep, g)
				}
				assert.LessOrEqual(rt, deep, -2*radius+1e-6, "a ball of the pipe's size lies in the rods")
				assert.GreaterOrEqual(rt, deep, -2*radius-2*Sagitta)
			}
		}
	})
}

func TestPipeThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct {
		points       []r3.Vec
		bend, radius float64
		want         string
	}{
		"one point":   {[]r3.Vec{{}}, 0, 20, "two points at least; read 1"},
		"one place":   {[]r3.Vec{{}, {}}, 0, 20, "points 1 and 2 of the pipe are one place"},
		"no room":     {[]r3.Vec{{}, {X: 80}, {X: 80, Y: 300}}, 90, 20, "the bend at point 2 takes 90.0 mm of a leg of 80.0 mm"},
		"two bends":   {[]r3.Vec{{}, {X: 300}, {X: 300, Y: 150}, {X: 600, Y: 150}}, 90, 20, "takes 180.0 mm of a leg of 150.0 mm"},
		"back":        {[]r3.Vec{{}, {X: 300}, {X: 100}}, 90, 20, "at point 2 the pipe turns back"},
		"no radius":   {[]r3.Vec{{}, {X: 300}}, 90, 0, "a radius above 0"},
		"not numbers": {[]r3.Vec{{}, {X: math.NaN()}}, 90, 20, "places in numbers"},
	} {
		_, err := Pipe(c.points, c.bend, c.radius)
		require.ErrorContains(t, err, c.want, name)
	}
	var bend *BendError
	_, err := Pipe([]r3.Vec{{}, {X: 80}, {X: 80, Y: 300}}, 90, 20)
	require.True(t, errors.As(err, &bend))
	assert.Equal(t, 2, bend.Corner)
	rods, err := Pipe([]r3.Vec{{}, {X: 80}, {X: 80, Y: 300}}, 0, 20)
	require.NoError(t, err)
	assert.Len(t, rods, 2, "mitred")
}

// A sheet with an opening, by hand: what passes through it is as far from its edges as
// that is, what stands before the sheet as far as from the sheet.
func TestRoomToAnOpening(t *testing.T) {
	plates := Opening(r3.Vec{X: 900, Z: 100}, r3.Vec{Y: 200}, r3.Vec{Z: 150}, 3000)
	least := func(s Shape) float64 {
		gap := math.Inf(1)
		for _, p := range plates {
			require.NoError(t, p.Check())
			g, _, _ := Distance(s, p)
			gap = min(gap, g)
		}
		return gap
	}
	assert.InDelta(t, 200-60-40, least(Segment{A: r3.Vec{X: 500, Y: 60, Z: 100}, B: r3.Vec{X: 1500, Y: 60, Z: 100}, R: 40}), 1e-9)
	assert.InDelta(t, 150-90-40, least(Segment{A: r3.Vec{X: 500, Y: 60, Z: 190}, B: r3.Vec{X: 1500, Y: 60, Z: 190}, R: 40}), 1e-9)
	assert.InDelta(t, 55, least(Segment{A: r3.Vec{X: 500, Y: 400, Z: 100}, B: r3.Vec{X: 805, Y: 400, Z: 100}, R: 40}), 1e-9)
	assert.InDelta(t, math.Hypot(30, 40)-10, least(Sphere{At: r3.Vec{X: 860, Y: 170, Z: 100}, R: 10}), 1e-9)
	assert.Less(t, least(Segment{A: r3.Vec{X: 500, Y: 190, Z: 100}, B: r3.Vec{X: 1500, Y: 190, Z: 100}, R: 40}), 0.0)
}
