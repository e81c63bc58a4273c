package meant

import "fitup/internal/scene"

// packingFigure is a wedge between an axle's perch and its spring, seen from the left.
func packingFigure(r *row) (Drawing, bool) {
	g := r.figure("a wedge on the perch of an axle tube, its thick end to the rear")
	const (
		half, thin, thick = 90.0, 8.0, 26.0
		tube              = 45.0
	)
	g.circle(scene.RoleBody, at{0, -70 - tube}, tube)
	g.box(scene.RoleBody, at{-70, -70}, at{70, 0})
	g.line(scene.RoleLeg, at{-half, 0}, at{half, 0})
	g.line(scene.RoleLeg, at{-half, thin}, at{half, thick})
	g.line(scene.RoleLeg, at{-half, 0}, at{-half, thin})
	g.line(scene.RoleLeg, at{half, 0}, at{half, thick})
	switch r.key() {
	case "at":
		g.meant(at{0, 0})
	case "length":
		g.dim("length", "fore and aft", at{-half, 0}, at{half, 0})
	case "width":
		g.dim("width", "across the vehicle, away from you", at{-half, thin}, at{half, thick})
	case "thickness":
		g.dim("thickness", "at the thin end", at{-half, 0}, at{-half, thin})
	case "tube":
		g.dim("tube", "outside", at{-tube, -70 - tube}, at{tube, -70 - tube})
	case "angle":
		g.meant(at{half, thick})
	}
	return g.done()
}
