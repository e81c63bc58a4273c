package edit

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/tomltext"
)

// KeyValue is a key below an entry, with dots where it is deeper, and what a
// person typed for it.
type KeyValue struct{ Key, Typed string }

// Entry is an entry that a list is to get.
type Entry struct {
	At    string // where it will stand in the text
	Edits []Edit // that add it, with those of its keys that are its own
	// Later are the keys that are set when it stands there: those of the tables
	// in it, and those that set does not take without more ado.
	Later []KeyValue
}

// AddEntry returns the entry that the list at path gets behind its last one, or
// the table of that name that a family of tables gets, such as line.front. Keys
// that apart holds are left for later. The error names the key it is about.
func AddEntry(f *project.File, path string, keys []KeyValue, apart func(at string) bool) (Entry, error) {
	if err := strangeNames(f, path); err != nil {
		return Entry{}, err
	}
	list := f.Resolve(path)
	dot := strings.LastIndexByte(list, '.')
	switch shape := project.ShapeAt(list); {
	case list == "reading":
		return Entry{}, errors.New("`fitup read FILE WHAT SHOWN` adds a reading, with the day and the place it was taken at")
	case shape == project.TablesShape:
		n := 0
		if was := f.Doc().Find(list); was != nil {
			n = len(was.Children)
		}
		return entryOf(f, list, fmt.Sprintf("%s[%d]", list, n), keys, apart)
	case dot > 0 && project.ShapeAt(list[:dot]) == project.NamedTablesShape:
		if f.Has(list) {
			return Entry{}, fmt.Errorf("%s is in the file already; `fitup set` changes it", project.SpokenPath(list))
		}
		return entryOf(f, "", list, keys, apart)
	case shape == project.NamedTablesShape:
		return Entry{}, fmt.Errorf("each %s has a name of its own; give it behind a dot, such as %s.rear", list, list)
	case shape == project.NoShape:
		return Entry{}, noSuchList(list)
	}
	return Entry{}, fmt.Errorf("%s is no list; `fitup set` gives it a value", project.SpokenPath(list))
}

// entryOf puts an entry of list together that is to stand at at; list is "" for
// a table with a name of its own.
func entryOf(f *project.File, list, at string, keys []KeyValue, apart func(string) bool) (Entry, error) {
	e := Entry{At: at}
	var pairs []tomltext.Pair
	for _, k := range keys {
		path := at + "." + k.Key
		if strings.Contains(k.Key, ".") || list == "" || apart(path) || project.ShapeAt(path) == project.NoShape {
			e.Later = append(e.Later, k)
			continue
		}
		text, err := literalOf(f, path, k.Typed)
		if err != nil {
			return e, fmt.Errorf("%s: %w", project.Printable(k.Key), err)
		}
		pairs = append(pairs, tomltext.Pair{Key: k.Key, Literal: text})
	}
	if list != "" {
		e.Edits = []Edit{{Op: OpAdd, Path: list, Pairs: pairs}}
		return e, nil
	}
	header, err := BeginTable(f, at)
	e.Edits = []Edit{header}
	return e, err
}

// BeginTable returns the edit that writes the header of a new table, where it
// belongs, and nothing below it.
func BeginTable(f *project.File, at string) (Edit, error) {
	const key = "begun"
	cannot := fmt.Errorf("%s cannot be begun here; write [%s] by hand", project.SpokenPath(at), project.SpokenPath(at))
	next, err := InOrder(f, Edit{Op: OpSet, Path: at + "." + key, Text: "0"}).apply(f.Doc())
	if err != nil {
		return Edit{}, err
	}
	n := next.Find(at + "." + key)
	if n == nil || n.Inline {
		return Edit{}, cannot
	}
	text := next.Text()
	from := strings.LastIndexByte(text[:n.Start], '\n') + 1
	to := len(text)
	if end := strings.IndexByte(text[n.Start:], '\n'); end >= 0 {
		to = n.Start + end + 1
	}
	e := spliceOf(f.Doc().Text(), text[:from]+text[to:])
	e.Path = at
	if with, err := e.apply(f.Doc()); err != nil || with.Find(at) == nil {
		return Edit{}, cannot
	}
	return e, nil
}

// noSuchList says that the schema has no list at path.
func noSuchList(path string) error {
	var lists []string
	for _, k := range project.Schema() {
		if k.Shape == project.TablesShape && !strings.Contains(k.Path, "NAME") && !strings.Contains(k.Path, ".N.") {
			lists = append(lists, k.Path)
		}
	}
	if near, ok := project.Nearest(path, lists); ok {
		return fmt.Errorf("a build file has no list %q; did you mean %s?", project.Printable(path), near)
	}
	return fmt.Errorf("a build file has no list %q; want one of: %s", project.Printable(path), strings.Join(lists, ", "))
}

// RemoveEntries returns the edits that take entries of lists, and tables with a
// name of their own, out of the file. They are named as they stand now.
func RemoveEntries(f *project.File, paths []string) ([]Edit, error) {
	type gone struct {
		at     string
		offset int
	}
	var all []gone
	for _, path := range paths {
		at := f.Resolve(path)
		n := f.Doc().Find(at)
		dot := strings.LastIndexByte(at, '.')
		shown := project.Printable(path)
		if at == "" {
			return nil, errors.New("no entry is named; want one such as chassis.battery or reading.2")
		}
		switch entry := strings.HasSuffix(at, "]") || dot > 0 && project.ShapeAt(at[:dot]) == project.NamedTablesShape; {
		case n == nil:
			return nil, missingEntry(f, at, shown)
		case !entry && n.Kind == tomltext.TableArray:
			return nil, fmt.Errorf("%s is a whole list; name its entries: %s", shown, entriesOf(f, at, shown))
		case !entry:
			return nil, fmt.Errorf("%s is no entry of a list; `fitup set FILE %s=` takes a value out", shown, shown)
		case slices.ContainsFunc(all, func(g gone) bool { return g.at == at }):
			return nil, fmt.Errorf("%s is named twice", shown)
		}
		all = append(all, gone{at, n.Pos.Offset})
	}
	slices.SortFunc(all, func(a, b gone) int { return b.offset - a.offset }) // so that no number shifts
	var out []Edit
	for _, g := range all {
		edits := []Edit{{Op: OpRemove, Path: g.at}}
		var i int
		if n, _ := fmt.Sscanf(g.at, "job[%d]", &i); n == 1 && strings.HasSuffix(g.at, "]") {
			var err error
			if edits, err = DropJob(f, i); err != nil {
				return nil, err
			}
		}
		next, err := Draft(f, edits...)
		if err != nil {
			return nil, err
		}
		f, out = next, append(out, edits...)
	}
	return out, nil
}

func missingEntry(f *project.File, at, shown string) error {
	dot := strings.LastIndexByte(at, '.')
	if dot > 0 && f.Has(at[:dot]) {
		if has := entriesOf(f, at[:dot], project.SpokenPath(at[:dot])); has != "" {
			return fmt.Errorf("there is no %s in the file; it has %s", shown, has)
		}
	}
	return fmt.Errorf("there is no %s in the file", shown)
}

// entriesOf names what stands in a list or a family of tables.
func entriesOf(f *project.File, at, shown string) string {
	names := f.EntryNames(at)
	if n := f.Doc().Find(at); names == nil && n != nil && project.ShapeAt(at) == project.NamedTablesShape {
		for _, c := range n.Children {
			names = append(names, c.Key)
		}
	}
	for i := range names {
		names[i] = shown + "." + project.Printable(names[i])
	}
	return strings.Join(names, ", ")
}
