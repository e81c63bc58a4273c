package bracket

import geombracket "fitup/internal/geom/bracket"

// FlatPiece is a plate of a bracket that is cut from flat plate, Count of them alike.
type FlatPiece struct {
	Name  string // left front rail plate
	Count int
	Plate geombracket.Plate
}

// FlatPieces are all plates of a bracket: those at its pad and its feet, gussets, what a
// mount that is plate is folded or welded from. Nil where it does not stand.
func (b *Bracket) FlatPieces() (out []FlatPiece) {
	if !b.Stands() {
		return nil
	}
	for i, w := range []*PlateWork{b.PadPlate, b.RailPlate} {
		if w == nil {
			continue
		}
		count := 1
		if i == 1 && b.Members != nil {
			count = max(1, len(b.Members.Feet))
		}
		out = append(out, FlatPiece{b.Label + " " + w.End + " plate", count, w.Plate})
	}
	for i := range b.Sheets {
		w := &b.Sheets[i]
		out = append(out, FlatPiece{b.Label + " " + w.Name, w.Count, w.Plate})
	}
	if b.Plates != nil && b.Plates.Fold != nil {
		out = append(out, FlatPiece{b.Label + " plate", 1, b.Plates.Fold.Blank})
	}
	return out
}
