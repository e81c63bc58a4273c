package shaft

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"
)

var errTorque = errors.New("the torque is not a usable number: a torque in N·mm is wanted")

// Couples are the largest couples in one turn (N·mm) that a loaded joint puts
// on the supports of its two shafts, square to each shaft, on top of the
// torque. They come twice per turn, and on one side when they are gone on the
// other.
type Couples struct{ Driver, Driven float64 }

// couples returns the couples of a Cardan joint when the torque of the driving
// shaft (N·mm, from 0) is the steady one: T·tan β on the driver side, T·sin β on
// the driven side. Derived from the balance of the cross, which can pass only a
// couple square to its own plane. With s as in At the driven side is
// T·s·√(1-s²)/cos β; s runs up to sin β, and past 45° the top, T/(2·cos β), is on
// the way there, at s² = 1/2. With the driven shaft's torque steady the two
// change places.
func couples(t, b float64) Couples {
	c := Couples{Driver: t * math.Tan(b), Driven: t * math.Sin(b)}
	if b > math.Pi/4 {
		c.Driven = t / (2 * math.Cos(b))
	}
	return c
}

func loaded(torque float64, joint geom.Angle) (float64, error) {
	if !(math.Abs(torque) < 1e15) { // far past any shaft
		return 0, errTorque
	}
	if !geom.Finite(joint.Rad()) {
		return 0, ErrNumber
	}
	if joint.Abs() >= 90*geom.Deg {
		return 0, ErrSquare
	}
	return joint.Abs().Rad(), nil
}

// JointLoad is what one joint carries under a steady torque at the driving end.
type JointLoad struct {
	Joint  int     // from 1
	Torque float64 // steady part on its driving shaft, N·mm
	// Peak is the highest torque on either of its shafts in one turn, N·mm: the
	// same power passes every instant, so where a shaft slows its torque rises.
	Peak    float64
	Couples Couples // on its supports, from the peak torque of its driving shaft
}

// Loads returns the load on each joint when a steady torque (N·mm) drives the
// line and the driven end follows. Friction, and the torque that shaft inertia
// adds, are left out. Couples behind the first joint are at
// most this large: the peaks of torque and of couple are taken to coincide. A
// DoubleCardan counts by the halves of its angle.
func (m *Mechanism) Loads(torque float64) ([]JointLoad, error) {
	if _, err := loaded(torque, 0); err != nil {
		return nil, err
	}
	out := make([]JointLoad, 0, len(m.joints))
	t := math.Abs(torque)
	for i, b := range m.joints {
		drive, driven := t*m.shafts[i].Drive.Max(), t*m.shafts[i+1].Drive.Max()
		l := JointLoad{Joint: i + 1, Torque: t, Peak: math.Max(drive, driven)}
		switch b.Kind {
		case DoubleCardan:
			l.Couples = Couples{Driver: drive * math.Tan(b.First.Rad()), Driven: driven * math.Tan(b.Second.Rad())}
		case ConstantVelocity:
			c := drive * math.Tan(b.Angle.Rad()/2)
			l.Couples = Couples{Driver: c, Driven: c}
		default:
			l.Couples = couples(drive, b.Angle.Rad())
		}
		out = append(out, l)
	}
	return out, nil
}

// Torque returns the torque behind gears: torque times each ratio, which is
// how much slower the output turns. Losses are left out.
func Torque(torque float64, ratios ...float64) (float64, error) {
	for _, r := range ratios {
		if !geom.Finite(r) || r == 0 {
			return 0, fmt.Errorf("gear ratio %g: a ratio other than 0 is wanted", r)
		}
		torque *= r
	}
	if !geom.Finite(torque) {
		return 0, errTorque
	}
	return torque, nil
}

// newton is kg·mm/s² in one newton.
const newton = 1000

// above refuses a value that is not a number above zero.
func above(what string, v float64, unit string) error {
	if geom.Finite(v) && v > 0 {
		return nil
	}
	if unit != "" {
		unit = " " + unit
	}
	return fmt.Errorf("%s is %g%s: a value above zero is wanted", what, v, unit)
}
