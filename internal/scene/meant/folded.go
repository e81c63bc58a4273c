package meant

import "fitup/internal/scene"

// plateRow is a row of the plate that a mount is made of: of a box, or of a strip.
func plateRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "side_thickness", "foot_depth", "end_depth", "inset", "seam":
		return boxedFigure(r)
	}
	return foldedFigure(r)
}

// boxedFigure is a box of four plates: from the side on the left, and through it.
func boxedFigure(r *row) (Drawing, bool) {
	deep, end := r.size("foot_depth", 110), r.size("end_depth", 60)
	side, inset, seam := r.size("side_thickness", 6), r.size("inset", 6), r.size("seam", 5)
	const long, t, wide, off = 130.0, 6.0, 80.0, 190.0
	g := r.figure("a boxed plate on its rail, from behind, and on the right cut through")
	g.named("rail", scene.RoleRail, at{-60, -deep - 20}, at{0, -deep - 20}, at{0, 20}, at{-60, 20}, at{-60, -deep - 20})
	g.line(scene.RoleLeg, at{0, 0}, at{long, 0}, at{long, -end}, at{0, -deep}, at{0, 0})
	g.line(scene.RoleLeg, at{0, -t}, at{long, -t})
	g.box(scene.RoleLeg, at{off, -t}, at{off + wide, 0})
	g.box(scene.RoleLeg, at{off, -end}, at{off + wide, -end + t})
	for _, x := range []float64{off + inset, off + wide - inset - side} {
		g.box(scene.RoleLeg, at{x, -end + t}, at{x + side, -t})
	}
	switch r.key() {
	case "foot_depth":
		g.dim("foot_depth", "deep at the rail", at{0, 0}, at{0, -deep})
	case "end_depth":
		g.dim("end_depth", "deep at the free end", at{long, 0}, at{long, -end})
	case "side_thickness":
		g.dim("side_thickness", "of a side", at{off + inset, -end / 2}, at{off + inset + side, -end / 2})
	case "inset":
		g.dim("inset", "the shelf that the fillet lies on", at{off, -end / 2}, at{off + inset, -end / 2})
	default:
		g.line(scene.RoleLeg, at{off + inset, -t - seam}, at{off + inset - seam, -t}, at{off + inset, -t}, at{off + inset, -t - seam})
		g.dim("seam", "leg of the fillet", at{off + inset, -t - seam}, at{off + inset, -t})
	}
	return g.done()
}

// clampFigure is a tab on a clamp round a tube, along the tube, and from its side.
func clampFigure(r *row) (Drawing, bool) {
	switch r.key() {
	case "from", "to":
		return or(vehiclePoint, clampDrawn)(r)
	case "count", "friction": // numbers
		return Drawing{}, false
	}
	return clampDrawn(r)
}

func clampDrawn(r *row) (Drawing, bool) {
	tube, wall, long := r.size("tube", 60), r.size("wall", 8), r.size("length", 100)
	out, off := tube/2+wall, tube+2*wall+long/2+60
	g := r.figure("a tab on a clamp, along its tube, and on the right from the side")
	g.circle(scene.RoleLeg, at{0, 0}, out)
	g.circle(scene.RoleRail, at{0, 0}, tube/2)
	g.line(scene.RoleLeg, at{-25, out}, at{-25, out + 70}, at{25, out + 70}, at{25, out})
	g.center(at{-out - 20, 0}, at{out + 20, 0})
	g.box(scene.RoleRail, at{off - long, -tube / 2}, at{off + long, tube / 2})
	g.box(scene.RoleLeg, at{off - long/2, -out}, at{off + long/2, out})
	g.box(scene.RoleLeg, at{off - 6, out}, at{off + 6, out + 70})
	g.center(at{off - long - 10, 0}, at{off + long + 10, 0})
	switch r.key() {
	case "tube":
		g.dim("tube", "across the tube", at{0, -tube / 2}, at{0, tube / 2})
	case "wall":
		g.dim("wall", "of the clamp", at{tube / 2, 0}, at{out, 0})
	case "length":
		g.dim("length", "along the tube", at{off - long/2, -out}, at{off + long/2, -out})
	case "from":
		g.meant(at{off - long, 0})
	default:
		g.meant(at{off + long, 0})
	}
	return g.done()
}

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
