package seat

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Rock is how far a load turns the powertrain from its rest.
type Rock struct {
	// Angle is the turn about the axis of the load's torque, its own sense
	// positive; the whole turn when the load has no torque.
	Angle  geom.Angle
	Motion geom.Pose // from the rest position to the loaded one, vehicle axes
	Rest   Settled
	Loaded Settled
}

// RockUnder returns the equilibrium under load less the equilibrium at rest.
func RockUnder(b Body, pads []Isolator, load Load) (Rock, error) {
	h, err := Hang(b, pads)
	if err != nil {
		return Rock{}, err
	}
	rest, err := h.Settle(Resting())
	if err != nil {
		return Rock{}, err
	}
	loaded, err := h.Settle(load)
	if err != nil {
		return Rock{}, fmt.Errorf("%s: %w", load.name(), err)
	}
	out := Rock{Rest: rest, Loaded: loaded, Motion: undo(rest.Motion).Then(loaded.Motion)}
	w := turnOf(out.Motion)
	if axis, err := geom.Unit(load.Torque); err == nil {
		out.Angle = geom.Angle(r3.Dot(w, axis))
	} else {
		out.Angle = geom.Angle(r3.Norm(w))
	}
	return out, nil
}

// undo returns the motion that takes m back.
func undo(m geom.Pose) geom.Pose {
	p := geom.Pose{
		X: r3.Vec{X: m.X.X, Y: m.Y.X, Z: m.Z.X},
		Y: r3.Vec{X: m.X.Y, Y: m.Y.Y, Z: m.Z.Y},
		Z: r3.Vec{X: m.X.Z, Y: m.Y.Z, Z: m.Z.Z},
	}
	p.At = r3.Scale(-1, p.Dir(m.At))
	return p
}

// turnOf returns the rotation vector of a motion of less than half a turn,
// rad.
func turnOf(m geom.Pose) r3.Vec {
	// Half the skew part is the axis times the sine of the angle.
	w := r3.Scale(0.5, r3.Vec{X: m.Y.Z - m.Z.Y, Y: m.Z.X - m.X.Z, Z: m.X.Y - m.Y.X})
	sin := r3.Norm(w)
	if sin < 1e-12 {
		return w
	}
	cos := (m.X.X + m.Y.Y + m.Z.Z - 1) / 2
	return r3.Scale(math.Atan2(sin, cos)/sin, w)
}

// NamedPose is the powertrain in one position a clearance must hold in.
type NamedPose struct {
	Name   string
	Pose   geom.Pose // the powertrain's own frame, vehicle axes
	Motion geom.Pose // from the position as built, for what is given in vehicle axes
	Lifts  []string  // mounts that are pulled up there
}

// Stand is one place where the powertrain can be found.
type Stand struct {
	Name string    // as built, sagged, rocked
	Pose geom.Pose // the powertrain's own frame, vehicle axes
	Soft bool      // with estimated rates of the mounts at their softest
}

// Envelope returns the positions of a powertrain that stands at built with
// nothing resting on its isolators: as built, sagged under its weight, and
// sagged and rocked by each load, with its torque and with the torque turned
// round (engine braking, or the kick of the engine stopping).
func Envelope(b Body, pads []Isolator, built geom.Pose, loads []Load) ([]NamedPose, error) {
	h, err := Hang(b, pads)
	if err != nil {
		return nil, err
	}
	return h.Envelope(built, loads)
}

// Envelope is that of the body on the pads.
func (s *Hung) Envelope(built geom.Pose, loads []Load) ([]NamedPose, error) {
	out := make([]NamedPose, 1, 2+2*len(loads))
	out[0] = NamedPose{Name: "as built", Pose: built, Motion: geom.Identity()}
	add := func(name string, l Load) error {
		if err := l.check(); err != nil {
			return err
		}
		pos, _, _, err := s.balance(l)
		if err != nil {
			return err
		}
		p := NamedPose{Name: name, Motion: s.motion(pos)}
		p.Pose = built.Then(p.Motion)
		for i := range s.pads {
			if s.padForce(i, pos).Z < -slack {
				p.Lifts = append(p.Lifts, s.pads[i].Name)
			}
		}
		out = append(out, p)
		return nil
	}
	if err := add("sagged", Resting()); err != nil {
		return nil, err
	}
	for _, l := range loads {
		name := "sagged, " + l.name()
		if err := add(name, l); err != nil {
			return nil, fmt.Errorf("%s: %w", l.name(), err)
		}
		if r3.Norm(l.Torque) == 0 {
			continue
		}
		l.Torque = r3.Scale(-1, l.Torque)
		if err := add(name+", torque reversed", l); err != nil {
			return nil, fmt.Errorf("%s, torque reversed: %w", l.name(), err)
		}
	}
	return out, nil
}
