package bracket

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"
)

// Bend formulas of the sheet-metal handbooks, recomputed for R 5, T 3, K 0.44.
func TestBends(t *testing.T) {
	for _, c := range []struct{ deg, ba, bd float64 }{
		{90, 9.927433, 6.072567}, {60, 6.618289, 2.619316}, {120, 13.236577, 14.476236},
	} {
		b := Bend{geom.Angle(c.deg) * geom.Deg, 5, 3, 0.44}
		assert.InDelta(t, c.ba, b.allowance(), 1e-6)
		bd, err := b.Deduction("")
		require.NoError(t, err)
		assert.InDelta(t, c.bd, bd, 1e-6)
		assert.InDelta(t, c.ba+c.bd, 2*b.setback(), 2e-6)
	}
}

// FAA-H-8083-31: a channel 1 by 2 by 1 of .040 sheet, radius .16: setback 0.2,
// flats .8, 1.6, .8. Its empirical allowance (0.01743 R + 0.0078 T) per degree
// is 0.279072; the K factor it implies, 0.0078/0.01743 = 0.4475, agrees to
// 0.2 %. With K 1/2 the allowance is π/2 (R + T/2) = 0.282743.
func TestHandbookChannel(t *testing.T) {
	s := Strip{Name: "channel", Width: 1, Thickness: 0.040, Radius: 0.16, K: 0.4475,
		Outside: []float64{1, 2, 1}, Bends: []geom.Angle{90 * geom.Deg, 90 * geom.Deg}}
	b, err := s.Develop()
	require.NoError(t, err)
	for i, want := range []float64{0.8, 1.6, 0.8} {
		assert.InDelta(t, want, b.Flats[i][1]-b.Flats[i][0], 1e-9)
	}
	assert.InEpsilon(t, 0.279072, b.Bends[0].To-b.Bends[0].From, 2e-3)
	assert.InEpsilon(t, 3.758144, b.Length, 5e-4)
	assert.InDelta(t, 4-b.Length, b.Bends[0].Deduction+b.Bends[1].Deduction, 1e-12)

	assert.InDelta(t, 0.282743, Bend{90 * geom.Deg, 0.16, 0.04, 0.5}.allowance(), 5e-7)
}

// Machinery's Handbook (from memory): 0.64 T + 1.57 R is 0.74875 for T .25 and
// R .375; 1.57 for π/2 is 0.05 % short. The other two rules likewise.
func TestNinetyDegreeRules(t *testing.T) {
	for k, c := range map[float64]float64{KSoft: 0.55, KMedium: 0.64, KHard: 0.71} {
		assert.InEpsilon(t, c*0.25+1.57*0.375, Bend{90 * geom.Deg, 0.375, 0.25, k}.allowance(), 6e-4)
	}
	assert.InDelta(t, 0.74875, 0.64*0.25+1.57*0.375, 1e-12)
}

func TestMarksOnTheFlat(t *testing.T) {
	s := Strip{Name: "pad", Width: 50, Thickness: 6, Radius: 6, K: 0.44, Outside: []float64{60, 80}, Bends: []geom.Angle{90 * geom.Deg}}
	b, err := s.Develop()
	require.NoError(t, err)
	assert.InDelta(t, 60+80-b.Bends[0].Deduction, b.Length, 1e-9)
	x, err := b.OnFlat("pad", 0, 30)
	require.NoError(t, err)
	assert.InDelta(t, 30, x, 1e-12)
	// A mark 20 mm from the far end of the second flange is 60 mm from its corner.
	x, err = b.OnFlat("pad", 1, 60)
	require.NoError(t, err)
	assert.InDelta(t, b.Length-20, x, 1e-9)
	assert.InDelta(t, (b.Bends[0].From+b.Bends[0].To)/2, b.Bends[0].Middle, 1e-12)
	_, err = b.OnFlat("pad", 1, 5)
	assert.ErrorContains(t, err, "bend")
	_, err = b.OnFlat("pad", 0, 1354.0/7)
	assert.ErrorContains(t, err, "193.4 mm", "no more digits than a rule has")
	_, err = b.OnFlat("pad", 2, 5)
	assert.ErrorContains(t, err, "flange 3")
	assert.InEpsilon(t, b.Length*50*6*section.SteelDensity, b.Mass, 1e-12)
}

func TestBendsRefused(t *testing.T) {
	for name, f := range map[string]func() error{
		"flat":      func() error { _, err := Bend{0, 5, 3, 0.44}.Deduction("pad"); return err },
		"folded":    func() error { _, err := Bend{math.Pi, 5, 3, 0.44}.Deduction("pad"); return err },
		"no sheet":  func() error { _, err := Bend{1, 5, 0, 0.44}.Deduction("pad"); return err },
		"K":         func() error { _, err := Bend{1, 5, 3, math.NaN()}.Deduction("pad"); return err },
		"no flange": func() error { _, err := Strip{Name: "pad"}.Develop(); return err },
		"bends": func() error {
			_, err := Strip{Name: "pad", Width: 1, Thickness: 1, Outside: []float64{1, 2}}.Develop()
			return err
		},
		"width": func() error {
			_, err := Strip{Name: "pad", Thickness: 1, Outside: []float64{1}}.Develop()
			return err
		},
		"short": func() error {
			_, err := Strip{Name: "pad", Width: 9, Thickness: 3, Radius: 5, K: .4, Outside: []float64{7, 50}, Bends: []geom.Angle{1.57}}.Develop()
			return err
		},
		"bend": func() error {
			_, err := Strip{Name: "pad", Width: 9, Thickness: 3, Radius: -5, K: .4, Outside: []float64{70, 50}, Bends: []geom.Angle{1.57}}.Develop()
			return err
		},
	} {
		assert.ErrorContains(t, f(), "pad", name)
	}
}

// Steel at 7850 kg/m³: 300 by 200 by 6 weighs 2.826 kg, 1/4 plate 10.2096
// lb/ft² (plate mass tables).
func TestPlateMass(t *testing.T) {
	f, err := Plate{Outline: Rectangle(300, 200), Thickness: 6}.Figures()
	require.NoError(t, err)
	assert.InDelta(t, 2.826, f.Mass, 1e-9)
	assert.InDelta(t, 0, r2.Norm(f.Centroid), 1e-9)
	f, err = Plate{Outline: Rectangle(304.8, 304.8), Thickness: 6.35}.Figures()
	require.NoError(t, err)
	assert.InDelta(t, 10.2096, f.Mass/0.45359237, 5e-4)
	assert.InDelta(t, 0.283599, section.SteelDensity*math.Pow(inch, 3)/0.45359237, 5e-7)
}

func TestPlateWithHoles(t *testing.T) {
	p := Plate{Name: "pad", Outline: Rectangle(100, 80), Holes: HoleGrid(2, 2, 60, 40, 11), Thickness: 8}
	f, err := p.Figures()
	require.NoError(t, err)
	assert.InDelta(t, 8000-4*math.Pi/4*121, f.Area, 1e-9)
	assert.InDelta(t, 20-5.5, f.Edge, 1e-9)
	assert.InDelta(t, 40-11, f.Web, 1e-9)
	assert.InDelta(t, 0, r2.Norm(f.Centroid), 1e-9)

	p.Holes = []Hole{{At: r2.Vec{X: 20}, Diameter: 10, Slot: 30, Along: 90 * geom.Deg}}
	f, err = p.Figures()
	require.NoError(t, err)
	assert.InDelta(t, 20, f.Edge, 1e-9) // 40 − 15 − 5
	hole := math.Pi*25 + 300
	assert.InDelta(t, 8000-hole, f.Area, 1e-9)
	assert.InDelta(t, -20*hole/(8000-hole), f.Centroid.X, 1e-9)
	assert.Zero(t, f.Web)
}

// A second method: an outline of triangles about its centre, turned and moved.
func TestPolygonArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(3, 12).Draw(t, "n")
		mid := r2.Vec{X: rapid.Float64Range(-500, 500).Draw(t, "x"), Y: rapid.Float64Range(-500, 500).Draw(t, "y")}
		var pts []r2.Vec
		var rad []float64
		for i := range n {
			rad = append(rad, rapid.Float64Range(20, 100).Draw(t, "r"))
			s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
			pts = append(pts, r2.Add(mid, r2.Vec{X: rad[i] * c, Y: rad[i] * s}))
		}
		area := 0.0
		for i := range n {
			area += rad[i] * rad[(i+1)%n] * math.Sin(2*math.Pi/float64(n)) / 2
		}
		f, err := Plate{Outline: pts, Thickness: 5}.Figures()
		require.NoError(t, err)
		assert.InEpsilon(t, area, f.Area, 1e-9)
		for i, j := 0, n-1; i < j; i, j = i+1, j-1 {
			pts[i], pts[j] = pts[j], pts[i]
		}
		g, err := Plate{Outline: pts, Thickness: 5}.Figures()
		require.NoError(t, err)
		assert.InDelta(t, f.Centroid.X, g.Centroid.X, 1e-9, "either way around")
	})
}

func TestPlatesRefused(t *testing.T) {
	good := Plate{Name: "left pad", Outline: Rectangle(100, 80), Thickness: 8}
	for want, change := range map[string]func(*Plate){
		"thickness": func(p *Plate) { p.Thickness = 0 },
		"corners":   func(p *Plate) { p.Outline = p.Outline[:2] },
		"crosses":   func(p *Plate) { p.Outline = []r2.Vec{{}, {X: 50, Y: 50}, {X: 50}, {Y: 50}} },
		"usable": func(p *Plate) {
			p.Outline = []r2.Vec{{}, {X: math.NaN(), Y: 50}, {X: 50}}
		},
		"nothing":         func(p *Plate) { p.Outline = []r2.Vec{{}, {X: 50}, {X: 100}} },
		"breaks out":      func(p *Plate) { p.Holes = []Hole{{At: r2.Vec{X: 46}, Diameter: 10}} },
		"hole 1":          func(p *Plate) { p.Holes = []Hole{{At: r2.Vec{X: 460}, Diameter: 10}} },
		"no usable size":  func(p *Plate) { p.Holes = []Hole{{Diameter: math.Inf(1)}} },
		"into each other": func(p *Plate) { p.Holes = HoleGrid(2, 1, 9, 0, 10) },
	} {
		p := good
		change(&p)
		_, err := p.Figures()
		require.ErrorContains(t, err, want)
		require.ErrorContains(t, err, "left pad")
	}
}
