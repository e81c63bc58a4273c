package sketch

import (
	"math"
	"strings"
	"testing"

	"fitup/internal/golden"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// fit is the view that shows a rectangle as large as it goes, with a margin in
// dots.
func fit(minX, minY, maxX, maxY float64, c *Canvas, margin int) View {
	w, h := c.Dots()
	k := math.Min(float64(w-1-2*margin)/(maxX-minX), float64(h-1-2*margin)/(maxY-minY))
	return Centred((minX+maxX)/2, (minY+maxY)/2, k, c)
}

func TestRoundDown(t *testing.T) {
	for v, want := range map[float64]float64{
		1: 1, 1.99: 1, 2: 2, 4.9: 2, 5: 5, 9.9: 5, 10: 10, 730: 500, 0.3: 0.2, 0.05: 0.05,
		0: 0, -3: 0, math.Inf(1): 0, math.NaN(): 0,
	} {
		require.InDelta(t, want, roundDown(v), 1e-12)
	}
}

func TestCentred(t *testing.T) {
	cv := New(100, 30, false)
	v := Centred(50, -20, 0.5, cv)
	require.InDelta(t, 99.5, v.X(50), 1e-12)
	require.InDelta(t, 59.5, v.Y(-20), 1e-12)
	require.InDelta(t, 50, v.X(150)-v.X(50), 1e-12)
	col, row := v.Cell(50-99.75/0.5, -20+59.75/0.5)
	require.Equal(t, [2]int{0, 0}, [2]int{col, row}, "the upper left corner")
}

// demo is a side view with all kinds of marks.
func demo(w, h int, ascii bool) *Canvas {
	cv := New(w, h, ascii)
	v := fit(-300, 0, 3000, 900, cv, 6)
	ground := func(x0, y0, x1, y1 float64) { cv.Line(v.X(x0), v.Y(y0), v.X(x1), v.Y(y1), 1) }
	ground(-200, 300, 2900, 300)
	ground(-200, 400, 2900, 400)
	ground(0, 450, 700, 420)
	ground(0, 800, 700, 770)
	ground(0, 450, 0, 800)
	ground(700, 420, 700, 770)
	ground(700, 560, 1300, 500)
	ground(1300, 500, 2600, 330)
	cv.Dashed(v.X(-200), v.Y(620), v.X(2900), v.Y(620), 2)
	cv.Stroke([][2]float64{{v.X(-200), v.Y(680)}, {v.X(2900), v.Y(680)}}, Chain, 2)
	cv.Stroke([][2]float64{{v.X(-200), v.Y(740)}, {v.X(2900), v.Y(740)}}, Dots, 2)
	cv.Wide([][2]float64{{v.X(1500), v.Y(880)}, {v.X(2500), v.Y(880)}, {v.X(2800), v.Y(620)}}, 2)
	cv.Circle(v.X(0), v.Y(300), v.Len(290), 2)
	cv.Circle(v.X(2600), v.Y(300), v.Len(290), 2)
	cv.Circle(v.X(1300), v.Y(500), 1, 3)
	cv.Cross(v.X(2600), v.Y(330), 3, 3)
	label := func(x, y float64, s string) {
		col, row := v.Cell(x, y)
		cv.TextFree(col, row, s, 4)
	}
	label(1300, 500, "joint 1")
	label(2600, 330, "pinion")
	label(2600, 330, "joint 2")
	return cv
}

func TestPictures(t *testing.T) {
	golden.Same(t, "demo-100x30.txt", picture(demo(100, 30, false)))
	golden.Same(t, "demo-80x10.txt", picture(demo(80, 10, false)))
	golden.Same(t, "demo-100x30-ascii.txt", picture(demo(100, 30, true)))
	golden.Same(t, "demo-60x12-ascii.txt", picture(demo(60, 12, true)))
}

func curve() Plot {
	p := Plot{
		XLabel: "travel, mm", YLabel: "joint angle, deg", Axis: 1, MinY: 0, MaxY: 8,
		Limits:  []Limit{{Y: 7, Label: "limit 7", Ink: 5}},
		Markers: []Marker{{X: 20, Label: "ride", Ink: 4}},
		Series:  []Series{{Name: "front", Ink: 2}, {Name: "rear", Ink: 3, Pattern: Dashes}},
	}
	for x := -80.0; x <= 120; x += 4 {
		for i, f := range []func(float64) float64{
			func(x float64) float64 { return 2 + math.Pow(x/60, 2) },
			func(x float64) float64 { return 4 + x/50 },
		} {
			s := &p.Series[i]
			s.X, s.Y = append(s.X, x), append(s.Y, f(x))
		}
	}
	return p
}

func TestPlotPictures(t *testing.T) {
	golden.Same(t, "plot-70x18.txt", picture(curve().Draw(70, 18, false)))
	golden.Same(t, "plot-60x14-ascii.txt", picture(curve().Draw(60, 14, true)))
	golden.Same(t, "plot-14x4.txt", picture(curve().Draw(14, 4, false)))
}

func TestPlotOddData(t *testing.T) {
	empty := strings.Repeat(strings.Repeat(" ", 40)+"\n", 10)
	require.Equal(t, empty, picture(Plot{XLabel: "x"}.Draw(40, 10, false)), "no data, no diagram")
	require.Equal(t, empty, picture(Plot{Series: []Series{{X: []float64{math.NaN()}, Y: []float64{1}}}}.Draw(40, 10, false)))
	one := picture(Plot{Series: []Series{{Name: "one", X: []float64{3, 9}, Y: []float64{5}}}}.Draw(40, 10, false))
	require.Contains(t, one, "one")
	require.Contains(t, one, "6", "a single value still gets an axis")
}

func TestPlotIsExactlyItsSize(t *testing.T) {
	co := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-50, 50), rapid.Just(math.NaN()), rapid.Just(0.0))
	list := rapid.SliceOfN(co, 0, 5)
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(-1, 60).Draw(t, "w"), rapid.IntRange(-1, 20).Draw(t, "h")
		p := Plot{
			XLabel: rapid.String().Draw(t, "xl"), YLabel: rapid.String().Draw(t, "yl"),
			Series:  []Series{{Name: "歯", X: list.Draw(t, "x"), Y: list.Draw(t, "y"), Pattern: rapid.SampledFrom([]Pattern{Whole, Dashes, Chain, Dots}).Draw(t, "pattern")}},
			Limits:  []Limit{{Y: co.Draw(t, "limit"), Label: "limit"}},
			Markers: []Marker{{X: co.Draw(t, "marker"), Label: "here"}},
			MinX:    co.Draw(t, "minx"), MaxY: co.Draw(t, "maxy"),
		}
		lines := p.Draw(w, h, rapid.Bool().Draw(t, "ascii")).Lines(coloured)
		require.Len(t, lines, max(h, 0))
		for _, l := range lines {
			require.Equal(t, max(w, 0), ansi.StringWidth(l), "%q", l)
		}
	})
}
