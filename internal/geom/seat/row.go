package seat

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Row is one thing about the placement that a builder moves by hand. Lengths
// are mm, angles rad.
type Row uint8

// The rows, in the order a builder works through them.
const (
	LeftFront  Row = iota // height of the left front support, the others staying
	RightFront            // height of the right front support, the others staying
	Rear                  // height of the rear support, the others staying
	Lift                  // height of the powertrain's own origin: all supports by the same amount
	Tilt                  // slope of the powertrain, turned about its front supports
	Setback               // station of the reference point
	Offset                // offset of the reference point, right positive
	Heading               // plan angle, turned about the reference point, rear to the right positive
	rowCount
)

// Value returns what row r reads at placement p.
func (s Supports) Value(p Placement, r Row) (float64, error) {
	switch r {
	case LeftFront:
		return p.LeftFront, nil
	case RightFront:
		return p.RightFront, nil
	case Rear:
		return p.Rear, nil
	case Setback:
		return p.Setback, nil
	case Offset:
		return p.Offset, nil
	case Heading:
		return p.Heading.Rad(), nil
	}
	pose, err := s.Pose(p)
	if err != nil {
		return 0, err
	}
	if r == Tilt {
		return pose.Slope().Rad(), nil
	}
	return pose.At.Z, nil
}

// Solve returns the placement at which row r reads target, reached from p by
// the one rigid motion the row stands for.
func (s Supports) Solve(p Placement, r Row, target float64) (Placement, error) {
	if !geom.Finite(target) {
		return p, fmt.Errorf("the value is not a number")
	}
	q := p
	switch r {
	case LeftFront:
		q.LeftFront = target
	case RightFront:
		q.RightFront = target
	case Rear:
		q.Rear = target
	case Setback:
		q.Setback = target
	case Offset:
		q.Offset = target
	case Heading:
		q.Heading = geom.Angle(target)
	case Tilt:
		rear, err := s.rearForSlope(p, geom.Angle(target))
		if err != nil {
			return p, err
		}
		q.Rear = rear
	case Lift:
		pose, err := s.Pose(p)
		if err != nil {
			return p, err
		}
		d := target - pose.At.Z
		q.LeftFront, q.RightFront, q.Rear = p.LeftFront+d, p.RightFront+d, p.Rear+d
	default:
		return p, fmt.Errorf("there is no placement row %d", r)
	}
	if _, err := s.Pose(q); err != nil {
		return p, err
	}
	return q, nil
}

// rearForSlope returns the rear support height at which the powertrain has the
// wanted slope, the front supports and the heading staying where they are.
//
// The up direction n in the own frame has n.X = -sin(slope), keeps the front
// height difference and has length 1: a line cut with the unit sphere.
func (s Supports) rearForSlope(p Placement, slope geom.Angle) (float64, error) {
	if slope.Abs() >= 80*geom.Deg {
		return 0, fmt.Errorf("a slope of %.1f degrees is no position for a powertrain", slope.Degrees())
	}
	a := r3.Sub(s.RightFront, s.LeftFront)
	if r3.Norm(r3.Cross(a, r3.Sub(s.Rear, s.LeftFront))) <= geom.Tiny {
		return 0, ErrInLine
	}
	nx := -math.Sin(slope.Rad())
	// a.Y·ny + a.Z·nz = c on the circle ny² + nz² = cos².
	c := p.RightFront - p.LeftFront - a.X*nx
	w := math.Hypot(a.Y, a.Z)
	cos := math.Cos(slope.Rad())
	if w <= geom.Tiny || math.Abs(c) >= w*cos {
		return 0, ErrSteep
	}
	along := c / w
	across := math.Sqrt(cos*cos - along*along)
	ny := (a.Y*along - a.Z*across) / w
	nz := (a.Z*along + a.Y*across) / w
	if nz < 0 { // the other cut: the upright one
		ny, nz = (a.Y*along+a.Z*across)/w, (a.Z*along-a.Y*across)/w
	}
	up := r3.Vec{X: nx, Y: ny, Z: nz}
	rear := p.LeftFront + r3.Dot(up, r3.Sub(s.Rear, s.LeftFront))
	// A rear support straight below or above the front ones cannot set a slope.
	check := p
	check.Rear = rear
	pose, err := s.Pose(check)
	if err != nil {
		return 0, err
	}
	if !geom.Near(pose.Slope().Rad(), slope.Rad(), 1e-9) {
		return 0, fmt.Errorf("the rear support is too close under the front ones to set a slope of %.2f degrees", slope.Degrees())
	}
	return rear, nil
}

// Written returns the rows that a placement is written with, in working order;
// the others follow from them.
func Written() [6]Row { return [...]Row{LeftFront, RightFront, Rear, Setback, Offset, Heading} }

// At returns where p keeps a row that it is written with, mm or rad; nil for
// one that follows from others.
func (p *Placement) At(r Row) *float64 {
	switch r {
	case LeftFront:
		return &p.LeftFront
	case RightFront:
		return &p.RightFront
	case Rear:
		return &p.Rear
	case Setback:
		return &p.Setback
	case Offset:
		return &p.Offset
	case Heading:
		return (*float64)(&p.Heading)
	}
	return nil
}
