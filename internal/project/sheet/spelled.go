package sheet

import (
	"strings"

	"fitup/internal/project/tomltext"
)

// Spelled is a value of the text as a person types it in a row of that shape: text
// without quotes, a point as three numbers with commas between them, a list with
// semicolons.
func Spelled(n *tomltext.Node, shape Shape) string {
	if n.Kind != tomltext.Array {
		return one(n)
	}
	parts := make([]string, len(n.Children))
	for i, c := range n.Children {
		switch parts[i] = one(c); {
		case c.Kind == tomltext.Array:
			parts[i] = point(c)
		case shape == Texts:
			parts[i] = strings.NewReplacer(`\`, `\\`, ";", `\;`).Replace(parts[i])
		}
	}
	if shape == Point {
		return point(n)
	}
	return strings.Join(parts, "; ")
}

// point is three numbers with commas between them, or with semicolons where one of
// them is written with a comma.
func point(n *tomltext.Node) string {
	parts, sep := make([]string, len(n.Children)), ", "
	for i, c := range n.Children {
		if parts[i] = one(c); strings.Contains(parts[i], ",") {
			sep = "; "
		}
	}
	return strings.Join(parts, sep)
}

// one is a single value. Line ends and tabs in a text are written as signs, and then
// a backslash too.
func one(n *tomltext.Node) string {
	if n.Kind != tomltext.String {
		return tomltext.Spelled(n)
	}
	s := n.Value.(string)
	if Escaped(s) {
		s = strings.NewReplacer(`\`, `\\`, "\r\n", `\n`, "\n", `\n`, "\t", `\t`).Replace(s)
	}
	return s
}

// Escaped reports whether a text has signs that a row cannot show, so that it is
// shown and typed with backslashes.
func Escaped(s string) bool { return strings.ContainsAny(s, "\n\r\t") }
