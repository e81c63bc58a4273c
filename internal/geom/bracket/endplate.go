package bracket

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
)

// EndPlate is the plate at the end of a tube, mm, in the plane's own x and y:
// what is left to bend between the tube and whatever pulls at the plate.
type EndPlate struct {
	Name             string
	Thickness, Yield float64  // mm, MPa
	Low, High        r2.Vec   // lower left and upper right corner of the plate
	Tube             []r2.Vec // outline of the tube on it, closed, first point not repeated
	Solid            bool     // a bar: what acts over it is backed by it
}

// PlateBending is what one force does to an EndPlate.
type PlateBending struct {
	At          r2.Vec
	Force       float64 // N, square to the plate, size
	Limit       float64 // N, with which the plate bends through; 0 where it cannot
	Arm         float64 // from the tube to the force, mm; 0 inside the tube
	Width       float64 // of the line along the tube that bends, mm; 0 inside it
	Inside      bool    // the force acts on what spans the tube's bore
	Edge        bool    // it is the plate's own edge that presses, as a whole
	Utilisation float64
}

func (p EndPlate) bad(format string, args ...any) error { return bad("plate", p.Name, format, args...) }

func (p EndPlate) check() error {
	switch {
	case !geom.LengthOK(p.Thickness) || !(p.Yield >= geom.Least) || !geom.LoadOK(p.Yield):
		return p.bad("a thickness of %g mm with a yield of %g MPa is no plate", p.Thickness, p.Yield)
	case !geom.Finite(p.Low.X, p.Low.Y, p.High.X, p.High.Y) || !geom.LengthOK(p.High.X-p.Low.X) || !geom.LengthOK(p.High.Y-p.Low.Y):
		return p.bad("it has no size; give its width and height")
	case len(p.Tube) < 3 || len(p.Tube) > 4000:
		return p.bad("the outline of the tube on it is not known")
	}
	for _, q := range p.Tube {
		if !geom.Finite(q.X, q.Y) {
			return p.bad("the outline of the tube on it is not a usable number")
		}
	}
	return nil
}

// hinge is the moment per mm of width with which the plate bends through,
// N·mm/mm: yield t²/4.
func (p EndPlate) hinge() float64 { return p.Yield * p.Thickness * p.Thickness / 4 }

// Bend returns what a force (N, square to the plate) at a point of it does,
// while others pull at theirs.
//
// Outside the tube the plate is a cantilever from the tube's outline, bent
// through along a line as wide as the force spreads at 45° either way, less
// where an edge or another force is nearer (AISC Steel Construction Manual, part
// 9, thickness without prying, and AISC Design Guide 1, rods in tension; both
// from memory). A plate that holds so has no prying to count in its bolts.
// Over the tube's bore it is a plate that rests all round, with the force in its
// middle: 2π hinges, whatever its size (Hopkins and Prager, Journal of the
// Mechanics and Physics of Solids 2, 1953, from memory). A screening figure: a
// licensed engineer and the local rules decide.
func (p EndPlate) Bend(at r2.Vec, force float64, others []r2.Vec) (PlateBending, error) {
	if err := p.check(); err != nil {
		return PlateBending{}, err
	}
	if !geom.LoadOK(force) || !geom.Finite(at.X, at.Y) || r2.Norm(at) > geom.LimitLength {
		return PlateBending{}, p.bad("the force or its place is not a usable number")
	}
	b := PlateBending{At: at, Force: math.Abs(force)}
	if inside(at, p.Tube) {
		b.Inside = true
		if !p.Solid {
			b.Limit = 2 * math.Pi * p.hinge()
			b.Utilisation = b.Force / b.Limit
		}
		return b, nil
	}
	foot := p.nearest(at)
	if p.off(foot) {
		return PlateBending{}, p.standsOff()
	}
	out := r2.Sub(at, foot)
	b.Arm = r2.Norm(out)
	spread := 2.0 // width over arm: 45° either way
	if b.Arm > geom.Tiny {
		out = r2.Scale(1/b.Arm, out)
		along := r2.Vec{X: -out.Y, Y: out.X}
		b.Width = p.half(foot, along, out, b.Arm, others) + p.half(foot, r2.Scale(-1, along), out, b.Arm, others)
		spread = b.Width / b.Arm
	}
	if !(spread > geom.Tiny) {
		return PlateBending{}, p.bad("there is no plate between the tube and the place that is pulled at")
	}
	b.Limit = p.hinge() * spread
	b.Utilisation = b.Force / b.Limit
	return b, nil
}

// Under is the same place under another force, N.
func (b PlateBending) Under(force float64) PlateBending {
	b.Force, b.Utilisation = math.Abs(force), 0
	if b.Limit > 0 {
		b.Utilisation = b.Force / b.Limit
	}
	return b
}

// nearest is the place of the tube's outline nearest to a point.
func (p EndPlate) nearest(at r2.Vec) r2.Vec {
	best, least := p.Tube[0], math.Inf(1)
	a := p.Tube[len(p.Tube)-1]
	for _, b := range p.Tube {
		d := r2.Sub(b, a)
		t := 0.0
		if l := r2.Dot(d, d); l > 0 {
			t = math.Max(0, math.Min(1, r2.Dot(r2.Sub(at, a), d)/l))
		}
		q := r2.Add(a, r2.Scale(t, d))
		if r := r2.Norm2(r2.Sub(at, q)); r < least {
			best, least = q, r
		}
		a = b
	}
	return best
}

// half is how far the bending line reaches from its foot one way: as far as the
// arm is long, to the plate's edge, or half way to another force outside that
// line.
func (p EndPlate) half(foot, way, out r2.Vec, arm float64, others []r2.Vec) float64 {
	room := arm
	for _, e := range [][3]float64{{way.X, foot.X - p.Low.X, p.High.X - foot.X}, {way.Y, foot.Y - p.Low.Y, p.High.Y - foot.Y}} {
		switch {
		case e[0] > geom.Tiny:
			room = math.Min(room, e[2]/e[0])
		case e[0] < -geom.Tiny:
			room = math.Min(room, -e[1]/e[0])
		}
	}
	for _, o := range others {
		d := r2.Sub(o, foot)
		if r2.Dot(d, out) > geom.Tiny && r2.Dot(d, way) > geom.Tiny {
			room = math.Min(room, r2.Dot(d, way)/2)
		}
	}
	return math.Max(0, room)
}

// off reports whether a place lies off the plate.
func (p EndPlate) off(at r2.Vec) bool {
	const on = 1e-6 // mm
	return at.X < p.Low.X-on || at.X > p.High.X+on || at.Y < p.Low.Y-on || at.Y > p.High.Y+on
}

func (p EndPlate) standsOff() error {
	return p.bad("the tube stands off the plate where it is pulled at; make the plate larger than the tube")
}

// Strip returns what a pull per mm of the tube's wall (N/mm) does to a plate
// that is welded down along its edges: a strip from the tube to the nearest
// edge, which bends through beside the tube with f·arm on one hinge. That leaves
// out what the corners hold and what the weld along the edge clamps.
func (p EndPlate) Strip(at r2.Vec, pull float64) (PlateBending, error) {
	if err := p.check(); err != nil {
		return PlateBending{}, err
	}
	if !geom.LoadOK(pull) || !geom.Finite(at.X, at.Y) {
		return PlateBending{}, p.bad("the pull or its place is not a usable number")
	}
	if p.off(at) {
		return PlateBending{}, p.standsOff()
	}
	b := PlateBending{At: at, Force: math.Abs(pull), Width: 1}
	b.Arm = math.Max(0, math.Min(math.Min(at.X-p.Low.X, p.High.X-at.X), math.Min(at.Y-p.Low.Y, p.High.Y-at.Y)))
	b.Utilisation = b.Force * b.Arm / p.hinge()
	if b.Arm > geom.Tiny {
		b.Limit = p.hinge() / b.Arm
	}
	return b, nil
}
