package scene

import (
	"fitup/internal/assess"
	"fitup/internal/geom/clear"

	"gonum.org/v1/gonum/spatial/r3"
)

// How large a link's rod and joints and a stop's buffer are drawn where the file does not
// say, mm.
const (
	tieRadius   = 9.0
	tieJoint    = 18.0
	stopRadius  = 16.0
	stopShowing = 60.0 // of its axis
)

// held draws the torque links and roll stops beside the mounts, where the powertrain
// stands as built: a rod between two joints, a buffer and the way in which its play counts.
func (s *Scene) held(a *assess.Assessment) {
	for i := range a.Statics.Links {
		l := &a.Statics.Links[i]
		if !l.On.Known || !l.Spec.To.Known {
			continue
		}
		id := "torque_link." + l.Spec.Name
		rod := l.Spec.Diameter.Or(2*tieRadius) / 2
		s.shape(Part{ID: id, Role: RoleLeg, Name: l.Label}, clear.Segment{A: l.On.V, B: l.Spec.To.At, R: rod})
		for _, at := range [2]r3.Vec{l.On.V, l.Spec.To.At} {
			s.shape(Part{ID: id, Role: RoleLeg}, clear.Sphere{At: at, R: max(rod, l.Spec.Eye.Or(2*tieJoint)/2)})
		}
	}
	for i := range a.Statics.Stops {
		q := &a.Statics.Stops[i]
		if !q.At.Known {
			continue
		}
		id, way := "roll_stop."+q.Spec.Name, q.Spec.Way()
		along, against := q.Spec.Sides()
		from, to := q.At.V, q.At.V
		if along < stopShowing {
			to = r3.Add(to, r3.Scale(stopShowing, way))
		}
		if against < stopShowing {
			from = r3.Sub(from, r3.Scale(stopShowing, way))
		}
		s.shape(Part{ID: id, Role: RoleLeg, Name: q.Label}, clear.Sphere{At: q.At.V, R: q.Spec.Diameter.Or(2*stopRadius) / 2})
		s.add(Part{ID: id, Role: RoleLeg, Line: []r3.Vec{from, to}})
	}
}
