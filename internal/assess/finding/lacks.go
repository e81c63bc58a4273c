package finding

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"fitup/internal/project"
)

// Lacks lists the paths of the file that a finding which is not known is missing, as
// the text has them, entries of lists counted from 0. They are those that Missing names
// and the schema has: values, and tables that are not begun.
func (f Finding) Lacks() []string {
	if f.Status != NotKnown {
		return nil
	}
	return PathsIn(f.Missing)
}

var dotted = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`[a-z_]+(?:\[\d+\])*(?:\.[A-Za-z0-9_-]+(?:\[\d+\])*)+`)
})

// PathsIn lists the paths of the schema that a sentence names, each once, in its order.
func PathsIn(text string) []string {
	var out []string
	for _, word := range dotted().FindAllString(text, -1) {
		path := counted(word)
		if project.ShapeAt(path) != project.NoShape && !slices.Contains(out, path) {
			out = append(out, path)
		}
	}
	return out
}

// counted is a path with its list entries as the text has them: joint.1 is joint[0].
func counted(path string) string {
	out := ""
	for _, part := range strings.Split(path, ".") {
		if n, err := strconv.Atoi(part); err == nil && n > 0 && project.ShapeAt(out) == project.TablesShape {
			out += "[" + strconv.Itoa(n-1) + "]"
			continue
		}
		if out != "" {
			out += "."
		}
		out += part
	}
	return out
}
