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

// slowWorst is the search along a bow without places worked out beforehand.
func slowWorst(w Bow, square func(r2.Vec) float64) r2.Vec {
	n := int(math.Ceil(w.Sweep.Abs().Rad() / (math.Pi / 10)))
	step := 1 / float64(n)
	best, value := 0.0, math.Inf(-1)
	take := func(t float64) float64 {
		v := square(w.at(t))
		if v > value {
			best, value = t, v
		}
		return v
	}
	for i := range n + 1 {
		take(float64(i) * step)
	}
	for range 2 {
		t := min(max(best, step), 1-step)
		if n == 1 {
			t, step = 0.5, 0.5
		}
		lo, mid, hi := take(t-step), take(t), take(t+step)
		if bend := lo - 2*mid + hi; bend < 0 {
			take(min(max(t+step/2*(lo-hi)/bend, 0), 1))
		}
		step /= 8
	}
	return w.at(best)
}

// The places worked out once serve every load: the size of the force is
// nowhere under that of the slow search, and that of a fine one.
func TestWorstOfABowIsThatOfTheSlowSearch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-100, 100)
		v2 := func(name string) r2.Vec { return r2.Vec{X: f.Draw(t, name), Y: f.Draw(t, name)} }
		b := Bow{Centre: v2("centre"), A: r2.Vec{X: 5 + math.Abs(f.Draw(t, "a"))}, B: r2.Vec{Y: 5 + math.Abs(f.Draw(t, "b"))},
			From: geom.Angle(f.Draw(t, "from")), Sweep: geom.Angle(rapid.Float64Range(0.05, 2*math.Pi).Draw(t, "sweep"))}
		field := forceField{centroid: v2("centroid"), direct: r3.Vec{X: f.Draw(t, "x"), Y: f.Draw(t, "y"), Z: f.Draw(t, "z")},
			turn: f.Draw(t, "turn") / 50, b: f.Draw(t, "by x") / 50, c: f.Draw(t, "by y") / 50,
			more: rapid.SampledFrom([]float64{0, 2}).Draw(t, "more")}
		places := b.places()
		for range 2 { // and leaves nothing behind
			got := field.square(b.worst(&field, places))
			slow := field.square(slowWorst(b, field.square))
			assert.GreaterOrEqual(t, got, slow*(1-1e-9))
			fine := 0.0
			for i := range 2000 {
				fine = max(fine, field.square(b.at(float64(i)/1999)))
			}
			assert.LessOrEqual(t, fine, got*(1+1e-4))
			if slow > fine*(1-1e-4) { // it may follow up the lower of two tops
				assert.InEpsilon(t, slow, got, 1e-4)
			}
		}
	})
}

// A bow so short that only its ends are looked at first still shows a top between them.
func TestWorstOfAShortBow(t *testing.T) {
	b := Bow{Centre: r2.Vec{X: -0.33568286895751953}, A: r2.Vec{X: 46.692874338197726}, B: r2.Vec{Y: 19}, From: 0.005649089813232422, Sweep: 0.2318696580325914}
	field := forceField{direct: r3.Vec{X: -1.103035404374225, Y: -0.08860063319407763, Z: 84.87025669122802},
		turn: -1.7824314832687378 / 50, b: -2, c: -3.587402395717279 / 50, more: 2}
	fine := 0.0
	for i := range 20000 {
		fine = max(fine, field.square(b.at(float64(i)/19999)))
	}
	assert.GreaterOrEqual(t, field.square(b.worst(&field, b.places())), fine*(1-1e-9))
}

func BenchmarkReadyWeldStress(b *testing.B) {
	g := WeldGroup{Name: "round", Leg: 5, Bows: []Bow{{A: r2.Vec{X: 30}, B: r2.Vec{Y: 24}, Sweep: 2 * math.Pi}}}
	ready, err := g.Ready()
	require.NoError(b, err)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := ready.Stress(Load{Force: r3.Vec{X: 900, Y: 300, Z: -4000}, At: r3.Vec{X: 20, Z: 180}}, plain); err != nil {
			b.Fatal(err)
		}
	}
}

// The polygon round a bow holds all of it: no force that is straight in the place
// is larger on the bow than at some corner.
func TestHullHoldsTheBow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-100, 100)
		v2 := func(name string) r2.Vec { return r2.Vec{X: f.Draw(t, name), Y: f.Draw(t, name)} }
		b := Bow{Centre: v2("centre"), A: v2("a"), B: v2("b"), From: geom.Angle(f.Draw(t, "from")),
			Sweep: geom.Angle(rapid.OneOf(rapid.Float64Range(-2*math.Pi, 2*math.Pi), rapid.SampledFrom([]float64{math.Pi / 2, 2 * math.Pi})).Draw(t, "sweep"))}
		way := v2("way")
		high, most := math.Inf(-1), math.Inf(-1)
		for _, p := range b.hull() {
			high = max(high, r2.Dot(p, way))
		}
		for i := range 101 {
			most = max(most, r2.Dot(b.at(float64(i)/100), way))
		}
		assert.LessOrEqual(t, most, high+1e-9*(1+math.Abs(high)))
	})
}

// The stress beside a weld against the same group walked in short steps, and by
// hand: two upright lines that share a force along them have nothing but shear,
// √3 F/(2 d t).
func TestBesideAWeld(t *testing.T) {
	two, err := WeldGroup{Leg: 3, Runs: [][]r2.Vec{{{X: -20, Y: -25}, {X: -20, Y: 25}}, {{X: 20, Y: -25}, {X: 20, Y: 25}}}}.Ready()
	require.NoError(t, err)
	got, err := two.Beside(Load{Force: r3.Vec{Y: 4000}}, 4)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Sqrt(3)*4000/(2*50*4), got, 1e-12)
	got, err = two.Beside(Load{Force: r3.Vec{Z: 4000}}, 4)
	require.NoError(t, err)
	assert.InEpsilon(t, 4000/(2*50*4.0), got, 1e-12)
	_, err = two.Beside(Load{}, 0)
	require.Error(t, err)

	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-1000, 1000)
		v3 := func(name string) r3.Vec { return r3.Vec{X: f.Draw(t, name), Y: f.Draw(t, name), Z: f.Draw(t, name)} }
		g := WeldGroup{Leg: 3, Bows: []Bow{{A: r2.Vec{X: 30}, B: r2.Vec{Y: 24}, Sweep: 2 * math.Pi}}}
		ready, err := g.Ready()
		require.NoError(t, err)
		l := Load{Force: v3("force"), At: v3("at")}
		got, err := ready.Beside(l, 3)
		require.NoError(t, err)
		field, err := g.field(ready.g, l)
		require.NoError(t, err)
		most := 0.0
		for i := range 2000 {
			v := field.at(g.Bows[0].at(float64(i) / 2000))
			most = max(most, math.Sqrt(v.Z*v.Z+3*(v.X*v.X+v.Y*v.Y))/3)
		}
		assert.InDelta(t, most, got, 1e-5*most+1e-12)
	})
}
