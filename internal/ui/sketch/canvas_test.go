package sketch

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func picture(c *Canvas) string { return strings.Join(c.Lines(nil), "\n") + "\n" }

func coloured(i Ink) (on, off string) {
	if i == 0 {
		return "", ""
	}
	return fmt.Sprintf("\x1b[%dm", 30+i%8), "\x1b[0m"
}

func TestDotsLandWhereTheyShould(t *testing.T) {
	// Unicode standard, block U+2800: the pattern is U+2800 plus a bit for each dot.
	for _, c := range []struct {
		x, y float64
		want string
	}{
		{0, 0, "\u2801"}, {1, 0, "\u2808"}, {0, 1, "\u2802"}, {1, 1, "\u2810"},
		{0, 2, "\u2804"}, {1, 2, "\u2820"}, {0, 3, "\u2840"}, {1, 3, "\u2880"},
	} {
		cv := New(1, 1, false)
		cv.Dot(c.x, c.y, 0)
		require.Equal(t, []string{c.want}, cv.Lines(nil))
	}
}

func TestLines(t *testing.T) {
	for name, c := range map[string]struct {
		draw func(*Canvas)
		want string
	}{
		"nothing":       {func(*Canvas) {}, "    \n"},
		"across":        {func(c *Canvas) { c.Line(0, 0, 7, 0, 0) }, "⠉⠉⠉⠉\n"},
		"across, back":  {func(c *Canvas) { c.Line(7, 0, 0, 0, 0) }, "⠉⠉⠉⠉\n"},
		"clipped":       {func(c *Canvas) { c.Line(-1e9, 3, 1e9, 3, 0) }, "⣀⣀⣀⣀\n"},
		"upright":       {func(c *Canvas) { c.Line(2, -50, 2, 50, 0) }, " ⡇  \n"},
		"slanting":      {func(c *Canvas) { c.Line(0, 0, 3, 3, 0) }, "⠑⢄  \n"},
		"dashed":        {func(c *Canvas) { c.Dashed(0, 0, 7, 0, 0) }, "⠉⠉  \n"},
		"outside":       {func(c *Canvas) { c.Line(0, 4, 7, 9, 0); c.Line(8, 0, 9, 3, 0) }, "    \n"},
		"not a number":  {func(c *Canvas) { c.Line(math.NaN(), 0, 7, 0, 0); c.Line(0, 0, math.Inf(1), 0, 0) }, "    \n"},
		"no number, r":  {func(c *Canvas) { c.Circle(1, 1, math.NaN(), 0); c.Circle(1, 1, math.Inf(1), 0) }, "    \n"},
		"dotted":        {func(c *Canvas) { c.Stroke([][2]float64{{0, 0}, {7, 0}}, Dots, 0) }, "⠁⠈ ⠁\n"},
		"chain":         {func(c *Canvas) { c.Stroke([][2]float64{{-4, 0}, {7, 0}}, Chain, 0) }, "⠉⠉⠉⠁\n"},
		"wide":          {func(c *Canvas) { c.Wide([][2]float64{{0, 0}, {7, 0}}, 0) }, "⠛⠛⠛⠛\n"},
		"wide, upright": {func(c *Canvas) { c.Wide([][2]float64{{2, 0}, {2, 3}}, 0) }, " ⣿  \n"},
		"gap":           {func(c *Canvas) { c.Polyline([][2]float64{{0, 0}, {1, 0}, {math.NaN(), 0}, {6, 0}, {7, 0}}, 0) }, "⠉  ⠉\n"},
		"tiny circle":   {func(c *Canvas) { c.Circle(0, 0, 0, 0) }, "⠁   \n"},
		"cross":         {func(c *Canvas) { c.Cross(3, 1, 1, 0) }, " ⠺⠂ \n"},
		"label on line": {func(c *Canvas) { c.Line(0, 0, 7, 0, 9); c.Text(1, 0, "ab", 1) }, "⠉ab⠉\n"},
	} {
		cv := New(4, 1, false)
		c.draw(cv)
		require.Equal(t, c.want, picture(cv), name)
	}
}

func TestDashesRunOnAcrossCorners(t *testing.T) {
	whole, parts := New(20, 1, false), New(20, 1, false)
	whole.Dashed(0, 1, 39, 1, 0)
	var points [][2]float64
	for i := range 40 {
		points = append(points, [2]float64{float64(i), 1})
	}
	parts.Stroke(points, Dashes, 0)
	require.Equal(t, picture(whole), picture(parts))
}

func TestHigherInkWins(t *testing.T) {
	cv := New(3, 1, false)
	cv.Line(0, 0, 5, 0, 3)
	cv.Line(2, 1, 3, 1, 5)
	cv.Line(4, 1, 5, 1, 1)
	require.Equal(t, []string{"\x1b[33m⠉\x1b[0m\x1b[35m⠛\x1b[0m\x1b[33m⠛\x1b[0m"}, cv.Lines(coloured))
}

func TestRunsShareTheirCodes(t *testing.T) {
	cv := New(6, 1, false)
	cv.Line(0, 0, 5, 0, 3)
	cv.Text(4, 0, "x", 0)
	require.Equal(t, []string{"\x1b[33m⠉⠉⠉\x1b[0m x "}, cv.Lines(coloured))
	cv.Clear()
	require.Equal(t, "      \n", picture(cv))
}

func TestText(t *testing.T) {
	for _, c := range []struct {
		col, row int
		s, want  string
		fitted   bool
	}{
		{0, 0, "abc", "abc  ", true},
		{3, 0, "abc", "   ab", false},
		{-1, 0, "abc", "bc   ", false},
		{0, 1, "abc", "     ", false},
		{0, -1, "abc", "     ", false},
		{0, 0, "歯車", "歯車 ", true},
		{2, 0, "歯車", "  歯 ", false},
		{0, 0, "a\x1b\n\u202e\u0301b", "ab   ", true},
		{0, 0, "", "     ", true},
	} {
		cv := New(5, 1, false)
		require.Equal(t, c.fitted, cv.Text(c.col, c.row, c.s, 0), c.s)
		require.Equal(t, c.want+"\n", picture(cv))
	}
	cv := New(5, 1, false)
	cv.Text(0, 0, "歯車", 0)
	cv.Text(1, 0, "xy", 0)
	require.Equal(t, " xy  \n", picture(cv), "a wide sign cut in half goes as a whole")
}

func TestTextFree(t *testing.T) {
	cv := New(12, 3, false)
	cv.Line(0, 5, 23, 5, 0)
	require.True(t, cv.TextFree(4, 1, "joint", 0))
	require.NotContains(t, cv.Lines(nil)[1], "joint", "beside the line, not on it")
	require.True(t, cv.TextFree(4, 1, "mount", 0))
	for range 20 {
		cv.TextFree(4, 1, "more", 0)
	}
	all := picture(cv)
	require.Equal(t, 1, strings.Count(all, "joint"), "earlier labels stay whole")
	require.Equal(t, 1, strings.Count(all, "mount"))
	require.False(t, cv.TextFree(4, 1, "no room left", 0))
	require.False(t, cv.TextFree(0, 0, "wider than the canvas is", 0))
	require.True(t, cv.TextFree(0, 0, "", 0))
}

func TestCircleIsRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(1, 60).Draw(t, "r")
		cv := New(70, 35, false)
		cv.Circle(69, 69, r, 0)
		n := 0
		for y := range 140 {
			for x := range 140 {
				if cv.cells[(y/4)*70+x/2].dots&bits[y%4][x%2] == 0 {
					continue
				}
				n++
				require.InDelta(t, r, math.Hypot(float64(x-69), float64(y-69)), 1.3)
			}
		}
		require.Greater(t, float64(n), 4*r, "no gaps to speak of")
	})
}

// Clipping must not bend a line: each dot lies within a dot of the true line.
func TestClippingKeepsTheDirection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		co := rapid.Float64Range(-400, 400)
		x0, y0, x1, y1 := co.Draw(t, "x0"), co.Draw(t, "y0"), co.Draw(t, "x1"), co.Draw(t, "y1")
		length := math.Hypot(x1-x0, y1-y0)
		if length < 1 {
			return
		}
		cv := New(30, 15, false)
		cv.Line(x0, y0, x1, y1, 0)
		for y := range 60 {
			for x := range 60 {
				if cv.cells[(y/4)*30+x/2].dots&bits[y%4][x%2] == 0 {
					continue
				}
				off := math.Abs((x1-x0)*(y0-float64(y))-(x0-float64(x))*(y1-y0)) / length
				require.Less(t, off, 1.1, "dot %d, %d", x, y)
			}
		}
	})
}

// Whatever is drawn, no panic, and every line is exactly as wide as promised.
func TestEveryLineIsExactlyAsWide(t *testing.T) {
	co := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-50, 200), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1)}))
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(-2, 40).Draw(t, "w"), rapid.IntRange(-2, 12).Draw(t, "h")
		cv := New(w, h, rapid.Bool().Draw(t, "ascii"))
		for range rapid.IntRange(0, 8).Draw(t, "marks") {
			ink := Ink(rapid.Uint8().Draw(t, "ink"))
			a, b, c, d := co.Draw(t, "a"), co.Draw(t, "b"), co.Draw(t, "c"), co.Draw(t, "d")
			text := rapid.String().Draw(t, "text")
			switch rapid.IntRange(0, 6).Draw(t, "what") {
			case 0:
				cv.Line(a, b, c, d, ink)
			case 1:
				cv.Dashed(a, b, c, d, ink)
			case 2:
				cv.Circle(a, b, c, ink)
			case 3:
				cv.Cross(a, b, c, ink)
			case 4:
				cv.Text(rapid.IntRange(-9, 50).Draw(t, "col"), rapid.IntRange(-3, 15).Draw(t, "row"), text, ink)
			case 5:
				cv.TextFree(rapid.IntRange(-9, 50).Draw(t, "col"), rapid.IntRange(-3, 15).Draw(t, "row"), text, ink)
			case 6:
				v := Centred(a, b, rapid.Float64Range(1e-6, 100).Draw(t, "scale"), cv)
				cv.Wide([][2]float64{{v.X(a), v.Y(b)}, {v.X(c), v.Y(d)}}, ink)
				cv.Stroke([][2]float64{{v.X(a), v.Y(b)}, {v.X(c), v.Y(d)}}, Pattern(rapid.IntRange(0, 3).Draw(t, "pattern")), ink)
				cv.Cross(v.X(c), v.Y(a), 3, ink)
			}
		}
		lines := cv.Lines(coloured)
		require.Len(t, lines, max(h, 0))
		for _, l := range lines {
			require.Equal(t, max(w, 0), ansi.StringWidth(l), "%q", l)
		}
	})
}

func scene(cv *Canvas, n int) {
	for i := range n {
		a := float64(i) * 0.7
		cv.Line(100+90*math.Cos(a), 60+50*math.Sin(a), 100+90*math.Cos(2.3*a), 60+50*math.Sin(1.9*a), Ink(i%6))
	}
}

func BenchmarkScene200(b *testing.B) {
	cv := New(100, 30, false)
	for b.Loop() {
		cv.Clear()
		scene(cv, 200)
		cv.Lines(coloured)
	}
}

// Short segments are what a drawing of a build is made of.
func BenchmarkShortSegments200(b *testing.B) {
	cv := New(100, 30, false)
	for b.Loop() {
		cv.Clear()
		for i := range 200 {
			x, y := float64(i%20)*10, float64(i/20)*12
			cv.Line(x, y, x+12, y+9, Ink(i%6))
		}
		cv.Lines(coloured)
	}
}
