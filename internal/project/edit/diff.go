package edit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
)

// Change is one value that two states of a build say differently, in trade
// words.
type Change struct {
	Path  string
	Label string // what it is: rear mount
	From  string // as the file spells it; "" when it was not there
	To    string // "" when it is gone
	Unit  string // of From and To, where both are bare numbers in it
}

// String says the change in one line: rear mount 212 → 218 mm. It is fit for a
// terminal.
func (c Change) String() string {
	from, to := project.Printable(c.From), project.Printable(c.To)
	s := project.Printable(c.Label)
	unit := ""
	if c.Unit != "" {
		unit = " " + c.Unit
	}
	switch {
	case from == "" && to == "":
		return s
	case from == "":
		return s + " set to " + to + unit
	case to == "":
		return s + " taken out, it was " + from + unit
	}
	return s + " " + from + " → " + to + unit
}

// Diff lists what b says otherwise than a. Spelling and comments do not count.
func Diff(a, b *project.File) []Change {
	var out []Change
	for _, d := range tomltext.Diff(a.Doc(), b.Doc()) {
		if d.Path == "format" || sameQuantity(a, b, d) {
			continue
		}
		for _, d := range byValue(d) {
			at := b
			if d.New == nil {
				at = a
			}
			out = append(out, change(at, d, bareUnit(a, d.Path), bareUnit(b, d.Path)))
		}
	}
	return out
}

// byValue is a table that came or went, value by value: what was set is worth more
// than that a table was begun. An entry of a list stays whole, as does an empty
// table.
func byValue(d tomltext.Difference) []tomltext.Difference {
	n := d.New
	if n == nil {
		n = d.Old
	}
	if d.Old != nil && d.New != nil || n.Kind != tomltext.Table && n.Kind != tomltext.TableArray ||
		strings.HasSuffix(d.Path, "]") || len(n.Children) == 0 {
		return []tomltext.Difference{d}
	}
	var out []tomltext.Difference
	for _, c := range n.Children {
		part := tomltext.Difference{Path: c.Path, New: c}
		if d.New == nil {
			part = tomltext.Difference{Path: c.Path, Old: c}
		}
		out = append(out, byValue(part)...)
	}
	return out
}

// sameQuantity reports whether a difference is one of spelling: 260 in a file in
// mm and "260 mm" in one in inches are the same.
func sameQuantity(a, b *project.File, d tomltext.Difference) bool {
	k, ok := project.KindAt(d.Path)
	if !ok || d.Old == nil || d.New == nil {
		return false
	}
	v, okA := a.QuantityAt(d.Path, k)
	w, okB := b.QuantityAt(d.Path, k)
	return okA && okB && v == w
}

// change tells a difference; was and is are the units of bare numbers there.
func change(f *project.File, d tomltext.Difference, was, is string) Change {
	c := Change{Path: d.Path, Label: labelOf(f, d.Path)}
	if isEntry(d.Old) || isEntry(d.New) {
		c.Label += wholeEntry(d)
		return c
	}
	if d.Old != nil {
		c.From = tomltext.Spelled(d.Old)
	}
	if d.New != nil {
		c.To = tomltext.Spelled(d.New)
	}
	if strings.HasSuffix(d.Path, ".done") && strings.HasPrefix(d.Path, "job[") {
		c.From, c.To = "", ""
		c.Label = strings.TrimSuffix(c.Label, " done") + " open again"
		if d.New != nil && d.New.Value == true {
			c.Label = strings.TrimSuffix(c.Label, " open again") + " ticked"
		}
		return c
	}
	c.From, c.To = short(c.From), short(c.To)
	oldBare, newBare := d.Old == nil || bare(d.Old), d.New == nil || bare(d.New)
	switch {
	case was == "" && is == "":
	case oldBare && newBare && (was == is || d.Old == nil || d.New == nil):
		c.Unit = is
	default:
		if d.Old != nil && bare(d.Old) {
			c.From += " " + was
		}
		if d.New != nil && bare(d.New) {
			c.To += " " + is
		}
	}
	return c
}

// bare reports whether a value is a number without a unit of its own.
func bare(n *tomltext.Node) bool { return n.Kind == tomltext.Integer || n.Kind == tomltext.Float }

// bareUnit is what a bare number at path is in, "" when it is in nothing.
func bareUnit(f *project.File, path string) string {
	k, ok := project.KindAt(path)
	if !ok {
		return ""
	}
	return quantity.UnitName(k, f.Build.Units)
}

// isEntry reports whether n is a table that came or went as a whole.
func isEntry(n *tomltext.Node) bool { return n != nil && n.Kind == tomltext.Table }

func wholeEntry(d tomltext.Difference) string {
	switch {
	case d.Old == nil:
		if shown := d.New.Child("shown"); shown != nil {
			return " added: " + tomltext.Spelled(shown)
		}
		return " added"
	case d.New == nil:
		return " taken out"
	}
	return " changed"
}

func short(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:59]) + "…"
	}
	return s
}

// label is what a path is called on the bench.
func labelOf(f *project.File, path string) string {
	if r, ok := project.RowNamed(path); ok {
		return r.Label
	}
	parts := strings.FieldsFunc(path, func(r rune) bool { return r == '.' || r == '[' || r == ']' })
	switch parts[0] {
	case "job", "reading":
		if len(parts) > 1 {
			return entryLabel(f, parts)
		}
	case "line", "mount":
		if len(parts) > 1 {
			parts = slices.Concat([]string{parts[1], parts[0]}, parts[2:])
		}
	case "limits":
		parts[0] = "limit"
		parts = slices.DeleteFunc(parts, func(p string) bool { return p == "value" })
	}
	for i, p := range parts {
		if n, err := strconv.Atoi(p); err == nil {
			parts[i] = strconv.Itoa(n + 1)
		}
	}
	return strings.ReplaceAll(strings.Join(parts, " "), "_", " ")
}

func entryLabel(f *project.File, parts []string) string {
	i, err := strconv.Atoi(parts[1])
	name := fmt.Sprintf("%s %d", parts[0], i+1)
	switch {
	case err != nil:
		name = strings.Join(parts[:2], " ")
	case parts[0] == "job" && i < len(f.Build.Jobs):
		name = fmt.Sprintf("job %q", f.Build.Jobs[i].ID)
	case parts[0] == "reading" && i < len(f.Build.Readings):
		name = fmt.Sprintf("reading %d of %s", i+1, f.Build.Readings[i].Of)
	}
	return strings.ReplaceAll(strings.Join(slices.Concat([]string{name}, parts[2:]), " "), "_", " ")
}
