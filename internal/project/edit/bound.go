package edit

import (
	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// BoundsDropped lists the paths whose ± goes with their value when edits are
// made to f: what was typed of how sure the old value is says nothing of the new
// one. Undo brings both back.
func BoundsDropped(f *project.File, edits []Edit) []string {
	var out []string
	for _, e := range edits {
		if e.Op != OpSet && e.Op != OpRemove {
			continue
		}
		if s := project.ShapeAt(e.Path); s != project.QuantityShape && s != project.ListShape {
			continue
		}
		if old, ok := f.Raw(e.Path); ok && quantity.HasBound(old) && !quantity.HasBound(e.Text) {
			out = append(out, e.Path)
		}
	}
	return out
}
