package meant

import (
	"math"

	"fitup/internal/scene"
)

// steeringRow is a row of the steering shaft itself.
func steeringRow(r *row) (Drawing, bool) {
	switch r.key() {
	case "column", "input":
		return or(vehiclePoint, steeringFigure)(r)
	case "straight_ahead":
		return straightAhead(r)
	}
	return steeringFigure(r)
}

// steeringFigure is column, shaft and input from the left.
func steeringFigure(r *row) (Drawing, bool) {
	g := r.figure("the steering shaft from the left")
	column, input := at{420, 240}, at{0, 0}
	wheel := at{column[0] + 220, column[1] + 90}
	box := at{input[0] - 150, input[1] - 60}
	g.line(scene.RoleShaft, wheel, column)
	g.line(scene.RoleShaft, column, input)
	g.line(scene.RoleShaft, input, box)
	g.line(scene.RoleBody, at{wheel[0] - 60, wheel[1] + 130}, at{wheel[0] + 60, wheel[1] - 130})
	g.box(scene.RoleChassis, at{box[0] - 90, box[1] - 60}, at{box[0] + 20, box[1] + 50})
	g.circle(scene.RoleJoint, column, 16)
	g.circle(scene.RoleJoint, input, 16)
	switch r.key() {
	case "column", "at":
		g.meant(column)
	case "input":
		g.meant(input)
	case "column_axis":
		g.arrow("column axis", wheel, column)
	case "input_axis":
		g.arrow("input axis", input, box)
	case "shorten":
		g.dim("shorten", "it can shorten by", at{column[0] - 80, column[1] - 46}, column)
	case "gap", "gap_rocked":
		g.box(scene.RoleBody, at{180, -140}, at{420, 60})
		g.dim(r.key(), "room to the powertrain", at{250, 60}, at{250, 143})
	}
	return g.done()
}

// straightAhead is the yoke at the column's end, as the driver sees it.
func straightAhead(r *row) (Drawing, bool) {
	by := 0.4
	if v, ok := r.number(r.path); ok && math.Abs(v) > 0.05 {
		by = v
	}
	g := r.figure("the yoke at the column's end, wheels straight ahead, as the driver sees it")
	end := func(a, d float64) at { return at{d * math.Sin(a), d * math.Cos(a)} }
	g.circle(scene.RoleShaft, at{}, 38)
	g.dashed(end(0, 90), end(math.Pi, 90))
	g.named("ears", scene.RoleJoint, end(by, 70), end(by+math.Pi, 70))
	g.angle("straight_ahead", "ears off upright", at{}, math.Pi/2, math.Pi/2-by, 60)
	return g.done()
}

// steeringShaftRow is a row of one of its shafts.
func steeringShaftRow(r *row) (Drawing, bool) {
	if r.key() != "diameter" {
		return shaftRow(r)
	}
	g := r.figure("the shaft, across")
	g.circle(scene.RoleShaft, at{}, 50)
	g.dim("diameter", "outside", at{0, -50}, at{0, 50})
	return g.done()
}
