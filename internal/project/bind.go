package project

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"fitup/internal/project/format"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"

	"gonum.org/v1/gonum/spatial/r3"
)

// binder fills a Build from a parsed text by walking the Build's own types, so
// the schema is written once, in build.go. It collects every problem.
type binder struct {
	file     string
	units    quantity.Units
	problems Problems
	byName   bool // some point is given by its name
}

// worded is a text that may only be one of a few words.
type worded interface{ Words() []string }

// tabled is a text that may also be the path of a table with a name, in one of
// those lists.
type tabled interface{ Tables() []string }

var (
	buildType = reflect.TypeFor[Build]()
	pointType = reflect.TypeFor[Point]()
	timeType  = reflect.TypeFor[time.Time]()
)

const (
	maxText = 4000 // runes of one text value
	maxName = 40   // letters of the name of a table
)

func (b *binder) fault(pos tomltext.Position, path, format string, args ...any) {
	b.problems = append(b.problems, Problem{
		File: b.file, Line: pos.Line, Col: pos.Col, Path: path, Msg: fmt.Sprintf(format, args...),
	})
}

// The binder walks text and types together. Each step is also given was, the part
// of an earlier text that v says now, so that only what differs is read; nil where
// v says nothing yet. What v shares with an earlier build is never changed.

// table fills the struct v from the table n. Keys in skip are somebody
// else's.
func (b *binder) table(was, n *tomltext.Node, v reflect.Value, skip ...string) {
	l := layoutOf(v.Type())
	if was != nil {
		for _, gone := range was.Children {
			if n.Child(gone.Key) == nil && !slices.Contains(skip, gone.Key) {
				v.FieldByIndex(l.fields[gone.Key].Index).SetZero()
			}
		}
	}
	for _, child := range n.Children {
		if slices.Contains(skip, child.Key) {
			continue
		}
		f, ok := l.fields[child.Key]
		if !ok {
			b.unknownKey(child, n.Path, append(slices.Clone(l.keys), skip...))
			continue
		}
		b.value(was.Child(child.Key), child, v.FieldByIndex(f.Index), f)
	}
}

func (b *binder) unknownKey(n *tomltext.Node, in string, known []string) {
	pos := n.KeyPos
	what := fmt.Sprintf("%q is not a key here", Printable(n.Key))
	if now, since := format.RenamedPath(n.Path); since > 0 {
		b.fault(pos, in, "%s; since format %d it is called %q", what, since, now[strings.LastIndexByte(now, '.')+1:])
		return
	}
	if near, ok := Nearest(n.Key, known); ok {
		b.fault(pos, in, "%s; did you mean %q?", what, near)
		return
	}
	b.fault(pos, in, "%s; known here: %s", what, strings.Join(known, ", "))
}

// value fills one field from one node, whatever its type.
func (b *binder) value(was, n *tomltext.Node, v reflect.Value, f *field) {
	t := v.Type()
	if was != nil {
		if tomltext.Same(was, n) {
			return
		}
		if was.Kind != n.Kind || isValue(t) {
			v.SetZero()
			was = nil
		}
	}
	switch {
	case isQuantity(t):
		b.quantity(n, v.Addr().Interface().(quantity.Settable), f)
	case isCoordinate(t):
		b.coordinate(n, v.Addr().Interface().(repeated))
	case t == pointType && n.Kind == tomltext.String:
		b.pointName(n, v.Addr().Interface().(*Point), f)
	case t == pointType:
		b.point(n, v.Addr().Interface().(*Point))
	case t == timeType:
		b.date(n, v)
	case v.Kind() == reflect.String:
		b.text(n, v)
	case v.Kind() == reflect.Bool:
		if n.Kind != tomltext.Bool {
			b.wrongType(n, "true or false")
			return
		}
		v.SetBool(n.Value.(bool))
	case v.Kind() == reflect.Int64:
		if n.Kind != tomltext.Integer {
			b.wrongType(n, "a whole number")
			return
		}
		v.SetInt(n.Value.(int64))
	case v.Kind() == reflect.Struct:
		if n.Kind != tomltext.Table {
			b.wrongType(n, "a table, like "+header(n.Path))
			return
		}
		b.table(was, n, v)
	case v.Kind() == reflect.Slice:
		b.slice(was, n, v, f)
	}
}

func (b *binder) slice(was, n *tomltext.Node, v reflect.Value, f *field) {
	elem := v.Type().Elem()
	if name, ok := nameField(elem); ok {
		b.named(was, n, v, name)
		return
	}
	if n.Kind != tomltext.Array && n.Kind != tomltext.TableArray {
		want := "a list in [ ]"
		if elem.Kind() == reflect.Struct && elem != pointType {
			want = "a list of tables, each opened by [[" + n.Path + "]]"
		}
		b.wrongType(n, want)
		return
	}
	out := reflect.MakeSlice(v.Type(), len(n.Children), len(n.Children))
	for i, child := range n.Children {
		e := out.Index(i)
		j := twin(was, n, i)
		if j < 0 {
			b.value(nil, child, e, f)
			continue
		}
		e.Set(v.Index(j))
		b.value(was.Children[j], child, e, f)
	}
	v.Set(out)
}

// twin is the place in was of the entry that most likely is entry i of n: as far
// from the beginning, or where entries came or went as far from the end; -1 when
// there is none.
func twin(was, n *tomltext.Node, i int) int {
	switch {
	case was == nil:
		return -1
	case i < len(was.Children) && (len(was.Children) == len(n.Children) || tomltext.Same(was.Children[i], n.Children[i])):
		return i
	}
	return max(-1, i+len(was.Children)-len(n.Children))
}

// named fills a slice whose elements carry their own table name, in the order
// of the text.
func (b *binder) named(was, n *tomltext.Node, v reflect.Value, name int) {
	if n.Kind != tomltext.Table {
		b.wrongType(n, "a table, like ["+n.Path+".rear]")
		return
	}
	all, count := reflect.MakeSlice(v.Type(), len(n.Children), len(n.Children)), 0
	for _, child := range n.Children {
		if child.Kind != tomltext.Table {
			b.wrongType(child, "a table, like "+header(child.Path))
			continue
		}
		if n := len(child.Key); n == 0 || n > maxName {
			b.fault(child.KeyPos, child.Path, "a name here is 1 to %d letters, digits, - and _ long; read %d", maxName, n)
			continue
		}
		if !PlainName(child.Key) {
			b.fault(child.KeyPos, child.Path, "the name %q has signs that a name cannot have; use letters, digits, - and _", Printable(child.Key))
			continue
		}
		e := all.Index(count)
		count++
		old := was.Child(child.Key)
		if old != nil {
			e.Set(v.Index(slices.Index(was.Children, old)))
		}
		e.Field(name).SetString(child.Key)
		b.table(old, child, e)
	}
	if count == 0 {
		v.SetZero()
		return
	}
	v.Set(all.Slice3(0, count, count))
}

// PlainName reports whether s can be the name of a table: letters, digits, - and
// _, 40 at most.
func PlainName(s string) bool {
	for _, r := range s {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_') {
			return false
		}
	}
	return s != "" && len(s) <= maxName
}

func (b *binder) quantity(n *tomltext.Node, q quantity.Settable, f *field) {
	s, err := b.stated(n, q.Kind())
	if err != nil {
		b.fault(n.Pos, n.Path, "%v", err)
		return
	}
	switch listed := n.Key == ""; {
	case f.positive && s.V < 0:
		b.fault(n.Pos, n.Path, "%s cannot be negative; read %s", f.key, Printable(n.Raw))
		return
	case s.Half > 0 && listed:
		b.fault(n.Pos, n.Path, "the entries of a list take no ±; read %s", describe(n))
		return
	case s.Half > 0 && f.exact:
		b.fault(n.Pos, n.Path, "%s takes no ±; read %s", f.key, describe(n))
		return
	}
	q.SetStated(s)
}

// number reads a bare number in the file's units or a text with a unit. A ± is
// refused.
func (b *binder) number(n *tomltext.Node, k quantity.Kind) (float64, error) {
	s, err := b.stated(n, k)
	if text, ok := n.Value.(string); ok && s.Half > 0 {
		_, err = quantity.Parse(k, text, b.units)
	}
	return s.V, err
}

// stated is number for a text that may carry a ±.
func (b *binder) stated(n *tomltext.Node, k quantity.Kind) (quantity.Stated, error) {
	var s quantity.Stated
	var err error
	switch x := n.Value.(type) {
	case string:
		s, err = quantity.ParseStated(k, x, b.units)
	case int64:
		s.V, err = quantity.FromNumber(k, float64(x), b.units)
	case float64:
		s.V, err = quantity.FromNumber(k, x, b.units)
	default:
		return s, fmt.Errorf("read %s; want %s, as a number or in quotes with its unit", describe(n), k)
	}
	if err == nil && (math.IsNaN(s.V) || math.IsInf(s.V, 0)) {
		err = fmt.Errorf("read %s, which is no usable number", describe(n))
	}
	return s, err
}

func (b *binder) point(n *tomltext.Node, p *Point) {
	if n.Kind != tomltext.Array || len(n.Children) != 3 {
		b.wrongType(n, "a point of three lengths: [station, offset, height]")
		return
	}
	var s [3]quantity.Stated
	for i, c := range n.Children {
		var err error
		if s[i], err = b.stated(c, quantity.Length); err != nil {
			b.fault(c.Pos, c.Path, "%v", err)
			return
		}
	}
	*p = Point{At: r3.Vec{X: s[0].V, Y: s[1].V, Z: s[2].V}, Half: r3.Vec{X: s[0].Half, Y: s[1].Half, Z: s[2].Half}, Known: true}
}

func (b *binder) date(n *tomltext.Node, v reflect.Value) {
	t, ok := n.Value.(time.Time)
	if !ok {
		b.wrongType(n, "a date without quotes, like 2026-05-14")
		return
	}
	v.Set(reflect.ValueOf(t))
}

func (b *binder) text(n *tomltext.Node, v reflect.Value) {
	s, ok := n.Value.(string)
	if !ok {
		b.wrongType(n, "text in quotes")
		return
	}
	if utf8.RuneCountInString(s) > maxText {
		b.fault(n.Pos, n.Path, "this text is %d characters long; at most %d fit", utf8.RuneCountInString(s), maxText)
		return
	}
	if w, ok := v.Interface().(worded); ok && s != "" && !slices.Contains(w.Words(), s) && !namesTable(v, s) {
		want := strings.Join(w.Words(), ", ")
		if t, ok := w.(tabled); ok {
			want += ", or the name of a table of the file such as " + t.Tables()[0] + ".NAME"
		}
		b.fault(n.Pos, n.Path, "read %q; want one of: %s", Printable(s), want)
		return
	}
	v.SetString(s)
}

// namesTable reports whether text is the path of a table that v may be.
func namesTable(v reflect.Value, text string) bool {
	t, ok := v.Interface().(tabled)
	if !ok {
		return false
	}
	list, name, _ := strings.Cut(text, ".")
	return slices.Contains(t.Tables(), list) && PlainName(name)
}

func (b *binder) wrongType(n *tomltext.Node, want string) {
	b.fault(n.Pos, n.Path, "read %s; want %s", describe(n), want)
}

// describe says what stands at n in a few words.
func describe(n *tomltext.Node) string {
	raw := Printable(n.Raw)
	if r := []rune(raw); len(r) > 40 {
		raw = string(r[:39]) + "…"
	}
	switch n.Kind {
	case tomltext.Table:
		return "a table"
	case tomltext.TableArray:
		return "a list of tables"
	case tomltext.Array:
		return "the list " + raw
	case tomltext.Bool:
		return "the word " + raw
	case tomltext.Datetime:
		return "the date " + raw
	case tomltext.String:
		return "the text " + raw
	}
	return "the number " + raw
}

// header is the head of a table in the text: that of a list stands twice in brackets.
func header(path string) string {
	if strings.HasSuffix(path, "]") {
		return "[[" + listPath(path) + "]]"
	}
	return "[" + path + "]"
}

var entryMark = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\[\d+\]`) })

// listPath is a path without the numbers of entries.
func listPath(path string) string { return entryMark().ReplaceAllString(path, "") }
