package subframe

import (
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// Values lists the numbers of all subframes.
func (r *Result) Values(l *finding.List) {
	put := func(name string, k quantity.Kind, m finding.Number) {
		l.Number(name, k, m)
		if m.Known {
			l.Uncertainty(name, k, m)
		}
	}
	for _, s := range r.Each {
		id := "subframe." + s.Name + "."
		put(id+"now.station", quantity.Length, s.Now.Station)
		put(id+"now.offset", quantity.Offset, s.Now.Right)
		put(id+"now.height", quantity.Length, s.Now.Height)
		put(id+"now.heading", quantity.Heading, s.Now.Heading)
		put(id+"now.slope", quantity.Slope, s.Now.Slope)
		put(id+"now.roll", quantity.Angle, s.Now.Roll)
		for _, m := range s.Lines {
			if m.Angle { // a gauge is no entry of the survey's measurements
				at := id + m.Key + "."
				put(at+"read", quantity.Angle, finding.Exact(m.Value.V))
				put(at+"off", quantity.Angle, finding.Exact(-m.V))
			}
		}
		for _, p := range s.Points {
			at := id + p.Path + "."
			put(at+"move.back", quantity.Length, p.Move[0])
			put(at+"move.right", quantity.Length, p.Move[1])
			put(at+"move.up", quantity.Length, p.Move[2])
			put(at+"over_rail.now", quantity.Length, p.Over)
			put(at+"over_rail.set", quantity.Length, p.Set)
		}
	}
}
