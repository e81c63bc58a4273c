package bracket

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Press is an edge of a plate that is pressed on what the plate is bolted to.
type Press struct {
	Way   r2.Vec  // from the bolts to that edge, unit
	Lever float64 // from the bolts to it, mm
	Force float64 // N
}

// ReadySeat is a plate that is bolted down and bears on what it lies on, ready for one load
// after another.
type ReadySeat struct {
	pattern   ReadyPattern
	low, high r2.Vec
	about     [2]bool // the bolts stand in one row along X, along Y; one bolt does both
}

// Seated is the pattern with the plate that it holds down, lower left and upper right corner,
// mm. Bolts in one row along the plate hold no moment about that row by themselves: the
// plate's edge presses there.
func (p BoltPattern) Seated(low, high r2.Vec) (ReadySeat, error) {
	ready, err := p.Ready()
	if err != nil {
		return ReadySeat{}, err
	}
	s := ReadySeat{pattern: ready, low: low, high: high}
	g, least := ready.g, geom.Tiny*geom.Tiny
	s.about = [2]bool{g.ix <= max(least, 1e-12*g.iy), g.iy <= max(least, 1e-12*g.ix)}
	if !s.InOneRow() {
		return s, nil
	}
	if c := g.centroid; !geom.Finite(low.X, low.Y, high.X, high.Y) || !(min(c.X-low.X, high.X-c.X, c.Y-low.Y, high.Y-c.Y) > geom.Tiny) {
		return s, p.bad("its one row does not stand within the plate's edges; check its pitches, width and height")
	}
	return s, nil
}

// InOneRow says that the bolts stand in one row, so that the plate's edge presses beside them.
func (r *ReadySeat) InOneRow() bool { return r.about[0] || r.about[1] }

// Share divides a load among the bolts as ReadyPattern.Share does; the shares are appended
// to into. What tips the plate about one row of them is held by the edge it tips toward and
// by the row: the edge presses with the moment over its lever and the bolts pull with as much
// more in equal parts, the prying in them (balance of the plate). A plate that bears nearer
// to its bolts than its edge pulls more: Edge says whether it is thick enough to bear there.
// Where all of it is pressed on, the edge is given with more than it presses.
func (r *ReadySeat) Share(into []BoltShare, l Load) (shares []BoltShare, press [2]Press, err error) {
	if !r.InOneRow() {
		shares, err = r.pattern.Share(into, l)
		return shares, press, err
	}
	if !l.ok() {
		return nil, press, r.pattern.pattern.bad("the load or its place is not a usable number")
	}
	c, pull := r.pattern.g.centroid, 0.0
	f, m := l.about(c)
	for k, way := range [2]r2.Vec{{Y: -1}, {X: 1}} { // a moment about X presses the low edge on, one about Y that at +X
		about := [2]*float64{&m.X, &m.Y}[k]
		if !r.about[k] {
			continue
		}
		if *about < 0 {
			way = r2.Scale(-1, way)
		}
		lever := max(r2.Dot(way, r2.Sub(r.low, c)), r2.Dot(way, r2.Sub(r.high, c)))
		press[k] = Press{Way: way, Lever: lever, Force: math.Abs(*about) / lever}
		pull += press[k].Force
		*about = 0
	}
	shares, err = r.pattern.Share(into, Load{Force: f, At: r3.Vec{X: c.X, Y: c.Y}, Moment: m})
	if err != nil {
		return nil, press, err
	}
	own := shares[len(into):]
	for i := range own {
		own[i].Tension += pull / r.pattern.g.size
	}
	return shares, press, nil
}

// Edge is what the plate does that presses with an edge, along a way from its middle (along
// X or Y, unit) and with 1 N. It bends through beside the tube in strips side by side, each a
// cantilever from the tube's outline to the edge with the hinge of its own width: the limit
// is what they press with together, hinge · ∫ ds/arm over the width of the tube, which is
// less than what the plate holds (the strip method: Hillerborg, Strip Method of Design,
// 1975, from memory). Where the tube reaches to the edge nothing bends. A screening figure.
func (p EndPlate) Edge(way r2.Vec) (PlateBending, error) {
	if err := p.check(); err != nil {
		return PlateBending{}, err
	}
	across := r2.Vec{X: -way.Y, Y: way.X}
	edge := max(r2.Dot(way, p.Low), r2.Dot(way, p.High))
	b := PlateBending{Force: 1, Edge: true, At: r2.Scale(edge, way)}
	sum := 0.0
	n := len(p.Tube)
	for i, q := range p.Tube {
		next := p.Tube[(i+1)%n]
		run := r2.Sub(next, q)
		width := r2.Dot(run, across)
		outward := r2.Vec{X: run.Y, Y: -run.X}
		if !p.turnsLeft() {
			outward = r2.Scale(-1, outward)
		}
		if r2.Dot(outward, way) <= geom.Tiny || math.Abs(width) <= geom.Tiny {
			continue
		}
		a, z := edge-r2.Dot(way, q), edge-r2.Dot(way, next)
		if min(a, z) <= geom.Tiny {
			return b, nil // the tube itself presses
		}
		width = math.Abs(width)
		b.Width += width
		mean := 1 / a
		if math.Abs(z-a) > 1e-9*a {
			mean = math.Log(z/a) / (z - a)
		}
		sum += width * mean
		if b.Arm == 0 || min(a, z) < b.Arm {
			b.Arm = min(a, z)
		}
	}
	if !(sum > 0) {
		return b, p.bad("the outline of the tube on it has no width beside its edge")
	}
	b.Limit = p.hinge() * sum
	b.Utilisation = b.Force / b.Limit
	return b, nil
}

// turnsLeft says that the outline of the tube runs anticlockwise.
func (p EndPlate) turnsLeft() bool {
	area := 0.0
	for i, q := range p.Tube {
		next := p.Tube[(i+1)%len(p.Tube)]
		area += q.X*next.Y - q.Y*next.X
	}
	return area > 0
}
