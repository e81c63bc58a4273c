// Package clear gives the exact smallest distance between simple solids: the
// room left between a powertrain and what stands around it.
//
// Points, balls, rods and boxes are treated as one family: a core (a point, a
// line or a box) grown by a radius. A plane is the surface of a half-space.
// Nothing is sampled and nothing iterates, so a clearance is as exact as the
// numbers that went in.
package clear

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Shape is a solid in vehicle axes, mm: Point, Sphere, Segment, Box or Plane.
type Shape interface {
	// Check returns an error when the shape's numbers make no solid.
	Check() error
	// moved returns the shape after a rigid motion.
	moved(m geom.Pose) Shape
}

// Point is a single point, mm.
type Point struct{ At r3.Vec }

// Sphere is a ball of radius R about At, mm.
type Sphere struct {
	At r3.Vec
	R  float64
}

// Segment is the straight line from A to B; with R above 0 it is a round rod
// of that radius with half-round ends, mm.
type Segment struct {
	A, B r3.Vec
	R    float64
}

// Box is a solid box centred on its pose's origin, with its edges along the
// pose's axes and Half the half lengths along its own X, Y and Z, mm.
type Box struct {
	Pose geom.Pose
	Half r3.Vec
}

// Plane is a half-space: everything behind the plane through On. Normal is
// the outward normal, pointing to the free side; its length does not matter.
type Plane struct{ On, Normal r3.Vec }

// What can be wrong with a shape.
var (
	ErrNotNumber = errors.New("a coordinate or size of the clearance shape is not a number")
	ErrNoFrame   = errors.New("the axes of the box are not square to each other and of length 1")
	ErrNoNormal  = errors.New("the plane has no outward direction: give one that is not zero")
)

func finite(vs ...r3.Vec) bool {
	for _, v := range vs {
		if !geom.Finite(v.X, v.Y, v.Z) {
			return false
		}
	}
	return true
}

func checkRadius(r float64) error {
	if !geom.Finite(r) {
		return ErrNotNumber
	}
	if r < 0 {
		return fmt.Errorf("the radius is %g mm; it must be 0 or more", r)
	}
	return nil
}

// Check implements Shape.
func (p Point) Check() error {
	if !finite(p.At) {
		return ErrNotNumber
	}
	return nil
}

// Check implements Shape.
func (s Sphere) Check() error {
	if !finite(s.At) {
		return ErrNotNumber
	}
	return checkRadius(s.R)
}

// Check implements Shape. Ends that coincide are allowed: that is a ball.
func (s Segment) Check() error {
	if !finite(s.A, s.B) {
		return ErrNotNumber
	}
	return checkRadius(s.R)
}

// Check implements Shape. A half length of 0 is allowed: that is a plate.
func (b Box) Check() error {
	p := b.Pose
	if !finite(p.X, p.Y, p.Z, p.At, b.Half) {
		return ErrNotNumber
	}
	for _, h := range []float64{b.Half.X, b.Half.Y, b.Half.Z} {
		if h < 0 {
			return fmt.Errorf("a half length of the box is %g mm; it must be 0 or more", h)
		}
	}
	const tol = 1e-6
	if !geom.Near(r3.Norm(p.X), 1, tol) || !geom.Near(r3.Norm(p.Y), 1, tol) || !geom.Near(r3.Norm(p.Z), 1, tol) ||
		!geom.Near(r3.Dot(p.X, p.Y), 0, tol) || !geom.Near(r3.Dot(p.Y, p.Z), 0, tol) || !geom.Near(r3.Dot(p.X, p.Z), 0, tol) {
		return ErrNoFrame
	}
	return nil
}

// Check implements Shape.
func (p Plane) Check() error {
	if !finite(p.On, p.Normal) {
		return ErrNotNumber
	}
	if _, err := geom.Unit(p.Normal); err != nil {
		return ErrNoNormal
	}
	return nil
}

// Moved returns shape after the rigid motion m, both in vehicle axes.
func Moved(shape Shape, m geom.Pose) Shape { return shape.moved(m) }

func (p Point) moved(m geom.Pose) Shape  { return Point{At: m.Point(p.At)} }
func (s Sphere) moved(m geom.Pose) Shape { return Sphere{At: m.Point(s.At), R: s.R} }
func (s Segment) moved(m geom.Pose) Shape {
	return Segment{A: m.Point(s.A), B: m.Point(s.B), R: s.R}
}
func (b Box) moved(m geom.Pose) Shape { return Box{Pose: b.Pose.Then(m), Half: b.Half} }
func (p Plane) moved(m geom.Pose) Shape {
	return Plane{On: m.Point(p.On), Normal: m.Dir(p.Normal)}
}

// unit is the plane's outward normal of length 1; straight up when none is
// given, so that an unchecked plane still yields a number.
func (p Plane) unit() r3.Vec {
	n, err := geom.Unit(p.Normal)
	if err != nil {
		return r3.Vec{Z: 1}
	}
	return n
}

// core is a centre and up to three half edges: every point of the core is the
// centre plus s times each half edge, s from -1 to 1. A half edge is an axis
// times its length; the axes are an orthonormal frame where there are three.
type core struct {
	at   r3.Vec
	axis [3]r3.Vec
	long [3]float64
	n    int // half edges in use: 0 point, 1 line, 3 box
	r    float64
}

func (c *core) half(i int) r3.Vec { return r3.Scale(c.long[i], c.axis[i]) }

// box is the core with three half edges.
func (c *core) box() Box {
	return Box{geom.Pose{X: c.axis[0], Y: c.axis[1], Z: c.axis[2], At: c.at}, r3.Vec{X: c.long[0], Y: c.long[1], Z: c.long[2]}}
}

func coreOf(s Shape) core {
	switch s := s.(type) {
	case Point:
		return core{at: s.At}
	case Sphere:
		return core{at: s.At, r: s.R}
	case Segment:
		return core{
			at: r3.Scale(0.5, r3.Add(s.A, s.B)), r: s.R, n: 1,
			axis: [3]r3.Vec{r3.Scale(0.5, r3.Sub(s.B, s.A))}, long: [3]float64{1},
		}
	case Box:
		return core{
			at: s.Pose.At, n: 3,
			axis: [3]r3.Vec{s.Pose.X, s.Pose.Y, s.Pose.Z}, long: [3]float64{s.Half.X, s.Half.Y, s.Half.Z},
		}
	}
	return core{}
}

// far returns the point of the core that lies furthest along n.
func (c *core) far(n r3.Vec) r3.Vec {
	p := c.at
	for i := range c.n {
		h := c.half(i)
		p = r3.Add(p, r3.Scale(side(r3.Dot(h, n)), h))
	}
	return p
}

// side is the sign of v, and 0 where v is rounding only, so that a face or an
// edge square to the direction is met at its middle.
func side(v float64) float64 {
	if math.Abs(v) < 1e-12 {
		return 0
	}
	return math.Copysign(1, v)
}

// shifted returns the core moved by d.
func (c core) shifted(d r3.Vec) core {
	c.at = r3.Add(c.at, d)
	return c
}
