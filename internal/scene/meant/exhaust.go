package meant

import "fitup/internal/scene"

// pipeRow is a row of a pipe of the exhaust: a bend between two straight lengths.
func pipeRow(r *row) (Drawing, bool) {
	g := r.figure("a pipe of the exhaust, its centre line and what is near")
	const (
		radius = 30.0
		bend   = 120.0
	)
	corner := at{300, 0}
	g.line(scene.RoleBody, at{0, radius}, at{corner[0] - bend, radius})
	g.line(scene.RoleBody, at{0, -radius}, at{corner[0] - bend, -radius})
	middle := at{corner[0] - bend, -bend}
	g.arc(scene.RoleBody, middle, bend+radius, 0, 1.5707963)
	g.arc(scene.RoleBody, middle, bend-radius, 0, 1.5707963)
	g.line(scene.RoleBody, at{corner[0] + radius, -bend}, at{corner[0] + radius, -320})
	g.line(scene.RoleBody, at{corner[0] - radius, -bend}, at{corner[0] - radius, -320})
	g.center(at{-20, 0}, corner, at{corner[0], -340})
	g.circle(scene.RoleChassis, at{60, 130}, 12)
	switch r.key() {
	case "points":
		g.meant(corner)
	case "bend":
		g.dim("bend", "to the centre line", middle, at{corner[0] - bend, 0})
	case "diameter":
		g.dim("diameter", "outside", at{60, -radius}, at{60, radius})
	case "heat_gap":
		g.dim("heat_gap", "room for its heat", at{60, radius}, at{60, 118})
	}
	return g.done()
}

// openingFigure is a flat surface with an opening.
func openingFigure(r *row) (Drawing, bool) {
	g := r.figure("an opening in a flat surface, its first corner and its second")
	g.box(scene.RoleChassis, at{-300, -200}, at{300, 220})
	g.box(scene.RoleBody, at{-120, -120}, at{130, 140})
	g.meant(at{-120, -120})
	g.sign("second", at{130, 140})
	return g.done()
}
