package project

import (
	"reflect"
	"strings"

	"fitup/internal/project/quantity"
)

// SchemaPaths lists the paths of every single value outside of lists and tables
// with names of their own, in the order of the schema.
func SchemaPaths() []string {
	out := schemaPaths(reflect.TypeFor[Build](), "", nil)
	for _, r := range Defaults() {
		out = append(out, "limits."+r.Key)
	}
	return out
}

func schemaPaths(t reflect.Type, prefix string, out []string) []string {
	l := layoutOf(t)
	for _, key := range l.keys {
		f := l.fields[key]
		switch {
		case key == "format":
		case isValue(f.Type):
			out = append(out, prefix+key)
		case f.Type.Kind() == reflect.Struct:
			out = schemaPaths(f.Type, prefix+key+".", out)
		}
	}
	return out
}

// isValue reports whether a type of the schema is set as one value.
func isValue(t reflect.Type) bool {
	if isQuantity(t) {
		return true
	}
	if t.Kind() == reflect.Slice {
		return t.Elem() == pointType || t.Elem().Kind() != reflect.Struct || isValue(t.Elem())
	}
	return t == pointType || isCoordinate(t) || t == timeType || t.Kind() == reflect.String || t.Kind() == reflect.Bool
}

// IsPath reports whether a build file can have a value at path.
func IsPath(path string) bool {
	t, ok := typeAt(path)
	return ok && isValue(t)
}

// Choices lists the words that the value at path may be, nil when it is free.
func Choices(path string) []string {
	t, ok := typeAt(path)
	if !ok {
		return nil
	}
	if t.Kind() == reflect.Bool {
		return []string{"true", "false"}
	}
	return wordsOf(t)
}

// wordsOf lists what a text of that type may be, nil when it is free.
func wordsOf(t reflect.Type) []string {
	if w, ok := reflect.New(t).Elem().Interface().(worded); ok {
		return w.Words()
	}
	return nil
}

// Choices lists the words that the value at path may be in this file: those of
// the schema and, where it may be a table with a name, such as a tool, those that
// the file has. Nil when it is free.
func (f *File) Choices(path string) []string {
	words := Choices(path)
	t, ok := typeAt(path)
	if !ok || words == nil {
		return words
	}
	if in, ok := reflect.New(t).Elem().Interface().(tabled); ok {
		for _, list := range in.Tables() {
			if n := f.doc.Root().Child(list); n != nil {
				for _, c := range n.Children {
					words = append(words, list+"."+c.Key)
				}
			}
		}
	}
	return words
}

// NamesTable reports whether the value at path may be the name of a table of the file.
func NamesTable(path string) bool {
	t, ok := typeAt(path)
	if !ok {
		return false
	}
	_, names := reflect.New(t).Elem().Interface().(tabled)
	return names
}

// Shape is what the schema has at a path.
type Shape uint8

// The shapes. A list is one in brackets, or a point; tables are those of a list
// or of names, and a table is one of them.
const (
	NoShape Shape = iota
	QuantityShape
	TextShape
	SwitchShape
	DateShape
	ListShape
	TableShape
	TablesShape
	NamedTablesShape
	NumberShape
)

// ShapeAt returns what the schema has at a path such as line.rear.pinion.at[2].
func ShapeAt(path string) Shape {
	t, ok := typeAt(path)
	if !ok {
		return NoShape
	}
	return shapeOf(t)
}

func shapeOf(t reflect.Type) Shape {
	switch {
	case isQuantity(t), isCoordinate(t):
		return QuantityShape
	case t.Kind() == reflect.String:
		return TextShape
	case t.Kind() == reflect.Bool:
		return SwitchShape
	case t == timeType:
		return DateShape
	case isValue(t):
		return ListShape
	case t.Kind() == reflect.Struct:
		return TableShape
	case t.Kind() == reflect.Slice:
		if _, named := nameField(t.Elem()); named {
			return NamedTablesShape
		}
		return TablesShape
	}
	return NumberShape
}

// KindAt returns the kind of quantity that the schema has at path.
func KindAt(path string) (quantity.Kind, bool) {
	t, ok := typeAt(path)
	if !ok {
		return 0, false
	}
	return kindOf(t)
}

// limitPath is the type of what stands at a limit's name: its value, as such or
// in a table, or its source.
func limitPath(key string, rules []Rule) (reflect.Type, bool) {
	if base, ok := strings.CutSuffix(key, ".source"); ok {
		_, known := limitType(base, rules)
		return reflect.TypeFor[string](), known
	}
	return limitType(strings.TrimSuffix(key, ".value"), rules)
}

// typeAt walks the schema along a path such as line.rear.pinion.at[2].
func typeAt(path string) (reflect.Type, bool) {
	if key, ok := strings.CutPrefix(path, "limits."); ok {
		return limitPath(key, Defaults())
	}
	t := reflect.TypeFor[Build]()
	if key, ok := strings.CutPrefix(path, "loads."); ok {
		if !strings.HasPrefix(key, "case") {
			return limitPath(key, DefaultLoads())
		}
		t, path = reflect.TypeFor[loadTable](), key
	}
	for _, part := range strings.Split(path, ".") {
		key, indexes, _ := strings.Cut(part, "[")
		next, ok := stepInto(t, key)
		if !ok {
			return nil, false
		}
		t = next
		for range strings.Count(indexes, "]") {
			switch {
			case t.Kind() == reflect.Slice:
				t = t.Elem()
			case t == pointType, t == coordinateType:
				t = reflect.TypeFor[quantity.LengthQ]()
			case t == sideType:
				t = reflect.TypeFor[quantity.OffsetQ]()
			default:
				return nil, false
			}
		}
	}
	return t, true
}

func stepInto(t reflect.Type, key string) (reflect.Type, bool) {
	if t.Kind() == reflect.Slice { // a named table: the key is a name
		if _, named := nameField(t.Elem()); named && PlainName(key) {
			return t.Elem(), true
		}
		return nil, false
	}
	if t.Kind() != reflect.Struct || t == pointType || isCoordinate(t) || t == timeType {
		return nil, false
	}
	f, ok := fieldFor(t, key)
	if !ok {
		return nil, false
	}
	return f.Type, true
}
