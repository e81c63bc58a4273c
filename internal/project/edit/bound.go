package edit

import (
	"fmt"
	"strconv"
	"strings"

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

// BeginTool returns the edits that put a common tool such as tool.tape in the file,
// with the figures that are usual and the word that they are.
func BeginTool(f *project.File, path string) ([]Edit, error) {
	t, ok := project.CommonToolNamed(strings.TrimPrefix(path, "tool."))
	if !ok || t.Path() != path {
		return nil, fmt.Errorf("%s is no tool whose figures are usual", project.Printable(path))
	}
	var values []Value
	for _, v := range []struct {
		key string
		quantity.LengthQ
	}{{"accuracy", t.Accuracy}, {"per_metre", t.PerMetre}, {"repeat", t.Repeat}} {
		if mm, known := v.Get(); known {
			values = append(values, Value{path + "." + v.key, strconv.FormatFloat(mm, 'f', -1, 64) + " mm"})
		}
	}
	return Typed(f, append(values, Value{path + ".source", project.CommonToolSource})...)
}
