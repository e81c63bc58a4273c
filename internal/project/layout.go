package project

import (
	"reflect"
	"strings"
	"sync"

	"fitup/internal/project/quantity"
)

// layout is what the tags of one struct of the schema say, looked up once: which
// field a key stands for. The fields of what it embeds are its own.
type layout struct {
	fields map[string]*field
	keys   []string // in the order of the struct
	name   int      // the field that takes the name of the table, -1 without one
	deep   []*field // those that may have quantities in them, in the order of the struct
}

// field is one field of a struct of the schema.
type field struct {
	reflect.StructField
	key      string
	positive bool // below zero makes no sense
	exact    bool // a count, a choice or the figure of an instrument: takes no ±
}

// layouts holds a *layout for each struct type that was asked for. The types
// never change, so neither does what is in here.
var layouts sync.Map

func layoutOf(t reflect.Type) *layout {
	if l, ok := layouts.Load(t); ok {
		return l.(*layout)
	}
	l := &layout{fields: make(map[string]*field, t.NumField()), name: -1}
	for i := range t.NumField() {
		f := t.Field(i)
		switch tag := f.Tag.Get("toml"); {
		case tag == "" && f.Anonymous:
			l.embed(i, layoutOf(f.Type))
		case tag == "" || tag == "-":
		case tag == "*":
			l.name = i
		default:
			l.keys = append(l.keys, tag)
			l.fields[tag] = &field{f, tag, tagged(f.Tag, "min", "0"), tagged(f.Tag, "exact", "yes")}
		}
	}
	for _, key := range l.keys {
		if f := l.fields[key]; isDeep(f.Type) {
			l.deep = append(l.deep, f)
		}
	}
	layouts.Store(t, l)
	return l
}

// isDeep reports whether a type is a struct of the schema, or a list of some.
func isDeep(t reflect.Type) bool {
	for t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	return t.Kind() == reflect.Struct && t != timeType
}

// tagged reports whether a tag says that of a key. Most have no such key, and a tag is long:
// it is looked through for the words first.
func tagged(tag reflect.StructTag, key, value string) bool {
	return strings.Contains(string(tag), key+`:"`+value+`"`) && tag.Get(key) == value
}

// embed takes over the fields of the embedded struct that is field i.
func (l *layout) embed(i int, of *layout) {
	for _, key := range of.keys {
		f := *of.fields[key]
		f.Index = append([]int{i}, f.Index...)
		l.keys = append(l.keys, key)
		l.fields[key] = &f
	}
}

func fieldFor(t reflect.Type, key string) (*field, bool) {
	f, ok := layoutOf(t).fields[key]
	return f, ok
}

func nameField(t reflect.Type) (int, bool) {
	if t.Kind() != reflect.Struct {
		return 0, false
	}
	i := layoutOf(t).name
	return i, i >= 0
}

var settable = reflect.TypeFor[quantity.Settable]()

// quantities remembers which types of the schema are quantities.
var quantities sync.Map

func isQuantity(t reflect.Type) bool {
	if t.Kind() != reflect.Struct {
		return false
	}
	if is, ok := quantities.Load(t); ok {
		return is.(bool)
	}
	is := reflect.PointerTo(t).Implements(settable)
	quantities.Store(t, is)
	return is
}

// kindOf is what a quantity type measures.
func kindOf(t reflect.Type) (quantity.Kind, bool) {
	if isCoordinate(t) {
		return kindOfCoordinate(t), true
	}
	if !isQuantity(t) {
		return 0, false
	}
	return reflect.New(t).Interface().(quantity.Settable).Kind(), true
}
