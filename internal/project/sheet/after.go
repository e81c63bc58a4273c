package sheet

import (
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/tomltext"
)

// rowsOf are the rows of one table with what they were made of.
type rowsOf struct {
	of   *table
	node *tomltext.Node // nil where the text had nothing there
	rows []Row          // one for each field
}

// rows are the rows of a table's own values, taken over where the text says the same in
// the same spelling.
func (m *maker) rows(path string, n *tomltext.Node) rowsOf {
	out, had := m.was[path]
	if !had {
		out.of = schemaOf(path)
	}
	if !had || !spelledAlike(out.node, n) {
		out.rows = make([]Row, len(out.of.fields))
		for i := range out.rows {
			out.rows[i] = m.row(path, n, &out.of.fields[i])
		}
	}
	out.node = n
	m.out.tables[path] = out
	return out
}

// spelledAlike reports whether the values of two tables are spelled alike. Tables below
// them do not count.
func spelledAlike(a, b *tomltext.Node) bool {
	if a == nil || b == nil {
		return a == b
	}
	if a == b {
		return true
	}
	if a.Kind != b.Kind || len(a.Children) != len(b.Children) {
		return false
	}
	for i, c := range a.Children {
		if d := b.Children[i]; c != d && (c.Key != d.Key || c.Kind != d.Kind || c.Raw != d.Raw) {
			return false
		}
	}
	return true
}

// namedIn are the named tables of a file, one behind the other: a value may be the name
// of one.
func namedIn(f *project.File) string {
	var out strings.Builder
	for _, n := range f.Doc().Root().Children {
		if project.ShapeAt(n.Key) != project.NamedTablesShape {
			continue
		}
		for _, c := range n.Children {
			out.WriteString(n.Key + "." + c.Key + "\n")
		}
	}
	return out.String()
}
