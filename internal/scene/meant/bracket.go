package meant

import (
	"strings"

	"fitup/internal/scene"
)

// bracketRow is a row of a mount of several members: where it is, or else on a figure
// of its kind.
func bracketRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "left_foot", "right_foot":
		return or(vehiclePoint, crossmemberFigure)(r)
	case "pad", "foot":
		return or(vehiclePoint, armFigure)(r)
	case "pad_normal", "foot_normal":
		if _, ok := r.point(r.path); ok {
			return direction(r)
		}
		return armFigure(r)
	case "section":
		return legSection(r)
	case "standing":
		return standing(r)
	case "brace", "past", "brace_drop", "brace_along", "foot_drop":
		return armFigure(r)
	case "apart", "spread":
		return legsFigure(r)
	case "gap":
		return earsFigure(r)
	case "between", "foot_in":
		return crossmemberFigure(r)
	}
	return Drawing{}, false
}

// memberRow is a row of one member: where it is, or else on a figure.
func memberRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "from", "to":
		return or(vehiclePoint, armFigure)(r)
	case "up":
		if _, ok := r.point(r.path); ok {
			return direction(r)
		}
		return armFigure(r)
	case "section":
		return legSection(r)
	case "from_along", "to_along", "roll":
		return armFigure(r)
	}
	return Drawing{}, false
}

// armFigure is an arm with a brace between a rail and a pad, seen from behind, with
// its questions.
func armFigure(r *row) (Drawing, bool) {
	past, drop, along := r.size("past", 50), r.size("brace_drop", 80), r.size("brace_along", 110)
	g := r.figure("a mount of several members between rail and pad, from behind")
	g.named("rail", scene.RoleRail, at{-60, -150}, at{0, -150}, at{0, 0}, at{-60, 0}, at{-60, -150})
	axis := -50.0
	pad := max(along+60, 200)
	g.box(scene.RoleLeg, at{0, axis - 30}, at{pad + past, axis + 30})
	g.box(scene.RoleBody, at{pad - 50, axis + 30}, at{pad + 50, axis + 40})
	g.center(at{-20, axis}, at{pad + past + 20, axis})
	g.line(scene.RoleLeg, at{0, axis - drop - 18}, at{along + 10, axis - 30})
	g.line(scene.RoleLeg, at{0, axis - drop + 18}, at{along - 40, axis - 30})
	g.center(at{0, axis - drop}, at{along, axis})
	switch r.key() {
	case "pad":
		g.meant(at{pad, axis + 40})
	case "brace":
		g.meant(at{along / 2, axis - drop/2})
	case "foot", "from":
		g.meant(at{0, axis})
	case "to":
		g.meant(at{pad + past, axis})
	case "foot_normal":
		g.arrow("the face looks this way", at{0, axis}, at{110, axis})
	case "pad_normal":
		g.arrow("the pad looks this way", at{pad, axis + 40}, at{pad, axis + 130})
	case "up":
		g.arrow("the section's height looks this way", at{pad / 2, axis}, at{pad / 2, axis + 100})
	case "past":
		g.dim("past", "past the pad's middle", at{pad, axis - 30}, at{pad + past, axis - 30})
	case "brace_drop":
		g.dim("brace_drop", "below the arm's axis", at{0, axis}, at{0, axis - drop})
	case "brace_along":
		g.dim("brace_along", "along the arm", at{0, axis}, at{along, axis})
	case "from_along", "to_along":
		g.dim(r.key(), "along the member it stands on", at{0, axis}, at{r.size(r.key(), 110), axis})
	case "foot_drop":
		g.dim("foot_drop", "below the rail's top edge", at{0, 0}, at{0, -r.size("foot_drop", 75)})
	case "roll":
		g.circle(scene.RoleLeg, at{pad / 2, axis}, 30)
		g.arrow("turned this way", at{pad / 2, axis + 45}, at{pad/2 + 60, axis + 45})
	}
	return g.done()
}

// earsFigure are twin ears on a rail, from above, with the bolt through both.
func earsFigure(r *row) (Drawing, bool) {
	gap, hole := r.size("gap", 60), r.size("hole", 13)
	g := r.figure("twin ears on a rail, from above, with the bolt through both")
	g.named("rail", scene.RoleRail, at{-60, -gap - 60}, at{0, -gap - 60}, at{0, gap + 60}, at{-60, gap + 60}, at{-60, -gap - 60})
	for _, k := range []float64{-1, 1} {
		g.box(scene.RoleLeg, at{0, k * gap / 2}, at{150, k * (gap/2 + 8)})
	}
	g.center(at{120, -gap/2 - 30}, at{120, gap/2 + 30})
	if r.key() == "hole" {
		g.dim("hole", "across the hole", at{120 - hole/2, gap / 2}, at{120 + hole/2, gap / 2})
	} else {
		g.dim("gap", "between the ears", at{60, -gap / 2}, at{60, gap / 2})
	}
	return g.done()
}

// endFigure is the end of a crossmember between ears on a rail, or in a socket there, from
// behind, with its bolt.
func endFigure(r *row) (Drawing, bool) {
	if r.key() == "section" {
		return legSection(r)
	}
	out, past, length := r.size("out", 55), r.size("past", 25), r.size("length", 100)
	title := "the end of a crossmember between ears on a rail, from behind"
	mouth, half := out+past, 30.0
	if strings.Contains(r.path, ".socket") {
		title, mouth, half = "the end of a crossmember in a socket on a rail, from behind", length, 38
	}
	g := r.figure(title)
	g.named("rail", scene.RoleRail, at{-60, -90}, at{0, -90}, at{0, 60}, at{-60, 60}, at{-60, -90})
	g.box(scene.RoleLeg, at{0, -half}, at{mouth, half})
	g.box(scene.RoleLeg, at{max(4, out-25), -32}, at{mouth + 120, 32})
	g.circle(scene.RoleLeg, at{out, 0}, 6.5)
	g.center(at{-20, 0}, at{mouth + 140, 0})
	switch r.key() {
	case "out":
		g.dim("out", "rail to bolt", at{0, -half}, at{out, -half})
	case "past":
		g.dim("past", "past the bolt", at{out, -half}, at{out + past, -half})
	default:
		g.dim("length", "of the socket", at{0, -half}, at{length, -half})
	}
	return g.done()
}

// sleeveFigure is a crossmember under a rail with a sleeve through it, from the side.
func sleeveFigure(r *row) (Drawing, bool) {
	d, wall := r.size("diameter", 25), r.size("wall", 5)
	g := r.figure("a crossmember under a rail, with a sleeve for its bolt, cut through")
	g.named("rail", scene.RoleRail, at{-80, 0}, at{80, 0}, at{80, 8}, at{-80, 8}, at{-80, 0})
	g.box(scene.RoleLeg, at{-30, -60}, at{30, 0})
	for _, k := range []float64{-1, 1} {
		g.box(scene.RoleLeg, at{k * d / 2, -60}, at{k * (d/2 - wall), 0})
	}
	g.center(at{0, -80}, at{0, 28})
	if r.key() == "wall" {
		g.dim("wall", "its wall", at{d/2 - wall, -60}, at{d / 2, -60})
	} else {
		g.dim("diameter", "outside", at{-d / 2, -60}, at{d / 2, -60})
	}
	return g.done()
}

// gussetFigure is a gusset between an arm and its rail, from behind.
func gussetFigure(r *row) (Drawing, bool) {
	along, down, snipe := r.size("along", 80), r.size("down", 70), r.size("snipe", 8)
	g := r.figure("a gusset in the corner between an arm and its rail, from behind")
	g.named("rail", scene.RoleRail, at{-60, -down - 60}, at{0, -down - 60}, at{0, 90}, at{-60, 90}, at{-60, -down - 60})
	g.box(scene.RoleLeg, at{0, 0}, at{2.2 * along, 60})
	g.line(scene.RoleLeg, at{snipe, 0}, at{along, 0}, at{along, -6}, at{6, -down}, at{0, -down}, at{0, -snipe}, at{snipe, 0})
	switch r.key() {
	case "along":
		g.dim("along", "along the member", at{0, 0}, at{along, 0})
	case "down":
		g.dim("down", "along the rail", at{0, 0}, at{0, -down})
	case "thickness":
		g.meant(at{along / 3, -down / 3})
	default:
		g.dim("snipe", "off the corner", at{0, 0}, at{snipe, 0})
	}
	return g.done()
}

// crossmemberFigure is a dropped crossmember between two rails, from behind, with its
// questions: the beam from knee to knee, and where its feet are under the rails.
func crossmemberFigure(r *row) (Drawing, bool) {
	between, in := r.size("between", 400), r.size("foot_in", 35)
	half := max(between/2+100, 300)
	g := r.figure("a dropped crossmember between the rails, from behind")
	for _, k := range []float64{-1, 1} {
		g.named("rail", scene.RoleRail, at{k * half, -100}, at{k * (half + 75), -100}, at{k * (half + 75), 0}, at{k * half, 0}, at{k * half, -100})
		foot := at{k * half, -50}
		if r.key() == "foot_in" {
			foot = at{k * (half + in), -100}
		}
		g.center(foot, at{k * between / 2, -200})
	}
	g.box(scene.RoleLeg, at{-between / 2, -220}, at{between / 2, -180})
	g.box(scene.RoleBody, at{-60, -180}, at{60, -170})
	g.center(at{-between / 2, -200}, at{between / 2, -200})
	switch r.key() {
	case "between":
		g.dim("between", "knee to knee", at{-between / 2, -200}, at{between / 2, -200})
	case "left_foot":
		g.meant(at{-half, -50})
	case "right_foot":
		g.meant(at{half, -50})
	default:
		g.dim("foot_in", "outward of the inner edge", at{half, -100}, at{half + in, -100})
	}
	return g.done()
}

// legsFigure are two legs in an A, seen from the middle of the vehicle.
func legsFigure(r *row) (Drawing, bool) {
	apart, spread := r.size("apart", 90), r.size("spread", 240)
	g := r.figure("two legs in an A, from the middle of the vehicle")
	g.named("rail", scene.RoleRail, at{-1.2 * spread, -150}, at{1.2 * spread, -150}, at{1.2 * spread, 0}, at{-1.2 * spread, 0}, at{-1.2 * spread, -150})
	for _, k := range []float64{-0.5, 0.5} {
		g.line(scene.RoleLeg, at{k*apart - 25, 60}, at{k*spread - 25, -75})
		g.line(scene.RoleLeg, at{k*apart + 25, 60}, at{k*spread + 25, -75})
		g.center(at{k * apart, 70}, at{k * spread, -85})
	}
	g.box(scene.RoleBody, at{-apart/2 - 60, 60}, at{apart/2 + 60, 70})
	if r.key() == "apart" {
		g.dim("apart", "apart at the pad", at{-apart / 2, 60}, at{apart / 2, 60})
	} else {
		g.dim("spread", "apart on the rail", at{-spread / 2, -75}, at{spread / 2, -75})
	}
	return g.done()
}
