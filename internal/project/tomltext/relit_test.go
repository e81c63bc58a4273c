package tomltext

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// requireParsed holds a document against the one that Parse gives, with
// everything that is in it.
func requireParsed(t require.TestingT, d *Doc) {
	want, err := Parse(d.name, d.Bytes())
	require.NoError(t, err)
	a, b := *want, *d
	a.slabs, b.slabs, a.slab, b.slab, a.nodes, b.nodes = nil, nil, 0, 0, nil, nil // in pieces of another size
	require.Equal(t, &a, &b)
	for id := range d.count {
		require.Equal(t, id, d.node(id).id)
		for _, c := range d.node(id).Children {
			require.Same(t, c, d.node(c.id))
			require.Same(t, d.node(id), d.parent(c))
		}
	}
	require.Len(t, allNodes(d), d.count)
}

// literals are values of every kind and length, and some that are none.
var literals = []string{
	`1`, `-12.5e3`, `1_000`, `0xff`, `true`, `false`, `""`, `"a"`, `'b # c'`, `"16-1/4\" é"`, `"""one line"""`, `''''q'''`,
	`2024-05-31`, `2024-05-31 10:00:00`, `10:30`, `2024-05-31T10:00:00Z`, `"ß°µ"`, `"\u00e9"`,
	``, ` `, `1 2`, `1 # x`, `1, 2`, `[1]`, `{ x = 1 }`, "\"\"\"a\nb\"\"\"", "1\nz = 2", `nan`, `"open`, `x`, `2024-02-31`, "\"\x01\"",
}

// newLines are lines of every kind, and some that are none.
var newLines = []string{
	"", "\n", "# é\n", "zz = 1\n", "zz = 1 # é\nzy = [1, { é = 2, b.c = [ ] }]\n", "'odd é' = { }\r\n", "note = \"é\"\n", "rear = 5\n",
	"zz = \"\"\"\nx\n\"\"\"\n", "zz = [\n1,\n]\n", "a = 1\nb = 2\nc = 3\nd = 4\ne = 5\nf = 6\ng = 7\nh = 8\ni = 9\nj = 10\nk = 11\nl = 12\nm = 13\n",
	"a.b = 1\n", "[new]\n", "zz = 1\nzz = 2\n", "ZZ = 1\nNote = 2\n", "zz = 1", "zz\n", "zz = \"\"\"", "\r", "id = \"x\"\ndone = true\n",
	"[[reading]]\nof = \"x\"\nplaced = { a = 1, b = [2] }\n\n", "[[job]]\nid = \"é\"\n", "[[l]]\nx = 3\n[[l]]\n", "[[r]]\n", "[[new]]\nx = 1\n", "[[weld]]\nside.x = 1\n",
}

// One literal in place of another, or one line, gives the document of the new text, and
// the old one stays as it was.
func TestAPartIsReadAlone(t *testing.T) {
	demo, err := os.ReadFile("../starter/demo.toml")
	require.NoError(t, err)
	texts := []string{
		string(demo), "\ufeff" + string(demo), strings.ReplaceAll(string(demo), "\n", "\r\n"),
		"a=1 #é\nb = [ 1, [ 'é', 2 ], { c = 3, d.e = \"é\", f = 10:00 } ] # 1\n'odd é'.k = 2\nm = \"\"\"\nx\n\"\"\"\n[t]\n[[l]]\nx = 1\n[[l]]\nx = 2\n[l.s]\ny = 1979-05-27",
	}
	alone := 0
	rapid.Check(t, func(rt *rapid.T) {
		text := rapid.SampledFrom(texts).Draw(rt, "text")
		if rapid.Bool().Draw(rt, "made up") {
			text = genText(rt)
		}
		d, err := Parse("b.toml", []byte(text))
		if err != nil {
			return
		}
		for range rapid.IntRange(1, 4).Draw(rt, "edits") {
			nodes := allNodes(d)
			n := nodes[rapid.IntRange(0, len(nodes)-1).Draw(rt, "node")]
			src := d.text[:n.Start] + rapid.SampledFrom(literals).Draw(rt, "literal") + d.text[n.End:]
			if from := rapid.IntRange(d.base, len(d.text)).Draw(rt, "from"); rapid.Bool().Draw(rt, "lines") {
				from = d.lineStart(from)
				to := from
				for range rapid.SampledFrom([]int{0, 0, 1, 2, 10, 11, 22}).Draw(rt, "gone") {
					to = nextLine(d.text, to)
				}
				src = d.text[:from] + rapid.SampledFrom(newLines).Draw(rt, "new") + d.text[to:]
			}
			if d.base > 0 {
				src = byteOrderMark + strings.TrimPrefix(src, "   ")
			}
			before := d.text
			next, err := d.Reread([]byte(src))
			_, wantErr := Parse("b.toml", []byte(src))
			require.Equal(rt, wantErr, err)
			require.Equal(rt, before, d.text)
			requireParsed(rt, d)
			if err != nil {
				continue
			}
			requireParsed(rt, next)
			if next.slab != slabSize {
				alone++
			}
			d = next
		}
	})
	require.Positive(t, alone)
}

func TestCommon(t *testing.T) {
	long := strings.Repeat("0123456789abcdef", 100)
	for _, c := range []struct {
		a, b       string
		head, tail int
	}{
		{"", "", 0, 0}, {"a", "", 0, 0}, {"ab", "ab", 2, 0}, {"axb", "ab", 1, 1}, {"aa", "aaa", 2, 0},
		{long + "x" + long, long + "y" + long, len(long), len(long)},
		{long, long + long, len(long), 0}, {"q" + long, long, 0, len(long)},
	} {
		head, tail := Common(c.a, c.b)
		require.Equal(t, []int{c.head, c.tail}, []int{head, tail}, "%.20q %.20q", c.a, c.b)
	}
	rapid.Check(t, func(t *rapid.T) {
		head, tail := rapid.IntRange(0, 600).Draw(t, "head"), rapid.IntRange(0, 600).Draw(t, "tail")
		h, e := strings.Repeat("h", head), strings.Repeat("t", tail)
		got, rest := Common(h+"1"+e, h+"23"+e)
		require.Equal(t, []int{head, tail}, []int{got, rest})
	})
}

// What is read alone, and what is not: the document is the right one either way.
func TestWhatIsReadAlone(t *testing.T) {
	const one, two, three = "[[l]]\nx = 1\nin = { a = [1] }\n\n", "# of two\n[[l]]\nx = 2\n\n", "[[l]]\nx = 3\ny = 'é'\n\n"
	const head, other, tail = "k = 1\n[t]\na = 1\n\n", "[[m]]\nx = 4\n\n", "[u]\nm = \"\"\"\n[[l]]\n\"\"\"\nn = [\n1,\n]\n"
	for name, c := range map[string]struct {
		was, now string
		alone    bool
	}{
		"an entry taken out":             {head + one + two + three + tail, head + one + three + tail, true},
		"the last entry taken out":       {head + one + two + three + tail, head + one + two + tail, true},
		"an entry put in":                {head + one + three + tail, head + one + two + three + tail, true},
		"two put in at the end":          {head + one, head + one + two + three, true},
		"entries behind another list":    {head + one + other + two + tail, head + one + other + two + three + tail, true},
		"entries change places":          {head + one + two + three + tail, head + one + three + two + tail, true},
		"the first entry":                {head + one + two + tail, head + two + tail, false},
		"the only entry":                 {head + one + tail, head + tail, false},
		"an entry of another list":       {head + one + other + two + tail, head + one + other + strings.Replace(two, "[[l]]", "[[m]]", 1) + tail, false},
		"an entry before its table":      {head + one + two + "[l.s]\ny = 1\n" + tail, head + one + "[l.s]\ny = 1\n" + tail, false},
		"an entry after its table":       {head + one + "[l.s]\ny = 1\n" + tail, head + one + "[l.s]\ny = 1\n" + two + tail, false},
		"a key line":                     {head + one + tail, strings.Replace(head+one+tail, "a = 1\n", "a = 1\nb = [\n2]\n", 1), true},
		"a comment":                      {head + one + tail, strings.Replace(head+one+tail, "a = 1\n", "# é\na = 1\n", 1), true},
		"a key line of an entry":         {head + one + two + tail, head + strings.Replace(one, "x = 1\n", "", 1) + two + tail, true},
		"at the top":                     {head + one + tail, "# x\n" + head + one + tail, false},
		"the beginning of a long text":   {"k = 1\n" + tail, "k = 1\n" + strings.Replace(tail, "m = \"\"\"\n", "", 1), false},
		"the end of a long text":         {"k = 1\n" + tail, "k = 1\n" + strings.Replace(tail, "\"\"\"\nn", "\"\"\"\nq = \"\"\"\n\"\"\"\nn", 1), true},
		"the middle of a long text":      {"k = 1\n" + tail, "k = 1\n" + strings.Replace(tail, "[[l]]", "[[m]]", 1), false},
		"a line of a long list":          {"k = 1\n" + tail, "k = 1\n" + strings.Replace(tail, "1,\n]", "1,\n2,\n]", 1), false},
		"a header":                       {head + one, strings.Replace(head, "[t]", "[v]", 1) + one, false},
		"a key that stands twice":        {head + one, strings.Replace(head, "a = 1\n", "a = 1\na = 2\n", 1) + one, false},
		"a key that a header made":       {head + "[t.s]\n" + one, strings.Replace(head, "a = 1\n", "a = 1\ns = 2\n", 1) + "[t.s]\n" + one, false},
		"a key taken out, its like in":   {head + one, strings.Replace(head, "a = 1\n", "A = 1\n", 1) + one, true},
		"a key written in several parts": {head + one, strings.Replace(head, "a = 1\n", "a = 1\nb.c = 1\n", 1) + one, false},
	} {
		for _, mark := range []string{"", byteOrderMark} {
			d, err := Parse("b.toml", []byte(mark+c.was))
			require.NoError(t, err, name)
			next, err := d.Reread([]byte(mark + c.now))
			_, want := Parse("b.toml", []byte(mark+c.now))
			require.Equal(t, want, err, name)
			if err != nil {
				require.False(t, c.alone, name)
				continue
			}
			requireParsed(t, next)
			require.Equal(t, c.alone, next.slab != slabSize, name)
		}
	}
}
