// Package scene is the build as strokes, solids and marks in vehicle axes, made
// from an assessment. It works out no trade numbers.
package scene

import (
	"strconv"

	"fitup/internal/assess"
	"fitup/internal/geom"
	"fitup/internal/geom/clear"
	"fitup/internal/project"

	"gonum.org/v1/gonum/spatial/r3"
)

// Role says what a line or mark of the drawing stands for.
type Role uint8

// The roles, from background to foreground.
const (
	RoleRail Role = iota
	RoleWheel
	RoleChassis
	RoleBody
	RoleLeg
	RoleAxis
	RoleShaft
	RolePad
	RoleJoint
	RolePaper // on paper only: an edge to cut along, a length to measure
)

// Scene is the build as lines and marks in vehicle axes, mm. Screens and
// documents choose the view.
type Scene struct {
	Strokes []Stroke
	Solids  []Solid
	Circles []Circle
	Marks   []Mark
}

// Stroke is a run of straight lines.
type Stroke struct {
	Role   Role
	Points []r3.Vec
	Dashed bool
	Across bool // a section: to be seen only along the vehicle
}

// Solid is a box, or the box round a rod; what is drawn of it is the outline in the view.
type Solid struct {
	Role    Role
	Name    string
	Corners [8]r3.Vec
}

// Circle is a wheel, which is a circle in the side view, or a ball, which is one
// in every view.
type Circle struct {
	Role   Role
	At     r3.Vec
	Radius float64
}

// Mark is a point with a name; a joint carries its line, counted from 0, its
// angle and its verdict.
type Mark struct {
	Role   Role
	At     r3.Vec
	Label  string
	Line   int
	Angle  assess.Number
	Status assess.Status
}

// Of returns the scene of an assessed build.
func Of(a *assess.Assessment) Scene {
	var s Scene
	s.rails(a)
	s.wheels(a)
	s.chassis(a)
	if a.Pose.Known {
		s.powertrain(a)
	}
	for i := range a.Brackets {
		s.bracket(&a.Brackets[i])
	}
	for i := range a.Lines {
		s.line(a, i)
	}
	return s
}

func (s *Scene) rails(a *assess.Assessment) {
	for _, rail := range []struct {
		side float64
		r    []r3.Vec
		h, w float64
	}{
		{-1, assess.RailPoints(a.Build.Rails.Left), a.Build.Rails.Left.Height.Or(0), a.Build.Rails.Left.Width.Or(0)},
		{1, assess.RailPoints(a.Build.Rails.Right), a.Build.Rails.Right.Height.Or(0), a.Build.Rails.Right.Width.Or(0)},
	} {
		if len(rail.r) < 2 {
			continue
		}
		for _, d := range []r3.Vec{{}, {Z: -rail.h}, {Y: rail.side * rail.w}, {Y: rail.side * rail.w, Z: -rail.h}} {
			pts := make([]r3.Vec, len(rail.r))
			for i, p := range rail.r {
				pts[i] = r3.Add(p, d)
			}
			s.Strokes = append(s.Strokes, Stroke{Role: RoleRail, Points: pts})
		}
	}
}

func (s *Scene) wheels(a *assess.Assessment) {
	v := a.Build.Vehicle
	d, ok := v.WheelDiameter.Get()
	if !ok || d <= 0 {
		return
	}
	front := v.FrontAxle.Or(0)
	at := []float64{front}
	if wb, ok := v.Wheelbase.Get(); ok && wb > 0 {
		at = append(at, front+wb)
	}
	for _, x := range at {
		s.Circles = append(s.Circles, Circle{RoleWheel, r3.Vec{X: x, Z: v.AxleHeight.Or(0)}, d / 2})
	}
}

func (s *Scene) powertrain(a *assess.Assessment) {
	p, pose := a.Build.Powertrain, a.Pose.V
	for _, part := range p.Parts {
		if shape, err := assess.PartShape(part); err == nil {
			s.shape(RoleBody, part.Name, clear.Moved(shape, pose))
		}
	}
	if p.Output.Known {
		front := r3.Vec{X: min(0, p.Pads.LeftFront.At.X, p.Pads.RightFront.At.X), Y: p.Output.At.Y, Z: p.Output.At.Z}
		s.Strokes = append(s.Strokes, Stroke{Role: RoleAxis, Dashed: true, Points: []r3.Vec{pose.Point(front), pose.Point(p.Output.At)}})
	}
	for _, pad := range []struct {
		label string
		at    r3.Vec
	}{{"LF", p.Pads.LeftFront.At}, {"RF", p.Pads.RightFront.At}, {"rear", p.Pads.Rear.At}} {
		s.Marks = append(s.Marks, Mark{Role: RolePad, At: pose.Point(pad.at), Label: pad.label})
	}
	for _, m := range a.Statics.Mounts {
		if m.At.Known && !assess.IsPad(m.Spec.Name) {
			s.Marks = append(s.Marks, Mark{Role: RolePad, At: m.At.V, Label: m.Label})
		}
	}
	for _, side := range []struct {
		mount string
		pad   r3.Vec
		rail  project.Rail
		out   float64 // -1 left, 1 right
	}{
		{"left_front", p.Pads.LeftFront.At, a.Build.Rails.Left, -1},
		{"right_front", p.Pads.RightFront.At, a.Build.Rails.Right, 1},
	} {
		foot, ok := footOn(pose.Point(side.pad), assess.RailPoints(side.rail))
		if !ok {
			continue
		}
		if b, ok := a.Bracket(side.mount); !ok || !b.HasCut {
			s.Strokes = append(s.Strokes, Stroke{Role: RoleLeg, Points: []r3.Vec{pose.Point(side.pad), foot}})
		}
		s.railSection(foot, side.rail, side.out)
	}
}

// footOn is the place across from a pad on a rail's inner top edge; false
// where the rail does not reach.
func footOn(pad r3.Vec, rail []r3.Vec) (r3.Vec, bool) {
	for i := 1; i < len(rail); i++ {
		p, q := rail[i-1], rail[i]
		if pad.X >= p.X && pad.X <= q.X {
			return r3.Add(p, r3.Scale((pad.X-p.X)/(q.X-p.X), r3.Sub(q, p))), true
		}
	}
	return r3.Vec{}, false
}

// railSection draws a rail cut through at a place of its inner top edge; side
// is -1 for the left rail and 1 for the right one.
func (s *Scene) railSection(foot r3.Vec, r project.Rail, side float64) {
	out, down := r3.Vec{Y: side * r.Width.Or(0)}, r3.Vec{Z: -r.Height.Or(0)}
	s.Strokes = append(s.Strokes, Stroke{Role: RoleRail, Across: true,
		Points: []r3.Vec{foot, r3.Add(foot, out), r3.Add(foot, r3.Add(out, down)), r3.Add(foot, down), foot}})
}

func (s *Scene) line(a *assess.Assessment, n int) {
	l := a.Lines[n]
	for i := 1; i < len(l.Joints); i++ {
		if l.Joints[i-1].At.Known && l.Joints[i].At.Known {
			s.Strokes = append(s.Strokes, Stroke{Role: RoleShaft, Points: []r3.Vec{l.Joints[i-1].At.V, l.Joints[i].At.V}})
		}
	}
	s.halfShafts(l)
	if l.Direct {
		return
	}
	last := l.Joints[len(l.Joints)-1]
	if end := l.Axes[len(l.Axes)-1]; last.At.Known && end.Planned.Known {
		const stub = 250 // mm of pinion axis, to show its slope
		d := geom.Direction(geom.Angle(end.Planned.V), geom.Angle(end.Heading.V))
		if l.Front {
			d = r3.Scale(-1, d)
		}
		s.Strokes = append(s.Strokes, Stroke{Role: RoleAxis, Dashed: true, Points: []r3.Vec{last.At.V, r3.Add(last.At.V, r3.Scale(stub, d))}})
	}
	for _, j := range l.Joints {
		if !j.At.Known {
			continue
		}
		m, status := a.JointAt(&l, j)
		s.Marks = append(s.Marks, Mark{Role: RoleJoint, At: j.At.V, Label: "J" + strconv.Itoa(j.Number), Line: n, Angle: m, Status: status})
	}
}

// halfShafts draws the half shafts at ride height.
func (s *Scene) halfShafts(l assess.Line) {
	if l.Travel == nil {
		return
	}
	for _, h := range l.Travel.HalfShafts {
		if h.Why == "" {
			s.Strokes = append(s.Strokes, Stroke{Role: RoleShaft, Points: []r3.Vec{h.Inner0, h.Outer0()}})
		}
	}
}
