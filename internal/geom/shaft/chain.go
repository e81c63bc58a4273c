package shaft

import (
	"errors"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Kind says how a joint carries rotation from one shaft to the next.
type Kind int

// The kinds of joint.
const (
	// Cardan is one cross between two yokes.
	Cardan Kind = iota
	// DoubleCardan is two crosses in one coupling whose yokes are in phase. A
	// centring device is assumed to hold the coupling in the plane of the two
	// shafts, and to share the angle equally unless Joint.Uneven says otherwise:
	// then it runs at constant velocity. A real device shares equally only near
	// the angle it was designed for.
	DoubleCardan
	// ConstantVelocity turns the driven shaft exactly with the driving one: its
	// balls or rollers lie in the plane that halves the angle.
	ConstantVelocity
)

func (k Kind) String() string {
	switch k {
	case Cardan:
		return "single joint"
	case DoubleCardan:
		return "double joint"
	case ConstantVelocity:
		return "constant-velocity joint"
	}
	return "unknown kind of joint"
}

// Yoke offsets that have a name.
const (
	InPhase geom.Angle = 0
	Crossed            = 90 * geom.Deg
)

// More ways for a chain to be refused.
var (
	ErrKind   = errors.New("the kind of joint is not known: single, double or constant-velocity is wanted")
	ErrUneven = errors.New("the two halves of the double joint differ by more than its whole angle")
	ErrYokes  = errors.New("one yoke offset is wanted for each shaft between two joints")
	ErrYoke   = errors.New("the yoke offset of the shaft ahead of this joint is not a number")
	ErrArm    = errors.New("the arm of the driving yoke points along its own shaft")
)

// Joint is one joint of a chain.
type Joint struct {
	At   r3.Vec // centre, vehicle axes, mm
	Kind Kind
	// Uneven is the angle of the first half less that of the second, read for a
	// DoubleCardan only. 0 means the centring device shares equally.
	Uneven geom.Angle
}

// Chain is a driveline of one or more joints, in vehicle axes.
type Chain struct {
	In     r3.Vec  // driving axis, pointing to the driven end, any length
	Joints []Joint // from the driving end
	Out    r3.Vec  // driven axis, pointing away from the last joint, any length
	// Yokes holds the yoke offset of shaft 1, 2, ... between the joints, so one
	// fewer than joints; nil means all in phase. Where a shaft ends in a
	// constant-velocity joint there is no yoke: the offset is then to the next
	// yoke, as if the line were straightened.
	Yokes []geom.Angle
	// Arm is the direction of the driving yoke's arm at input angle 0; only its
	// part square to In counts. The zero vector means upright.
	Arm r3.Vec
}

// Line returns the bare geometry of the chain.
func (c Chain) Line() Line {
	l := Line{In: c.In, Out: c.Out, Joints: make([]r3.Vec, len(c.Joints))}
	for i, j := range c.Joints {
		l.Joints[i] = j.At
	}
	return l
}

// check refuses what has nothing to do with the axes.
func (c Chain) check() error {
	for i, j := range c.Joints {
		if j.Kind < Cardan || j.Kind > ConstantVelocity {
			return &JointError{i + 1, ErrKind}
		}
	}
	if c.Yokes != nil && len(c.Yokes) != len(c.Joints)-1 {
		return ErrYokes
	}
	for i, p := range c.Yokes {
		if !geom.Finite(p.Rad()) {
			return &JointError{i + 2, ErrYoke}
		}
	}
	return nil
}

// arm returns the unit direction of the driving yoke's arm at input angle 0.
func (c Chain) arm(in r3.Vec) (r3.Vec, error) {
	if !finite(c.Arm) {
		return r3.Vec{}, &JointError{1, ErrNumber}
	}
	square := func(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, in), in)) }
	if c.Arm != (r3.Vec{}) {
		a, err := geom.Unit(c.Arm)
		if err == nil {
			a = square(a)
		}
		if r3.Norm(a) < 1e-6 {
			return r3.Vec{}, &JointError{1, ErrArm}
		}
		return unit(square(unit(a))), nil
	}
	up := square(r3.Vec{Z: 1})
	if r3.Norm2(up) < 1e-6 { // a vertical shaft has no upright arm
		up = square(r3.Vec{Y: 1})
	}
	return unit(square(unit(up))), nil
}

// unit scales a vector that is known to have a length.
func unit(v r3.Vec) r3.Vec { return r3.Scale(1/math.Sqrt(r3.Norm2(v)), v) }
