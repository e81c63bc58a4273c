package tomltext

import (
	"slices"
	"sort"
	"strings"
)

// lines is a change of whole lines under one header: key lines, blank lines and
// comments before and after. Keys are of one part.
type lines struct {
	from, to   int  // the bytes of the old text
	lo, hi     int  // the statements of the old text
	section    int  // the header they stand under, -1 for none
	table      int  // id of the table it opens
	first, end int  // the ids of the nodes that they made
	read       *Doc // the lines instead
	line       int  // of the first of them
}

// reline is the document of text where that differs from d's in such lines only.
func (d *Doc) reline(text string) (*Doc, bool) {
	c, with, ok := d.changedLines(text)
	if !ok {
		return nil, false
	}
	var err error
	if c.read, err = parse(d.name, strings.Clone(with)); err != nil || !plainLines(c.read.stmts) || !d.room(c) {
		return nil, false
	}
	next := &Doc{name: d.name, base: d.base, text: text, count: d.count + c.more()}
	next.slab = next.count
	next.nodes(d, c)
	next.statements(d, c)
	return next, true
}

// changedLines are the lines in which text differs, and what stands there then.
func (d *Doc) changedLines(text string) (c lines, with string, ok bool) {
	head, tail := Common(d.text, text)
	c.from = d.lineStart(head)
	c.to = len(d.text) - tail
	grown := len(text) - len(d.text)
	begins := func(s string, at int) bool { return at == d.base || at > d.base && s[at-1] == '\n' }
	if !begins(d.text, c.to) || !begins(text, c.to+grown) {
		c.to = nextLine(d.text, c.to)
	}
	if c.to <= d.base { // lines put in at the top
		return c, "", false
	}
	c.lo = sort.Search(len(d.stmts), func(i int) bool { return d.stmts[i].start >= c.from })
	c.hi = sort.Search(len(d.stmts), func(i int) bool { return d.stmts[i].start >= c.to })
	if c.lo > 0 && d.stmts[c.lo-1].end > c.from || c.hi > 0 && d.stmts[c.hi-1].end > c.to || !plainLines(d.stmts[c.lo:c.hi]) {
		return c, "", false
	}
	c.first, c.section = 1, -1
	if c.lo > 0 {
		before := &d.stmts[c.lo-1]
		c.first, c.section = before.made, before.section
		if before.form != formKey {
			c.section = c.lo - 1
		}
	}
	if c.section >= 0 {
		c.table = d.stmts[c.section].leaf
	}
	c.end = c.first
	if c.hi > c.lo {
		c.end = d.stmts[c.hi-1].made
	}
	c.line = 1 + strings.Count(d.text[d.base:c.from], "\n")
	return c, text[c.from : c.to+grown], true
}

// plainLines reports whether statements are key lines with keys of one part.
func plainLines(ss []statement) bool {
	for i := range ss {
		if ss[i].form != formKey || ss[i].hi-ss[i].lo != 1 {
			return false
		}
	}
	return true
}

// room reports whether the new keys fit into their table, and the document into
// its limits. Where they do not, Parse says why.
func (d *Doc) room(c lines) bool {
	table := d.node(c.table)
	if d.count+c.more() > MaxKeys {
		return false
	}
	for _, n := range c.read.root.Children {
		if other := table.lookup(n.fold); other != nil && (other.id < c.first || other.id >= c.end) {
			return false
		}
	}
	for id := range c.read.count {
		n := c.read.node(id)
		if table.depth+n.depth > MaxDepth || len(table.Path)+1+len(n.Path) > maxPath {
			return false
		}
	}
	return true
}

// more is how many nodes come in besides those that go.
func (c *lines) more() int { return c.read.count - 1 - (c.end - c.first) }

// was and is turn ids of the old document, and of the new lines, into those of the
// new document.
func (c *lines) was(id int) int {
	if id < c.first {
		return id
	}
	return id + c.more()
}

func (c *lines) is(id int) int {
	if id == 0 {
		return c.table
	}
	return c.first + id - 1
}

// offset is where what stood at an offset of the old text stands now.
func (c *lines) offset(at int) int {
	if at >= c.to {
		return at + len(c.read.text) - (c.to - c.from)
	}
	return at
}

// nodes fills in the nodes of the document that d becomes by a change.
func (next *Doc) nodes(d *Doc, c lines) {
	all := make([]Node, next.count)
	next.slabs, next.root = [][]Node{all}, &all[0]
	children := make([]*Node, 0, next.count)
	lineShift := strings.Count(c.read.text, "\n") - strings.Count(d.text[c.from:c.to], "\n")
	position := func(p *Position) {
		if p.Offset >= c.to {
			p.Offset, p.Line = c.offset(p.Offset), p.Line+lineShift
		}
	}
	for id := range d.count {
		if id >= c.first && id < c.end {
			continue
		}
		m := &all[c.was(id)]
		*m = *d.node(id)
		m.id = c.was(id)
		if m.parent != nil {
			m.parent = &all[c.was(m.parent.id)]
		}
		from := len(children)
		if id == c.table {
			children = c.children(children, m.Children, all)
		} else {
			for _, n := range m.Children {
				children = append(children, &all[c.was(n.id)])
			}
		}
		m.Children = some(children[from:])
		position(&m.KeyPos)
		position(&m.Pos)
		m.Start, m.End = c.offset(m.Start), c.offset(m.End)
	}
	table := &all[c.table]
	for id := 1; id < c.read.count; id++ {
		m := &all[c.is(id)]
		*m = *c.read.node(id)
		m.id, m.parent, m.depth = c.is(id), &all[c.is(m.parent.id)], m.depth+table.depth
		if table.Path != "" {
			m.Path = table.Path + "." + m.Path
		}
		from := len(children)
		for _, n := range m.Children {
			children = append(children, &all[c.is(n.id)])
		}
		m.Children = some(children[from:])
		for _, p := range []*Position{&m.KeyPos, &m.Pos} {
			p.Offset, p.Line = p.Offset+c.from, p.Line+c.line-1
		}
		if m.End > 0 {
			m.Start, m.End = m.Start+c.from, m.End+c.from
		}
	}
	table.reindex()
}

// some is a list that nothing is added to, nil when it is empty.
func some(nodes []*Node) []*Node {
	if len(nodes) == 0 {
		return nil
	}
	return slices.Clip(nodes)
}

// children are those of the table: the old ones that stay, and in their place the
// new ones.
func (c *lines) children(out, old []*Node, all []Node) []*Node {
	i := 0
	for ; i < len(old) && old[i].id < c.first; i++ {
		out = append(out, &all[old[i].id])
	}
	for _, n := range c.read.root.Children {
		out = append(out, &all[c.is(n.id)])
	}
	for _, n := range old[i:] {
		if n.id >= c.end {
			out = append(out, &all[c.was(n.id)])
		}
	}
	return out
}

// statements fills in the statements, pairs and key parts.
func (next *Doc) statements(d *Doc, c lines) {
	p := sort.Search(len(d.parts), func(i int) bool { return d.parts[i].start >= c.from })
	q := sort.Search(len(d.parts), func(i int) bool { return d.parts[i].start >= c.to })
	moreParts, moreStatements := len(c.read.parts)-(q-p), len(c.read.stmts)-(c.hi-c.lo)
	next.parts = make([]part, 0, len(d.parts)+moreParts)
	next.parts = append(next.parts, d.parts[:p]...)
	for _, x := range c.read.parts {
		next.parts = append(next.parts, part{c.is(x.node), x.start + c.from, x.end + c.from})
	}
	next.parts = append(next.parts, d.parts[q:]...)
	for i := range next.parts {
		if x := &next.parts[i]; i < p || i >= p+len(c.read.parts) {
			x.node, x.start, x.end = c.was(x.node), c.offset(x.start), c.offset(x.end)
		}
	}
	join := func(old, now []statement, lo, hi int) []statement {
		out := make([]statement, 0, len(old)-(hi-lo)+len(now))
		out = append(append(append(out, old[:lo]...), now...), old[hi:]...)
		for i := range out {
			s := &out[i]
			if i >= lo && i < lo+len(now) {
				s.start, s.end, s.eq = s.start+c.from, s.end+c.from, s.eq+c.from
				s.lo, s.hi, s.base, s.leaf = s.lo+p, s.hi+p, c.is(s.base), c.is(s.leaf)
				if s.made > 0 {
					s.section, s.made = c.section, c.is(s.made)
				}
				continue
			}
			s.start, s.end, s.eq = c.offset(s.start), c.offset(s.end), c.offset(s.eq)
			s.base, s.leaf = c.was(s.base), c.was(s.leaf)
			if i >= lo {
				s.lo, s.hi = s.lo+moreParts, s.hi+moreParts
				if s.made > 0 {
					s.made += c.more()
				}
				if s.section >= c.hi {
					s.section += moreStatements
				}
			}
		}
		return out
	}
	next.stmts = join(d.stmts, c.read.stmts, c.lo, c.hi)
	u := sort.Search(len(d.pairs), func(i int) bool { return d.pairs[i].start >= c.from })
	v := sort.Search(len(d.pairs), func(i int) bool { return d.pairs[i].start >= c.to })
	next.pairs = join(d.pairs, c.read.pairs, u, v)
	if len(next.pairs) == 0 {
		next.pairs = nil
	}
}
