package tape

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Point is a point of a network, in vehicle axes.
type Point struct {
	Name string
	At   r3.Vec  // where it is, or about where it may be
	Free [3]bool // which of X, Y and Z are to be found
	// Guess says that At is no place at all yet: Layout finds one.
	Guess bool
}

// Kind is what kind of measurement stands between points.
type Kind int

// The kinds of measurement.
const (
	Distance   Kind = iota // two points
	Rise                   // two points, the second over the first
	Coordinate             // one point, one axis
	Offset                 // a point, and the two ends of the string
	Angle                  // the corner, and the two points it looks at
)

// Between says what kind of measurement observation i of the network is, and
// between which points.
func (n *Net) Between(i int) (Kind, []int) {
	b := n.measure[i].Of.(between)
	return b.kind, b.points
}

// Points returns the points of the network.
func (n *Net) Points() []Point { return n.points }

// Net is a network of points and what was measured between them. The zero Net
// is empty. Points are named by the index that Add returned.
type Net struct {
	points  []Point
	first   [][3]int // unknown of each coordinate, -1 when it is known
	start   []float64
	measure []Observation
	hold    [][]float64
	common  []Common
}

// Add puts a point into the network and returns its index.
func (n *Net) Add(p Point) int {
	at, un := [3]float64{p.At.X, p.At.Y, p.At.Z}, [3]int{-1, -1, -1}
	for k, free := range p.Free {
		if free {
			un[k] = len(n.start)
			n.start = append(n.start, at[k])
		}
	}
	n.points = append(n.points, p)
	n.first = append(n.first, un)
	return len(n.points) - 1
}

// Unknown returns the unknown that stands for a coordinate of a point (0 X, 1 Y,
// 2 Z), -1 when it is known.
func (n *Net) Unknown(point, axis int) int { return n.first[point][axis] }

// Where returns the place of a point for the unknowns x.
func (n *Net) Where(point int, x []float64) r3.Vec {
	at := [3]float64{n.points[point].At.X, n.points[point].At.Y, n.points[point].At.Z}
	for k, u := range n.first[point] {
		if u >= 0 {
			at[k] = x[u]
		}
	}
	return r3.Vec{X: at[0], Y: at[1], Z: at[2]}
}

// Problem is the network ready to be solved.
func (n *Net) Problem() Problem {
	return Problem{Start: n.start, Observations: n.measure, Hold: n.hold}.With(n.common)
}

// observe adds what was measured between the given points. at computes it and
// its gradient at each of them.
func (n *Net) observe(kind Kind, name string, value, sigma float64, points []int, at func(p places) (float64, places)) {
	n.measure = append(n.measure, Observation{Name: name, Value: value, Sigma: sigma, Of: between{net: n, kind: kind, points: points, at: at}})
}

// between is a function of the places of some points.
type between struct {
	net    *Net
	kind   Kind
	points []int
	at     func(p places) (value float64, gradient places)
	axis   int // of a Coordinate
}

// places are those of the points of one measurement, which are three at most, or what is
// said of each of them.
type places [3]r3.Vec

func (b between) places(x []float64) (out places) {
	for i, p := range b.points {
		out[i] = b.net.Where(p, x)
	}
	return out
}

// At implements Function.
func (b between) At(x []float64) float64 {
	v, _ := b.at(b.places(x))
	return v
}

// Partials implements Function.
func (b between) Partials(x []float64, add func(unknown int, d float64)) {
	_, g := b.at(b.places(x))
	for i, p := range b.points {
		for k, d := range [3]float64{g[i].X, g[i].Y, g[i].Z} {
			if u := b.net.first[p][k]; u >= 0 {
				add(u, d)
			}
		}
	}
}

// Observing is a measurement between points of the network that is not in it, as take
// adds it.
func (n *Net) Observing(take func(*Net)) Observation {
	with := *n
	with.measure, with.common = nil, nil
	take(&with)
	return with.measure[0]
}

// Distance adds a distance in space between two points.
func (n *Net) Distance(name string, a, b int, value, sigma float64) {
	n.observe(Distance, name, value, sigma, []int{a, b}, func(p places) (float64, places) {
		d := r3.Sub(p[1], p[0])
		l := r3.Norm(d)
		if l == 0 {
			return 0, places{}
		}
		u := r3.Scale(1/l, d)
		return l, places{r3.Scale(-1, u), u}
	})
}

// Rise adds a difference of heights, b over a positive: level, hose or laser.
func (n *Net) Rise(name string, a, b int, value, sigma float64) {
	up := r3.Vec{Z: 1}
	n.observe(Rise, name, value, sigma, []int{a, b}, func(p places) (float64, places) {
		return p[1].Z - p[0].Z, places{r3.Scale(-1, up), up}
	})
}

// Coordinate adds one coordinate of a point (0 X, 1 Y, 2 Z), as a plumb mark
// gives it on a floor with marked axes.
func (n *Net) Coordinate(name string, a, axis int, value, sigma float64) {
	unit := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[axis]
	n.observe(Coordinate, name, value, sigma, []int{a}, func(p places) (float64, places) {
		return r3.Dot(p[0], unit), places{unit}
	})
	b := n.measure[len(n.measure)-1].Of.(between)
	b.axis = axis
	n.measure[len(n.measure)-1].Of = b
}

// Offset adds how far a point stands beside the string from a to b, seen from
// above: positive towards +Y for a string that runs along +X.
func (n *Net) Offset(name string, point, a, b int, value, sigma float64) {
	n.observe(Offset, name, value, sigma, []int{point, a, b}, func(p places) (float64, places) {
		dx, dy := p[2].X-p[1].X, p[2].Y-p[1].Y
		l := math.Hypot(dx, dy)
		if l == 0 {
			return 0, places{}
		}
		ux, uy := dx/l, dy/l
		ex, ey := p[0].X-p[1].X, p[0].Y-p[1].Y
		off, along := ux*ey-uy*ex, (ux*ex+uy*ey)/l
		side := r3.Vec{X: -uy, Y: ux} // what one unit aside does
		return off, places{side, r3.Scale(along-1, side), r3.Scale(-along, side)}
	})
}

// Angle adds the angle at a point between the directions to a and b, rad in
// (0, π): a square reads π/2. value and sigma are rad.
func (n *Net) Angle(name string, point, a, b int, value, sigma float64) {
	n.observe(Angle, name, value, sigma, []int{point, a, b}, func(p places) (float64, places) {
		u, v := r3.Sub(p[1], p[0]), r3.Sub(p[2], p[0])
		cross := r3.Cross(u, v)
		s := r3.Norm(cross)
		if s == 0 {
			return 0, places{}
		}
		axis := r3.Scale(1/s, cross)
		gu := r3.Scale(-1/r3.Norm2(u), r3.Cross(axis, u))
		gv := r3.Scale(1/r3.Norm2(v), r3.Cross(axis, v))
		return math.Atan2(s, r3.Dot(u, v)), places{r3.Scale(-1, r3.Add(gu, gv)), gu, gv}
	})
}

// HoldFree lets a network without fixed points move as little as can be from
// where its points started: the sum of their shifts, and of their turns about
// each axis that turning leaves unmeasured, is zero (inner constraints). turns
// says about which axes (X, Y, Z) it can turn freely, shifts along which it can
// move. It fails when a point has only some of the coordinates that move.
func (n *Net) HoldFree(shifts, turns [3]bool) error {
	for i, p := range n.points {
		for k := range 3 {
			moves := shifts[k] || turns[(k+1)%3] || turns[(k+2)%3]
			if moves && !p.Free[k] {
				return fmt.Errorf("%s is held in place, so the network is not free", n.points[i].Name)
			}
		}
	}
	if len(n.points) == 0 {
		return errors.New("there are no points")
	}
	centre := r3.Vec{}
	for _, p := range n.points {
		centre = r3.Add(centre, r3.Scale(1/float64(len(n.points)), p.At))
	}
	reach := 0.0
	for _, p := range n.points {
		reach = max(reach, r3.Norm(r3.Sub(p.At, centre)))
	}
	if reach == 0 {
		return errors.New("all points start in one place")
	}
	axes := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	row := func(of func(p Point) r3.Vec) {
		h := make([]float64, len(n.start))
		for i, p := range n.points {
			d := of(p)
			for k, v := range [3]float64{d.X, d.Y, d.Z} {
				if u := n.first[i][k]; u >= 0 {
					h[u] = v
				}
			}
		}
		n.hold = append(n.hold, h)
	}
	for k := range 3 {
		if shifts[k] {
			row(func(Point) r3.Vec { return axes[k] })
		}
	}
	for k := range 3 {
		if turns[k] { // over the reach, so that all rows weigh alike
			row(func(p Point) r3.Vec { return r3.Scale(1/reach, r3.Cross(axes[k], r3.Sub(p.At, centre))) })
		}
	}
	return nil
}
