package assess

import (
	"slices"
	"strconv"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/project"
)

// leftOut has, for the trades whose numbers do not take every typed ± along,
// what their findings say of it. A ± that is passed over in silence would make
// a number look surer than it is.
type leftOut map[finding.Trade]string

// ground are the tables of the file that the numbers of a trade follow from.
var ground = map[finding.Trade][]string{
	finding.TravelTrade:  {"line", "powertrain", "placement", "vehicle"},
	finding.MountTrade:   {"mount", "powertrain", "placement", "vehicle", "old_powertrain", "loads"},
	finding.BracketTrade: {"mount", "rails", "powertrain", "placement", "loads"},
	finding.ClearTrade:   {"line", "powertrain", "placement", "chassis", "mount"}, // of what moves
}

// leftOutOf finds the typed ± of a build that those trades rest on.
func leftOutOf(b *project.Build) leftOut {
	var out leftOut
	stated := b.StatedValues()
	if len(stated) == 0 {
		return nil
	}
	for trade, tables := range ground {
		var paths []string
		for _, v := range stated {
			table, _, _ := strings.Cut(v.Path, ".")
			if table == "point" || slices.Contains(tables, table) {
				paths = append(paths, v.Path)
			}
		}
		if len(paths) == 0 {
			continue
		}
		if out == nil {
			out = leftOut{}
		}
		more := ""
		if n := len(paths) - 2; n > 0 {
			paths, more = paths[:2], " and "+strconv.Itoa(n)+" more"
		}
		out[trade] = "the ± typed of " + strings.Join(paths, ", ") + more + " is not in this number's own"
	}
	return out
}

// say writes it on the findings of a trade that have a number.
func (l leftOut) say(by finding.Trade, found []Finding) {
	what, ok := l[by]
	if !ok {
		return
	}
	for i := range found {
		f := &found[i]
		if !f.HasValue || by == finding.ClearTrade && !finding.Matches(finding.Moving(finding.Clearance("*")), f.ID) {
			continue
		}
		f.Assumes = append(slices.Clone(f.Assumes), what)
	}
}
