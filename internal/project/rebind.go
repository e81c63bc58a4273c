package project

import (
	"reflect"

	"fitup/internal/project/tomltext"
)

// With returns the File of another text in place of this one's. The error is
// Problems, every one that was found.
//
// What a part of the text says depends on that part and on the units alone, so
// only what differs is read; everything that looks across the file is worked out
// anew. Tests hold the result against that of reading the whole text.
func (f *File) With(doc *tomltext.Doc) (*File, error) {
	was, root := f.doc.Root(), doc.Root()
	differs := func(key string) bool {
		x, y := was.Child(key), root.Child(key)
		return (x == nil) != (y == nil) || x != nil && !tomltext.Same(x, y)
	}
	if differs("format") || differs("units") {
		return fromDoc(f.Name, doc)
	}
	b := &binder{file: f.Name, units: f.said.Units}
	said := *f.said
	if differs("limits") {
		b.limits(root, &said)
	}
	if differs("loads") {
		b.loads(root, &said)
	}
	b.table(was, root, reflect.ValueOf(&said).Elem(), apart()...)
	next, err := b.whole(doc, &said, f)
	if err != nil {
		return nil, b.inOrder()
	}
	return next, nil
}

// sameList reports whether two lists are one piece of memory.
func sameList[T any](a, b []T) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}
