package scene

import (
	"strconv"

	"fitup/internal/assess"
	"fitup/internal/geom/clear"
	"fitup/internal/project"
	"fitup/internal/scene/solid"

	"gonum.org/v1/gonum/spatial/r3"
)

// powertrain draws engine and gearbox where they stand, with their pads.
func (s *Scene) powertrain(a *assess.Assessment) {
	p, pose := a.Build.Powertrain, a.Pose.V
	first := len(s.Parts)
	for i, part := range p.Parts {
		if shape, err := assess.PartShape(part); err == nil {
			s.shape(Part{ID: "part." + strconv.Itoa(i), Name: part.Name, Role: RoleBody}, clear.Moved(shape, pose))
		}
	}
	s.room(first)
	pads := []struct {
		mount, label string
		at           r3.Vec
	}{{"left_front", "LF", p.Pads.LeftFront.At}, {"right_front", "RF", p.Pads.RightFront.At}, {"rear", "rear mount", p.Pads.Rear.At}}
	if p.Output.Known && p.Layout != project.Transaxle {
		front := r3.Vec{X: min(0, p.Pads.LeftFront.At.X, p.Pads.RightFront.At.X), Y: p.Output.At.Y, Z: p.Output.At.Z}
		s.add(Part{ID: "powertrain", Role: RoleAxis, Kind: Chain, Plain: true, Line: []r3.Vec{pose.Point(front), pose.Point(p.Output.At)}})
	}
	for _, x := range a.Adapters {
		if x.Why != "" {
			continue
		}
		under, over := x.Corners(false), x.Corners(true)
		for i := range under {
			under[i], over[i] = pose.Point(under[i]), pose.Point(over[i])
		}
		s.add(Part{ID: "adapter." + x.Name, Role: RoleLeg, Name: x.Label + " adapter", Solid: made(solid.Loft(under, over))})
	}
	for _, pad := range pads {
		s.Marks = append(s.Marks, Mark{ID: "mount." + pad.mount, Role: RolePad, At: pose.Point(pad.at), Label: pad.label})
	}
	for _, m := range a.Statics.Mounts {
		if m.At.Known && !assess.IsPad(m.Spec.Name) {
			s.Marks = append(s.Marks, Mark{ID: "mount." + m.Spec.Name, Role: RolePad, At: m.At.V, Label: m.Label})
		}
	}
	for _, side := range []struct {
		mount, name string
		pad         r3.Vec
		rail        project.Rail
		out         float64 // -1 left, 1 right
	}{
		{"left_front", "left", p.Pads.LeftFront.At, a.Build.Rails.Left, -1},
		{"right_front", "right", p.Pads.RightFront.At, a.Build.Rails.Right, 1},
	} {
		foot, ok := footOn(pose.Point(side.pad), assess.RailPoints(side.rail))
		if !ok {
			continue
		}
		if b, ok := a.Bracket(side.mount); !ok || !b.Stands() {
			s.add(Part{ID: "mount." + side.mount, Role: RoleLeg, Line: []r3.Vec{pose.Point(side.pad), foot}})
		}
		s.railSection(foot, side.name, side.rail, side.out)
	}
}

// room is that of the parts from the one with that index on.
func (s *Scene) room(first int) {
	some := false
	for _, p := range s.Parts[first:] {
		if p.Solid == nil {
			continue
		}
		b := p.Solid.Room()
		if !some {
			s.Body, some = b, true
		}
		s.Body.Min = r3.Vec{X: min(s.Body.Min.X, b.Min.X), Y: min(s.Body.Min.Y, b.Min.Y), Z: min(s.Body.Min.Z, b.Min.Z)}
		s.Body.Max = r3.Vec{X: max(s.Body.Max.X, b.Max.X), Y: max(s.Body.Max.Y, b.Max.Y), Z: max(s.Body.Max.Z, b.Max.Z)}
	}
}
