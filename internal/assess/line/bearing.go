package line

import (
	"errors"
	"fmt"

	"fitup/internal/geom"
	"fitup/internal/geom/shaft"

	"gonum.org/v1/gonum/spatial/r3"
)

// AtBearing is what a carrier bearing just ahead of a joint has to do with.
type AtBearing struct {
	At    r3.Vec // the joint, vehicle axes, mm
	Axis  r3.Vec // along the shaft ahead of it, which the bearing holds
	Spans [2]HeldShaft
}

// HeldShaft is the shaft ahead of the joint, or behind it.
type HeldShaft struct {
	Tube   float64 // mass of its bare tube, kg
	Length float64 // joint to joint, mm
	Couple float64 // those of its two joints together, square to it, under the largest torque, N·mm
}

// AtBearing works that out for the joint with that index, as the line is planned.
func (p *Prepared) AtBearing(c shaft.Chain, joint int) (out AtBearing, err error) {
	if joint < 1 || joint+1 >= len(c.Joints) {
		return out, fmt.Errorf("line.%s has no carrier bearing at joint %d", p.file.Name, joint+1)
	}
	loads, err := p.jointLoads(c)
	if err != nil {
		return out, err
	}
	out.At = c.Joints[joint].At
	if out.Axis, err = geom.Unit(r3.Sub(out.At, c.Joints[joint-1].At)); err != nil {
		return out, fmt.Errorf("line.%s: its shaft %d has no length", p.file.Name, joint)
	}
	for i := range out.Spans {
		ahead := joint - 1 + i
		spec := p.file.Shaft(ahead)
		path := fmt.Sprintf("line.%s.shaft.%d.", p.file.Name, ahead+1)
		switch {
		case !spec.Outside.Known():
			return out, fmt.Errorf("%soutside is not in the file yet", path)
		case !spec.Wall.Known():
			return out, fmt.Errorf("%swall is not in the file yet", path)
		}
		x := &out.Spans[i]
		x.Length = lengthOf(c, ahead)
		x.Couple = loads[ahead].Couples.Driven + loads[ahead+1].Couples.Driver
		if x.Tube, err = tubeSpec(spec, x.Length).Mass(); err != nil {
			return out, fmt.Errorf("line.%s, shaft %d: %w", p.file.Name, ahead+1, err)
		}
	}
	return out, nil
}

// jointLoads are what the joints of the line carry under its largest torque.
func (p *Prepared) jointLoads(c shaft.Chain) ([]shaft.JointLoad, error) {
	if why := p.noTorque(); why != "" {
		return nil, errors.New(why)
	}
	m, err := shaft.NewMechanism(c)
	if err != nil {
		return nil, fmt.Errorf("line.%s: %w", p.file.Name, err)
	}
	loads, err := m.Loads(p.base.Torque.V)
	if err != nil {
		return nil, fmt.Errorf("line.%s: %w", p.file.Name, err)
	}
	return loads, nil
}

// noTorque says why the largest torque into the line is not known; "" where it is.
func (p *Prepared) noTorque() string {
	switch {
	case p.base.Torque.Known:
		return ""
	case p.base.Torque.Why != "":
		return p.base.Torque.Why
	}
	return "the largest torque of line." + p.file.Name + " is not known: powertrain.torque and powertrain.gears are not in the file yet"
}

// FirstCouple is the couple of a line's first joint on what it begins at, square to that
// shaft, under the largest torque, N·mm.
func (p *Prepared) FirstCouple(c shaft.Chain) (float64, error) {
	loads, err := p.jointLoads(c)
	if err != nil {
		return 0, err
	}
	if len(loads) == 0 {
		return 0, fmt.Errorf("line.%s has no joints that carry its torque", p.file.Name)
	}
	return loads[0].Couples.Driver, nil
}
