// Package sketch draws lines, curves and labels into character cells.
//
// A canvas of w by h cells has 2w by 4h dots. A cell is about twice as high as
// it is wide, so the dots are square and one scale serves both ways. With
// Unicode each cell is one of the 256 braille patterns; the ASCII canvas takes
// the same dot coordinates and picks for each cell the sign nearest to the
// line.
//
// Dot coordinates run to the right and downwards; dot (0, 0) is the upper left
// one, and a whole number is a dot's centre. Cell coordinates are a column and
// a row counted likewise.
package sketch

import (
	"math"
	"strings"
)

// Ink is what a mark is drawn with; the caller gives each ink its colour when
// the canvas is read. Where several share a cell the highest wins.
type Ink uint8

// maxCells bounds a canvas in each direction, so that a mistaken size cannot
// ask for gigabytes.
const maxCells = 2000

// far is the coordinate beyond which a point is taken for a mistake.
const far = 1e12

// cell is one character cell: dots or an ASCII sign, and a label's sign over
// them. sign is 0 where there is no label and tail in the second half of a
// wide sign.
type cell struct {
	dots byte // braille bits, or the ASCII sign itself
	ink  Ink
	over Ink // the label's ink
	sign rune
}

const tail rune = -1

// Canvas is a drawing in the making. It is not safe for use by several
// goroutines at once.
type Canvas struct {
	w, h  int
	ascii bool
	cells []cell
}

// New returns an empty canvas of w by h cells; sizes are clamped to 0..2000.
func New(w, h int, ascii bool) *Canvas {
	w, h = min(max(w, 0), maxCells), min(max(h, 0), maxCells)
	return &Canvas{w: w, h: h, ascii: ascii, cells: make([]cell, w*h)}
}

// Size returns the size in cells.
func (c *Canvas) Size() (w, h int) { return c.w, c.h }

// Dots returns the size in dots.
func (c *Canvas) Dots() (w, h int) { return 2 * c.w, 4 * c.h }

// Clear empties the canvas for another drawing.
func (c *Canvas) Clear() { clear(c.cells) }

// Dot marks the dot nearest to (x, y).
func (c *Canvas) Dot(x, y float64, ink Ink) { c.Line(x, y, x, y, ink) }

// Line draws from (x0, y0) to (x1, y1), in dots. What lies outside the canvas
// is left out; a line with an endpoint that is no number, or absurdly far
// away, is not drawn.
func (c *Canvas) Line(x0, y0, x1, y1 float64, ink Ink) {
	c.line(x0, y0, x1, y1, ink, stroke{})
}

// Dashed is Line in dashes.
func (c *Canvas) Dashed(x0, y0, x1, y1 float64, ink Ink) {
	c.line(x0, y0, x1, y1, ink, stroke{Pattern: Dashes})
}

// Pattern is what of a line is drawn.
type Pattern uint8

// The patterns: everything, dashes, dashes with dots between them, and dots.
const (
	Whole Pattern = iota
	Dashes
	Chain
	Dots
)

// beats are the dots of each pattern that are drawn, in turn, and then again. In
// ASCII they are its signs, for which the longer ones are too coarse.
var beats, signBeats = [...][]bool{
	Dashes: {true, true, true, true, false, false, false, false},
	Chain:  {true, true, true, true, true, true, true, false, false, true, false, false},
	Dots:   {true, false, false},
}, [...][]bool{
	Dashes: {true, true, false, false},
	Chain:  {true, true, true, false, true, false},
	Dots:   {true, false, false},
}

// stroke is how a line is drawn: its pattern, how far along it one is, and
// whether it is twice as wide.
type stroke struct {
	Pattern
	at   int
	wide bool
}

// on reports whether the pattern has something n steps on.
func (s stroke) on(n int, ascii bool) bool {
	if s.Pattern == Whole {
		return true
	}
	p := beats[s.Pattern]
	if ascii {
		p = signBeats[s.Pattern]
	}
	return p[(s.at+n)%len(p)]
}

// Polyline joins the points in turn. A point that is no number breaks it.
func (c *Canvas) Polyline(points [][2]float64, ink Ink) { c.join(points, ink, stroke{}) }

// Stroke is Polyline in a pattern that runs on across the corners.
func (c *Canvas) Stroke(points [][2]float64, p Pattern, ink Ink) {
	c.join(points, ink, stroke{Pattern: p})
}

// Wide is Polyline twice as wide: two dots, or signs that stand out.
func (c *Canvas) Wide(points [][2]float64, ink Ink) { c.join(points, ink, stroke{wide: true}) }

func (c *Canvas) join(points [][2]float64, ink Ink, s stroke) {
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		s.at = c.line(a[0], a[1], b[0], b[1], ink, s)
	}
	if len(points) == 1 {
		c.Dot(points[0][0], points[0][1], ink)
	}
}

// Circle draws a circle of radius r dots round (cx, cy), as chords that stay
// within a quarter of a dot of it. A radius of nothing draws a dot.
func (c *Canvas) Circle(cx, cy, r float64, ink Ink) {
	r = math.Abs(r)
	if !(r < far) {
		return
	}
	if c.ascii && r < 2.5 {
		c.plot(cx, cy, 'o', ink)
		return
	}
	if r < 0.5 {
		c.Dot(cx, cy, ink)
		return
	}
	// The chord of an angle 2a leaves the circle by r(1 - cos a).
	n := int(min(max(math.Ceil(math.Pi/math.Acos(1-0.25/r)), 16), 720))
	px, py := cx+r, cy
	for i := 1; i <= n; i++ {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		x, y := cx+r*cos, cy+r*sin
		c.Line(px, py, x, y, ink)
		px, py = x, y
	}
}

// Cross marks a point with an upright cross whose arms are r dots long.
func (c *Canvas) Cross(x, y, r float64, ink Ink) {
	if c.ascii {
		c.plot(x, y, '+', ink)
		return
	}
	c.Line(x-r, y, x+r, y, ink)
	c.Line(x, y-r, x, y+r, ink)
}

// line draws a line in a pattern and returns how far along it one is at its end,
// in steps, for a line that goes on from there.
func (c *Canvas) line(x0, y0, x1, y1 float64, ink Ink, s stroke) int {
	if !near(x0) || !near(y0) || !near(x1) || !near(y1) {
		return s.at
	}
	x0, y0, x1, y1, ok := clip(x0, y0, x1, y1, float64(2*c.w), float64(4*c.h))
	switch {
	case !ok:
		return s.at
	case c.ascii:
		return c.signs(x0, y0, x1, y1, ink, s)
	}
	return c.dots(x0, y0, x1, y1, ink, s)
}

// near is false for what is no number too.
func near(v float64) bool { return math.Abs(v) < far }

// clip cuts a line to the dots of a canvas of w by h dots, whose outer edges
// lie half a dot beyond the outer centres (Liang and Barsky 1984). ok is false
// when nothing is left.
func clip(x0, y0, x1, y1, w, h float64) (cx0, cy0, cx1, cy1 float64, ok bool) {
	const edge = 0.499
	dx, dy := x1-x0, y1-y0
	t0, t1 := 0.0, 1.0
	for _, side := range [4][2]float64{
		{-dx, x0 + edge}, {dx, w - 1 + edge - x0},
		{-dy, y0 + edge}, {dy, h - 1 + edge - y0},
	} {
		p, q := side[0], side[1]
		if p == 0 {
			if q < 0 {
				return 0, 0, 0, 0, false
			}
			continue
		}
		if t := q / p; p < 0 {
			t0 = max(t0, t)
		} else {
			t1 = min(t1, t)
		}
	}
	if t0 > t1 || w < 1 || h < 1 {
		return 0, 0, 0, 0, false
	}
	return x0 + t0*dx, y0 + t0*dy, x0 + t1*dx, y0 + t1*dy, true
}

// bits[row][column] is the braille bit of a dot within its cell (Unicode
// standard, block U+2800, Braille Patterns).
var bits = [4][2]byte{{0x01, 0x08}, {0x02, 0x10}, {0x04, 0x20}, {0x40, 0x80}}

// dots steps along the longer way, one dot at a time. The other coordinate
// runs in 1/65536 of a dot, which is exact enough for any clipped line.
func (c *Canvas) dots(x0, y0, x1, y1 float64, ink Ink, s stroke) int {
	across := math.Abs(x1-x0) > math.Abs(y1-y0)
	n := int(math.Round(math.Max(math.Abs(x1-x0), math.Abs(y1-y0))))
	const one = 1 << 16
	x, y := int(x0*one)+one/2, int(y0*one)+one/2
	sx, sy := 0, 0
	if n > 0 {
		sx, sy = int((x1-x0)*one)/n, int((y1-y0)*one)/n
	}
	for i := 0; i <= n; i++ {
		if s.on(i, false) {
			c.set(x>>16, y>>16, ink)
			if s.wide && across {
				c.set(x>>16, y>>16+1, ink)
			} else if s.wide {
				c.set(x>>16+1, y>>16, ink)
			}
		}
		x += sx
		y += sy
	}
	return s.at + n
}

func (c *Canvas) set(x, y int, ink Ink) {
	if uint(x) >= uint(2*c.w) || uint(y) >= uint(4*c.h) {
		return
	}
	p := &c.cells[(y>>2)*c.w+(x>>1)]
	p.dots |= bits[y&3][x&1]
	if ink > p.ink {
		p.ink = ink
	}
}

// Lines returns the drawing as h lines of exactly w cells. style gives the
// escape codes that begin and end an ink; nil draws without any. Neighbouring
// cells of one ink share their codes.
func (c *Canvas) Lines(style func(Ink) (on, off string)) []string {
	type codes struct {
		on, off string
		known   bool
	}
	var table [256]codes
	look := func(i Ink) *codes {
		k := &table[i]
		if !k.known {
			k.known = true
			if style != nil {
				k.on, k.off = style(i)
			}
		}
		return k
	}
	out := make([]string, c.h)
	var b strings.Builder
	for row := range out {
		b.Reset()
		b.Grow(3*c.w + 32)
		var open *codes
		for col := range c.w {
			p := &c.cells[row*c.w+col]
			if p.sign == tail {
				continue
			}
			var want *codes
			switch {
			case p.sign != 0:
				want = look(p.over)
			case p.dots != 0:
				want = look(p.ink)
			}
			if want != open {
				if open != nil {
					b.WriteString(open.off)
				}
				if want != nil {
					b.WriteString(want.on)
				}
				open = want
			}
			c.write(&b, p)
		}
		if open != nil {
			b.WriteString(open.off)
		}
		out[row] = b.String()
	}
	return out
}

// write appends the cell's sign. A braille pattern is U+2800 plus its dots,
// spelt here as UTF-8 because this is the busiest line of the package.
func (c *Canvas) write(b *strings.Builder, p *cell) {
	switch {
	case p.sign != 0:
		b.WriteRune(p.sign)
	case p.dots == 0:
		b.WriteByte(' ')
	case c.ascii:
		b.WriteByte(p.dots)
	default:
		b.WriteByte(0xe2)
		b.WriteByte(0xa0 | p.dots>>6)
		b.WriteByte(0x80 | p.dots&0x3f)
	}
}
