package tomltext

import (
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// value fills n from the literal that begins at off and returns where the
// literal ends. The span parser gives no span for lists and only the brace
// for inline tables, so their ends are found by walking the entries.
func (b *builder) value(n *Node, e *unstable.Node, off int, inline bool) (int, *SyntaxError) {
	n.def, n.Inline = byLiteral, inline
	n.Pos, n.Start = b.cur.at(off), off
	var err *SyntaxError
	switch e.Kind {
	case unstable.Array:
		n.Kind = Array
		n.End, err = b.list(n, e, off)
	case unstable.InlineTable:
		n.Kind, n.Inline = Table, true
		n.End, err = b.inlineTable(n, e, off)
	default:
		n.End = off + int(e.Raw.Length)
		err = b.scalar(n, e, off)
	}
	if err != nil {
		return 0, err
	}
	n.Raw = b.text[n.Start:n.End]
	return n.End, nil
}

func (b *builder) list(n *Node, e *unstable.Node, off int) (int, *SyntaxError) {
	at := off + 1
	for it := e.Children(); it.Next(); {
		at = b.skip(at)
		c, err := b.element(n, String, byLiteral, at)
		if err != nil {
			return 0, err
		}
		c.KeyPos = b.cur.at(at)
		n.add(c)
		if at, err = b.value(c, it.Node(), at, true); err != nil {
			return 0, err
		}
	}
	return b.skip(at) + 1, nil
}

func (b *builder) inlineTable(n *Node, e *unstable.Node, off int) (int, *SyntaxError) {
	at := off + 1
	for it := e.Children(); it.Next(); {
		// Reserve the place first, so that pairs stay in document order
		// even when a value holds inline tables itself.
		if b.pairs == nil {
			b.pairs = make([]statement, 0, 3*strings.Count(b.text, "{"))
		}
		i := len(b.pairs)
		b.pairs = append(b.pairs, statement{})
		s, err := b.pair(n, it.Node(), true)
		if err != nil {
			return 0, err
		}
		b.pairs[i] = s
		at = s.end
	}
	return b.skip(at) + 1, nil
}

// skip passes white space, line ends, commas and comments.
func (b *builder) skip(at int) int {
	for {
		switch b.text[at] {
		case ' ', '\t', '\r', '\n', ',':
			at++
		case '#':
			at = nextLine(b.text, at)
		default:
			return at
		}
	}
}
