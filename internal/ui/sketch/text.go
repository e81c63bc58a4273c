package sketch

import (
	"unicode"

	"github.com/charmbracelet/x/ansi"
)

// Text writes a label whose first sign stands at (col, row), in cells, over
// whatever is drawn there. What lies outside is left out. It reports whether
// the whole label fitted. Control signs are dropped.
func (c *Canvas) Text(col, row int, s string, ink Ink) bool {
	fitted := true
	for _, r := range s {
		r, n := single(r)
		if n == 0 {
			continue
		}
		if row < 0 || row >= c.h || col < 0 || col+n > c.w {
			fitted = false
		} else {
			c.put(col, row, n, r, ink)
		}
		col += n
	}
	return fitted
}

// put writes one sign of n cells, blanking the rest of any wide sign it cuts.
func (c *Canvas) put(col, row, n int, r rune, ink Ink) {
	line := c.cells[row*c.w : (row+1)*c.w]
	if line[col].sign == tail {
		line[col-1].sign = ' '
	}
	if end := col + n; end < c.w && line[end].sign == tail {
		line[end].sign = ' '
	}
	line[col].sign, line[col].over = r, ink
	for i := 1; i < n; i++ {
		line[col+i].sign = tail
	}
}

// textWidth is the number of cells Text would use.
func textWidth(s string) int {
	n := 0
	for _, r := range s {
		_, w := single(r)
		n += w
	}
	return n
}

// How far TextFree looks around, in rows and columns.
const (
	freeRows = 4
	freeCols = 10
)

// TextFree writes a label as near to (col, row) as it can without touching an
// earlier label or leaving the canvas, preferring places with little drawn
// underneath. It reports whether a place was found; without one it writes
// nothing.
func (c *Canvas) TextFree(col, row int, s string, ink Ink) bool {
	n := textWidth(s)
	if n == 0 {
		return true
	}
	best, bestCol, bestRow := -1, 0, 0
	try := func(at, r int) {
		// A row is two columns away, as the eye sees it.
		away := min(distance(col, at), distance(col, at+n-1)) + 2*distance(row, r)
		if best >= 0 && away >= best {
			return
		}
		covered, free := c.under(at, r, n)
		if cost := away + 3*covered; free && (best < 0 || cost < best) {
			best, bestCol, bestRow = cost, at, r
		}
	}
	for dr := 0; dr <= freeRows; dr++ {
		for at := col - n + 1 - freeCols; at <= col+freeCols; at++ {
			try(at, row-dr)
			try(at, row+dr)
		}
	}
	if best < 0 {
		return false
	}
	return c.Text(bestCol, bestRow, s, ink)
}

func distance(a, b int) int { return max(a-b, b-a) }

// under counts the drawn cells a label would cover and says whether it would
// lie inside the canvas and clear of other labels by a cell at either end.
func (c *Canvas) under(col, row, n int) (covered int, free bool) {
	if row < 0 || row >= c.h || col < 0 || col+n > c.w {
		return 0, false
	}
	for i := max(col-1, 0); i < min(col+n+1, c.w); i++ {
		p := c.cells[row*c.w+i]
		if p.sign != 0 {
			return 0, false
		}
		if i >= col && i < col+n && p.dots != 0 {
			covered++
		}
	}
	return covered, true
}

// single returns the sign to draw for r and the cells it takes; 0 cells for
// what cannot stand alone or must not reach a terminal. Each cell holds one
// sign by itself, so signs that would join up with a neighbour and change its
// width (flags, skin tones, loose Korean letters) become question marks, and
// accents written as separate signs are dropped.
func single(r rune) (rune, int) {
	if r >= 0x20 && r < 0x7f {
		return r, 1
	}
	if !unicode.IsPrint(r) || unicode.Is(unicode.M, r) {
		return 0, 0
	}
	if unicode.Is(joiners, r) {
		return '?', 1
	}
	return r, ansi.StringWidth(string(r))
}

// joiners are printable signs that form one character with a neighbour
// (Unicode Standard Annex 29, table 2).
var joiners = &unicode.RangeTable{
	R16: []unicode.Range16{
		{Lo: 0x0d4e, Hi: 0x0d4e, Stride: 1},
		{Lo: 0x1100, Hi: 0x11ff, Stride: 1},
		{Lo: 0xa960, Hi: 0xa97c, Stride: 1},
		{Lo: 0xd7b0, Hi: 0xd7fb, Stride: 1},
		{Lo: 0xff9e, Hi: 0xff9f, Stride: 1},
	},
	R32: []unicode.Range32{
		{Lo: 0x111c2, Hi: 0x111c3, Stride: 1},
		{Lo: 0x1193f, Hi: 0x11941, Stride: 2},
		{Lo: 0x11a3a, Hi: 0x11a3a, Stride: 1},
		{Lo: 0x11a84, Hi: 0x11a89, Stride: 1},
		{Lo: 0x11d46, Hi: 0x11d46, Stride: 1},
		{Lo: 0x1f1e6, Hi: 0x1f1ff, Stride: 1},
		{Lo: 0x1f3fb, Hi: 0x1f3ff, Stride: 1},
	},
}
