package travel

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Axle is a live axle at ride height, vehicle axes, mm.
type Axle struct {
	Centre     r3.Vec // the point whose rise is prescribed, midway along the tube
	Pinion     r3.Vec // centre of the universal joint at the pinion
	PinionAxis r3.Vec // along the pinion shaft, pointing rearward; any length
}

// Point is where an axle stands at one rise, vehicle axes, mm.
type Point struct {
	Rise       float64
	Motion     geom.Pose // rigid motion of the axle from ride height
	Centre     r3.Vec    // axle centre
	PinionAt   r3.Vec    // pinion joint centre
	PinionAxis r3.Vec    // unit vector, pointing rearward
	// Strain is the most any link has to stretch or shorten (mm) for the axle
	// to stand here. It is rounding (below 1e-9) unless a Linkage was allowed
	// some give.
	Strain float64
}

// Suspension locates a live axle.
type Suspension interface {
	// At returns where the axle stands when its centre has risen by rise mm
	// from ride height, bump positive. A rise that cannot be reached gives a
	// *BindError.
	At(rise float64) (Point, error)
}

// BindError tells how far a suspension can move before it binds.
type BindError struct {
	Rise float64    // last rise that is reached, within 0.01 mm
	Roll geom.Angle // roll at which it binds, right side high positive
	Why  string
}

func (e *BindError) Error() string {
	where := fmt.Sprintf("%.2f mm of bump", e.Rise)
	switch {
	case e.Rise < 0:
		where = fmt.Sprintf("%.2f mm of droop", -e.Rise)
	case e.Rise == 0:
		where = "ride height"
	}
	if e.Roll != 0 {
		where += fmt.Sprintf(" and %.2f° of roll", e.Roll.Abs().Degrees())
	}
	return fmt.Sprintf("the suspension binds at %s: %s", where, e.Why)
}

// tracker is a suspension that goes faster from a neighbouring rise than from
// ride height.
type tracker interface{ track() track }

// track remembers where a sweep has got to. Calls must go steadily away from
// ride height.
type track interface {
	to(rise float64) (Point, error)
}

// Sweep returns n points at equal steps of rise from full droop to full bump.
// droop and bump are distances in mm from ride height, neither negative. The
// points come in order of rise. If the suspension binds on the way, the points
// that were reached are returned together with the *BindError (one for each
// way it binds, joined).
func Sweep(s Suspension, droop, bump float64, n int) ([]Point, error) {
	rises, err := riseSteps(droop, bump, n)
	if err != nil {
		return nil, err
	}
	if s == nil {
		return nil, errors.New("no suspension was given to move")
	}
	first := 0 // first rise at or above ride height
	for first < n && rises[first] < 0 {
		first++
	}
	points := make([]Point, n)
	lo, hi := first, first
	up, down := s.At, s.At
	if tr, ok := s.(tracker); ok {
		up, down = tr.track().to, tr.track().to
	}
	var errUp, errDown error
	for ; hi < n; hi++ {
		if points[hi], errUp = up(rises[hi]); errUp != nil {
			break
		}
	}
	for ; lo > 0; lo-- {
		if points[lo-1], errDown = down(rises[lo-1]); errDown != nil {
			break
		}
	}
	return points[lo:hi], errors.Join(errDown, errUp)
}

// riseSteps returns n equal steps from -droop to bump.
func riseSteps(droop, bump float64, n int) ([]float64, error) {
	if !geom.Finite(droop, bump) || droop < 0 || bump < 0 {
		return nil, fmt.Errorf("droop %g mm and bump %g mm: give each as a distance from ride height, zero or more", droop, bump)
	}
	if droop+bump < geom.Tiny {
		return nil, errors.New("droop and bump are both zero, so there is no travel to go through")
	}
	if n < 2 || n > 100_000 {
		return nil, fmt.Errorf("%d points were asked for; a sweep takes from 2 to 100000", n)
	}
	rises := make([]float64, n)
	for i := range rises {
		r := -droop + (droop+bump)*float64(i)/float64(n-1)
		if math.Abs(r) < 1e-9 {
			r = 0 // ride height is meant
		}
		rises[i] = r
	}
	rises[n-1] = bump
	return rises, nil
}

// point applies a motion to the axle.
func (a Axle) point(rise float64, m geom.Pose) Point {
	return Point{
		Rise: rise, Motion: m, Centre: m.Point(a.Centre),
		PinionAt: m.Point(a.Pinion), PinionAxis: m.Dir(a.PinionAxis),
	}
}

// checked refuses an axle that is not one and makes its pinion axis a unit.
func (a Axle) checked() (Axle, error) {
	if err := checkPoint("axle centre", a.Centre); err != nil {
		return a, err
	}
	if err := checkPoint("pinion joint", a.Pinion); err != nil {
		return a, err
	}
	u, err := checkAxis("pinion axis", a.PinionAxis)
	if err != nil {
		return a, err
	}
	if u.X <= 0 {
		return a, errors.New("pinion axis: give it pointing to the rear of the vehicle")
	}
	a.PinionAxis = u
	return a, nil
}

// farthest is the largest coordinate taken for a vehicle's, mm.
const farthest = 1e5

func checkPoint(name string, v r3.Vec) error {
	if !geom.Finite(v.X, v.Y, v.Z) {
		return fmt.Errorf("%s: its place is not a number", name)
	}
	if math.Abs(v.X) > farthest || math.Abs(v.Y) > farthest || math.Abs(v.Z) > farthest {
		return fmt.Errorf("%s: its place (%g, %g, %g) mm is more than 100 m away; check the unit", name, v.X, v.Y, v.Z)
	}
	return nil
}

func checkAxis(name string, v r3.Vec) (r3.Vec, error) {
	if !geom.Finite(v.X, v.Y, v.Z) {
		return v, fmt.Errorf("%s: its direction is not a number", name)
	}
	u, err := geom.Unit(v)
	if err != nil {
		return v, fmt.Errorf("%s: it has no length, so no direction", name)
	}
	return u, nil
}

func checkRise(rise float64) error {
	if !geom.Finite(rise) {
		return errors.New("the rise asked for is not a number")
	}
	return nil
}

// carry is the motion that turns the axle by turn and takes its point from at
// to moved.
func carry(turn geom.Pose, at, moved r3.Vec) geom.Pose {
	turn.At = r3.Sub(moved, turn.Dir(at))
	return turn
}

// bindTol is how closely (mm) the rise of a bind is found.
const bindTol = 0.01

// advance moves a parameter (mm) from one value to another in steps of at most
// step. A step that try refuses is halved, down to bindTol. It returns the last
// value that try took and whether that is the far end.
func advance(from, to, step float64, try func(v float64) bool) (float64, bool) {
	s := step
	for from != to {
		next := to
		if math.Abs(to-from) > s {
			next = from + math.Copysign(s, to-from)
		}
		if try(next) {
			from, s = next, min(step, 2*s)
			continue
		}
		if s = math.Abs(next-from) / 2; s < bindTol/4 {
			return from, false
		}
	}
	return from, true
}
