package meant

import (
	"math"

	"fitup/internal/scene"
)

// Places of the figure of a wheel and what holds it, from the front: to the wheel, up.
var (
	wheelAt    = at{600, 0}
	upperAt    = at{330, 320}
	lowerAt    = at{400, -96}
	pickupSpot = map[string]at{
		"wheel": wheelAt, "pivot_a": {150, -80}, "pivot_b": {150, -80}, "ball": {520, -110},
		"upper_pivot_a": {220, 150}, "upper_pivot_b": {220, 150}, "upper_ball": {490, 160},
		"tie_inner": {170, -20}, "tie_outer": {505, -30}, "lower": lowerAt, "upper": upperAt,
		"foot": {150, 60}, "stands": {320, 380}, "chassis": {60, -150}, "end": {450, -120},
	}
)

// wheelAndArms is a wheel with its arms, its spring and its tower.
func wheelAndArms(r *row, title string) *figure {
	g := r.figure(title)
	p := pickupSpot
	g.box(scene.RoleWheel, at{540, -300}, at{670, 300})
	g.circle(scene.RoleWheel, wheelAt, 8)
	g.box(scene.RoleRail, at{60, -60}, at{150, 60})
	for _, l := range [][2]at{{p["pivot_a"], p["ball"]}, {p["upper_pivot_a"], p["upper_ball"]}, {p["ball"], p["upper_ball"]}, {p["tie_inner"], p["tie_outer"]}} {
		g.line(scene.RoleChassis, l[0], l[1])
	}
	g.coil(lowerAt, upperAt, 34)
	return g
}

// coil is a spring between two places, seen from its side.
func (g *figure) coil(from, to at, wide float64) {
	dx, dy := to[0]-from[0], to[1]-from[1]
	long := math.Hypot(dx, dy)
	nx, ny := -dy/long*wide, dx/long*wide
	var run []at
	const turns = 10
	for i := range turns + 1 {
		t, side := float64(i)/turns, float64(1-2*(i%2))
		run = append(run, at{from[0] + t*dx + side*nx, from[1] + t*dy + side*ny})
	}
	g.line(scene.RoleBody, run...)
}

// pickupRow is a row of the wheels of an axle.
func pickupRow(r *row) (Drawing, bool) {
	g := r.figure("a wheel from the side, front to the left")
	g.circle(scene.RoleWheel, at{}, 300)
	g.circle(scene.RoleWheel, at{}, 12)
	switch r.key() {
	case "bump":
		g.dashed(at{-60, 120}, at{60, 120})
		g.dim("bump", "up from ride height", at{}, at{0, 120})
	case "droop":
		g.dashed(at{-60, -140}, at{60, -140})
		g.dim("droop", "down from ride height", at{0, -140}, at{})
	case "caster":
		by := 0.12
		end := func(a, d float64) at { return at{d * math.Sin(a), d * math.Cos(a)} }
		g.dashed(end(0, -260), end(0, 260))
		g.named("steering axis", scene.RoleAxis, end(by, -280), end(by, 260))
		g.angle("caster", "upper end to the rear", at{}, math.Pi/2, math.Pi/2-by, 220)
	}
	return g.done()
}

// pickupSideRow is a row of what holds one wheel.
func pickupSideRow(r *row) (Drawing, bool) {
	spot, ok := pickupSpot[r.key()]
	if !ok {
		return Drawing{}, false
	}
	return or(vehiclePoint, func(r *row) (Drawing, bool) {
		g := wheelAndArms(r, "a wheel and its arms, from the front")
		g.meant(spot)
		return g.done()
	})(r)
}

// pickupSpringRow is a row of its spring.
func pickupSpringRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "lower", "upper":
		return pickupSideRow(r)
	case "length":
		g := wheelAndArms(r, "a spring at ride height, from the front")
		g.dim("length", "end to end", lowerAt, upperAt)
		return g.done()
	case "free", "solid", "coil":
		g := r.figure("the coil of a spring")
		long := map[string]float64{"free": 340, "solid": 130, "coil": 240}[r.key()]
		g.line(scene.RoleChassis, at{-70, 0}, at{70, 0})
		g.line(scene.RoleChassis, at{-70, long}, at{70, long})
		g.coil(at{0, 0}, at{0, long}, 50)
		g.dim(r.key(), map[string]string{"free": "unloaded", "solid": "its turns touching", "coil": "at ride height"}[r.key()], at{70, 0}, at{70, long})
		return g.done()
	case "diameter":
		g := r.figure("a coil spring")
		g.coil(at{0, 0}, at{0, 240}, 50)
		g.dim("diameter", "outside to outside", at{-50, 120}, at{50, 120})
		return g.done()
	case "lean_back", "lean_in":
		title := "a spring from the left, front to the left"
		if r.key() == "lean_in" {
			title = "a spring from the front, the centre line to the right"
		}
		g := r.figure(title)
		by := 0.3
		top := at{320 * math.Sin(by), 320 * math.Cos(by)}
		g.coil(at{}, top, 40)
		g.dashed(at{}, at{0, 340})
		g.angle(r.key(), "off upright", at{}, math.Pi/2, math.Pi/2-by, 250)
		return g.done()
	}
	return Drawing{}, false
}

// pickupDamperRow is a row of its damper.
func pickupDamperRow(r *row) (Drawing, bool) {
	if k := r.key(); k == "lower" || k == "upper" {
		return pickupSideRow(r)
	}
	if r.key() == "diameter" {
		g := r.figure("a damper's tube")
		g.box(scene.RoleBody, at{-32, 20}, at{32, 250})
		g.dim("diameter", "outside to outside", at{-32, 120}, at{32, 120})
		return g.done()
	}
	long, ok := map[string]float64{"closed": 300, "stop": 360, "open": 440}[r.key()]
	if !ok {
		return Drawing{}, false
	}
	g := r.figure("a damper, eye to eye")
	g.circle(scene.RoleJoint, at{}, 16)
	g.circle(scene.RoleJoint, at{0, long}, 16)
	g.box(scene.RoleBody, at{-32, 20}, at{32, 250})
	g.box(scene.RoleShaft, at{-8, 250}, at{8, long - 16})
	g.box(scene.RoleChassis, at{-24, long - 90}, at{24, long - 20})
	g.dim(r.key(), map[string]string{"closed": "pushed home", "stop": "the stop touches", "open": "drawn out"}[r.key()], at{60, 0}, at{60, long})
	return g.done()
}

// pickupTowerRow is a row of its tower.
func pickupTowerRow(r *row) (Drawing, bool) {
	draw := func(r *row) (Drawing, bool) {
		g := wheelAndArms(r, "a spring under its tower, from the front")
		foot, top := pickupSpot["foot"], pickupSpot["stands"]
		g.line(scene.RoleLeg, foot, top)
		if r.key() == "stack" {
			g.dim("stack", "on along the spring to the cut", upperAt, top)
		} else if spot, ok := pickupSpot[r.key()]; ok {
			g.meant(spot)
		}
		return g.done()
	}
	switch r.key() {
	case "stack":
		return draw(r)
	case "diameter":
		g := r.figure("the post of a tower, from above")
		g.box(scene.RoleLeg, at{-50, -50}, at{50, 50})
		g.dim("diameter", "over the corners", at{-50, -50}, at{50, 50})
		return g.done()
	}
	return or(vehiclePoint, draw)(r)
}

// pickupRodRow is a row of a rod.
func pickupRodRow(r *row) (Drawing, bool) {
	figure := func(r *row) (Drawing, bool) {
		g := r.figure("a rod from its joint on the frame to what it holds")
		a, b := at{0, 0}, at{460, -60}
		g.box(scene.RoleRail, at{-70, -50}, at{-20, 90})
		g.line(scene.RoleShaft, a, b)
		g.circle(scene.RoleJoint, a, 18)
		g.circle(scene.RoleJoint, b, 18)
		switch r.key() {
		case "chassis":
			g.meant(a)
		case "end":
			g.meant(b)
		case "diameter":
			g.dim("diameter", "where it is thickest", at{220, -45}, at{226, -13})
		case "give":
			g.dim("give", "longer or shorter", at{460, -90}, at{500, -95})
		case "max_angle":
			g.dashed(a, at{450, 40})
			g.angle("max_angle", "either way", a, math.Atan2(-60, 460), math.Atan2(40, 450), 380)
		}
		return g.done()
	}
	if k := r.key(); k == "chassis" || k == "end" {
		return or(vehiclePoint, figure)(r)
	}
	return figure(r)
}

// pickupBarRow is a row of an anti-roll bar, from above and for its links from the side.
func pickupBarRow(r *row) (Drawing, bool) {
	figure := func(r *row) (Drawing, bool) {
		g := r.figure("one half of an anti-roll bar, from the side")
		bush, arm, link := at{0, 0}, at{220, 10}, at{226, -80}
		g.circle(scene.RoleShaft, bush, 14)
		g.line(scene.RoleShaft, bush, arm)
		g.line(scene.RoleChassis, arm, link)
		g.circle(scene.RoleJoint, arm, 9)
		g.circle(scene.RoleJoint, link, 9)
		switch r.key() {
		case "bush":
			g.meant(bush)
		case "arm":
			g.meant(arm)
		case "link":
			g.meant(link)
		case "diameter":
			g.dim("diameter", "outside", at{0, -14}, at{0, 14})
		}
		return g.done()
	}
	if r.key() == "diameter" {
		return figure(r)
	}
	return or(vehiclePoint, figure)(r)
}
