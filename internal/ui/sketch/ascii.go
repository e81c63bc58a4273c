package sketch

import "math"

// signs draws a clipped line in ASCII, one sign for each cell it passes. A
// shallow line shows by the height of its signs within the row, a steep one
// by bars, and one between by strokes. Steps along x are two dots (one
// column), along y four (one row).
func (c *Canvas) signs(x0, y0, x1, y1 float64, ink Ink, s stroke) int {
	dx, dy := x1-x0, y1-y0
	// Slopes beyond these are nearer to level or upright than to the stroke a
	// terminal's "/" makes across a cell of 1 by 2.
	level, upright := math.Abs(dy) < 0.7*math.Abs(dx), math.Abs(dx) < 0.25*math.Abs(dy)
	slant := byte('/')
	if (dx > 0) == (dy > 0) {
		slant = '\\'
	}
	flat := math.Abs(dy) < 1
	n := int(math.Ceil(math.Abs(dy) / 4))
	if math.Abs(dx)*2 > math.Abs(dy) {
		n = int(math.Ceil(math.Abs(dx) / 2))
	}
	for i := 0; i <= n; i++ {
		if !s.on(i, true) {
			continue
		}
		t := 0.0
		if n > 0 {
			t = float64(i) / float64(n)
		}
		x, y := x0+t*dx, y0+t*dy
		sign := slant
		switch {
		case s.wide:
			sign = '#'
		case n == 0:
			sign = '.'
		case upright:
			sign = '|'
		case flat:
			sign = '-'
		case level:
			sign = heights[int(math.Floor(y+0.5))&3]
		}
		c.plot(x, y, sign, ink)
	}
	return s.at + n
}

// heights are the signs for a level stroke at the four dot rows of a cell.
var heights = [4]byte{'\'', '-', '-', '.'}

// plot puts an ASCII sign into the cell of dot (x, y). Two different strokes
// in one cell make a crossing; a mark stays.
func (c *Canvas) plot(x, y float64, sign byte, ink Ink) {
	if !near(x) || !near(y) {
		return
	}
	col, row := int(math.Floor(x+0.5))>>1, int(math.Floor(y+0.5))>>2
	if col < 0 || row < 0 || col >= c.w || row >= c.h {
		return
	}
	p := &c.cells[row*c.w+col]
	switch {
	case p.dots == 0 || p.dots == sign:
		p.dots = sign
	case mark(sign) || mark(p.dots):
		if !mark(p.dots) || ink > p.ink {
			p.dots = sign
		}
	case lying(p.dots) && lying(sign):
		p.dots = '-'
	case lying(p.dots) != lying(sign) && (p.dots == '|' || sign == '|'):
		p.dots = '+'
	case ink > p.ink: // two slanting ones: the nearer to the foreground
		p.dots = sign
	}
	if ink > p.ink {
		p.ink = ink
	}
}

// mark tells a sign that stands for a thing from a piece of a line.
func mark(s byte) bool { return s == 'o' || s == '+' || s == '#' }

func lying(s byte) bool { return s == '-' || s == '.' || s == '\'' }
