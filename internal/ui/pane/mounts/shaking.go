package mounts

import (
	"strconv"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// shakingItems are the ways in which the powertrain swings on its mounts, and what of
// the engine's shaking reaches the frame.
func shakingItems(w int, v pane.View) []pane.Item {
	s := v.A.Shaking
	if s == nil || !s.Begun {
		return pane.Says(w, theme.Text, "Nothing of the rubber yet. On the data page, under a mount, give its rates or its hardness and size, "+
			"and under the powertrain its moments of inertia, idle and cruise: then it is followed how the powertrain shakes on its mounts.")
	}
	var out []pane.Item
	if s.Why != "" {
		out = append(out, pane.Says(w, theme.Doubt, "How it swings is not worked out: "+s.Why+".")...)
	}
	out = append(out, swings(w, v)...)
	out = append(out, passedOn(w, v, &s.Idle, "idle", finding.MountsShakeIdle)...)
	out = append(out, passedOn(w, v, &s.Cruise, "cruise", finding.MountsShakeCruise)...)
	out = append(out, rollAxis(w, v)...)
	out = append(out, leaning(w, v)...)
	for _, a := range s.Assumes {
		out = append(out, pane.Says(w, theme.Dim, "Assumed: "+a+".")...)
	}
	return out
}

// swings are the six modes.
func swings(w int, v pane.View) []pane.Item {
	s := v.A.Shaking
	if len(s.Modes) == 0 {
		return nil
	}
	t := newTable(w, 1, v)
	t.Width = max(t.Width, 9)
	t.Heading("swings by itself, "+quantity.UnitName(quantity.Frequency, v.Units()), "")
	for i := range s.Modes {
		m := &s.Modes[i]
		d := v.Digits(quantity.Frequency)
		more := []string{m.Said(v.Units()) + "."}
		if pm := v.Around(quantity.Frequency, m.Frequency, d); pm != "" {
			more = append(more, "It is "+v.Number(quantity.Frequency, m.Frequency, d)+" "+pm+", by what is known of rubber and weight.")
		}
		if m.Soften != "" {
			more = append(more, "The "+m.Soften+" holds "+percent(m.Share)+" of it: softening that lowers it most.")
		}
		name, with, _ := strings.Cut(m.Words, " with ")
		if with != "" {
			name += ", " + with
		}
		t.Row(t.Cells(name, t.Cell(quantity.Frequency, m.Frequency)), more)
		t.Out[len(t.Out)-1].Subject = "mounts.mode." + strconv.Itoa(i+1) // the sketch shows it at both ends
	}
	return t.Out
}

func percent(x float64) string { return strconv.Itoa(int(100*x+0.5)) + " %" }

// passedOn is what of the shaking at one speed reaches the frame.
func passedOn(w int, v pane.View, o *assess.OrderPassed, at, id string) []pane.Item {
	if !o.Asked {
		return nil
	}
	t := figures(w, v)
	t.Heading("at "+at+", part that reaches the frame", "")
	for _, r := range []struct {
		label, about string
		k            quantity.Kind
		m            assess.Number
		id           string
	}{
		{"fires at", "Turns a second times half the cylinders: in a four-stroke engine each fires once in two turns.", quantity.Frequency, o.Firing, ""},
		{"torque about the crank", "Of the firing's torque about the crankshaft, with all six ways of swinging together.", quantity.Number, o.Roll, ""},
		{"shaking up and down", "Of a shaking up and down at the firing's frequency, as an in-line four has it.", quantity.Number, o.Up, ""},
		{"the larger of the two", "This is judged.", quantity.Number, o.Worst, id},
		{"once a turn", "Of a shaking once a turn, up and down or sideways, the larger: what an unbalanced flywheel, clutch or damper is felt by. It is not judged.", quantity.Number, o.Once, ""},
	} {
		more := []string{r.about}
		if pm := v.Around(r.k, r.m, v.TableDigits(r.k)); pm != "" {
			more = append(more, "It is "+v.Number(r.k, r.m, v.TableDigits(r.k))+" "+pm+".")
		}
		if !r.m.Known && r.m.Why != "" {
			more = []string{r.label + ": not known. " + r.m.Why + "."}
		}
		t.Row(t.Cells(r.label, t.Cell(r.k, r.m)), more, pane.Findings(v, r.id)...)
	}
	return t.Out
}

// rollAxis is what it turns about, and what it weighs against being turned.
func rollAxis(w int, v pane.View) []pane.Item {
	s := v.A.Shaking
	if !s.Roll.Known {
		return nil
	}
	t := figures(w, v)
	t.Heading("under torque along the crank it turns about", "")
	r := s.Roll.V
	t.Row(t.Cells("torque-roll axis, off the crank", t.number(quantity.Angle, r.FromCrank)), []string{
		"Through its centre of mass, shaken fast: mounts on a line along that axis pass least of the torque on as other motion."})
	t.Out[len(t.Out)-1].Subject = "mounts.roll_axis"
	t.Row(t.Cells("held axis, off the crank", t.number(quantity.Angle, r.HeldOff)), []string{
		"On its springs under a steady torque. The nearer it lies to the torque-roll axis, the less it shakes any other way."})
	t.Row(t.Cells("held axis, above its centre", t.number(quantity.Length, r.Above)), []string{"Where the held axis passes its centre of mass; below it where negative."})
	from := "As the file has it."
	if s.Guessed {
		from = "Estimated from its pieces, each as heavy as it is large; put powertrain.inertia in the file when it is known."
	}
	for i, label := range []string{"inertia, about the crank", "inertia, across the crank", "inertia, upright"} {
		t.Row(t.Cells(label, t.number(quantity.Inertia, s.Inertia[i].V)), []string{from})
	}
	return t.Out
}

// leaning are the elastic centres of mounts that lean.
func leaning(w int, v pane.View) []pane.Item {
	t := figures(w, v)
	for _, x := range v.A.Shaking.Pairs {
		t.Heading("the "+finding.Spoken(x.Name)+" mounts, leaning", "")
		t.Row(t.Cells("elastic centre, above the pads", t.number(quantity.Length, x.Height)), []string{
			"A push to the side there shifts them and does not turn them: h = a (kp − ks) s c / (kp s² + ks c²) for two alike, a half their distance, s and c of their lean."})
		t.Row(t.Cells("and above the centre of mass", t.number(quantity.Length, x.AboveCentre)), []string{"The nearer to nothing, the less a sideways shake rolls it."})
		t.Row(t.Cells("together, up", t.number(quantity.Rate, x.Up)), nil)
		t.Row(t.Cells("together, to the side", t.number(quantity.Rate, x.Side)), nil)
	}
	return t.Out
}
