package meant

import (
	"math"
	"strconv"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/scene"
	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r3"
)

// What the three lengths of a point are, in the vehicle and on the stand.
var (
	inVehicle = [3]string{"station", "offset", "height"}
	onStand   = [3]string{"to the rear", "to the right", "up"}
)

// sides are the views that show three lengths between them.
var sides = []view.View{view.FromLeft, view.FromAbove, view.FromBehind}

// thing is what the scene of the build has by one of the ids.
func (r *row) thing(ids ...string) (Drawing, bool) {
	for _, id := range ids {
		if _, ok := r.built.Selection(id); !ok {
			continue
		}
		d := Drawing{Scene: r.built, Lit: id, Views: []view.View{view.FromAbove}}
		for _, v := range []view.View{view.FromBehind, view.FromLeft} {
			if r.built.Shown(v, id) > r.built.Shown(d.Views[0], id) {
				d.Views[0] = v
			}
		}
		return d, true
	}
	return Drawing{}, false
}

// placed is a point in the vehicle's axes with its three lengths.
func (r *row) placed(label string, at, zero r3.Vec, of [3]string) (Drawing, bool) {
	id := "row." + r.path
	s := r.built.With(scene.Witness{ID: id, Label: label, At: at, Zero: zero, Of: of})
	return Drawing{Scene: s, Lit: id, Views: views(r3.Sub(at, zero), of)}, true
}

// views are those that show the lengths of a point, the longest first.
func views(d r3.Vec, of [3]string) []view.View {
	size := [3]float64{math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z)}
	for i, what := range of {
		if what == "" {
			size[i] = -1
		}
	}
	switch {
	case of[0] == "" && of[2] == "":
		return sides[1:]
	case of[0] == "" && of[1] == "", size[2] >= 0 && size[0] >= 0:
		return sides
	}
	return sides[1:2]
}

// vehiclePoint is a point in the vehicle's axes, or a figure of three lengths.
func vehiclePoint(r *row) (Drawing, bool) {
	if at, ok := r.point(r.path); ok {
		return r.placed(words(r.key()), at, r3.Vec{}, inVehicle)
	}
	return Drawing{}, false
}

// or is the first of two ways to draw a row that draws it.
func or(first, second func(*row) (Drawing, bool)) func(*row) (Drawing, bool) {
	return func(r *row) (Drawing, bool) {
		if d, ok := first(r); ok {
			return d, true
		}
		return second(r)
	}
}

// vehiclePoints are the points of a list, with their lengths to the first.
func vehiclePoints(r *row) (Drawing, bool) {
	s, id := r.built, "row."+r.path
	n := 0
	for {
		at, ok := r.point(r.path + "[" + strconv.Itoa(n) + "]")
		if !ok {
			break
		}
		w := scene.Witness{ID: id, Label: strconv.Itoa(n + 1), At: at}
		if n == 0 {
			w.Of = inVehicle
		}
		s = s.With(w)
		n++
	}
	return Drawing{Scene: s, Lit: id, Views: sides}, n > 0
}

// railPoints are the places of a rail's edge.
func railPoints(r *row) (Drawing, bool) {
	if d, ok := vehiclePoints(r); ok {
		return d, true
	}
	g := r.figure("a rail, seen from its side")
	g.line(scene.RoleRail, at{0, 0}, at{1400, 0}, at{2200, 130}, at{3300, 130})
	g.line(scene.RoleRail, at{0, -140}, at{1400, -140}, at{2200, -10}, at{3300, -10})
	for i, p := range []at{{0, 0}, {1400, 0}, {2200, 130}, {3300, 130}} {
		g.spot(strconv.Itoa(i+1), p)
	}
	return g.done()
}

// standPoint is a point in the powertrain's own frame.
func standPoint(r *row) (Drawing, bool) {
	at, ok := r.point(r.path)
	if !ok {
		return Drawing{}, false
	}
	id := "row." + r.path
	s := scene.OnStand(r.a.Build.Powertrain).With(scene.Witness{ID: id, Label: words(r.key()), At: at, Of: onStand})
	return Drawing{Scene: s, Lit: id, Views: sides}, true
}

// standFigure is a powertrain on its stand with its usual points.
func standFigure(r *row) (Drawing, bool) {
	g := r.figure("engine and gearbox from the left, its own zero where you choose")
	g.box(scene.RoleBody, at{-220, -90}, at{560, 430})
	g.box(scene.RoleBody, at{60, -230}, at{420, -90})
	g.box(scene.RoleBody, at{560, -160}, at{1320, 150})
	g.center(at{-300, 0}, at{1500, 0})
	g.sign("zero", at{0, 0})
	spots := map[string]at{
		"left_front": {0, -60}, "right_front": {0, -60}, "rear": {1250, -160}, "output": {1395, 0}, "centre_of_mass": {310, 90}, "at": {900, -160},
		"from": {-220, -90}, "to": {560, 430},
	}
	p, ok := spots[r.key()]
	if !ok {
		p = spots["output"]
	}
	g.meant(p)
	g.both(at{}, p, onStand)
	return g.done()
}

// standPart is a piece of the powertrain.
func standPart(r *row) (Drawing, bool) {
	switch r.key() {
	case "radius":
		return round(r)
	case "from", "to", "at":
		return or(standPoint, boxFigure)(r)
	}
	return Drawing{}, false
}

// chassisPart is a piece of the vehicle, or of an axle.
func chassisPart(r *row) (Drawing, bool) {
	switch r.key() {
	case "radius":
		return round(r)
	case "normal":
		return direction(r)
	case "from", "to", "at", "on":
		return or(vehiclePoint, boxFigure)(r)
	case "gap", "gap_rocked", "gap_moving":
		return room(r)
	}
	return Drawing{}, false
}

// room is that between a piece and the powertrain, where it is least.
func room(r *row) (Drawing, bool) {
	path := r.path[:strings.LastIndexByte(r.path, '.')]
	for i, c := range r.a.Clearances {
		if path == "chassis["+strconv.Itoa(i)+"]" {
			id := c.ID
			if r.key() == "gap_moving" {
				id += ".moving"
			}
			if d, ok := r.thing(id); ok && r.built.Shown(d.Views[0], id)+r.built.Shown(view.FromAbove, id) > 0 {
				return d, true
			}
		}
	}
	g := r.figure("the least room between the two")
	g.box(scene.RoleBody, at{0, 0}, at{200, 260})
	g.box(scene.RoleChassis, at{290, 60}, at{420, 330})
	g.dim(r.key(), "room wanted", at{200, 160}, at{290, 160})
	return g.done()
}

// measured is one of the three lengths of a measured point, from what it was measured
// from where that is a point.
func measured(r *row) (Drawing, bool) {
	name := strings.Join(r.keys[:2], ".")
	which := map[string]int{"station": 0, "offset": 1, "height": 2}[r.key()]
	var of [3]string
	of[which] = inVehicle[which]
	p, ok := r.a.Build.PointNamed(name)
	if !ok || !p.Known {
		g := r.figure("a point, and the three lengths to it from what it is measured from")
		g.sign("from", at{0, 0})
		g.meant(at{300, 200})
		g.both(at{}, at{300, 200}, [3]string{of[0] + of[1], "", of[2]})
		return g.done()
	}
	zero := r3.Vec{}
	if from, ok := r.a.Build.PointNamed(r.text("from")); ok && from.Known {
		zero = from.At
	} else if v, ok := r.mean(); ok { // along this axis it is as far off as was measured
		switch which {
		case 0:
			zero.X = p.At.X - v
		case 1:
			zero.Y = p.At.Y - v
		case 2:
			zero.Z = p.At.Z - v
		}
	}
	return r.placed(r.keys[1], p.At, zero, of)
}

// mean is that of the repeats of the row, or its one number.
func (r *row) mean() (float64, bool) {
	for _, p := range r.a.Build.Points {
		if p.Path() != strings.Join(r.keys[:2], ".") {
			continue
		}
		switch r.key() {
		case "station":
			return p.Station.Get()
		case "offset":
			return p.Offset.Get()
		case "height":
			return p.Height.Get()
		}
	}
	return 0, false
}

// placement is what a row of the placement says.
func placement(r *row) (Drawing, bool) {
	if d, ok := r.thing(r.path); ok {
		return d, true
	}
	if r.key() == "heading" || r.key() == "offset" {
		g := r.figure("seen from above, the front at the left")
		g.center(at{-300, 0}, at{1700, 0})
		g.line(scene.RoleAxis, at{0, 60}, at{1500, 190})
		g.angle("heading", "heading", at{0, 60}, 0, math.Atan2(130, 1500), 1300)
		g.sign("", at{0, 60})
		g.dim("offset", "side", at{0, 0}, at{0, 60})
		return g.done()
	}
	g := r.figure("from the left: each pad above the vehicle's zero")
	g.center(at{-300, 0}, at{1700, 0})
	g.box(scene.RoleBody, at{-20, 110}, at{760, 630})
	g.box(scene.RoleBody, at{760, 60}, at{1500, 350})
	g.sign("front pads", at{240, 150})
	g.sign("rear pad", at{1450, 60})
	g.sign("zero", at{-240, 0})
	g.dim("left_front", "left front", at{240, 0}, at{240, 150})
	g.dim("right_front", "right front", at{240, 0}, at{240, 150})
	g.dim("rear", "rear", at{1450, 0}, at{1450, 60})
	g.dim("setback", "setback", at{-240, 150}, at{240, 150})
	return g.done()
}

// tape is a measurement between two points of the survey, or what one of its kind is.
func tape(r *row) (Drawing, bool) {
	from, ok1 := r.a.Build.PointNamed(r.text("from"))
	to, ok2 := r.a.Build.PointNamed(r.text("to"))
	as := r.text("as")
	if ok1 && ok2 && from.Known && to.Known && (as == "" || as == "distance") {
		id := "row." + r.path
		s := r.built.With(scene.Witness{ID: id, Label: from.Name, At: from.At}).With(scene.Witness{ID: id, Label: to.Name, At: to.At})
		s.Dimensions = append(s.Dimensions, scene.Dimension{ID: id, From: from.At, To: to.At, Fine: true, Of: "distance",
			Value: assess.Exact(r3.Norm(r3.Sub(to.At, from.At)))})
		d := Drawing{Scene: s, Lit: id, Views: []view.View{view.FromAbove}}
		for _, v := range []view.View{view.FromLeft, view.FromBehind} {
			if s.Shown(v, id) > s.Shown(d.Views[0], id) {
				d.Views[0] = v
			}
		}
		return d, s.Shown(d.Views[0], id) > 0
	}
	g := r.figure("from one mark to the other")
	a, b, c := at{0, 0}, at{520, 120}, at{300, 220}
	switch as {
	case "height":
		g.line(scene.RoleGround, a, at{520, 0})
		g.dim(r.key(), "height of to above from", at{520, 0}, b)
	case "offset":
		g.line(scene.RoleLeader, a, b)
		g.sign("at", c)
		foot := at{266 + 22, 66}
		g.dim(r.key(), "aside of the string", foot, c)
	case "square":
		g.sign("at", at{0, 200})
		g.line(scene.RoleLeader, at{0, 200}, a)
		g.line(scene.RoleLeader, at{0, 200}, at{520, 200})
		g.dim(r.key(), "out of square", b, at{520, 200})
	default:
		g.dim(r.key(), "distance", a, b)
	}
	g.sign("from", a)
	g.sign("to", b)
	return g.done()
}
