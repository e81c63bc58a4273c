package book

import (
	"math"

	"fitup/internal/assess"
	"fitup/internal/project/quantity"
)

func (m *maker) loads(s *Sheet) {
	st := m.a.Statics
	if len(st.Mounts) == 0 && !m.a.Isolators.Begun && len(m.a.RideLevel) == 0 {
		s.add("", text(0, "No loads yet. They need powertrain.mass and powertrain.centre_of_mass.")...)
		return
	}
	s.add("", text(0, screening)...)
	m.carried(s)
	m.beside(s)
	m.torques(s)
	m.rubber(s)
	m.strengths(s)
	var rows [][]string
	for _, r := range m.a.RideLevel {
		height := "not known"
		if r.Height.Known {
			height = m.upDown(r.Height.V, "up", "down") + plusMinus(quantity.Length, r.Height.Expanded(), m.u)
		}
		rows = append(rows, []string{r.Axle, m.number(quantity.Mass, r.LoadChange), m.number(quantity.Mass, r.Load), height})
	}
	if len(rows) > 0 {
		s.add("What the swap does to the axles", grid([]string{"axle", "load changes by", "load then", "the body over it moves"}, rows))
	}
}

func (m *maker) carried(s *Sheet) {
	st := m.a.Statics
	if st.Why != "" {
		s.add("What the mounts carry", text(0, "Not known: "+st.Why+".")...)
		return
	}
	var rows [][]string
	force := func(v float64) string { return Magnitude(quantity.Force, v, m.u) }
	for _, l := range st.Mounts {
		switch {
		case len(l.Force) == 0:
			rows = append(rows, []string{l.Label, "not known", "", "", "", ""})
		case st.Partial != "":
			rows = append(rows, []string{l.Label, force(l.Force[0].Z), "not known", "not known", "not known", "not known"})
		default:
			along, across := 0.0, 0.0
			for _, f := range l.Force {
				along, across = max(along, math.Abs(f.X)), max(across, math.Abs(f.Y))
			}
			rows = append(rows, []string{
				l.Label, force(l.Force[0].Z), force(l.Force[l.Least].Z) + ", " + st.Cases[l.Least].Name,
				force(l.Force[l.Most].Z) + ", " + st.Cases[l.Most].Name, force(along), force(across),
			})
		}
	}
	if len(rows) == 0 {
		return
	}
	items := []Item{grid([]string{"mount", "upward at rest", "least", "most", "most along", "most across"}, rows)}
	if st.Basis != "" {
		items = append(items, text(0, "These are "+st.Basis+".")...)
	}
	if st.Partial != "" {
		items = append(items, text(0, "Loads along and across, and all but those at rest, are not known: "+st.Partial+".")...)
	}
	s.add("What the mounts carry, screening", items...)
}

func (m *maker) torques(s *Sheet) {
	st := m.a.Statics
	if !st.Torque.Known && st.TorqueWhy == "" {
		return
	}
	var rows [][]string
	for _, r := range []struct {
		label string
		n     assess.Number
	}{{"by engine and gears", st.Gear}, {"at which the wheels slip", st.Slip}, {"on the mounts, the smaller of the two", st.Torque}} {
		why := ""
		if !r.n.Known {
			why = sentence(r.n.Why)
		}
		rows = append(rows, []string{r.label, m.number(quantity.Torque, r.n), why})
	}
	items := []Item{table(0, 0, rows)}
	if st.ReverseWhy != "" {
		items = append(items, text(0, "Reverse is left out: "+st.ReverseWhy+".")...)
	}
	s.add("Full torque", items...)
}

// beside are what torque links and roll stops carry.
func (m *maker) beside(s *Sheet) {
	st := &m.a.Statics
	force := func(v float64) string { return Magnitude(quantity.Force, v, m.u) }
	var rows [][]string
	for i := range st.Links {
		l := &st.Links[i]
		if len(l.Pull) == 0 {
			rows = append(rows, []string{l.Label, "not known", "", ""})
			continue
		}
		way := "pulled"
		if l.Pull[l.Worst] < 0 {
			way = "pushed"
		}
		rows = append(rows, []string{l.Label, force(math.Abs(l.Pull[0])), force(math.Abs(l.Pull[l.Worst])) + ", " + way, st.Cases[l.Worst].Name})
	}
	if len(rows) > 0 {
		s.add("Torque links", grid([]string{"link", "at rest", "most", "when"}, rows))
	}
	rows = nil
	for i := range st.Stops {
		q := &st.Stops[i]
		row := []string{q.Label, m.number(quantity.Length, q.Play), "not known", ""}
		if len(q.Force) > 0 {
			row[2], row[3] = force(q.Force[q.Worst]), "met in no case"
			if q.Force[q.Worst] > 0 {
				row[3] = st.Cases[q.Worst].Name
			}
		}
		rows = append(rows, row)
	}
	if len(rows) > 0 {
		s.add("Roll stops", grid([]string{"stop", "play at rest", "most", "when"}, rows))
	}
}

func (m *maker) rubber(s *Sheet) {
	is := m.a.Isolators
	if !is.Begun {
		return
	}
	if is.Why != "" {
		s.add("On its isolators", text(0, "Not worked out: "+is.Why+".")...)
	}
	var rows [][]string
	for i, l := range m.a.Statics.Mounts {
		if i >= len(is.Each) {
			break
		}
		r := is.Each[i]
		rate := Magnitude(quantity.Rate, r.Rates.Z, m.u)
		switch {
		case r.Solid:
			rate = "solid"
		case r.Estimated:
			rate += ", between " + Magnitude(quantity.Rate, r.Low.Z, m.u) + " and " + Magnitude(quantity.Rate, r.High.Z, m.u)
		}
		sag := ""
		if i < len(is.Sag) {
			sag = m.number(quantity.Length, is.Sag[i])
		}
		rows = append(rows, []string{l.Label, rate, sag, sentence(r.Note)})
	}
	if len(rows) > 0 {
		s.add("Isolators", grid([]string{"mount", "rate up", "sinks", "from"}, rows))
	}
	rows = nil
	for _, r := range []struct {
		label string
		k     quantity.Kind
		n     assess.Number
	}{
		{"sinks, at its middle", quantity.Length, is.Drop}, {"tilts by", quantity.Slope, is.Tilt}, {"slope then", quantity.Slope, is.Slope},
		{"rocks, full torque", quantity.Angle, is.Rock}, {"bounces at", quantity.Frequency, is.Bounce}, {"fires at idle at", quantity.Frequency, is.Firing},
		{"part of the shaking at idle let through", quantity.Number, is.Passed},
	} {
		why := ""
		if !r.n.Known {
			why = sentence(r.n.Why)
		}
		rows = append(rows, []string{r.label, m.number(r.k, r.n), why})
	}
	s.add("The powertrain on its isolators", table(0, 0, rows))
}

// pieces is what of a bracket bends.
func pieces(b *assess.Bracket) string {
	switch {
	case b.Plates != nil:
		return "plate"
	case b.Assembled:
		return "members"
	}
	return "leg"
}

// strengths is what each bracket uses of its strength, by place.
func (m *maker) strengths(s *Sheet) {
	var rows [][]string
	for i := range m.a.Brackets {
		b := &m.a.Brackets[i]
		x := b.Strength
		if !x.Begun {
			continue
		}
		if x.Why != "" {
			rows = append(rows, []string{b.Label, "all of it", "not known", sentence(x.Why)})
			continue
		}
		for _, use := range []struct {
			place, at string
			begun     bool
			of        assess.Number
			when      string
		}{
			{pieces(b), x.Leg.At, x.Leg.Begun, x.Leg.Of, x.Leg.Case}, {"weld", x.Weld.At, x.Weld.Begun, x.Weld.Of, x.Weld.Case},
			{"corner welds", "between its foot and its pad", x.Seams.Begun, x.Seams.Of, x.Seams.Case}, {"grip of the clamp", "on its tube", x.Grip.Begun, x.Grip.Of, x.Grip.Case},
			{"buckling", x.Struts.At, x.Struts.Begun, x.Struts.Of, x.Struts.Case},
			{"bolts", x.Bolts.At, x.Bolts.Begun, x.Bolts.Of, x.Bolts.Case}, {"through bolt", x.Pin.At, x.Pin.Begun, x.Pin.Of, x.Pin.Case},
			{"pad plate", x.PadPlate.At, x.PadPlate.Begun, x.PadPlate.Of, x.PadPlate.Case}, {"rail plate", x.RailPlate.At, x.RailPlate.Begun, x.RailPlate.Of, x.RailPlate.Case},
		} {
			if !use.begun {
				continue
			}
			place := use.place
			if use.at != "" {
				place += ", " + use.at
			}
			when := use.when
			if !use.of.Known {
				when = sentence(use.of.Why)
			}
			rows = append(rows, []string{b.Label, place, m.number(quantity.Number, use.of), when})
		}
	}
	if len(rows) > 0 {
		s.add("Strength used, screening: 1 is all of it", grid([]string{"bracket", "place", "used", "when"}, rows))
	}
}
