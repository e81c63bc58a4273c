package travel

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// ArmPivot is where an arm turns on the chassis, vehicle axes, mm.
type ArmPivot struct {
	Name string // as in "left arm"
	At   r3.Vec
}

// TrailingArms is a solid axle with arms rigid to it that turn on the chassis:
// axle, arms and pinion turn as one body about the line of the pivots, so the
// pinion slope changes by the whole angle of the arms. Roll and the lateral
// link are not in it: left and right rise alike.
type TrailingArms struct {
	axle     Axle
	on, line r3.Vec
}

// pivotsInLine is how far (mm) a pivot may stand off the common line before
// arms that are rigid with the axle are called locked.
const pivotsInLine = 2.0

// NewTrailingArms takes the pivots of the arms. Two or more must lie in one
// line (within 2 mm); a single pivot turns about a line straight across the
// vehicle.
func NewTrailingArms(axle Axle, pivots ...ArmPivot) (*TrailingArms, error) {
	axle, err := axle.checked()
	if err != nil {
		return nil, err
	}
	if len(pivots) == 0 {
		return nil, errors.New("trailing arms: no pivot is given; at least one arm is needed")
	}
	for _, p := range pivots {
		if err := checkPoint(p.Name+" pivot", p.At); err != nil {
			return nil, err
		}
	}
	on, line := pivots[0].At, r3.Vec{Y: 1}
	if len(pivots) > 1 {
		if line, err = pivotLine(pivots); err != nil {
			return nil, err
		}
	}
	t := &TrailingArms{axle: axle, on: on, line: line}
	if _, err := swing(on, line, axle.Centre, 0); err != nil {
		return nil, fmt.Errorf("trailing arms: %w", err)
	}
	return t, nil
}

// pivotLine returns the direction from the first pivot to the one farthest
// from it, after checking that the others lie between.
func pivotLine(pivots []ArmPivot) (r3.Vec, error) {
	far := 1
	for i := range pivots {
		if r3.Norm(r3.Sub(pivots[i].At, pivots[0].At)) > r3.Norm(r3.Sub(pivots[far].At, pivots[0].At)) {
			far = i
		}
	}
	line, err := geom.Unit(r3.Sub(pivots[far].At, pivots[0].At))
	if err != nil {
		return line, fmt.Errorf("%s and %s: their pivots are at the same point", pivots[0].Name, pivots[far].Name)
	}
	for _, p := range pivots[1:] {
		if off := r3.Norm(r3.Cross(line, r3.Sub(p.At, pivots[0].At))); off > pivotsInLine {
			return line, fmt.Errorf("%s: its pivot is %.1f mm off the line of the others, and arms rigid with the axle would lock; bring it into line within %g mm", p.Name, off, pivotsInLine)
		}
	}
	return line, nil
}

// At implements Suspension.
func (t *TrailingArms) At(rise float64) (Point, error) {
	if err := checkRise(rise); err != nil {
		return Point{}, err
	}
	m, err := swing(t.on, t.line, t.axle.Centre, rise)
	if err != nil {
		return Point{}, err
	}
	return t.axle.point(rise, m), nil
}

// swing returns the rotation about the line through on along the unit vector u
// that lifts point p by rise mm, on the branch that is no rotation at no rise.
//
// With r from on to p, r' its part square to u and s = u × r, Rodrigues'
// formula gives the height over the line's part as A cos θ + B sin θ, where A =
// r'z and B = sz. Setting that to A + rise gives θ = φ ∓ arccos((A + rise)/M)
// with M = √(A² + B²) and φ = atan2(B, A).
func swing(on, u, p r3.Vec, rise float64) (geom.Pose, error) {
	r := r3.Sub(p, on)
	a := r.Z - r3.Dot(r, u)*u.Z
	b := r3.Cross(u, r).Z
	m := math.Hypot(a, b)
	if m < 1 || math.Abs(b) < 1e-3*m {
		return geom.Pose{}, errors.New("turning about the pivot line does not lift the arm's end at ride height; check the pivot points")
	}
	if rise == 0 {
		return geom.Identity(), nil
	}
	h := a + rise
	if math.Abs(h) >= m {
		return geom.Pose{}, &BindError{Rise: math.Copysign(m, h) - a, Why: "the arm stands straight up or down and its end can go no farther"}
	}
	phi := math.Atan2(b, a)
	turn := phi - math.Copysign(math.Atan2(math.Sqrt((m-h)*(m+h)), h), phi)
	return geom.Turn(on, u, geom.Angle(turn))
}
