package scene

import (
	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/scene/solid"

	"gonum.org/v1/gonum/spatial/r3"
)

// packings draws the wedges, shims and spring perches whose place is in the file.
func (s *Scene) packings(a *assess.Assessment) {
	for i := range a.Packings {
		p := &a.Packings[i]
		l, w := p.Spec.Length, p.Spec.Width
		if !p.Spec.At.Known || !p.Thick.Known || !l.Known() || !w.Known() {
			continue
		}
		front, rear := p.Thin.V, p.Thick.V
		if p.Spec.ThickEnd == project.ThickFront {
			front, rear = rear, front
		}
		const edge = 0.05 // an edge that runs out has a face still
		corner := func(x, y, z float64) r3.Vec {
			return r3.Add(p.Spec.At.At, r3.Vec{X: x * l.V() / 2, Y: y * w.V() / 2, Z: z})
		}
		low := []r3.Vec{corner(-1, -1, 0), corner(1, -1, 0), corner(1, 1, 0), corner(-1, 1, 0)}
		front, rear = max(front, edge), max(rear, edge)
		high := []r3.Vec{corner(-1, -1, front), corner(1, -1, rear), corner(1, 1, rear), corner(-1, 1, front)}
		s.add(Part{ID: p.ID, Role: RoleLeg, Name: p.Spec.Name, Solid: made(solid.Loft(low, high))})
	}
}
