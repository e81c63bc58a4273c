package mounts

import (
	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// clearanceItems are the pieces of the vehicle with the room to the powertrain.
func clearanceItems(w int, v pane.View) []pane.Item {
	if len(v.A.Clearances) == 0 {
		return pane.Says(w, theme.Text, "Nothing to keep clear of yet. On the data page, under What must be kept clear of, begin each thing: a name, and from and to for a box, "+
			"with a radius for a rod, at for a point, on and facing for a flat surface such as the bonnet. The pieces of the powertrain stand under Powertrain on the stand.")
	}
	heads, rocked, moving := []string{"built"}, false, v.A.Moving != nil
	for _, c := range v.A.Clearances {
		rocked, moving = rocked || c.Rocked != nil, moving || c.Moving != nil
	}
	if rocked {
		heads = append(heads, "rocked")
	}
	if moving {
		heads = append(heads, "moving")
	}
	t := newTable(w, len(heads), v)
	t.Heading("room, in "+quantity.UnitName(quantity.Length, v.Units()), heads...)
	for _, c := range v.A.Clearances {
		cells := []string{t.Cell(quantity.Length, c.Gap)}
		var more []string
		if c.Rocked != nil {
			cells = append(cells, t.Cell(quantity.Length, c.Rocked.Gap))
			if pm := v.Around(quantity.Length, c.Rocked.Gap, v.Digits(quantity.Length)); pm != "" {
				more = append(more, "Rocked, the estimated rates of the mounts leave it "+pm+".")
			}
		} else if !rocked {
			more = append(more, "With rates or rubber of the mounts in the file it is followed sagged and rocked as well.")
		}
		if moving {
			cells = append(cells, movingCell(t, c.Moving))
		}
		t.Row(t.Cells(c.Name, cells...), more, pane.Findings(v, c.ID, finding.Rocked(c.ID), finding.Moving(c.ID))...)
	}
	if m := v.A.Moving; m != nil {
		cells := make([]string, len(heads))
		cells[len(cells)-1] = movingCell(t, m)
		t.Row(t.Cells("powertrain", cells...), nil, pane.Findings(v, finding.Moving(finding.Clearance("powertrain")))...)
	}
	return t.Out
}

// movingCell is the room to shafts and axles; empty for a piece that is not
// asked.
func movingCell(t *table, m *assess.Moving) string {
	if m == nil {
		return ""
	}
	return t.Cell(quantity.Length, m.Gap)
}

// known is a number as a measure.
func known(x float64) assess.Number { return assess.Exact(x) }
