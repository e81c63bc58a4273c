package meant

import "fitup/internal/scene"

// torqueLinkRow is a torque link between powertrain and frame.
func torqueLinkRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "on", "to", "rate_on", "rate_to", "diameter", "eye":
	default:
		return Drawing{}, false
	}
	g := r.figure("a torque link from the powertrain to the frame, from behind")
	on, to := at{-160, 60}, at{160, 60}
	g.box(scene.RoleBody, at{-420, -220}, at{-185, 150})
	g.box(scene.RoleChassis, at{185, -120}, at{260, 120})
	g.line(scene.RoleLeg, on, to)
	g.circle(scene.RoleLeg, on, 25)
	g.circle(scene.RoleLeg, to, 25)
	switch r.key() {
	case "on":
		g.meant(on)
	case "to":
		g.meant(to)
	case "rate_on":
		g.arrow("its bush on the powertrain, along the line", at{-160, 0}, at{-60, 0})
	case "rate_to":
		g.arrow("its bush on the frame, along the line", at{160, 0}, at{60, 0})
	case "diameter":
		g.line(scene.RoleLeg, at{-138, 48}, at{138, 48})
		g.line(scene.RoleLeg, at{-138, 72}, at{138, 72})
		g.dim("diameter", "across its rod", at{0, 48}, at{0, 72})
	case "eye":
		g.dim("eye", "across its eyes", at{-160, 35}, at{-160, 85})
	}
	return g.done()
}

// rollStopRow is a roll stop above a lug of the powertrain.
func rollStopRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "at", "play", "back", "diameter", "height":
	case "axis":
		return direction(r)
	default:
		return Drawing{}, false
	}
	g := r.figure("a roll stop, its axis up, from behind")
	g.box(scene.RoleBody, at{-300, -20}, at{60, 20})
	g.box(scene.RoleLeg, at{-40, 50}, at{40, 110})
	g.box(scene.RoleChassis, at{-60, 110}, at{160, 140})
	g.box(scene.RoleLeg, at{-40, -110}, at{40, -60})
	g.box(scene.RoleChassis, at{-60, -140}, at{160, -110})
	switch r.key() {
	case "at":
		g.meant(at{0, 20})
	case "play":
		g.dim("play", "along the axis", at{40, 20}, at{40, 50})
	case "back":
		g.dim("back", "against the axis", at{40, -60}, at{40, -20})
	case "diameter":
		g.dim("diameter", "across its buffers", at{-40, 110}, at{40, 110})
	case "height":
		g.dim("height", "of a buffer", at{-40, 50}, at{-40, 110})
	}
	return g.done()
}
