package clear

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A ball of 10 pushed straight down past a rod of 20 across its way, whose middle is 50
// aside: 50 − 10 − 20 beside it. Straight at it, it lies in it.
func TestSweepByHand(t *testing.T) {
	ball, rod := Ready(Sphere{At: r3.Vec{Z: 100}, R: 10}), Ready(Segment{A: r3.Vec{X: -500, Y: 50}, B: r3.Vec{X: 500, Y: 50}, R: 20})
	gap, at := ball.Sweep(&rod, r3.Vec{Z: -1}, 300, math.Inf(1))
	assert.InDelta(t, 20, gap, 1e-6)
	assert.InDelta(t, 100, at, 0.1)
	gap, at = ball.Sweep(&rod, r3.Vec{Z: -1}, 40, math.Inf(1))
	assert.InDelta(t, math.Hypot(60, 50)-30, gap, 1e-9, "it does not get there")
	assert.InDelta(t, 40, at, 1e-9)

	under := Ready(Segment{A: r3.Vec{X: -500}, B: r3.Vec{X: 500}, R: 20})
	gap, at = ball.Sweep(&under, r3.Vec{Z: -1}, 300, math.Inf(1))
	assert.InDelta(t, -30, gap, 1e-3)
	assert.InDelta(t, 100-30-5, ball.Meets(&under, r3.Vec{Z: -1}, at, 5), 0.01)

	lo, hi, ok := ball.Span(r3.Vec{Z: -2})
	assert.True(t, ok)
	assert.InDeltaSlice(t, []float64{-110, -90}, []float64{lo, hi}, 1e-9)
	wall := Ready(Plane{Normal: r3.Vec{Z: 1}})
	_, _, ok = wall.Span(r3.Vec{Z: 1})
	assert.False(t, ok)
	gap, _ = ball.Sweep(&wall, r3.Vec{Z: -1}, 60, math.Inf(1))
	assert.InDelta(t, 30, gap, 1e-6)
}

// The least gap along a way is at most that at any place of it, and nearly met by one of
// many; what is bounded away is no nearer than the bound.
func TestSweepIsTheLeastOfTheWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := func(name string, size float64) r3.Vec {
			f := func(k string) float64 { return rapid.Float64Range(-size, size).Draw(t, name+k) }
			return r3.Vec{X: f("x"), Y: f("y"), Z: f("z")}
		}
		half := func(name string) float64 { return rapid.Float64Range(1, 60).Draw(t, name) }
		pose := geom.Identity()
		pose.At = v("box", 150)
		a := Ready(Box{Pose: pose, Half: r3.Vec{X: half("a"), Y: half("b"), Z: half("c")}})
		b := Ready(Segment{A: v("p", 200), B: v("q", 200), R: half("r")})
		way, err := geom.Unit(v("way", 1))
		if err != nil {
			t.Skip()
		}
		far := rapid.Float64Range(10, 500).Draw(t, "far")
		gap, at := a.Sweep(&b, way, far, math.Inf(1))
		least := math.Inf(1)
		const n = 200
		for i := range n + 1 {
			moved := a.Shifted(r3.Scale(far*float64(i)/n, way))
			g, _, _ := moved.Distance(&b)
			least = min(least, g)
		}
		assert.LessOrEqual(t, gap, least+1e-3)
		assert.GreaterOrEqual(t, gap, least-far/n)
		there := a.Shifted(r3.Scale(at, way))
		g, _, _ := there.Distance(&b)
		assert.InDelta(t, gap, g, 1e-9)
		if bound, _ := a.Sweep(&b, way, far, gap/2); gap > 0 {
			assert.LessOrEqual(t, bound, gap+1e-9)
		}
	})
}
