package rigid

import (
	"context"
	"math"
	"slices"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/tape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// group is two bodies and a point, with what is between them and the vehicle.
func group() *Group {
	g := &Group{Parts: []Part{
		{Reference: r3.Vec{X: 200, Z: 50}, Start: geom.Orient(4*geom.Deg, 1*geom.Deg, -2*geom.Deg, r3.Vec{X: 250, Y: 5})},
		{Point: true, Start: placed(r3.Vec{X: 1800, Y: 10, Z: -150})},
		{Start: geom.Orient(-3*geom.Deg, 2*geom.Deg, 1*geom.Deg, r3.Vec{X: 3000, Z: -280})},
	}}
	own, two, far := r3.Vec{X: 1400, Y: 20, Z: -10}, r3.Vec{X: -100, Z: 300}, r3.Vec{X: 90, Y: -60, Z: 30}
	for _, m := range []Measure{
		{Kind: Distance, Own: own, A: r3.Vec{X: 600, Y: -400}},
		{Kind: Distance, Own: own, On: 2},
		{Kind: Distance, Part: 2, Own: far, On: 1, A: two},
		{Kind: Rise, Part: 1, On: 3, A: far},
		{Kind: Rise, Part: 2, Own: far, A: r3.Vec{Z: -20}},
		{Kind: Coordinate, Part: 1, Axis: 1},
		{Kind: Fall, Own: own, On: 2},
		{Kind: Fall, Part: 1, On: 3},
		{Kind: Fall, Part: Vehicle, Own: r3.Vec{X: 1000}, On: 2},
		{Kind: Course, Own: own, On: 2},
		{Kind: Course, Part: 1, On: 3},
		{Kind: Course, Part: Vehicle, Own: r3.Vec{X: 1000}, On: 2},
		{Kind: Course, Part: 2, Own: far, On: 1, A: two},
		{Kind: Along, Part: 2}, {Kind: Across, Part: 2}, {Kind: Aim, Part: 2},
		{Kind: Over, Part: 2, Own: far, Other: two},
		{Kind: Beside, Part: 2, Own: far, A: r3.Vec{Y: 300}, B: r3.Vec{X: 4000, Y: 310}},
	} {
		m.Sigma = 1
		g.Measures = append(g.Measures, m)
	}
	return g
}

func placed(at r3.Vec) geom.Pose {
	p := geom.Identity()
	p.At = at
	return p
}

// What each unknown does to each measurement is what comes of a step of it.
func TestPartialsOfAGroup(t *testing.T) {
	g := group()
	p := g.Problem()
	require.Len(t, p.Start, 6+3+6)
	assert.Equal(t, len(p.Start), g.First(3))
	steps := g.Steps(p.Start)
	require.Len(t, steps, len(p.Start))
	for i, o := range p.Observations {
		got := make([]float64, len(p.Start))
		o.Of.Partials(p.Start, func(u int, d float64) { got[u] += d })
		for u, b := range steps {
			want := (g.Measures[i].Shown(b.More...) - g.Measures[i].Shown(b.Less...)) / (2 * b.Step)
			assert.InDelta(t, want, got[u], 1e-5*max(1, math.Abs(want)), "measure %d, unknown %d", i, u)
			assert.Equal(t, b.Step < 1e-3, g.Turns(u))
		}
	}
}

// A line runs to the right as its rear end does, whichever end it is seen from, and as the
// heading of a body says that lies along it.
func TestTheCourseOfALine(t *testing.T) {
	m := Measure{Kind: Course, Part: Vehicle, Own: r3.Vec{X: 100, Y: 20, Z: 7}, A: r3.Vec{X: 1100, Y: 20 + 1000*math.Tan(0.05), Z: -90}}
	assert.InDelta(t, 0.05, m.Shown(), 1e-12)
	m.Own, m.A = m.A, m.Own
	assert.InDelta(t, 0.05, m.Shown(), 1e-12)
	p := geom.Orient(5*geom.Deg, -3*geom.Deg, 9*geom.Deg, r3.Vec{X: 3, Y: 4, Z: 5})
	m = Measure{Kind: Course, Own: r3.Vec{X: -20}, On: 1, A: r3.Vec{X: 700}}
	assert.InDelta(t, p.Heading().Rad(), m.Shown(p), 1e-12)
	assert.InDelta(t, -3*geom.Deg.Rad(), m.Shown(p), 1e-12)
}

// Two bodies and a point are found again from what was measured between them.
func TestAGroupIsFoundAgain(t *testing.T) {
	g := group()
	truth := g.Problem().Start
	is := g.Poses(truth)
	g.Measures = nil
	add := func(m Measure) {
		m.Value, m.Sigma = m.Shown(is...), 0.5
		if m.Kind == Along || m.Kind == Fall {
			m.Sigma = 1e-3
		}
		g.Measures = append(g.Measures, m)
	}
	rails := []r3.Vec{{X: 600, Y: -400, Z: -20}, {X: 600, Y: 400, Z: -25}, {X: 2400, Y: -380, Z: 10}}
	for part, own := range map[int][]r3.Vec{0: {{X: -150}, {X: 1400}, {X: 300, Y: 180, Z: 380}}, 2: {{}, {Y: 500, Z: 40}, {X: 100, Y: -480, Z: 90}}} {
		for _, o := range own {
			for _, r := range rails {
				add(Measure{Kind: Distance, Part: part, Own: o, A: r})
			}
			add(Measure{Kind: Rise, Part: part, Own: o, A: rails[0]})
		}
	}
	// The point by nothing but the two bodies: tapes from both, and the gauge on two shafts.
	add(Measure{Kind: Distance, Part: 0, Own: r3.Vec{X: 1400}, On: 2})
	add(Measure{Kind: Distance, Part: 2, On: 2})
	add(Measure{Kind: Fall, Part: 0, Own: r3.Vec{X: 1400}, On: 2})
	add(Measure{Kind: Fall, Part: 1, On: 3})
	add(Measure{Kind: Distance, Part: 1, A: rails[2]})
	for i := range g.Parts { // from somewhere else
		s := &g.Parts[i].Start
		s.At = r3.Add(s.At, r3.Vec{X: 15, Y: -8, Z: 12})
	}
	f, err := tape.Solve(context.Background(), g.Problem())
	require.NoError(t, err)
	for u, want := range truth {
		assert.InDelta(t, want, f.X[u], 1e-5, "unknown %d", u)
	}
	assert.True(t, slices.ContainsFunc(f.Each, func(e tape.Residual) bool { return e.Redundancy > 0.1 }))
}
