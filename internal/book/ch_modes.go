package book

import (
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
)

// modes is how the powertrain shakes on its mounts.
func (m *maker) modes(s *Sheet) {
	x := m.a.Shaking
	if x == nil || !x.Begun {
		s.add("", text(0, "Nothing of the mounts' rubber yet. It needs their rates, or hardness and size, and mass, centre of mass and moments of inertia of the powertrain.")...)
		return
	}
	if x.Why != "" {
		s.add("", text(0, "How the powertrain swings is not worked out: "+x.Why+".")...)
	}
	var rows [][]string
	for i := range x.Modes {
		mode := &x.Modes[i]
		holds := ""
		if mode.Soften != "" {
			holds = fmt.Sprintf("the %s, %.0f %%", mode.Soften, 100*mode.Share)
		}
		rows = append(rows, []string{mode.Words, m.number(quantity.Frequency, mode.Frequency), holds})
	}
	if len(rows) > 0 {
		s.add("The six ways in which it swings by itself", grid([]string{"way", "frequency", "held most by"}, rows))
	}
	if f, ok := m.swingFigure(); ok && len(rows) > 0 {
		s.add("", figure(f))
	}
	m.passed(s, &x.Idle, "At idle")
	m.passed(s, &x.Cruise, "At cruise")
	m.turnsAbout(s, x)
	rows = nil
	for _, p := range x.Pairs {
		rows = append(rows, []string{finding.Spoken(p.Name), Magnitude(quantity.Length, p.Height, m.u), Magnitude(quantity.Length, p.AboveCentre, m.u),
			Magnitude(quantity.Rate, p.Up, m.u), Magnitude(quantity.Rate, p.Side, m.u)})
	}
	if len(rows) > 0 {
		s.add("Elastic centres of leaning mounts", grid([]string{"mounts", "above the pads", "above the centre of mass", "rate up", "rate to the side"}, rows))
	}
	rows = nil
	for _, a := range x.Assumes {
		rows = append(rows, []string{sentence(a)})
	}
	if len(rows) > 0 {
		s.add("What this assumes", table(0, 0, rows))
	}
}

func (m *maker) passed(s *Sheet, o *assess.OrderPassed, at string) {
	if !o.Asked {
		return
	}
	var rows [][]string
	for _, r := range []struct {
		label string
		k     quantity.Kind
		n     assess.Number
	}{
		{"fires at", quantity.Frequency, o.Firing}, {"of its torque about the crankshaft", quantity.Number, o.Roll},
		{"of a shaking up and down as fast", quantity.Number, o.Up}, {"the larger of the two, which is judged", quantity.Number, o.Worst},
		{"once a turn: of a shaking up and down or sideways", quantity.Number, o.Once},
	} {
		why := ""
		if !r.n.Known && r.n.Why != "" {
			why = sentence(r.n.Why)
		}
		rows = append(rows, []string{r.label, m.number(r.k, r.n), why})
	}
	s.add(at+", part that reaches the frame", table(0, 0, rows))
}

func (m *maker) turnsAbout(s *Sheet, x *assess.OnMounts) {
	if !x.Roll.Known {
		return
	}
	r := x.Roll.V
	from := "as the file has it"
	if x.Guessed {
		from = "estimated from its pieces"
	}
	rows := [][]string{
		{"torque-roll axis, off the crankshaft", Magnitude(quantity.Angle, r.FromCrank, m.u), "through the centre of mass, shaken fast"},
		{"axis on the springs, off the crankshaft", Magnitude(quantity.Angle, r.HeldOff, m.u), "under a steady torque"},
		{"axis on the springs, above the centre of mass", Magnitude(quantity.Length, r.Above, m.u), ""},
	}
	for i, label := range []string{"about the crankshaft's direction", "level, square to it", "upright"} {
		rows = append(rows, []string{"moment of inertia, " + label, Magnitude(quantity.Inertia, x.Inertia[i].V, m.u), from})
	}
	s.add("What it turns about under torque along the crankshaft", table(0, 0, rows))
}
