package tomltext

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Trees compared in place are the same exactly where their plain maps are.
func TestSameInPlaceAsInMaps(t *testing.T) {
	equalPairs := 0
	rapid.Check(t, func(rt *rapid.T) {
		read := func() *Doc {
			d, err := Parse("f.toml", []byte(genText(rt)))
			if err != nil {
				return mustParse(t, "a = 1\n[t]\nb = [{ x = 1 }]\n")
			}
			return d
		}
		a, b := read(), read()
		want := same(plain(a.root), plain(b.root))
		require.Equal(rt, want, sameBut(a.root, b.root, nil, nil), "%q %q", a.text, b.text)
		if want {
			equalPairs++
		}
		// One value changed by hand, anywhere.
		var nodes []*Node
		var walk func(*Node)
		walk = func(n *Node) {
			nodes = append(nodes, n)
			for _, c := range n.Children {
				walk(c)
			}
		}
		walk(a.root)
		n := rapid.SampledFrom(nodes).Draw(rt, "node")
		if n == a.root {
			return
		}
		v := rapid.SampledFrom([]any{int64(1), "x # y", true, tree{}, []any{int64(1), int64(2)}, plain(n)}).Draw(rt, "value")
		segs, err := splitPath(n.Path)
		require.NoError(rt, err)
		wanted := replace(plain(a.root), segs, v)
		require.Equal(rt, same(wanted, plain(b.root)), sameBut(a.root, b.root, n, v))
		require.Equal(rt, same(wanted, plain(a.root)), sameBut(a.root, a.root, n, v))
	})
	require.Positive(t, equalPairs)
}
