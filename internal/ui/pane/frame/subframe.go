package frame

import (
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

func subframePage() pane.Leaf { return pane.Leaf{Name: "subframe", Items: subframeItems, Key: shown} }

// noSubframe says how a subframe is begun.
func noSubframe(w int) []pane.Item {
	return pane.Says(w, theme.Text, "No subframe yet. On the data page, begin [subframe.front] in the chapter of the subframe, give each of its points a name and where it is on the bench, "+
		"then hang it and take tapes and heights from points of the rails to those points with m: this page then says which way and how far each corner has to move.")
}

// subframeItems are where each subframe hangs, and how far its corners have to move.
func subframeItems(w int, v pane.View) []pane.Item {
	if len(v.A.Subframes) == 0 {
		return noSubframe(w)
	}
	var out []pane.Item
	for _, s := range v.A.Subframes {
		out = append(out, hungItems(s, w, v)...)
		out = append(out, moveItems(s, w, v)...)
		out = append(out, readItems(s, w, v)...)
	}
	return append(out, pane.Says(w, theme.Dim, "After a corner is moved, take again what was measured to it. Brackets that carry the axle and the steering are for qualified people to weld and to look at.")...)
}

// hungItems are how it hangs against how it is to.
func hungItems(s *assess.Subframe, w int, v pane.View) []pane.Item {
	t := pane.NewTable(w, 2, v)
	unit := quantity.UnitName(quantity.Length, v.Units())
	t.Heading(finding.Spoken(s.Name)+" subframe"+afterWords(string(s.After))+", "+unit, "out by", "±")
	row := func(name string, k quantity.Kind, m assess.Number, id string) {
		t.Row(t.Cells(name, t.Cell(k, m.Unsigned()), sure(t, k, m)), nil, pane.Findings(v, id)...)
	}
	o := s.Out
	row(o.Station.Sided("too far forward", "too far back", "along"), quantity.Length, o.Station, finding.SubframeWheelbase(s.Name))
	row(o.Right.Sided("to the left", "to the right", "across"), quantity.Length, o.Right, finding.SubframeCentre(s.Name))
	row(o.Height.Sided("too low", "too high", "in height"), quantity.Length, o.Height, finding.SubframeHeight(s.Name))
	row(o.Heading.Sided("rear to the left, deg", "rear to the right, deg", "turned, deg"), quantity.Angle, o.Heading, finding.SubframeSquare(s.Name))
	row(o.Roll.Sided("right side low, deg", "left side low, deg", "leaning to a side, deg"), quantity.Angle, o.Roll, finding.SubframeLevel(s.Name))
	row(o.Slope.Sided("rear high, deg", "rear low, deg", "leaning along, deg"), quantity.Angle, o.Slope, finding.SubframeRake(s.Name))
	if s.Why != "" {
		t.Out = append(t.Out, pane.Says(w, theme.Doubt, "Where it hangs is not known: "+s.Why+".")...)
	}
	for _, x := range s.Suspects {
		t.Out = append(t.Out, subframeSuspect(s, x, w, v))
	}
	return t.Out
}

// moveItems are which way and how far each point has to move.
func moveItems(s *assess.Subframe, w int, v pane.View) []pane.Item {
	t := pane.NewTable(w, 3, v)
	unit := quantity.UnitName(quantity.Length, v.Units())
	t.Heading("to move, "+unit, "back", "right", "up")
	var rails []pane.Item
	u := pane.NewTable(w, 2, v)
	u.Heading("over the rail, "+unit, "now", "set")
	for _, p := range s.Points {
		var cells, around []string
		for k, m := range p.Move {
			cells = append(cells, t.Cell(quantity.Length, m))
			if m.Known {
				around = append(around, [3]string{"back", "right", "up"}[k]+" "+v.Number(quantity.Length, m, v.Digits(quantity.Length))+v.Around(quantity.Length, m, v.Digits(quantity.Length)))
			}
		}
		var more []string
		if len(around) == 3 {
			more = []string{strings.Join(around, ", ") + "; below zero forward, to the left and down."}
		}
		var fs []assess.Finding
		if p.Corner {
			fs = pane.Findings(v, finding.SubframeCorner(s.Name, p.Path))
		}
		t.Row(t.Cells(p.Name, cells...), more, fs...)
		if p.Corner && (p.Over.Known || p.Set.Known) {
			u.Row(u.Cells(p.Name, u.Cell(quantity.Length, p.Over), u.Cell(quantity.Length, p.Set)),
				[]string{p.Name + ": how far it stands over the top edge of the rail on its side, as it hangs and where it is to be: what its bracket has to bridge."})
			rails = u.Out
		}
	}
	return append(t.Out, rails...)
}

// readItems are what was measured to it, with how far each is from what the others say.
func readItems(s *assess.Subframe, w int, v pane.View) []pane.Item {
	t := pane.NewTable(w, 2, v)
	t.Heading("measured, "+quantity.UnitName(quantity.Length, v.Units()), "read", "off")
	t.Row(t.Cells("largest misfit, in its own ±", value(t, finding.SubframeFit(s.Name))), nil, pane.Findings(v, finding.SubframeFit(s.Name))...)
	t.Row(t.Cells("slip that could hide", value(t, finding.SubframeHidden(s.Name))), nil, pane.Findings(v, finding.SubframeHidden(s.Name))...)
	for _, l := range s.Lines {
		k := quantity.Length
		if l.Angle {
			k = quantity.Angle
		}
		off := t.Cell(k, assess.Exact(-l.V))
		finds := "Nothing checks it: a slip in it of any size is hidden."
		if l.Redundancy > 0 {
			finds = fmt.Sprintf("%.1f of its own standard uncertainties; a slip of %s would be found four times in five.", math.Abs(l.W), v.Number(k, assess.Exact(l.Detectable), v.Digits(k)))
		}
		it := pane.Item{Stop: true, Role: theme.Text}
		if l.Out {
			off, finds, it.Role = "out", "It is left out, because it does not fit the others.", theme.Danger
		}
		name := l.Name
		if l.Angle {
			name += ", deg"
		}
		it.Text = []string{t.Cells(name, t.Cell(k, assess.Exact(l.Value.V)), off)}
		it.Advice = []string{l.Name + ": " + finds}
		it.Subject = "subframe." + s.Name + ".measure." + fmt.Sprint(l.Index+1)
		t.Out = append(t.Out, it)
	}
	return t.Out
}

// subframeSuspect is a measurement that does not fit.
func subframeSuspect(s *assess.Subframe, x assess.SubframeSuspect, w int, v pane.View) pane.Item {
	k := quantity.Length
	if x.Angle {
		k = quantity.Angle
	}
	way := " more"
	if x.Off < 0 {
		way = " less"
	}
	head := v.Theme.Sign(theme.Over) + " " + x.Line.Name + " reads " + v.Number(k, assess.Exact(math.Abs(x.Off)), v.Digits(k)) + way
	advice := []string{x.Line.Name + " does not fit what else was measured: take it again."}
	switch {
	case x.Out:
		head += ", left out"
		advice = []string{"It alone explains what does not fit, and is left out until it is taken again."}
	case len(x.Alike) > 0:
		advice = append(advice, "A slip in it cannot be told from one in "+strings.Join(x.Alike, ", ")+".")
	}
	return pane.Item{Text: theme.Wrap(v.Theme.Plain(project.Printable(head)), max(w-2, 1)), Stop: true, Subject: finding.SubframeFit(s.Name), Role: theme.Danger, Advice: advice}
}
