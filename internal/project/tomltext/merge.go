package tomltext

import (
	"fmt"
	"slices"
	"strings"
)

// Side is one of two people who changed a text.
type Side uint8

// The sides of a merge.
const (
	Neither Side = iota
	Mine
	Theirs
)

// Clash is a place that both sides changed, each in another way. A node is nil
// where that side does not have it.
type Clash struct {
	Path               string
	Base, Mine, Theirs *Node
}

// Merge applies what mine changed against base to the text of theirs, so that
// the comments, order and spelling of theirs stay. Where both changed the same
// value in different ways, prefer decides; with Neither theirs stays. The
// clashes are reported either way. The error says that my changes do not fit
// the shape of their text.
func Merge(base, mine, theirs *Doc, prefer Side) (*Doc, []Clash, error) {
	g := &merger{prefer: prefer}
	g.tables(base.root, mine.root, theirs.root)
	doc := theirs
	for _, step := range append(g.values, g.lists...) {
		next, err := step(doc)
		if err != nil {
			return nil, g.clashes, err
		}
		doc = next
	}
	return doc, g.clashes, nil
}

// merger collects the steps that turn theirs into the result. Steps on values
// come first: they do not move the entries of lists.
type merger struct {
	prefer        Side
	clashes       []Clash
	values, lists []func(*Doc) (*Doc, error)
}

// clash notes a clash and reports whether mine is to be taken.
func (g *merger) clash(path string, b, m, t *Node) bool {
	g.clashes = append(g.clashes, Clash{path, b, m, t})
	return g.prefer == Mine
}

// tables merges two tables; b is nil when both sides have made them anew.
func (g *merger) tables(b, m, t *Node) {
	for _, cm := range m.Children {
		g.node(b.Child(cm.Key), cm, t.Child(cm.Key), join(t.Path, cm.Key))
	}
	if b == nil {
		return
	}
	for _, cb := range b.Children {
		if m.Child(cb.Key) == nil {
			g.gone(cb, t.Child(cb.Key))
		}
	}
}

func join(path, key string) string {
	if path == "" {
		return QuoteKey(key)
	}
	return path + "." + QuoteKey(key)
}

// gone merges what mine has taken out.
func (g *merger) gone(b, t *Node) {
	if t == nil || !equal(b, t) && !g.clash(t.Path, b, nil, t) {
		return
	}
	g.values = append(g.values, func(d *Doc) (*Doc, error) { return d.Remove(t.Path) })
}

// node merges what mine has under a path.
func (g *merger) node(b, m, t *Node, path string) {
	switch {
	case equal(b, m) || equal(m, t):
	case t == nil:
		if b == nil || g.clash(path, b, m, t) {
			g.add(path, m)
		}
	case m.Kind == Table && t.Kind == Table && (b == nil || b.Kind == Table):
		g.tables(b, m, t)
	case entries(m) && entries(t) && (b == nil || entries(b)):
		g.list(b, m, t)
	case equal(b, t) || g.clash(path, b, m, t):
		lit := Literal(m)
		g.values = append(g.values, func(d *Doc) (*Doc, error) { return d.Set(path, lit) })
	}
}

// add puts a node of mine where theirs has nothing.
func (g *merger) add(path string, m *Node) {
	switch {
	case m.End > 0 || len(m.Children) == 0:
		lit := Literal(m)
		g.values = append(g.values, func(d *Doc) (*Doc, error) { return d.Set(path, lit) })
	case m.Kind == Table:
		for _, c := range m.Children {
			g.add(join(path, c.Key), c)
		}
	default:
		for _, c := range m.Children {
			g.lists = append(g.lists, appendStep(path, c))
		}
	}
}

func appendStep(path string, entry *Node) func(*Doc) (*Doc, error) {
	return func(d *Doc) (*Doc, error) { return d.Append(path, pairsOf(entry)) }
}

// list merges two lists of tables.
func (g *merger) list(b, m, t *Node) {
	var base []*Node
	if b != nil {
		base = b.Children
	}
	toMine, toTheirs := align(base, m.Children), align(base, t.Children)
	place := slices.Clone(t.Children) // the list as it will be, by nodes
	drop := map[*Node]bool{}
	stands := map[*Node]*Node{} // entry of mine -> the entry it is in place
	known := map[*Node]bool{}   // entries of theirs that base has
	for i, e := range base {
		var mine, other *Node
		if j := toMine[i]; j >= 0 {
			mine = m.Children[j]
		}
		if j := toTheirs[i]; j >= 0 {
			other = t.Children[j]
			known[other] = true
		}
		switch {
		case mine == nil && other == nil:
		case mine == nil:
			drop[other] = equal(e, other) || g.clash(other.Path, e, nil, other)
		case other == nil:
			if equal(e, mine) || !g.clash(mine.Path, e, mine, nil) {
				stands[mine] = nil // theirs took it out
			}
		default:
			stands[mine] = other
			g.tables(e, mine, other)
		}
	}
	g.remove(t, &place, drop)
	for k, e := range m.Children {
		if _, ok := stands[e]; ok {
			continue
		}
		if twin := g.twin(e, t, known); twin != nil {
			stands[e] = twin
			g.tables(nil, e, twin)
			continue
		}
		stands[e] = e
		g.insert(t.Path, &place, e, after(m.Children, k, stands, place))
	}
}

// remove takes entries out, the last one first.
func (g *merger) remove(t *Node, place *[]*Node, drop map[*Node]bool) {
	for i, e := range slices.Backward(t.Children) {
		if drop[e] {
			path := fmt.Sprintf("%s[%d]", t.Path, i)
			g.lists = append(g.lists, func(d *Doc) (*Doc, error) { return d.Remove(path) })
			*place = slices.Delete(*place, i, i+1)
		}
	}
}

// twin is the entry that theirs has added as well.
func (g *merger) twin(e *Node, t *Node, known map[*Node]bool) *Node {
	for _, c := range t.Children {
		if !known[c] && (equal(e, c) || mark(e) != "" && mark(e) == mark(c)) {
			return c
		}
	}
	return nil
}

// after is the place for entry k of mine: behind the entry it follows, at the
// end when nothing that is in place follows it.
func after(mine []*Node, k int, stands map[*Node]*Node, place []*Node) int {
	last := true
	for _, e := range mine[k+1:] {
		if n := stands[e]; n != nil && slices.Contains(place, n) {
			last = false
		}
	}
	if last {
		return len(place)
	}
	for i := k - 1; i >= 0; i-- {
		if n := stands[mine[i]]; n != nil {
			if at := slices.Index(place, n); at >= 0 {
				return at + 1
			}
		}
	}
	return 0
}

func (g *merger) insert(path string, place *[]*Node, e *Node, at int) {
	end := len(*place)
	g.lists = append(g.lists, appendStep(path, e))
	if at < end {
		g.lists = append(g.lists, func(d *Doc) (*Doc, error) { return d.Move(path, end, at) })
	}
	*place = slices.Insert(*place, at, e)
}

// pairsOf spells the keys of an entry as they are spelled where it stands.
func pairsOf(entry *Node) []Pair {
	pairs := make([]Pair, len(entry.Children))
	for i, c := range entry.Children {
		pairs[i] = Pair{c.Key, Literal(c)}
	}
	return pairs
}

// Spelled is a value for reading: text without its quotes, all else as it is
// spelled, a table on one line; the word nothing for nil.
func Spelled(n *Node) string {
	switch {
	case n == nil:
		return "nothing"
	case n.Kind == String:
		return n.Value.(string)
	}
	return Literal(n)
}

// Literal spells a node as the text does, or on one line where it has no literal
// of its own.
func Literal(n *Node) string {
	switch {
	case n.End > 0:
		return n.Raw
	case n.Kind == Table:
		return inlineText(pairsOf(n))
	}
	parts := make([]string, len(n.Children))
	for i, c := range n.Children {
		parts[i] = Literal(c)
	}
	return "[" + strings.Join(parts, ", ") + "]"
}
