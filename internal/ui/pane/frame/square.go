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
	if !v.A.Frame.Given() {
		return noSurvey(w)
	}
	f := &v.A.Frame.Frame
	t := pane.NewTable(w, 2, v)
	unit := quantity.UnitName(quantity.Length, v.Units())
	t.Heading("frame, "+unit, "is", "±")
	row := func(name string, m assess.Number, k quantity.Kind, ids ...string) {
		t.Row(t.Cells(name, t.Cell(k, m), sure(t, k, m)), nil, pane.Findings(v, ids...)...)
	}
	row(sided(f.Square, "right rail ahead", "left rail ahead", "one rail ahead"), size(f.Square), quantity.Length, finding.FrameSquare)
	row("out of square, deg", size(f.Skew), quantity.Angle)
	row("aside at the rail's end", size(f.Swing), quantity.Length)
	row("diagonals, difference", size(f.Diagonals.Difference), quantity.Length, finding.FrameDiagonals)
	row("  of that by unequal sides", size(f.Diagonals.OfSides), quantity.Length)
	row("corners out of plane", size(f.Twist), quantity.Length, finding.FrameTwist)
	if len(f.Axles) == 0 {
		return t.Out
	}
	t.Heading("axles, "+unit, "is", "±")
	for _, a := range f.Axles {
		row(a.Name+" axle, "+sided(a.Turn, "left end back", "right end back", "turned")+", deg", size(a.Turn), quantity.Angle, finding.AxleSquare(a.Name))
		row(a.Name+" axle, "+sided(a.Offset, "to the left", "to the right", "aside"), size(a.Offset), quantity.Length, finding.AxleOffset(a.Name))
	}
	row("wheelbase, left", f.Wheelbase[0], quantity.Length)
	row("wheelbase, right", f.Wheelbase[1], quantity.Length)
	row("  difference", size(f.Between), quantity.Length, finding.FrameWheelbase)
	return t.Out
}

// size is a number without its sign.
func size(m assess.Number) assess.Number {
	if m.Known && m.V < 0 {
		m.V = -m.V
	}
	return m
}

// sided is the words for the side that a number's sign says, below zero and above.
func sided(m assess.Number, below, above, unknown string) string {
	switch {
	case !m.Known:
		return unknown
	case m.V < 0:
		return below
	}
	return above
}

// sure is the ± of a number for a table.
func sure(t *pane.Table, k quantity.Kind, m assess.Number) string {
	if !m.Known || m.Expanded() == 0 {
		return ""
	}
	return t.Cell(k, assess.Exact(m.Expanded()))
}
