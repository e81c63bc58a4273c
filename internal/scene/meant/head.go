package meant

import (
	"strconv"
	"strings"
)

// head is what the build has of a table that the cursor of the data page is on as a whole.
func (r *row) head() (Drawing, bool) {
	line := ""
	if len(r.keys) > 1 {
		line = "line." + r.keys[1]
	}
	switch r.kind {
	case "rails.left", "rails.right", "line.*", "powertrain":
		return r.thing(r.path)
	case "mount.*":
		return r.thing(r.path + ".pad")
	case "mount.*.leg":
		return r.thing("bracket." + r.keys[1])
	case "powertrain.part":
		return r.thing("part." + strconv.Itoa(r.entry()))
	case "chassis":
		if i := r.entry(); i < min(len(r.a.Build.Chassis), len(r.a.Clearances)) {
			return r.thing(r.a.Clearances[i].ID)
		}
	case "line.*.shaft", "line.*.joint":
		return r.thing(line + "." + r.key() + "." + strconv.Itoa(r.entry()+1))
	case "line.*.pinion":
		return r.thing(line + ".pinion")
	case "line.*.suspension":
		return r.thing(line + ".axle")
	}
	return Drawing{}, false
}

// entry is the number of a list's entry, counted from 0.
func (r *row) entry() int {
	_, number, _ := strings.Cut(r.path, "[")
	i, err := strconv.Atoi(strings.TrimSuffix(number, "]"))
	if err != nil {
		return 1 << 30
	}
	return i
}
