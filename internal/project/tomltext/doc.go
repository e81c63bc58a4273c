// Package tomltext reads a hand-written TOML text into a tree that knows
// where every key and value stands, and edits the text by splicing bytes. The
// text is never written out anew from its values: comments, spacing, key
// order and number spelling that an edit does not touch stay byte for byte.
//
// One parser gives the byte spans; the values are read from them, and the tree
// is built with TOML's rules on what may stand twice. A second, independent
// parser reads the same texts in the tests and has to agree. Every edit is read
// back and refused unless exactly the meant value changed.
//
// A leading byte order mark is kept. Raw control characters are refused
// everywhere, but a string may still spell one with an escape (\u001b), so
// decoded values need escaping before they reach a terminal.
package tomltext

// Limits that keep a hostile or damaged text from eating the machine.
const (
	MaxBytes  = 4 << 20 // bytes of text
	MaxKeys   = 100_000 // keys and list entries together
	MaxDepth  = 32      // tables and lists inside each other
	maxPath   = 1024    // bytes in the full path of one key
	bomLength = 3
)

// Position is a place in a text. Line and Col count from 1, Col in
// characters (Unicode code points), Offset in bytes from 0.
type Position struct{ Line, Col, Offset int }

// Kind tells what a node holds.
type Kind uint8

// The kinds of node. Table covers [headers], tables that only exist because
// a longer header or a dotted key names them, and inline tables. TableArray
// is a list written with [[headers]]; its children are Tables. Array is a
// list written in brackets.
const (
	Table Kind = iota
	TableArray
	Array
	String
	Integer
	Float
	Bool
	Datetime
)

// String names the kind in plain words.
func (k Kind) String() string {
	names := [...]string{"table", "list of tables", "list", "text", "whole number", "number", "true or false", "date or time"}
	if int(k) < len(names) {
		return names[k]
	}
	return "unknown"
}

// Node is one table, list or value of a document. Nodes are shared by all
// readers of a Doc and must not be changed.
type Node struct {
	Kind Kind
	// Inline is set on inline tables and on everything inside the braces or
	// brackets of a value.
	Inline bool
	def    definition
	// Key is the last part of the key, unquoted; empty for list entries
	// and the root.
	Key string
	// Path leads from the root to this node, such as "line.rear.at[2]".
	// Parts that are not bare keys are quoted; the root's path is empty.
	Path string
	// KeyPos is where the key stands, Pos where the value stands, or for a
	// table its header. A table without a header or literal of its own has
	// both at the first key part that named it. For list entries written in
	// brackets KeyPos equals Pos.
	KeyPos, Pos Position
	// Start and End bound the value's literal in bytes for scalars, bracket
	// lists and inline tables; both are 0 for other tables.
	Start, End int
	// Value is a string, int64, float64, bool or time.Time for scalars and
	// nil otherwise. Local dates and times carry a Location named
	// "date-local", "time-local" or "datetime-local".
	Value any
	// Raw is the literal as spelled, empty where Start and End are 0.
	Raw string
	// Children are a table's keys in document order, or a list's entries.
	Children []*Node

	fold  string         // key in one case, for finding clashes
	index map[string]int // place among Children by fold, for tables of many keys
	depth int
	id    int // place among the nodes of its document, in the order of the text
	up    int // id of what it stands in, -1 for the root: documents that share a node have one each
}

// definition tells what brought a table into being, which decides how it may
// be extended.
type definition uint8

const (
	byHeader  definition = iota // [table], one [[entry]], or the root
	byLonger                    // only named inside a longer header
	byDotted                    // named by a dotted key
	byLiteral                   // inline table, list or scalar
)

// indexFrom is the number of keys from which a lookup table pays.
const indexFrom = 12

// Child returns the node under key, or nil. For lists it is always nil.
func (n *Node) Child(key string) *Node {
	if n == nil || n.Kind != Table {
		return nil
	}
	if c := n.lookup(foldKey(key)); c != nil && c.Key == key {
		return c
	}
	return nil
}

func (n *Node) lookup(fold string) *Node {
	if n.index != nil {
		if i, ok := n.index[fold]; ok {
			return n.Children[i]
		}
		return nil
	}
	for _, c := range n.Children {
		if c.fold == fold {
			return c
		}
	}
	return nil
}

func (n *Node) add(c *Node) {
	n.Children = append(n.Children, c)
	switch {
	case n.Kind != Table:
	case n.index != nil:
		n.index[c.fold] = len(n.Children) - 1
	default:
		n.reindex()
	}
}

// reindex makes the lookup table of a table that has keys enough for one.
func (n *Node) reindex() {
	n.index = nil
	if len(n.Children) < indexFrom {
		return
	}
	n.index = make(map[string]int, 2*indexFrom)
	for i, c := range n.Children {
		n.index[c.fold] = i
	}
}

// node is the node of an id.
func (d *Doc) node(id int) *Node {
	if d.nodes != nil {
		return d.nodes[id]
	}
	return &d.slabs[id/d.slab][id%d.slab]
}

// parent is what n stands in; nil for the root.
func (d *Doc) parent(n *Node) *Node {
	if n.up < 0 {
		return nil
	}
	return d.node(n.up)
}

// within reports whether n is top or stands somewhere under it.
func (d *Doc) within(n, top *Node) bool {
	for ; n != nil; n = d.parent(n) {
		if n == top {
			return true
		}
	}
	return false
}

// Doc is a text that has been read. It never changes: each edit gives a new
// Doc.
type Doc struct {
	name string
	// text is the source with a byte order mark blanked to spaces, so that
	// offsets agree and the parsers see plain white space.
	text  string
	base  int // bytes of byte order mark
	root  *Node
	stmts []statement // headers and key lines in document order
	pairs []statement // key/value pairs inside inline tables
	parts []part      // every key part spelled anywhere, in document order
	// The nodes by their id, so many in each slab, and how many they are. Of a document
	// that shares most of them with another one, each by itself.
	slabs [][]Node
	slab  int
	nodes []*Node
	count int
}

type form uint8

const (
	formKey form = iota // key = value
	formTable
	formEntry // [[array]]
)

// statement is one header or one key with its value.
type statement struct {
	form       form
	start, end int // from the key or "[" to the end of the value or "]"
	eq         int // offset of "=", for keys
	lo, hi     int // its key parts, a range of Doc.parts
	base       int // id of the table its first key part hangs on
	leaf       int // id of the table or value it defines
	section    int // index of the header it stands under, -1 for none
	made       int // how many nodes there were behind it; 0 inside of braces
}

type part struct {
	node       int // id
	start, end int
}

// Bytes returns a copy of the text.
func (d *Doc) Bytes() []byte {
	b := []byte(d.text)
	if d.base > 0 {
		copy(b, byteOrderMark)
	}
	return b
}

// Text returns the text.
func (d *Doc) Text() string {
	if d.base > 0 {
		return string(d.Bytes())
	}
	return d.text
}

// Name returns the name given to Parse.
func (d *Doc) Name() string { return d.name }

// Root returns the table of the whole document.
func (d *Doc) Root() *Node { return d.root }

// Find returns the node at path, or nil when there is none or the path
// cannot be read. The empty path is the root.
func (d *Doc) Find(path string) *Node {
	segs, err := splitPath(path)
	if err != nil {
		return nil
	}
	n, rest := d.descend(segs)
	if len(rest) > 0 {
		return nil
	}
	return n
}

// descend follows segs as far as they exist and returns what is left.
func (d *Doc) descend(segs []segment) (*Node, []segment) {
	n := d.root
	for i, s := range segs {
		var c *Node
		switch {
		case !s.isIndex:
			c = n.Child(s.key)
		case n.Kind == Array || n.Kind == TableArray:
			if s.index < len(n.Children) {
				c = n.Children[s.index]
			}
		}
		if c == nil {
			return n, segs[i:]
		}
		n = c
	}
	return n, nil
}
