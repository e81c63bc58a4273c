package sketch

import (
	"math"
	"strings"
)

// Series is a curve: Y[i] over X[i]. A value that is no number leaves a gap.
type Series struct {
	Name    string // written near the curve's end; may be empty
	X, Y    []float64
	Ink     Ink
	Pattern Pattern // tells curves apart where colour cannot
}

// Limit is a level line, such as the largest angle allowed.
type Limit struct {
	Y     float64
	Label string
	Ink   Ink
}

// Marker is an upright line, such as the place the cursor is at.
type Marker struct {
	X     float64
	Label string
	Ink   Ink
}

// Plot is a diagram of one or more curves. Axes run over all that is shown,
// unless the fixed range given here is wider.
type Plot struct {
	XLabel, YLabel         string // with the unit: "travel, mm"
	Series                 []Series
	Limits                 []Limit
	Markers                []Marker
	MinX, MaxX, MinY, MaxY float64 // widen the axes; not used where both are 0
	Axis                   Ink
}

// Draw returns the diagram on a canvas of w by h cells. Below 16 by 5 cells
// the axes are left out, and without a single point nothing is drawn.
func (p Plot) Draw(w, h int, ascii bool) *Canvas {
	c := New(w, h, ascii)
	x, y := p.ranges()
	if !x.valid() || !y.valid() {
		return c
	}
	x, y = x.opened(), y.opened()
	f := frame{c: c, x: x, y: y}
	dw, dh := c.Dots()
	f.right, f.bottom = float64(dw-1), float64(dh-1)
	if c.w >= 16 && c.h >= 5 {
		p.axes(&f)
	}
	p.curves(&f)
	return c
}

// span is a range of values; the zero value is not a range, noSpan is empty.
type span struct{ lo, hi float64 }

func noSpan() span { return span{math.Inf(1), math.Inf(-1)} }

func (s *span) add(v float64) {
	if near(v) {
		s.lo, s.hi = math.Min(s.lo, v), math.Max(s.hi, v)
	}
}

func (s span) valid() bool { return s.lo <= s.hi }

// opened gives a range without extent some room on both sides.
func (s span) opened() span {
	if s.hi-s.lo > 1e-9*math.Max(math.Abs(s.lo), math.Abs(s.hi)) {
		return s
	}
	room := math.Max(math.Abs(s.lo)/10, 1)
	return span{s.lo - room, s.hi + room}
}

func (p Plot) ranges() (x, y span) {
	x, y = noSpan(), noSpan()
	for _, s := range p.Series {
		for i := range min(len(s.X), len(s.Y)) {
			if near(s.X[i]) && near(s.Y[i]) {
				x.add(s.X[i])
				y.add(s.Y[i])
			}
		}
	}
	if !x.valid() {
		return x, y
	}
	for _, l := range p.Limits {
		y.add(l.Y)
	}
	for _, m := range p.Markers {
		x.add(m.X)
	}
	if p.MinX != 0 || p.MaxX != 0 {
		x.add(p.MinX)
		x.add(p.MaxX)
	}
	if p.MinY != 0 || p.MaxY != 0 {
		y.add(p.MinY)
		y.add(p.MaxY)
	}
	return x, y
}

// frame is the part of the canvas the curves share, in dots.
type frame struct {
	c                        *Canvas
	x, y                     span
	left, top, right, bottom float64
}

func (f *frame) px(x float64) float64 {
	return f.left + (x-f.x.lo)/(f.x.hi-f.x.lo)*(f.right-f.left)
}

func (f *frame) py(y float64) float64 {
	return f.bottom - (y-f.y.lo)/(f.y.hi-f.y.lo)*(f.bottom-f.top)
}

// axes draws the two axes with their numbers and shrinks the frame to what
// they leave: the left columns for numbers, the top row for the y label, the
// bottom row for the x numbers and label.
func (p Plot) axes(f *frame) {
	c := f.c
	ys := ticks(f.y, max(c.h/4, 2))
	gutter := 1
	for _, v := range ys {
		gutter = max(gutter, textWidth(number(v)))
	}
	gutter = min(gutter, c.w/3)
	f.left, f.top = float64(2*gutter+1), 4
	f.bottom -= 4
	c.Line(f.left, f.top, f.left, f.bottom, p.Axis)
	c.Line(f.left, f.bottom, f.right, f.bottom, p.Axis)
	c.Text(0, 0, p.YLabel, p.Axis)
	for _, v := range ys {
		s := number(v)
		c.Text(max(gutter-textWidth(s), 0), cellOf(f.py(v), 4), s, p.Axis)
		if !c.ascii {
			c.Line(f.left-1, f.py(v), f.left, f.py(v), p.Axis)
		}
	}
	// The x label has the right end of the bottom row; numbers stop before it.
	end := c.w
	if n := textWidth(p.XLabel); n > 0 && n <= c.w/2 {
		end = c.w - n - 1
		c.Text(end+1, c.h-1, p.XLabel, p.Axis)
	}
	free := 0
	for _, v := range ticks(f.x, max(c.w/10, 2)) {
		s := number(v)
		n := textWidth(s)
		at := max(cellOf(f.px(v), 2)-n/2, 0)
		if at < free || at+n > end {
			continue
		}
		c.Text(at, c.h-1, s, p.Axis)
		free = at + n + 1
	}
}

// ticks returns about n round values within a range.
func ticks(s span, n int) []float64 {
	step := roundDown((s.hi - s.lo) / float64(n) * 2)
	if step <= 0 {
		return nil
	}
	var out []float64
	for i := math.Ceil(s.lo/step - 1e-9); i*step <= s.hi+1e-9*step && len(out) <= 4*n; i++ {
		// Dividing by a power of ten keeps 0.3 from becoming 0.30000000000000004.
		out = append(out, math.Round(i*step*1e9)/1e9)
	}
	return out
}

func (p Plot) curves(f *frame) {
	c := f.c
	for _, m := range p.Markers {
		if near(m.X) {
			c.Dashed(f.px(m.X), f.top, f.px(m.X), f.bottom, m.Ink)
		}
	}
	for _, l := range p.Limits {
		if near(l.Y) {
			c.Dashed(f.left, f.py(l.Y), f.right, f.py(l.Y), l.Ink)
		}
	}
	for _, s := range p.Series {
		points := make([][2]float64, min(len(s.X), len(s.Y)))
		for i := range points {
			points[i] = [2]float64{f.px(s.X[i]), f.py(s.Y[i])}
		}
		c.Stroke(points, s.Pattern, s.Ink)
	}
	p.labels(f)
}

// labels come last, so that each can look for a place the curves leave.
func (p Plot) labels(f *frame) {
	c := f.c
	write := func(x, y float64, s string, ink Ink) {
		if strings.TrimSpace(s) != "" {
			c.TextFree(cellOf(x, 2), cellOf(y, 4), s, ink)
		}
	}
	for _, m := range p.Markers {
		if near(m.X) {
			write(f.px(m.X)+2, f.top, m.Label, m.Ink)
		}
	}
	for _, l := range p.Limits {
		if near(l.Y) {
			write(f.right-float64(2*textWidth(l.Label)), f.py(l.Y)-4, l.Label, l.Ink)
		}
	}
	for i, s := range p.Series {
		if x, y, ok := p.clearest(f, i); ok {
			write(x, y-4, s.Name, s.Ink)
		}
	}
}

// clearest returns the point of a curve, in dots, that is furthest from every
// other curve, so that the name written there cannot be taken for another's.
// Among equals the last wins.
func (p Plot) clearest(f *frame, i int) (x, y float64, ok bool) {
	own := f.sample(p.Series[i], 24)
	best := -1.0
	for _, a := range own {
		gap := far
		for j, other := range p.Series {
			if j == i {
				continue
			}
			for _, b := range f.sample(other, 48) {
				gap = math.Min(gap, math.Hypot(a[0]-b[0], a[1]-b[1]))
			}
		}
		if gap >= best {
			best, x, y, ok = gap, a[0], a[1], true
		}
	}
	return x, y, ok
}

// sample returns at most about n points of a curve, in dots, the last included.
func (f *frame) sample(s Series, n int) [][2]float64 {
	count := min(len(s.X), len(s.Y))
	step := max(count/n, 1)
	var out [][2]float64
	for i := (count - 1) % step; i >= 0 && i < count; i += step {
		if near(s.X[i]) && near(s.Y[i]) {
			out = append(out, [2]float64{f.px(s.X[i]), f.py(s.Y[i])})
		}
	}
	return out
}
