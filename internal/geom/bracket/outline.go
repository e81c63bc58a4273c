package bracket

import (
	"math"

	"fitup/internal/geom/section"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// outline is the outer edge of a section: a rectangle b by h with corners of
// radius r. A circle is a square whose corners meet.
type outline struct{ b, h, r float64 }

func outlineOf(s section.Shape, p section.Properties) outline {
	switch s.Kind {
	case section.RoundTube, section.RoundBar:
		return outline{s.H, s.H, s.H / 2}
	case section.RectTube:
		return outline{s.B, s.H, p.Outer}
	}
	return outline{s.B, s.H, 0}
}

// reach is the largest value of gu·u + gv·v on the outline.
func (o outline) reach(gu, gv float64) float64 {
	return math.Abs(gu)*(o.b/2-o.r) + math.Abs(gv)*(o.h/2-o.r) + o.r*math.Hypot(gu, gv)
}

// points walks the outline from the middle of the top, clockwise seen from the
// pad (V to U), with n points to each corner; sharp corners have one.
func (o outline) points(n int) []r2.Vec {
	if o.r == 0 {
		n = 1
	}
	var out []r2.Vec
	for i, k := range [4][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}} {
		cu, cv := k[0]*(o.b/2-o.r), k[1]*(o.h/2-o.r)
		for j := range n {
			a := float64(i) * math.Pi / 2
			if n > 1 {
				a += math.Pi / 2 * float64(j) / float64(n-1)
			}
			p := r2.Vec{X: cu + o.r*math.Sin(a), Y: cv + o.r*math.Cos(a)}
			if len(out) > 0 && r2.Norm(r2.Sub(p, out[len(out)-1])) < 1e-9 {
				continue
			}
			out = append(out, p)
		}
	}
	if len(out) > 1 && r2.Norm(r2.Sub(out[0], out[len(out)-1])) < 1e-9 {
		out = out[:len(out)-1]
	}
	return out
}

// Outline returns the outer edge of the tube's end on a cut, vehicle axes: a
// closed polygon, the first point not repeated, with n points to each rounded
// corner (at least 2; a circle has 4(n-1) points). On the rail it is the line
// the weld follows.
func (c Cut) Outline(rail bool, n int) []r3.Vec {
	e := c.Pad
	if rail {
		e = c.Rail
	}
	flat := c.outline.points(min(max(n, 2), 1000))
	out := make([]r3.Vec, len(flat))
	for i, p := range flat {
		s := e.gu*p.X + e.gv*p.Y
		out[i] = r3.Add(e.At, r3.Add(r3.Scale(s, c.Axis), r3.Add(r3.Scale(p.X, c.U), r3.Scale(p.Y, c.V))))
	}
	return out
}
