package project

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// systems are the words people use for the two systems of units.
var systems = map[string][]string{
	"metric": {"metric", "mm", "millimetre", "millimetres", "millimeter", "millimeters", "si"},
	"inch":   {"inch", "inches", "in", "imperial", "us", "customary"},
}

// SystemNamed returns the system of units that a word means.
func SystemNamed(word string) (string, bool) {
	word = strings.ToLower(strings.TrimSpace(word))
	for name, words := range systems {
		if slices.Contains(words, word) {
			return name, true
		}
	}
	return "", false
}

// SetUnits returns the edits that give the file another system of units, as
// people call it. Every bare number whose unit that changes gets the unit it has
// now written behind it first, so that no length becomes another one.
func (f *File) SetUnits(word string) ([]Edit, error) {
	system, ok := SystemNamed(word)
	if !ok {
		return nil, fmt.Errorf("read %q; want metric or inch", Printable(word))
	}
	if n := f.doc.Find("units.system"); n != nil && n.Value == system {
		return nil, nil
	}
	next, err := f.doc.Set("units.system", tomltext.Quote(system))
	if err != nil {
		return nil, err
	}
	b := &binder{file: f.Name}
	b.unitTable(next.Root().Child("units"))
	if len(b.problems) > 0 {
		return nil, b.problems
	}
	var edits []Edit
	var walk func(n *tomltext.Node)
	walk = func(n *tomltext.Node) {
		for _, c := range n.Children {
			walk(c)
		}
		if !bare(n) {
			return
		}
		k, ok := KindAt(n.Path)
		if !ok {
			return
		}
		now := quantity.UnitName(k, f.Build.Units)
		if now == quantity.UnitName(k, b.units) {
			return
		}
		raw := strings.ReplaceAll(n.Raw, "_", "")
		edits = append(edits, Edit{Op: OpSet, Path: n.Path, Text: tomltext.Quote(raw + " " + now)})
	}
	walk(f.doc.Root())
	return append(edits, Edit{Op: OpSet, Path: "units.system", Text: tomltext.Quote(system)}), nil
}
