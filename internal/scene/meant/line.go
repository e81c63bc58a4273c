package meant

import (
	"math"

	"fitup/internal/scene"
)

// lineRow is a row of a line itself.
func lineRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "output":
		return or(standPoint, standFigure)(r)
	case "output_slope":
		return slope("the output against the crankshaft, from the left", "output")(r)
	case "output_spacer":
		return spacer(r)
	}
	return Drawing{}, false
}

// spacer is one between two flanges, seen from the side.
func spacer(r *row) (Drawing, bool) {
	g := r.figure("a spacer between a flange and the shaft's, from the side")
	t := r.size(r.key(), 12)
	g.box(scene.RoleChassis, at{-160, -40}, at{-20, 40})
	g.box(scene.RoleChassis, at{-20, -90}, at{0, 90})
	g.box(scene.RoleLeg, at{0, -90}, at{t, 90})
	g.box(scene.RoleShaft, at{t, -90}, at{t + 20, 90})
	g.box(scene.RoleShaft, at{t + 20, -45}, at{t + 120, 45})
	g.circle(scene.RoleJoint, at{t + 150, 0}, 30)
	g.dim(r.key(), "spacer", at{0, 90}, at{t, 90})
	return g.done()
}

// jointRow is a row of a joint.
func jointRow(r *row) (Drawing, bool) {
	if r.key() == "at" {
		if d, ok := vehiclePoint(r); ok {
			return d, true
		}
	}
	g := r.figure("two shafts and the joint between them")
	by := -0.3
	if v, ok := r.number(r.path); ok && (r.key() == "run_angle" || r.key() == "max_angle") && v > 0.03 && v < 1.2 {
		by = -v
	}
	g.turned(scene.RoleShaft, at{-220, 0}, 360, 70, 0)
	g.turned(scene.RoleShaft, at{220 * math.Cos(by), 220 * math.Sin(by)}, 360, 70, by)
	g.circle(scene.RoleJoint, at{}, 30)
	g.dashed(at{0, 0}, at{420, 0})
	g.angle("run_angle", "the most it runs at", at{}, 0, by, 330)
	g.angle("max_angle", "where it binds", at{}, 0, by, 330)
	if r.key() == "swing" {
		g.circle(scene.RoleBody, at{}, 62)
		g.dim("swing", "swept", at{0, -62}, at{0, 62})
	}
	if r.key() == "at" {
		g.meant(at{})
	}
	return g.done()
}

// shaftRow is a row of a shaft.
func shaftRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "outside", "wall":
		return tube(r)
	case "slip_closed", "slip_open":
		return slip(r, r.key() == "slip_open")
	case "yoke_offset":
		return yokes(r)
	}
	return Drawing{}, false
}

// slip is a shaft from joint to joint, its slip joint home or drawn out.
func slip(r *row, out bool) (Drawing, bool) {
	title, sleeve := "the slip joint pushed home", 500.0
	if out {
		title, sleeve = "the slip joint drawn out to its least engagement", 620.0
	}
	g := r.figure(title)
	end := sleeve + 480
	g.circle(scene.RoleJoint, at{0, 0}, 26)
	g.circle(scene.RoleJoint, at{end, 0}, 26)
	g.box(scene.RoleShaft, at{40, -28}, at{400, 28})
	g.box(scene.RoleShaft, at{400, -16}, at{sleeve + 20, 16})
	g.box(scene.RoleShaft, at{sleeve - 40, -38}, at{end - 40, 38})
	g.center(at{-80, 0}, at{end + 80, 0})
	g.dim(r.key(), "joint to joint", at{0, 0}, at{end, 0})
	return g.done()
}

// yokes are those of a shaft, looking along it from the gearbox.
func yokes(r *row) (Drawing, bool) {
	by := 0.5
	if v, ok := r.number(r.path); ok && math.Abs(v) > 0.05 {
		by = v
	}
	g := r.figure("the two yokes, along the shaft from the gearbox")
	g.circle(scene.RoleShaft, at{}, 38)
	end := func(a, d float64) at { return at{d * math.Sin(a), d * math.Cos(a)} } // right-hand about the way one looks is clockwise
	g.named("front yoke", scene.RoleShaft, end(0, 70), end(math.Pi, 70))
	g.named("rear yoke", scene.RoleJoint, end(by, 70), end(by+math.Pi, 70))
	g.angle("yoke_offset", "rear yoke against front yoke", at{}, math.Pi/2, math.Pi/2-by, 60)
	return g.done()
}

// pinionRow is a row of the end of a line at its axle, or of the axis that it begins with.
func pinionRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "at":
		return or(vehiclePoint, pinionFigure)(r)
	case "spacer":
		return spacer(r)
	case "slope":
		what := "pinion"
		if r.keys[2] == "first" {
			what = "driving axis"
		}
		return slope("the "+what+" from the left, the front at the left", what)(r)
	case "heading":
		return heading(r)
	}
	return Drawing{}, false
}

func pinionFigure(r *row) (Drawing, bool) {
	g := r.figure("the axle from the left, the joint at its pinion")
	g.circle(scene.RoleChassis, at{290, -20}, 140)
	g.line(scene.RoleChassis, at{155, 20}, at{40, 30}, at{40, -30}, at{155, -60})
	g.center(at{-80, 6}, at{330, -26})
	g.meant(at{0, 0})
	return g.done()
}

// axleMark is where a mark is on an axle; what it is called has no place.
func axleMark(r *row) (Drawing, bool) {
	if r.key() != "own" {
		return Drawing{}, false
	}
	g := r.figure("the axle from above, its own zero the joint at its pinion")
	g.circle(scene.RoleChassis, at{290, 0}, 140)
	g.line(scene.RoleChassis, at{155, 40}, at{40, 30}, at{40, -30}, at{155, -40})
	for _, side := range []float64{-1, 1} {
		g.box(scene.RoleChassis, at{255, side * 140}, at{325, side * 560})
	}
	g.center(at{-80, 0}, at{480, 0})
	g.sign("zero", at{0, 0})
	g.meant(at{255, 420})
	g.both(at{}, at{255, 420}, [3]string{"along the pinion axis", "to the right", "up"})
	return g.done()
}

// suspensionRow is a row of what lets an axle move.
func suspensionRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "fixed_eye", "seat", "shackle_eye", "shackle_pivot":
		return or(vehiclePoint, leaf)(r)
	case "clamped", "wind_up":
		return leaf(r)
	case "axle":
		return or(vehiclePoint, ride)(r)
	case "bump", "droop", "least_droop":
		return ride(r)
	case "give":
		return link(r)
	}
	return Drawing{}, false
}

// leaf is a leaf spring with its axle, from the left.
func leaf(r *row) (Drawing, bool) {
	g := r.figure("a leaf spring from the left")
	g.named("frame", scene.RoleRail, at{-700, 170}, at{720, 170}, at{720, 260}, at{-700, 260}, at{-700, 170})
	spots := map[string]at{"fixed_eye": {-560, 60}, "seat": {0, -60}, "shackle_eye": {600, 50}, "shackle_pivot": {570, 170}}
	g.line(scene.RoleChassis, at{-560, 170}, spots["fixed_eye"])
	g.line(scene.RoleChassis, spots["fixed_eye"], at{-300, -25}, spots["seat"], at{320, -25}, spots["shackle_eye"])
	g.line(scene.RoleChassis, spots["shackle_eye"], spots["shackle_pivot"])
	g.line(scene.RoleChassis, at{-300, -40}, at{0, -80}, at{320, -40})
	g.box(scene.RoleLeg, at{-60, -95}, at{60, -45})
	g.circle(scene.RoleChassis, at{0, -5}, 40)
	if p, ok := spots[r.key()]; ok {
		g.meant(p)
	}
	g.dim("clamped", "clamped", at{-60, -95}, at{60, -95})
	if r.key() == "wind_up" {
		g.dashed(at{0, -5}, at{-430, -5})
		g.line(scene.RoleShaft, at{0, -5}, at{-420, 80})
		g.angle("wind_up", "either way", at{0, -5}, math.Pi, math.Pi-math.Atan2(85, 420), 330)
	}
	return g.done()
}

// ride is an axle at ride height, with how far it goes up and down.
func ride(r *row) (Drawing, bool) {
	up, down := r.size("bump", 80), r.size("droop", 100)
	g := r.figure("the axle at ride height, from behind")
	s := max(up, down)
	g.box(scene.RoleChassis, at{-4 * s, -0.35 * s}, at{4 * s, 0.35 * s})
	g.circle(scene.RoleChassis, at{0, 0}, 1.0*s)
	for _, side := range []float64{-1, 1} {
		g.box(scene.RoleWheel, at{side * 4.4 * s, -2.8 * s}, at{side * 5.6 * s, 2.8 * s})
	}
	x := 2.6 * s
	g.dashed(at{-3 * s, up}, at{3 * s, up})
	g.dashed(at{-3 * s, -down}, at{3 * s, -down})
	if r.key() == "axle" {
		g.meant(at{0, 0})
	}
	g.dim("bump", "up from ride height", at{x, 0}, at{x, up})
	g.dim("droop", "down from ride height", at{x, 0}, at{x, -down})
	if r.key() == "least_droop" {
		least := r.size("least_droop", 0.6*s)
		g.dashed(at{-3 * s, -least}, at{3 * s, -least})
		g.dim("least_droop", "at least", at{-x, 0}, at{-x, -least})
	}
	return g.done()
}

// link is a link of an axle from its side.
func link(r *row) (Drawing, bool) {
	g := r.figure("a link from its side, the chassis at the left")
	a, b := at{0, 120}, at{560, 0}
	for _, p := range []at{a, b} {
		g.circle(scene.RoleChassis, p, 28)
		g.circle(scene.RoleChassis, p, 10)
	}
	g.line(scene.RoleChassis, at{33, 130}, at{536, 22})
	g.line(scene.RoleChassis, at{24, 98}, at{524, -8})
	switch r.key() {
	case "chassis", "at":
		g.meant(a)
	case "axle":
		g.meant(b)
	}
	g.circle(scene.RoleChassis, at{640, -10}, 60)
	g.dim("give", "more or less", at{560, -28}, at{590, -28})
	return g.done()
}

// linkRow is an end of a link, or the pivot of an arm.
func linkRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "chassis", "axle", "at":
		return or(vehiclePoint, link)(r)
	}
	return Drawing{}, false
}

// strapRow is a row of a limiting strap.
func strapRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "chassis", "axle":
		return or(vehiclePoint, strap)(r)
	}
	return strap(r)
}

// strap is one between the frame and the axle, from behind, pulled straight.
func strap(r *row) (Drawing, bool) {
	g := r.figure("a limiting strap from behind, pulled straight")
	up, down := at{0, 220}, at{40, -180}
	g.named("frame", scene.RoleRail, at{-160, 180}, at{-40, 180}, at{-40, 320}, at{-160, 320}, at{-160, 180})
	g.line(scene.RoleRail, at{-40, 220}, up)
	g.box(scene.RoleChassis, at{-420, -260}, at{420, -180})
	for _, p := range []at{up, down} {
		g.circle(scene.RoleChassis, p, 22)
		g.circle(scene.RoleChassis, p, 9)
	}
	g.line(scene.RoleChassis, at{-16, 205}, at{24, -165})
	g.line(scene.RoleChassis, at{22, 212}, at{58, -168})
	switch r.key() {
	case "chassis":
		g.meant(up)
	case "axle":
		g.meant(down)
	}
	g.dim("length", "eye to eye", up, down)
	g.dim("stretch", "longer", at{140, -180}, at{140, -220})
	return g.done()
}

// halfShaftRow is a row of a half shaft.
func halfShaftRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "output":
		return or(standPoint, halfShaft)(r)
	case "inner", "outer", "pivot_a", "pivot_b", "ball":
		return or(vehiclePoint, halfShaft)(r)
	case "outside":
		return tube(r)
	case "lock":
		return lock(r)
	}
	return halfShaft(r)
}

// halfShaft is one with its wheel and the arm that carries it, from behind.
func halfShaft(r *row) (Drawing, bool) {
	g := r.figure("a half shaft and its wheel, from behind")
	spots := map[string]at{"output": {0, 0}, "inner": {0, 0}, "outer": {560, -40}, "pivot_a": {190, -110}, "pivot_b": {230, -110}, "ball": {580, -150}}
	in, out := spots["inner"], spots["outer"]
	g.box(scene.RoleBody, at{-170, -90}, at{-30, 90})
	g.box(scene.RoleWheel, at{620, -320}, at{780, 240})
	g.circle(scene.RoleJoint, in, 30)
	g.circle(scene.RoleJoint, out, 26)
	g.line(scene.RoleShaft, at{30, 8}, at{534, -28})
	g.line(scene.RoleShaft, at{30, -12}, at{534, -48})
	g.line(scene.RoleChassis, spots["pivot_a"], spots["ball"], spots["pivot_b"])
	g.line(scene.RoleChassis, spots["ball"], at{620, -40})
	if p, ok := spots[r.key()]; ok {
		g.meant(p)
	}
	tilt := math.Atan2(-40, 560)
	g.dashed(in, at{300, 0})
	g.angle("inner_max", "of the inner joint", in, 0, tilt, 240)
	g.dashed(out, at{300, -40})
	g.angle("outer_max", "of the outer joint", out, math.Pi, math.Pi+tilt, 240)
	g.dim("plunge_closed", "joint to joint, pushed home", in, out)
	g.dim("plunge_open", "joint to joint, drawn out", in, out)
	g.dim("plunge_in", "shorter", at{-40, 0}, in)
	g.dim("plunge_out", "longer", in, at{40, -3})
	return g.done()
}

// lock is a wheel that steers, seen from above.
func lock(r *row) (Drawing, bool) {
	by := r.size("lock", 0.6)
	g := r.figure("the wheel from above, the front at the left")
	g.dashed(at{-420, 0}, at{420, 0})
	g.turned(scene.RoleWheel, at{}, 640, 190, 0)
	g.turned(scene.RoleChassis, at{}, 640, 190, by)
	g.center(at{-400 * math.Cos(by), -400 * math.Sin(by)}, at{400 * math.Cos(by), 400 * math.Sin(by)})
	g.angle("lock", "either way", at{}, math.Pi, math.Pi+by, 390)
	return g.done()
}

// caseRow is a row of a transfer case that is turned on the gearbox.
func caseRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "about", "centre_of_mass":
		return or(standPoint, caseFigure)(r)
	case "step", "turned":
		return caseFigure(r)
	}
	return Drawing{}, false
}

// caseFigure is the case seen from the front, as one looks along the gearbox to the rear.
func caseFigure(r *row) (Drawing, bool) {
	g := r.figure("the transfer case as one looks along the gearbox to the rear")
	by := -0.5 // clockwise
	if v, ok := r.number(r.path); ok && v != 0 && math.Abs(v) < 1.5 {
		by = -v
	}
	g.circle(scene.RoleBody, at{}, 110)
	g.circle(scene.RoleJoint, at{}, 30)
	out := at{260 * math.Cos(by), 260 * math.Sin(by)}
	g.circle(scene.RoleJoint, out, 40)
	g.turned(scene.RoleBody, at{130 * math.Cos(by), 130 * math.Sin(by)}, 260, 160, by)
	g.dashed(at{}, at{330, 0})
	g.angle("turned", "turned", at{}, 0, by, 330)
	g.angle("step", "bolt to bolt", at{}, 0, by, 330)
	switch r.key() {
	case "about":
		g.meant(at{})
	case "centre_of_mass":
		g.meant(at{110 * math.Cos(by), 110 * math.Sin(by)})
	}
	return g.done()
}
