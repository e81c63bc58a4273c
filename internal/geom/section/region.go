package section

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
)

// arcSteps is into how many chords a quarter of a corner is drawn: its area is then
// good to 0.02 % of the corner's own.
const arcSteps = 32

// Built is the shape as metal and walls: x from its left side, y from its bottom, the
// web of a channel and the upright leg of an angle on the left. A solid bar is one
// wall as thick as its thinner side. Errors as Properties.
func (s Shape) Built() (Built, error) {
	b, err := s.outlined()
	if err != nil {
		return Built{}, err
	}
	p, err := s.Properties()
	if err != nil {
		return Built{}, err
	}
	b.J = p.It // by its own formula, which knows its corners
	return b, nil
}

// outlined is Built without its J.
func (s Shape) outlined() (Built, error) {
	if err := s.Check(); err != nil {
		return Built{}, err
	}
	b := Built{Name: s.Name}
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	switch s.Kind {
	case RectTube:
		t, ro, ri := s.wall()
		b.Regions = []Region{{Outer: rounded(v(0, 0), v(s.B, s.H), ro), Holes: [][]r2.Vec{rounded(v(t, t), v(s.B-t, s.H-t), ri)}}}
		lo, hi := v(t/2, t/2), v(s.B-t/2, s.H-t/2)
		b.Walls = []Wall{{lo, v(lo.X, hi.Y), t}, {v(lo.X, hi.Y), hi, t}, {hi, v(hi.X, lo.Y), t}, {v(hi.X, lo.Y), lo, t}}
	case RoundTube:
		t := s.T
		if s.Corner == CornerHSS {
			t = designWall(s.T)
		}
		c := v(s.H/2, s.H/2)
		b.Regions = []Region{{Outer: circle(c, s.H/2), Holes: [][]r2.Vec{circle(c, s.H/2-t)}}}
		ring := circle(c, s.H/2-t/2)
		for i := range ring {
			b.Walls = append(b.Walls, Wall{ring[i], ring[(i+1)%len(ring)], t})
		}
	case RoundBar:
		b.Regions = []Region{{Outer: circle(v(s.H/2, s.H/2), s.H/2)}}
	case FlatBar:
		b.Regions = []Region{{Outer: rounded(v(0, 0), v(s.B, s.H), 0)}}
		b.Walls = []Wall{{v(s.B/2, 0), v(s.B/2, s.H), s.B}}
		if s.B > s.H {
			b.Walls = []Wall{{v(0, s.H/2), v(s.B, s.H/2), s.H}}
		}
	case Channel:
		b.Regions = []Region{{Outer: s.channelEdge()}}
		b.Walls = s.channelWalls()
	case Angle:
		b.Regions = []Region{{Outer: s.angleEdge()}}
		t := s.T
		b.Walls = []Wall{{v(t/2, t/2), v(t/2, s.H), t}, {v(t/2, t/2), v(s.B, t/2), t}}
	}
	return b, nil
}

func (s Shape) channelWalls() []Wall {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	f, x := s.Flange, s.T/2
	return []Wall{{v(x, f/2), v(x, s.H-f/2), s.T}, {v(x, f/2), v(s.B, f/2), f}, {v(x, s.H-f/2), v(s.B, s.H-f/2), f}}
}

// channelEdge is the outline of a channel. The root of a tapered flange is left out:
// it is not known well enough to be drawn.
func (s Shape) channelEdge() []r2.Vec {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	out, fall := s.B-s.T, s.Taper*(s.B-s.T)/2
	tip, root := s.Flange-fall, s.Flange+fall
	lower := []r2.Vec{v(s.B, 0), v(s.B, tip)} // from the outer corner round to the web
	r := s.Root
	if s.OuterRadius > 0 {
		r = s.InnerRadius
	}
	if s.Taper > 0 || r > out {
		r = 0
	}
	lower = append(lower, arc(v(s.T+r, root+r), r, 1.5*math.Pi, math.Pi)...)
	bend := arc(v(s.OuterRadius, s.OuterRadius), s.OuterRadius, math.Pi, 1.5*math.Pi)
	edge := make([]r2.Vec, 0, 2*(len(bend)+len(lower)))
	edge = append(append(edge, bend...), lower...)
	for i := len(edge) - 1; i >= 0; i-- {
		edge = append(edge, v(edge[i].X, s.H-edge[i].Y))
	}
	return edge
}

func (s Shape) angleEdge() []r2.Vec {
	v := func(x, y float64) r2.Vec { return r2.Vec{X: x, Y: y} }
	t, r, toe := s.T, s.Root, s.Root/2
	if s.OuterRadius > 0 { // folded: round outside, square toes
		r, toe = s.InnerRadius, 0
	}
	edge := arc(v(s.OuterRadius, s.OuterRadius), s.OuterRadius, math.Pi, 1.5*math.Pi)
	edge = append(edge, v(s.B, 0))
	edge = append(edge, arc(v(s.B-toe, t-toe), toe, 0, math.Pi/2)...)
	edge = append(edge, arc(v(t+r, t+r), r, 1.5*math.Pi, math.Pi)...)
	edge = append(edge, arc(v(t-toe, s.H-toe), toe, 0, math.Pi/2)...)
	return append(edge, v(0, s.H))
}

// arc runs on a circle from one angle to another, both ends on it; without a radius it
// is its centre.
func arc(c r2.Vec, r, from, to float64) []r2.Vec {
	if r <= 0 {
		return []r2.Vec{c}
	}
	n := max(1, int(math.Ceil(math.Abs(to-from)/(math.Pi/2)*arcSteps-1e-9)))
	out := make([]r2.Vec, 0, n+1)
	for i := range n + 1 {
		a := from + (to-from)*float64(i)/float64(n)
		out = append(out, r2.Vec{X: c.X + r*math.Cos(a), Y: c.Y + r*math.Sin(a)})
	}
	return out
}

func circle(c r2.Vec, r float64) []r2.Vec {
	pts := arc(c, r, 0, 2*math.Pi)
	return pts[:len(pts)-1]
}

// rounded is an upright rectangle with corners of radius r, anticlockwise.
func rounded(lo, hi r2.Vec, r float64) []r2.Vec {
	var out []r2.Vec
	for _, c := range []struct{ x, y, from float64 }{
		{lo.X + r, lo.Y + r, math.Pi}, {hi.X - r, lo.Y + r, 1.5 * math.Pi}, {hi.X - r, hi.Y - r, 0}, {lo.X + r, hi.Y - r, 0.5 * math.Pi},
	} {
		out = append(out, arc(r2.Vec{X: c.x, Y: c.y}, r, c.from, c.from+math.Pi/2)...)
	}
	return out
}

// Profile is a section of one thickness folded along a middle line with sharp corners;
// a line that ends where it begins is closed. Fails on fewer than two points, on a
// limb without length, and on a fold so sharp that it would lie on itself.
func Profile(name string, line []r2.Vec, t float64) (Built, error) {
	b := Built{Name: name}
	n := len(line)
	closed := n > 3 && r2.Norm(r2.Sub(line[0], line[n-1])) < together
	switch {
	case n < 2:
		return b, b.bad("its middle line has %d points; want two or more", n)
	case !geom.LengthOK(t):
		return b, b.bad("a wall of %g mm is no size", t)
	}
	for i := range n - 1 {
		if !(r2.Norm(r2.Sub(line[i+1], line[i])) > t/2) {
			return b, b.bad("limb %d of its middle line is shorter than half its wall", i+1)
		}
		b.Walls = append(b.Walls, Wall{line[i], line[i+1], t})
	}
	if closed {
		line = line[:n-1]
	}
	left, right := make([]r2.Vec, len(line)), make([]r2.Vec, len(line))
	for i := range line {
		m, ok := mitre(line, i, closed)
		if !ok {
			return b, b.bad("its middle line turns back on itself at point %d", i+1)
		}
		left[i], right[i] = r2.Add(line[i], r2.Scale(t/2, m)), r2.Sub(line[i], r2.Scale(t/2, m))
	}
	if closed {
		outer, inner := left, right
		if math.Abs(signed(left)) < math.Abs(signed(right)) {
			outer, inner = right, left
		}
		b.Regions = []Region{{Outer: outer, Holes: [][]r2.Vec{inner}}}
		return b, nil
	}
	for i := len(right) - 1; i >= 0; i-- {
		left = append(left, right[i])
	}
	b.Regions = []Region{{Outer: left}}
	return b, nil
}

func signed(pts []r2.Vec) (a float64) {
	for i := range pts {
		a += r2.Cross(pts[i], pts[(i+1)%len(pts)]) / 2
	}
	return a
}

// mitre is where both sides of a corner meet, for half a thickness of 1.
func mitre(line []r2.Vec, i int, closed bool) (r2.Vec, bool) {
	n := len(line)
	normal := func(j int) r2.Vec {
		d := r2.Unit(r2.Sub(line[(j+1)%n], line[j]))
		return r2.Vec{X: -d.Y, Y: d.X}
	}
	switch {
	case !closed && i == 0:
		return normal(0), true
	case !closed && i == n-1:
		return normal(n - 2), true
	}
	a, b := normal((i-1+n)%n), normal(i)
	sum := r2.Add(a, b)
	if r2.Norm2(sum) < 0.1 { // sharper than some 37°
		return sum, false
	}
	return r2.Scale(2/r2.Norm2(sum), sum), true
}
