package meant

import "fitup/internal/scene"

// railRow is a row of a rail's lengths, joints, holes, supports and of what rests on
// it: along the rail, or seen from its end.
func railRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "at", "to":
		g := railAlong(r)
		g.sign("zero", at{0, 0})
		g.dim(r.key(), "station", at{0, 0}, at{1900, 0})
		return g.done()
	case "length", "stretched":
		g := railAlong(r)
		g.dim(r.key(), words(r.key()), at{1500, -150}, at{1900, -150})
		return g.done()
	case "widened":
		g := r.figure("the rail from above, the front at the left")
		g.dashed(at{-400, -400}, at{3200, -400})
		g.line(scene.RoleRail, at{-400, -400}, at{1300, -400}, at{1600, -460}, at{3200, -460})
		g.center(at{-400, 0}, at{3200, 0})
		g.dim("widened", "moved out", at{2500, -400}, at{2500, -460})
		return g.done()
	case "across", "up", "bend", "wall", "plate", "plate_width", "diameter", "section", "was", "to_section":
		return railEnd(r)
	}
	return Drawing{}, false
}

func railAlong(r *row) *figure {
	g := r.figure("the rail from the left, the front at the left")
	g.box(scene.RoleRail, at{-400, -150}, at{3200, 0})
	g.dashed(at{1500, 20}, at{1500, -170})
	g.dashed(at{1900, 20}, at{1900, -170})
	return g
}

// railEnd is a channel with its plate and a hole, seen from the rail's end.
func railEnd(r *row) (Drawing, bool) {
	g := r.figure("the rail's section, seen from its end")
	g.line(scene.RoleRail, at{60, 0}, at{0, 0}, at{0, 150}, at{60, 150}, at{60, 144}, at{6, 144}, at{6, 6}, at{60, 6}, at{60, 0})
	g.box(scene.RoleRail, at{-8, 10}, at{0, 140})
	switch r.key() {
	case "wall":
		g.dim("wall", "thickness", at{0, 75}, at{6, 75})
	case "bend":
		g.dim("bend", "inside radius", at{6, 138}, at{12, 138})
	case "plate":
		g.dim("plate", "thickness", at{-8, 75}, at{0, 75})
	case "plate_width":
		g.dim("plate_width", "width", at{-8, 10}, at{-8, 140})
	case "diameter":
		g.dashed(at{-8, 65}, at{6, 65})
		g.dashed(at{-8, 85}, at{6, 85})
		g.dim("diameter", "diameter", at{3, 65}, at{3, 85})
	case "across":
		g.dim("across", "to the right", at{0, 150}, at{60, 150})
	case "up":
		g.dim("up", "up", at{0, 0}, at{0, 150})
	default:
		g.meant(at{0, 75})
	}
	return g.done()
}
