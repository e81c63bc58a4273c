package bracket

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// leftLeg leans back and out from a tilted isolator pad to the inside of the
// left rail, off the straight line to the rail's point.
func leftLeg() Leg {
	return Leg{Name: "left", Shape: tube(40, 60, 3),
		Pad:      Face{r3.Vec{X: 220, Y: -180, Z: 60}, r3.Vec{X: 0.1, Y: -0.6, Z: -0.7}},
		Rail:     Face{r3.Vec{X: 200, Y: -390, Z: -20}, r3.Vec{X: 0.02, Y: 1, Z: 0.01}},
		Axis:     r3.Vec{X: 0.15, Y: -1, Z: -0.5},
		Up:       r3.Vec{X: 0.1, Z: 1},
		PadPlate: 6, RailPlate: 8,
	}
}

func near(t require.TestingT, a, b r3.Vec, tol float64) {
	assert.InDelta(t, 0, r3.Norm(r3.Sub(a, b)), tol)
}

// Mirrored rails give the mirror image exactly: the same lengths, the same
// angles, mitres with the other sense, and a foot at the mirrored place.
func TestMirroredRails(t *testing.T) {
	first := leftLeg()
	a, err := first.Cut()
	require.NoError(t, err)
	const centre = 12.5
	m := first.Mirrored(centre)
	for _, mark := range []bool{false, true} {
		got, err := Match("right", first, centre, Site{Pad: m.Pad, Rail: m.Rail, SameMark: mark})
		require.NoError(t, err)
		near(t, r3.Vec{X: a.Foot.X, Y: 2*centre - a.Foot.Y, Z: a.Foot.Z}, got.Cut.Foot, 1e-9)
		for _, d := range got.Differences {
			assert.InDelta(t, 0, d.By(), 1e-9, d.Name)
		}
		b := got.Cut
		assert.InDelta(t, a.Length, b.Length, 1e-9)
		assert.InDelta(t, a.LongPoint, b.LongPoint, 1e-9)
		assert.InDelta(t, a.Overall, b.Overall, 1e-9)
		// Bottom stays bottom; what was left is right.
		for _, e := range [][2]End{{a.Pad, b.Pad}, {a.Rail, b.Rail}} {
			assert.InDelta(t, e[0].Saw[Bottom].Mitre.Rad(), -e[1].Saw[Bottom].Mitre.Rad(), 1e-9)
			assert.InDelta(t, e[0].Saw[Bottom].Tilt.Rad(), e[1].Saw[Bottom].Tilt.Rad(), 1e-9)
		}
		assert.InDelta(t, a.Sides[Left], b.Sides[Right], 1e-9)
		assert.InDelta(t, a.Sides[Top], b.Sides[Top], 1e-9)
		assert.InDelta(t, 0, got.PadMiss, 1e-9)
		assert.InDelta(t, 0, got.RailMiss, 1e-9)
		assert.Equal(t, "right", got.Leg.Name)
	}
}

// Rails that differ by 6 mm and 1.2°: the leg lands on both pads within 0.01
// mm, and the plain mirror image would not.
func TestRailsThatDiffer(t *testing.T) {
	first := leftLeg()
	m := first.Mirrored(0)
	for _, about := range []r3.Vec{{X: 1}, {Z: 1}, {X: 0.5, Z: -0.5}} {
		turn, err := geom.Turn(m.Rail.Point, about, 1.2*geom.Deg)
		require.NoError(t, err)
		site := Site{Pad: m.Pad, Rail: Face{r3.Add(m.Rail.Point, r3.Vec{Y: 6}), turn.Dir(m.Rail.Normal)}}
		for _, mark := range []bool{false, true} {
			site.SameMark = mark
			got, err := Match("right", first, 0, site)
			require.NoError(t, err)
			assert.Less(t, worst(site.Pad, first.PadPlate, got.Cut.Outline(false, 9)), 0.01)
			assert.Less(t, worst(site.Rail, first.RailPlate, got.Cut.Outline(true, 9)), 0.01)
			off, err := site.Rail.Off(got.Cut.Foot)
			require.NoError(t, err)
			assert.InDelta(t, 0, off, 0.01)
			assert.Greater(t, got.RailMiss, 5.0)
			assert.InDelta(t, 0, got.PadMiss, 1e-9)
			by := map[string]float64{}
			for _, d := range got.Differences {
				by[d.Name] = d.By()
			}
			assert.Len(t, by, len(got.Differences), "every line has its own name")
			assert.InDelta(t, 6, by["length on the axis"], 2.5)
			assert.InDelta(t, 6, by["foot offset"], 2.5)
			if !mark { // as near the mirror image as the rail lets it be
				assert.Less(t, r3.Norm(r3.Sub(got.Cut.Foot, got.MirrorCut.Foot)), 8.5)
			}
		}
	}
}

// A second method: whatever the other side is like, the leg starts at its pad,
// lies on both faces, and every line of its outside ends on the planes.
func TestMatchLands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(r float64, name string) float64 { return rapid.Float64Range(-r, r).Draw(t, name) }
		v := func(r float64, name string) r3.Vec { return r3.Vec{X: f(r, name), Y: f(r, name), Z: f(r, name)} }
		first := leftLeg()
		m := first.Mirrored(f(20, "centre"))
		site := Site{SameMark: rapid.Bool().Draw(t, "mark"),
			Pad:  Face{r3.Add(m.Pad.Point, v(10, "pad")), r3.Add(m.Pad.Normal, v(0.05, "pad looks"))},
			Rail: Face{r3.Add(m.Rail.Point, v(10, "rail")), r3.Add(m.Rail.Normal, v(0.05, "rail looks"))}}
		got, err := Match("right", first, 0, site)
		require.NoError(t, err)
		assert.Less(t, worst(site.Pad, first.PadPlate, got.Cut.Outline(false, 9)), 1e-6)
		assert.Less(t, worst(site.Rail, first.RailPlate, got.Cut.Outline(true, 9)), 1e-6)
		at := r3.Sub(got.Cut.Pad.At, site.Pad.Point) // on the axis through the pad's point
		assert.InDelta(t, 0, r3.Norm(r3.Cross(at, got.Cut.Axis)), 1e-6)
	})
}

func TestMatchRefused(t *testing.T) {
	first := leftLeg()
	m := first.Mirrored(0)
	good := Site{Pad: m.Pad, Rail: m.Rail}
	for want, change := range map[string]func(*Leg, *Site){
		"finished side":    func(l *Leg, _ *Site) { l.Rail.Normal = r3.Vec{} },
		"which way":        func(_ *Leg, s *Site) { s.Rail.Normal = r3.Vec{} },
		"where it is":      func(_ *Leg, s *Site) { s.Pad.Point.X = math.NaN() },
		"behind the pad":   func(_ *Leg, s *Site) { s.Pad.Normal = r3.Scale(-1, s.Pad.Normal) },
		"rail from inside": func(_ *Leg, s *Site) { s.Rail.Normal = r3.Scale(-1, s.Rail.Normal) },
	} {
		l, s := first, good
		change(&l, &s)
		_, err := Match("right", l, 0, s)
		assert.ErrorContains(t, err, want)
	}
	_, err := Match("right", first, math.Inf(1), good)
	assert.ErrorContains(t, err, "leg right")
}

func TestBuiltMount(t *testing.T) {
	wanted := Face{r3.Vec{X: 200, Y: 180, Z: 60}, r3.Vec{Z: 3}}
	tip, err := geom.Turn(r3.Vec{}, r3.Vec{Y: 1}, 2*geom.Deg) // +Z leans to +X: falls to the rear
	require.NoError(t, err)
	got, err := CheckBuilt("right", wanted, Face{r3.Vec{X: 201, Y: 178, Z: 60.5}, tip.Dir(r3.Vec{Z: 1})}, 100, 3, 2.5*geom.Deg)
	require.NoError(t, err)
	assert.InDelta(t, 0.5, got.Off, 1e-12)
	assert.InDelta(t, math.Sqrt(5), got.Shift, 1e-12)
	near(t, r3.Vec{X: 1, Y: -2}, got.Along, 1e-12)
	assert.InDelta(t, 2, got.Lean.Degrees(), 1e-9)
	assert.InDelta(t, 3.492077, got.Wedge, 1e-6)
	assert.True(t, got.Within)
	assert.Positive(t, got.Low.X)
	assert.Negative(t, got.Low.Z, "the low way falls")
	got, err = CheckBuilt("right", wanted, wanted, 100, 1, 0.5*geom.Deg)
	require.NoError(t, err)
	assert.Zero(t, got.Wedge)
	assert.True(t, got.Within)
	for _, far := range []Face{
		{r3.Add(wanted.Point, r3.Vec{Z: 1.1}), wanted.Normal},
		{r3.Add(wanted.Point, r3.Vec{Y: 1.1}), wanted.Normal},
		{wanted.Point, tip.Dir(r3.Vec{Z: 1})},
	} {
		got, err = CheckBuilt("right", wanted, far, 100, 1, 0.5*geom.Deg)
		require.NoError(t, err)
		assert.False(t, got.Within)
	}
	for want, f := range map[string]func() error{
		"wanted":     func() error { _, err := CheckBuilt("right", Face{}, wanted, 1, 1, 1); return err },
		"measured":   func() error { _, err := CheckBuilt("right", wanted, Face{}, 1, 1, 1); return err },
		"tolerances": func() error { _, err := CheckBuilt("right", wanted, wanted, 1, 0, 1); return err },
		"looks 180°": func() error {
			_, err := CheckBuilt("right", wanted, Face{wanted.Point, r3.Vec{Z: -1}}, 1, 1, 1)
			return err
		},
	} {
		assert.ErrorContains(t, f(), want)
		assert.ErrorContains(t, f(), "mount right")
	}
}

func BenchmarkMatch(b *testing.B) {
	first := leftLeg()
	m := first.Mirrored(0)
	s := Site{Pad: m.Pad, Rail: m.Rail}
	for b.Loop() {
		if _, err := Match("right", first, 0, s); err != nil {
			b.Fatal(err)
		}
	}
}
