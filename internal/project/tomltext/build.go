package tomltext

import (
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// builder turns the span parser's expressions into the tree, applying
// TOML's rules on what may be defined twice.
type builder struct {
	*Doc
	cur     cursor
	here    *Node // table the next key lines belong to
	section int
}

func (d *Doc) build() error {
	b := &builder{Doc: d, cur: cursor{text: d.text, base: d.base}, section: -1}
	d.slab = slabSize
	d.root = b.take()
	d.root.up = -1
	d.root.Pos, d.root.KeyPos = Position{1, 1, d.base}, Position{1, 1, d.base}
	b.here = d.root
	d.stmts = make([]statement, 0, 1+strings.Count(d.text, "\n"))
	d.parts = make([]part, 0, 1+strings.Count(d.text, "=")+3*strings.Count(d.text, "\n["))

	data := []byte(d.text)
	data = data[:len(data):len(data)]
	var p unstable.Parser
	p.Reset(data)
	for p.NextExpression() {
		var err *SyntaxError
		switch e := p.Expression(); e.Kind {
		case unstable.KeyValue:
			err = b.keyLine(e)
		default:
			err = b.header(e)
		}
		if err != nil {
			return err
		}
	}
	if err := p.Error(); err != nil {
		return d.spanFailure(data, err)
	}
	return nil
}

// header takes a [table] or [[entry]] line.
func (b *builder) header(e *unstable.Node) *SyntaxError {
	s := statement{form: formTable, lo: len(b.parts), base: b.root.id, section: b.section}
	if e.Kind == unstable.ArrayTable {
		s.form = formEntry
	}
	b.section = len(b.stmts)
	at := b.root
	it := e.Key()
	for it.Next() {
		k := it.Node()
		lo, hi := int(k.Raw.Offset), int(k.Raw.Offset+k.Raw.Length)
		if s.start == 0 && s.lo == len(b.parts) {
			s.start = b.bracketBefore(lo)
		}
		s.end = hi
		var n *Node
		var err *SyntaxError
		if it.IsLast() {
			n, at, err = b.openHeader(at, b.keyText(k), s, lo)
		} else {
			n, err = b.passHeader(at, b.keyText(k), lo)
			at = n
			if n != nil && n.Kind == TableArray {
				at = n.Children[len(n.Children)-1]
			}
		}
		if err != nil {
			return err
		}
		b.parts = append(b.parts, part{n.id, lo, hi})
	}
	for b.text[s.end] != ']' {
		s.end++
	}
	s.end++
	if s.form == formEntry {
		s.end++
	}
	s.hi, s.leaf, s.made = len(b.parts), at.id, b.count
	b.here = at
	b.stmts = append(b.stmts, s)
	return nil
}

// keyText is the unquoted key; a bare one shares the text's memory.
func (b *builder) keyText(k *unstable.Node) string {
	if len(k.Data) == int(k.Raw.Length) {
		return b.text[k.Raw.Offset : k.Raw.Offset+k.Raw.Length]
	}
	return string(k.Data)
}

func (b *builder) bracketBefore(off int) int {
	for off--; b.text[off] != '['; off-- {
	}
	if off > 0 && b.text[off-1] == '[' {
		off--
	}
	return off
}

// passHeader follows one part of a header that is not its last.
func (b *builder) passHeader(at *Node, key string, off int) (*Node, *SyntaxError) {
	n, err := b.child(at, key, off)
	if err != nil {
		return nil, err
	}
	if n == nil {
		return b.newChild(at, key, Table, byLonger, off)
	}
	if n.Kind == TableArray || n.Kind == Table && n.def != byLiteral {
		return n, nil
	}
	return nil, b.taken(n, off, "cannot be opened as a table: it already has a value")
}

// openHeader defines the table or list entry a header names. It returns the
// node of the last key part and the table opened.
func (b *builder) openHeader(at *Node, key string, s statement, off int) (*Node, *Node, *SyntaxError) {
	n, err := b.child(at, key, off)
	if err != nil {
		return nil, nil, err
	}
	if s.form == formEntry {
		return b.openEntry(at, n, key, s, off)
	}
	if n == nil {
		if n, err = b.newChild(at, key, Table, byHeader, off); err != nil {
			return nil, nil, err
		}
	}
	if n.Kind != Table || n.def != byLonger && n.KeyPos.Offset != off {
		return nil, nil, b.taken(n, off, "stands twice")
	}
	n.def = byHeader
	n.Pos, n.KeyPos = b.cur.at(s.start), b.cur.at(off)
	return n, n, nil
}

func (b *builder) openEntry(at, list *Node, key string, s statement, off int) (*Node, *Node, *SyntaxError) {
	var err *SyntaxError
	switch {
	case list == nil:
		if list, err = b.newChild(at, key, TableArray, byHeader, off); err != nil {
			return nil, nil, err
		}
		list.Pos = b.cur.at(s.start)
	case list.Kind != TableArray:
		return nil, nil, b.taken(list, off, "cannot begin a list entry: it is already something else")
	}
	entry, err := b.element(list, Table, byHeader, off)
	if err != nil {
		return nil, nil, err
	}
	entry.Pos, entry.KeyPos = b.cur.at(s.start), b.cur.at(off)
	list.add(entry)
	return list, entry, nil
}

// keyLine takes a key = value line.
func (b *builder) keyLine(e *unstable.Node) *SyntaxError {
	s, err := b.pair(b.here, e, false)
	if err != nil {
		return err
	}
	s.section, s.made = b.section, b.count
	b.stmts = append(b.stmts, s)
	return nil
}

// pair takes one key = value, on a line of its own or in an inline table.
func (b *builder) pair(at *Node, e *unstable.Node, inline bool) (statement, *SyntaxError) {
	s := statement{form: formKey, start: int(e.Raw.Offset), end: int(e.Raw.Offset + e.Raw.Length), base: at.id, section: -1}
	it := e.Key()
	type spelled struct {
		key    string
		lo, hi int
	}
	var few [4]spelled
	keys := few[:0]
	for it.Next() {
		k := it.Node()
		keys = append(keys, spelled{b.keyText(k), int(k.Raw.Offset), int(k.Raw.Offset + k.Raw.Length)})
	}
	s.lo, s.hi = len(b.parts), len(b.parts)+len(keys)
	for i, k := range keys {
		n, err := b.child(at, k.key, k.lo)
		if err != nil {
			return s, err
		}
		last := i == len(keys)-1
		switch {
		case n != nil && (last || n.Kind != Table || n.def != byDotted):
			return s, b.taken(n, k.lo, "stands twice")
		case n == nil && last:
			n, err = b.newChild(at, k.key, String, byLiteral, k.lo)
		case n == nil:
			n, err = b.newChild(at, k.key, Table, byDotted, k.lo)
			if n != nil {
				n.Inline = inline
			}
		}
		if err != nil {
			return s, err
		}
		b.parts = append(b.parts, part{n.id, k.lo, k.hi})
		at = n
	}
	s.leaf = at.id
	s.eq = keys[len(keys)-1].hi
	for b.text[s.eq] != '=' {
		s.eq++
	}
	start := s.eq + 1
	for b.text[start] == ' ' || b.text[start] == '\t' {
		start++
	}
	_, err := b.value(at, e.Value(), start, inline)
	return s, err
}

// child looks key up in at and refuses a key that differs only by case.
func (b *builder) child(at *Node, key string, off int) (*Node, *SyntaxError) {
	n := at.lookup(foldKey(key))
	if n != nil && n.Key != key {
		return nil, b.fail(off, "the key %s differs only by small and capital letters from %s on line %d; use one name",
			show(key, 24), show(n.Key, 24), n.KeyPos.Line)
	}
	return n, nil
}

func (b *builder) taken(n *Node, off int, how string) *SyntaxError {
	first := n.KeyPos
	return b.fail(off, "%s %s; the first is on line %d, column %d", show(Spoken(n.Path), 48), how, first.Line, first.Col)
}

// newChild makes and hangs in a node under a key.
func (b *builder) newChild(at *Node, key string, kind Kind, def definition, off int) (*Node, *SyntaxError) {
	n, err := b.newNode(at, kind, def, off)
	if err != nil {
		return nil, err
	}
	n.Key, n.fold = key, foldKey(key)
	n.KeyPos = b.cur.at(off)
	n.Pos = n.KeyPos
	n.Path = QuoteKey(key)
	if at.Path != "" {
		n.Path = at.Path + "." + n.Path
	}
	if len(n.Path) > maxPath {
		return nil, b.fail(off, "the names of the tables around this key and its own are too long together")
	}
	at.add(n)
	return n, nil
}

// element makes the next entry of a list without hanging it in.
func (b *builder) element(list *Node, kind Kind, def definition, off int) (*Node, *SyntaxError) {
	n, err := b.newNode(list, kind, def, off)
	if err != nil {
		return nil, err
	}
	n.Path = list.Path + "[" + strconv.Itoa(len(list.Children)) + "]"
	return n, nil
}

func (b *builder) newNode(at *Node, kind Kind, def definition, off int) (*Node, *SyntaxError) {
	if b.count > MaxKeys {
		return nil, b.fail(off, "the text holds more than %d keys and list entries", MaxKeys)
	}
	if at.depth >= MaxDepth {
		return nil, b.fail(off, "tables and lists stand more than %d deep inside each other here", MaxDepth)
	}
	n := b.take()
	n.Kind, n.def, n.up, n.depth = kind, def, at.id, at.depth+1
	return n, nil
}

// slabSize is how many nodes are made at once.
const slabSize = 64

// take is the next node of the document.
func (d *Doc) take() *Node {
	if d.count%slabSize == 0 {
		d.slabs = append(d.slabs, make([]Node, slabSize))
	}
	n := d.node(d.count)
	n.id = d.count
	d.count++
	return n
}
