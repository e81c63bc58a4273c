package travel

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// WheelPath is how a wheel end moves: SwingArm or ControlArm.
type WheelPath interface {
	// motion is the rigid motion of the hub when its guided point has risen;
	// at is the outer joint at ride.
	motion(at r3.Vec, rise float64) (geom.Pose, error)
}

// SwingArm carries the hub rigidly (trailing arm, semi-trailing arm, swing
// axle): the hub turns about the line of the two chassis pivots. The rise is
// that of the outer joint centre.
type SwingArm struct{ PivotA, PivotB r3.Vec }

// ControlArm carries the hub on a ball joint that moves on the arc of the arm
// about its two chassis pivots, while a second arm or a strut keeps the hub
// nearly parallel to itself. The hub is taken as not turning: its change of
// camber, toe and caster is not in the angles. The rise is that of the ball
// joint.
type ControlArm struct{ PivotA, PivotB, Ball r3.Vec }

func (a SwingArm) motion(at r3.Vec, rise float64) (geom.Pose, error) {
	line, err := armLine(a.PivotA, a.PivotB)
	if err != nil {
		return geom.Pose{}, err
	}
	return swing(a.PivotA, line, at, rise)
}

func (a ControlArm) motion(_ r3.Vec, rise float64) (geom.Pose, error) {
	line, err := armLine(a.PivotA, a.PivotB)
	if err != nil {
		return geom.Pose{}, err
	}
	if err := checkPoint("ball joint", a.Ball); err != nil {
		return geom.Pose{}, err
	}
	turn, err := swing(a.PivotA, line, a.Ball, rise)
	if err != nil {
		return geom.Pose{}, err
	}
	m := geom.Identity()
	m.At = r3.Sub(turn.Point(a.Ball), a.Ball)
	return m, nil
}

func armLine(a, b r3.Vec) (r3.Vec, error) {
	if err := checkPoint("first arm pivot", a); err != nil {
		return a, err
	}
	if err := checkPoint("second arm pivot", b); err != nil {
		return a, err
	}
	line, err := geom.Unit(r3.Sub(b, a))
	if err != nil {
		return a, errors.New("control arm: both pivots at the same point, so there is no line to turn about")
	}
	return line, nil
}

// HalfShaft is a shaft with a constant-velocity joint at either end, from a
// differential that does not move with the wheel to a wheel end; vehicle axes at
// ride height, mm. Both axes point outboard.
type HalfShaft struct {
	Inner, Outer         r3.Vec // joint centres
	InnerAxis, OuterAxis r3.Vec // of the differential's output and of the hub
	Path                 WheelPath
	// Lock is how far the wheel steers either way, about an upright line through
	// the outer joint; 0 for one that does not.
	Lock geom.Angle
}

// ShaftPoint is a half shaft at one rise.
type ShaftPoint struct {
	Rise                   float64
	Outer                  r3.Vec     // outer joint centre
	InnerAngle, OuterAngle geom.Angle // between the shaft and the axis at that end; the outer one the largest over the lock
	Length                 float64    // between joint centres, mm
	Plunge                 float64    // Length less that at ride height; positive pulls out
}

// At returns the half shaft when the guided point of its path has risen by
// rise mm, bump positive.
func (h HalfShaft) At(rise float64) (ShaftPoint, error) {
	if err := checkRise(rise); err != nil {
		return ShaftPoint{}, err
	}
	if err := h.check(); err != nil {
		return ShaftPoint{}, err
	}
	m, err := h.Path.motion(h.Outer, rise)
	if err != nil {
		return ShaftPoint{}, err
	}
	return h.at(Hub{rise, m})
}

// check refuses a half shaft that cannot be, and makes its axes of length 1.
func (h *HalfShaft) check() error {
	if err := checkPoint("inner joint", h.Inner); err != nil {
		return err
	}
	if err := checkPoint("outer joint", h.Outer); err != nil {
		return err
	}
	var err error
	if h.InnerAxis, err = checkAxis("axis of the inner joint", h.InnerAxis); err != nil {
		return err
	}
	if h.OuterAxis, err = checkAxis("axis of the outer joint", h.OuterAxis); err != nil {
		return err
	}
	if !geom.Finite(h.Lock.Rad()) || h.Lock < 0 || h.Lock >= mostLock {
		return fmt.Errorf("half shaft: a lock of %.1f° is not one; give how far the wheel steers either way, from 0 to less than 80°", h.Lock.Degrees())
	}
	if h.Path == nil {
		return errors.New("half shaft: no path is given for its wheel end")
	}
	ride := r3.Sub(h.Outer, h.Inner)
	if r3.Norm(ride) < 1 {
		return errors.New("half shaft: both joints at the same point")
	}
	if r3.Dot(ride, h.InnerAxis) <= 0 || r3.Dot(ride, h.OuterAxis) <= 0 {
		return errors.New("half shaft: a joint stands at 90° or more at ride height; both joint axes have to point outboard")
	}
	return nil
}

// at is the checked half shaft with its hub there.
func (h *HalfShaft) at(hub Hub) (ShaftPoint, error) {
	p := ShaftPoint{Rise: hub.Rise, Outer: hub.Motion.Point(h.Outer)}
	shaft := r3.Sub(p.Outer, h.Inner)
	p.Length = r3.Norm(shaft)
	if p.Length < 1 {
		return ShaftPoint{}, fmt.Errorf("half shaft: at a rise of %.1f mm its joints come together", hub.Rise)
	}
	p.Plunge = p.Length - r3.Norm(r3.Sub(h.Outer, h.Inner))
	p.InnerAngle = geom.Between(h.InnerAxis, shaft)
	p.OuterAngle = steered(shaft, hub.Motion.Dir(h.OuterAxis), h.Lock)
	return p, nil
}

// mostLock bounds what is taken for the lock of a wheel.
const mostLock = 80 * geom.Deg

// steered is the largest angle between the shaft and the hub's axis while the
// hub turns by up to lock either way about an upright line. The cosine of that
// angle goes with the cosine of the turn, from where the two lie in line in
// plan: it has no smallest value within 90° of there, so the largest angle is at
// one of the ends.
func steered(shaft, hub r3.Vec, lock geom.Angle) geom.Angle {
	most := geom.Between(shaft, hub)
	if lock == 0 {
		return most
	}
	sin, cos := math.Sincos(lock.Rad())
	for _, sin := range []float64{sin, -sin} {
		turned := r3.Vec{X: cos*hub.X - sin*hub.Y, Y: sin*hub.X + cos*hub.Y, Z: hub.Z}
		most = max(most, geom.Between(shaft, turned))
	}
	return most
}

// Hub is the rigid motion of a wheel's hub from ride height when the guided point
// of its path has risen by Rise mm, bump positive.
type Hub struct {
	Rise   float64
	Motion geom.Pose
}

// Hubs returns the hub at n equal steps of rise from full droop to full bump
// (distances in mm from ride height). It goes the same way wherever the inner
// joint stands. On an error the hubs below it are returned with it.
func (h HalfShaft) Hubs(droop, bump float64, n int) ([]Hub, error) {
	rises, err := riseSteps(droop, bump, n)
	if err != nil {
		return nil, err
	}
	if h.Path == nil {
		return nil, errors.New("half shaft: no path is given for its wheel end")
	}
	if err := checkPoint("outer joint", h.Outer); err != nil {
		return nil, err
	}
	out := make([]Hub, 0, n)
	for _, r := range rises {
		if err := checkRise(r); err != nil {
			return out, err
		}
		m, err := h.Path.motion(h.Outer, r)
		if err != nil {
			return out, err
		}
		out = append(out, Hub{r, m})
	}
	return out, nil
}

// Along returns the half shaft with its hub at each of those places, a point for
// each. On an error the points before it are returned with it.
func (h HalfShaft) Along(hubs []Hub) ([]ShaftPoint, error) {
	if err := h.check(); err != nil {
		return nil, err
	}
	out := make([]ShaftPoint, 0, len(hubs))
	for _, hub := range hubs {
		p, err := h.at(hub)
		if err != nil {
			return out, err
		}
		out = append(out, p)
	}
	return out, nil
}

// Sweep returns n points at equal steps of rise from full droop to full bump
// (distances in mm from ride height). On an error the points below it are
// returned with it.
func (h HalfShaft) Sweep(droop, bump float64, n int) ([]ShaftPoint, error) {
	if _, err := riseSteps(droop, bump, n); err != nil {
		return nil, err
	}
	if err := h.check(); err != nil {
		return nil, err
	}
	hubs, bound := h.Hubs(droop, bump, n)
	points, err := h.Along(hubs)
	if err == nil {
		err = bound
	}
	return points, err
}
