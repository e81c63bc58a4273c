package clear

import (
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// arc is a curve from a to b that bulges toward a direction. It is as tight as a
// Path may be at most.
type arc struct {
	middle, along, out r3.Vec
	radius, half       float64
}

func arcOf(a, b, toward r3.Vec, radius float64) arc {
	chord := r3.Sub(b, a)
	along := r3.Unit(chord)
	radius = max(radius, tightest, r3.Norm(chord)/(2*math.Sin(widest/2)))
	return arc{
		middle: r3.Scale(0.5, r3.Add(a, b)), along: along, out: r3.Unit(r3.Sub(toward, r3.Scale(r3.Dot(toward, along), along))),
		radius: radius, half: math.Asin(r3.Norm(chord) / (2 * radius)),
	}
}

// at is its point at f, from 0 to 1.
func (a arc) at(f float64) r3.Vec {
	s, c := math.Sincos((2*f - 1) * a.half)
	return r3.Add(a.middle, r3.Add(r3.Scale(a.radius*s, a.along), r3.Scale(a.radius*(c-math.Cos(a.half)), a.out)))
}

// winding is a small solid that goes on arcs from place to place round the origin,
// and turns at places as it likes: a half-space that parts it from a small solid at
// one place says nothing about the next.
func winding(rng *rand.Rand) Path {
	var solid Shape = Sphere{R: 3 * rng.Float64()}
	if rng.IntN(2) == 0 {
		solid = Segment{A: vec(rng, 5), B: vec(rng, 5), R: 1}
	}
	here := geom.Identity()
	here.At = vec(rng, 20)
	at, motions, arcs := []float64{0}, []geom.Pose{here}, []arc{}
	for i := range 2 + rng.IntN(3) {
		from, toward := here.At, vec(rng, 1)
		if here.At = vec(rng, 20); rng.IntN(2) == 0 {
			toward = r3.Scale(-1, here.At) // in to the other solid
		}
		arcs = append(arcs, arcOf(from, here.At, toward, tightest+20*rng.Float64()*rng.Float64()))
		at, motions = append(at, float64(i+1)), append(motions, here)
	}
	return carried(solid, at, motions, func(x float64) (geom.Pose, error) {
		i, m := min(int(x), len(arcs)-1), geom.Identity()
		m.At = arcs[i].at(x - float64(i))
		return m, nil
	})
}

// A small solid that winds about another is met where it is nearest, though each
// place has its own half-space between the two: by the search with nothing left
// out, and by going along the way in small steps.
func TestAWindingWayIsFollowed(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 12))
	for n := range 20000 {
		p, still := winding(rng), Sphere{R: 5 * rng.Float64()}
		got, found, err := p.Least(still, math.Inf(1))
		require.NoError(t, err)
		require.True(t, found)
		want, _ := slowLeast(p, still, math.Inf(1))
		require.LessOrEqual(t, got.Gap, want.Gap+LeastTolerance, "case %d", n)
		for i := 0; n%20 == 0 && i <= 30*(len(p.At)-1); i++ {
			s, err := p.Between(float64(i) / 30)
			require.NoError(t, err)
			gap, _, _ := Distance(s, still)
			require.LessOrEqual(t, got.Gap, gap+LeastTolerance, "case %d at %g", n, float64(i)/30)
		}
	}
}
