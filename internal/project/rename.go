package project

import (
	"fmt"
	"strings"

	"fitup/internal/project/tomltext"
)

// Rename returns the edits that give a table with a name of its own, such as
// line.rear, another name, together with every place that refers to it: what a
// reading is of, and what a job waits for. They belong into one step.
func (f *File) Rename(path, name string) ([]Edit, error) {
	path = f.Resolve(path)
	n := f.doc.Find(path)
	dot := strings.LastIndexByte(path, '.')
	if n == nil {
		return nil, fmt.Errorf("there is no %s in the file", Printable(path))
	}
	if t, ok := typeAt(path); !ok || dot < 0 || n.Kind != tomltext.Table || !namedTable(path) {
		return nil, fmt.Errorf("%s has a name that cannot be changed; want a table with a name of its own, such as line.rear (%v)", Printable(path), t)
	}
	if !plainName(name) {
		return nil, fmt.Errorf("read %q; a name is made of letters, digits, - and _, 40 at most", Printable(name))
	}
	to := path[:dot+1] + name
	if to == path {
		return nil, fmt.Errorf("it is called %s already", Printable(path))
	}
	edits := []Edit{{Op: OpRename, Path: path, Text: name}}
	refer := func(at string, n *tomltext.Node) {
		s, ok := n.Value.(string)
		if rest, found := strings.CutPrefix(s, path+"."); ok && found {
			edits = append(edits, Edit{Op: OpSet, Path: at, Text: tomltext.Quote(to + "." + rest)})
		}
	}
	root := f.doc.Root()
	if list := root.Child("reading"); list != nil {
		for _, r := range list.Children {
			if of := r.Child("of"); of != nil {
				refer(of.Path, of)
			}
		}
	}
	if list := root.Child("job"); list != nil {
		for _, j := range list.Children {
			if hold := j.Child("hold"); hold != nil {
				for _, h := range hold.Children {
					refer(h.Path, h)
				}
			}
		}
	}
	return edits, nil
}

// namedTable reports whether the last part of a path is a name and no key.
func namedTable(path string) bool {
	above, ok := typeAt(path[:strings.LastIndexByte(path, '.')])
	if !ok || above.Kind().String() != "slice" {
		return false
	}
	_, named := nameField(above.Elem())
	return named
}
