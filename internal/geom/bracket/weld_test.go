package bracket

import (
	"math"
	"slices"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

var (
	plain   = WeldStrength{Name: "test", Throat: 100}
	cPoints = func(b, d float64) []r2.Vec { return []r2.Vec{{X: b, Y: 0}, {}, {Y: d}, {X: b, Y: d}} }
)

// Unsworth, Design of Modern Steel Railway Bridges, table 9.1, for b 3 and d 5;
// the same formulas stand in Blodgett, sec. 7.4, and Shigley, tables 9-1, 9-2.
func TestWeldTable(t *testing.T) {
	const b, d = 3.0, 5.0
	for _, c := range []struct {
		name            string
		g               WeldGroup
		l, cx, cy       float64
		ix, iy, j, form float64
	}{
		{"two vertical", WeldGroup{Runs: [][]r2.Vec{{{}, {Y: d}}, {{X: b}, {X: b, Y: d}}}},
			10, 1.5, 2.5, 20.83333, 22.5, 43.33333, d * (3*b*b + d*d) / 6},
		{"box", WeldGroup{Runs: [][]r2.Vec{{{}, {X: b}, {X: b, Y: d}, {Y: d}, {}}}},
			16, 1.5, 2.5, 58.33333, 27.0, 85.33333, math.Pow(b+d, 3) / 6},
		{"C", WeldGroup{Runs: [][]r2.Vec{cPoints(b, d)}},
			11, 0.818182, 2.5, 47.91667, 10.63636, 58.55303,
			(8*b*b*b+6*b*d*d+d*d*d)/12 - b*b*b*b/(2*b+d)},
		{"L", WeldGroup{Runs: [][]r2.Vec{{{X: b}, {}, {Y: d}}}},
			8, 0.5625, 1.5625, 22.13542, 6.46875, 28.60417,
			(math.Pow(b+d, 4) - 6*b*b*d*d) / (12 * (b + d))},
		{"circle", WeldGroup{Arcs: []Arc{{Radius: 1.5, Sweep: 360 * geom.Deg}}},
			3 * math.Pi, 0, 0, 10.602875, 10.602875, 21.205750, 2 * math.Pi * 1.5 * 1.5 * 1.5},
	} {
		got, err := c.g.Line()
		require.NoError(t, err)
		assert.InDelta(t, c.l, got.Length, 1e-9, c.name)
		assert.InDelta(t, c.cx, got.Centroid.X, 5e-7, c.name)
		assert.InDelta(t, c.cy, got.Centroid.Y, 5e-7, c.name)
		assert.InDelta(t, c.ix, got.Ix, 6e-6, c.name)
		assert.InDelta(t, c.iy, got.Iy, 6e-6, c.name)
		assert.InDelta(t, c.j, got.J, 6e-6, c.name)
		assert.InEpsilon(t, c.form, got.J, 1e-9, c.name)
		if c.name == "L" {
			assert.Greater(t, math.Abs(got.Ixy), 1.0, "an L has a product of inertia")
		} else {
			assert.InDelta(t, 0, got.Ixy, 1e-9, c.name)
		}
	}
}

// Shigley's Mechanical Engineering Design, example 9-1 (from memory): C group
// 56 by 190 mm with 6 mm legs, 25 kN at 100 mm beyond the vertical weld on its
// outer side. The book prints 37.0 and 43.9 MPa; its throat is 0.707 of the leg.
func TestWeldedChannelExample(t *testing.T) {
	g := WeldGroup{Name: "bracket", Runs: [][]r2.Vec{cPoints(56, 190)}, Leg: 6}
	l, err := g.Line()
	require.NoError(t, err)
	assert.InDelta(t, 302, l.Length, 1e-9)
	assert.InDelta(t, 10.38411, l.Centroid.X, 5e-6)
	assert.InDelta(t, 1666896, l.J, 0.5)
	assert.InEpsilon(t, 7.07097e6, throat*6*l.J, 2e-4)

	load := Load{Force: r3.Vec{Y: -25000}, At: r3.Vec{X: -100, Y: 95}}
	got, err := g.Stress(load, plain)
	require.NoError(t, err)
	assert.InEpsilon(t, 43.932, got.Throat, 2e-4)
	assert.InDelta(t, 0, got.At.X, 1e-12, "at a corner")
	assert.InEpsilon(t, 19.5147, r3.Norm(got.Direct)/(throat*6), 2e-4)
	assert.InEpsilon(t, 43.9, got.Throat, 2e-3)
	assert.InEpsilon(t, got.Throat/100, got.Utilisation, 1e-12)

	gp, err := g.plane()
	require.NoError(t, err)
	_, m := load.about(gp.centroid)
	assert.InEpsilon(t, 2759.603e3, m.Z, 1e-6)
	field, err := g.field(gp, load)
	require.NoError(t, err)
	at, direct := field.at, field.direct
	for _, c := range []struct{ x, r, twist, all float64 }{{56, 105.384, 41.128, 37.115}, {0, 95.566, 37.297, 43.932}} {
		p := r2.Vec{X: c.x, Y: 190}
		assert.InDelta(t, c.r, r2.Norm(r2.Sub(p, gp.centroid)), 6e-4)
		assert.InEpsilon(t, c.twist, r3.Norm(r3.Sub(at(p), direct))/(throat*6), 2e-4)
		assert.InEpsilon(t, c.all, r3.Norm(at(p))/(throat*6), 2e-4)
	}
}

// Shigley, example 9-4 (from memory): two 2 in welds of 3/8 in hold a
// cantilever with 500 lbf at 6 in; the book has about 8.5 kpsi.
func TestWeldedCantileverExample(t *testing.T) {
	g := WeldGroup{Runs: [][]r2.Vec{{{}, {Y: 2}}, {{X: 0.375}, {X: 0.375, Y: 2}}}, Leg: 0.375}
	l, err := g.Line()
	require.NoError(t, err)
	assert.InDelta(t, 1.33333, l.Ix, 5e-6)
	assert.InEpsilon(t, 1.0605, l.Length*throat*0.375, 2e-4)
	assert.InEpsilon(t, 0.3535, l.Ix*throat*0.375, 2e-4)
	got, err := g.Stress(Load{Force: r3.Vec{Y: -500}, At: r3.Vec{X: 0.1875, Y: 1, Z: 6}}, plain)
	require.NoError(t, err)
	assert.InEpsilon(t, 471.48, math.Abs(got.Force.Y)/(throat*0.375), 2e-4)
	assert.InEpsilon(t, 8486.56, math.Abs(got.Force.Z)/(throat*0.375), 2e-4)
	assert.InEpsilon(t, 8499.65, got.Throat, 2e-4)
}

// EN 1993-1-8, simplified method: S355 with fillets of 6 mm carries 1.01 kN/mm along its
// length, as the section tables print it.
func TestWeldStrengths(t *testing.T) {
	e, err := CodeWeld("", 470, 0.9)
	require.NoError(t, err)
	assert.InDelta(t, 1.01306e3, e.Throat*0.7*6, 5e-3)
	assert.InDelta(t, e.Throat*6/math.Sqrt2, e.PerLength(6), 1e-9)
	assert.Zero(t, e.PerLength(-1))
}

func drawGroup(t *rapid.T) WeldGroup {
	f := func(name string) float64 { return rapid.Float64Range(-80, 80).Draw(t, name) }
	g := WeldGroup{Name: "drawn", Leg: 5, Runs: [][]r2.Vec{{{}, {X: 60, Y: f("y")}, {X: f("x"), Y: 90}}}}
	for range rapid.IntRange(0, 2).Draw(t, "runs") {
		g.Runs = append(g.Runs, []r2.Vec{{X: f("x"), Y: f("y")}, {X: f("x"), Y: 100 + f("y")}})
	}
	for range rapid.IntRange(0, 2).Draw(t, "arcs") {
		g.Arcs = append(g.Arcs, Arc{Centre: r2.Vec{X: f("x"), Y: f("y")}, Radius: 5 + math.Abs(f("r")),
			From: geom.Angle(f("from")), Sweep: geom.Angle(rapid.Float64Range(0.2, 6.28).Draw(t, "sweep"))})
	}
	return g
}

// fine cuts a group into short bits: place and length.
func fine(g WeldGroup, n int) (at []r2.Vec, dl []float64) {
	for _, run := range g.Runs {
		for i := 1; i < len(run); i++ {
			d := r2.Sub(run[i], run[i-1])
			for k := range n {
				at = append(at, r2.Add(run[i-1], r2.Scale((float64(k)+0.5)/float64(n), d)))
				dl = append(dl, r2.Norm(d)/float64(n))
			}
		}
	}
	for _, a := range g.Arcs {
		for k := range n {
			at = append(at, a.at((float64(k)+0.5)/float64(n)))
			dl = append(dl, a.Radius*a.Sweep.Abs().Rad()/float64(n))
		}
	}
	return at, dl
}

// Two second methods: the integrals as fine sums, and the forces along the
// welds summed up, which must balance the load.
func TestWeldsAgainstFineSums(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drawGroup(t)
		l, err := g.Line()
		require.NoError(t, err)
		at, dl := fine(g, 400)
		var length, ix, iy, ixy float64
		for i, p := range at {
			d := r2.Sub(p, l.Centroid)
			length += dl[i]
			ix += d.Y * d.Y * dl[i]
			iy += d.X * d.X * dl[i]
			ixy += d.X * d.Y * dl[i]
		}
		assert.InEpsilon(t, length, l.Length, 1e-9)
		assert.InDelta(t, ix, l.Ix, 2e-5*l.J)
		assert.InDelta(t, iy, l.Iy, 2e-5*l.J)
		assert.InDelta(t, ixy, l.Ixy, 2e-5*l.J)

		v := func(name string) r3.Vec {
			f := rapid.Float64Range(-1000, 1000)
			return r3.Vec{X: f.Draw(t, name), Y: f.Draw(t, name), Z: f.Draw(t, name)}
		}
		load := Load{Force: v("F"), At: r3.Scale(0.1, v("at")), Moment: r3.Scale(100, v("M"))}
		gp, err := g.plane()
		require.NoError(t, err)
		field, err := g.field(gp, load)
		require.NoError(t, err)
		var force, moment r3.Vec
		worst := 0.0
		for i, p := range at {
			q := field.at(p)
			worst = math.Max(worst, r3.Norm(q))
			q = r3.Scale(dl[i], q)
			force = r3.Add(force, q)
			moment = r3.Add(moment, r3.Cross(r3.Vec{X: p.X, Y: p.Y}, q))
		}
		want := r3.Add(load.Moment, r3.Cross(load.At, load.Force))
		scale := 1 + r3.Norm(want) + 100*r3.Norm(load.Force)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(force, load.Force)), 1e-4*scale)
		assert.InDelta(t, 0, r3.Norm(r3.Sub(moment, want)), 1e-3*scale)

		got, err := g.Stress(load, plain)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, got.PerLength, worst*(1-1e-9))
		assert.InEpsilon(t, worst, got.PerLength, 0.03, "the ends of the fine bits are missing from the sum")
	})
}

func TestWeldsRefused(t *testing.T) {
	line := WeldGroup{Name: "foot", Runs: [][]r2.Vec{{{}, {X: 50}}}, Leg: 5}
	nan := math.NaN()
	for name, f := range map[string]func() error{
		"nothing": func() error { _, err := WeldGroup{Name: "foot"}.Line(); return err },
		"a dot":   func() error { _, err := WeldGroup{Name: "foot", Runs: [][]r2.Vec{{{}, {}}}}.Line(); return err },
		"one":     func() error { _, err := WeldGroup{Name: "foot", Runs: [][]r2.Vec{{{}}}}.Line(); return err },
		"nan":     func() error { _, err := WeldGroup{Name: "foot", Runs: [][]r2.Vec{{{X: nan}, {}}}}.Line(); return err },
		"arc":     func() error { _, err := WeldGroup{Name: "foot", Arcs: []Arc{{Radius: 1, Sweep: 7}}}.Line(); return err },
		"leg":     func() error { g := line; g.Leg = 0; _, err := g.Stress(Load{}, plain); return err },
		"bent about itself": func() error {
			_, err := line.Stress(Load{Moment: r3.Vec{X: 1000}}, plain)
			return err
		},
		"load":     func() error { _, err := line.Stress(Load{Force: r3.Vec{X: nan}}, plain); return err },
		"strength": func() error { _, err := line.Stress(Load{}, WeldStrength{}); return err },
		"code":     func() error { _, err := CodeWeld("foot", 0, 0.9); return err },
		"beta":     func() error { _, err := CodeWeld("foot", 470, 0); return err },
	} {
		assert.ErrorContains(t, f(), "foot", name)
	}
	_, err := line.Stress(Load{Moment: r3.Vec{Y: 1000}}, plain)
	assert.NoError(t, err, "across its length a line can be bent")
}

func BenchmarkWeldStress(b *testing.B) {
	g := WeldGroup{Runs: [][]r2.Vec{{{}, {X: 50}, {X: 50, Y: 50}, {Y: 50}, {}}}, Leg: 5}
	l := Load{Force: r3.Vec{X: 1000, Y: 500, Z: 200}, At: r3.Vec{Z: 200}}
	for b.Loop() {
		if _, err := g.Stress(l, plain); err != nil {
			b.Fatal(err)
		}
	}
}

// Places reach every end and leave no gap; the largest force at them is that of
// the group to what a step leaves out.
func TestPlacesAlongAWeld(t *testing.T) {
	ready, err := WeldGroup{Leg: 3, Runs: [][]r2.Vec{{{X: -20, Y: -25}, {X: 30, Y: -25}}},
		Arcs: []Arc{{Centre: r2.Vec{Y: 20}, Radius: 10, Sweep: math.Pi}},
		Bows: []Bow{{Centre: r2.Vec{X: 60}, A: r2.Vec{X: 20}, B: r2.Vec{Y: 12}, Sweep: 2 * math.Pi}}}.Ready()
	require.NoError(t, err)
	places := ready.Places(3)
	gaps := 0
	for i, p := range places[1:] {
		if r2.Norm(r2.Sub(p, places[i])) > 3+1e-9 {
			gaps++
		}
	}
	assert.Equal(t, 2, gaps, "between run, arc and bow")
	for _, end := range []r2.Vec{{X: -20, Y: -25}, {X: 30, Y: -25}, {X: 10, Y: 20}, {X: -10, Y: 20}, {X: 80}} {
		assert.True(t, slices.ContainsFunc(places, func(p r2.Vec) bool { return r2.Norm(r2.Sub(p, end)) < 1e-9 }), "%v", end)
	}
	load := Load{Force: r3.Vec{X: 100, Y: -2000, Z: 900}, At: r3.Vec{X: 10, Y: 5, Z: 150}}
	stress, err := ready.Stress(load, WeldStrength{Throat: 1})
	require.NoError(t, err)
	fs, err := ready.Forces(nil, load, places)
	require.NoError(t, err)
	most := 0.0
	for _, f := range fs {
		most = max(most, r3.Norm(f))
	}
	assert.InEpsilon(t, stress.PerLength, most, 0.01)
	_, err = ready.Forces(nil, Load{Force: r3.Vec{X: math.NaN()}}, places)
	require.Error(t, err)
}
