package bracket

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

// offHoles is how far a place is from the smallest convex outline round holes, by turning
// a line round them: 0 inside.
func offHoles(at r2.Vec, holes []r2.Vec) float64 {
	off := 0.0
	for k := range 360 {
		s, c := math.Sincos(2 * math.Pi * float64(k) / 360)
		far := math.Inf(-1)
		for _, h := range holes {
			far = max(far, c*h.X+s*h.Y)
		}
		off = max(off, c*at.X+s*at.Y-far)
	}
	return off
}

// What the rectangles cover is the plate: every place within edge of its outer holes lies
// in one, and no corner of one is farther out than the 3.5 % of edge that are said.
func TestAPlateIsCovered(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		f := func(lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(rt, "f") }
		a := Adapter{Edge: f(8, 90)}
		for range rapid.IntRange(2, 6).Draw(rt, "bosses") {
			a.Bosses = append(a.Bosses, r2.Vec{X: math.Round(f(-150, 150)), Y: math.Round(f(-150, 150))})
		}
		if rapid.Bool().Draw(rt, "pad") {
			a.Pad = HoleGrid(2, 1, math.Round(f(20, 90)), 0, 11)
		}
		holes := append([]r2.Vec{}, a.Bosses...)
		for _, h := range a.Pad {
			holes = append(holes, h.At)
		}
		if len(a.Pad) == 0 {
			holes = append(holes, r2.Vec{})
		}
		all := a.Covered()
		in := func(p r2.Vec) bool {
			for _, q := range all {
				d := r2.Sub(p, q.Middle)
				if math.Abs(r2.Dot(d, q.Along)) <= q.Half.X+1e-9 && math.Abs(r2.Cross(q.Along, d)) <= q.Half.Y+1e-9 {
					return true
				}
			}
			return false
		}
		for range 30 {
			i, j := rapid.IntRange(0, len(holes)-1).Draw(rt, "i"), rapid.IntRange(0, len(holes)-1).Draw(rt, "j")
			t, turn := f(0, 1), f(0, 2*math.Pi)
			s, c := math.Sincos(turn)
			p := r2.Add(r2.Add(r2.Scale(t, holes[i]), r2.Scale(1-t, holes[j])), r2.Scale(a.Edge*f(0, 1), r2.Vec{X: c, Y: s}))
			require.True(rt, in(p), "%v of %v", p, a)
		}
		for i := range 8 {
			q := all[i*37%len(all)]
			across := r2.Vec{X: -q.Along.Y, Y: q.Along.X}
			for _, k := range [4][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
				corner := r2.Add(q.Middle, r2.Add(r2.Scale(k[0]*q.Half.X, q.Along), r2.Scale(k[1]*q.Half.Y, across)))
				assert.LessOrEqual(rt, offHoles(corner, holes), a.Edge*1.035)
			}
		}
	})
}
