package scene

import (
	"strconv"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"gonum.org/v1/gonum/spatial/r3"
)

// Witness is a point that is typed as three lengths along the axes of a frame, with
// the sign and the lines that say which point that is.
type Witness struct {
	ID, Label string
	At, Zero  r3.Vec    // the point, and what it is measured from, in the axes of the scene, mm
	Of        [3]string // what each length is; "" for one that is not meant
}

// With is the scene with a point that is meant: its sign, and the three lengths to it
// from what it is measured from, each along its axis up to the point itself.
func (s *Scene) With(w Witness) *Scene {
	out := *s
	out.Marks = append(s.Marks[:len(s.Marks):len(s.Marks)], Mark{ID: w.ID, Role: RolePad, At: w.At, Label: w.Label})
	out.Dimensions = s.Dimensions[:len(s.Dimensions):len(s.Dimensions)]
	d := r3.Sub(w.At, w.Zero)
	for i, along := range []r3.Vec{{X: d.X}, {Y: d.Y}, {Z: d.Z}} {
		if w.Of[i] == "" {
			continue
		}
		out.Dimensions = append(out.Dimensions, Dimension{
			ID: w.ID, From: r3.Sub(w.At, along), To: w.At, Fine: true,
			Value: assess.Exact(along.X + along.Y + along.Z), Kind: quantity.Length, Of: w.Of[i],
		})
	}
	return &out
}

// OnStand is a powertrain by itself in its own frame, as it is measured on its stand.
func OnStand(p project.Powertrain) *Scene {
	s := &Scene{}
	for i, part := range p.Parts {
		if shape, err := assess.PartShape(part); err == nil {
			s.shape(Part{ID: "part." + strconv.Itoa(i), Name: part.Name, Role: RoleBody}, shape)
		}
	}
	s.room(0)
	if p.Output.Known && p.Layout != project.Transaxle {
		s.add(Part{Role: RoleAxis, Kind: Chain, Plain: true, Line: []r3.Vec{{X: min(0, s.Body.Min.X), Y: p.Output.At.Y, Z: p.Output.At.Z}, p.Output.At}})
	}
	s.Marks = append(s.Marks, Mark{ID: "zero", Role: RolePad, Label: "zero"})
	return s
}
