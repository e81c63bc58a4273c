package tomltext

import (
	"time"

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
		n.Kind, err = b.scalar(e, off)
	}
	if err != nil {
		return 0, err
	}
	n.Raw = b.text[n.Start:n.End]
	return n.End, nil
}

func (b *builder) scalar(e *unstable.Node, off int) (Kind, *SyntaxError) {
	switch e.Kind {
	case unstable.String:
		return String, nil
	case unstable.Bool:
		return Bool, nil
	case unstable.Integer:
		return Integer, nil
	case unstable.Float:
		if c := b.text[off+int(e.Raw.Length)-1]; c == 'n' || c == 'f' {
			return Float, b.fail(off, "nan and inf are not measurements; write a number, or leave the line out")
		}
		return Float, nil
	case unstable.DateTime:
		if !zoneFits(b.text[off : off+int(e.Raw.Length)]) {
			return Datetime, b.fail(off, "this is not a date or time that exists; its zone reaches from -23:59 to +23:59")
		}
		return Datetime, nil
	default:
		return Datetime, nil
	}
}

// zoneFits checks the hours and minutes of a zone such as +05:30, which the
// decoder lets run past a day.
func zoneFits(s string) bool {
	n := len(s) - len("+00:00")
	if n < 0 || s[n] != '+' && s[n] != '-' {
		return true
	}
	return s[n+1:n+3] <= "23" && s[n+4:] <= "59"
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

// scalarKind is the kind of a decoded value.
func scalarKind(v any) Kind {
	switch v.(type) {
	case string:
		return String
	case int64:
		return Integer
	case float64:
		return Float
	case bool:
		return Bool
	case time.Time:
		return Datetime
	}
	return Table
}
