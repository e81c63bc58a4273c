package clear

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func vec(r *rand.Rand, reach float64) r3.Vec {
	return r3.Vec{X: (2*r.Float64() - 1) * reach, Y: (2*r.Float64() - 1) * reach, Z: (2*r.Float64() - 1) * reach}
}

func randomPose(r *rand.Rand, reach float64) geom.Pose {
	a := func() geom.Angle { return geom.Angle((2*r.Float64() - 1) * math.Pi) }
	if r.IntN(4) == 0 { // square to the axes: parallel faces and edges
		a = func() geom.Angle { return geom.Angle(float64(r.IntN(4)) * math.Pi / 2) }
	}
	return geom.Orient(a(), a(), a(), vec(r, reach))
}

func randomShape(r *rand.Rand, kind int) Shape {
	radius := 60 * r.Float64() * float64(r.IntN(3)) / 2
	near := 300.0
	if r.IntN(2) == 0 {
		near = 50 // many that overlap
	}
	at := vec(r, near)
	switch kind {
	case 0:
		return Point{At: at}
	case 1:
		return Sphere{At: at, R: radius}
	case 2:
		b := r3.Add(at, vec(r, 200))
		switch r.IntN(6) {
		case 0:
			b = at
		case 1:
			b = r3.Add(at, r3.Vec{X: 100})
		}
		return Segment{A: at, B: b, R: radius}
	default:
		h := r3.Vec{X: 150 * r.Float64(), Y: 150 * r.Float64(), Z: 150 * r.Float64()}
		if r.IntN(8) == 0 {
			h.Z = 0
		}
		return Box{Pose: randomPose(r, near), Half: h}
	}
}

// support is the furthest a shape reaches along n, written apart from the code
// under test.
func support(s Shape, n r3.Vec) float64 {
	switch s := s.(type) {
	case Point:
		return r3.Dot(s.At, n)
	case Sphere:
		return r3.Dot(s.At, n) + s.R
	case Segment:
		return max(r3.Dot(s.A, n), r3.Dot(s.B, n)) + s.R
	case Box:
		own := s.Pose.OwnDir(n)
		return r3.Dot(s.Pose.At, n) + math.Abs(own.X)*s.Half.X + math.Abs(own.Y)*s.Half.Y + math.Abs(own.Z)*s.Half.Z
	}
	panic("no support")
}

// outside is how far p lies outside shape, 0 inside, written apart from the
// code under test.
func outside(s Shape, p r3.Vec) float64 {
	switch s := s.(type) {
	case Point:
		return r3.Norm(r3.Sub(p, s.At))
	case Sphere:
		return max(0, r3.Norm(r3.Sub(p, s.At))-s.R)
	case Segment:
		u := r3.Sub(s.B, s.A)
		t := 0.0
		if l := r3.Dot(u, u); l > 0 {
			t = math.Max(0, math.Min(1, r3.Dot(r3.Sub(p, s.A), u)/l))
		}
		return max(0, r3.Norm(r3.Sub(p, r3.Add(s.A, r3.Scale(t, u))))-s.R)
	case Box:
		q := s.Pose.Own(p)
		dx := math.Max(0, math.Abs(q.X)-s.Half.X)
		dy := math.Max(0, math.Abs(q.Y)-s.Half.Y)
		dz := math.Max(0, math.Abs(q.Z)-s.Half.Z)
		return math.Sqrt(dx*dx + dy*dy + dz*dz)
	}
	panic("no outside")
}

// generators returns centre, half edges and radius of a shape.
func generators(s Shape) (r3.Vec, []r3.Vec, float64) {
	switch s := s.(type) {
	case Point:
		return s.At, nil, 0
	case Sphere:
		return s.At, nil, s.R
	case Segment:
		return r3.Scale(0.5, r3.Add(s.A, s.B)), []r3.Vec{r3.Scale(0.5, r3.Sub(s.A, s.B))}, s.R
	case Box:
		p := s.Pose
		return p.At, []r3.Vec{r3.Scale(s.Half.X, p.X), r3.Scale(s.Half.Y, p.Y), r3.Scale(s.Half.Z, p.Z)}, 0
	}
	panic("no generators")
}

// descend minimises the distance of the cores one coordinate at a time over
// the box of their parameters: a convex problem, so it comes down to the one
// smallest value. It is an upper bound at every step.
func descend(a, b Shape) float64 {
	ca, ga, ra := generators(a)
	cb, gb, rb := generators(b)
	edges := append(append([]r3.Vec{}, ga...), gb...)
	s := make([]float64, len(edges))
	d := r3.Sub(cb, ca)
	last := r3.Norm(d)
	for sweep := range 4000 {
		for i, e := range edges {
			l := r3.Norm2(e)
			if l == 0 {
				continue
			}
			t := math.Max(-1, math.Min(1, s[i]-r3.Dot(d, e)/l))
			d = r3.Add(d, r3.Scale(t-s[i], e))
			s[i] = t
		}
		if sweep%50 == 49 {
			n := r3.Norm(d)
			if last-n < 1e-10 {
				break
			}
			last = n
		}
	}
	return r3.Norm(d) - ra - rb
}

func along(k int, rng *rand.Rand) r3.Vec {
	axes := []r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	if k < 3 {
		return axes[k]
	}
	v := r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
	return r3.Unit(v)
}

// Each answer is proved without the code that made it. Apart: both points lie
// in their shapes (no smaller distance is claimed than occurs), and a slab as
// thick as the gap separates the shapes (no pair of points is nearer).
// Overlapping: the shift parts the shapes, and no sampled direction does so
// with less. Coordinate descent gives the same number a third way.
func TestDistanceIsProvedOverRandomPairs(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 13))
	apart, inside := map[string]int{}, map[string]int{}
	for i := range 10000 {
		a, b := randomShape(rng, rng.IntN(4)), randomShape(rng, rng.IntN(4))
		require.NoError(t, a.Check())
		require.NoError(t, b.Check())
		gap, from, to := Distance(a, b)
		pair := fmt.Sprintf("%T-%T", a, b)
		msg := fmt.Sprintf("pair %d: %+v and %+v", i, a, b)
		require.InDelta(t, math.Abs(gap), r3.Norm(r3.Sub(to, from)), 1e-8, msg)
		require.Less(t, outside(a, from), 1e-8, msg)
		require.Less(t, outside(b, to), 1e-8, msg)
		back, _, _ := Distance(b, a)
		require.InDelta(t, gap, back, 1e-9, msg)
		if gap > 1e-6 {
			apart[pair]++
			n := r3.Unit(r3.Sub(to, from))
			require.InDelta(t, gap, -support(b, r3.Scale(-1, n))-support(a, n), 1e-8, msg)
			require.InDelta(t, gap, descend(a, b), 1e-7, msg)
		}
		if gap < -1e-6 {
			inside[pair]++
			n := r3.Unit(r3.Sub(from, to))
			require.InDelta(t, -gap, support(a, n)+support(b, r3.Scale(-1, n)), 1e-8, msg)
			for k := range 60 {
				n := along(k, rng)
				require.LessOrEqual(t, -gap, support(a, n)+support(b, r3.Scale(-1, n))+1e-8, msg)
			}
		}
	}
	require.GreaterOrEqual(t, len(apart), 16, "every kind of pair was met apart")
	require.GreaterOrEqual(t, len(inside), 15, "and overlapping, two points apart")
}

func TestRigidMotionChangesNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		a, b := randomShape(rng, rng.IntN(4)), randomShape(rng, rng.IntN(4))
		if rng.IntN(5) == 0 {
			a = Plane{On: vec(rng, 200), Normal: vec(rng, 1)}
		}
		m := randomPose(rng, 500)
		gap, from, to := Distance(a, b)
		got, f, g := Distance(Moved(a, m), Moved(b, m))
		require.InDelta(t, gap, got, 1e-8)
		if gap > 1 {
			require.InDelta(t, gap, r3.Norm(r3.Sub(m.Point(from), m.Point(to))), 1e-9)
			require.InDelta(t, got, r3.Norm(r3.Sub(f, g)), 1e-9)
		}
	}
}

// A plane sees the lowest of the corners, ends or ball bottom.
func TestPlane(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 3000 {
		p := Plane{On: vec(rng, 200), Normal: vec(rng, 3)}
		s := randomShape(rng, rng.IntN(4))
		n := r3.Unit(p.Normal)
		want := -support(s, r3.Scale(-1, n)) - r3.Dot(n, p.On)
		gap, from, to := Distance(p, s)
		require.InDelta(t, want, gap, 1e-9)
		require.InDelta(t, 0, r3.Dot(n, r3.Sub(from, p.On)), 1e-9, "from lies on the plane")
		require.Less(t, outside(s, to), 1e-9)
		back, g, f := Distance(s, p)
		require.InDelta(t, gap, back, 1e-12)
		require.Equal(t, from, f)
		require.Equal(t, to, g)
	}
	gap, from, to := Distance(Plane{Normal: r3.Vec{Z: 2}}, Plane{On: r3.Vec{X: 4, Z: 30}, Normal: r3.Vec{Z: -1}})
	assert.InDelta(t, 30, gap, 1e-12)
	assert.InDelta(t, 30, to.Z-from.Z, 1e-12)
	gap, _, _ = Distance(Plane{Normal: r3.Vec{Z: 1}}, Plane{Normal: r3.Vec{Z: -1}, On: r3.Vec{Z: -5}})
	assert.InDelta(t, -5, gap, 1e-12)
	gap, _, _ = Distance(Plane{Normal: r3.Vec{Z: 1}}, Plane{Normal: r3.Vec{X: 1}})
	assert.InDelta(t, -Endless, gap, 1e-3)
}

// Hand-worked cases.
func TestKnownDistances(t *testing.T) {
	cube := Box{Pose: geom.Identity(), Half: r3.Vec{X: 10, Y: 10, Z: 10}}
	turned := Box{Pose: geom.Orient(0, 45*geom.Deg, 0, r3.Vec{X: 40}), Half: r3.Vec{X: 10, Y: 10, Z: 10}}
	rod := Segment{A: r3.Vec{X: -100, Y: 30, Z: 40}, B: r3.Vec{X: 100, Y: 30, Z: 40}, R: 5}
	for _, c := range []struct {
		name string
		a, b Shape
		want float64
	}{
		{"points 3-4-5", Point{}, Point{At: r3.Vec{X: 3, Y: 4}}, 5},
		{"point and ball", Point{}, Sphere{At: r3.Vec{Z: 12}, R: 2}, 10},
		{"one ball inside the other", Sphere{R: 10}, Sphere{At: r3.Vec{X: 3}, R: 2}, -9},
		{"crossing lines 7 apart", Segment{A: r3.Vec{X: -5}, B: r3.Vec{X: 5}}, Segment{A: r3.Vec{Y: -5, Z: 7}, B: r3.Vec{Y: 5, Z: 7}}, 7},
		{"parallel lines", Segment{B: r3.Vec{X: 50}}, Segment{A: r3.Vec{X: 20, Y: 9}, B: r3.Vec{X: 90, Y: 9}}, 9},
		{"lines end to end", Segment{B: r3.Vec{X: 50}}, Segment{A: r3.Vec{X: 60}, B: r3.Vec{X: 90}}, 10},
		{"rods through each other", Segment{A: r3.Vec{X: -50}, B: r3.Vec{X: 50}, R: 3}, Segment{A: r3.Vec{Y: -50}, B: r3.Vec{Y: 50}, R: 4}, -7},
		{"box and rod past its edge", cube, rod, math.Hypot(20, 30) - 5},
		{"rod through a box", cube, Segment{A: r3.Vec{X: -50, Z: 4}, B: r3.Vec{X: 50, Z: 4}, R: 5}, -11},
		{"point inside a box", cube, Point{At: r3.Vec{X: 7, Y: 1}}, -3},
		{"edge of a turned box to a face", cube, turned, 30 - math.Sqrt2*10},
		{"box face to face", cube, Box{Pose: geom.Orient(0, 0, 0, r3.Vec{X: 3, Y: 2, Z: 25}), Half: r3.Vec{X: 5, Y: 5, Z: 5}}, 10},
		{"a beam through a box, no corner inside", cube, Box{Pose: geom.Identity(), Half: r3.Vec{X: 50, Y: 2, Z: 3}}, -12},
		{"touching", cube, Point{At: r3.Vec{X: 10}}, 0},
	} {
		got, _, _ := Distance(c.a, c.b)
		assert.InDelta(t, c.want, got, 1e-9, c.name)
		got, _, _ = Distance(c.b, c.a)
		assert.InDelta(t, c.want, got, 1e-9, c.name)
	}
}

func TestCheckRefuses(t *testing.T) {
	nan := math.NaN()
	for _, s := range []Shape{
		Point{At: r3.Vec{X: nan}}, Sphere{R: -1}, Sphere{R: nan}, Segment{R: -2}, Segment{B: r3.Vec{Y: math.Inf(1)}},
		Box{}, Box{Pose: geom.Identity(), Half: r3.Vec{X: -1}}, Box{Pose: geom.Identity(), Half: r3.Vec{X: nan}},
		Plane{}, Plane{On: r3.Vec{X: nan}, Normal: r3.Vec{Z: 1}}, Sphere{At: r3.Vec{Z: nan}},
	} {
		assert.Error(t, s.Check(), "%T %+v", s, s)
	}
	assert.NoError(t, Plane{Normal: r3.Vec{Z: 4}}.Check())
}

func BenchmarkDistance(b *testing.B) {
	pose := geom.Orient(0.2, 0.3, 0.4, r3.Vec{X: 300, Y: 120, Z: 90})
	box := Box{Pose: geom.Identity(), Half: r3.Vec{X: 100, Y: 50, Z: 40}}
	rod := Segment{A: r3.Vec{X: -40, Y: 200}, B: r3.Vec{X: 250, Y: 90, Z: 160}, R: 20}
	for _, c := range []struct {
		name string
		a, b Shape
	}{
		{"rod-rod", rod, Moved(rod, pose)},
		{"rod-box", rod, box},
		{"box-box-apart", box, Moved(box, pose)},
		{"box-box-overlapping", box, Moved(box, geom.Orient(0.2, 0.3, 0.4, r3.Vec{X: 60}))},
		{"ball-box", Sphere{At: r3.Vec{Z: 200}, R: 30}, box},
	} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				Distance(c.a, c.b)
			}
		})
	}
}

// Each edge keeps the distance from a box that is held against it.
func TestEdgesKeepTheirDistance(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 4))
	for range 2000 {
		a, b := randomShape(rng, 3).(Box), randomShape(rng, 3).(Box)
		c := coreOf(a)
		var halves [3]r3.Vec
		for k := range halves {
			halves[k] = b.Pose.OwnDir(c.half(k))
		}
		for e := range 12 {
			p, u := edge(&a, e)
			on, in := lineOwnBox(b.Pose.Own(p), b.Pose.OwnDir(u), b.Half)
			bound := edgeAtLeast(b.Pose.Own(a.Pose.At), &halves, e, b.Half)
			require.LessOrEqual(t, bound, r3.Norm2(r3.Sub(on, in))*(1+1e-9)+1e-9)
		}
	}
	// Square to each other the bound is the distance itself.
	a := Box{Pose: geom.Identity(), Half: r3.Vec{X: 1, Y: 2, Z: 3}}
	c := coreOf(a)
	halves := [3]r3.Vec{c.half(0), c.half(1), c.half(2)}
	for e := range 12 {
		p, u := edge(&a, e)
		on, in := lineOwnBox(r3.Sub(p, r3.Vec{X: 9, Y: 7, Z: -8}), u, r3.Vec{X: 1, Y: 1, Z: 1})
		require.InDelta(t, r3.Norm2(r3.Sub(on, in)), edgeAtLeast(r3.Vec{X: -9, Y: -7, Z: 8}, &halves, e, r3.Vec{X: 1, Y: 1, Z: 1}), 1e-9)
	}
}
