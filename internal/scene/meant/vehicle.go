package meant

import (
	"math"

	"fitup/internal/scene"
)

// vehicle is a vehicle on its wheels: from its side, or from above for what lies across.
func vehicle(r *row) (Drawing, bool) {
	base, d, front := r.size("wheelbase", 2800), r.size("tyre_diameter", 700), 0.0
	if v, ok := r.number(r.beside("front_axle")); ok {
		front = v
	}
	if r.key() == "front_track" || r.key() == "rear_track" {
		return tracks(r, base, d)
	}
	axle := -100.0
	if v, ok := r.number(r.beside("axle_height")); ok {
		axle = v
	}
	g := r.sizes("the vehicle from the left")
	rear := front + base
	if r.key() == "front_axle" && front == 0 {
		g.meant(at{0, axle})
	}
	for _, x := range []float64{front, rear} {
		g.circle(scene.RoleWheel, at{x, axle}, d/2)
		g.circle(scene.RoleWheel, at{x, axle}, d/12)
	}
	lo, hi := min(front, 0)-0.2*base, rear+0.25*base
	g.box(scene.RoleRail, at{lo, -0.05 * base}, at{hi, 0})
	g.line(scene.RoleGround, at{lo, axle - d/2}, at{hi, axle - d/2})
	g.sign("zero", at{0, 0})
	g.dim("wheelbase", "wheelbase", at{front, axle}, at{rear, axle})
	g.dim("front_axle", "front axle", at{0, axle}, at{front, axle})
	g.dim("tyre_diameter", "tyre", at{rear, axle - d/2}, at{rear, axle + d/2})
	g.dim("axle_height", "axle centre", at{rear, 0}, at{rear, axle})
	return g.done()
}

func tracks(r *row, base, d float64) (Drawing, bool) {
	g := r.sizes("from above, the front at the left, the driver's right up")
	for i, key := range []string{"front_track", "rear_track"} {
		x, t := float64(i)*base, r.size(key, 1450)
		for _, side := range []float64{-1, 1} {
			g.turned(scene.RoleWheel, at{x, side * t / 2}, d, 0.3*d, 0)
		}
		g.line(scene.RoleChassis, at{x, -t / 2}, at{x, t / 2})
		g.dim(key, "middle to middle", at{x, -t / 2}, at{x, t / 2})
	}
	g.center(at{-0.2 * base, 0}, at{1.2 * base, 0})
	return g.done()
}

// widths are how far the rails are to be apart.
func widths(r *row) (Drawing, bool) {
	g := r.figure("the rails from above, the front at the left")
	for _, side := range []float64{-1, 1} {
		g.box(scene.RoleRail, at{0, side * 400}, at{3000, side * 460})
	}
	g.center(at{-200, 0}, at{3200, 0})
	for i, x := range []float64{200, 1200, 2700} {
		if i == 0 {
			g.dim("widths", "the first pair", at{x, -400}, at{x, 400})
		} else {
			g.dashed(at{x, -400}, at{x, 400})
		}
	}
	return g.done()
}

// slope is an axis against level, seen from the left.
func slope(title, what string) func(*row) (Drawing, bool) {
	return func(r *row) (Drawing, bool) {
		by, ok := r.number(r.path)
		shown := -by // down to the rear falls to the right
		if !ok || math.Abs(shown) > 1.2 {
			shown = -0.12
		}
		g := r.figure(title)
		g.scale = ok
		g.dashed(at{0, 0}, at{900, 0})
		g.turned(scene.RoleShaft, at{450 * math.Cos(shown), 450 * math.Sin(shown)}, 900, 80, shown)
		g.center(at{-100 * math.Cos(shown), -100 * math.Sin(shown)}, at{1000 * math.Cos(shown), 1000 * math.Sin(shown)})
		g.angle(r.key(), what, at{0, 0}, 0, shown, 780)
		return g.done()
	}
}

// heading is an axis against the centre line, seen from above.
func heading(r *row) (Drawing, bool) {
	by, ok := r.number(r.path)
	shown := by // rear to the right is up
	if !ok || math.Abs(by) > 1.2 {
		shown = 0.1
	}
	g := r.figure("from above, the front at the left, the driver's right up")
	g.scale = ok
	g.dashed(at{0, 0}, at{900, 0})
	g.center(at{-100 * math.Cos(shown), -100 * math.Sin(shown)}, at{1000 * math.Cos(shown), 1000 * math.Sin(shown)})
	g.turned(scene.RoleShaft, at{250 * math.Cos(shown), 250 * math.Sin(shown)}, 500, 90, shown)
	g.angle(r.key(), "heading", at{0, 0}, 0, shown, 780)
	return g.done()
}

// gaugeOn is a gauge on what is read, with the angle that it shows.
func gaugeOn(r *row) (Drawing, bool) {
	const by = -0.14
	if r.text("on") == "square face" {
		g := r.figure("the gauge on a face square to the axis")
		g.turned(scene.RoleShaft, at{-300 * math.Cos(by), -300 * math.Sin(by)}, 600, 220, by)
		g.center(at{-700, -700 * math.Tan(by)}, at{120, 120 * math.Tan(by)})
		g.turned(scene.RoleBody, at{28 * math.Cos(by), 28 * math.Sin(by)}, 50, 200, by)
		g.dashed(at{0, 0}, at{420, 0})
		up := math.Pi/2 + by
		g.line(scene.RoleLeader, at{0, 0}, at{420 * math.Cos(up), 420 * math.Sin(up)})
		g.angle(r.key(), "shown", at{0, 0}, 0, up, 330)
		return g.done()
	}
	g := r.figure("the gauge along the axis, against level")
	g.dashed(at{0, 0}, at{900, 0})
	g.turned(scene.RoleShaft, at{450 * math.Cos(by), 450 * math.Sin(by)}, 900, 80, by)
	g.turned(scene.RoleBody, at{300*math.Cos(by) - 70*math.Sin(by), 300*math.Sin(by) + 70*math.Cos(by)}, 200, 50, by)
	g.angle(r.key(), "shown", at{0, 0}, 0, by, 780)
	return g.done()
}

// byTape is a direction read by tape, seen from above.
func byTape(r *row) (Drawing, bool) {
	over, aside := r.size("over", 1000), 0.0
	if v, ok := r.number(r.beside("aside")); ok {
		aside = v
	}
	shown := aside
	if math.Abs(shown) < 0.08*over {
		shown = math.Copysign(0.15*over, aside+1e-9)
	}
	g := r.figure("both ends plumbed to the floor, from above")
	g.dashed(at{-0.1 * over, 0}, at{1.2 * over, 0})
	g.center(at{-0.2 * over, -0.2 * shown}, at{1.2 * over, 1.2 * shown})
	g.sign("front mark", at{0, 0})
	g.sign("rear mark", at{over, shown})
	g.dim("aside", "aside", at{over, 0}, at{over, shown})
	g.dim("over", "along the vehicle", at{0, 0}, at{over, 0})
	return g.done()
}

// direction is the arrow of three numbers in proportion, in the plane that shows most of
// it.
func direction(r *row) (Drawing, bool) {
	v, ok := r.point(r.path)
	if !ok {
		v.Z = 1
		if r.key() == "along_axis" {
			v.X, v.Z = 1, 0
		}
	}
	title, x, z := "from the left", v.X, v.Z
	switch {
	case math.Abs(v.X) < math.Abs(v.Y) && math.Abs(v.Z) < math.Abs(v.Y) && math.Abs(v.X) > math.Abs(v.Z):
		title, x, z = "from above, the driver's right up", v.X, v.Y
	case math.Abs(v.X) < math.Abs(v.Y) || math.Abs(v.X) < math.Abs(v.Z) && math.Abs(v.Y) > 0:
		title, x, z = "from behind", v.Y, v.Z
	}
	n := math.Hypot(x, z)
	if n == 0 {
		x, z, n = v.X, v.Y, math.Hypot(v.X, v.Y)
		title = "from above, the driver's right up"
	}
	if n == 0 {
		return Drawing{}, false
	}
	way := math.Atan2(z, x)
	g := r.sizes("the way it looks, " + title)
	g.turned(scene.RoleLeg, at{0, 0}, 14, 120, way)
	g.arrow(words(r.key()), at{0, 0}, at{150 * x / n, 150 * z / n})
	if title == "from behind" {
		g.dashed(at{-160, -90}, at{160, -90})
	}
	return g.done()
}

// boxFigure is a box by two corners, or a point, where its numbers are not there yet.
func boxFigure(r *row) (Drawing, bool) {
	g := r.figure("the box around it, or the ends of a rod")
	a, b := at{120, 90}, at{420, 300}
	g.sign("zero", at{0, 0})
	p := map[string]at{"from": a, "to": b}[r.key()]
	if p == (at{}) {
		g = r.figure("a point of it, or the centre of a ball")
		p = at{270, 200}
		g.sign("zero", at{0, 0})
		g.circle(scene.RoleBody, p, 90)
	} else {
		g.box(scene.RoleBody, a, b)
	}
	g.meant(p)
	of := inVehicle
	if r.keys[0] == "powertrain" {
		of = onStand
	}
	g.both(at{}, p, of)
	return g.done()
}
