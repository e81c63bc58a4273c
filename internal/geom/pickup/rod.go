package pickup

import (
	"errors"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Swing is what the travel does to a rod whose one end turns on the chassis and whose
// other end goes with a body.
type Swing struct {
	// Longer is how much farther apart its ends are than at ride height, mm: what its
	// bushes have to give, below 0 where they are pressed.
	Longer  float64
	Chassis geom.Angle // how far it has turned in its joint on the chassis
	End     geom.Angle // and in its joint on the body
	Slope   geom.Angle // of the rod from chassis to end, above 0 where the end is the lower
}

// Swing is what a state does to a rod.
func (x Span) Swing(s *State) Swing {
	was := r3.Sub(x.End, x.Chassis)
	is := r3.Sub(s.Point(x.On, x.End), x.Chassis)
	return Swing{
		Longer:  r3.Norm(is) - r3.Norm(was),
		Chassis: geom.Between(was, is),
		End:     geom.Between(s.Motion[x.On].Dir(was), is),
		Slope:   geom.Angle(math.Atan2(-is.Z, math.Hypot(is.X, is.Y))),
	}
}

// Check refuses a rod that cannot be.
func (x Span) Check() error { return x.check() }

// Bar is one half of an anti-roll bar: its axis through its two bushes on the chassis,
// the end of its arm, and the drop link from there to a body that moves with the wheel;
// vehicle axes at ride height, mm.
type Bar struct {
	BushA, BushB r3.Vec
	Arm          r3.Vec // end of the arm, the upper joint of the link
	Link         r3.Vec // other joint of the link
	On           Body   // that Link is on

	meets meeting
}

// BarAt is where an arm of a bar stands.
type BarAt struct {
	Turn geom.Angle // of the arm from ride height, about the axis from A to B
	Arm  r3.Vec     // end of the arm
	Link r3.Vec     // other joint of the link
	// Off is how far the link stands out of the plane of its arm and the bar's axis: 90°
	// where it is square to both, 0 where it can fold over.
	Off geom.Angle
}

// NewBar checks one half of a bar.
func NewBar(b Bar) (*Bar, error) {
	if !finite(b.BushA, b.BushB, b.Arm, b.Link) {
		return nil, errNumbers
	}
	c, err := circleOf(b.BushA, b.BushB, b.Arm)
	if errors.Is(err, errOnLine) {
		return nil, errors.New("the end of the bar's arm lies on the bar's own axis")
	} else if err != nil {
		return nil, err
	}
	if b.meets, err = meet(c, b.Link); errors.Is(err, errInLine) {
		return nil, errors.New("the drop link stands in line with the bar's arm at ride height and can fold either way")
	} else if err != nil {
		return nil, err
	}
	return &b, nil
}

// Lever is how long its arm is, square to the axis, mm.
func (b *Bar) Lever() float64 { return b.meets.r }

// LinkLength is how long its drop link is, mm.
func (b *Bar) LinkLength() float64 { return b.meets.distance }

// Lead is the way its arm points at ride height, a unit vector square to the axis.
func (b *Bar) Lead() r3.Vec { return b.meets.e1 }

// At is where the bar's arm stands in a state, the bar free to turn. It fails where the
// link does not reach: the bar then folds over or holds the wheel.
func (b *Bar) At(s *State) (BarAt, error) {
	q := s.Point(b.On, b.Link)
	a, err := b.meets.angle(q)
	if err != nil {
		return BarAt{}, errors.New("the drop link does not reach from the bar's arm")
	}
	out := BarAt{Turn: geom.Angle(a), Arm: b.meets.at(a), Link: q}
	along := r3.Dot(r3.Sub(q, out.Arm), b.meets.along(a)) / b.meets.distance
	out.Off = geom.Angle(math.Asin(min(1, math.Abs(along))))
	return out, nil
}

// Twist is how far the arms of the two halves of a bar are turned against each other
// about its axis as they stand, which a straight bar has to be twisted by to go on.
func Twist(left, right *Bar) geom.Angle {
	u := left.meets.u
	flat := func(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, u), u)) }
	return geom.Between(flat(left.Lead()), flat(right.Lead()))
}

// Axis is how a steering axis stands, in the terms of ISO 8855.
type Axis struct {
	Caster      geom.Angle // seen from the side, above 0 where its upper end is the one to the rear
	Inclination geom.Angle // seen from the front, above 0 where its upper end is the one to the centre line
	Trail       float64    // mm, from where it meets the floor back to below the wheel centre
}

// AxisOf is how the steering axis through a lower and an upper point stands, with the
// wheel centre radius mm above the floor. right says on which side of the vehicle it is.
// Trail is 0 for a radius of 0.
func AxisOf(lower, upper, wheel r3.Vec, radius float64, right bool) (Axis, error) {
	d := r3.Sub(upper, lower)
	if !finite(lower, upper, wheel) || !geom.Finite(radius) {
		return Axis{}, errNumbers
	}
	if d.Z < leastArm {
		return Axis{}, errors.New("the upper end of the steering axis does not lie above the lower one")
	}
	side := -1.0
	if right {
		side = 1
	}
	a := Axis{Caster: geom.Angle(math.Atan2(d.X, d.Z)), Inclination: geom.Angle(math.Atan2(-side*d.Y, d.Z))}
	if radius > 0 {
		t := (wheel.Z - radius - lower.Z) / d.Z
		a.Trail = wheel.X - (lower.X + t*d.X)
	}
	return a, nil
}
