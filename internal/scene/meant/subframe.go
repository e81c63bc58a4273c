package meant

import "fitup/internal/scene"

// subframeRow is a row of a subframe itself: the gauge on it.
func subframeRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "slope":
		return slope("the subframe from the left, the front at the left", "shown")(r)
	case "across":
		return slope("the subframe from behind", "shown")(r)
	}
	return Drawing{}, false
}

// wantedRow is where a subframe is to hang.
func wantedRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "rake":
		return slope("the subframe from the left, the front at the left", "wanted")(r)
	case "station":
		g := subframeAbove(r, "the subframe from above, the front at the left; the middle between its wheel centres")
		g.sign("zero", at{-400, 0})
		g.dim("station", "station", at{-400, 0}, at{250, 0})
		return g.done()
	case "height":
		g := r.figure("the subframe from behind; the middle between its wheel centres")
		g.box(scene.RoleChassis, at{-380, -60}, at{380, 60})
		g.circle(scene.RoleWheel, at{-620, 0}, 260)
		g.circle(scene.RoleWheel, at{620, 0}, 260)
		g.dashed(at{-700, 300}, at{700, 300})
		g.sign("zero of height", at{-380, 300})
		g.dim("height", "height", at{0, 300}, at{0, 0})
		return g.done()
	}
	return Drawing{}, false
}

// benchPoint is a point of a subframe on the bench.
func benchPoint(r *row) (Drawing, bool) {
	switch r.key() {
	case "radius":
		return round(r)
	case "gap":
		return room(r)
	case "bench", "from", "to", "at":
	default:
		return Drawing{}, false
	}
	g := subframeAbove(r, "the subframe on the bench from above, its own zero where you choose")
	g.sign("zero", at{0, 0})
	g.meant(at{500, 380})
	g.both(at{}, at{500, 380}, [3]string{"to the rear", "to the right", "up"})
	return g.done()
}

func subframeAbove(r *row, title string) *figure {
	g := r.figure(title)
	for _, side := range []float64{-1, 1} {
		g.box(scene.RoleChassis, at{-40, side * 340}, at{540, side * 410})
	}
	g.box(scene.RoleChassis, at{-40, -340}, at{60, 340})
	g.box(scene.RoleChassis, at{440, -340}, at{540, 340})
	g.center(at{-400, 0}, at{700, 0})
	return g
}

// benchOnly is where a point of a subframe is on the bench; what it is called has no
// place.
func benchOnly(r *row) (Drawing, bool) {
	if r.key() == "bench" {
		return benchPoint(r)
	}
	return Drawing{}, false
}

// markOnly is where a mark is on the powertrain; what it is called has no place.
func markOnly(r *row) (Drawing, bool) {
	if r.key() == "own" {
		return or(standPoint, standFigure)(r)
	}
	return Drawing{}, false
}
