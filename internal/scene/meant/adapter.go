package meant

import "fitup/internal/scene"

// adapterRow is an adapter plate on its bosses: its face, seen from the isolator, or its
// edge where thickness, spacers or thread are meant.
func adapterRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "thickness", "spacer", "engaged":
		return adapterEdge(r)
	case "facing", "block", "steel", "yield", "tensile", "across", "high":
		return Drawing{}, false
	}
	edge, hole := r.size("edge", 22), 11.0
	if r.key() == "hole" {
		hole = r.size("hole", 11)
	}
	wide, high := r.size("pitch_across", 60), r.size("pitch_high", 50)
	g := r.figure("an adapter plate on four bosses of the block, seen from the isolator")
	const x, y = 90.0, 70.0
	g.box(scene.RoleLeg, at{-x - edge, -y - edge}, at{x + edge, y + edge})
	for _, q := range []at{{-x, y}, {x, y}, {x, -y}, {-x, -y}} {
		g.circle(scene.RoleBody, q, 5.5)
	}
	g.center(at{-20, 0}, at{20, 0})
	g.center(at{0, -20}, at{0, 20})
	switch r.key() {
	case "edge":
		g.dim("edge", "to the edge", at{x, y}, at{x + edge, y})
	case "pitch_across":
		g.circle(scene.RoleBody, at{-wide / 2, 0}, 6)
		g.circle(scene.RoleBody, at{wide / 2, 0}, 6)
		g.dim("pitch_across", "pitch", at{-wide / 2, 0}, at{wide / 2, 0})
	case "pitch_high":
		g.circle(scene.RoleBody, at{0, -high / 2}, 6)
		g.circle(scene.RoleBody, at{0, high / 2}, 6)
		g.dim("pitch_high", "pitch", at{0, -high / 2}, at{0, high / 2})
	case "hole":
		g.dim("hole", "across the hole", at{-x - hole/2, y}, at{-x + hole/2, y})
	default:
		g.meant(at{-x, y})
	}
	return g.done()
}

// adapterEdge is the same on its edge, with the block on the left.
func adapterEdge(r *row) (Drawing, bool) {
	thick, spacer, deep := r.size("thickness", 12), r.size("spacer", 10), r.size("engaged", 20)
	g := r.figure("an adapter plate on its bosses, on its edge")
	g.named("block", scene.RoleBody, at{-60, -90}, at{0, -90}, at{0, 90}, at{-60, 90}, at{-60, -90})
	for _, y := range []float64{-60, 60} {
		g.box(scene.RoleLeg, at{0, y - 10}, at{spacer, y + 10})
		g.center(at{-deep, y}, at{spacer + thick + 12, y})
	}
	g.box(scene.RoleLeg, at{spacer, -80}, at{spacer + thick, 80})
	switch r.key() {
	case "thickness":
		g.dim("thickness", "plate", at{spacer, 80}, at{spacer + thick, 80})
	case "spacer":
		g.dim("spacer", "spacer", at{0, 70}, at{spacer, 70})
	default:
		g.dim("engaged", "in the block", at{-deep, 60}, at{0, 60})
	}
	return g.done()
}
