package bracket

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Bow is a run of weld along part of an ellipse, mm: Centre + A cos t + B sin t
// with t from From through Sweep. A round tube, and the rounded corner of a
// box, meets a slanting face in one.
type Bow struct {
	Centre, A, B r2.Vec
	From, Sweep  geom.Angle
}

func (w Bow) at(t float64) r2.Vec {
	s, c := math.Sincos(w.From.Rad() + t*w.Sweep.Rad())
	return r2.Add(w.Centre, r2.Add(r2.Scale(c, w.A), r2.Scale(s, w.B)))
}

func (w Bow) ok() bool {
	size := math.Max(r2.Norm(w.A), r2.Norm(w.B))
	return lengthOK(size) && math.Abs(w.Centre.X) <= limitLength && math.Abs(w.Centre.Y) <= limitLength &&
		w.Sweep.Abs() > 0 && w.Sweep.Abs() <= 2*math.Pi*(1+1e-12) && w.From.Abs() <= 100*math.Pi &&
		geom.Finite(w.A.X, w.A.Y, w.B.X, w.B.Y)
}

// integrate adds the bow's length and second moments to g and returns its first
// moments, all about from: Gauss and Legendre on eighths of it, which is exact
// to rounding for any slant a saw can cut.
func (w Bow) integrate(g *plane, from r2.Vec) r2.Vec {
	const pieces, points = 8, 24
	over := func(f func(p r2.Vec) float64) float64 {
		sum := 0.0
		for i := range pieces {
			sum += quad.Fixed(func(t float64) float64 {
				s, c := math.Sincos(w.From.Rad() + t*w.Sweep.Rad())
				speed := r2.Norm(r2.Add(r2.Scale(-s, w.A), r2.Scale(c, w.B))) * w.Sweep.Abs().Rad()
				return speed * f(r2.Sub(w.at(t), from))
			}, float64(i)/pieces, float64(i+1)/pieces, points, quad.Legendre{}, 0)
		}
		return sum
	}
	g.size += over(func(r2.Vec) float64 { return 1 })
	g.ix += over(func(p r2.Vec) float64 { return p.Y * p.Y })
	g.iy += over(func(p r2.Vec) float64 { return p.X * p.X })
	g.ixy += over(func(p r2.Vec) float64 { return p.X * p.Y })
	return r2.Vec{X: over(func(p r2.Vec) float64 { return p.X }), Y: over(func(p r2.Vec) float64 { return p.Y })}
}

// EdgeLine is the outer edge of a tube's end in the plane of its cut: the flat
// part of each side, and what joins them.
type EdgeLine struct {
	Sides   [4][]r2.Vec // indexed by Side; empty on a round tube, where no side is flat
	Corners []Bow       // none where the corners are sharp
}

// Edge returns the outer edge of the tube's end in the frame of a plane that
// the cut lies in (FacePose): the line a weld follows. A weld on one side ends
// where that side's flat ends; it goes round a corner only all round.
func (c Cut) Edge(rail bool, pose geom.Pose) EdgeLine {
	e, o := c.Pad, c.outline
	if rail {
		e = c.Rail
	}
	own := func(d r3.Vec) r2.Vec { return r2.Vec{X: r3.Dot(d, pose.X), Y: r3.Dot(d, pose.Y)} }
	mid := OnFace(pose, []r3.Vec{e.At})[0]
	u := own(r3.Add(c.U, r3.Scale(e.gu, c.Axis))) // of 1 mm along U, and along V
	v := own(r3.Add(c.V, r3.Scale(e.gv, c.Axis)))
	on := func(x, y float64) r2.Vec { return r2.Add(mid, r2.Add(r2.Scale(x, u), r2.Scale(y, v))) }
	var out EdgeLine
	x, y := o.b/2, o.h/2
	fx, fy := x-o.r, y-o.r
	if fx > geom.Tiny {
		out.Sides[Top] = []r2.Vec{on(-fx, y), on(fx, y)}
		out.Sides[Bottom] = []r2.Vec{on(fx, -y), on(-fx, -y)}
	}
	if fy > geom.Tiny {
		out.Sides[Right] = []r2.Vec{on(x, fy), on(x, -fy)}
		out.Sides[Left] = []r2.Vec{on(-x, -fy), on(-x, fy)}
	}
	if o.r <= geom.Tiny {
		return out
	}
	a, b := r2.Scale(o.r, v), r2.Scale(o.r, u) // from V toward U, as Clock counts
	if fx <= geom.Tiny && fy <= geom.Tiny {
		out.Corners = []Bow{{Centre: mid, A: a, B: b, Sweep: 360 * geom.Deg}}
		return out
	}
	for i, k := range [4][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}} {
		out.Corners = append(out.Corners, Bow{Centre: on(k[0]*fx, k[1]*fy), A: a, B: b,
			From: geom.Angle(i) * 90 * geom.Deg, Sweep: 90 * geom.Deg})
	}
	return out
}
