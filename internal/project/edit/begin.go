package edit

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/tomltext"
)

// Draft returns f after the edits without the checks of a whole file, so that a
// path can be followed into what is only begun; see project.File.Draft.
func Draft(f *project.File, edits ...Edit) (*project.File, error) {
	doc := f.Doc()
	for _, e := range edits {
		next, err := e.apply(doc)
		var named *tomltext.EditError // says itself what it was about
		switch {
		case errors.As(err, &named):
			return nil, err
		case err != nil:
			return nil, fmt.Errorf("%s: %w", project.SpokenPath(e.Path), err)
		}
		doc = next
	}
	return f.Draft(doc), nil
}

// Begin returns where in the text the value stands that a person calls path, and
// the edits that make room for it first when it is in an entry that its list
// does not have yet, as line.rear.shaft.1.outside is in a file without shafts.
// An entry is begun by its number, behind the last one. A name that is nearly one
// of the file's is refused, since it may be a slip of it.
func Begin(f *project.File, path string) (at string, edits []Edit, err error) {
	for range strings.Count(path, ".") + 1 { // each list on the way at most once
		more, err := beginEntry(f, path)
		if err != nil {
			return "", nil, err
		}
		if len(more) == 0 {
			break
		}
		edits = append(edits, more...)
		if f, err = Draft(f, more...); err != nil {
			return "", nil, err
		}
	}
	return f.Resolve(path), edits, nil
}

// beginEntry returns the edits that add the first entry on the way along path
// that is not there; none when all are.
func beginEntry(f *project.File, path string) ([]Edit, error) {
	parts := strings.Split(path, ".")
	for i := 1; i < len(parts); i++ {
		list := f.Resolve(strings.Join(parts[:i], "."))
		switch project.ShapeAt(list) {
		case project.NamedTablesShape:
			if err := strangeName(f, list, parts[i]); err != nil {
				return nil, err
			}
		case project.TablesShape:
			if at := f.Resolve(strings.Join(parts[:i+1], ".")); f.Has(at) && at != list {
				continue
			}
			return newEntries(f, list, parts[i])
		case project.ListShape:
			if f.Has(list) && f.Has(f.Resolve(strings.Join(parts[:i+1], "."))) {
				return nil, nil
			}
			k, _ := project.KeyAt(list)
			return nil, fmt.Errorf("%s is one list in brackets; set it whole, such as %s=%s", project.SpokenPath(list), project.SpokenPath(list), k.Example())
		}
	}
	return nil, nil
}

// newEntries adds the entry that a path calls name to the list at path list.
func newEntries(f *project.File, list, name string) ([]Edit, error) {
	shown := project.SpokenPath(list)
	have := 0
	if n := f.Doc().Find(list); n != nil {
		have = len(n.Children)
	}
	if list == "reading" {
		return nil, fmt.Errorf("`fitup read FILE WHAT SHOWN` adds a reading, with the day and the place it was taken at")
	}
	number, err := strconv.Atoi(name)
	if err != nil {
		if near, ok := project.Nearest(name, f.EntryNames(list)); ok {
			return nil, fmt.Errorf("no entry of %s is called %q; did you mean %s.%s?", shown, project.Printable(name), shown, near)
		}
		return nil, fmt.Errorf("no entry of %s is called %q; `fitup add FILE %s` adds one, and %s.%d begins the next", shown, project.Printable(name), shown, shown, have+1)
	}
	reach := max(have+1, implied(f, list))
	if number < 1 || number > reach {
		if have == 0 {
			return nil, fmt.Errorf("%s has no entry yet; %s.1 comes first", shown, shown)
		}
		return nil, fmt.Errorf("%s has %d, counted from 1; %s.%d is the next", shown, have, shown, have+1)
	}
	upTo := number
	if strings.HasSuffix(list, ".joint") { // a line has as many joints as it has written, so all of them are
		upTo = max(number, implied(f, list))
	}
	var out []Edit
	for range upTo - have {
		out = append(out, Edit{Op: OpAdd, Path: list})
	}
	return out, nil
}

// implied is how many entries a list stands for that is not written out: a line
// without a word on its joints or shafts has them all the same.
func implied(f *project.File, list string) int {
	name, what, ok := strings.Cut(strings.TrimPrefix(list, "line."), ".")
	if !strings.HasPrefix(list, "line.") || !ok {
		return 0
	}
	line := project.Line{}
	for _, l := range f.Build.Lines {
		if l.Name == name {
			line = l
		}
	}
	switch what {
	case "joint":
		return line.JointCount()
	case "shaft":
		return line.JointCount() - 1
	}
	return 0
}

// strangeName refuses a name for a table that differs by a slip from one the
// file has: it would begin a second line, or a second mount, unasked.
func strangeName(f *project.File, list, name string) error {
	n := f.Doc().Find(list)
	if n == nil || n.Child(name) != nil || slices.Contains(project.PadNames(), name) {
		return nil
	}
	var names []string
	for _, c := range n.Children {
		names = append(names, c.Key)
	}
	if near, ok := project.Nearest(name, names); ok {
		shown := project.SpokenPath(list)
		return fmt.Errorf("the file has no %s.%s; did you mean %s.%s? A new one is begun by `fitup add FILE %s.%s`",
			shown, project.Printable(name), shown, near, shown, project.Printable(name))
	}
	return nil
}

// strangeNames is strangeName for every table on the way to the one at path.
func strangeNames(f *project.File, path string) error {
	parts := strings.Split(path, ".")
	for i := 1; i+1 < len(parts); i++ {
		list := f.Resolve(strings.Join(parts[:i], "."))
		if project.ShapeAt(list) == project.NamedTablesShape {
			if err := strangeName(f, list, parts[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// InOrder returns an edit that begins a table of its own at the place where it
// belongs: before the first table that comes behind it in the order of the
// schema, with the comment above that. Any other edit comes back as it is.
func InOrder(f *project.File, e Edit) Edit {
	top, _, _ := strings.Cut(e.Path, ".")
	top, _, _ = strings.Cut(top, "[")
	if e.Op != OpSet && e.Op != OpAdd || e.Op == OpSet && top == e.Path || f.Doc().Root().Child(top) != nil {
		return e
	}
	next, err := e.apply(f.Doc())
	if err != nil {
		return e
	}
	src, now := f.Doc().Text(), next.Text()
	at, ok := placeOf(f, top)
	head, tail := tomltext.Common(src, now)
	if !ok || head+tail != len(src) {
		return e
	}
	eol := "\n"
	if strings.Contains(src, "\r\n") {
		eol = "\r\n"
	}
	block := strings.Trim(now[head:len(now)-tail], "\r\n") + eol + eol
	there := Edit{Op: OpSplice, Path: e.Path, At: at, Text: block}
	if moved, err := there.apply(f.Doc()); err != nil || len(tomltext.Diff(moved, next)) > 0 {
		return e
	}
	return there
}

// placeOf is where a new top table goes: before the first one of the text that
// the schema has behind it.
func placeOf(f *project.File, top string) (int, bool) {
	order := project.TopKeys()
	rank := slices.Index(order, top)
	if rank < 0 {
		return 0, false
	}
	for _, key := range order[rank+1:] {
		if n := f.Doc().Root().Child(key); n != nil {
			if at, ok := firstHeader(n); ok {
				return commentAbove(f.Doc().Text(), at), true
			}
		}
	}
	return 0, false
}

// firstHeader is the offset of the first table in n that has lines of its own.
func firstHeader(n *tomltext.Node) (at int, ok bool) {
	see := func(x int) {
		if !ok || x < at {
			at, ok = x, true
		}
	}
	for _, c := range n.Children {
		if c.Kind == tomltext.Table || c.Kind == tomltext.TableArray {
			if x, is := firstHeader(c); is {
				see(x)
			}
		}
	}
	if n.Kind == tomltext.Table && !n.Inline && n.Pos.Line > 0 {
		see(n.Pos.Offset)
	}
	return at, ok
}
