package tomltext

import (
	"fmt"
	"strings"
)

// Set gives the value at path a new literal, or adds the key when it is not
// there: at the end of its table's own keys, with tables made as needed. The
// literal must be one TOML value; see Quote for text. List entries can be
// replaced but not added.
func (d *Doc) Set(path, lit string) (*Doc, error) {
	segs, err := splitPath(path)
	if err != nil {
		return nil, d.refuse(path, "this is not a path", err)
	}
	if len(segs) == 0 {
		return nil, d.refuse(path, "the whole document is not a key; name one", nil)
	}
	n, rest := d.descend(segs)
	v, err := readLiteral(lit, d.ending(len(d.text)))
	if err != nil {
		return nil, d.refuse(path, "the new value "+show(lit, 24)+" cannot be used", err)
	}
	if len(rest) == 0 && n.End == 0 {
		return nil, d.refuse(path, "this is a "+n.Kind.String()+" on lines of its own; set its keys one by one", nil)
	}
	if len(rest) == 0 {
		return d.commit(path, n, v.value, splice{n.Start, n.End, v.text})
	}
	keys, err := d.newKeys(path, n, rest)
	if err != nil {
		return nil, err
	}
	s, err := d.addKey(path, n, keys, v.text)
	if err != nil {
		return nil, err
	}
	return d.commit(path, n, replace(plain(n), rest, v.value), s)
}

// newKeys checks that rest can be added under n and returns it as keys.
func (d *Doc) newKeys(path string, n *Node, rest []segment) ([]string, error) {
	switch {
	case n.Kind == Array || n.Kind == TableArray:
		if rest[0].isIndex {
			return nil, d.refuse(path, fmt.Sprintf("the list has %d entries, counted from 0", len(n.Children)), ErrNotFound)
		}
		return nil, d.refuse(path, show(n.Path, 48)+" is a list; say which entry, such as [0]", nil)
	case n.Kind != Table:
		return nil, d.refuse(path, show(n.Path, 48)+" is a single value and holds no keys", nil)
	}
	keys := make([]string, len(rest))
	for i, s := range rest {
		if s.isIndex {
			return nil, d.refuse(path, "the list is not there; set it whole", ErrNotFound)
		}
		keys[i] = s.key
	}
	return keys, nil
}

// owner climbs from a dotted table to the table its keys are written in, and
// returns the keys between.
func (d *Doc) owner(n *Node) (*Node, []string) {
	var keys []string
	for n.def == byDotted {
		keys = append([]string{n.Key}, keys...)
		n = d.parent(n)
	}
	return n, keys
}

// addKey makes the splice that adds keys, dotted, under the table n.
func (d *Doc) addKey(path string, n *Node, keys []string, lit string) (splice, error) {
	base, prefix := d.owner(n)
	if base.def == byLiteral {
		return d.addMember(base, quoteKeys(append(prefix, keys...))+" = "+lit), nil
	}
	if len(prefix) > 0 {
		last := d.lastUnder(n, func(s *statement) bool { return s.form == formKey && s.base == base.id })
		if last < 0 {
			return splice{}, d.refuse(path, "no place for the new key was found; add it by hand", nil)
		}
		return d.addLine(last, quoteKeys(append(prefix, keys...)), lit), nil
	}
	if base.def == byHeader && len(keys) == 1 {
		return d.addOwn(base, QuoteKey(keys[0]), lit), nil
	}
	names := append(d.headerKeys(base), keys[:len(keys)-1]...)
	return d.addBlock(base, "["+quoteKeys(names)+"]", []Pair{{keys[len(keys)-1], lit}}), nil
}

// headerKeys are the keys that name n in a header.
func (d *Doc) headerKeys(n *Node) []string {
	var keys []string
	for ; n != d.root; n = d.parent(n) {
		if d.parent(n).Kind == Table {
			keys = append([]string{n.Key}, keys...)
		}
	}
	return keys
}

// lastUnder is the index of the last statement that defines something in n
// and satisfies ok, or -1.
func (d *Doc) lastUnder(n *Node, ok func(*statement) bool) int {
	for i := len(d.stmts) - 1; i >= 0; i-- {
		if s := &d.stmts[i]; d.within(d.node(s.leaf), n) && ok(s) {
			return i
		}
	}
	return -1
}

// addOwn adds a key line at the end of the own keys of a table with a
// header, or of the root.
func (d *Doc) addOwn(n *Node, key, lit string) splice {
	last := d.lastUnder(n, func(s *statement) bool {
		return s.base == n.id && s.form == formKey || s.leaf == n.id
	})
	if last >= 0 {
		return d.addLine(last, key, lit)
	}
	line := key + " = " + lit
	if len(d.stmts) == 0 {
		return d.insertLines(len(d.text), line)
	}
	return d.insertLines(d.attachStart(0), line, "")
}

// addLine adds a key line after statement i in the same spacing.
func (d *Doc) addLine(i int, key, lit string) splice {
	s := &d.stmts[i]
	before, after := " ", " "
	if s.form == formKey {
		before = d.beforeEquals(s)
		after = d.text[s.eq+1 : d.node(s.leaf).Start]
		if d.aligned(i) && strings.Trim(before, " ") == "" {
			width := columns(d.text[s.start:s.eq])
			before = strings.Repeat(" ", max(1, width-columns(key)))
		}
	}
	return d.insertLines(d.lineEnd(i), d.indent(i)+key+before+"="+after+lit)
}

// addBlock adds a header with keys after everything that belongs to n.
func (d *Doc) addBlock(n *Node, header string, pairs []Pair) splice {
	off, indent := len(d.text), ""
	if n != d.root {
		if i := d.lastUnder(n, func(*statement) bool { return true }); i >= 0 {
			off, indent = d.blockEnd(i), d.headerIndent(i)
		}
	}
	var lines []string
	if !d.blankBefore(off) {
		lines = append(lines, "")
	}
	lines = append(lines, indent+header)
	for _, p := range pairs {
		lines = append(lines, indent+QuoteKey(p.Key)+" = "+p.Literal)
	}
	return d.insertLines(off, lines...)
}

// headerIndent is the white space before the header statement i stands
// under.
func (d *Doc) headerIndent(i int) string {
	if d.stmts[i].form == formKey {
		i = d.stmts[i].section
	}
	if i < 0 {
		return ""
	}
	return d.indent(i)
}

// addMember makes the splice that adds an entry at the end of an inline
// table or a bracket list.
func (d *Doc) addMember(n *Node, text string) splice {
	end := 0
	for _, c := range n.Children {
		end = max(end, lastEnd(c))
	}
	if end > 0 {
		return splice{end, end, ", " + text}
	}
	open, shut := n.Start+1, n.End-1
	if open < shut && strings.TrimLeft(d.text[open:shut], " \t") == "" {
		return splice{shut, shut, text + " "}
	}
	return splice{open, open, text}
}

// lastEnd is where the last literal in n ends.
func lastEnd(n *Node) int {
	end := n.End
	if end == 0 {
		for _, c := range n.Children {
			end = max(end, lastEnd(c))
		}
	}
	return end
}
