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
	return geom.LengthOK(size) && math.Abs(w.Centre.X) <= geom.LimitLength && math.Abs(w.Centre.Y) <= geom.LimitLength &&
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

// turned is a place of a turn, by its sine and cosine, and the turn it stands for, rad.
type turned struct{ sin, cos, by float64 }

// quarter are the places of Gauss and Legendre on the two halves of a quarter turn.
var quarter = sync.OnceValue(func() []turned {
	return Bow{Sweep: 90 * geom.Deg}.turns()
})

// turns are the places of Gauss and Legendre on pieces of an eighth turn.
func (w Bow) turns() []turned {
	pieces := math.Ceil(w.Sweep.Abs().Rad() / (math.Pi / 4))
	var out []turned
	for i := range int(pieces) {
		for _, x := range gaussPoints() {
			t := (float64(i) + x[0]) / pieces
			s, c := math.Sincos(w.From.Rad() + t*w.Sweep.Rad())
			out = append(out, turned{s, c, w.Sweep.Abs().Rad() * x[1] / pieces})
		}
	}
	return out
}

// quarters are how many whole quarter turns the bow is, and at which one it begins;
// false where it is not made of them.
func (w Bow) quarters() (from, n int, ok bool) {
	const turn = 90 * geom.Deg
	from, n = int(math.Round(float64(w.From/turn))), int(math.Round(float64(w.Sweep/turn)))
	return from, n, n > 0 && w.From == geom.Angle(from)*turn && w.Sweep == geom.Angle(n)*turn
}

// integrate adds the bow's length and second moments to g and returns its first
// moments, all about from: Gauss and Legendre on pieces of an eighth turn, which
// is exact to rounding for any slant a saw can cut.
func (w Bow) integrate(g *plane, from r2.Vec) r2.Vec {
	middle := r2.Sub(w.Centre, from)
	begins, n, ok := w.quarters()
	if !ok {
		return integrate(g, middle, w.A, w.B, w.turns())
	}
	var first r2.Vec
	for i := range n { // a quarter on, A takes the place of -B, and B that of A
		a, b := w.A, w.B
		for range (begins + i) & 3 {
			a, b = b, r2.Scale(-1, a)
		}
		first = r2.Add(first, integrate(g, middle, a, b, quarter()))
	}
	return first
}

// integrate is that of some turns of an ellipse with half axes a and b.
func integrate(g *plane, middle, a, b r2.Vec, turns []turned) (first r2.Vec) {
	for i := range turns {
		t := &turns[i]
		p := r2.Vec{X: middle.X + t.cos*a.X + t.sin*b.X, Y: middle.Y + t.cos*a.Y + t.sin*b.Y}
		along := r2.Vec{X: t.cos*b.X - t.sin*a.X, Y: t.cos*b.Y - t.sin*a.Y}
		l := math.Sqrt(along.X*along.X+along.Y*along.Y) * t.by
		g.size += l
		first = r2.Add(first, r2.Scale(l, p))
		g.ix += l * p.Y * p.Y
		g.iy += l * p.X * p.X
		g.ixy += l * p.X * p.Y
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

// hull is a polygon round the bow: its ends, and where the tangents at the ends of
// every quarter turn of it meet.
func (w Bow) hull() []r2.Vec {
	n := max(1, int(math.Ceil(w.Sweep.Abs().Rad()/(math.Pi/2)-1e-9)))
	half := w.Sweep.Rad() / float64(2*n)
	out := []r2.Vec{w.at(0), w.at(1)}
	for i := range n {
		s, c := math.Sincos(w.From.Rad() + float64(2*i+1)*half)
		out = append(out, r2.Add(w.Centre, r2.Scale(1/math.Cos(half), r2.Add(r2.Scale(c, w.A), r2.Scale(s, w.B)))))
	}
	return out
}

// misses is the part of the largest square of a force that the best of places may
// fall short of it: the square has two periods at most to a turn, and the top is
// half a step of a twentieth of a turn from a place at most, 1 - cos(2·9°).
const misses = 0.05

// worst returns the place of the bow where the force is largest: its square is
// of the second degree in the place. Every place that is higher than those beside
// it, and so near to the highest that its top may be above, is followed up.
func (w *Bow) worst(f *forceField, places []r2.Vec) r2.Vec {
	var squares [32]float64
	top := topOf{bow: w, field: f, square: -1}
	for i, p := range places {
		if squares[i] = f.square(p); squares[i] > top.square {
			top.at, top.square = p, squares[i]
		}
	}
	last := len(places) - 1
	high := top.square
	wave := f.along(w)
	for i, v := range squares[:last+1] {
		if v < high*(1-misses) || v < squares[max(i-1, 0)] || v < squares[min(i+1, last)] {
			continue
		}
		if t, ok := wave.top(w, max(i-1, 0), i, min(i+1, last), last); ok {
			top.take(t)
			continue
		}
		step := 1 / float64(last)
		t := 0.5
		if last == 1 { // nothing between the ends was looked at yet
			t = top.around(t, t)
		} else {
			k := min(max(i, 1), last-1)
			t = top.parabola(float64(k)*step, step, [3]float64{squares[k-1], squares[k], squares[k+1]}, float64(i)*step)
		}
		for _, part := range []float64{8, 32, 128} {
			t = top.climb(t, step/part)
		}
	}
	return top.at
}

// wave is the square of a force along a bow, by the angle t: what does not change with
// it left out, 2·(p cos t + q sin t) + aa cos² t + 2·ab cos t sin t + bb sin² t.
type wave struct{ p, q, aa, bb, ab float64 }

// along is the square of its size along a bow, as of square.
func (f *forceField) along(w *Bow) wave {
	way := func(d r2.Vec) r3.Vec { return r3.Vec{X: -f.turn * d.Y, Y: f.turn * d.X, Z: f.b*d.X + f.c*d.Y} }
	dot := func(u, v r3.Vec) float64 { return (1+f.more)*(u.X*v.X+u.Y*v.Y) + u.Z*v.Z }
	o, a, b := f.at(w.Centre), way(w.A), way(w.B)
	return wave{dot(o, a), dot(o, b), dot(a, a), dot(b, b), dot(a, b)}
}

// slope is half the first and the second derivative at an angle.
func (v *wave) slope(t float64) (first, second float64) {
	s, c := math.Sincos(t)
	twice, once := c*c-s*s, c*s
	return -s*v.p + c*v.q + once*(v.bb-v.aa) + twice*v.ab, -c*v.p - s*v.q + twice*(v.bb-v.aa) - 4*once*v.ab
}

// top is where, 0 to 1 along the bow, the square is largest about place i of so many
// steps, between places lo and hi: by Newton's method, halving where that leads out.
// False is for where it does not rise from lo or not fall to hi.
func (v *wave) top(w *Bow, lo, i, hi, steps int) (float64, bool) {
	angle := func(k int) float64 { return w.From.Rad() + w.Sweep.Rad()*float64(k)/float64(steps) }
	a, t, b := angle(lo), angle(i), angle(hi)
	if a > b {
		a, b = b, a
	}
	rises, _ := v.slope(a)
	falls, _ := v.slope(b)
	if !(rises > 0 && falls < 0) {
		return 0, false
	}
	for range 60 {
		first, second := v.slope(t)
		switch {
		case first > 0:
			a = t
		case first < 0:
			b = t
		default:
			a, b = t, t
		}
		next := t - first/second
		if !(second < 0 && next > a && next < b) {
			next = (a + b) / 2
		}
		t, next = next, t
		if math.Abs(t-next) < 1e-9 {
			break
		}
	}
	return min(max((t-w.From.Rad())/w.Sweep.Rad(), 0), 1), true
}

// topOf looks for the top of the square of the force along a bow.
type topOf struct {
	bow    *Bow
	field  *forceField
	at     r2.Vec
	square float64
}

func (o *topOf) take(t float64) float64 {
	p := o.bow.at(t)
	v := o.field.square(p)
	if v > o.square {
		o.at, o.square = p, v
	}
	return v
}

// climb goes up from t in steps until the top is between them: where a top is
// flat or leans, the first parabolas stop beside it. It returns how far it got.
func (o *topOf) climb(t, step float64) float64 {
	for range 16 { // as far as the places beside the first
		from := t
		if t = o.around(from, step); math.Abs(t-from) < step {
			break
		}
	}
	return t
}

// around takes three places a step apart about t, 0 to 1 along the bow, and the
// top of the parabola through them. It returns the highest.
func (o *topOf) around(t, step float64) float64 {
	t = min(max(t, step), 1-step)
	at := [3]float64{o.take(t - step), o.take(t), o.take(t + step)}
	best := t
	switch {
	case at[0] > at[1] && at[0] >= at[2]:
		best = t - step
	case at[2] > at[1]:
		best = t + step
	}
	return o.parabola(t, step, at, best)
}

// parabola takes the top of the parabola through what is at t and a step on
// either side, and returns where that is, or best where nothing higher is there.
func (o *topOf) parabola(t, step float64, at [3]float64, best float64) float64 {
	if bend := at[0] - 2*at[1] + at[2]; bend < 0 {
		top := min(max(t+step/2*(at[0]-at[2])/bend, 0), 1)
		if o.take(top) > max(at[0], at[1], at[2]) {
			return top
		}
	}
	return best
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
	for side := range out.Sides { // inside a channel or an angle nothing is counted
		if !o.has(Side(side)) {
			out.Sides[side] = nil
		}
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
