package meant

import "fitup/internal/scene"

// sheetFigure is a sheet of plate with two strips cut from it, and the kerf between.
func sheetFigure(r *row) (Drawing, bool) {
	long, wide, kerf := r.size("length", 1000), r.size("width", 500), r.size("plate_kerf", 3)
	switch r.key() {
	case "count", "cost":
		return Drawing{}, false
	case "thickness":
		t := r.size("thickness", 6)
		g := r.sizes("the edge of a sheet of plate, enlarged")
		g.box(scene.RoleLeg, at{0, 0}, at{12 * t, t})
		g.dim("thickness", "thick", at{12 * t, 0}, at{12 * t, t})
		return g.done()
	case "plate_kerf":
		g := r.sizes("the cut between two plates, enlarged")
		g.box(scene.RoleLeg, at{-9 * kerf, 0}, at{0, 6 * kerf})
		g.box(scene.RoleLeg, at{kerf, 0}, at{10 * kerf, 6 * kerf})
		g.dim("plate_kerf", "cut", at{0, 6 * kerf}, at{max(kerf, 0.01), 6 * kerf})
		return g.done()
	}
	g := r.sizes("a sheet of plate, from above")
	g.box(scene.RoleLeg, at{0, 0}, at{long, wide})
	for _, y := range []float64{wide * 0.4, wide * 0.7} {
		g.center(at{0, y}, at{long, y})
	}
	if r.key() == "width" {
		g.dim("width", "edge to edge", at{0, 0}, at{0, wide})
	} else {
		g.dim("length", "end to end", at{0, 0}, at{long, 0})
	}
	return g.done()
}
