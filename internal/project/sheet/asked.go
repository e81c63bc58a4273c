package sheet

import (
	"slices"
	"strings"

	"fitup/internal/project"
)

// asked are the rows of a table of a mount's bracket that its kind asks, and those that are
// given whatever it asks; of any other table all of them.
func (m *maker) asked(path string, rows []Row) []Row {
	parts := strings.SplitN(path, ".", 4)
	if len(parts) < 3 || parts[0] != "mount" || parts[2] != "bracket" {
		return rows
	}
	table := strings.Join(parts[:3], ".")
	n := m.f.Doc().Find(table + ".kind")
	if n == nil {
		return rows
	}
	word, _ := n.Value.(string)
	kind := project.BracketKind(word)
	if !slices.Contains(kind.Words(), word) {
		return rows
	}
	var out []Row
	for _, r := range rows {
		if r.Given || kind.Asks(strings.TrimPrefix(r.Path, table+".")) {
			out = append(out, r)
		}
	}
	return out
}
