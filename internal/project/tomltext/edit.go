package tomltext

import (
	"errors"
	"math"
	"sort"
	"strings"
	"time"
)

// Pair is a key, as plain text, with the TOML literal of its value.
type Pair struct{ Key, Literal string }

// splice replaces the bytes from start to end.
type splice struct {
	start, end int
	with       string
}

// tree is the document as plain maps, lists and scalars: what an edit means,
// apart from how it is spelled.
type tree = map[string]any

func plain(n *Node) any {
	switch n.Kind {
	case Table:
		t := make(tree, len(n.Children))
		for _, c := range n.Children {
			t[c.Key] = plain(c)
		}
		return t
	case Array, TableArray:
		l := make([]any, len(n.Children))
		for i, c := range n.Children {
			l[i] = plain(c)
		}
		return l
	}
	return n.Value
}

// same compares two plain values exactly: numbers by kind and bits, times by
// instant, zone and kind.
func same(a, b any) bool {
	switch a := a.(type) {
	case tree:
		b, ok := b.(tree)
		if !ok || len(a) != len(b) {
			return false
		}
		for k, v := range a {
			w, ok := b[k]
			if !ok || !same(v, w) {
				return false
			}
		}
		return true
	case []any:
		b, ok := b.([]any)
		if !ok || len(a) != len(b) {
			return false
		}
		for i := range a {
			if !same(a[i], b[i]) {
				return false
			}
		}
		return true
	case float64:
		b, ok := b.(float64)
		return ok && math.Float64bits(a) == math.Float64bits(b)
	case time.Time:
		b, ok := b.(time.Time)
		return ok && a.Equal(b) && a.Format(time.RFC3339Nano) == b.Format(time.RFC3339Nano) &&
			a.Location().String() == b.Location().String()
	}
	return a == b
}

// sameBut reports whether a and b mean the same where but, a node under a, is
// taken to mean v. Without but it is whether they mean the same at all. Nodes that two
// documents share are one.
func sameBut(a, b, but *Node, v any) bool {
	if but != nil && a == but {
		return same(v, plain(b))
	}
	if a == b && (but == nil || !strings.HasPrefix(but.Path, a.Path)) {
		return true
	}
	if a.Kind != b.Kind && !(a.isList() && b.isList()) || len(a.Children) != len(b.Children) {
		return false
	}
	switch {
	case a.Kind == Table:
		for i, c := range a.Children {
			other := b.Children[i] // nearly always in the same order
			if other.Key != c.Key {
				if other = b.Child(c.Key); other == nil {
					return false
				}
			}
			if !sameBut(c, other, but, v) {
				return false
			}
		}
		return true
	case a.isList():
		for i, c := range a.Children {
			if !sameBut(c, b.Children[i], but, v) {
				return false
			}
		}
		return true
	}
	return same(a.Value, b.Value)
}

// isList reports whether n is a list, whichever way it is written.
func (n *Node) isList() bool { return n.Kind == Array || n.Kind == TableArray }

// commit applies splices, reads the result and compares it with what the edit was
// meant to give: n, a node of d, is to mean want, and all else what it meant.
func (d *Doc) commit(path string, n *Node, want any, splices ...splice) (*Doc, error) {
	sort.SliceStable(splices, func(i, j int) bool { return splices[i].start < splices[j].start })
	var b strings.Builder
	b.Grow(len(d.text) + grown(splices))
	if d.base > 0 {
		b.WriteString(byteOrderMark)
	}
	at := d.base
	for _, s := range splices {
		if s.start < at || s.end < s.start {
			return nil, d.refuse(path, "the places to change overlap; edit the text by hand", nil)
		}
		b.WriteString(d.text[at:s.start])
		b.WriteString(s.with)
		at = s.end
	}
	b.WriteString(d.text[at:])
	next, err := d.reread(b.String())
	if err != nil {
		return nil, d.refuse(path, "this change would leave a text that cannot be read; nothing was changed", err)
	}
	if !sameBut(d.root, next.root, n, want) {
		return nil, d.refuse(path, "this change would alter other values too; edit the text by hand", nil)
	}
	return next, nil
}

// grown is how many bytes splices put in.
func grown(splices []splice) (n int) {
	for _, s := range splices {
		n += len(s.with)
	}
	return n
}

func (d *Doc) refuse(path, msg string, err error) error {
	return &EditError{Name: d.name, Path: path, Msg: msg, Err: err}
}

// must finds the node an edit is about.
func (d *Doc) must(path string) (*Node, []segment, error) {
	segs, err := splitPath(path)
	if err != nil {
		return nil, nil, d.refuse(path, "this is not a path", err)
	}
	n, rest := d.descend(segs)
	if len(rest) > 0 {
		return nil, nil, d.refuse(path, "cannot be changed", ErrNotFound)
	}
	if n == d.root {
		return nil, nil, d.refuse(path, "the whole document is not a key; name one", nil)
	}
	return n, segs, nil
}

// replace returns at with the value under segs set, making tables on the
// way. The plain tree passed in is used up.
func replace(at any, segs []segment, v any) any {
	if len(segs) == 0 {
		return v
	}
	s := segs[0]
	if s.isIndex {
		l := at.([]any)
		l[s.index] = replace(l[s.index], segs[1:], v)
		return l
	}
	t, ok := at.(tree)
	if !ok {
		t = tree{}
	}
	t[s.key] = replace(t[s.key], segs[1:], v)
	return t
}

// literal is a value spelled as TOML, already read.
type literal struct {
	text  string
	value any
}

// readLiteral reads text as exactly one TOML value and gives its line ends,
// outside of strings, the ending eol.
func readLiteral(text, eol string) (literal, error) {
	n, err := readOne(text)
	if err != nil {
		return literal{}, err
	}
	return literal{text: respell(n, valueLead+text, eol), value: plain(n)}, nil
}

const valueLead = "v="

// readOne reads text as exactly one TOML value; it begins behind valueLead.
func readOne(text string) (*Node, error) {
	d, err := parse("value", valueLead+text)
	if err != nil {
		var se *SyntaxError
		if errors.As(err, &se) {
			err = errors.New(se.Msg)
		}
		return nil, err
	}
	n := d.root.Child("v")
	if len(d.stmts) != 1 || n == nil || n.Start != len(valueLead) || n.End != len(d.text) {
		return nil, errors.New("more than one value stands there")
	}
	return n, nil
}

// respell gives a literal's line ends outside of strings the ending eol.
func respell(n *Node, text, eol string) string {
	if !strings.Contains(n.Raw, "\n") || n.Kind == String {
		return n.Raw
	}
	var b strings.Builder
	at := n.Start
	change := func(s string) {
		b.WriteString(strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\n", eol))
	}
	var walk func(*Node)
	walk = func(n *Node) {
		if n.Kind == String {
			change(text[at:n.Start])
			b.WriteString(n.Raw)
			at = n.End
		}
		for _, c := range n.Children {
			walk(c)
		}
	}
	walk(n)
	change(text[at:n.End])
	return b.String()
}
