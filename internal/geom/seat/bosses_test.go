package seat

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// By hand: four bosses of a square, one of them 0.4 mm back. A plate lies on the other
// three, or rocks over to that one, and leaves the one across from it 0.4 mm: no less. A
// fifth in the middle that stands out by 0.1 is then lain on.
func TestBossesByHand(t *testing.T) {
	b := Bosses{At: []r3.Vec{{X: -50, Y: -200, Z: 50}, {X: 50, Y: -200, Z: 50}, {X: 50, Y: -200, Z: -50}, {X: -50, Y: -199.6, Z: -50}}, Facing: r3.Vec{Y: -1}}
	point, normal, below, err := b.Face()
	require.NoError(t, err)
	assert.Less(t, normal.Y, -0.9999)
	most := 0.0
	for _, d := range below {
		most = max(most, d)
	}
	assert.InDelta(t, 0.4, most, 1e-4)
	assert.InDelta(t, 0.4, r3.Norm(r3.Vec{X: below[0], Y: below[1], Z: below[2] + below[3]}), 1e-4, "only one of them")
	assert.InDelta(t, 0, r3.Dot(normal, r3.Sub(b.At[0], point)), 1e-9)
	out := Bosses{At: append(slices.Clone(b.At[:3]), r3.Vec{X: -50, Y: -200, Z: -50}, r3.Vec{Y: -200.1}), Facing: r3.Vec{Y: -1}}
	_, _, below, err = out.Face()
	require.NoError(t, err)
	assert.Zero(t, below[4])
	flat := Bosses{At: []r3.Vec{{X: -50, Y: -200, Z: 50}, {X: 50, Y: -200, Z: 50}, {X: 0, Y: -200, Z: -50}}, Facing: r3.Vec{X: -0.5, Y: -1}}
	at, err := flat.Stacked(r3.Vec{X: 12, Y: -201, Z: 7}, 20)
	require.NoError(t, err)
	assert.InDelta(t, 0, r3.Norm(r3.Sub(at, r3.Vec{X: 12, Y: -220, Z: 7})), 1e-9)
}

// Turned bosses make a turned face, none of them is before it, and one touches it; a pad
// on it goes out by the stack, square to it.
func TestTurnedBosses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 7).Draw(t, "n")
		u := r3.Unit(r3.Vec{X: rapid.Float64Range(-1, 1).Draw(t, "x"), Y: 1, Z: rapid.Float64Range(-1, 1).Draw(t, "z")})
		v := r3.Unit(r3.Cross(u, r3.Vec{X: 0.3, Y: 0.2, Z: 1}))
		w := r3.Cross(u, v)
		b := Bosses{Facing: r3.Add(u, r3.Scale(rapid.Float64Range(-0.5, 0.5).Draw(t, "off"), v))}
		for i := range n {
			a := 2 * math.Pi * float64(i) / float64(n)
			r := rapid.Float64Range(40, 120).Draw(t, "r")
			b.At = append(b.At, r3.Add(r3.Vec{X: 30, Y: -200, Z: 10}, r3.Add(r3.Scale(r*math.Cos(a), v),
				r3.Add(r3.Scale(r*math.Sin(a), w), r3.Scale(rapid.Float64Range(-0.5, 0.5).Draw(t, "back"), u)))))
		}
		point, normal, below, err := b.Face()
		if err != nil {
			t.Fatal(err)
		}
		least := math.Inf(1)
		for _, d := range below {
			least = min(least, d)
		}
		if math.Abs(least) > 1e-9 || math.Abs(r3.Norm(normal)-1) > 1e-12 || r3.Dot(normal, u) < 0.99 {
			t.Fatalf("least %g, normal %v of %v", least, normal, u)
		}
		at, err := b.Stacked(point, 17)
		if err != nil || math.Abs(r3.Norm(r3.Sub(at, point))-17) > 1e-9 || math.Abs(r3.Dot(normal, r3.Sub(at, point))-17) > 1e-9 {
			t.Fatalf("%v %v", at, err)
		}
	})
}

func TestBossesThatAreNoFace(t *testing.T) {
	row := []r3.Vec{{X: -50, Y: -200}, {X: 0, Y: -200, Z: 1}, {X: 50, Y: -200}}
	good := []r3.Vec{{X: -50, Y: -200}, {X: 50, Y: -200}, {Y: -200, Z: 60}}
	for _, c := range []struct {
		b    Bosses
		says string
	}{
		{Bosses{At: row[:2], Facing: r3.Vec{Y: -1}}, "2 bosses are no face"},
		{Bosses{At: row, Facing: r3.Vec{Y: -1}}, "in one line"},
		{Bosses{At: good}, "which way they look"},
		{Bosses{At: good, Facing: r3.Vec{X: 1, Y: -0.1}}, "look 84° away"},
		{Bosses{At: append([]r3.Vec{{X: math.NaN()}}, good...), Facing: r3.Vec{Y: -1}}, "boss 1 is not at a usable place"},
	} {
		_, _, _, err := c.b.Face()
		require.ErrorContains(t, err, c.says)
	}
	_, err := Bosses{At: good, Facing: r3.Vec{Y: -1}}.Stacked(r3.Vec{Y: -212}, 12)
	require.ErrorContains(t, err, "12.0 mm off the face of the bosses")
	_, err = Bosses{At: good, Facing: r3.Vec{Y: -1}}.Stacked(r3.Vec{Y: -190}, 12)
	require.ErrorContains(t, err, "10.0 mm behind")
}
