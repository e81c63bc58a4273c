// Package label finds places for names and figures on a drawing: on a grid of
// letters, none over another, and with little drawn underneath.
package label

import "math"

// Sheet is a drawing as a grid of letters, columns to the right and rows down.
type Sheet struct {
	cols, rows int
	taken      []bool // by a letter or a sign
	ink        []bool // a line passes here
}

// New returns an empty sheet.
func New(cols, rows int) *Sheet {
	cols, rows = max(cols, 0), max(rows, 0)
	both := make([]bool, 2*cols*rows)
	return &Sheet{cols: cols, rows: rows, taken: both[:cols*rows], ink: both[cols*rows:]}
}

// Size is the number of columns and rows.
func (s *Sheet) Size() (cols, rows int) { return s.cols, s.rows }

// Line notes a line from one place to another, in columns and rows from the
// upper left corner of the sheet; a whole number is the border between letters.
func (s *Sheet) Line(x0, y0, x1, y1 float64) {
	d := max(math.Abs(x1-x0), math.Abs(y1-y0))
	if !(d < 1e6) || max(x0, x1) < 0 || max(y0, y1) < 0 || min(x0, x1) > float64(s.cols) || min(y0, y1) > float64(s.rows) {
		return
	}
	n := int(2*d) + 1
	dx, dy := (x1-x0)/float64(n), (y1-y0)/float64(n)
	for i := 0; i <= n; i++ {
		x, y := x0+float64(i)*dx, y0+float64(i)*dy
		if x >= 0 && y >= 0 && x < float64(s.cols) && y < float64(s.rows) {
			s.ink[int(y)*s.cols+int(x)] = true
		}
	}
}

// Inked reports whether a line passes through a letter's place.
func (s *Sheet) Inked(col, row int) bool { return s.on(col, row) && s.ink[row*s.cols+col] }

func (s *Sheet) on(col, row int) bool { return col >= 0 && row >= 0 && col < s.cols && row < s.rows }

// Take keeps n letters' places free of labels.
func (s *Sheet) Take(col, row, n int) {
	for i := col; i < col+n; i++ {
		if s.on(i, row) {
			s.taken[row*s.cols+i] = true
		}
	}
}

// Free reports whether n letters have room at a place, with one place between
// them and the next label, and how many of them would stand on a line.
func (s *Sheet) Free(col, row, n int) (covered int, ok bool) {
	if n <= 0 || !s.on(col, row) || !s.on(col+n-1, row) {
		return 0, false
	}
	at := row * s.cols
	for i := max(col-1, 0); i < min(col+n+1, s.cols); i++ {
		if s.taken[at+i] {
			return 0, false
		}
		if s.ink[at+i] && i >= col && i < col+n {
			covered++
		}
	}
	return covered, true
}

// Spot is a place for the first letter of a label; of several the one with the
// least cost is taken. Each letter on a line costs three.
type Spot struct{ Col, Row, Cost int }

// Place takes the best of the spots for n letters, at most so many of them on
// lines; false where none is free.
func (s *Sheet) Place(n, onLines int, spots []Spot) (Spot, bool) {
	var best Spot
	found := false
	for _, p := range spots {
		covered, ok := s.Free(p.Col, p.Row, n)
		if !ok || covered > onLines {
			continue
		}
		p.Cost += 3 * covered
		if !found || p.Cost < best.Cost {
			best, found = p, true
		}
	}
	if found {
		s.Take(best.Col, best.Row, n)
	}
	return best, found
}

// Around are the spots of n letters round a place: over, under and beside it, from right
// beside it to reach rows and twice as many columns away, the nearest cheapest.
func Around(col, row, n, reach int) []Spot {
	out := make([]Spot, 0, 16*reach)
	for d := 1; d <= reach; d++ {
		for _, up := range []int{-d, d} {
			for _, c := range []int{col - n/2, col - n/2 + n/3, col - n/2 - n/3, col + 2, col - n - 1, col, col - n + 1} {
				out = append(out, Spot{c, row + up, 2 * d})
			}
		}
		out = append(out,
			Spot{col + 2*d, row, 2*d - 1}, Spot{col - n - 2*d + 1, row, 2 * d})
	}
	return out
}
