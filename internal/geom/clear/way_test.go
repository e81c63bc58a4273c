package clear

import (
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// A rod by the ways of its ends meets what the same rod by its solids meets, one solid
// after another with less and less room wanted: as near, at the same place. Its ends
// swing, stand still, or are one.
func TestARodByItsEndsIsARodBySolids(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 4))
	passed, met := 0, 0
	for n := range 120 {
		const places = 21
		at := make([]float64, places)
		for i := range at {
			at[i] = -0.4 + 0.8*float64(i)/(places-1)
		}
		end := func(moves bool) (func(at float64) r3.Vec, *Way) {
			p, on, axis := vec(rng, 300), vec(rng, 400), vec(rng, 1)
			if !moves {
				return func(float64) r3.Vec { return p }, WayOf([]r3.Vec{p}, true)
			}
			where := func(at float64) r3.Vec {
				m, err := geom.Turn(on, axis, geom.Angle(at))
				require.NoError(t, err)
				return m.Point(p)
			}
			all := make([]r3.Vec, places)
			for i, a := range at {
				all[i] = where(a)
			}
			return where, WayOf(all, n%5 != 0)
		}
		from, fromWay := end(n%3 == 0)
		to, toWay := end(n%7 != 0)
		if n%4 == 1 {
			from, fromWay = to, toWay
		}
		radius := 5 + 20*rng.Float64()
		shape := func(at float64) Shape {
			if fromWay == toWay {
				return Sphere{At: to(at), R: radius}
			}
			return Segment{A: from(at), B: to(at), R: radius}
		}
		solids := Path{At: at}
		for _, a := range at {
			solids.Solids = append(solids.Solids, shape(a))
		}
		if n%5 != 0 {
			solids.Between = func(at float64) (Shape, error) { return shape(at), nil }
		}
		rod := Path{At: at, Rod: &Rod{fromWay, toWay, radius}, Between: solids.Between}
		var a, b Track
		require.NoError(t, a.Follow(solids))
		require.NoError(t, b.Follow(rod))
		below := math.Inf(1)
		for range 12 {
			var other Shape = Sphere{At: vec(rng, 600), R: 60 * rng.Float64()}
			switch rng.IntN(3) {
			case 0:
				other = Box{Pose: randomPose(rng, 500), Half: r3.Vec{X: 5 + 60*rng.Float64(), Y: 60 * rng.Float64(), Z: 60 * rng.Float64()}}
			case 1:
				other = Plane{On: vec(rng, 900), Normal: vec(rng, 1)}
			}
			x, y := &Still{Solid: Ready(other)}, &Still{Solid: Ready(other)}
			for range 2 { // the second time a half-space is known between them
				want, found, err := a.LeastOf(x, below)
				require.NoError(t, err)
				far := rod.NoNearer(y, below)
				got, also, err := b.LeastOf(y, below)
				require.NoError(t, err)
				require.Equal(t, found, also, "rod %d", n)
				if !found {
					if passed++; !far {
						passed--
					}
					continue
				}
				met++
				require.False(t, far, "rod %d is passed over", n)
				require.InDelta(t, want.Gap, got.Gap, 2*alike, "rod %d", n)
				if want.Gap > 0 && want.At != at[0] { // alike are those of what stands still
					assert.InDelta(t, want.At, got.At, 1e-3, "rod %d", n)
				}
			}
			if rng.IntN(2) == 0 {
				below = min(below, 400*rng.Float64())
			}
		}
	}
	assert.Greater(t, passed, 300)
	assert.Greater(t, met, 300)
}

// Every point of a way is held by what bounds the part of the way it is on.
func TestAWayIsHeldByItsSpans(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 6))
	for range 50 {
		p, on, axis, places := vec(rng, 300), vec(rng, 400), vec(rng, 1), 1+rng.IntN(40)
		point := func(i float64) r3.Vec {
			m, err := geom.Turn(on, axis, geom.Angle(0.05*i))
			require.NoError(t, err)
			return m.Point(p)
		}
		all := make([]r3.Vec, places)
		for i := range all {
			all[i] = point(float64(i))
		}
		w := WayOf(all, true)
		require.Equal(t, places-1, w.spans[len(w.spans)-1].to)
		for k, s := range append(w.spans, w.whole) {
			if k > 0 && k < len(w.spans) {
				require.Equal(t, w.spans[k-1].to, s.from, "nothing lies between")
			}
			for x := float64(s.from); x <= float64(s.to); x += 0.25 {
				q, n := point(x), vec(rng, 1)
				n = r3.Unit(n)
				held := max(r3.Dot(n, s.ends[0]), r3.Dot(n, s.ends[1])) + s.off
				require.LessOrEqual(t, r3.Dot(n, q), held+1e-9)
				at := room{q, q}
				require.LessOrEqual(t, at.from(&s.room), 0.0)
			}
		}
	}
}
