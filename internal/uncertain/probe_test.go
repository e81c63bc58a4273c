package uncertain

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Of a quadratic function the probe is exact: Square by its derivatives says the
// same.
func TestProbeOfAQuadratic(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var s Sources
		add := func(name string) ID {
			id, err := s.Add(Source{Label: name, U: rapid.Float64Range(0.01, 1).Draw(rt, name)})
			require.NoError(rt, err)
			return id
		}
		shared, own := add("shared"), add("own")
		x := s.Number(rapid.Float64Range(-2, 2).Draw(rt, "x"), Part{shared, 1})
		y := s.Number(rapid.Float64Range(-2, 2).Draw(rt, "y"), Part{shared, 0.5}, Part{own, 1})
		got, err := Probe(func(v, out []float64) error {
			out[0], out[1] = v[0]*v[0]-v[2]*v[2], v[1]*v[0]*v[2]
			return nil
		}, 2, x, Exact(2), y)
		require.NoError(rt, err)
		re, im := Square(x, y)
		for i, want := range []Number{re, im} {
			if math.Abs(got[i].V-want.V) > 1e-9 || math.Abs(got[i].U()-want.U()) > 1e-9 || math.Abs(got[i].Bend()-want.Bend()) > 1e-9 {
				rt.Fatalf("%+v, want %+v", got[i], want)
			}
		}
	})
}

func TestProbeRefuses(t *testing.T) {
	var s Sources
	x := with(t, &s, 0.5, Source{U: 1})
	broken := errors.New("below zero")
	root := func(v, out []float64) error {
		if v[0] < 0 {
			return broken
		}
		out[0] = math.Sqrt(v[0])
		return nil
	}
	_, err := Probe(root, 1, x)
	assert.ErrorIs(t, err, broken)
	assert.ErrorContains(t, err, "within the uncertainty")
	_, err = Probe(root, 1, Exact(-1))
	assert.Equal(t, broken, err)
	_, err = Probe(func(v, out []float64) error { out[0] = math.Log(v[0]); return nil }, 1, x)
	assert.ErrorContains(t, err, "not a number")
	got, err := Probe(root, 1, Exact(4))
	require.NoError(t, err)
	assert.Equal(t, Exact(2).V, got[0].V)
	assert.Zero(t, got[0].Expanded())
}
