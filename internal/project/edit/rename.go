package edit

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/tomltext"
)

// Rename returns the edits that give a table with a name of its own, such as
// line.rear, another name, together with every place that refers to it: what a
// reading is of, and what a job waits for. They belong into one step.
func Rename(f *project.File, path, name string) ([]Edit, error) {
	path = f.Resolve(path)
	n := f.Doc().Find(path)
	dot := strings.LastIndexByte(path, '.')
	if n == nil {
		return nil, fmt.Errorf("there is no %s in the file", project.Printable(path))
	}
	if dot < 0 || n.Kind != tomltext.Table || !namedTable(path) {
		return nil, fmt.Errorf("%s has a name that cannot be changed; want a table with a name of its own, such as line.rear", project.Printable(path))
	}
	if !project.PlainName(name) {
		return nil, fmt.Errorf("read %q; a name is made of letters, digits, - and _, 40 at most", project.Printable(name))
	}
	to := path[:dot+1] + name
	if to == path {
		return nil, fmt.Errorf("it is called %s already", project.Printable(path))
	}
	edits := []Edit{{Op: OpRename, Path: path, Text: name}}
	from := references(f)
	if strings.HasPrefix(path, "tool.") || strings.HasPrefix(path, "point.") {
		from = measuredFrom(f.Doc().Root(), nil)
	}
	if line, ok := strings.CutPrefix(path, "line."); ok {
		for _, n := range linesNamed(f) {
			if n.Value == line {
				edits = append(edits, Edit{Op: OpSet, Path: n.Path, Text: tomltext.Quote(name)})
			}
		}
	}
	for _, n := range from {
		if now, ok := renamed(n.Value, path, to); ok {
			edits = append(edits, Edit{Op: OpSet, Path: n.Path, Text: tomltext.Quote(now)})
		}
	}
	return edits, nil
}

// references returns every text of the file that can refer to a named table:
// what readings are of, what jobs wait for and were ticked on, what is judged
// elsewhere, what may move and must hold, what a trial has otherwise, which mount a leg
// mirrors and which one a roll stop is a part of.
func references(f *project.File) []*tomltext.Node {
	var out []*tomltext.Node
	add := func(n *tomltext.Node) {
		if n != nil {
			out = append(out, n)
		}
	}
	root := f.Doc().Root()
	for _, r := range children(root.Child("reading")) {
		add(r.Child("of"))
	}
	for _, j := range children(root.Child("job")) {
		out = append(out, children(j.Child("hold"))...)
		for _, r := range children(j.Child("relied")) {
			add(r.Child("finding"))
		}
	}
	for _, e := range children(root.Child("elsewhere")) {
		add(e.Child("of"))
	}
	if find := root.Child("find"); find != nil {
		out = append(out, children(find.Child("hold"))...)
		for _, m := range children(find.Child("move")) {
			add(m.Child("of"))
		}
	}
	for _, t := range children(root.Child("trial")) {
		for _, c := range children(t.Child("change")) {
			add(c.Child("of"))
		}
	}
	for _, m := range children(root.Child("mount")) {
		for _, table := range []string{"leg", "bracket"} {
			if t := m.Child(table); t != nil {
				add(t.Child("match"))
			}
		}
	}
	for _, s := range children(root.Child("roll_stop")) {
		add(s.Child("mount"))
	}
	return out
}

// linesNamed returns every text that names a line by its name alone: what a piece of
// the vehicle carries, and whose suspension moves an axle.
func linesNamed(f *project.File) []*tomltext.Node {
	var out []*tomltext.Node
	root := f.Doc().Root()
	for _, c := range children(root.Child("chassis")) {
		out = append(out, children(c.Child("carries"))...)
	}
	for _, p := range children(root.Child("pickup")) {
		if n := p.Child("line"); n != nil {
			out = append(out, n)
		}
	}
	return out
}

// measuredFrom returns every text that can name a tool or a measured point: what
// something was measured with and from, and points that are given by name.
func measuredFrom(n *tomltext.Node, out []*tomltext.Node) []*tomltext.Node {
	for _, c := range n.Children {
		if c.Kind == tomltext.String && (c.Key == "with" || c.Key == "from" || c.Key == "to" || c.Key == "at" || inSurvey(c.Path) || project.IsPoint(c.Path)) {
			out = append(out, c)
		}
		out = measuredFrom(c, out)
	}
	return out
}

// inSurvey reports whether the value at path is a name in one of the survey's lists.
func inSurvey(path string) bool { return strings.HasPrefix(path, "survey.") }

func children(n *tomltext.Node) []*tomltext.Node {
	if n == nil {
		return nil
	}
	return n.Children
}

// renamed is a reference after the table at path has become the one at to. A
// mount's findings stand under other words too, and a leg names the mount alone.
func renamed(value any, path, to string) (string, bool) {
	s, ok := value.(string)
	if !ok {
		return "", false
	}
	pairs := [][2]string{{path + ".", to + "."}}
	if old, ok := strings.CutPrefix(path, "mount."); ok {
		now := strings.TrimPrefix(to, "mount.")
		if s == old {
			return now, true
		}
		for _, word := range []string{"bracket.", "match."} {
			pairs = append(pairs, [2]string{word + old + ".", word + now + "."})
		}
	}
	for _, p := range pairs {
		if s+"." == p[0] { // the subject itself: bracket.rear
			return strings.TrimSuffix(p[1], "."), true
		}
		if rest, ok := strings.CutPrefix(s, p[0]); ok {
			return p[1] + rest, true
		}
	}
	return "", false
}

// namedTable reports whether the last part of a path is a name and no key.
func namedTable(path string) bool {
	return project.ShapeAt(path[:strings.LastIndexByte(path, '.')]) == project.NamedTablesShape
}
