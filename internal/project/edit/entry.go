package edit

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/tomltext"
)

// CopyEntry returns the edits that put a copy of entry i of the list of tables at list
// behind it. What was found on that one alone stays behind: readings, marks, ticks, and
// what the program wrote.
func CopyEntry(f *project.File, list string, i int) ([]Edit, error) {
	n := f.Doc().Find(fmt.Sprintf("%s[%d]", list, i))
	if n == nil {
		return nil, fmt.Errorf("there is no entry %d in %s", i+1, project.Printable(list))
	}
	count := len(f.Doc().Find(list).Children)
	var edits []Edit
	copied(&edits, n, fmt.Sprintf("%s[%d]", list, count), true)
	if i+1 == count {
		return edits, nil
	}
	grown, err := Apply(f, edits...)
	if err != nil {
		return nil, err
	}
	moved, err := moveTo(grown, list, count, i+1)
	return append(edits, moved), err
}

// CopyNamed returns the edits that make a copy of a table with a name of its own under
// another name.
func CopyNamed(f *project.File, path, name string) ([]Edit, error) {
	n := f.Doc().Find(path)
	dot := strings.LastIndexByte(path, '.')
	switch {
	case n == nil || dot < 0 || !namedTable(path):
		return nil, fmt.Errorf("there is no %s in the file", project.Printable(path))
	case !project.PlainName(name):
		return nil, fmt.Errorf("read %q; a name is made of letters, digits, - and _, 40 at most", project.Printable(name))
	case f.Has(path[:dot+1] + name):
		return nil, fmt.Errorf("there is a %s already", project.Printable(name))
	}
	var edits []Edit
	copied(&edits, n, path[:dot+1]+name, false)
	return edits, nil
}

// copied adds the edits that make a table at the path to like n. A new entry of a list
// is begun by its own values.
func copied(edits *[]Edit, n *tomltext.Node, to string, entry bool) {
	var pairs []tomltext.Pair
	var below []*tomltext.Node
	for _, c := range n.Children {
		f, value := project.FieldAt(c.Path)
		switch {
		case value && (f.Own || f.Written || f.Ticked):
		case value && entry:
			pairs = append(pairs, tomltext.Pair{Key: c.Key, Literal: copiedName(f, c)})
		case value:
			*edits = append(*edits, Edit{Op: OpSet, Path: to + "." + c.Key, Text: copiedName(f, c)})
		case project.ShapeAt(c.Path) != project.NoShape:
			below = append(below, c)
		}
	}
	if entry {
		*edits = append(*edits, Edit{Op: OpAdd, Path: to[:strings.LastIndexByte(to, '[')], Pairs: pairs})
	}
	for _, c := range below {
		at := to + "." + c.Key
		switch project.ShapeAt(c.Path) {
		case project.TableShape:
			if !writtenTable(c.Path) {
				copied(edits, c, at, false)
			}
		case project.NamedTablesShape:
			for _, e := range c.Children {
				copied(edits, e, at+"."+e.Key, false)
			}
		case project.TablesShape:
			if writtenTable(c.Path) {
				continue
			}
			for i, e := range c.Children {
				copied(edits, e, fmt.Sprintf("%s[%d]", at, i), true)
			}
		}
	}
}

// writtenTable reports whether only the program writes the table at path.
func writtenTable(path string) bool {
	table, key := path[:strings.LastIndexByte(path, '.')], path[strings.LastIndexByte(path, '.')+1:]
	for _, k := range project.TablesOf(table) {
		if k == key {
			return false
		}
	}
	return true
}

// copiedName is a value of the copy: a name that would be there twice says that it is a
// copy.
func copiedName(f project.Field, n *tomltext.Node) string {
	switch {
	case n.Kind == tomltext.String && (f.Key == "name" || f.Key == "at" && strings.HasPrefix(n.Path, "weld[")):
		return tomltext.Quote(n.Value.(string) + ", copy")
	case f.Key == "id" && n.Kind == tomltext.String:
		return tomltext.Quote(n.Value.(string) + "-copy")
	}
	return tomltext.Literal(n)
}

// MoveEntry returns the edit that moves entry i of the list of tables at list up (by -1)
// or down (by 1), with the comments above it.
func MoveEntry(f *project.File, list string, i, by int) (Edit, error) {
	if list == "job" {
		return MoveJob(f, i, by)
	}
	n := f.Doc().Find(list)
	if n == nil || i+by < 0 || i+by >= len(n.Children) {
		return Edit{}, fmt.Errorf("it is at the end of the list already")
	}
	return moveTo(f, list, i, i+by)
}

func moveTo(f *project.File, list string, from, to int) (Edit, error) {
	doc, err := f.Doc().Move(list, from, to)
	if err != nil {
		return Edit{}, err
	}
	e := spliceOf(f.Doc().Text(), doc.Text())
	e.Path = list
	return e, nil
}
