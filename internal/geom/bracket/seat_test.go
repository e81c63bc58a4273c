package bracket

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// inRow is a plate of 100 by 120 with two bolts 80 apart, 10 above its middle.
func inRow(t *testing.T) ReadySeat {
	s, err := BoltPattern{Name: "rail plate", At: []r2.Vec{{X: -40, Y: 10}, {X: 40, Y: 10}}}.Seated(r2.Vec{X: -50, Y: -60}, r2.Vec{X: 50, Y: 60})
	require.NoError(t, err)
	return s
}

// By hand: 140 N·m that lift the upper edge press 2000 N on the lower one, 70 mm from the
// row, and each bolt pulls with half of it beside half of the 1000 N; those that lift the
// lower one press the upper edge, 50 mm off. What tips along the row is the bolts' own.
func TestOneRowByHand(t *testing.T) {
	s := inRow(t)
	require.True(t, s.InOneRow())
	for _, c := range []struct {
		moment r3.Vec
		press  float64
		way    r2.Vec
		a, b   float64
	}{
		{r3.Vec{X: 140000}, 2000, r2.Vec{Y: -1}, 1500, 1500}, {r3.Vec{X: -140000}, 2800, r2.Vec{Y: 1}, 1900, 1900},
		{r3.Vec{X: 140000, Y: 40000}, 2000, r2.Vec{Y: -1}, 2000, 1000}, {r3.Vec{Y: -40000}, 0, r2.Vec{}, 0, 1000},
	} {
		got, press, err := s.Share(nil, Load{Force: r3.Vec{Z: 1000}, At: r3.Vec{Y: 10}, Moment: c.moment})
		require.NoError(t, err)
		assert.InDelta(t, c.a, got[0].Tension, 1e-9)
		assert.InDelta(t, c.b, got[1].Tension, 1e-9)
		assert.InDelta(t, c.press, press[0].Force, 1e-9)
		if c.press > 0 {
			assert.InDelta(t, 0, r2.Norm(r2.Sub(c.way, press[0].Way)), 1e-12)
		}
		assert.Zero(t, press[1].Force)
	}
	two, err := BoltPattern{Name: "rail plate", At: []r2.Vec{{X: -40, Y: 10}, {X: 40, Y: -10}, {X: 0, Y: 30}}}.Seated(r2.Vec{X: -50, Y: -60}, r2.Vec{X: 50, Y: 60})
	require.NoError(t, err)
	assert.False(t, two.InOneRow())
	for name, low := range map[string]r2.Vec{"row on the edge": {X: -50, Y: 10}, "no size": {}, "nan": {X: math.NaN(), Y: -60}} {
		_, err := BoltPattern{Name: "rail plate", At: []r2.Vec{{X: -40, Y: 10}, {X: 40, Y: 10}}}.Seated(low, r2.Vec{X: 50, Y: 60})
		assert.ErrorContains(t, err, "does not stand within the plate's edges", name)
	}
	_, _, err = s.Share(nil, Load{Force: r3.Vec{Z: math.NaN()}})
	assert.ErrorContains(t, err, "rail plate")
	one, err := BoltPattern{Name: "rail plate", At: []r2.Vec{{}}}.Seated(r2.Vec{X: -50, Y: -60}, r2.Vec{X: 50, Y: 60})
	require.NoError(t, err)
	_, _, err = one.Share(nil, Load{Moment: r3.Vec{Z: 5000}})
	assert.ErrorContains(t, err, "cannot hold a twist of 5 N·m")
}

// Whatever acts on it, bolts and edges together balance it: forces and moments, of one
// bolt too, which is a row both ways.
func TestOneRowBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, most float64) float64 { return rapid.Float64Range(-most, most).Draw(t, name) }
		at := r2.Vec{X: draw("x", 20), Y: draw("y", 20)}
		bolts := []r2.Vec{at}
		n := rapid.IntRange(1, 3).Draw(t, "bolts")
		along := rapid.SampledFrom([]r2.Vec{{X: 1}, {Y: 1}}).Draw(t, "along")
		for k := 1; k < n; k++ {
			bolts = append(bolts, r2.Add(at, r2.Scale(float64(12*k), along)))
		}
		s, err := BoltPattern{Name: "plate", At: bolts}.Seated(r2.Vec{X: -70, Y: -80}, r2.Vec{X: 60, Y: 90})
		require.NoError(t, err)
		l := Load{Force: r3.Vec{X: draw("fx", 5000), Y: draw("fy", 5000), Z: draw("fz", 5000)}, At: r3.Vec{Z: draw("z", 60)}, Moment: r3.Vec{X: draw("mx", 2e5), Y: draw("my", 2e5)}}
		if n == 1 { // it holds no twist
			l.At = r3.Vec{X: at.X, Y: at.Y, Z: l.At.Z}
		}
		got, press, err := s.Share(nil, l)
		require.NoError(t, err)
		force, moment := r3.Vec{}, r3.Vec{}
		add := func(p r2.Vec, f r3.Vec) {
			force = r3.Add(force, f)
			moment = r3.Add(moment, r3.Cross(r3.Vec{X: p.X, Y: p.Y}, f))
		}
		middle := r2.Vec{}
		for _, b := range got {
			add(b.At, r3.Vec{X: b.Shear.X, Y: b.Shear.Y, Z: b.Tension})
			middle = r2.Add(middle, r2.Scale(1/float64(n), b.At))
		}
		for _, p := range press {
			if p.Force > 0 {
				add(r2.Add(middle, r2.Scale(p.Lever, p.Way)), r3.Vec{Z: -p.Force})
				edge := r2.Add(middle, r2.Scale(p.Lever, p.Way))
				on := min(math.Abs(edge.X+70), math.Abs(edge.X-60), math.Abs(edge.Y+80), math.Abs(edge.Y-90))
				assert.InDelta(t, 0, on, 1e-9, "it presses at an edge")
			}
		}
		assert.InDelta(t, 0, r3.Norm(r3.Sub(l.Force, force)), 1e-6)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.Add(l.Moment, r3.Cross(l.At, l.Force)), moment)), 1e-3)
	})
}

// Second method: a stiff plate on a bed that can only be pressed, held down by springs that
// can only be pulled. Turned about the row until it holds the moment, its bolts pull what
// balance says as the bed gets hard, and more on a soft one, which presses nearer to them.
func TestOneRowAgainstABed(t *testing.T) {
	const bolts, wide, edge, bolt = 2, 100.0, 70.0, 2e5 // bolt: N/mm each
	solve := func(bed, pull, moment float64) float64 {
		// Lift at the row w and turn by a: pressed where w + a·y < 0, y from -edge up.
		pressed := func(w, a float64) (force, about float64) {
			z := edge - w/a // depth that is pressed, from the edge in
			if z <= 0 {
				return 0, 0
			}
			force = bed * wide * a * z * z / 2
			return force, force * (edge - z/3)
		}
		bisect := func(lo, hi float64, over func(float64) bool) float64 {
			for range 200 {
				if mid := (lo + hi) / 2; over(mid) {
					hi = mid
				} else {
					lo = mid
				}
			}
			return (lo + hi) / 2
		}
		lift := func(a float64) float64 {
			return bisect(0, edge*a+1, func(w float64) bool { f, _ := pressed(w, a); return bolts*bolt*w-f > pull })
		}
		turn := bisect(1e-9, 0.1, func(a float64) bool { _, m := pressed(lift(a), a); return m > moment })
		return bolt * lift(turn)
	}
	s := inRow(t)
	for _, c := range []struct{ pull, moment float64 }{{0, 140000}, {1000, 140000}, {3000, 70000}} {
		got, _, err := s.Share(nil, Load{Force: r3.Vec{Z: c.pull}, At: r3.Vec{Y: 10}, Moment: r3.Vec{X: c.moment}})
		require.NoError(t, err)
		assert.InEpsilon(t, solve(1e7, c.pull, c.moment), got[0].Tension, 2e-3)
		assert.Greater(t, solve(1e2, c.pull, c.moment), got[0].Tension)
	}
}

// A box of 60 in a plate of 200 by 200: the edge is 70 from it, 3760 · 60 / 70. A round
// one against quadrature, whichever way its outline runs; one that reaches the edge does
// not bend the plate at all.
func TestEdgesThatPress(t *testing.T) {
	p := steelPlate()
	for _, way := range []r2.Vec{{X: 1}, {Y: -1}, {X: -1}} {
		got, err := p.Edge(way)
		require.NoError(t, err)
		assert.InDelta(t, 3760*60/70., got.Limit, 1e-9)
		assert.InDelta(t, 60, got.Width, 1e-9)
		assert.InDelta(t, 70, got.Arm, 1e-9)
		assert.InDelta(t, 0, r2.Norm(r2.Sub(r2.Scale(100, way), got.At)), 1e-12)
		assert.InDelta(t, 5000/got.Limit, got.Under(5000).Utilisation, 1e-12)
	}
	p.High.Y = 45
	got, err := p.Edge(r2.Vec{Y: 1})
	require.NoError(t, err)
	assert.InDelta(t, 3760*60/15., got.Limit, 1e-9)
	p.High.Y = 30
	got, err = p.Edge(r2.Vec{Y: 1})
	require.NoError(t, err)
	assert.Zero(t, got.Under(5000).Utilisation)

	const n, r = 2000, 24.0
	want := quad.Fixed(func(f float64) float64 { return r * math.Cos(f) / (50 - r*math.Cos(f)) }, -math.Pi/2, math.Pi/2, 60, quad.Legendre{}, 0)
	for _, turn := range []float64{1, -1} {
		q := steelPlate()
		q.Low, q.High, q.Tube = r2.Vec{X: -50, Y: -50}, r2.Vec{X: 50, Y: 50}, nil
		for i := range n {
			sin, cos := math.Sincos(turn * 2 * math.Pi * float64(i) / n)
			q.Tube = append(q.Tube, r2.Vec{X: r * cos, Y: r * sin})
		}
		got, err := q.Edge(r2.Vec{X: -1})
		require.NoError(t, err)
		assert.InEpsilon(t, 3760*want, got.Limit, 1e-4)
		// Less than the box round it holds, and more than what reaches as far as half of it.
		assert.Less(t, got.Limit, 3760*2*r/(50-r))
		assert.Greater(t, got.Limit, 3760*2*r/50)
	}
}
