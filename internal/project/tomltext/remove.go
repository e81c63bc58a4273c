package tomltext

import (
	"slices"
	"strings"
)

// Remove takes out what path names: a key's lines, a table with its own keys
// and subtables, one [[entry]] or a whole list of them, a key of an inline
// table, or an entry of a bracket list. Comment lines directly above and the
// comment on the line go with it; of two blank lines left around the gap one
// goes. A table that exists only through what is removed goes too.
func (d *Doc) Remove(path string) (*Doc, error) {
	n, _, err := d.must(path)
	if err != nil {
		return nil, err
	}
	gone := n // with the tables that go along
	for range d.bareParents(n) {
		gone = d.parent(gone)
	}
	above := d.parent(gone)
	want := without(above, gone)
	if spans := d.removal(n); len(spans) > 0 {
		return d.commit(path, above, want, spans...)
	}
	s, ok := d.removeMember(n)
	if !ok {
		return nil, d.refuse(path, "comments or line breaks stand in the way; remove it by hand", nil)
	}
	return d.commit(path, above, want, s)
}

// bareParents counts the tables and lists right above n that nothing else in
// the text keeps alive.
func (d *Doc) bareParents(n *Node) int {
	count := 0
	for p := d.parent(n); p != d.root && len(p.Children) == 1; p = d.parent(p) {
		if p.Kind == TableArray || p.def == byLonger || p.def == byDotted {
			count++
			continue
		}
		break
	}
	return count
}

// without is what the parent of n means with n taken out.
func without(parent, n *Node) any {
	switch c := plain(parent).(type) {
	case tree:
		delete(c, n.Key)
		return c
	case []any:
		i := slices.Index(parent.Children, n)
		return slices.Delete(c, i, i+1)
	}
	return nil
}

// removal lists the line spans of all statements that define something in n;
// none when n stands inside a literal.
func (d *Doc) removal(n *Node) []splice {
	var spans []splice
	for i := 0; i < len(d.stmts); i++ {
		s := &d.stmts[i]
		if !d.within(d.node(s.leaf), n) {
			continue
		}
		from, to := d.attachStart(i), d.lineEnd(i)
		if s.form != formKey {
			// A header takes everything up to the next header along.
			for i+1 < len(d.stmts) && d.stmts[i+1].form == formKey {
				i++
			}
			to = d.blockEnd(i)
		}
		if k := len(spans) - 1; k >= 0 && d.onlyBlank(spans[k].end, from) {
			spans[k].end = to
			continue
		}
		spans = append(spans, splice{from, to, ""})
	}
	for k := range spans {
		spans[k] = d.openEnd(d.closeGap(spans[k]))
	}
	return spans
}

func (d *Doc) onlyBlank(from, to int) bool {
	return strings.TrimLeft(d.text[from:to], " \t\r\n") == ""
}

// closeGap widens a removal by the blank lines on one side when there are
// some on both.
func (d *Doc) closeGap(s splice) splice {
	if !d.blankBefore(s.start) || s.end < len(d.text) && !d.blankAt(s.end) {
		return s
	}
	for s.end < len(d.text) && d.blankAt(s.end) {
		s.end = nextLine(d.text, s.end)
	}
	if s.end < len(d.text) {
		return s
	}
	for s.start > d.base && d.blankBefore(s.start) {
		s.start = d.lineStart(s.start - 1)
	}
	return s
}

// openEnd takes the line end before a removal along when the text ended without
// one, so that it still does.
func (d *Doc) openEnd(s splice) splice {
	if s.end < len(d.text) || strings.HasSuffix(d.text, "\n") || s.start <= d.base {
		return s
	}
	s.start -= len("\n")
	if s.start > d.base && d.text[s.start-1] == '\r' {
		s.start--
	}
	return s
}

// removeMember makes the splice that takes n out of the inline table or
// bracket list it stands in.
func (d *Doc) removeMember(n *Node) (splice, bool) {
	items, from, to, shut := d.members(n)
	if to <= from {
		return splice{}, false
	}
	first, last := items[from], items[to-1]
	next, prev := shut, -1
	if to < len(items) {
		next = items[to].start
	}
	if from > 0 {
		prev = items[from-1].end
	}
	if s, ok := d.ownLines(first.start, last.end, prev, next); ok {
		return s, true
	}
	// A gap on the same line is the better one to close; one with a comment
	// in it is left to the user.
	for _, bar := range [...]string{"#\n", "#"} {
		clear := func(a, b int) bool { return !strings.ContainsAny(d.text[a:b], bar) }
		switch {
		case from > 0 && clear(prev, first.start):
			return splice{prev, last.end, ""}, true
		case to < len(items) && clear(last.end, next):
			return splice{first.start, next, ""}, true
		case from == 0 && to == len(items) && clear(last.end, shut):
			end := last.end
			if i := strings.IndexByte(d.text[end:shut], ','); i >= 0 {
				end += i + 1
			}
			return splice{first.start, end, ""}, true
		}
	}
	return splice{}, false
}

// members lists the spans of the entries beside n, the range of them that
// belongs to n, and where the closing sign stands.
func (d *Doc) members(n *Node) (items []splice, from, to, shut int) {
	from = -1
	note := func(start, end int, mine bool) {
		items = append(items, splice{start: start, end: end})
		if mine && from < 0 {
			from = len(items) - 1
		}
		if mine {
			to = len(items)
		}
	}
	parent := d.parent(n)
	if parent.Kind == Array {
		for _, c := range parent.Children {
			note(c.Start, c.End, c == n)
		}
		return items, from, to, parent.End - 1
	}
	base, _ := d.owner(parent)
	mine := 0
	for i := range d.pairs {
		if p := &d.pairs[i]; p.base == base.id {
			note(p.start, p.end, d.within(d.node(p.leaf), n))
			if d.within(d.node(p.leaf), n) {
				mine++
			}
		}
	}
	if from < 0 || mine != to-from {
		// Dotted keys of the same table stand apart from each other.
		return nil, 0, 0, 0
	}
	return items, from, to, base.End - 1
}

// ownLines handles entries that fill whole lines: the lines go, with the
// comment lines directly above.
func (d *Doc) ownLines(start, end, prev, next int) (splice, bool) {
	from := d.lineStart(start)
	if !d.onlyBlank(from, start) || prev > from {
		return splice{}, false
	}
	to := nextLine(d.text, end)
	if next < to {
		return splice{}, false
	}
	rest := strings.TrimLeft(d.text[end:to], " \t")
	rest = strings.TrimLeft(strings.TrimPrefix(rest, ","), " \t\r\n")
	if rest != "" && rest[0] != '#' {
		return splice{}, false
	}
	for from > 0 {
		above := d.lineStart(from - 1)
		if !d.commentAt(above) || above < prev {
			break
		}
		from = above
	}
	return splice{from, to, ""}, true
}
