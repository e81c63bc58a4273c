package bracket

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Shigley's Mechanical Engineering Design, ex. 8-7: 16 kN on a 15 x 200 mm bar; the
// layout from memory: bolts at ±75, ±60 mm, the load 425 mm from their middle.
func TestEccentricShear(t *testing.T) {
	p := BoltPattern{At: []r2.Vec{{X: 75, Y: 60}, {X: 75, Y: -60}, {X: -75, Y: 60}, {X: -75, Y: -60}}}
	shares, err := p.Share(Load{Force: r3.Vec{Y: -16000}, At: r3.Vec{X: 425}})
	require.NoError(t, err)
	for i, want := range []float64{20972.6, 20972.6, 14788.8, 14788.8} {
		assert.InDelta(t, want, r2.Norm(shares[i].Shear), 0.06)
	}
	direct := r2.Vec{Y: -4000}
	for _, s := range shares {
		assert.InDelta(t, 17699.7, r2.Norm(r2.Sub(s.Shear, direct)), 0.06)
		assert.InDelta(t, 96.0469, r2.Norm(s.At), 5e-5)
	}
}

// Tension about the lower edge, F = M y/∑y², and about the bolts' own middle.
func TestTensionAboutAnEdge(t *testing.T) {
	p := BoltPattern{Name: "foot", At: []r2.Vec{{X: -30, Y: 35}, {X: 30, Y: 35}, {X: -30, Y: 110}, {X: 30, Y: 110}}}
	e, err := p.AboutEdge(r2.Vec{X: 12}, r2.Vec{Y: 3}, 1.2e6)
	require.NoError(t, err)
	for i, want := range []float64{1576.0, 1576.0, 4953.1, 4953.1} {
		assert.InDelta(t, want, e.Tension[i], 0.05)
	}
	assert.Equal(t, e.Tension[2], e.Most)
	shares, err := p.Share(Load{Moment: r3.Vec{X: 1.2e6}})
	require.NoError(t, err)
	for i, want := range []float64{-8000, -8000, 8000, 8000} {
		assert.InDelta(t, want, shares[i].Tension, 1e-6)
	}

	rapid.Check(t, func(t *rapid.T) { // the moments add up, wherever the edge lies
		f := func(lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, "f") }
		sin, cos := math.Sincos(f(0, 6))
		in, on := r2.Vec{X: cos, Y: sin}, r2.Vec{X: f(-50, 50), Y: f(-50, 50)}
		var q BoltPattern
		for range 4 {
			q.At = append(q.At, r2.Add(r2.Add(on, r2.Scale(f(5, 90), in)), r2.Scale(f(-80, 80), r2.Vec{X: -sin, Y: cos})))
		}
		e, err := q.AboutEdge(on, r2.Scale(f(1, 9), in), 5e5)
		require.NoError(t, err)
		sum := 0.0
		for i, y := range e.Arms {
			sum += y * e.Tension[i]
		}
		assert.InEpsilon(t, 5e5, sum, 1e-9)
	})

	var pe *geom.PartError
	for want, call := range map[string]func() (EdgePull, error){
		"lies outside": func() (EdgePull, error) { return p.AboutEdge(r2.Vec{Y: 50}, r2.Vec{Y: 1}, 1) },
		"no direction": func() (EdgePull, error) { return p.AboutEdge(r2.Vec{}, r2.Vec{}, 1) },
		"other edge":   func() (EdgePull, error) { return p.AboutEdge(r2.Vec{}, r2.Vec{Y: 1}, -1) },
		"not lift":     func() (EdgePull, error) { return p.AboutEdge(r2.Vec{}, r2.Vec{Y: 1}, math.NaN()) },
		"has 0 bolts": func() (EdgePull, error) {
			return BoltPattern{Name: "foot"}.AboutEdge(r2.Vec{}, r2.Vec{Y: 1}, 1)
		},
		"hold nothing": func() (EdgePull, error) {
			return BoltPattern{"foot", []r2.Vec{{}, {X: 30}}}.AboutEdge(r2.Vec{}, r2.Vec{Y: 1}, 1)
		},
	} {
		_, err := call()
		require.ErrorAs(t, err, &pe)
		assert.Contains(t, pe.Part, "foot")
		assert.ErrorContains(t, err, want)
	}
}
