package meant

import "fitup/internal/scene"

// foldedFigure is a Z of plate on top of a rail, from behind, with its questions.
func foldedFigure(r *row) (Drawing, bool) {
	t, radius := r.size("thickness", 12), r.size("radius", 12)
	if key := r.key(); key == "k" || key == "foot_toward" { // a number, and a word
		return Drawing{}, false
	}
	bend, end, pad := r.size("foot_bend", 55), r.size("foot_end", 25), r.size("pad_bend", 55)
	g := r.figure("a folded plate on its rail, from behind: its foot on the left, its pad on the right")
	g.named("rail", scene.RoleRail, at{-40, -90}, at{40, -90}, at{40, 0}, at{-40, 0}, at{-40, -90})
	high := max(4*radius, 80) + t
	web := bend
	g.line(scene.RoleLeg, at{-end, 0}, at{web + t/2, 0}, at{web + t/2, high - t}, at{web + pad + 35, high - t}, at{web + pad + 35, high},
		at{web - t/2, high}, at{web - t/2, t}, at{-end, t}, at{-end, 0})
	g.center(at{0, -20}, at{0, t + 25})
	g.center(at{web + pad, high - t - 25}, at{web + pad, high + 25})
	switch r.key() {
	case "thickness":
		g.dim("thickness", "thick", at{-end, 0}, at{-end, t})
	case "foot_bend":
		g.dim("foot_bend", "to the middle of the web", at{0, t}, at{web, t})
	case "foot_end":
		g.dim("foot_end", "to the free end", at{-end, t}, at{0, t})
	case "pad_bend":
		g.dim("pad_bend", "from the pad to the middle of the web", at{web, high}, at{web + pad, high})
	case "width":
		g.meant(at{web, high / 2})
	default: // radius
		g.meant(at{web - t/2, t})
	}
	return g.done()
}
