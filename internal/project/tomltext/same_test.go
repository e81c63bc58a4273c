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

// Documents that share nodes are compared as others are, also where what is meant to differ
// is what they share.
func TestSameInPlaceOfSharedNodes(t *testing.T) {
	shared := 0
	rapid.Check(t, func(rt *rapid.T) {
		a, err := Parse("f.toml", []byte(genText(rt)+"\n[zz]\nx = 10\nl = [{ y = 20 }, 30]\n[zz.w]\nv = 40\n"))
		if err != nil {
			return
		}
		b := a
		for range rapid.IntRange(1, 3).Draw(rt, "edits") {
			path := rapid.SampledFrom([]string{"zz.x", "zz.l[0].y", "zz.l[1]", "zz.w.v"}).Draw(rt, "path")
			if b, err = b.Set(path, rapid.SampledFrom([]string{"11", "12", "13"}).Draw(rt, "to")); err != nil {
				rt.Fatal(err)
			}
			requireParsed(rt, b)
			if b.nodes != nil {
				shared++
			}
		}
		requireParsed(rt, a)
		n := rapid.SampledFrom(allNodes(a)).Draw(rt, "node")
		if n == a.root {
			return
		}
		segs, err := splitPath(n.Path)
		require.NoError(rt, err)
		for _, v := range []any{int64(1), int64(11), plain(n), plain(b.node(n.id))} {
			require.Equal(rt, same(replace(plain(a.root), segs, v), plain(b.root)), sameBut(a.root, b.root, n, v), "%s %v", n.Path, v)
		}
	})
	require.Positive(t, shared)
}

// A value spelled as long as before leaves all other nodes where they are.
func TestAValueAsLongAsBeforeSharesTheRest(t *testing.T) {
	d := mustParse(t, "a = 1\n[t]\nb = \"x\"\nl = [1, { c = 2 }]\n[s]\nd = 3\n")
	next, err := d.Set("t.l[1].c", "7")
	require.NoError(t, err)
	requireParsed(t, next)
	requireParsed(t, d)
	for _, path := range []string{"a", "t.b", "t.l[0]", "s", "s.d"} {
		require.Same(t, d.Find(path), next.Find(path), path)
	}
	for _, path := range []string{"", "t", "t.l", "t.l[1]", "t.l[1].c"} {
		require.NotSame(t, d.Find(path), next.Find(path), path)
	}
}
