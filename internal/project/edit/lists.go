package edit

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/format"
	"fitup/internal/project/tomltext"
)

// Written returns the edits that give the value at path what was typed on a command
// line: as Typed does, and a point or a list as the file writes it in brackets too.
func Written(f *project.File, path, typed string) ([]Edit, error) {
	if inside, ok := bracketed(path, typed); ok {
		if _, err := tomltext.Parse("value", []byte("v = "+typed)); err == nil {
			return []Edit{{Op: OpSet, Path: path, Text: typed}}, nil
		}
		typed = inside
	}
	return Typed(f, Value{Path: path, Text: typed})
}

// bracketed is what stands in the brackets of a list.
func bracketed(path, typed string) (string, bool) {
	if project.ShapeAt(path) != project.ListShape || !strings.HasPrefix(typed, "[") || !strings.HasSuffix(typed, "]") {
		return "", false
	}
	return typed[1 : len(typed)-1], true
}

// literalOf is what Written writes for the value of a new entry.
func literalOf(f *project.File, path, typed string) (string, error) {
	if inside, ok := bracketed(path, typed); ok {
		if _, err := tomltext.Parse("value", []byte("v = "+typed)); err == nil {
			return typed, nil
		}
		typed = inside
	}
	return literal(f, path, typed)
}

// noSuchValue says that the schema has nothing at path, and what is nearest: of
// the keys of the table that it leads into, if it leads into one.
func noSuchValue(path string) error {
	shown := project.SpokenPath(path)
	if now, since := format.RenamedPath(path); since > 0 {
		return fmt.Errorf("%s is called %s since format %d", shown, now, since)
	}
	known := project.SchemaPaths()
	dot := strings.LastIndexByte(shown, '.')
	table := shown[:max(dot, 0)]
	var own, deeper []string
	for _, k := range project.Schema() {
		if under, _ := k.Under(table); dot > 0 && under {
			named := k.Named(table).Path
			switch key, ok := strings.CutPrefix(named, table+"."); {
			case ok && !strings.Contains(key, "."):
				own = append(own, key)
			case ok && strings.HasSuffix(key, shown[dot:]):
				deeper = append(deeper, key)
			}
		}
	}
	if near := ending(shown[dot+1:], own); near != "" && dot > 0 {
		return fmt.Errorf("there is no value called %q in a build file; did you mean %s.%s?", shown, table, near)
	}
	if len(deeper) > 0 {
		return fmt.Errorf("there is no value called %q in a build file; did you mean %s.%s?", shown, table, deeper[0])
	}
	if near, ok := project.Nearest(shown[dot+1:], own); ok {
		return fmt.Errorf("there is no value called %q in a build file; did you mean %s.%s?", shown, table, near)
	}
	if near, ok := project.Nearest(shown, known); ok {
		return fmt.Errorf("there is no value called %q in a build file; did you mean %s?", shown, near)
	}
	if len(own) > 0 {
		return fmt.Errorf("there is no value called %q in a build file; `fitup help file %s` lists the keys there", shown, table)
	}
	return fmt.Errorf("there is no value called %q in a build file; `fitup help file` lists them all", shown)
}

// ending lists the keys of which a word is the last part, such as front_track of track.
func ending(word string, keys []string) string {
	var out []string
	for _, k := range keys {
		if strings.HasSuffix(k, "_"+word) {
			out = append(out, k)
		}
	}
	return strings.Join(out, " or ")
}
