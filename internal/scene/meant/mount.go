package meant

import (
	"math"

	"fitup/internal/scene"
)

// rubber is the isolator of a mount between its two plates: its free height, what it
// measures, and which way each rate goes.
func rubber(r *row) (Drawing, bool) {
	t := r.size("thickness", 40)
	w := r.size("diameter", r.size("length", 1.5*t))
	if r.key() == "length" || r.key() == "width" {
		if _, round := r.number(r.beside("diameter")); !round {
			return rubberAbove(r)
		}
	}
	titles := map[string]string{
		"rate_along": "the rubber between its plates, from the left",
		"thickness":  "the rubber between its plates, unloaded",
	}
	title, ok := titles[r.key()]
	if !ok {
		title = "the rubber between its plates, from behind"
	}
	g := r.sizes(title)
	p := 0.15 * t
	g.box(scene.RoleLeg, at{-0.65 * w, -p}, at{0.65 * w, 0})
	g.box(scene.RoleLeg, at{-0.65 * w, t}, at{0.65 * w, t + p})
	for _, side := range []float64{-1, 1} {
		g.line(scene.RoleBody, at{side * w / 2, 0}, at{side * 0.44 * w, 0.25 * t}, at{side * 0.44 * w, 0.75 * t}, at{side * w / 2, t})
	}
	g.center(at{0, -0.4 * t}, at{0, 1.5 * t})
	g.dim("thickness", "free height", at{w / 2, 0}, at{w / 2, t})
	g.dim("diameter", "bonded", at{-w / 2, 0}, at{w / 2, 0})
	g.dim("length", "bonded", at{-w / 2, 0}, at{w / 2, 0})
	g.dim("width", "bonded", at{-w / 2, 0}, at{w / 2, 0})
	switch r.key() {
	case "rate_up":
		g.arrow("up and down", at{0, t + p}, at{0, t + p + max(t, w/2)})
	case "rate_across":
		g.arrow("from side to side", at{0.65 * w, t + p/2}, at{0.65*w + max(t, w/2), t + p/2})
	case "rate_along":
		g.arrow("fore and aft", at{0.65 * w, t + p/2}, at{0.65*w + max(t, w/2), t + p/2})
	}
	return g.done()
}

// rubberAbove is square-cut rubber, seen from above.
func rubberAbove(r *row) (Drawing, bool) {
	l, w := r.size("length", 60), r.size("width", 50)
	g := r.sizes("square-cut rubber where it is bonded, from above")
	g.box(scene.RoleLeg, at{-0.7 * l, -0.7 * w}, at{0.7 * l, 0.7 * w})
	g.box(scene.RoleBody, at{-l / 2, -w / 2}, at{l / 2, w / 2})
	g.dim("length", "length", at{-l / 2, -w / 2}, at{l / 2, -w / 2})
	g.dim("width", "width", at{l / 2, -w / 2}, at{l / 2, w / 2})
	return g.done()
}

// standing is the isolator between the powertrain's pad and the leg's.
func standing(r *row) (Drawing, bool) {
	t := r.size("standing", 45)
	g := r.sizes("between the powertrain's pad and the leg's, loaded")
	g.named("powertrain", scene.RoleBody, at{-2 * t, t}, at{2 * t, t}, at{2 * t, 1.5 * t}, at{-2 * t, 1.5 * t}, at{-2 * t, t})
	g.named("leg", scene.RoleLeg, at{-1.4 * t, 0}, at{3 * t, 0}, at{3 * t, -t}, at{-1.4 * t, -t}, at{-1.4 * t, 0})
	for _, side := range []float64{-1, 1} {
		g.line(scene.RoleBody, at{side * 0.7 * t, 0}, at{side * 0.62 * t, t / 2}, at{side * 0.7 * t, t})
	}
	g.dim("standing", "standing", at{0.7 * t, 0}, at{0.7 * t, t})
	return g.done()
}

// legFigure is a leg from its pad to its rail, seen from behind, with its places.
func legFigure(r *row) (Drawing, bool) {
	g := r.figure("a leg from its pad to its rail, from behind")
	g.named("rail", scene.RoleRail, at{-60, -150}, at{0, -150}, at{0, 0}, at{-60, 0}, at{-60, -150})
	pad, foot, drop := at{260, 20}, at{0, -60}, 60.0
	if v, ok := r.number(r.beside("foot_drop")); ok && v > 0 {
		drop, foot = v, at{0, -v}
	}
	by := math.Atan2(pad[1]-foot[1], pad[0]-foot[0])
	g.turned(scene.RoleLeg, at{(pad[0] + foot[0]) / 2, (pad[1] + foot[1]) / 2}, math.Hypot(pad[0], pad[1]-foot[1]), 50, by)
	g.center(at{-30, foot[1] - 30*math.Tan(by)}, at{300, foot[1] + 300*math.Tan(by)})
	g.box(scene.RoleBody, at{pad[0] - 6, pad[1] - 45}, at{pad[0] + 6, pad[1] + 45})
	across := at{-50 * math.Sin(by), 50 * math.Cos(by)}
	switch r.key() {
	case "pad", "pad_points", "pad_edge":
		g.meant(pad)
	case "foot":
		g.meant(foot)
	case "mark", "rail_points":
		g.meant(at{0, -110})
	case "foot_drop":
		g.dim("foot_drop", "below the rail's top edge", at{0, 0}, at{0, -drop})
	case "pad_normal":
		g.arrow("the pad looks this way", pad, at{pad[0] - 90, pad[1]})
	case "rail_normal":
		g.arrow("the rail's face looks this way", at{0, -120}, at{100, -120})
	case "up":
		m := at{130, foot[1] + 130*math.Tan(by)}
		g.arrow("the section's height looks this way", m, at{m[0] + 2*across[0], m[1] + 2*across[1]})
	}
	return g.done()
}

// headerEnd is an end of the round crossmember that a leg stands on.
func headerEnd(r *row) (Drawing, bool) {
	g := r.figure("a round crossmember between the rails, from behind")
	for _, side := range []float64{-1, 1} {
		g.box(scene.RoleRail, at{side * 380, -150}, at{side * 440, 0})
	}
	g.box(scene.RoleLeg, at{-380, -110}, at{380, -40})
	g.center(at{-420, -75}, at{420, -75})
	p := at{-380, -75}
	if r.key() == "header_to" {
		p[0] = 380
	}
	g.meant(p)
	return g.done()
}

// legOr is a point or a direction of a leg where it is, or else on a figure of one.
func legOr(r *row) (Drawing, bool) {
	switch r.key() {
	case "pad", "foot", "mark":
		return or(vehiclePoint, legFigure)(r)
	case "header_from", "header_to":
		return or(vehiclePoint, headerEnd)(r)
	case "pad_points", "pad_edge", "rail_points":
		return or(vehiclePoints, legFigure)(r)
	case "pad_normal", "rail_normal", "up":
		if _, ok := r.point(r.path); ok {
			return direction(r)
		}
		return legFigure(r)
	case "height", "width", "wall", "section":
		return legSection(r)
	case "standing":
		return standing(r)
	case "header":
		return header(r)
	case "foot_drop":
		if d, ok := r.thing("bracket." + r.keys[1]); ok && d.Scene.Shown(d.Views[0], d.Lit) > 0 {
			return d, true
		}
		return legFigure(r)
	}
	return Drawing{}, false
}

// mountRow is a row of a mount itself.
func mountRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "at":
		return or(standPoint, standFigure)(r)
	case "rate_axis", "along_axis":
		return direction(r)
	case "rate_up", "rate_across", "rate_along", "thickness", "diameter", "length", "width":
		return rubber(r)
	}
	return Drawing{}, false
}
