package mounts

import (
	"fitup/internal/project/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// clearanceItems are the pieces of the vehicle with the room to the powertrain.
func clearanceItems(w int, v pane.View) []item {
	if len(v.A.Clearances) == 0 {
		return says(w, theme.Text, "Nothing to keep clear of yet. Each [[chassis]] table in the file is one thing: a name, and from and to for a box, "+
			"with a radius for a rod, at for a point, on and facing for a flat surface such as the bonnet. Each [[powertrain.part]] is a piece of the powertrain.")
	}
	figures := 1
	for _, c := range v.A.Clearances {
		if c.Rocked != nil {
			figures = 2
		}
	}
	t := newTable(w, figures, v)
	heads := []string{"built", "rocked"}[:figures]
	t.heading("room, in "+quantity.UnitName(quantity.Length, v.Units()), heads...)
	for _, c := range v.A.Clearances {
		cells := []string{t.cell(quantity.Length, c.Gap)}
		var more []string
		if c.Rocked != nil {
			cells = append(cells, t.cell(quantity.Length, c.Rocked.Gap))
			if pm := v.PlusMinus(quantity.Length, c.Rocked.Gap, v.Digits(quantity.Length)); pm != "" {
				more = append(more, "Rocked, the estimated rates of the mounts leave it "+pm+".")
			}
		} else if figures == 1 {
			more = append(more, "With rates or rubber of the mounts in the file it is followed sagged and rocked as well.")
		}
		t.row(t.cells(c.Name, cells...), more, findings(v, c.ID, c.ID+".rocked")...)
	}
	return t.out
}

// known is a number as a measure.
func known(x float64) assess.Measure { return assess.Measure{V: x, Known: true} }
