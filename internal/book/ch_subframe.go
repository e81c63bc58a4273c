package book

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// subframe is where each subframe hangs, and how far its corners have to move.
func (m *maker) subframe(s *Sheet) {
	if len(m.a.Subframes) == 0 {
		s.add("", text(0, "No subframe is in the file: [subframe.front] with its points begins one.")...)
		return
	}
	s.add("", text(0, "After a corner is moved, take again what was measured to it. Brackets that carry the axle and the steering are for qualified people to weld and to look at.")...)
	for _, x := range m.a.Subframes {
		m.hung(s, x)
	}
}

func (m *maker) hung(s *Sheet, x *assess.Subframe) {
	head := capital(finding.Spoken(x.Name)) + " subframe"
	var items []Item
	if x.Why != "" {
		items = append(items, text(0, "Where it hangs is not known: "+sentence(x.Why))...)
	}
	for _, q := range x.Suspects {
		items = append(items, text(0, m.subframeSuspect(q))...)
	}
	o := x.Out
	items = append(items, m.figures(
		figureRow{o.Station.Sided("too far forward", "too far back", "along"), quantity.Length, o.Station.Unsigned()},
		figureRow{o.Right.Sided("to the left", "to the right", "across"), quantity.Length, o.Right.Unsigned()},
		figureRow{o.Height.Sided("too low", "too high", "in height"), quantity.Length, o.Height.Unsigned()},
		figureRow{o.Heading.Sided("turned, rear to the left", "turned, rear to the right", "turned"), quantity.Angle, o.Heading.Unsigned()},
		figureRow{o.Roll.Sided("leaning, right side low", "leaning, left side low", "leaning to a side"), quantity.Angle, o.Roll.Unsigned()},
		figureRow{o.Slope.Sided("leaning, rear high", "leaning, rear low", "leaning along"), quantity.Angle, o.Slope.Unsigned()}))
	s.add(head+after(x.After), items...)
	if f, ok := m.planFigure("subframe-"+x.Name, head+" from above", "where it is to hang", m.a.SubframePlan(x.Name)); ok {
		s.add("", figure(f))
	}
	var rows [][]string
	for _, p := range x.Points {
		corner, over, set := "", "", ""
		if p.Corner {
			corner = "corner"
			if p.Over.Known {
				over = m.number(quantity.Length, p.Over)
			}
			if p.Set.Known {
				set = m.number(quantity.Length, p.Set)
			}
		}
		rows = append(rows, []string{p.Name, corner, sentence(assess.SubframeMoves(p, m.u)), over, set})
	}
	if len(rows) > 0 {
		s.add(head+", how far its points have to move", written(1, []string{"point", "", "has to move", "over the rail now", "over the rail as wanted", "measured"}, rows))
	}
	m.against(s, head+", against its limits", func(f *assess.Finding) bool {
		return f.By == finding.SubframeTrade && strings.HasPrefix(f.ID, "subframe."+x.Name+".")
	})
	rows = nil
	for _, l := range x.Lines {
		k := quantity.Length
		if l.Angle {
			k = quantity.Angle
		}
		rows = append(rows, m.residual(l.Name, k, l.Value.V, l.V, l.W, l.Redundancy, l.Detectable, l.Out))
	}
	if len(rows) > 0 {
		s.add(head+", what was measured to it", written(1, []string{"from and to", "read", "off by", "in its own standard uncertainties", "a slip that would be found", "the next"}, rows))
	}
	for _, t := range x.Assumes {
		s.add("", text(0, "Assumed: "+sentence(t))...)
	}
}

// subframeSuspect is a measurement that does not fit, in a sentence or two.
func (m *maker) subframeSuspect(x assess.SubframeSuspect) string {
	k := quantity.Length
	if x.Angle {
		k = quantity.Angle
	}
	return m.misfit(x.Line.Name, k, x.Off, x.Out, "taken", x.Alike)
}
