package scene

import (
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/geom/clear"

	"gonum.org/v1/gonum/spatial/r3"
)

// Sizes of what the file has no size of, mm: of the drawing only.
const (
	thinShaft   = 3   // radius of a shaft without a diameter
	jointSize   = 1.6 // radius of a joint by that of its shaft
	stub        = 90  // how far column and input shaft are drawn
	bearingSize = 24
)

// steering draws the steering shaft: its shafts as rods, its joints and bearings as
// balls, and the ends of column and input shaft that it runs between.
func (s *Scene) steering(a *assess.Assessment) {
	x := a.Steering
	if x == nil || x.Why != "" || len(x.Joints) == 0 {
		return
	}
	radius := 0.0
	for _, r := range x.Shafts {
		radius = max(radius, r.Radius)
	}
	thick := max(radius, thinShaft)
	for i := range x.Shafts {
		r := &x.Shafts[i]
		p := Part{ID: fmt.Sprintf("steering.shaft.%d", i+1), Role: RoleChassis}
		if i == 0 {
			p.Name = "steering shaft"
		}
		s.shape(p, clear.Segment{A: r.From, B: r.To, R: max(r.Radius, thinShaft)})
	}
	for i := range x.Joints {
		s.shape(Part{ID: fmt.Sprintf("steering.joint.%d", i+1), Role: RoleChassis}, clear.Sphere{At: x.Joints[i].At, R: thick * jointSize})
	}
	for i := range x.Bearings {
		if x.Bearings[i].Off.Known {
			s.shape(Part{ID: fmt.Sprintf("steering.bearing.%d", i+1), Role: RoleChassis}, clear.Sphere{At: x.Bearings[i].At, R: bearingSize})
		}
	}
	b := &a.Build.Steering
	first, last := x.Joints[0].At, x.Joints[len(x.Joints)-1].At
	s.add(Part{ID: "steering.column", Role: RoleChassis, Line: []r3.Vec{r3.Sub(first, r3.Scale(stub, r3.Unit(b.ColumnAxis.At))), first}})
	s.add(Part{ID: "steering.input", Role: RoleChassis, Line: []r3.Vec{last, r3.Add(last, r3.Scale(stub, r3.Unit(b.InputAxis.At)))}})
}
