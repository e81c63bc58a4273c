package tomltext

import (
	"strings"
	"unicode/utf8"
)

// reread is Reread. Where two states differ inside one literal of one line, what
// stands around it is known: TOML is read statement by statement, and one whole
// value in place of another moves the rest of its line and nothing else. Then the
// literal alone is read and the tree taken over; tests hold every such document
// against the one that Parse gives.
func (d *Doc) reread(src string) (*Doc, error) {
	if len(src) <= MaxBytes && strings.HasPrefix(src, byteOrderMark) == (d.base > 0) {
		text := src
		if d.base > 0 {
			text = "   " + src[bomLength:]
		}
		if next, ok := d.relit(text); ok {
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
	next := d.shifted(n, len(raw)-len(n.Raw), utf8.RuneCountInString(raw)-utf8.RuneCountInString(n.Raw))
	next.text = text
	m := next.slabs[0][n.id:]
	m[0].Kind, m[0].Value, m[0].Raw = one.Kind, one.Value, raw
	for up := m[0].parent; up != nil; up = up.parent {
		if up.End > 0 { // a list or a table in braces is spelled around it
			up.Raw = strings.Clone(text[up.Start:up.End])
		}
	}
	return next, true
}

// literalAt is the single value whose literal holds the bytes from start to end.
func (d *Doc) literalAt(start, end int) *Node {
	for _, slab := range d.slabs {
		for i := range slab {
			n := &slab[i]
			if n.Start <= start && end <= n.End && n.Kind > Array {
				return n
			}
		}
	}
	return nil
}

// shifted is d with all that stands behind the beginning of the literal of n
// moved by so many bytes, on its line by so many characters. The text is still
// to be put in.
func (d *Doc) shifted(n *Node, bytes, columns int) *Doc {
	all := make([]Node, 0, d.count)
	for _, slab := range d.slabs {
		all = append(all, slab...)
	}
	children := make([]*Node, 0, d.count)
	off := func(at *int) {
		if *at > n.Start {
			*at += bytes
		}
	}
	position := func(p *Position) {
		if p.Offset > n.Start {
			p.Offset += bytes
			if p.Line == n.Pos.Line {
				p.Col += columns
			}
		}
	}
	for i := range all {
		m := &all[i]
		if m.parent != nil {
			m.parent = &all[m.parent.id]
		}
		from := len(children)
		for _, c := range m.Children {
			children = append(children, &all[c.id])
		}
		if len(children) > from {
			m.Children = children[from:len(children):len(children)]
		}
		position(&m.KeyPos)
		position(&m.Pos)
		off(&m.Start)
		off(&m.End)
	}
	statements := func(ss []statement) []statement {
		out := append([]statement(nil), ss...)
		for i := range out {
			s := &out[i]
			s.base, s.leaf = &all[s.base.id], &all[s.leaf.id]
			off(&s.start)
			off(&s.eq)
			off(&s.end)
		}
		return out
	}
	parts := append([]part(nil), d.parts...)
	for i := range parts {
		p := &parts[i]
		p.node = &all[p.node.id]
		off(&p.start)
		off(&p.end)
	}
	return &Doc{name: d.name, base: d.base, root: &all[0], stmts: statements(d.stmts), pairs: statements(d.pairs),
		parts: parts, slabs: [][]Node{all}, count: d.count}
}

// Common is how many bytes a and b share at their beginning, and at their end
// besides.
func Common(a, b string) (head, tail int) {
	const step = 256 // compared at once
	most := min(len(a), len(b))
	for head+step <= most && a[head:head+step] == b[head:head+step] {
		head += step
	}
	for head < most && a[head] == b[head] {
		head++
	}
	most -= head
	x, y := len(a), len(b)
	for tail+step <= most && a[x-tail-step:x-tail] == b[y-tail-step:y-tail] {
		tail += step
	}
	for tail < most && a[x-1-tail] == b[y-1-tail] {
		tail++
	}
	return head, tail
}
