package edit

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// SetUnits returns the edits that give the file another system of units, as
// people call it. Every number without a unit whose unit that changes gets the one it has
// now written behind it first, so that no length becomes another one.
func SetUnits(f *project.File, word string) ([]Edit, error) {
	system, ok := project.SystemNamed(word)
	if !ok {
		return nil, fmt.Errorf("read %q; want metric or inch", project.Printable(word))
	}
	if n := f.Doc().Find("units.system"); n != nil && n.Value == system {
		return nil, nil
	}
	return withUnits(f, Edit{Op: OpSet, Path: "units.system", Text: tomltext.Quote(system)})
}

// SetUnit returns the edits that give one key of [units] another word, or take it out
// where that is empty, as SetUnits does for the system.
func SetUnit(f *project.File, key, word string) ([]Edit, error) {
	path := "units." + key
	switch {
	case word == "" && !f.Has(path):
		return nil, nil
	case word == "":
		return withUnits(f, Edit{Op: OpRemove, Path: path})
	case key == "system":
		return SetUnits(f, word)
	}
	return withUnits(f, Edit{Op: OpSet, Path: path, Text: tomltext.Quote(word)})
}

// withUnits puts before an edit of [units] those that keep every bare number what it
// is.
func withUnits(f *project.File, change Edit) ([]Edit, error) {
	next, err := change.apply(f.Doc())
	if err != nil {
		return nil, err
	}
	units, err := project.UnitsOf(f.Name, next)
	if err != nil {
		return nil, err
	}
	var edits []Edit
	var walk func(n *tomltext.Node)
	walk = func(n *tomltext.Node) {
		for _, c := range n.Children {
			walk(c)
		}
		quoted := n.Kind == tomltext.String
		if !bare(n) && !quoted {
			return
		}
		k, ok := project.KindAt(n.Path)
		if !ok {
			return
		}
		now := quantity.UnitName(k, f.Build.Units)
		if now == quantity.UnitName(k, units) {
			return
		}
		if quoted {
			if text, ok := quantity.WithUnit(k, n.Value.(string), f.Build.Units); ok {
				edits = append(edits, Edit{Op: OpSet, Path: n.Path, Text: tomltext.Quote(text)})
			}
			return
		}
		raw := strings.ReplaceAll(n.Raw, "_", "")
		edits = append(edits, Edit{Op: OpSet, Path: n.Path, Text: tomltext.Quote(raw + " " + now)})
	}
	walk(f.Doc().Root())
	return append(edits, change), nil
}
