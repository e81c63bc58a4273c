package meant

// rows are the ways to draw rows of their own, by the row's path with a star for each
// name.
var rows = map[string]func(*row) (Drawing, bool){
	"rails.left.points":             railPoints,
	"rails.right.points":            railPoints,
	"powertrain.output":             or(standPoint, standFigure),
	"powertrain.centre_of_mass":     or(standPoint, standFigure),
	"old_powertrain.centre_of_mass": or(vehiclePoint, boxFigure),
	"mount.*.leg.weld.size":         fillet,
	"point.*.station":               measured,
	"point.*.offset":                measured,
	"point.*.height":                measured,
	"survey.widths":                 widths,
	"reading.shown":                 gaugeOn,
	"reading.aside":                 byTape,
	"reading.over":                  byTape,
	"measure.lengths":               tape,
	"measure.angles":                slope("the gauge against level", "shown"),
	"weld.side.*.length":            bead,
	"stock.section":                 stock,
	"stock.length":                  stock,
	"shop.kerf":                     saw,
	"shop.trim":                     saw,
	"shop.mitre":                    saw,
	"shop.tilt":                     saw,
}

// tables are the ways to draw whatever a table has, by its path.
var tables = []struct {
	prefix string
	draw   func(*row) (Drawing, bool)
}{
	{"vehicle", vehicle},
	{"rails.left", railSection},
	{"rails.right", railSection},
	{"powertrain.pads", or(standPoint, standFigure)},
	{"powertrain.part", standPart},
	{"placement", placement},
	{"mount.*", mountRow},
	{"mount.*.leg", legOr},
	{"mount.*.built", legOr},
	{"mount.*.leg.pad_plate", plate},
	{"mount.*.leg.rail_plate", plate},
	{"line.*", lineRow},
	{"line.*.first", pinionRow},
	{"line.*.pinion", pinionRow},
	{"line.*.joint", jointRow},
	{"line.*.shaft", shaftRow},
	{"line.*.suspension", suspensionRow},
	{"line.*.suspension.link", linkRow},
	{"line.*.suspension.pivot", linkRow},
	{"line.*.suspension.half_shaft", halfShaftRow},
	{"line.*.suspension.part", chassisPart},
	{"chassis", chassisPart},
	{"subframe.*", subframeRow},
	{"subframe.*.wanted", wantedRow},
	{"subframe.*.point", benchOnly},
	{"subframe.*.part", benchPoint},
}
