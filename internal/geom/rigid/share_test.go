package rigid

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

var four = []r3.Vec{{X: -300, Y: -400}, {X: -300, Y: 400}, {X: 300, Y: -400}, {X: 300, Y: 400}}

// By hand: over the middle each of four carries a quarter; over the middle of one side's
// two, those carry half each; a moment about an upright is carried round in a ring.
func TestShareByHand(t *testing.T) {
	got, err := Share(four, r3.Vec{Z: 1000}, r3.Vec{Z: -200}, r3.Vec{})
	require.NoError(t, err)
	for _, g := range got {
		assert.InDelta(t, 250, g.Z, 1e-9)
	}
	got, err = Share(four, r3.Vec{Z: 1000}, r3.Vec{Y: 400}, r3.Vec{})
	require.NoError(t, err)
	for i, want := range []float64{0, 500, 0, 500} {
		assert.InDelta(t, want, got[i].Z, 1e-9)
	}
	// 1e6 N·mm on four at 500 from the middle: 500 N each, square to the way there.
	got, err = Share(four, r3.Vec{}, r3.Vec{}, r3.Vec{Z: 1e6})
	require.NoError(t, err)
	for i, g := range got {
		assert.InDelta(t, 500, r3.Norm(g), 1e-9)
		assert.InDelta(t, 0, r3.Dot(g, four[i]), 1e-6)
		assert.Positive(t, r3.Cross(four[i], g).Z)
	}
	// Braking at the floor, 350 below: the front pair is pulled down as the rear is lifted.
	got, err = Share(four, r3.Vec{X: 1200}, r3.Vec{Z: -350}, r3.Vec{})
	require.NoError(t, err)
	assert.InDelta(t, 300, got[0].X, 1e-9)
	assert.InDelta(t, -1200*350/600/2, got[0].Z, 1e-9)
	assert.InDelta(t, 1200*350/600/2, got[2].Z, 1e-9)
}

// All that the points carry is all that acts, and no other forces that balance it take
// less work: least squares of the same six equations by another way.
func TestShareIsTheLeastThatBalances(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 8))
	vec := func(by float64) r3.Vec {
		return r3.Vec{X: by * rng.NormFloat64(), Y: by * rng.NormFloat64(), Z: by * rng.NormFloat64()}
	}
	for range 50 {
		held := make([]r3.Vec, 3+rng.IntN(4))
		for i := range held {
			held[i] = vec(300)
		}
		force, at, moment := vec(1e3), vec(400), vec(1e5)
		got, err := Share(held, force, at, moment)
		require.NoError(t, err)
		a := mat.NewDense(6, 3*len(held), nil)
		for i, p := range held {
			for k := range 3 {
				e := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[k]
				c := r3.Cross(p, e)
				a.SetCol(3*i+k, []float64{e.X, e.Y, e.Z, c.X, c.Y, c.Z})
			}
		}
		m := r3.Add(moment, r3.Cross(at, force))
		var svd mat.SVD
		require.True(t, svd.Factorize(a, mat.SVDThin))
		var x mat.Dense
		svd.SolveTo(&x, mat.NewDense(6, 1, []float64{force.X, force.Y, force.Z, m.X, m.Y, m.Z}), 6)
		for i, g := range got {
			for k, v := range [3]float64{g.X, g.Y, g.Z} {
				assert.InDelta(t, x.At(3*i+k, 0), v, 1e-6*(1+r3.Norm(force)))
			}
		}
	}
}

func TestShareRefusesWhatTurns(t *testing.T) {
	_, err := Share(four[:2], r3.Vec{Z: 1}, r3.Vec{}, r3.Vec{})
	require.ErrorIs(t, err, ErrFew)
	_, err = Share([]r3.Vec{{X: 1}, {X: 2}, {X: 5}}, r3.Vec{Z: 1}, r3.Vec{}, r3.Vec{})
	require.ErrorIs(t, err, ErrLine)
}
