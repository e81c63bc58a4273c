package solid

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// volume of a solid by pyramids from a point in it to its faces.
func volume(s Solid) float64 {
	c, v := centre(s.Points), 0.0
	for _, f := range s.Faces {
		v += f.Size * (f.Off - r3.Dot(f.Normal, c)) / 3
	}
	return v
}

func drawPose(t *rapid.T) geom.Pose {
	a, num := rapid.Float64Range(-3, 3), rapid.Float64Range(-2000, 2000)
	return geom.Orient(geom.Angle(a.Draw(t, "slope")/2), geom.Angle(a.Draw(t, "heading")), geom.Angle(a.Draw(t, "roll")),
		r3.Vec{X: num.Draw(t, "x"), Y: num.Draw(t, "y"), Z: num.Draw(t, "z")})
}

// check holds what is true of every solid: all points lie behind all faces, each
// edge lies in the two faces that it parts, and corners, edges and faces are as
// many as Euler's formula wants.
func check(t require.TestingT, s Solid) {
	for _, f := range s.Faces {
		require.InDelta(t, 1, r3.Norm(f.Normal), 1e-9)
		for _, p := range s.Points {
			require.LessOrEqual(t, r3.Dot(f.Normal, p), f.Off+1e-6)
		}
	}
	for _, e := range s.Edges {
		for _, i := range []int{e.A, e.B} {
			for _, f := range []int{e.Left, e.Right} {
				require.InDelta(t, s.Faces[f].Off, r3.Dot(s.Faces[f].Normal, s.Points[i]), 1e-6)
			}
		}
	}
	require.Equal(t, 2, len(s.Points)-len(s.Edges)+len(s.Faces))
}

func TestBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(0.5, 900)
		half := r3.Vec{X: size.Draw(t, "a"), Y: size.Draw(t, "b"), Z: size.Draw(t, "c")}
		pose := drawPose(t)
		s, ok := Box(pose, half)
		require.True(t, ok)
		check(t, s)
		v := 8 * half.X * half.Y * half.Z
		require.InDelta(t, 1, volume(s)/v, 1e-6)
		for _, e := range s.Edges {
			require.Equal(t, Sharp, e.Look)
		}
		require.True(t, s.Inside(pose.Point(r3.Scale(0.9, half)), 0))
		require.False(t, s.Inside(pose.Point(r3.Scale(1.1, half)), 0))

		again := drawPose(t)
		m := s.Moved(again)
		check(t, m)
		require.True(t, m.Inside(again.Point(pose.Point(r3.Scale(0.9, half))), 0))
	})
	_, ok := Box(geom.Identity(), r3.Vec{X: 1, Y: 1})
	assert.False(t, ok, "a sheet encloses nothing")
}

// The volume of a prism on a regular polygon of n corners on a circle of radius
// r (any handbook of geometry): n/2 r² sin(2π/n) times its length.
func TestRods(t *testing.T) {
	for _, n := range []int{12, 24, 36} {
		s, ok := Rod(r3.Vec{X: 1, Y: 2, Z: 3}, r3.Vec{X: 301, Y: -398, Z: 3}, 40, n)
		require.True(t, ok)
		check(t, s)
		want := float64(n) / 2 * 1600 * math.Sin(2*math.Pi/float64(n)) * 500
		assert.InDelta(t, want, volume(s), 1e-3)
		round := 0
		for _, e := range s.Edges {
			if e.Look == Smooth {
				round++
			}
		}
		assert.Equal(t, n, round, "along it, and not at its ends")
	}
	for _, bad := range []float64{0, -1, math.NaN()} {
		_, ok := Rod(r3.Vec{}, r3.Vec{X: 1}, bad, 12)
		assert.False(t, ok)
	}
	_, ok := Rod(r3.Vec{}, r3.Vec{}, 1, 12)
	assert.False(t, ok)
	_, ok = Loft([]r3.Vec{{}, {X: 1}, {Y: 1}}, []r3.Vec{{Z: 1}, {X: 1, Z: 1}})
	assert.False(t, ok)
}

// Every point of a seam lies on both surfaces, and a seam is closed: its ends
// pair off.
func TestSeams(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.Float64Range(50, 400)
		a, ok := Box(drawPose(t), r3.Vec{X: size.Draw(t, "a"), Y: size.Draw(t, "b"), Z: size.Draw(t, "c")})
		require.True(t, ok)
		pose := drawPose(t)
		pose.At = a.Points[rapid.IntRange(0, 7).Draw(t, "corner")]
		b, ok := Box(pose, r3.Vec{X: size.Draw(t, "d"), Y: size.Draw(t, "e"), Z: size.Draw(t, "f")})
		require.True(t, ok)
		within := true // all of a lies in b, whose surface it never meets
		for _, p := range a.Points {
			within = within && b.Inside(p, 0)
		}
		seam := Seam(&a, &b)
		require.Equal(t, within, len(seam) == 0, "a corner of the one lies in the other")
		for _, l := range seam {
			for _, k := range []float64{0.01, 0.5, 0.99} {
				p := r3.Add(r3.Scale(1-k, l[0]), r3.Scale(k, l[1]))
				for _, s := range []*Solid{&a, &b} {
					require.True(t, s.Inside(p, -1e-3))
					require.False(t, s.Inside(p, 1e-3))
				}
			}
		}
	})
	unit := func(at r3.Vec) *Solid {
		p := geom.Identity()
		p.At = at
		s, _ := Box(p, r3.Vec{X: 10, Y: 10, Z: 10})
		return &s
	}
	assert.Empty(t, Seam(unit(r3.Vec{}), unit(r3.Vec{X: 20})), "face to face")
	assert.Empty(t, Seam(unit(r3.Vec{}), unit(r3.Vec{X: 50})))
	assert.Len(t, Seam(unit(r3.Vec{}), unit(r3.Vec{X: 10, Y: 10, Z: 10})), 6, "corner in corner: a hexagon")
}
