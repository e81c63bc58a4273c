package scene

import (
	"strconv"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/scene/solid"

	"gonum.org/v1/gonum/spatial/r3"
)

// line draws the line with that index: its shafts, half shafts, the axis of its
// pinion and its joints.
func (s *Scene) line(a *assess.Assessment, n int) {
	l := &a.Lines[n]
	id := "line." + l.Name
	spec := specOf(a.Build, l.Name)
	for i := 1; i < len(l.Joints); i++ {
		if p, q := l.Joints[i-1].At, l.Joints[i].At; p.Known && q.Known {
			d, _ := spec.Shaft(i - 1).Outside.Get()
			s.shaft(id+".shaft."+strconv.Itoa(i), p.V, q.V, d)
		}
	}
	s.halfShafts(id, l, spec)
	if l.Direct {
		return
	}
	last := l.Joints[len(l.Joints)-1]
	if end := l.Axes[len(l.Axes)-1]; last.At.Known && end.Planned.Known {
		const stub = 250 // mm of pinion axis, to show its slope
		d := direction(end.Planned.V, end.Heading.V)
		if l.Front {
			d = r3.Scale(-1, d)
		}
		s.add(Part{ID: id + ".pinion", Role: RoleAxis, Kind: Chain, Plain: true, Line: []r3.Vec{last.At.V, r3.Add(last.At.V, r3.Scale(stub, d))}})
	}
	for _, j := range l.Joints {
		if !j.At.Known {
			continue
		}
		m, status := a.JointAt(l, j)
		s.Marks = append(s.Marks, Mark{ID: id + ".joint." + strconv.Itoa(j.Number), Role: RoleJoint, At: j.At.V, Label: "J" + strconv.Itoa(j.Number), Line: n, Angle: m, Status: status})
	}
}

// shaft draws a shaft as its tube, or as a line where its diameter is not known.
func (s *Scene) shaft(id string, from, to r3.Vec, diameter float64) {
	s.add(Part{ID: id, Role: RoleShaft, Line: []r3.Vec{from, to}, Thick: diameter,
		Solid: made(solid.Rod(from, to, diameter/2, roundSides))})
}

func specOf(b *project.Build, name string) project.Line {
	for _, l := range b.Lines {
		if l.Name == name {
			return l
		}
	}
	return project.Line{}
}

// halfShafts draws the half shafts at ride height.
func (s *Scene) halfShafts(id string, l *assess.Line, spec project.Line) {
	if l.Travel == nil {
		return
	}
	for i, h := range l.Travel.HalfShafts {
		if h.Why != "" {
			continue
		}
		d := 0.0
		if i < len(spec.Suspension.HalfShaft) {
			d = spec.Suspension.HalfShaft[i].Outside.Or(0)
		}
		s.shaft(id+".half_shaft."+h.ID, h.Inner0, h.Outer0(), d)
	}
}
