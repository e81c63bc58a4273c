package rigid

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/tape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// network is a body measured from the vehicle, and another measured from the vehicle and from
// points of the first, each measurement off as it is said to be. The first few are of the
// first body alone.
type network struct {
	joint Group
	first int
}

// tiny is what the measurements of a network are off by (mm, and rad at a metre): little
// against the squares that a fit of what is bent leaves out.
const tiny = 1e-4

func drawNetwork(dice *rand.Rand) *network {
	either := func(half float64) float64 { return half * (2*dice.Float64() - 1) }
	near := func(far float64) r3.Vec { return r3.Vec{X: either(far), Y: either(far), Z: either(far)} }
	n := &network{}
	var own [2][]r3.Vec
	for k := range own {
		start := geom.Orient(geom.Angle(either(5))*geom.Deg, geom.Angle(either(5))*geom.Deg, geom.Angle(either(5))*geom.Deg, r3.Add(r3.Vec{X: 1500 * float64(k)}, near(50)))
		n.joint.Parts = append(n.joint.Parts, Part{Reference: near(100), Start: start})
		for range 5 {
			own[k] = append(own[k], near(500))
		}
	}
	is := n.joint.Poses(n.joint.Problem().Start)
	add := func(m Measure) {
		m.Sigma = tiny * (0.5 + dice.Float64())
		if m.Kind == Along || m.Kind == Across || m.Kind == Fall || m.Kind == Course {
			m.Sigma /= 1000
		}
		m.Value = m.Shown(is...) + dice.NormFloat64()*m.Sigma
		n.joint.Measures = append(n.joint.Measures, m)
	}
	rails := []r3.Vec{{X: -800, Y: -400}, {X: -700, Y: 420, Z: 30}, {X: 900, Y: -410, Z: -20}, {X: 950, Y: 400, Z: 400}}
	for _, p := range own[0] {
		for _, a := range rails {
			add(Measure{Kind: Distance, Own: p, A: r3.Add(a, near(100))})
		}
		add(Measure{Kind: Rise, Own: p, A: rails[0]})
	}
	add(Measure{Kind: Along})
	n.first = len(n.joint.Measures)
	for i, p := range own[1] { // from the first body for the most part
		add(Measure{Kind: Distance, Part: 1, Own: p, On: 1, A: own[0][i]})
		add(Measure{Kind: Distance, Part: 1, Own: p, On: 1, A: own[0][(i+2)%5]})
		add(Measure{Kind: Rise, Part: 1, Own: p, On: 1, A: own[0][(i+1)%5]})
	}
	add(Measure{Kind: Distance, Part: 1, Own: own[1][0], A: rails[2]})
	add(Measure{Kind: Fall, Part: 1, Own: own[1][1], On: 1, A: own[0][1]})
	add(Measure{Kind: Course, Part: 1, Own: own[1][2], On: 1, A: own[0][3]})
	add(Measure{Kind: Across, Part: 1})
	return n
}

// A body that is measured from points of another comes out the same, with the same
// covariance, whether both are found in one fit, or the other first and then this one with
// all that the first fit leaves open of its six unknowns as errors that the measurements from
// it share: doc.go says why. What those errors come to is what the second fit makes of the
// first body's pose.
func TestOneAfterTheOtherIsAllAtOnce(t *testing.T) {
	for seed := range uint64(25) {
		n := drawNetwork(rand.New(rand.NewPCG(seed, 9)))
		joint, err := tape.Solve(context.Background(), n.joint.Problem())
		require.NoError(t, err)

		alone := Group{Parts: n.joint.Parts[:1], Measures: n.joint.Measures[:n.first]}
		before, err := tape.Solve(context.Background(), alone.Problem())
		require.NoError(t, err)
		cov := mat.NewSymDense(Unknowns, nil)
		for i := range Unknowns {
			for j := i; j < Unknowns; j++ {
				cov.SetSym(i, j, before.Cov(i, j))
			}
		}
		var chol mat.Cholesky
		require.True(t, chol.Factorize(cov))
		var l mat.TriDense
		chol.LTo(&l)

		pose := alone.Poses(before.X)[0]
		then := Group{Parts: n.joint.Parts[1:]}
		at := append(append([]float64{}, before.X[:Unknowns]...), joint.X[Unknowns:]...)
		common := make([]tape.Common, Unknowns)
		for _, m := range n.joint.Measures[n.first:] {
			by := make([]float64, 2*Unknowns)
			n.joint.Observe(&m).Of.Partials(at, func(u int, d float64) { by[u] += d })
			for c := range common {
				off := 0.0
				for u := range Unknowns {
					off += by[u] * l.At(u, c)
				}
				common[c].Of = append(common[c].Of, off)
			}
			m.Part = 0
			if m.On == 1 {
				m.On, m.A = 0, pose.Point(m.A)
			}
			then.Measures = append(then.Measures, m)
		}
		problem := then.Problem()
		after, err := tape.Solve(context.Background(), problem.With(common))
		require.NoError(t, err)
		for u := range Unknowns {
			scale := math.Sqrt(joint.Cov(Unknowns+u, Unknowns+u))
			assert.InDelta(t, joint.X[Unknowns+u], after.X[u], 1e-9, "draw %d: unknown %d, of ± %g", seed, u, scale)
			for v := range Unknowns {
				assert.InDelta(t, joint.Cov(Unknowns+u, Unknowns+v), after.Cov(u, v), 1e-5*scale*math.Sqrt(joint.Cov(Unknowns+v, Unknowns+v)), "draw %d: %d, %d", seed, u, v)
			}
			moved := before.X[u]
			for c := range common {
				moved += l.At(u, c) * after.X[Unknowns+c]
			}
			assert.InDelta(t, joint.X[u], moved, 1e-9, "draw %d: unknown %d of the first", seed, u)
		}
		// What the first fit leaves open matters: without it the ± is too small.
		sure, err := tape.Solve(context.Background(), problem)
		require.NoError(t, err)
		assert.Less(t, sure.Cov(0, 0), 0.9*after.Cov(0, 0))
	}
}
