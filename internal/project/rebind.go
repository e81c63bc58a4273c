package project

import (
	"reflect"
	"slices"

	"fitup/internal/project/tomltext"
)

// maxAgain is how many changed values are read alone. Past that the whole text is
// read as quickly.
const maxAgain = 64

// With returns the File of another text in place of this one's. The error is
// Problems, every one that was found.
//
// What a part of the text says depends on that part and on the units alone. Where
// the two texts have the same keys and entries in the same order, only the values
// that differ are read again; everything that looks across the file is worked out
// anew. Tests hold the result against that of reading the whole text.
func (f *File) With(doc *tomltext.Doc) (*File, error) {
	changed, ok := tomltext.Changed(f.doc, doc, maxAgain)
	if !ok || slices.ContainsFunc(changed, concernsAll) {
		return fromDoc(f.Name, doc)
	}
	b := &binder{file: f.Name, units: f.said.Units}
	said := *f.said
	read := map[*tomltext.Node]bool{}
	for _, n := range changed {
		b.again(n.Trail(), reflect.ValueOf(&said).Elem(), read)
	}
	next, err := b.whole(doc, &said, f)
	if err != nil {
		return nil, b.inOrder()
	}
	return next, nil
}

// concernsAll reports whether a value belongs to a table that is not read by the
// types of the schema, or says how others are read.
func concernsAll(n *tomltext.Node) bool {
	switch n.Trail()[0].Key {
	case "format", "units", "limits", "loads":
		return true
	}
	return false
}

// again reads the last node of a trail again into v, which holds what the node
// above the first one said, a struct of the schema. Lists on the way are copied
// first, since v shares them with an earlier build. What is set as one value, such
// as a point, is read once, whatever of it has changed: read notes it.
func (b *binder) again(trail []*tomltext.Node, v reflect.Value, read map[*tomltext.Node]bool) {
	n := trail[0]
	f := layoutOf(v.Type()).fields[n.Key]
	at := v.Field(f.Index[0])
	switch {
	case len(trail) > 1 && !isValue(f.Type) && at.Kind() == reflect.Struct:
		b.again(trail[1:], at, read)
	case len(trail) > 2 && !isValue(f.Type) && at.Kind() == reflect.Slice:
		own := reflect.MakeSlice(f.Type, at.Len(), at.Len())
		reflect.Copy(own, at)
		at.Set(own)
		b.again(trail[2:], own.Index(slices.Index(n.Children, trail[1])), read)
	case !read[n]:
		read[n] = true
		at.SetZero()
		b.value(n, at, f)
	}
}

// sameList reports whether two lists are one piece of memory.
func sameList[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}
