package tomltext

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	strict "github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The model decodes the bytes before and after an edit by itself, without
// the package's tree, and applies the edit to the decoded maps.

func decoded(t testing.TB, src []byte) any {
	t.Helper()
	var m map[string]any
	_, err := toml.Decode(string(src), &m)
	require.NoError(t, err)
	return lists(m)
}

func lists(v any) any {
	switch v := v.(type) {
	case map[string]any:
		out := map[string]any{}
		for k, c := range v {
			out[k] = lists(c)
		}
		return out
	case []map[string]any:
		out := []any{}
		for _, c := range v {
			out = append(out, lists(c))
		}
		return out
	case []any:
		out := []any{}
		for _, c := range v {
			out = append(out, lists(c))
		}
		return out
	}
	return v
}

// change rebuilds v with the value at segs replaced by what f makes of it;
// f returning keep=false takes it out.
func change(v any, segs []segment, f func(old any) (any, bool)) any {
	if v == nil && !segs[0].isIndex {
		v = map[string]any{}
	}
	s := segs[0]
	step := func(old any) (any, bool) {
		if len(segs) == 1 {
			return f(old)
		}
		return change(old, segs[1:], f), true
	}
	if s.isIndex {
		l := slices.Clone(v.([]any))
		if c, keep := step(l[s.index]); keep {
			l[s.index] = c
			return l
		}
		return slices.Delete(l, s.index, s.index+1)
	}
	m := v.(map[string]any)
	if c, keep := step(m[s.key]); keep {
		m[s.key] = c
	} else {
		delete(m, s.key)
	}
	return m
}

// trim takes out empty tables and lists along segs, deepest first.
func trim(v any, segs []segment) any {
	for n := len(segs) - 1; n > 0; n-- {
		at, ok := v, true
		for _, s := range segs[:n] {
			switch c := at.(type) {
			case map[string]any:
				at, ok = c[s.key]
			case []any:
				ok = s.isIndex && s.index < len(c)
				if ok {
					at = c[s.index]
				}
			default:
				ok = false
			}
			if !ok {
				break
			}
		}
		m, isMap := at.(map[string]any)
		l, isList := at.([]any)
		if ok && (isMap && len(m) == 0 || isList && len(l) == 0) {
			v = change(v, segs[:n], func(any) (any, bool) { return nil, false })
		}
	}
	return v
}

func allNodes(d *Doc) []*Node {
	var out []*Node
	var walk func(*Node)
	walk = func(n *Node) {
		out = append(out, n)
		for _, c := range n.Children {
			walk(c)
		}
	}
	walk(d.Root())
	return out
}

func checkDoc(t testing.TB, d *Doc, src []byte) {
	t.Helper()
	require.Equal(t, src, d.Bytes())
	var m map[string]any
	require.NoError(t, strict.Unmarshal([]byte(d.text), &m))
	require.True(t, same(lists(plain(d.Root())), decoded(t, src)))
	for _, n := range allNodes(d) {
		require.Same(t, n, d.Find(n.Path), n.Path)
		require.Equal(t, d.text[n.Start:n.End], n.Raw)
		if n.End > 0 {
			require.Equal(t, n.Start, n.Pos.Offset)
		}
		head := d.text[d.base:n.Pos.Offset]
		require.Equal(t, 1+strings.Count(head, "\n"), n.Pos.Line)
		require.Equal(t, 1+len([]rune(head[strings.LastIndexByte(head, '\n')+1:])), n.Pos.Col)
	}
}

// tryEdit makes the edit that op, pick and arg choose and checks the result
// against the model. It returns the new document, or d when it was refused.
func tryEdit(t testing.TB, d *Doc, op uint8, pick, arg uint16, lit string) *Doc {
	t.Helper()
	nodes := allNodes(d)
	n := nodes[int(pick)%len(nodes)]
	segs, err := splitPath(n.Path)
	require.NoError(t, err)
	src := d.Bytes()
	want := decoded(t, src)
	var next *Doc
	switch op % 6 {
	case 0: // replace a value
		if next, err = d.Set(n.Path, lit); err != nil {
			break
		}
		want = change(want, segs, func(any) (any, bool) { return valueOf(t, lit), true })
		got := next.Bytes()
		require.Equal(t, src[:n.Start], got[:n.Start])
		require.True(t, bytes.HasSuffix(got, src[n.End:]))
	case 1: // add a key
		path := strings.TrimPrefix(n.Path+"."+[]string{"new", `"n w".b`, "new.x.y"}[arg%3], ".")
		if d.Find(path) != nil {
			return d
		}
		if next, err = d.Set(path, lit); err != nil {
			break
		}
		segs, _ = splitPath(path)
		want = change(want, segs, func(any) (any, bool) { return valueOf(t, lit), true })
		requireInsertion(t, src, next.Bytes())
	case 2: // append an entry
		path := n.Path
		if arg%2 == 1 {
			path = strings.TrimPrefix(path+".list", ".")
		}
		if next, err = d.Append(path, []Pair{{"x", lit}}); err != nil {
			break
		}
		segs, _ = splitPath(path)
		entry := map[string]any{"x": valueOf(t, lit)}
		want = change(want, segs, func(old any) (any, bool) {
			l, _ := old.([]any)
			return append(l, entry), true
		})
		requireInsertion(t, src, next.Bytes())
	case 3: // remove
		if next, err = d.Remove(n.Path); err != nil {
			break
		}
		want = trim(change(want, segs, func(any) (any, bool) { return nil, false }), segs)
		if len(d.removal(n)) > 0 {
			requireLinesFrom(t, src, next.Bytes())
		}
		assert.True(t, same(trim(decoded(t, next.Bytes()), segs), want), "%q\n%q\n%s", src, next.Bytes(), n.Path)
		want = nil
	case 4: // rename
		key := []string{"other", "o t", "x", strings.ToUpper(n.Key)}[arg%4]
		if next, err = d.Rename(n.Path, key); err != nil {
			break
		}
		var v any
		want = change(want, segs, func(old any) (any, bool) { v = old; return nil, false })
		segs[len(segs)-1].key = key
		want = change(want, segs, func(any) (any, bool) { return v, true })
		requireOnlyKeyLines(t, d, n, next)
	case 5: // move
		from, to := int(arg>>8)%3, int(arg)%3
		if next, err = d.Move(n.Path, from, to); err != nil {
			break
		}
		want = change(want, segs, func(old any) (any, bool) {
			l := old.([]any)
			v := l[from]
			return slices.Insert(slices.Delete(l, from, from+1), to, v), true
		})
		if n.Kind == TableArray {
			a, b := bareLines(src), bareLines(next.Bytes())
			slices.Sort(a)
			slices.Sort(b)
			require.Equal(t, a, b)
		}
	}
	require.Equal(t, src, d.Bytes(), "the old document must not change")
	if err != nil {
		require.Nil(t, next)
		return d
	}
	if want != nil {
		assert.True(t, same(decoded(t, next.Bytes()), want), "op %d %s\n%q\n%q", op%6, n.Path, src, next.Bytes())
	}
	fresh, err := Parse("f", next.Bytes())
	require.NoError(t, err)
	checkDoc(t, fresh, next.Bytes())
	require.True(t, same(plain(fresh.Root()), plain(next.Root())))
	requireParsed(t, next)
	return next
}

func valueOf(t testing.TB, lit string) any {
	return decoded(t, []byte("v="+lit)).(map[string]any)["v"]
}

// requireInsertion checks that all old bytes stand in the new text in order
// around one inserted piece.
func requireInsertion(t testing.TB, before, after []byte) {
	t.Helper()
	pre := 0
	for pre < min(len(before), len(after)) && before[pre] == after[pre] {
		pre++
	}
	post := 0
	for post < len(before)-pre && post < len(after)-pre && before[len(before)-1-post] == after[len(after)-1-post] {
		post++
	}
	require.Equal(t, len(before), pre+post, "%q\n%q", before, after)
}

func requireLinesFrom(t testing.TB, before, after []byte) {
	t.Helper()
	old := bytes.SplitAfter(bytes.TrimPrefix(before, []byte(byteOrderMark)), []byte("\n"))
	for _, line := range bytes.SplitAfter(bytes.TrimPrefix(after, []byte(byteOrderMark)), []byte("\n")) {
		if len(line) == 0 {
			continue
		}
		i := slices.IndexFunc(old, func(o []byte) bool {
			if !bytes.HasSuffix(line, []byte("\n")) && !bytes.HasSuffix(before, []byte("\n")) {
				o = bytes.TrimRight(o, "\r\n") // what is the last line now ends as the last one did
			}
			return bytes.Equal(o, line)
		})
		require.GreaterOrEqual(t, i, 0, "%q\n%q", before, after)
		old = old[i+1:]
	}
}

func requireOnlyKeyLines(t testing.TB, d *Doc, n *Node, next *Doc) {
	t.Helper()
	touched := map[int]bool{}
	for _, p := range d.parts {
		if p.node == n.id {
			touched[strings.Count(d.text[:p.start], "\n")] = true
		}
	}
	a, b := strings.Split(d.text, "\n"), strings.Split(next.text, "\n")
	require.Equal(t, len(a), len(b))
	for i := range a {
		if !touched[i] {
			require.Equal(t, a[i], b[i])
		}
	}
}

func bareLines(src []byte) []string {
	var out []string
	for line := range strings.Lines(strings.TrimPrefix(string(src), byteOrderMark)) {
		out = append(out, strings.TrimRight(line, "\r\n"))
	}
	return out
}
