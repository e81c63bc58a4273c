package reading

import (
	"strconv"
	"strings"

	"fitup/internal/assess/finding"
	"fitup/internal/geom/seat"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Values lists what was read, what it amounts to and where the powertrain hung
// then, as far as the file says so: of is what it has, the readings that g is of.
func (g *Readings) Values(of []project.Reading, l *finding.List) {
	for i, r := range of {
		list(l, "reading."+strconv.Itoa(i+1), r, g.Slopes[i])
	}
}

func list(l *finding.List, name string, r project.Reading, slope finding.Number) {
	v, ok := r.Shown.Get()
	l.Put(name+".shown", quantity.Angle, v, ok)
	l.Number(name+".slope", quantity.Slope, slope)
	if r.InPlan() {
		l.Add(name+".aside", quantity.Offset, r.Aside.V())
		l.Add(name+".over", quantity.Length, r.Over.V())
	}
	p, ok := r.Placed.Seat()
	if !ok {
		return
	}
	for _, row := range seat.Written() {
		for _, info := range project.PlacementRows() {
			if info.Row == row {
				l.Add(name+strings.Replace(info.Name, "placement", ".placed", 1), info.Kind, *p.At(row))
			}
		}
	}
}
