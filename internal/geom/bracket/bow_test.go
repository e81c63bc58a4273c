package bracket

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A bow with two equal half axes square to each other is an arc, which has its
// integrals in closed form.
func TestBowIsAnArc(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(lo, hi float64, name string) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		r, c := f(2, 80, "r"), r2.Vec{X: f(-50, 50, "x"), Y: f(-50, 50, "y")}
		from, sweep := geom.Angle(f(-6, 6, "from")), geom.Angle(f(0.2, 6.28, "sweep"))
		line := []r2.Vec{{X: 100}, {X: 100, Y: 40}}
		arc, err := WeldGroup{Runs: [][]r2.Vec{line}, Arcs: []Arc{{Centre: c, Radius: r, From: from, Sweep: sweep}}}.Line()
		require.NoError(t, err)
		bow, err := WeldGroup{Runs: [][]r2.Vec{line}, Bows: []Bow{{c, r2.Vec{X: r}, r2.Vec{Y: r}, from, sweep}}}.Line()
		require.NoError(t, err)
		assert.InEpsilon(t, arc.Length, bow.Length, 1e-12)
		assert.InDelta(t, 0, r2.Norm(r2.Sub(arc.Centroid, bow.Centroid)), 1e-9)
		assert.InDelta(t, arc.Ix, bow.Ix, 1e-9*arc.J)
		assert.InDelta(t, arc.Iy, bow.Iy, 1e-9*arc.J)
		assert.InDelta(t, arc.Ixy, bow.Ixy, 1e-9*arc.J)
	})
}

// The perimeter of an ellipse with half axes 2 and 1 is 4·2·E(k²=3/4) =
// 9.688448220547675 (complete elliptic integral, Abramowitz and Stegun, table
// 17.1: E = 1.211056027568459).
func TestBowOfAnEllipse(t *testing.T) {
	l, err := WeldGroup{Bows: []Bow{{A: r2.Vec{X: 2}, B: r2.Vec{Y: 1}, Sweep: 360 * geom.Deg}}}.Line()
	require.NoError(t, err)
	assert.InDelta(t, 9.688448220547675, l.Length, 1e-12)
	assert.InDelta(t, 0, r2.Norm(l.Centroid), 1e-12)
}

// The edge of a cut tube against the true outline walked in ten thousand short
// steps around the section and carried onto the slanting face: length, second
// moments and the largest force, by another method.
func TestEdgeAgainstTheWalkedOutline(t *testing.T) {
	for name, s := range map[string]section.Shape{
		"box":   {Kind: section.RectTube, Corner: section.CornerCold, B: 60, H: 40, T: 5},
		"round": {Kind: section.RoundTube, H: 48.3, T: 3},
		"bar":   {Kind: section.FlatBar, B: 50, H: 12},
	} {
		c, err := Leg{Shape: s, Pad: Face{r3.Vec{}, r3.Vec{X: 1, Y: 0.1}},
			Rail: Face{r3.Vec{X: 300}, r3.Vec{X: -1, Y: -0.5, Z: 0.4}}}.Cut()
		require.NoError(t, err, name)
		pose, err := FacePose(name, Face{c.Rail.At, r3.Vec{X: -1, Y: -0.5, Z: 0.4}}, r3.Vec{})
		require.NoError(t, err)
		e := c.Edge(true, pose)
		g := WeldGroup{Name: name, Leg: 3, Bows: e.Corners}
		for _, side := range e.Sides {
			if len(side) > 0 {
				g.Runs = append(g.Runs, side)
			}
		}
		walked := OnFace(pose, c.Outline(true, 1000))
		w := WeldGroup{Name: name, Leg: 3, Runs: [][]r2.Vec{append(walked, walked[0])}}
		got, err := g.Line()
		require.NoError(t, err, name)
		want, err := w.Line()
		require.NoError(t, err, name)
		assert.InEpsilon(t, want.Length, got.Length, 1e-6, name)
		assert.InDelta(t, 0, r2.Norm(r2.Sub(want.Centroid, got.Centroid)), 1e-5, name)
		assert.InDelta(t, want.Ix, got.Ix, 1e-6*want.J, name)
		assert.InDelta(t, want.Iy, got.Iy, 1e-6*want.J, name)
		assert.InDelta(t, want.Ixy, got.Ixy, 1e-6*want.J, name)
		load := Load{Force: r3.Vec{X: 800, Y: -500, Z: 300}, At: r3.Vec{X: 20, Y: 40, Z: 250}}
		a, err := g.Stress(load, plain)
		require.NoError(t, err)
		b, err := w.Stress(load, plain)
		require.NoError(t, err)
		assert.InEpsilon(t, b.PerLength, a.PerLength, 1e-5, name)
	}
}

// A square cut of SHS 60x60x5 has corners of 10 mm outside (EN 10219-2: 2T), so
// a flat of 40 mm on each side: a weld on two sides is 2 x 40 long, not 2 x 60,
// and holds (60/40)² = 2.25 times less where bent along its flats.
func TestASideEndsWithItsFlat(t *testing.T) {
	c, err := Leg{Shape: section.Shape{Kind: section.RectTube, Corner: section.CornerCold, B: 60, H: 60, T: 5},
		Pad: Face{r3.Vec{}, r3.Vec{X: 1}}, Rail: Face{r3.Vec{X: 300}, r3.Vec{X: -1}}}.Cut()
	require.NoError(t, err)
	pose, err := FacePose("", Face{c.Rail.At, r3.Vec{X: -1}}, r3.Vec{})
	require.NoError(t, err)
	e := c.Edge(true, pose)
	require.Len(t, e.Corners, 4)
	for side, p := range e.Sides {
		require.Len(t, p, 2)
		assert.InDelta(t, 40, r2.Norm(r2.Sub(p[1], p[0])), 1e-9)
		mid := r2.Scale(0.5, r2.Add(p[0], p[1]))
		assert.InDelta(t, 30, r2.Norm(mid), 1e-9)
		if Side(side) == Top {
			assert.InDelta(t, 30, mid.Y, 1e-9)
		}
		if Side(side) == Bottom {
			assert.InDelta(t, -30, mid.Y, 1e-9)
		}
	}
	two := WeldGroup{Leg: 5, Runs: [][]r2.Vec{e.Sides[Left], e.Sides[Right]}}
	sharp := WeldGroup{Leg: 5, Runs: [][]r2.Vec{{{X: 30, Y: 30}, {X: 30, Y: -30}}, {{X: -30, Y: 30}, {X: -30, Y: -30}}}}
	load := Load{Moment: r3.Vec{X: 1e6}}
	a, err := two.Stress(load, plain)
	require.NoError(t, err)
	b, err := sharp.Stress(load, plain)
	require.NoError(t, err)
	assert.InEpsilon(t, 2.25, a.PerLength/b.PerLength, 1e-9)
	all := WeldGroup{Runs: [][]r2.Vec{e.Sides[0], e.Sides[1], e.Sides[2], e.Sides[3]}, Bows: e.Corners}
	l, err := all.Line()
	require.NoError(t, err)
	assert.InDelta(t, 4*40+2*math.Pi*10, l.Length, 1e-9)
}

// DIN 18800-1, element 519: a throat of at most 0.7 of the thinner part; AISC
// 360, table J2.4, in mm (both from memory).
func TestFilletSizes(t *testing.T) {
	assert.InDelta(t, 0.7*4, FilletMost(4)*throat, 0.03)
	for thin, want := range map[float64]float64{3: 3, 6: 3, 6.1: 5, 13: 5, 13.1: 6, 19: 6, 19.1: 8, 40: 8} {
		assert.Equal(t, want, FilletLeast(thin), thin)
	}
}

func TestBowsRefused(t *testing.T) {
	for name, b := range map[string]Bow{
		"no size":   {Sweep: 1},
		"no sweep":  {A: r2.Vec{X: 1}, B: r2.Vec{Y: 1}},
		"too far":   {A: r2.Vec{X: 1}, B: r2.Vec{Y: 1}, Sweep: 7},
		"nan":       {A: r2.Vec{X: math.NaN()}, B: r2.Vec{Y: 1}, Sweep: 1},
		"far away":  {Centre: r2.Vec{X: 1e9}, A: r2.Vec{X: 1}, B: r2.Vec{Y: 1}, Sweep: 1},
		"nan start": {A: r2.Vec{X: 1}, B: r2.Vec{Y: 1}, Sweep: 1, From: geom.Angle(math.NaN())},
	} {
		_, err := WeldGroup{Name: "foot", Bows: []Bow{b}}.Line()
		assert.ErrorContains(t, err, "foot", name)
	}
}
