package bracket

import (
	"math"
	"sync"

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

// gaussPoints are the places and weights of Gauss and Legendre on 0 to 1.
var gaussPoints = sync.OnceValue(func() [][2]float64 {
	const n = 12
	x, w := make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(x, w, 0, 1)
	out := make([][2]float64, n)
	for i := range out {
		out[i] = [2]float64{x[i], w[i]}
	}
	return out
})

// integrate adds the bow's length and second moments to g and returns its first
// moments, all about from: Gauss and Legendre on pieces of an eighth turn, which
// is exact to rounding for any slant a saw can cut.
func (w Bow) integrate(g *plane, from r2.Vec) (first r2.Vec) {
	pieces := math.Ceil(w.Sweep.Abs().Rad() / (math.Pi / 4))
	for i := range int(pieces) {
		for _, x := range gaussPoints() {
			t := (float64(i) + x[0]) / pieces
			s, c := math.Sincos(w.From.Rad() + t*w.Sweep.Rad())
			p := r2.Sub(r2.Add(w.Centre, r2.Add(r2.Scale(c, w.A), r2.Scale(s, w.B))), from)
			l := r2.Norm(r2.Add(r2.Scale(-s, w.A), r2.Scale(c, w.B))) * w.Sweep.Abs().Rad() * x[1] / pieces
			g.size += l
			first = r2.Add(first, r2.Scale(l, p))
			g.ix += l * p.Y * p.Y
			g.iy += l * p.X * p.X
			g.ixy += l * p.X * p.Y
		}
	}
	return first
}

// places are the bow's ends and those between, five to a quarter turn at least.
func (w Bow) places() []r2.Vec {
	n := int(math.Ceil(w.Sweep.Abs().Rad() / (math.Pi / 10)))
	out := make([]r2.Vec, n+1)
	for i := range out {
		out[i] = w.at(float64(i) / float64(n))
	}
	return out
}

// worst returns the place of the bow where the force is largest: its square is
// of the second degree in the place. The best of places, then twice the top of a
// parabola through three.
func (w *Bow) worst(f *forceField, places []r2.Vec) r2.Vec {
	n := len(places) - 1
	step := 1 / float64(n)
	best, at, value := 0.0, places[0], math.Inf(-1)
	for i, p := range places {
		if v := f.square(p); v > value {
			best, at, value = float64(i)*step, p, v
		}
	}
	for range 2 {
		t := min(max(best, step), 1-step)
		if n == 1 {
			t, step = 0.5, 0.5
		}
		var v [3]float64
		for i := range v {
			there := t + float64(i-1)*step
			p := w.at(there)
			if v[i] = f.square(p); v[i] > value {
				best, at, value = there, p, v[i]
			}
		}
		if bend := v[0] - 2*v[1] + v[2]; bend < 0 {
			top := min(max(t+step/2*(v[0]-v[2])/bend, 0), 1)
			p := w.at(top)
			if v := f.square(p); v > value {
				best, at, value = top, p, v
			}
		}
		step /= 8
	}
	return at
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
