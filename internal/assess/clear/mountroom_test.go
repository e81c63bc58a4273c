package clear

import (
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/clear"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

func roomTo(to *clear.Solid, pieces ...MountPiece) float64 {
	least := math.Inf(1)
	for _, p := range pieces {
		ready := p.ready()
		least = ready.gap(to, least)
	}
	return least
}

// What lies in a piece and in none of what is left of it lies about the pad, by places drawn
// at random in both; and the room of what is left is no more than of any of those places.
func TestRoomOfBracketsByPlacesDrawn(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 11))
	for range 300 {
		p := MountPiece{Name: "arm"}
		box := clear.Box{Pose: geom.Orient(geom.Angle(rnd.NormFloat64()), geom.Angle(rnd.NormFloat64()), geom.Angle(rnd.NormFloat64()), r3.Vec{X: 40 * rnd.NormFloat64(), Y: 40 * rnd.NormFloat64(), Z: 40 * rnd.NormFloat64()}),
			Half: r3.Vec{X: 10 + 150*rnd.Float64(), Y: 5 + 40*rnd.Float64(), Z: 5 + 40*rnd.Float64()}}
		p.Shape = box
		round := rnd.IntN(2) == 0
		if round {
			box.Half.Z = box.Half.Y
			along := r3.Scale(box.Half.X, box.Pose.X)
			p.Shape, p.Flat = clear.Segment{A: r3.Sub(box.Pose.At, along), B: r3.Add(box.Pose.At, along), R: box.Half.Y}, &box
		}
		ball := clear.Ready(clear.Sphere{At: r3.Vec{X: 300 * rnd.NormFloat64(), Y: 300 * rnd.NormFloat64(), Z: 300 * rnd.NormFloat64()}, R: 20})
		const reach = 90.0
		all, left := roomTo(&ball, p), roomTo(&ball, p.without(r3.Vec{}, reach)...)
		assert.GreaterOrEqual(t, left, all-1e-9)
		for range 200 {
			own := r3.Vec{X: box.Half.X * (2*rnd.Float64() - 1), Y: box.Half.Y * (2*rnd.Float64() - 1), Z: box.Half.Z * (2*rnd.Float64() - 1)}
			if round && math.Hypot(own.Y, own.Z) > box.Half.Y {
				continue
			}
			q := box.Pose.Point(own)
			at := clear.Ready(clear.Point{At: q})
			gap, _, _ := at.Distance(&ball)
			require.GreaterOrEqual(t, gap, all-1e-9, "no place of it is nearer")
			if r3.Norm(q) > reach {
				require.GreaterOrEqual(t, gap, left-1e-9, "nor is any that is not left out")
			}
		}
	}
}
