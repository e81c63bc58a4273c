package assess

import (
	"fmt"

	"fitup/internal/geom/shaft"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// axleEnd is the joint at the pinion and the pinion's rearward axis.
type axleEnd struct{ at, axis r3.Vec }

// hanging returns where the end of a line with a live axle stands at full
// droop, from where it is at ride height.
func hanging(l project.Line, at, axis r3.Vec) (axleEnd, error) {
	if l.Suspension.Kind == "" {
		return axleEnd{}, fmt.Errorf("line.%s.suspension is not in the file yet", l.Name)
	}
	m, err := modelOf(l, shaft.Chain{Joints: []shaft.Joint{{At: at}}, Out: axis})
	if err != nil {
		return axleEnd{}, err
	}
	p, err := m.cases[0].suspension.At(-m.droop)
	if err != nil {
		return axleEnd{}, err
	}
	return axleEnd{p.PinionAt, p.PinionAxis}, nil
}
