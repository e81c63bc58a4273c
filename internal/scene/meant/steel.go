package meant

import (
	"math"

	"fitup/internal/geom/section"
	"fitup/internal/scene"
)

// profile is a section as it is seen from its end: width, height and wall, mm; a round one
// has its outside diameter as both, and a full one no wall.
type profile struct {
	wide, high, wall float64
	round, known     bool // known: by a name of the table
}

// profileOf is that of the leg or the bar whose row it is: from the table by its name, or by
// its own sizes.
func (r *row) profileOf() profile {
	if e, ok := section.Named(r.text("section")); ok {
		s := e.Shape
		return profile{wide: s.B, high: s.H, wall: s.T, round: s.Kind == section.RoundTube || s.Kind == section.RoundBar, known: true}
	}
	kind := r.text("kind")
	p := profile{high: r.size("height", 50), wall: r.size("wall", 4), round: kind == "round tube" || kind == "round bar"}
	if p.wide = r.size("width", p.high); p.round {
		p.wide = p.high
	}
	if p.wall >= min(p.wide, p.high)/2 || kind == "round bar" || kind == "flat bar" {
		p.wall = 0
	}
	return p
}

// legSection is the section of a leg, seen from its end.
func legSection(r *row) (Drawing, bool) {
	p := r.profileOf()
	if r.key() == "wall" && p.wall > 0 {
		return cutEnd(r, p.wall, p.known)
	}
	g := r.sizes("the section, seen from its end")
	g.profile(p)
	w, h := p.wide/2, p.high/2
	if key := r.key(); key == "height" || key == "section" {
		g.sized("height", at{w, -h}, at{w, h}, p.high, p.known)
	}
	if key := r.key(); (key == "width" || key == "section") && !p.round {
		g.sized("width", at{-w, -h}, at{w, -h}, p.wide, p.known)
	}
	return g.done()
}

func (g *figure) profile(p profile) {
	w, h := p.wide/2, p.high/2
	if p.round {
		g.circle(scene.RoleLeg, at{}, h)
		if p.wall > 0 {
			g.circle(scene.RoleLeg, at{}, h-p.wall)
		}
		return
	}
	g.box(scene.RoleLeg, at{-w, -h}, at{w, h})
	if p.wall > 0 {
		g.box(scene.RoleLeg, at{-w + p.wall, -h + p.wall}, at{w - p.wall, h - p.wall})
	}
}

// cutEnd is a corner of a wall, enlarged.
func cutEnd(r *row, t float64, known bool) (Drawing, bool) {
	g := r.sizes("a cut end, enlarged")
	long := 6 * t
	g.line(scene.RoleLeg, at{0, long}, at{0, 0}, at{long, 0})
	g.line(scene.RoleLeg, at{t, long}, at{t, t}, at{long, t})
	g.dashed(at{0, long}, at{t, long})
	g.dashed(at{long, 0}, at{long, t})
	g.sized("wall", at{0, 4 * t}, at{t, 4 * t}, t, known)
	return g.done()
}

// railSection is a rail seen from its end, with its inner top edge.
func railSection(r *row) (Drawing, bool) {
	w, h := r.size("width", 60), r.size("height", 120)
	g := r.sizes("the rail's section, seen from its end")
	g.box(scene.RoleRail, at{0, -h}, at{w, 0})
	edge := at{0, 0}
	if r.keys[1] == "left" {
		edge[0] = w
	}
	g.sign("inner top edge", edge)
	g.dim("height", "height", at{w - edge[0], -h}, at{w - edge[0], 0})
	g.dim("width", "width", at{0, -h}, at{w, -h})
	return g.done()
}

// tube is the tube of a shaft.
func tube(r *row) (Drawing, bool) {
	d := r.size("outside", 76)
	wall := r.size("wall", 2)
	if r.key() == "wall" {
		return cutEnd(r, wall, false)
	}
	g := r.sizes("the tube, seen from its end")
	g.circle(scene.RoleShaft, at{}, d/2)
	if wall < d/2 && r.keys[len(r.keys)-2] != "half_shaft" {
		g.circle(scene.RoleShaft, at{}, d/2-wall)
	}
	g.center(at{-0.65 * d, 0}, at{0.65 * d, 0})
	g.center(at{0, -0.65 * d}, at{0, 0.65 * d})
	g.dim("outside", "outside", at{-d / 2, 0}, at{d / 2, 0})
	return g.done()
}

// round is a rod or a ball by its radius.
func round(r *row) (Drawing, bool) {
	rad := r.size("radius", 40)
	g := r.sizes("a rod from its end, or a ball")
	g.circle(scene.RoleBody, at{}, rad)
	g.center(at{-1.3 * rad, 0}, at{1.3 * rad, 0})
	g.center(at{0, -1.3 * rad}, at{0, 1.3 * rad})
	g.dim("radius", "radius", at{0, 0}, at{rad * math.Sqrt2 / 2, rad * math.Sqrt2 / 2})
	return g.done()
}

// header is the round crossmember that a leg stands on.
func header(r *row) (Drawing, bool) {
	d := r.size("header", 76)
	g := r.sizes("the round crossmember, seen from its end")
	g.circle(scene.RoleRail, at{}, d/2)
	g.line(scene.RoleLeg, at{-0.3 * d, 0.4 * d}, at{-0.3 * d, 1.2 * d})
	g.line(scene.RoleLeg, at{0.3 * d, 0.4 * d}, at{0.3 * d, 1.2 * d})
	g.named("leg", scene.RoleLeg, at{-0.3 * d, 1.2 * d}, at{0.3 * d, 1.2 * d})
	g.dim("header", "outside", at{-d / 2, 0}, at{d / 2, 0})
	return g.done()
}

// plate is a plate of a leg: its face, or its edge for what is seen there.
func plate(r *row) (Drawing, bool) {
	w, h, t := r.size("width", 100), r.size("height", 100), r.size("thickness", 8)
	switch r.key() {
	case "thickness", "gap", "flange", "radius":
		return plateEdge(r, h, t)
	case "width", "height", "pitch_across", "pitch_high", "hole":
	default:
		return Drawing{}, false
	}
	hole, px, pz := r.size("hole", 13), r.size("pitch_across", 0.6*w), r.size("pitch_high", 0.6*h)
	g := r.sizes("the plate, seen from its face")
	g.box(scene.RoleLeg, at{-w / 2, -h / 2}, at{w / 2, h / 2})
	for _, x := range []float64{-px / 2, px / 2} {
		for _, z := range []float64{-pz / 2, pz / 2} {
			g.circle(scene.RoleLeg, at{x, z}, hole/2)
		}
	}
	g.dim("width", "width", at{-w / 2, -h / 2}, at{w / 2, -h / 2})
	g.dim("height", "height", at{w / 2, -h / 2}, at{w / 2, h / 2})
	g.dim("pitch_across", "middle to middle", at{-px / 2, pz / 2}, at{px / 2, pz / 2})
	g.dim("pitch_high", "middle to middle", at{-px / 2, -pz / 2}, at{-px / 2, pz / 2})
	g.dim("hole", "hole", at{px/2 - hole/2, pz / 2}, at{px/2 + hole/2, pz / 2})
	return g.done()
}

// plateEdge is a plate seen from its edge, with the tube that stands on it and the edge
// that is folded over the rail.
func plateEdge(r *row, h, t float64) (Drawing, bool) {
	flange, bend, gap := r.size("flange", 45), r.size("radius", t), max(r.size("gap", t/3), t/4)
	if r.key() == "thickness" || r.key() == "gap" {
		g := r.sizes("plate and tube, seen from the edge, enlarged")
		h = 6 * t
		g.box(scene.RoleLeg, at{0, -h / 2}, at{t, h / 2})
		g.line(scene.RoleShaft, at{t + gap + 5*t, h / 4}, at{t + gap, h / 4}, at{t + gap, -h / 4}, at{t + gap + 5*t, -h / 4})
		g.named("tube", scene.RoleShaft, at{t + gap + 2*t, -h / 4}, at{t + gap + 5*t, -h / 4})
		g.dim("thickness", "thickness", at{0, h / 2}, at{t, h / 2})
		g.dim("gap", "gap for the weld", at{t, -h / 4}, at{t + gap, -h / 4})
		return g.done()
	}
	if flange < bend+2*t {
		flange = bend + 2*t
	}
	g := r.sizes("the plate from its edge, folded over the rail")
	c := at{-bend, h - t - bend} // the bend's centre
	g.line(scene.RoleLeg, at{0, c[1]}, at{0, 0}, at{t, 0}, at{t, c[1]})
	g.arc(scene.RoleLeg, c, bend, 0, math.Pi/2)
	g.arc(scene.RoleLeg, c, bend+t, 0, math.Pi/2)
	g.line(scene.RoleLeg, at{-bend, h - t}, at{t - flange, h - t}, at{t - flange, h}, at{-bend, h})
	g.dim("flange", "flange", at{t - flange, h}, at{t, h})
	s := math.Sqrt2 / 2
	g.dim("radius", "inside radius", c, at{c[0] + bend*s, c[1] + bend*s})
	return g.done()
}

// fillet is the weld between a tube and a plate.
func fillet(r *row) (Drawing, bool) {
	a := r.size("size", 4)
	g := r.sizes("the fillet, cut across")
	g.line(scene.RoleLeg, at{0, 5 * a}, at{0, 0}, at{5 * a, 0})
	g.line(scene.RoleLeg, at{-2 * a, 5 * a}, at{-2 * a, -2 * a}, at{5 * a, -2 * a})
	g.line(scene.RoleBody, at{0, a}, at{a, 0})
	g.dim("size", "leg", at{0, 0}, at{a, 0})
	return g.done()
}

// bead is the weld on one side.
func bead(r *row) (Drawing, bool) {
	g := r.figure("the tube on its plate, seen from the side that is welded")
	g.box(scene.RoleLeg, at{-50, 0}, at{50, 8})
	g.line(scene.RoleShaft, at{-30, 70}, at{-30, 8}, at{30, 8}, at{30, 70})
	g.line(scene.RoleBody, at{-30, 8}, at{-26, 13}, at{26, 13}, at{30, 8})
	g.dim("length", "weld", at{-30, 8}, at{30, 8})
	return g.done()
}

// stock is a bar of the stock.
func stock(r *row) (Drawing, bool) {
	if r.key() == "section" {
		return legSection(r)
	}
	p, long := r.profileOf(), r.size("length", 1000)
	g := r.sizes("one bar")
	g.box(scene.RoleLeg, at{0, 0}, at{long, max(p.high, long/30)})
	g.dim("length", "length", at{0, 0}, at{long, 0})
	return g.done()
}

// saw is the saw's cut.
func saw(r *row) (Drawing, bool) {
	switch r.key() {
	case "kerf":
		g := r.sizes("the saw's cut through a bar, enlarged")
		k := r.size("kerf", 3)
		g.line(scene.RoleLeg, at{-9 * k, 0}, at{0, 0}, at{0, 6 * k}, at{-9 * k, 6 * k})
		g.line(scene.RoleLeg, at{10 * k, 0}, at{k, 0}, at{k, 6 * k}, at{10 * k, 6 * k})
		g.dim("kerf", "cut", at{0, 6 * k}, at{k, 6 * k})
		return g.done()
	case "trim":
		g := r.figure("the end of a bar as it is bought, enlarged")
		k := r.size("trim", 5)
		g.line(scene.RoleLeg, at{12 * k, 0}, at{0.4 * k, 0}, at{0, 2 * k}, at{0.5 * k, 4 * k}, at{0.2 * k, 6 * k}, at{12 * k, 6 * k})
		g.dashed(at{k, -k}, at{k, 7 * k})
		g.dim("trim", "trimmed", at{0, 6 * k}, at{k, 6 * k})
		return g.done()
	}
	by := r.size(r.key(), math.Pi/4)
	g := r.figure(map[string]string{"mitre": "a bar in the saw, seen from above", "tilt": "a bar in the saw, seen from its end: the blade leans"}[r.key()])
	g.box(scene.RoleLeg, at{-160, -30}, at{160, 30})
	g.dashed(at{0, -70}, at{0, 110})
	sin, cos := math.Sincos(by)
	g.named("blade", scene.RoleBody, at{70 * sin, -70 * cos}, at{-130 * sin, 130 * cos})
	g.angle("mitre", "from square", at{0, 0}, math.Pi/2, math.Pi/2+by, 100)
	g.angle("tilt", "from upright", at{0, 0}, math.Pi/2, math.Pi/2+by, 100)
	return g.done()
}
