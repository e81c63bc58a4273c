package frame

import (
	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
)

func squarePage() pane.Leaf { return pane.Leaf{Name: "square", Items: squareItems, Key: shown} }

// squareItems are whether the frame stands square, and the axles in it.
func squareItems(w int, v pane.View) []pane.Item {
	if !v.A.Frame.Given() && !v.A.Frame.InPlainWords() {
		return noSurvey(w)
	}
	t := pane.NewTable(w, 2, v)
	unit := quantity.UnitName(quantity.Length, v.Units())
	row := func(name string, m assess.Number, k quantity.Kind, ids ...string) {
		t.Row(t.Cells(name, t.Cell(k, m), sure(t, k, m)), nil, pane.Findings(v, ids...)...)
	}
	if v.A.Frame.Given() {
		surveyed(t, v, unit, row)
	}
	inPlainWords(t, v.A.Frame, unit, row)
	if !v.A.Frame.Given() {
		return t.Out
	}
	return append(t.Out, changed(w, v, unit)...)
}

// inPlainWords are the rows of what was taped without points.
func inPlainWords(t *pane.Table, r *assess.Frame, unit string, row func(name string, m assess.Number, k quantity.Kind, ids ...string)) {
	if p := r.Plain; p != nil {
		t.Heading("as taped, "+unit, "is", "±")
		row("diagonals, difference", p.Apart.Unsigned(), quantity.Length, finding.TapedDiagonals)
		row(p.Square.Sided("right rail ahead", "left rail ahead", "one rail ahead"), p.Square.Unsigned(), quantity.Length, finding.TapedSquare)
		row("  "+p.Front.Sided("right front mark ahead", "left front mark ahead", "front marks"), p.Front.Unsigned(), quantity.Length)
		row("  "+p.Rear.Sided("right rear mark ahead", "left rear mark ahead", "rear marks"), p.Rear.Unsigned(), quantity.Length)
		row("out of square, deg", p.Skew.Unsigned(), quantity.Angle)
		row("aside at the rail's end", p.Swing.Unsigned(), quantity.Length)
		row("misfit of the six tapes", p.Gap.Unsigned(), quantity.Length, finding.TapedFit)
	}
	if p := r.Wheels; p != nil {
		row("wheelbase as taped, left less right", p.Between, quantity.Length, finding.TapedWheelbase)
	}
}

// changed are the rows of what the survey says now and said on the occasion before.
func changed(w int, v pane.View, unit string) []pane.Item {
	all := v.A.Frame.Changes()
	if len(all) == 0 {
		return nil
	}
	t := pane.NewTable(w, 3, v)
	since := "the first"
	if after := v.A.Frame.Before.After; after != "" {
		since = string(after)
	}
	t.Heading("since "+since+", "+unit, "before", "is", "by")
	for _, c := range all {
		name := c.Name
		if c.Kind == quantity.Angle {
			name += ", deg"
		}
		t.Named(name, []string{t.Cell(c.Kind, c.Before), t.Cell(c.Kind, c.Now), t.Cell(c.Kind, c.By)}, nil, pane.Findings(v, finding.FrameChange)...)
	}
	return t.Out
}

// surveyed are the rows of the survey.
func surveyed(t *pane.Table, v pane.View, unit string, row func(name string, m assess.Number, k quantity.Kind, ids ...string)) {
	f := &v.A.Frame.Frame
	t.Heading("frame, "+unit, "is", "±")
	row(f.Square.Sided("right rail ahead", "left rail ahead", "one rail ahead"), f.Square.Unsigned(), quantity.Length, finding.FrameSquare)
	row("out of square, deg", f.Skew.Unsigned(), quantity.Angle)
	row("aside at the rail's end", f.Swing.Unsigned(), quantity.Length)
	row("diagonals, difference", f.Diagonals.Difference.Unsigned(), quantity.Length, finding.FrameDiagonals)
	row("  of that by unequal sides", f.Diagonals.OfSides.Unsigned(), quantity.Length)
	row("corners out of plane", f.Twist.Unsigned(), quantity.Length, finding.FrameTwist)
	if len(f.Axles) == 0 {
		return
	}
	t.Heading("axles, "+unit, "is", "±")
	for _, a := range f.Axles {
		row(a.Name+" axle, "+a.Turn.Sided("left end back", "right end back", "turned")+", deg", a.Turn.Unsigned(), quantity.Angle, finding.AxleSquare(a.Name))
		row(a.Name+" axle, "+a.Offset.Sided("to the left", "to the right", "aside"), a.Offset.Unsigned(), quantity.Length, finding.AxleOffset(a.Name))
	}
	for _, a := range f.Axles {
		if !a.Rims {
			continue
		}
		row("left wheel, "+a.Toe[0].Sided("toe out", "toe in", "toe")+", deg", a.Toe[0].Unsigned(), quantity.Angle, finding.AxleToe(a.Name))
		row("right wheel, "+a.Toe[1].Sided("toe out", "toe in", "toe")+", deg", a.Toe[1].Unsigned(), quantity.Angle, finding.AxleToe(a.Name))
		row("thrust, "+a.Thrust.Sided("to the right", "to the left", "by the rims")+", deg", a.Thrust.Unsigned(), quantity.Angle, finding.AxleThrust(a.Name))
	}
	row("wheelbase, left", f.Wheelbase[0], quantity.Length)
	row("wheelbase, right", f.Wheelbase[1], quantity.Length)
	row("  difference", f.Between.Unsigned(), quantity.Length, finding.FrameWheelbase)
}

// sure is the ± of a number for a table.
func sure(t *pane.Table, k quantity.Kind, m assess.Number) string {
	if !m.Known || m.Expanded() == 0 {
		return ""
	}
	return t.Cell(k, assess.Exact(m.Expanded()))
}
