package bracket

import (
	"math"

	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// outline is the outer edge of a section: a rectangle b by h with corners of
// radius r. A circle is a square whose corners meet. That of a channel or an angle has
// its edge in it, its corners sharp, as convex pieces too.
type outline struct {
	b, h, r float64
	edge    []r2.Vec
	pieces  [][]r2.Vec
}

func outlineOf(s section.Shape, p section.Properties) outline {
	switch s.Kind {
	case section.RoundTube, section.RoundBar:
		return outline{b: s.H, h: s.H, r: s.H / 2}
	case section.RectTube:
		return outline{b: s.B, h: s.H, r: p.Outer}
	case section.Channel:
		return open(s.B, s.H, s.T, s.Flange, true)
	case section.Angle:
		return open(s.B, s.H, s.T, s.T, false)
	}
	return outline{b: s.B, h: s.H}
}

// open is a web, or an upright leg, of thickness t on the left, with a flange of
// thickness f below and, of a channel, above; its middle is that of what it is b by h.
func open(b, h, t, f float64, channel bool) outline {
	x, y := b/2, h/2
	box := func(x0, y0, x1, y1 float64) []r2.Vec {
		return []r2.Vec{{X: x0, Y: y1}, {X: x1, Y: y1}, {X: x1, Y: y0}, {X: x0, Y: y0}}
	}
	o := outline{b: b, h: h, edge: []r2.Vec{{X: -x, Y: y}, {X: t - x, Y: y}}}
	top := y
	if channel {
		o.edge = []r2.Vec{{X: -x, Y: y}, {X: x, Y: y}, {X: x, Y: y - f}, {X: t - x, Y: y - f}}
		top -= f
		o.pieces = append(o.pieces, box(-x, top, x, y))
	}
	o.edge = append(o.edge, r2.Vec{X: t - x, Y: f - y}, r2.Vec{X: x, Y: f - y}, r2.Vec{X: x, Y: -y}, r2.Vec{X: -x, Y: -y})
	o.pieces = append(o.pieces, box(-x, -y, x, f-y), box(-x, f-y, t-x, top))
	return o
}

// has reports whether there is metal along a whole side.
func (o outline) has(s Side) bool {
	switch {
	case o.edge == nil:
		return true
	case s == Top:
		return len(o.pieces) > 2
	}
	return s != Right
}

// reach is the largest value of gu·u + gv·v on the outline.
func (o outline) reach(gu, gv float64) float64 {
	if o.edge != nil {
		most := math.Inf(-1)
		for _, p := range o.edge {
			most = max(most, gu*p.X+gv*p.Y)
		}
		return most
	}
	return math.Abs(gu)*(o.b/2-o.r) + math.Abs(gv)*(o.h/2-o.r) + o.r*math.Hypot(gu, gv)
}

// points walks the outline from the middle of the top, clockwise seen from the
// pad (V to U), with n points to each corner; sharp corners have one.
func (o outline) points(n int) []r2.Vec {
	if o.edge != nil {
		return o.edge
	}
	if o.r == 0 {
		n = 1
	}
	arc := make([]r2.Vec, n) // of the first corner, about its middle; each of the others is a quarter on
	for j := range arc {
		a := 0.0
		if n > 1 {
			a = math.Pi / 2 * float64(j) / float64(n-1)
		}
		s, c := math.Sincos(a)
		arc[j] = r2.Vec{X: o.r * s, Y: o.r * c}
	}
	same := func(p, q r2.Vec) bool { return math.Abs(p.X-q.X)+math.Abs(p.Y-q.Y) < 1e-9 }
	out := make([]r2.Vec, 0, 4*n)
	for _, k := range [4][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}} {
		middle := r2.Vec{X: k[0] * (o.b/2 - o.r), Y: k[1] * (o.h/2 - o.r)}
		for j, d := range arc {
			p := r2.Add(middle, d)
			arc[j] = r2.Vec{X: d.Y, Y: -d.X}
			if len(out) > 0 && same(p, out[len(out)-1]) {
				continue
			}
			out = append(out, p)
		}
	}
	if len(out) > 1 && same(out[0], out[len(out)-1]) {
		out = out[:len(out)-1]
	}
	return out
}

// Outline returns the outer edge of the tube's end on a cut, vehicle axes: a
// closed polygon, the first point not repeated, with n points to each rounded
// corner (at least 2; a circle has 4(n-1) points). On the rail it is the line
// the weld follows.
func (c Cut) Outline(rail bool, n int) []r3.Vec {
	return c.onCut(rail, c.outline.points(min(max(n, 2), 1000)))
}

// Pieces is the same as convex polygons, which for all but a channel and an angle is
// one.
func (c Cut) Pieces(rail bool, n int) [][]r3.Vec {
	if c.outline.edge == nil {
		return [][]r3.Vec{c.Outline(rail, n)}
	}
	out := make([][]r3.Vec, len(c.outline.pieces))
	for i, p := range c.outline.pieces {
		out[i] = c.onCut(rail, p)
	}
	return out
}

// HasSide reports whether the piece has metal along a whole side: a channel is open on
// its right, an angle on its right and its top.
func (c Cut) HasSide(s Side) bool { return c.outline.has(s) }

// Open reports whether it is a channel or an angle.
func (c Cut) Open() bool { return c.outline.edge != nil }

// onCut puts places of the section on a cut, vehicle axes.
func (c Cut) onCut(rail bool, flat []r2.Vec) []r3.Vec {
	e := c.Pad
	if rail {
		e = c.Rail
	}
	out := make([]r3.Vec, len(flat))
	for i, p := range flat {
		s := e.gu*p.X + e.gv*p.Y
		out[i] = r3.Add(e.At, r3.Add(r3.Scale(s, c.Axis), r3.Add(r3.Scale(p.X, c.U), r3.Scale(p.Y, c.V))))
	}
	return out
}
