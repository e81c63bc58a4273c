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

// Changed lists the single values of b that are other ones in a, where the two
// have the same keys in the same order and lists of the same length. False where
// they differ by more than values, or by more than most of them.
func Changed(a, b *Doc, most int) ([]*Node, bool) { return changed(a.root, b.root, most, nil) }

func changed(x, y *Node, most int, out []*Node) ([]*Node, bool) {
	if x.Kind > Array && y.Kind > Array {
		if !same(x.Value, y.Value) {
			out = append(out, y)
		}
		return out, len(out) <= most
	}
	if x.Kind != y.Kind || len(x.Children) != len(y.Children) {
		return nil, false
	}
	for i, c := range x.Children {
		d := y.Children[i]
		if c.Key != d.Key {
			return nil, false
		}
		var ok bool
		if out, ok = changed(c, d, most, out); !ok {
			return nil, false
		}
	}
	return out, true
}
