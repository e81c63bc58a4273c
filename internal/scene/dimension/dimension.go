// Package dimension draws dimensions on the plane of a drawing, in the manner of
// ISO 129-1 (from memory): extension lines from what is measured to a little
// beyond the dimension line, open arrowheads of 30° at its ends, the figure over
// its middle; where it is too short for its arrowheads they stand outside and
// point at each other.
package dimension

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Size is how large the parts of a dimension are drawn, mm of the drawing.
type Size struct {
	Arrow float64 // length of an arrowhead
	Gap   float64 // between what is measured and the extension line
	Over  float64 // of the extension line beyond the dimension line
}

// Drawn is a dimension as strokes.
type Drawn struct {
	Strokes [][]r2.Vec
	Middle  r2.Vec // of the dimension line or arc
	Outside bool   // the arrowheads stand outside
	Ends    [2]r2.Vec
}

// Line is the dimension of the distance between two points; its dimension line
// lies aside of them by a vector square to it, or between them where that is
// nothing.
type Line struct {
	From, To r2.Vec
	Aside    r2.Vec
}

// least is the shortest distance that has a direction, mm.
const least = 1e-6

// Draw draws it. A distance of nothing has no direction and is drawn as nothing.
func (l Line) Draw(size Size) Drawn {
	a, b := r2.Add(l.From, l.Aside), r2.Add(l.To, l.Aside)
	d := r2.Sub(b, a)
	n := r2.Norm(d)
	out := Drawn{Middle: r2.Scale(0.5, r2.Add(a, b)), Ends: [2]r2.Vec{a, b}}
	if !(n > least) {
		return out
	}
	u := r2.Scale(1/n, d)
	if w := r2.Norm(l.Aside); w > size.Gap {
		side := r2.Scale(1/w, l.Aside)
		for _, p := range []r2.Vec{l.From, l.To} {
			out.Strokes = append(out.Strokes, []r2.Vec{r2.Add(p, r2.Scale(size.Gap, side)), r2.Add(p, r2.Scale(w+size.Over, side))})
		}
	}
	out.Outside = n < 2.5*size.Arrow
	in := 1.0 // arrowheads lie within the line
	if out.Outside {
		in = -1
		tail := r2.Scale(2*size.Arrow, u)
		out.Strokes = append(out.Strokes, []r2.Vec{r2.Sub(a, tail), a}, []r2.Vec{b, r2.Add(b, tail)})
	}
	out.Strokes = append(out.Strokes, []r2.Vec{a, b}, head(a, r2.Scale(in, u), size.Arrow), head(b, r2.Scale(-in, u), size.Arrow))
	return out
}

// head is an open arrowhead of 30° with its tip at a point, whose shaft goes off
// along u.
func head(tip, u r2.Vec, length float64) []r2.Vec {
	w := r2.Scale(length*math.Tan(math.Pi/12), r2.Vec{X: -u.Y, Y: u.X})
	back := r2.Add(tip, r2.Scale(length, u))
	return []r2.Vec{r2.Add(back, w), tip, r2.Sub(back, w)}
}

// Angle is the dimension of the angle at an apex between two ways, rad from the
// drawing's x, anticlockwise; it is drawn the short way round.
type Angle struct {
	Apex     r2.Vec
	From, To float64
	Radius   float64
}

// Draw draws it: an arc with its arrowheads, and both ways to a little beyond it.
func (g Angle) Draw(size Size) Drawn {
	by := math.Remainder(g.To-g.From, 2*math.Pi)
	at := func(angle, r float64) r2.Vec {
		sin, cos := math.Sincos(angle)
		return r2.Add(g.Apex, r2.Vec{X: r * cos, Y: r * sin})
	}
	out := Drawn{Middle: at(g.From+by/2, g.Radius), Ends: [2]r2.Vec{at(g.From, g.Radius), at(g.To, g.Radius)}}
	if !(g.Radius > least) {
		return out
	}
	for _, a := range []float64{g.From, g.To} {
		out.Strokes = append(out.Strokes, []r2.Vec{g.Apex, at(a, g.Radius+size.Over)})
	}
	out.Outside = math.Abs(by)*g.Radius < 2.5*size.Arrow
	in, from, to := math.Copysign(1, by), g.From, g.From+by
	if out.Outside {
		tail := in * 2 * size.Arrow / g.Radius
		in, from, to = -in, from-tail, to+tail
	}
	n := max(2, int(math.Ceil(math.Abs(to-from)/(math.Pi/36))))
	arc := make([]r2.Vec, n+1)
	for i := range arc {
		arc[i] = at(from+(to-from)*float64(i)/float64(n), g.Radius)
	}
	along := func(angle, way float64) r2.Vec {
		sin, cos := math.Sincos(angle)
		return r2.Vec{X: -way * sin, Y: way * cos}
	}
	out.Strokes = append(out.Strokes, arc,
		head(out.Ends[0], along(g.From, in), size.Arrow), head(out.Ends[1], along(g.To, -in), size.Arrow))
	return out
}
