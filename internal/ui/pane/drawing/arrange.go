package drawing

import (
	"math"

	"fitup/internal/scene"
	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r2"
)

// place is a view's part of the pane, in cells.
type place struct {
	x, y, w, h int
	view       view.View
	box        r2.Box // of what it is to show, mm
}

// Margins round a drawing, in cells: to the sides and below for texts, and for the
// scale bar.
const (
	besideCells = 4
	aboveCells  = 3
)

// scale is the largest one at which w by h mm fit into so many cells, dots to the
// mm; each view takes its margins.
func scale(cols, rows int, w, h float64, across, down int) float64 {
	x := float64(2*cols - 2*besideCells*across - 2*(across-1))
	y := float64(4*rows - 4*min(aboveCells, max(rows/6, 1))*down)
	return min(max(x, 2)/w, max(y, 2)/h)
}

// loss is how much of its scale the first view keeps when another one stands
// beside it, unless it is still enough dots long.
const (
	loss   = 0.8
	enough = 250
)

// arrange finds how many of the views have room at one scale, and where: the
// first alone, with another beside or under it, with both, or with a fourth in
// the corner. More of them are shown only where the first loses little.
func arrange(cols, rows int, boxes []place) ([]place, float64) {
	size := func(i int) (w, h float64) {
		b := boxes[i].box
		return max(b.Max.X-b.Min.X, 1), max(b.Max.Y-b.Min.Y, 1)
	}
	wa, ha := size(0)
	alone := scale(cols, rows, wa, ha, 1, 1)
	one := boxes[0]
	one.w, one.h = cols, rows
	best, k := []place{one}, alone
	if len(boxes) < 2 || rows < 7 {
		return best, k
	}
	for n := 4; n > 1; n-- { // as many as there is room for
		for _, order := range orders(n, len(boxes)) {
			w, h := [2]float64{}, [2]float64{}
			for at, i := range order {
				if i < 0 {
					continue
				}
				bw, bh := size(i)
				w[at%2], h[at/2] = max(w[at%2], bw), max(h[at/2], bh)
			}
			across, down := count(w), count(h)
			s := scale(cols, rows, w[0]+w[1], h[0]+h[1], across, down)
			if s < loss*alone && s*max(wa, ha) < enough {
				continue
			}
			if places := split(cols, rows, boxes, order, w, h, s); roomy(places, s) {
				return places, s
			}
		}
	}
	return best, k
}

// readable is how many dots each way a view takes to be read beside another.
const readable = 36

// roomy reports whether every view is large enough to be read, with its texts.
func roomy(places []place, k float64) bool {
	for _, p := range places {
		if p.w < 16 || p.h < 5 || k*min(p.box.Max.X-p.box.Min.X, p.box.Max.Y-p.box.Min.Y) < readable {
			return false
		}
	}
	return true
}

func count(x [2]float64) int {
	n := 0
	for _, v := range x {
		if v > 0 {
			n++
		}
	}
	return n
}

// orders are the ways to set n of so many views on the four quarters of the pane:
// upper left, upper right, lower left, lower right; -1 is none.
func orders(n, of int) [][4]int {
	var out [][4]int
	switch {
	case n == 4 && of > 3:
		out = append(out, [4]int{0, 2, 1, 3})
	case n == 3 && of > 2:
		out = append(out, [4]int{0, 2, 1, -1}, [4]int{0, 1, 2, -1})
		if of > 3 {
			out = append(out, [4]int{0, 2, 3, -1}, [4]int{0, 3, 1, -1})
		}
	case n == 2:
		for i := 1; i < of; i++ {
			out = append(out, [4]int{0, -1, i, -1}, [4]int{0, i, -1, -1})
		}
	}
	return out
}

// split shares the pane out between the columns and the rows of views.
func split(cols, rows int, boxes []place, order [4]int, w, h [2]float64, k float64) []place {
	left, upper := cols, rows
	if w[1] > 0 {
		free := float64(cols-1) - k*(w[0]+w[1])/2
		left = int(math.Round(k*w[0]/2 + free/2))
	}
	if h[1] > 0 {
		free := float64(rows) - k*(h[0]+h[1])/4
		upper = int(math.Round(k*h[0]/4 + free/2))
	}
	var out []place
	for at, i := range order {
		if i < 0 {
			continue
		}
		p := boxes[i]
		p.w, p.h = left, upper
		if at%2 == 1 {
			p.x, p.w = left+1, cols-left-1
		}
		if at/2 == 1 {
			p.y, p.h = upper, rows-upper
		}
		out = append(out, p)
	}
	return out
}

// align sets the middles of views that share an axis on one line, as drawings
// have them.
func align(places []place) {
	a := &places[0]
	for i := range places[1:] {
		b := &places[i+1]
		ra, ua, _ := a.view.Axes()
		rb, ub, _ := b.view.Axes()
		if a.x == b.x && a.w == b.w && ra == rb {
			lo, hi := min(a.box.Min.X, b.box.Min.X), max(a.box.Max.X, b.box.Max.X)
			a.box.Min.X, a.box.Max.X, b.box.Min.X, b.box.Max.X = lo, hi, lo, hi
		}
		if a.y == b.y && a.h == b.h && ua == ub {
			lo, hi := min(a.box.Min.Y, b.box.Min.Y), max(a.box.Max.Y, b.box.Max.Y)
			a.box.Min.Y, a.box.Max.Y, b.box.Min.Y, b.box.Max.Y = lo, hi, lo, hi
		}
	}
}

// boxesOf are the views with what each has to show; none where there is nothing.
func boxesOf(s *scene.Scene, views []view.View, of scene.Extent) []place {
	var out []place
	for _, v := range views {
		if b, ok := s.Bounds(v, of); ok {
			out = append(out, place{view: v, box: b})
		}
	}
	return out
}

// boxes are those of the views on a pane of so many rows. Of few rows the vehicle would
// take most, so only what is fitted is shown there, unless there is nothing of it yet.
func (p *Pane) boxes(s *scene.Scene, views []view.View, rows int) []place {
	if p.close || rows < 8 {
		if out := boxesOf(s, views, scene.Fitted); len(out) > 0 {
			return out
		}
	}
	return boxesOf(s, views, scene.Whole)
}
