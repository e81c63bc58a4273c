package project

import (
	"reflect"
	"slices"
	"strings"
	"sync"

	"fitup/internal/project/quantity"
)

// Key is one key of a build file as the schema has it.
type Key struct {
	Path  string // NAME stands for a name of one's own, N for the number of an entry
	About string // from the schema; "" for a table that needs no words
	How   string // how one gets at it, in a sentence; "" where its words say it
	From  string // what it is measured from, "" where nothing
	Shape Shape
	Kind  quantity.Kind // of a quantity
	Words []string      // what a text may be, nil when it is free
	typed reflect.Type
}

// Schema lists every key of a build file, tables before their keys, in the order
// in which the tables are written.
func Schema() []Key { return slices.Clone(schemaKeys()) }

var schemaKeys = sync.OnceValue(func() []Key {
	var out []Key
	for _, top := range TopKeys() {
		switch top {
		case "units":
			out = append(out, unitSchema()...)
		case "limits":
			out = append(out, ruleSchema(top, "limits that this build changes: a value, or { value = ..., source = \"...\" }", Defaults())...)
		case "loads":
			out = append(out, ruleSchema(top, "factors of the loads on the mounts, where this build changes them", DefaultLoads())...)
			out = keysOf(reflect.TypeFor[loadTable](), "loads.", out)
		default:
			f, _ := fieldFor(buildType, top)
			out = keyOf(f, "", out)
		}
	}
	return out
})

// keysOf appends the keys of a table of that type: its own first, then the
// tables in it.
func keysOf(t reflect.Type, prefix string, out []Key) []Key {
	l := layoutOf(t)
	for _, tables := range []bool{false, true} {
		for _, key := range l.keys {
			if f := l.fields[key]; tables != isValue(f.Type) {
				out = keyOf(f, prefix, out)
			}
		}
	}
	return out
}

func keyOf(f *field, prefix string, out []Key) []Key {
	said := f.describe()
	k := Key{Path: prefix + f.key, About: said.About, How: said.How, From: said.From, Shape: shapeOf(f.Type), typed: f.Type}
	k.Kind, _ = kindOf(f.Type)
	k.Words = wordsOf(f.Type)
	switch k.Shape {
	case TableShape:
		return keysOf(f.Type, k.Path+".", append(out, k))
	case TablesShape:
		return keysOf(f.Type.Elem(), k.Path+".N.", append(out, k))
	case NamedTablesShape:
		k.Path += ".NAME"
		return keysOf(f.Type.Elem(), k.Path+".", append(out, k))
	}
	return append(out, k)
}

func unitSchema() []Key {
	text := reflect.TypeFor[string]()
	out := []Key{
		{Path: "units", About: "what a bare number in this file is in", Shape: TableShape},
		{Path: "units.system", About: "all of them at once; metric when left out", Shape: TextShape, Words: []string{"metric", "inch"}, typed: text},
	}
	for _, u := range unitKeys {
		out = append(out, Key{Path: "units." + u.key, About: "the unit of " + u.kind.Named() + ", where it is not the system's", Shape: TextShape, typed: text})
	}
	return out
}

func ruleSchema(name, about string, rules []Rule) []Key {
	out := []Key{{Path: name, About: about, Shape: TableShape}}
	for _, r := range rules {
		t, _ := limitType(r.Key, rules)
		out = append(out, Key{Path: name + "." + r.Key, About: r.About, Shape: QuantityShape, Kind: r.Kind, typed: t})
	}
	return out
}

// Named returns the key with the names and numbers of path, which it matches, in
// place of NAME and N as far as path goes.
func (k Key) Named(path string) Key {
	own, given := strings.Split(k.Path, "."), strings.Split(path, ".")
	out, j := make([]string, len(own)), 0
	for i, part := range own {
		out[i] = part
		if j == len(given) {
			continue
		}
		switch {
		case part == "N" && !isNumber(given[j]): // left out
			continue
		case part == "N" || part == "NAME":
			out[i] = given[j]
		}
		j++
	}
	k.Path = strings.Join(out, ".")
	return k
}

// Under reports whether path leads to the key, or to a table or list that it
// stands in; exact is true for the key itself. Numbers of entries may be left out.
func (k Key) Under(path string) (under, exact bool) {
	own, given := strings.Split(k.Path, "."), strings.Split(path, ".")
	j := 0
	for _, part := range own {
		switch {
		case j == len(given):
			return true, false
		case part == "N" && !isNumber(given[j]):
			continue
		case part == given[j], part == "N", part == "NAME" && PlainName(given[j]):
			j++
		default:
			return false, false
		}
	}
	return j == len(given), j == len(given)
}

func isNumber(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }

// Takes says in a few words what the key is given: a length, a point, one of
// some words.
func (k Key) Takes() string {
	t := k.typed
	switch {
	case len(k.Words) > 0:
		return "one of: " + strings.Join(k.Words, ", ")
	case isCoordinate(t):
		return k.Kind.Named() + ", or a list of its repeats"
	case k.Shape == QuantityShape:
		return k.Kind.Named()
	case k.Shape == SwitchShape:
		return "true or false"
	case k.Shape == DateShape:
		return "a date, such as 2026-05-14"
	case k.Shape == TextShape:
		return "a text"
	case k.Shape == NumberShape:
		return "a whole number"
	case t == pointType:
		return "a point: [rearward, right, up], or the name of one in quotes"
	case k.Shape == ListShape && t.Elem() == pointType:
		return "a list of points: [[rearward, right, up], ...]"
	case k.Shape == ListShape:
		if kind, ok := kindOf(t.Elem()); ok {
			return "a list, each " + kind.Named()
		}
		return "a list of texts"
	}
	return ""
}

// Example is a value for the key as `fitup set` takes it behind the = sign.
func (k Key) Example() string {
	t := k.typed
	switch {
	case len(k.Words) > 0:
		return k.Words[0]
	case k.Shape == QuantityShape:
		return k.Kind.Example()
	case k.Shape == SwitchShape:
		return "true"
	case k.Shape == DateShape:
		return "2026-05-14"
	case t == pointType:
		return "[1200, 0, -50]"
	case k.Shape == ListShape && t.Elem() == pointType:
		return "[[0, 0, 0], [3000, 0, 0]]"
	case k.Shape == ListShape:
		if kind, ok := kindOf(t.Elem()); ok {
			if kind == quantity.Number {
				return "[4.2, 2.3, 1.4, 1]"
			}
			return "[\"" + kind.Example() + "\"]"
		}
		return "[\"...\"]"
	}
	return "..."
}

// KeyAt returns what the schema has at a path of the text or of a person.
func KeyAt(path string) (Key, bool) {
	path = strings.NewReplacer("[", ".", "]", "").Replace(path)
	for _, k := range schemaKeys() {
		if _, exact := k.Under(path); exact {
			return k.Named(path), true
		}
	}
	return Key{}, false
}
