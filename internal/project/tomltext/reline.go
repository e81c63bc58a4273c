package tomltext

import (
	"slices"
	"sort"
	"strconv"
	"strings"
)

// lines is a change of whole lines: key lines under one header, or whole entries of
// one list of tables, with the blank lines and comments between. Keys and headers
// are of one part.
type lines struct {
	from, to   int  // the bytes of the old text
	lo, hi     int  // the statements of the old text
	section    int  // the header before them, -1 for none
	table      int  // id of the table that the keys, or of the list that the entries hang on
	first, end int  // the ids of the nodes that they made
	read       *Doc // the lines instead
	known      int  // so many of its nodes stand for one that is there: the root, and for entries the list
	line       int  // of the first of them
}

// reline is the document of text where that differs from d's in such lines only.
func (d *Doc) reline(text string) (*Doc, bool) {
	c := d.changedLines(text)
	if c.to <= d.base || !d.keyLines(&c, text) && !d.entries(&c, text) || !d.room(&c) {
		return nil, false // lines put in at the top are read with the rest
	}
	next := &Doc{name: d.name, base: d.base, text: text, count: d.count + c.more()}
	next.slab = next.count
	c.nodes(d, next)
	c.statements(d, next)
	return next, true
}

// changedLines are the lines in which text differs.
func (d *Doc) changedLines(text string) (c lines) {
	head, _ := Common(d.text, text)
	c.from = d.lineStart(head)
	tail := commonEnd(d.text[c.from:], text[c.from:]) // of lines that came in or went, what is alike at both ends counts here
	c.to = len(d.text) - tail
	grown := len(text) - len(d.text)
	begins := func(s string, at int) bool { return at == d.base || at > d.base && s[at-1] == '\n' }
	if !begins(d.text, c.to) || !begins(text, c.to+grown) {
		c.to = nextLine(d.text, c.to)
	}
	return c
}

// cut finds the statements of the lines; false where one reaches beyond them.
func (d *Doc) cut(c *lines) bool {
	c.lo = sort.Search(len(d.stmts), func(i int) bool { return d.stmts[i].start >= c.from })
	c.hi = sort.Search(len(d.stmts), func(i int) bool { return d.stmts[i].start >= c.to })
	c.first, c.section, c.table = 1, -1, 0
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
	return (c.lo == 0 || d.stmts[c.lo-1].end <= c.from) && (c.hi == 0 || d.stmts[c.hi-1].end <= c.to)
}

// readLines reads what stands there in text.
func (d *Doc) readLines(c *lines, text string) bool {
	var err error
	c.read, err = parse(d.name, strings.Clone(text[c.from:c.to+len(text)-len(d.text)]))
	return err == nil
}

// keyLines reads lines that are key lines under one header, before and now.
func (d *Doc) keyLines(c *lines, text string) bool {
	c.known = 1
	return d.cut(c) && plainLines(d.stmts[c.lo:c.hi]) && d.readLines(c, text) && plainLines(c.read.stmts)
}

// entries reads lines that are in entries of one list, before and now, with the
// whole of those entries. The first one of the list is not among them.
func (d *Doc) entries(c *lines, text string) bool {
	d.widen(c, text)
	if !d.cut(c) || !d.readLines(c, text) {
		return false
	}
	was, ok1 := d.listOf(d.stmts[c.lo:c.hi])
	is, ok2 := c.read.listOf(c.read.stmts)
	if !ok1 || !ok2 || was == nil && is == nil {
		return false
	}
	if was == nil {
		was = d.root.Child(is.Key)
	}
	if was == nil || was.Kind != TableArray || was.id >= c.first || is != nil && is.Key != was.Key {
		return false
	}
	for i := range d.stmts { // a table below an entry goes by what stands before it
		if s := &d.stmts[i]; s.form != formKey && s.hi-s.lo > 1 && d.parts[s.lo].node == was.id {
			return false
		}
	}
	c.table, c.known = was.id, 2
	return true
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

// widen makes lines reach from a header of an entry to the next header.
func (d *Doc) widen(c *lines, text string) {
	headed := headed(d.text[c.from:c.to]) && headed(text[c.from:c.to+len(text)-len(d.text)])
	if !headed && c.section >= 0 && d.stmts[c.section].form == formEntry {
		c.from = d.lineStart(d.stmts[c.section].start)
	}
	for c.hi < len(d.stmts) && d.stmts[c.hi].form == formKey {
		c.hi++
	}
	end := len(d.text)
	if c.hi < len(d.stmts) {
		end = d.lineStart(d.stmts[c.hi].start)
	}
	c.to = max(c.to, end)
}

// headed reports whether the first of some lines that says anything is a header.
func headed(text string) bool {
	for line := range strings.Lines(text) {
		if line = strings.TrimLeft(line, " \t\r\n"); line != "" && line[0] != '#' {
			return line[0] == '['
		}
	}
	return true
}

// listOf is the list whose whole entries statements are, nil where there are none;
// false where they are something else.
func (d *Doc) listOf(ss []statement) (list *Node, ok bool) {
	for i := range ss {
		s := &ss[i]
		if s.hi-s.lo != 1 || i == 0 && s.form != formEntry || s.form == formTable {
			return nil, false
		}
		if s.form != formEntry {
			continue
		}
		n := d.node(d.parts[s.lo].node)
		if list != nil && n != list {
			return nil, false
		}
		list = n
	}
	return list, true
}

// room reports whether the new keys fit into their table, and the document into
// its limits. Where they do not, Parse says why.
func (d *Doc) room(c *lines) bool {
	table := d.node(c.table)
	if d.count+c.more() > MaxKeys {
		return false
	}
	for _, n := range c.read.root.Children {
		if other := table.lookup(n.fold); c.known == 1 && other != nil && (other.id < c.first || other.id >= c.end) {
			return false
		}
	}
	const number = 12 // an entry's, with its brackets
	for id := range c.read.count {
		n := c.read.node(id)
		if table.depth+n.depth > MaxDepth || len(table.Path)+number+len(n.Path) > maxPath {
			return false
		}
	}
	return true
}

// more is how many nodes come in besides those that go.
func (c *lines) more() int { return max(0, c.read.count-c.known) - (c.end - c.first) }

// was and is turn ids of the old document, and of the new lines, into those of the
// new document.
func (c *lines) was(id int) int {
	if id < c.first {
		return id
	}
	return id + c.more()
}

func (c *lines) is(id int) int {
	switch {
	case id >= c.known:
		return c.first + id - c.known
	case id == c.known-1:
		return c.table
	}
	return 0
}

// offset is where what stood at an offset of the old text stands now.
func (c *lines) offset(at int) int {
	if at >= c.to {
		return at + len(c.read.text) - (c.to - c.from)
	}
	return at
}

// nodes fills in the nodes of next, the document that d becomes by the change.
func (c *lines) nodes(d, next *Doc) {
	all := make([]Node, next.count)
	next.slabs, next.root = [][]Node{all}, &all[0]
	children := make([]*Node, 0, next.count)
	lineShift := strings.Count(c.read.text, "\n") - strings.Count(d.text[c.from:c.to], "\n")
	for id := range d.count {
		if id >= c.first && id < c.end {
			continue
		}
		m := &all[c.was(id)]
		*m = *d.node(id)
		m.id = c.was(id)
		if m.up >= 0 {
			m.up = c.was(m.up)
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
		for _, p := range []*Position{&m.KeyPos, &m.Pos} {
			if p.Offset >= c.to {
				p.Offset, p.Line = c.offset(p.Offset), p.Line+lineShift
			}
		}
		m.Start, m.End = c.offset(m.Start), c.offset(m.End)
	}
	c.newNodes(all, children)
	table := &all[c.table]
	if table.Kind == Table {
		table.reindex()
		return
	}
	for i, entry := range table.Children {
		if path := table.Path + "[" + strconv.Itoa(i) + "]"; path != entry.Path {
			entry.called(path, len(entry.Path))
		}
	}
}

// newNodes fills in the nodes of the lines, and their children behind those that
// are there.
func (c *lines) newNodes(all []Node, children []*Node) {
	table := &all[c.table]
	for id := c.known; id < c.read.count; id++ {
		m := &all[c.is(id)]
		*m = *c.read.node(id)
		m.id, m.up, m.depth = c.is(id), c.is(m.up), m.depth+table.depth-(c.known-1)
		if c.known == 1 && table.Path != "" {
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
}

// called gives a node another path in place of so many bytes of its own, and all
// below it.
func (n *Node) called(path string, bytes int) {
	n.Path = path + n.Path[bytes:]
	for _, c := range n.Children {
		c.called(path, bytes)
	}
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
	if c.read.count >= c.known {
		for _, n := range c.read.node(c.known - 1).Children {
			out = append(out, &all[c.is(n.id)])
		}
	}
	for _, n := range old[i:] {
		if n.id >= c.end {
			out = append(out, &all[c.was(n.id)])
		}
	}
	return out
}

// statements fills in the statements, pairs and key parts of next.
func (c *lines) statements(d, next *Doc) {
	p := sort.Search(len(d.parts), func(i int) bool { return d.parts[i].start >= c.from })
	q := sort.Search(len(d.parts), func(i int) bool { return d.parts[i].start >= c.to })
	moreParts := len(c.read.parts) - (q - p)
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
	next.stmts = c.join(d.stmts, c.read.stmts, c.lo, c.hi, p, moreParts)
	u := sort.Search(len(d.pairs), func(i int) bool { return d.pairs[i].start >= c.from })
	v := sort.Search(len(d.pairs), func(i int) bool { return d.pairs[i].start >= c.to })
	next.pairs = c.join(d.pairs, c.read.pairs, u, v, p, moreParts)
	if len(next.pairs) == 0 {
		next.pairs = nil
	}
}

// join is the statements of the new document, or its pairs: now instead of those
// from lo to hi. Their key parts begin at p, and there are so many more of them.
func (c *lines) join(old, now []statement, lo, hi, p, moreParts int) []statement {
	out := make([]statement, 0, len(old)-(hi-lo)+len(now))
	out = append(append(append(out, old[:lo]...), now...), old[hi:]...)
	for i := range out {
		s := &out[i]
		if i >= lo && i < lo+len(now) {
			s.start, s.end = s.start+c.from, s.end+c.from
			if s.form == formKey {
				s.eq += c.from
			}
			s.lo, s.hi, s.base, s.leaf = s.lo+p, s.hi+p, c.is(s.base), c.is(s.leaf)
			if s.made > 0 {
				s.section, s.made = c.under(s.section), c.is(s.made)
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
			switch {
			case s.section >= c.hi:
				s.section += len(c.read.stmts) - (c.hi - c.lo)
			case c.known > 1 && s.made > 0: // the header behind the entries
				s.section = c.under(c.lastHeader())
			}
		}
	}
	return out
}

// under is the header that one of the new lines stands under, in the new document.
func (c *lines) under(section int) int {
	if section < 0 {
		return c.section
	}
	return section + c.lo
}

// lastHeader is the last header of the new lines, -1 without one.
func (c *lines) lastHeader() int {
	for i := len(c.read.stmts) - 1; i >= 0; i-- {
		if c.read.stmts[i].form != formKey {
			return i
		}
	}
	return -1
}
