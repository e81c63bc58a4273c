package book

import (
	"fmt"
	"math"

	"fitup/internal/book/paper"
	"fitup/internal/scene"

	"gonum.org/v1/gonum/spatial/r2"
)

// series is a curve of a plot, in the units of its axes.
type series struct {
	name string
	at   []r2.Vec
	kind scene.Kind
}

// plot is curves over each other on one pair of axes.
type plot struct {
	x, y   string // what the axes are of, with units
	curves []series
	limits []level
	least  float64 // the least span of y that is drawn
}

// level is a line across a plot.
type level struct {
	y    float64
	name string
}

// kinds tell curves apart in black.
var kinds = []scene.Kind{scene.Continuous, scene.Dashed, scene.Chain, scene.Phantom}

func (q *plot) bounds() (lo, hi r2.Vec) {
	lo, hi = r2.Vec{X: math.Inf(1), Y: math.Inf(1)}, r2.Vec{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, c := range q.curves {
		for _, p := range c.at {
			lo, hi = r2.Vec{X: min(lo.X, p.X), Y: min(lo.Y, p.Y)}, r2.Vec{X: max(hi.X, p.X), Y: max(hi.Y, p.Y)}
		}
	}
	for _, l := range q.limits {
		lo.Y, hi.Y = min(lo.Y, l.y), max(hi.Y, l.y)
	}
	if len(q.limits) > 0 { // room for its words
		hi.Y += 0.1 * (hi.Y - lo.Y)
	}
	if short := q.least - (hi.Y - lo.Y); short > 0 {
		lo.Y, hi.Y = lo.Y-short/2, hi.Y+short/2
	}
	if hi.X <= lo.X {
		lo.X, hi.X = lo.X-1, hi.X+1
	}
	return lo, hi
}

// nice is a step of 1, 2 or 5 by powers of ten that divides a span in about n.
func nice(span float64, n int) float64 {
	step := math.Pow(10, math.Floor(math.Log10(span/float64(n))))
	for _, by := range []float64{1, 2, 5, 10} {
		if span/(step*by) <= float64(n) {
			return step * by
		}
	}
	return step * 10
}

func (q *plot) draw(p *paper.Page, place r2.Box) {
	lo, hi := q.bounds()
	inner := r2.Box{Min: r2.Add(place.Min, r2.Vec{X: 18, Y: 10}), Max: r2.Sub(place.Max, r2.Vec{X: 34, Y: 6})}
	size := r2.Sub(inner.Max, inner.Min)
	to := func(v r2.Vec) r2.Vec {
		return r2.Vec{X: inner.Min.X + (v.X-lo.X)/(hi.X-lo.X)*size.X, Y: inner.Min.Y + (v.Y-lo.Y)/(hi.Y-lo.Y)*size.Y}
	}
	thin := scene.Style{Role: scene.RolePaper}
	p.Polygon(corners(inner), thin)
	const small = 2.4
	sx, sy := nice(hi.X-lo.X, 8), nice(hi.Y-lo.Y, 6)
	for x := math.Ceil(lo.X/sx-1e-9) * sx; x <= hi.X+1e-9*sx; x += sx {
		at := to(r2.Vec{X: x, Y: lo.Y})
		p.Line([]r2.Vec{at, {X: at.X, Y: at.Y + 1.5}}, thin)
		name := fmt.Sprintf("%.4g", math.Round(x/sx)*sx+0)
		p.Type(r2.Vec{X: at.X - paper.Regular().Width(name, small)/2, Y: at.Y - 3.2}, name, small, false)
	}
	for y := math.Ceil(lo.Y/sy-1e-9) * sy; y <= hi.Y+1e-9*sy; y += sy {
		at := to(r2.Vec{X: lo.X, Y: y})
		p.Line([]r2.Vec{at, {X: at.X + 1.5, Y: at.Y}}, thin)
		name := fmt.Sprintf("%.6g", math.Round(y/sy)*sy+0)
		p.Type(r2.Vec{X: at.X - 1.5 - paper.Regular().Width(name, small), Y: at.Y - 0.8}, name, small, false)
	}
	p.Type(r2.Vec{X: inner.Min.X, Y: place.Max.Y - 3.5}, q.y, small, false)
	p.Type(r2.Vec{X: inner.Max.X - paper.Regular().Width(q.x, small), Y: place.Min.Y + 1.5}, q.x, small, false)
	for _, l := range q.limits {
		a, b := to(r2.Vec{X: lo.X, Y: l.y}), to(r2.Vec{X: hi.X, Y: l.y})
		p.Line([]r2.Vec{a, b}, scene.Style{Role: scene.RolePaper, Kind: scene.Phantom})
		p.Type(r2.Vec{X: a.X + 2, Y: a.Y + 0.8}, l.name, small, false)
	}
	free := math.Inf(1)
	for i, c := range q.curves {
		points := make([]r2.Vec, len(c.at))
		for k, v := range c.at {
			points[k] = to(v)
		}
		p.Line(points, scene.Style{Role: scene.RoleBody, Kind: c.kind})
		// The names stand in a column beside the plot, each with a piece of its line.
		y := place.Max.Y - 9 - 5*float64(i)
		if free = min(free, y); y < place.Min.Y {
			continue
		}
		p.Line([]r2.Vec{{X: inner.Max.X + 2, Y: y + 0.8}, {X: inner.Max.X + 14, Y: y + 0.8}}, scene.Style{Role: scene.RoleBody, Kind: c.kind})
		p.Type(r2.Vec{X: inner.Max.X + 15.5, Y: y}, paper.Regular().Fit(settled(c.name), small, 18), small, false)
	}
}
