package travel

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Leaves is the make of a leaf spring.
type Leaves int

const (
	// ManyLeaves is a pack of graduated leaves, close to uniform strength.
	ManyLeaves Leaves = iota
	// OneLeaf is a single leaf of uniform section.
	OneLeaf
)

// EyeRadius returns the radius of the arc on which a spring eye moves about
// the clamp, as a part of the length from clamp to eye: 3/4 for a pack of
// leaves that bends to a circle, 5/6 for one leaf of uniform section.
//
// Source: the three-quarter rule of SAE HS-788 (Manual on Design and
// Application of Leaf Springs; also AE-11), from memory. Derived too: a tip
// deflected by d over a length L is drawn in by half the integral of the slope
// squared, which is d²/(1.5 L) for a circular arc and 0.6 d²/L for a cantilever
// of uniform section; an arc of radius R draws in d²/(2R).
func (k Leaves) EyeRadius() float64 {
	if k == OneLeaf {
		return 5.0 / 6
	}
	return 0.75
}

// Caution returns what to keep in mind about the model for this make of
// spring, empty for a pack of leaves.
func (k Leaves) Caution() string {
	if k == OneLeaf {
		return "a single leaf of uniform section is taken with an eye arc of 5/6 of its length; a single leaf that is thinned towards its ends lies nearer 3/4"
	}
	return ""
}

// LeafSpring describes an axle on two like leaf springs, in side view: only X
// and Z of its points count, and left and right rise alike. The shackle may be
// at the front or the rear; where the points lie says which.
type LeafSpring struct {
	Axle         Axle
	FixedEye     r3.Vec  // centre of the eye that turns on the chassis
	Seat         r3.Vec  // main leaf at the middle of the clamp
	ShackleEye   r3.Vec  // centre of the eye at the shackle
	ShacklePivot r3.Vec  // where the shackle turns on the chassis
	Clamped      float64 // length of spring held between the clamps, mm; half each side of the seat
	Leaves       Leaves
	// WindUp is the rotation of the spring seat by axle torque, added to that
	// from travel. Positive is down to the rear, which lifts the nose of a
	// pinion that lies ahead of its axle: the reaction to drive turns a front
	// or a rear axle that way. Negative is for coasting and braking.
	WindUp geom.Angle
}

// Leaf is an axle on leaf springs, ready to be moved. It is not changed by use.
//
// # What the model is
//
// Each half of the spring is a rigid link of 3/4 (or 5/6) of its length,
// pinned to the spring seat at the remaining part along the main leaf; the
// second link ends on the shackle. That is the published three-link equivalent
// of a leaf spring (SAE HS-788) and gives the path. It is exact to second order
// in the deflection.
//
// # What it does not say, and how that is found
//
// The links leave the rotation of the seat open: the angle of a link is not the
// slope of a leaf. The rotation follows from balance (derived here). With no
// torque on the axle the bending moment is the same on both sides of the seat.
// A half of length L under moment M is deflected by d with d/L² the same
// multiple of M for both halves, so the change of d/L² must be equal: the whole
// spring changes curvature by one amount. For level eyes at one height this
// gives the seat a turn of
//
//	slope change = -rise (b - a)/(a b)
//
// for a half of length a in front and b behind: a spring with a short front
// half drops its pinion nose in bump. The shackle's swing lifts or drops its
// eye and adds to that; it is included exactly. Not included: the pull of a
// slanted shackle, leaves of one half stiffer than the other's, clips, overload
// leaves, helper leaves, and rubber in the eyes.
//
// WindUp turns the seat further at the same rise of the axle centre.
type Leaf struct {
	axle     Axle
	fixed    half
	shackled half
	seat     flat
	pivot    flat    // of the shackle
	shackle  float64 // length, mm
	up       flat    // unit vector square to the main leaf at the seat at ride, upward
	bend     float64 // +1 or -1: to which side of the line eye pin–pivot the shackle eye is
	windUp   geom.Angle
}

// half is one half of the spring as a link pinned to the seat.
type half struct {
	eye    flat    // at ride; for the fixed eye, always
	pin    flat    // from the seat, at ride
	link   float64 // length of the link, mm
	length float64 // length of the half beyond the clamp, mm
	cross  float64 // how far the eye is off the main leaf's line at the seat at ride, mm
}

// flat is a point or direction in side view: X rearward, Z up.
type flat struct{ x, z float64 }

func side(v r3.Vec) flat              { return flat{v.X, v.Z} }
func (p flat) add(o flat) flat        { return flat{p.x + o.x, p.z + o.z} }
func (p flat) sub(o flat) flat        { return flat{p.x - o.x, p.z - o.z} }
func (p flat) scale(k float64) flat   { return flat{k * p.x, k * p.z} }
func (p flat) dot(o flat) float64     { return p.x*o.x + p.z*o.z }
func (p flat) cross(o flat) float64   { return p.x*o.z - p.z*o.x }
func (p flat) long() float64          { return math.Hypot(p.x, p.z) }
func (p flat) turn(s, c float64) flat { return flat{c*p.x + s*p.z, c*p.z - s*p.x} } // by a slope, down to the rear positive
func (p flat) normal() flat           { return flat{-p.z, p.x} }

// NewLeaf checks the spring and fits the link model to it.
func NewLeaf(d LeafSpring) (*Leaf, error) {
	axle, err := d.Axle.checked()
	if err != nil {
		return nil, err
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	l := &Leaf{axle: axle, seat: side(d.Seat), pivot: side(d.ShacklePivot), windUp: d.WindUp}
	along, err := tangent(side(d.FixedEye), l.seat, side(d.ShackleEye))
	if err != nil {
		return nil, err
	}
	l.up = upright(along)
	if l.fixed, err = newHalf("fixed eye", d, along, side(d.FixedEye)); err != nil {
		return nil, err
	}
	if l.shackled, err = newHalf("shackle eye", d, along.scale(-1), side(d.ShackleEye)); err != nil {
		return nil, err
	}
	arm := l.shackled.eye.sub(l.pivot)
	l.shackle = arm.long()
	across := l.pivot.sub(l.seat.add(l.shackled.pin)).cross(arm)
	if math.Abs(across) < 1e-3*l.shackle*l.shackled.link {
		return nil, errors.New("shackle: it lies in line with the spring at ride height, where it cannot swing; check the shackle points")
	}
	l.bend = math.Copysign(1, across)
	if l.windUp != 0 {
		if _, err := l.At(0); err != nil {
			return nil, fmt.Errorf("with %.1f° of wind-up %w", l.windUp.Degrees(), err)
		}
	}
	return l, nil
}

// check refuses what is no leaf spring.
func (d LeafSpring) check() error {
	for _, p := range []struct {
		name string
		at   r3.Vec
	}{{"fixed eye", d.FixedEye}, {"spring seat", d.Seat}, {"shackle eye", d.ShackleEye}, {"shackle pivot", d.ShacklePivot}} {
		if err := checkPoint(p.name, p.at); err != nil {
			return err
		}
	}
	if d.Leaves != ManyLeaves && d.Leaves != OneLeaf {
		return errors.New("leaf spring: say whether it is a pack of leaves or a single leaf")
	}
	if (d.FixedEye.X-d.Seat.X)*(d.ShackleEye.X-d.Seat.X) >= 0 {
		return fmt.Errorf("spring seat: at station %.1f mm it is not between the eyes at %.1f and %.1f mm", d.Seat.X, d.FixedEye.X, d.ShackleEye.X)
	}
	if side(d.ShackleEye).sub(side(d.ShacklePivot)).long() < 1 {
		return errors.New("shackle: both ends at the same point")
	}
	if !geom.Finite(d.Clamped) || d.Clamped < 0 {
		return fmt.Errorf("clamped length of the spring: %g mm was read; give zero or more", d.Clamped)
	}
	if !geom.Finite(d.WindUp.Rad()) || d.WindUp.Abs() > 20*geom.Deg {
		return fmt.Errorf("wind-up: %.1f° was read; up to 20° either way is taken", d.WindUp.Degrees())
	}
	return nil
}

// tangent returns the direction of the main leaf at the seat, towards the
// fixed eye: that of the circle through both eyes and the seat. For points a, s
// and b it is the chords to s weighted by the inverse of their lengths squared,
// which is exact for a circle.
func tangent(fixed, seat, shackled flat) (flat, error) {
	a, b := fixed.sub(seat), shackled.sub(seat)
	la, lb := a.long(), b.long()
	if la < 50 || lb < 50 {
		return flat{}, fmt.Errorf("leaf spring: its halves are %.1f and %.1f mm long; check the eyes and the seat", la, lb)
	}
	t := a.scale(1 / (la * la)).sub(b.scale(1 / (lb * lb)))
	if a.dot(b) > -0.5*la*lb {
		return flat{}, errors.New("leaf spring: its halves meet at too sharp an angle at the seat; check the heights of eyes and seat")
	}
	return t.scale(1 / t.long()), nil
}

// newHalf fits the link to one half. With r from the clamp's edge to the eye,
// t the main leaf's direction there and f the part of the length L that the
// link has, |r - (1-f) L t| = f L fixes L:
// (2f-1) L² + 2 (1-f) (r·t) L - r² = 0.
func newHalf(name string, d LeafSpring, t, eye flat) (half, error) {
	f := d.Leaves.EyeRadius()
	edge := t.scale(d.Clamped / 2)
	r := eye.sub(side(d.Seat)).sub(edge)
	if r.dot(t) < 50 {
		return half{}, fmt.Errorf("%s: only %.1f mm of free spring is left between clamp and eye; check the clamped length", name, r.dot(t))
	}
	p, q := (1-f)*r.dot(t)/(2*f-1), r.dot(r)/(2*f-1)
	length := q / (p + math.Sqrt(p*p+q))
	h := half{eye: eye, length: length, pin: edge.add(t.scale((1 - f) * length))}
	link := r.sub(t.scale((1 - f) * length))
	h.link = link.long()
	h.cross = link.dot(upright(t))
	return h, nil
}

// upright is the upward direction square to a leaf's direction.
func upright(t flat) flat {
	if t.x < 0 {
		return t.normal().scale(-1)
	}
	return t.normal()
}
