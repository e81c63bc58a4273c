package tomltext

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// reread is Reread. TOML is read statement by statement, so where two states differ
// inside one literal, or in the key lines under one header, what stands around them
// is known: it moves and means what it meant. Then only that is read and the rest
// taken over; tests hold every such document against the one that Parse gives.
func (d *Doc) reread(src string) (*Doc, error) {
	if len(src) <= MaxBytes && strings.HasPrefix(src, byteOrderMark) == (d.base > 0) {
		text := src
		if d.base > 0 {
			text = "   " + src[bomLength:]
		}
		if next, ok := d.relit(text); ok {
			return next, nil
		}
		if next, ok := d.reline(text); ok {
			return next, nil
		}
	}
	return parse(d.name, src)
}

// relit is the document of text where that differs from d's in one literal only.
func (d *Doc) relit(text string) (*Doc, bool) {
	head, tail := Common(d.text, text)
	n := d.literalAt(head, len(d.text)-tail)
	if n == nil {
		return nil, false
	}
	raw := text[n.Start : n.End+len(text)-len(d.text)]
	if strings.Contains(raw, "\n") || strings.Contains(n.Raw, "\n") {
		return nil, false
	}
	raw = strings.Clone(raw) // so that the node does not hold on to the whole text
	one, err := readOne(raw)
	if err != nil || one.Kind == Table || one.Kind == Array {
		return nil, false
	}
	by := shift{behind: n.Start, line: n.Pos.Line,
		bytes: len(raw) - len(n.Raw), columns: utf8.RuneCountInString(raw) - utf8.RuneCountInString(n.Raw)}
	var next *Doc
	if by.bytes == 0 && by.columns == 0 {
		next = d.shared(n)
	} else {
		next = d.shifted(by)
	}
	next.text = text
	m := next.node(n.id)
	m.Kind, m.Value, m.Raw = one.Kind, one.Value, raw
	for up := next.parent(m); up != nil; up = next.parent(up) {
		if up.End > 0 { // a list or a table in braces is spelled around it
			up.Raw = strings.Clone(text[up.Start:up.End])
		}
	}
	return next, true
}

// literalAt is the single value whose literal holds the bytes from start to end.
func (d *Doc) literalAt(start, end int) *Node {
	for id := range d.count {
		if n := d.node(id); n.Start <= start && end <= n.End && n.Kind > Array {
			return n
		}
	}
	return nil
}

// shift moves what stands behind a place in a text by so many bytes, and on its
// line by so many characters.
type shift struct {
	behind, line   int
	bytes, columns int
}

func (s shift) offset(at *int) {
	if *at > s.behind {
		*at += s.bytes
	}
}

func (s shift) position(p *Position) {
	if p.Offset > s.behind {
		p.Offset += s.bytes
		if p.Line == s.line {
			p.Col += s.columns
		}
	}
}

func (s shift) statements(ss []statement) []statement {
	out := slices.Clone(ss)
	for i := range out {
		s.offset(&out[i].start)
		s.offset(&out[i].eq)
		s.offset(&out[i].end)
	}
	return out
}

// shared is d with a node of its own where n stands, and with such tables and lists around
// it. All others are d's as well: nothing of them is different where nothing moves. The text
// is still to be put in.
func (d *Doc) shared(n *Node) *Doc {
	next := &Doc{name: d.name, base: d.base, stmts: d.stmts, pairs: d.pairs, parts: d.parts, count: d.count, nodes: make([]*Node, d.count)}
	for id := range next.nodes {
		next.nodes[id] = d.node(id)
	}
	var below *Node // the one of its own just made
	for was := n; was != nil; was = d.parent(was) {
		own := *was
		own.Children = slices.Clone(was.Children)
		for i, c := range own.Children {
			if below != nil && c.id == below.id {
				own.Children[i] = below
			}
		}
		below, next.nodes[own.id] = &own, &own
	}
	next.root = below
	return next
}

// shifted is d with all that stands behind a place moved. The text is still to be
// put in.
func (d *Doc) shifted(by shift) *Doc {
	next := &Doc{name: d.name, base: d.base, stmts: d.stmts, pairs: d.pairs, parts: d.parts, slab: d.count, count: d.count}
	if by.bytes != 0 {
		next.stmts, next.pairs, next.parts = by.statements(d.stmts), by.statements(d.pairs), slices.Clone(d.parts)
		for i := range next.parts {
			by.offset(&next.parts[i].start)
			by.offset(&next.parts[i].end)
		}
	}
	all := make([]Node, d.count)
	next.slabs, next.root = [][]Node{all}, &all[0]
	children := make([]*Node, 0, d.count)
	for id := range all {
		m := &all[id]
		*m = *d.node(id)
		from := len(children)
		for _, c := range m.Children {
			children = append(children, &all[c.id])
		}
		if len(children) > from {
			m.Children = children[from:len(children):len(children)]
		}
		by.position(&m.KeyPos)
		by.position(&m.Pos)
		by.offset(&m.Start)
		by.offset(&m.End)
	}
	return next
}

// Common is how many bytes a and b share at their beginning, and at their end
// besides.
func Common(a, b string) (head, tail int) {
	most := min(len(a), len(b))
	for head+step <= most && a[head:head+step] == b[head:head+step] {
		head += step
	}
	for head < most && a[head] == b[head] {
		head++
	}
	return head, commonEnd(a[head:], b[head:])
}

// step is how many bytes are compared at once.
const step = 256

// commonEnd is how many bytes a and b share at their end.
func commonEnd(a, b string) (n int) {
	most, x, y := min(len(a), len(b)), len(a), len(b)
	for n+step <= most && a[x-n-step:x-n] == b[y-n-step:y-n] {
		n += step
	}
	for n < most && a[x-1-n] == b[y-1-n] {
		n++
	}
	return n
}
