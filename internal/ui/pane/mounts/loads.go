package mounts

import (
	"math"
	"strconv"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// loadItems are what the mounts carry, how the powertrain sits on its rubber,
// and what the swap does to the axles.
func loadItems(w int, v pane.View) []pane.Item {
	out := carried(w, v)
	out = append(out, beside(w, v)...)
	out = append(out, torque(w, v)...)
	out = append(out, rubber(w, v)...)
	out = append(out, settled(w, v)...)
	out = append(out, loaded(w, v)...)
	out = append(out, axles(w, v)...)
	if len(out) == 0 {
		return pane.Says(w, theme.Text, "No loads yet. They need the powertrain's mass and centre of mass, typed on the data page; with its torque and gears full torque is followed too, "+
			"and with each mount's rubber, how far it sinks.")
	}
	return out
}

// carried are the upward loads on each mount: at rest, the least and the most.
func carried(w int, v pane.View) []pane.Item {
	s := v.A.Statics
	t := newTable(w, 3, v)
	for i, m := range s.Mounts {
		fs := pane.Findings(v, finding.MountLifts(m.Spec.Name), finding.MountCaptive(m.Spec.Name), finding.MountSolid(m.Spec.Name))
		if len(fs) == 0 {
			continue
		}
		if len(t.Out) == 0 {
			t.Heading("screening, in "+quantity.UnitName(quantity.Force, v.Units()), "rest", "least", "most")
		}
		cells, more := []string{"-", "-", "-"}, []string(nil)
		up := func(c int) string { return t.Cell(quantity.Force, known(m.Force[c].Z)) }
		switch {
		case len(m.Force) == 0:
		case s.Partial != "":
			cells[0] = up(0)
		default:
			cells = []string{up(0), up(m.Least), up(m.Most)}
			more = append(more, "Least: "+s.Cases[m.Least].Name+". Most: "+s.Cases[m.Most].Name+".", level(m, v))
		}
		if i == 0 && s.Basis != "" {
			more = append(more, "These are "+s.Basis+".")
		}
		t.Row(t.Cells(m.Label, cells...), more, fs...)
	}
	if len(t.Out) > 0 && s.Partial != "" {
		t.Out = append(t.Out, pane.Says(w, theme.Doubt, "Loads along and across, and all but those at rest, are not known: "+s.Partial+".")...)
	}
	return t.Out
}

// beside are what torque links and roll stops carry.
func beside(w int, v pane.View) []pane.Item {
	s := v.A.Statics
	t := newTable(w, 3, v)
	force := quantity.UnitName(quantity.Force, v.Units())
	for i := range s.Links {
		l := &s.Links[i]
		if i == 0 {
			t.Heading("torque links, "+force+", pulled +", "rest", "pulled", "pushed")
		}
		cells, more := []string{"-", "-", "-"}, []string(nil)
		if len(l.Pull) > 0 {
			pull, push := extremes(l.Pull)
			cell := func(c int) string { return t.Cell(quantity.Force, known(l.Pull[c])) }
			cells = []string{cell(0), cell(pull), cell(push)}
			more = append(more, "Pulled most: "+s.Cases[pull].Name+". Pushed most, or pulled least: "+s.Cases[push].Name+".")
		}
		t.Row(t.Cells(l.Label, cells...), more, pane.Findings(v, finding.TorqueLinkLoad(l.Spec.Name))...)
	}
	for i := range s.Stops {
		q := &s.Stops[i]
		if i == 0 {
			t.Heading("roll stops, "+quantity.UnitName(quantity.Length, v.Units())+", "+force, "play", "pressed", "carries")
		}
		cells, more := []string{t.Cell(quantity.Length, q.Play), "-", "-"}, []string{"Play is the least that is left at rest; pressed in by, and carries, at most."}
		if len(q.Force) > 0 {
			cells[1], cells[2] = t.Cell(quantity.Length, known(math.Abs(q.Pressed[q.Worst]))), t.Cell(quantity.Force, known(q.Force[q.Worst]))
			if q.Force[q.Worst] > 0 {
				more = append(more, "Pressed most: "+s.Cases[q.Worst].Name+".")
			}
		}
		t.Row(t.Cells(q.Label, cells...), more, pane.Findings(v, finding.RollStopPlay(q.Spec.Name), finding.RollStopLoad(q.Spec.Name))...)
	}
	return t.Out
}

// extremes are the places of the largest and of the smallest.
func extremes(vs []float64) (most, least int) {
	for i, x := range vs {
		if x > vs[most] {
			most = i
		}
		if x < vs[least] {
			least = i
		}
	}
	return most, least
}

// level says the largest loads of a mount along and across the vehicle.
func level(m assess.MountLoads, v pane.View) string {
	most := func(of func(c int) float64) string {
		at := 0
		for c := range m.Force {
			if math.Abs(of(c)) > math.Abs(of(at)) {
				at = c
			}
		}
		return v.Number(quantity.Force, known(math.Abs(of(at))), v.Digits(quantity.Force)) + " (" + v.A.Statics.Cases[at].Name + ")"
	}
	return "Most fore and aft: " + most(func(c int) float64 { return m.Force[c].X }) +
		"; to the side: " + most(func(c int) float64 { return m.Force[c].Y }) + "."
}

// torque is what turns the powertrain on its mounts: by the engine and the
// gears, and what the wheels let through.
func torque(w int, v pane.View) []pane.Item {
	s := v.A.Statics
	if !s.Torque.Known && s.TorqueWhy == "" {
		return nil
	}
	t := newTable(w, 1, v)
	t.Width = max(t.Width, 12)
	t.Heading("full torque, "+quantity.UnitName(quantity.Torque, v.Units()), "")
	for _, r := range []struct {
		label, about string
		m            assess.Number
	}{
		{"by engine and gears", "Peak engine torque through the lowest gear, and through low range where its case hangs on the gearbox.", s.Gear},
		{"wheels slip at", "Friction times the laden load on the driven axles, at the powertrain's output.", s.Slip},
		{"on the mounts", "The smaller of the two governs; all lines share it.", s.Torque},
	} {
		more := []string{r.about}
		if !r.m.Known {
			more = append(more, "Not known: "+r.m.Why+".")
		}
		t.Row(t.Cells(r.label, t.Cell(quantity.Torque, r.m)), more)
	}
	if s.ReverseWhy != "" {
		t.Out = append(t.Out, pane.Says(w, theme.Doubt, "Reverse is left out: "+s.ReverseWhy+".")...)
	}
	return t.Out
}

// rubber are the isolators' rates and how far each sinks.
func rubber(w int, v pane.View) []pane.Item {
	is := v.A.Isolators
	if !is.Begun {
		return nil
	}
	t := newTable(w, 2, v)
	t.Heading("isolators, "+quantity.UnitName(quantity.Rate, v.Units())+", "+quantity.UnitName(quantity.Length, v.Units()), "rate up", "sinks")
	for i, m := range v.A.Statics.Mounts {
		rate, more := "-", []string(nil)
		if i < len(is.Each) {
			r := is.Each[i]
			rate = t.Cell(quantity.Rate, known(r.Rates.Z))
			num := func(x float64) string { return v.Number(quantity.Rate, known(x), v.Digits(quantity.Rate)) }
			switch {
			case r.Solid:
				rate = "solid"
				more = append(more, "Bolted solid: it does not give; "+r.Note+".")
			case r.Estimated:
				more = append(more, "Rate up "+num(r.Rates.Z)+", between "+num(r.Low.Z)+" and "+num(r.High.Z)+"; across "+num(r.Rates.Y)+", along "+num(r.Rates.X)+". "+r.Note+".")
			default:
				more = append(more, "Rate up "+num(r.Rates.Z)+", across "+num(r.Rates.Y)+", along "+num(r.Rates.X)+", "+r.Note+".")
			}
		}
		if i < len(is.Sag) {
			if pm := v.Around(quantity.Length, is.Sag[i], v.Digits(quantity.Length)); pm != "" {
				more = append(more, "It sinks "+v.Number(quantity.Length, is.Sag[i], v.Digits(quantity.Length))+" "+pm+".")
			}
			t.Row(t.Cells(m.Label, rate, t.Cell(quantity.Length, is.Sag[i])), more)
		}
	}
	if is.Why != "" {
		t.Out = append(t.Out, pane.Says(w, theme.Doubt, "Not worked out: "+is.Why+".")...)
	}
	return t.Out
}

// settled is the whole powertrain on its rubber.
func settled(w int, v pane.View) []pane.Item {
	is := v.A.Isolators
	if !is.Begun {
		return nil
	}
	t := newTable(w, 1, v)
	t.Width = max(t.Width, 15)
	t.Heading("on its isolators", "")
	for _, r := range []struct {
		label string
		k     quantity.Kind
		m     assess.Number
		id    string
	}{
		{"sinks, at its middle", quantity.Length, is.Drop, finding.MountsSag},
		{"tilts by", quantity.Slope, is.Tilt, ""},
		{"slope then", quantity.Slope, is.Slope, ""},
		{"rocks, full torque", quantity.Angle, is.Rock, finding.MountsRock},
		{"bounces at", quantity.Frequency, is.Bounce, ""},
		{"fires at idle at", quantity.Frequency, is.Firing, ""},
		{"shaking let through", quantity.Number, is.Passed, finding.MountsIsolation},
	} {
		d := v.TableDigits(r.k)
		more := []string{r.label + ": " + v.Number(r.k, r.m, d)}
		if pm := v.Around(r.k, r.m, d); pm != "" {
			more[0] += " " + pm
		}
		more[0] += "."
		if !r.m.Known {
			more = []string{r.label + ": not known. " + r.m.Why + "."}
		}
		cell := v.Number(r.k, r.m, d)
		if r.k == quantity.Slope || !r.m.Known {
			cell = t.Cell(r.k, r.m)
		}
		t.Row(t.Cells(r.label, cell), more, pane.Findings(v, r.id)...)
	}
	return t.Out
}

// loaded are the joint angles with the weight on, beside those as hung.
func loaded(w int, v pane.View) []pane.Item {
	t := newTable(w, 2, v)
	for _, l := range v.A.Isolators.Loaded {
		t.Heading(l.Line+" line, "+quantity.UnitName(quantity.Angle, v.Units()), "hung", "loaded")
		for _, line := range v.A.Lines {
			if line.Name != l.Line {
				continue
			}
			for i, m := range l.Joints {
				more := []string{"Planned angle as the powertrain hangs, and with its weight on the mounts."}
				if pm := v.Around(quantity.Angle, m, 2); pm != "" {
					more = append(more, "The estimated rates leave it "+pm+".")
				}
				t.Row(t.Cells("joint "+strconv.Itoa(i+1), t.Cell(quantity.Angle, line.Joints[i].Planned), t.Cell(quantity.Angle, m)), more)
			}
		}
	}
	return t.Out
}

// axles are the change of load and of ride height over each axle.
func axles(w int, v pane.View) []pane.Item {
	if len(v.A.RideLevel) == 0 {
		return nil
	}
	t := newTable(w, 2, v)
	t.Heading("axles, "+quantity.UnitName(quantity.Mass, v.Units())+", "+quantity.UnitName(quantity.Length, v.Units()), "load", "height")
	for _, r := range v.A.RideLevel {
		var more []string
		if r.Load.Known {
			more = append(more, "It weighs "+v.Number(quantity.Mass, r.Load, v.Digits(quantity.Mass))+" on the scales then.")
		}
		t.Row(t.Cells(r.Axle+" axle, change", t.Cell(quantity.Mass, r.LoadChange), t.Cell(quantity.Length, r.Height)), more,
			pane.Findings(v, finding.AxleHeight(r.Axle))...)
	}
	return t.Out
}
