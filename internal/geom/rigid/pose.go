package rigid

import (
	"context"
	"errors"
	"math"
	"slices"

	"fitup/internal/geom"
	"fitup/internal/geom/tape"

	"gonum.org/v1/gonum/spatial/r3"
)

// The unknowns of a pose, in order: mm and rad.
const (
	Back = iota
	Right
	Up
	Heading
	Slope
	Roll
	Unknowns
)

// Kind is what was measured.
type Kind int

// The kinds of measurement. Own points are the body's, the others the vehicle's.
const (
	Distance   Kind = iota // from the vehicle's point A to the own point
	Rise                   // the own point over the vehicle's point A
	Coordinate             // one coordinate of the own point, by Axis: 0 X, 1 Y, 2 Z
	Beside                 // the own point beside a string from A to B, to the right looking along it
	Along                  // slope of the body's own X axis, rad, down to the rear positive
	Across                 // slope of its own Y axis, rad, right side high positive
	Inside                 // distance of two own points: it checks the body, and not where it hangs
	Over                   // one own point over another: Own over Other
	Aim                    // heading of the body's own X axis, rad, rear to the right positive
	Course                 // heading of the line between the own point and the vehicle's A, rad, rear to the right positive
	Fall                   // slope of the line between the own point and the vehicle's A, rad, down to the rear positive
)

// Measure is one measurement with its standard uncertainty: mm, or rad of angles.
type Measure struct {
	Name         string
	Kind         Kind
	Own, Other   r3.Vec // own frame
	A, B         r3.Vec // vehicle axes
	Axis         int
	Value, Sigma float64
	// Of several bodies (Group): the part that Own and Other are on, counted from 0, or
	// Vehicle; and the part that A is on, counted from 1, 0 for the vehicle. Own of Vehicle
	// is in vehicle axes, A of a part in that part's own frame.
	Part, On int
}

// Vehicle is no part of a Group: what is on it has its place.
const Vehicle = -1

// Body is a body that hangs somewhere. Reference is the own point whose place is
// found; it should lie among those measured.
type Body struct {
	Reference r3.Vec // own frame, mm
	Start     geom.Pose
	Measures  []Measure
	Common    []tape.Common // errors that measures share: Sigma is then of the rest
}

// Placed is where a body hangs.
type Placed struct {
	Pose geom.Pose
	*tape.Fit
}

// pose is the pose of unknowns x.
func (b Body) pose(x []float64) geom.Pose {
	p := geom.Orient(geom.Angle(x[Slope]), geom.Angle(x[Heading]), geom.Angle(x[Roll]), r3.Vec{})
	p.At = r3.Sub(r3.Vec{X: x[Back], Y: x[Right], Z: x[Up]}, p.Dir(b.Reference))
	return p
}

// PoseAt is the pose of the six unknowns x.
func (b Body) PoseAt(x []float64) geom.Pose { return b.pose(x) }

// Stepped is the body with one of its unknowns a step more, and as much less.
type Stepped struct {
	More, Less geom.Pose
	Step       float64 // mm or rad
}

// Steps are those of each of the unknowns at x, in their order.
func (b Body) Steps(x []float64) []Stepped {
	x = slices.Clone(x[:Unknowns])
	out := make([]Stepped, Unknowns)
	for u := range out {
		step, was := 1e-3, x[u]
		if u >= Heading {
			step = 1e-6
		}
		x[u] = was + step
		out[u].More, out[u].Step = b.PoseAt(x), step
		x[u] = was - step
		out[u].Less = b.PoseAt(x)
		x[u] = was
	}
	return out
}

// At is the unknowns of a pose, the other way round.
func (b Body) At(p geom.Pose) []float64 {
	ref := p.Point(b.Reference)
	return []float64{ref.X, ref.Y, ref.Z, p.Heading().Rad(), p.Slope().Rad(), p.Roll().Rad()}
}

// Problem is the body ready to be fitted.
func (b Body) Problem() tape.Problem {
	p := tape.Problem{Start: b.At(b.Start)}
	for i := range b.Measures {
		m := &b.Measures[i]
		p.Observations = append(p.Observations, b.Observe(m))
	}
	return p.With(b.Common)
}

// Observe is a measurement of the body as an observation of its six unknowns.
func (b *Body) Observe(m *Measure) tape.Observation {
	return tape.Observation{Name: m.Name, Value: m.Value, Sigma: m.Sigma, Of: seen{b, m}}
}

// Fit finds the pose that fits the measurements best, from Start on. It refuses what
// tape.Solve refuses, among it measurements that leave a movement free
// (*tape.LooseError, its unknowns as numbered here), and a body that comes out upside
// down or the wrong way round.
func (b Body) Fit(ctx context.Context) (Placed, error) {
	if len(b.Measures) == 0 {
		return Placed{}, errors.New("nothing is measured to it yet")
	}
	f, err := tape.Solve(ctx, b.Problem())
	if err != nil {
		return Placed{}, err
	}
	p := Placed{b.pose(f.X), f}
	if p.Pose.Z.Z < 0 || r3.Dot(p.Pose.X, b.Start.X) < 0 {
		return Placed{}, ErrTurnedOver
	}
	return p, nil
}

// ErrTurnedOver is that the measurements only fit a body that lies upside down or the
// wrong way round.
var ErrTurnedOver = errors.New("the measurements only fit a body that hangs upside down or the wrong way round")

// Mirror is the body with its own points on the other side of its own X-Z plane
// through the reference: as if left and right had been taken for each other. Gauge
// readings stay.
func (b Body) Mirror() Body {
	over := func(p r3.Vec) r3.Vec { return r3.Vec{X: p.X, Y: 2*b.Reference.Y - p.Y, Z: p.Z} }
	own := make([]Measure, len(b.Measures))
	for i, m := range b.Measures {
		m.Own, m.Other = over(m.Own), over(m.Other)
		own[i] = m
	}
	b.Measures = own
	return b
}

// seen is what a measurement would show of a pose.
type seen struct {
	b *Body
	m *Measure
}

// At implements tape.Function.
func (s seen) At(x []float64) float64 { return s.m.Shown(s.b.pose(x)) }

// Counts reports whether a coordinate of the vehicle's points, 0 to 2, has a part in what
// the measurement reads.
func (m Measure) Counts(axis int) bool {
	switch m.Kind {
	case Rise:
		return axis == 2
	case Beside:
		return axis != 2
	}
	return true
}

// Slope is how much the measurement would read more of bodies in those poses, in the order
// of their parts, for each mm that a coordinate, 0 to 2, of one of its points grows; of is
// that point, a field of m.
func (m *Measure) Slope(of *r3.Vec, axis int, poses ...geom.Pose) float64 {
	const step = 1e-3 // mm
	c := [3]*float64{&of.X, &of.Y, &of.Z}[axis]
	was := *c
	*c = was + step
	up := m.Shown(poses...)
	*c = was - step
	down := m.Shown(poses...)
	*c = was
	return (up - down) / (2 * step)
}

// ends are the pose of the body that the measurement is of, and where its own point and A
// lie.
func (m *Measure) ends(poses []geom.Pose) (p geom.Pose, own, a r3.Vec) {
	own, a = m.Own, m.A
	if m.Part != Vehicle {
		p = poses[m.Part]
		own = p.Point(m.Own)
	}
	if m.On > 0 {
		a = poses[m.On-1].Point(m.A)
	}
	return p, own, a
}

// Shown is what the measurement would read of bodies in those poses, in the order of their
// parts: mm or rad.
func (m *Measure) Shown(poses ...geom.Pose) float64 {
	p, at, a := m.ends(poses)
	switch m.Kind {
	case Distance:
		return r3.Norm(r3.Sub(at, a))
	case Rise:
		return at.Z - a.Z
	case Coordinate:
		return [3]float64{at.X, at.Y, at.Z}[m.Axis]
	case Beside:
		u, ok := m.string()
		if !ok {
			return 0
		}
		d := r3.Sub(at, a)
		return u.X*d.Y - u.Y*d.X
	case Along:
		return p.Slope().Rad()
	case Across:
		return math.Asin(max(-1, min(1, p.Y.Z)))
	case Inside:
		return r3.Norm(r3.Sub(m.Own, m.Other))
	case Aim:
		return p.Heading().Rad()
	case Course:
		return course(r3.Sub(a, at))
	case Fall:
		return fall(r3.Sub(a, at))
	default:
		return at.Z - p.Point(m.Other).Z
	}
}

// fall is the slope of a line, down to the rear positive, whichever end it is seen from.
func fall(d r3.Vec) float64 {
	if d.X < 0 {
		d = r3.Scale(-1, d)
	}
	return math.Atan2(-d.Z, math.Hypot(d.X, d.Y))
}

// course is the heading of a line, rear to the right positive, whichever end it is seen from.
func course(d r3.Vec) float64 {
	if d.X < 0 {
		d = r3.Scale(-1, d)
	}
	return math.Atan2(d.Y, d.X)
}

// string is the direction of the string in plan.
func (m Measure) string() (r3.Vec, bool) {
	d := r3.Vec{X: m.B.X - m.A.X, Y: m.B.Y - m.A.Y}
	l := r3.Norm(d)
	if l == 0 {
		return r3.Vec{}, false
	}
	return r3.Scale(1/l, d), true
}

// Partials implements tape.Function.
func (s seen) Partials(x []float64, add func(unknown int, d float64)) {
	p := s.b.pose(x)
	s.m.partials([]geom.Pose{p}, func(int) r3.Vec { return s.b.Reference }, func(_, u int, d float64) { add(u, d) })
}

// partials are what each unknown of each part does to the measurement; reference is that of
// a part.
func (m *Measure) partials(poses []geom.Pose, reference func(part int) r3.Vec, add func(part, unknown int, d float64)) {
	p, at, a := m.ends(poses)
	own := func(u int, d float64) { add(m.Part, u, d) }
	along := func(dir r3.Vec) { // what moves the own point that way, and A the other
		if m.Part != Vehicle {
			push(p, p.Dir(r3.Sub(m.Own, reference(m.Part))), dir, own)
		}
		if k := m.On - 1; k >= 0 {
			push(poses[k], poses[k].Dir(r3.Sub(m.A, reference(k))), r3.Scale(-1, dir), func(u int, d float64) { add(k, u, d) })
		}
	}
	switch m.Kind {
	case Distance:
		d := r3.Sub(at, a)
		if l := r3.Norm(d); l > 0 {
			along(r3.Scale(1/l, d))
		}
	case Rise:
		along(r3.Vec{Z: 1})
	case Coordinate:
		along([3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[m.Axis])
	case Beside:
		if u, ok := m.string(); ok {
			along(r3.Vec{X: -u.Y, Y: u.X})
		}
	case Along:
		own(Slope, 1)
	case Across: // sin = cos(slope)·sin(roll)
		ss, cs := math.Sincos(p.Slope().Rad())
		sr, cr := math.Sincos(p.Roll().Rad())
		if c := math.Sqrt(max(1-cs*cs*sr*sr, 0)); c > 0 {
			own(Slope, -ss*sr/c)
			own(Roll, cs*cr/c)
		}
	case Inside:
	case Aim:
		own(Heading, 1)
	case Course:
		if d := r3.Sub(a, at); d.X != 0 || d.Y != 0 { // the own point is the end that moves; turned round it is the same
			along(r3.Scale(1/(d.X*d.X+d.Y*d.Y), r3.Vec{X: d.Y, Y: -d.X}))
		}
	case Fall:
		d, sign := r3.Sub(a, at), -1.0 // the own point is the end that moves
		if d.X < 0 {
			d, sign = r3.Scale(-1, d), 1
		}
		if l := math.Hypot(d.X, d.Y); l > 0 {
			n := r3.Norm2(d)
			along(r3.Scale(sign/n, r3.Vec{X: d.Z * d.X / l, Y: d.Z * d.Y / l, Z: -l}))
		}
	case Over:
		along(r3.Vec{Z: 1})
		push(p, p.Dir(r3.Sub(m.Other, reference(m.Part))), r3.Vec{Z: -1}, own)
	}
}

// push adds what each unknown does to a point along a direction, for a point that is
// arm (vehicle axes) from the reference: turns are about the vertical, the level
// cross axis and the body's own X axis.
func push(p geom.Pose, arm, along r3.Vec, add func(unknown int, d float64)) {
	add(Back, along.X)
	add(Right, along.Y)
	add(Up, along.Z)
	sh, ch := math.Sincos(p.Heading().Rad())
	for k, axis := range [3]r3.Vec{{Z: 1}, {X: -sh, Y: ch}, p.X} {
		add(Heading+k, r3.Dot(along, r3.Cross(axis, arm)))
	}
}
