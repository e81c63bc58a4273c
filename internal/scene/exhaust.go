package scene

import (
	"fitup/internal/assess"
	"fitup/internal/geom/clear"
	"fitup/internal/project"
	"fitup/internal/scene/solid"

	"gonum.org/v1/gonum/spatial/r3"
)

// exhaust draws the pipes of the exhaust: their straight parts, and each bend as two
// rods.
func (s *Scene) exhaust(a *assess.Assessment) {
	for i := range a.Exhaust {
		x := &a.Exhaust[i]
		role := RoleChassis
		if i < len(a.Build.Powertrain.Exhaust) {
			role = RoleBody
		}
		rods := drawnRods(x.Rods)
		for k, r := range rods {
			p := Part{ID: x.ID, Role: role, Line: []r3.Vec{r.A, r.B}, Thick: 2 * r.R}
			if k == longest(rods) {
				p.Name = x.Name
			}
			rod, ok := solid.Rod(r.A, r.B, r.R, roundSides)
			for e := range rod.Edges { // where it goes on into the next there is no edge
				if l := rod.Edges[e].Left; l == 0 && k > 0 || l == 1 && k+1 < len(rods) {
					rod.Edges[e].Look = solid.Never
				}
			}
			p.Solid = made(rod, ok)
			s.add(p)
		}
	}
}

func longest(rods []clear.Segment) int {
	best, most := 0, 0.0
	for i, r := range rods {
		if l := r3.Norm(r3.Sub(r.B, r.A)); l > most {
			best, most = i, l
		}
	}
	return best
}

// drawnRods are the rods of a pipe with those of each bend, which are thicker than the
// pipe, made two.
func drawnRods(rods []clear.Segment) []clear.Segment {
	thin := 0.0
	for i, r := range rods {
		if i == 0 || r.R < thin {
			thin = r.R
		}
	}
	var out []clear.Segment
	for i := 0; i < len(rods); {
		to := i + 1
		for rods[i].R > thin && to < len(rods) && rods[to].R > thin {
			to++
		}
		mid := (i + to) / 2
		if to-i > 2 {
			out = append(out, clear.Segment{A: rods[i].A, B: rods[mid].A, R: thin}, clear.Segment{A: rods[mid].A, B: rods[to-1].B, R: thin})
		} else {
			for _, r := range rods[i:to] {
				out = append(out, clear.Segment{A: r.A, B: r.B, R: thin})
			}
		}
		i = to
	}
	return out
}

// opening draws the edge of an opening in a flat surface.
func (s *Scene) opening(id string, c project.ChassisPart) {
	middle, across, up, ok := c.OpeningAxes()
	if !ok {
		return
	}
	corner := func(a, b float64) r3.Vec { return r3.Add(middle, r3.Add(r3.Scale(a, across), r3.Scale(b, up))) }
	s.add(Part{ID: id, Role: RoleChassis, Line: []r3.Vec{corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1), corner(-1, -1)}})
}
