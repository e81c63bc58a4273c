package tomltext

// Difference is one thing that two documents say differently. Old or New is nil
// where one of them does not have it. Path is where it stands in the new
// document, or where it stood when it is gone.
type Difference struct {
	Path     string
	Old, New *Node
}

// Diff lists what b says otherwise than a, in the order of b; what is gone
// follows. Spelling and comments do not count. A table or an entry of a list
// that only one of them has is one difference.
func Diff(a, b *Doc) []Difference { return diffTables(a.root, b.root, nil) }

func diffTables(a, b *Node, out []Difference) []Difference {
	for _, y := range b.Children {
		out = diffNodes(a.Child(y.Key), y, out)
	}
	for _, x := range a.Children {
		if b.Child(x.Key) == nil {
			out = append(out, Difference{Path: x.Path, Old: x})
		}
	}
	return out
}

func diffNodes(x, y *Node, out []Difference) []Difference {
	switch {
	case x == nil && entries(y) && len(y.Children) > 0:
		for _, c := range y.Children {
			out = append(out, Difference{Path: c.Path, New: c})
		}
		return out
	case x == nil:
		return append(out, Difference{Path: y.Path, New: y})
	case equal(x, y):
		return out
	case x.Kind == Table && y.Kind == Table:
		return diffTables(x, y, out)
	case entries(x) && entries(y) && len(x.Children)+len(y.Children) > 0:
		to := align(x.Children, y.Children)
		from := make([]*Node, len(y.Children))
		for i, j := range to {
			if j >= 0 {
				from[j] = x.Children[i]
			}
		}
		for j, c := range y.Children {
			if from[j] == nil {
				out = append(out, Difference{Path: c.Path, New: c})
			} else {
				out = diffTables(from[j], c, out)
			}
		}
		for i, c := range x.Children {
			if to[i] < 0 {
				out = append(out, Difference{Path: c.Path, Old: c})
			}
		}
		return out
	}
	return append(out, Difference{Path: y.Path, Old: x, New: y})
}

// Same reports whether two nodes say the same in the same order: the same keys,
// entries and values. Spelling does not count.
func Same(a, b *Node) bool {
	if a == b { // two documents share it
		return true
	}
	if a.Kind != b.Kind || len(a.Children) != len(b.Children) {
		return false
	}
	if a.Kind > Array {
		return same(a.Value, b.Value)
	}
	for i, c := range a.Children {
		if d := b.Children[i]; c.Key != d.Key || !Same(c, d) {
			return false
		}
	}
	return true
}
