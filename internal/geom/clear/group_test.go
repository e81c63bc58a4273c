package clear

import (
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// The least over solids and poses is that of measuring each of them, whatever is
// passed over: near moves as of a powertrain on its rubber, and far ones.
func TestNearestOfAGroupPassesOverNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 5))
	later := 0
	for range 600 {
		shapes := make([]Shape, 1+rng.IntN(6))
		for i := range shapes {
			shapes[i] = randomShape(rng, rng.IntN(4))
		}
		poses := []geom.Pose{randomPose(rng, 400)}
		small := rng.IntN(4) > 0
		for range 1 + rng.IntN(9) {
			if !small {
				poses = append(poses, randomPose(rng, 400))
				continue
			}
			turn, err := geom.Turn(vec(rng, 500), vec(rng, 1), geom.Angle(0.1*(rng.Float64()-0.5)))
			require.NoError(t, err)
			turn.At = r3.Add(turn.At, vec(rng, 20))
			poses = append(poses, poses[0].Then(turn))
		}
		placed := NewGroup(shapes).At(poses)
		for range 3 { // one piece after another with the same room to work in
			still := randomShape(rng, rng.IntN(5))
			if rng.IntN(5) == 0 {
				still = Plane{On: vec(rng, 300), Normal: vec(rng, 1)}
			}
			b := Ready(still)
			least := func(lo, hi int) float64 {
				want := math.Inf(1)
				for _, pose := range poses[lo:hi] {
					for _, s := range shapes {
						gap, _, _ := Distance(Moved(s, pose), still)
						want = min(want, gap)
					}
				}
				return want
			}
			first := placed.First(&b)
			require.InDelta(t, least(0, 1), first.Gap, 1e-9)
			split := 1 + rng.IntN(len(poses))
			some := placed.Nearer(&b, 1, split, first)
			require.InDelta(t, least(0, split), some.Gap, 1e-9)
			all := placed.Nearer(&b, split, len(poses), some)
			require.InDelta(t, least(0, len(poses)), all.Gap, 1e-9)
			gap, from, to := Distance(Moved(shapes[all.Solid], poses[all.Pose]), still)
			require.InDelta(t, gap, all.Gap, 1e-9)
			require.Less(t, r3.Norm(r3.Sub(from, all.From))+r3.Norm(r3.Sub(to, all.To)), 1e-6)
			if all.Gap < first.Gap {
				later++
			}
		}
	}
	require.Greater(t, later, 200, "often nearer at a later pose")
}

// What bounds a gap from below does so: the points of a solid move by what their
// corners do at most, and the half-space has the other solid beyond it.
func TestBoundsOfAPlacedGroup(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 19))
	for range 400 {
		g := NewGroup([]Shape{randomShape(rng, rng.IntN(4)), randomShape(rng, 3)})
		poses := []geom.Pose{randomPose(rng, 300), randomPose(rng, 300)}
		p := g.At(poses)
		for i := range g.Len() {
			c := &g.Solid(i).core
			for bits := range 1 << c.n {
				far := r3.Norm(r3.Sub(poses[1].Point(c.corner(bits)), poses[0].Point(c.corner(bits))))
				require.LessOrEqual(t, far, p.moves[1].shift+p.moves[1].turn*g.reach[i]+1e-9)
			}
		}
		turn, err := geom.Turn(r3.Vec{}, vec(rng, 1), 0.7)
		require.NoError(t, err)
		q := g.At([]geom.Pose{poses[0], poses[0].Then(turn)})
		require.InDelta(t, 2*math.Sin(0.35), q.moves[1].turn, 1e-9, "no more than a turn does")
		b := Ready(randomShape(rng, rng.IntN(4)))
		first := p.First(&b)
		for i := range g.Len() {
			gap, _, _ := p.Solid(1, i).Distance(&b)
			require.LessOrEqual(t, p.apart[i].fromPlaced(&g.Solid(i).ready, &poses[1]), gap+1e-9)
		}
		if first.Gap > aimed {
			require.InDelta(t, first.Gap, p.apart[first.Solid].fromPlaced(&g.Solid(first.Solid).ready, &poses[0]), 1e-6, "and closely where it was measured")
		}
	}
}

func TestReadySolidMovesAsItsShape(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	for range 300 {
		s, m := randomShape(rng, rng.IntN(4)), randomPose(rng, 300)
		if rng.IntN(5) == 0 {
			s = Plane{On: vec(rng, 200), Normal: vec(rng, 2)}
		}
		b := Ready(randomShape(rng, rng.IntN(4)))
		own := Ready(s)
		moved := own.Moved(m)
		gap, _, _ := moved.Distance(&b)
		again := Ready(Moved(s, m))
		want, _, _ := again.Distance(&b)
		require.InDelta(t, want, gap, 1e-9)
		require.InDelta(t, again.atLeast(&b.ready), moved.atLeast(&b.ready), 1e-6)
	}
}

// No point of a solid strays from its first place by more than is said.
func TestNoPointStraysFarther(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	for range 200 {
		shapes := []Shape{randomShape(rng, rng.IntN(4)), randomShape(rng, rng.IntN(4))}
		poses := []geom.Pose{randomPose(rng, 400), randomPose(rng, 400), randomPose(rng, 400)}
		g := NewGroup(shapes)
		at := g.At(poses)
		for i := range shapes {
			c := &g.Solid(i).core
			for range 20 {
				own := c.at
				for k := range c.n {
					own = r3.Add(own, r3.Scale(2*rng.Float64()-1, c.half(k)))
				}
				for _, p := range poses {
					require.LessOrEqual(t, r3.Norm(r3.Sub(p.Point(own), poses[0].Point(own))), at.Strays(i)+1e-9)
				}
			}
		}
	}
}
