package tomltext

import (
	"errors"

	"github.com/BurntSushi/toml"
)

// decode lets the second library read the text and hangs the values it
// decodes into the tree. It takes most of the time of a reading: when an
// earlier reading is at hand, only the statements that changed are decoded.
func (d *Doc) decode(prev *Doc) error {
	if prev != nil {
		return d.decodeChanged(prev)
	}
	var tree map[string]any
	if err := d.decodeText(0, d.text, &tree); err != nil {
		return err
	}
	return d.hang(d.root, tree)
}

func (d *Doc) decodeText(off int, text string, into *map[string]any) error {
	if _, err := toml.Decode(text, into); err != nil {
		var pe toml.ParseError
		if errors.As(err, &pe) {
			return d.fail(d.valueStart(off+pe.Position.Start), "%s", reword(pe.Message))
		}
		return d.fail(off, "%s", reword(err.Error()))
	}
	return nil
}

// decodeChanged takes the values of statements spelled as in prev from
// there and decodes the rest one by one. That no statement contradicts
// another was checked when the tree was built.
func (d *Doc) decodeChanged(prev *Doc) error {
	text := func(d *Doc, i int) string { return d.text[d.stmts[i].start:d.stmts[i].end] }
	n, m := len(d.stmts), len(prev.stmts)
	head, tail := 0, 0
	for head < min(n, m) && text(d, head) == text(prev, head) {
		head++
	}
	for tail < min(n, m)-head && text(d, n-1-tail) == text(prev, m-1-tail) {
		tail++
	}
	for i := range d.stmts {
		s := &d.stmts[i]
		switch {
		case i < head:
			copyValues(s, &prev.stmts[i])
		case i >= n-tail:
			copyValues(s, &prev.stmts[m-n+i])
		default:
			if err := d.decodeOne(s); err != nil {
				return err
			}
		}
	}
	return nil
}

// copyValues hands the values of one statement to another of the same text.
func copyValues(to, from *statement) {
	if to.form != formKey {
		return
	}
	var walk func(to, from *Node)
	walk = func(to, from *Node) {
		to.Value = from.Value
		for i, c := range to.Children {
			walk(c, from.Children[i])
		}
	}
	walk(to.leaf, from.leaf)
}

func (d *Doc) decodeOne(s *statement) error {
	var tree map[string]any
	if err := d.decodeText(s.start, d.text[s.start:s.end], &tree); err != nil || s.form != formKey {
		return err
	}
	var v any = tree
	for _, p := range d.parts[s.lo:s.hi] {
		t, _ := v.(map[string]any)
		v = t[p.node.Key]
	}
	return d.hang(s.leaf, v)
}

// hang checks that the decoded value v has the shape of n and stores the
// scalars.
func (d *Doc) hang(n *Node, v any) error {
	switch v := v.(type) {
	case map[string]any:
		if n.Kind != Table || len(v) != len(n.Children) {
			return d.disagree(n)
		}
		for _, c := range n.Children {
			cv, ok := v[c.Key]
			if !ok {
				return d.disagree(c)
			}
			if err := d.hang(c, cv); err != nil {
				return err
			}
		}
		return nil
	case []map[string]any:
		return hangAll(d, n, v)
	case []any:
		return hangAll(d, n, v)
	}
	if n.Kind != scalarKind(v) {
		return d.disagree(n)
	}
	n.Value = v
	return nil
}

func hangAll[T any](d *Doc, n *Node, list []T) error {
	if n.Kind != Array && n.Kind != TableArray || len(list) != len(n.Children) {
		return d.disagree(n)
	}
	for i, c := range n.Children {
		if err := d.hang(c, list[i]); err != nil {
			return err
		}
	}
	return nil
}

func (d *Doc) disagree(n *Node) error {
	return d.fail(n.KeyPos.Offset, "this can be read in two ways; write it more plainly")
}

// valueStart moves an offset inside a single value to where that begins.
func (d *Doc) valueStart(off int) int {
	n := d.root
	for i := range d.stmts {
		if s := &d.stmts[i]; s.form == formKey && s.start <= off && off < s.end {
			n = s.leaf
		}
	}
	for {
		inner := n
		for _, c := range n.Children {
			if c.Start <= off && off < c.End {
				inner = c
			}
		}
		if inner == n {
			break
		}
		n = inner
	}
	if n.Kind >= String && n.Start <= off && off < n.End {
		return n.Start
	}
	return off
}
