package tomltext

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

type edit func(*Doc) (*Doc, error)

func set(path, lit string) edit { return func(d *Doc) (*Doc, error) { return d.Set(path, lit) } }
func remove(path string) edit   { return func(d *Doc) (*Doc, error) { return d.Remove(path) } }
func rename(path, key string) edit {
	return func(d *Doc) (*Doc, error) { return d.Rename(path, key) }
}
func move(path string, from, to int) edit {
	return func(d *Doc) (*Doc, error) { return d.Move(path, from, to) }
}
func appendTo(path string, kv ...string) edit {
	var pairs []Pair
	for i := 0; i < len(kv); i += 2 {
		pairs = append(pairs, Pair{kv[i], kv[i+1]})
	}
	return func(d *Doc) (*Doc, error) { return d.Append(path, pairs) }
}

type editCase struct {
	name          string
	edit          edit
	before, after string
}

func runEdits(t *testing.T, cases []editCase) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			d, err := Parse("b.toml", []byte(c.before))
			require.NoError(t, err)
			got, err := c.edit(d)
			require.NoError(t, err)
			assert.Equal(t, c.after, string(got.Bytes()))
			assert.Equal(t, c.before, string(d.Bytes()), "the old document must not change")
			fresh, err := Parse("b.toml", got.Bytes())
			require.NoError(t, err)
			assert.True(t, same(plain(fresh.Root()), plain(got.Root())), "a reading that reuses values must agree with a fresh one")
		})
	}
}

func TestSetReplaces(t *testing.T) {
	runEdits(t, []editCase{
		{"scalar keeps comment and alignment", set("a.shown", `"4.5 deg"`),
			"[a]\nshown   = \"4 deg\"   # gauge\nat = 1\n", "[a]\nshown   = \"4.5 deg\"   # gauge\nat = 1\n"},
		{"dotted key", set("line.pinion.at", "[1, 2]"), "[line]\npinion.at = [0] # x\n", "[line]\npinion.at = [1, 2] # x\n"},
		{"inside an inline table", set("p.b", "2.5"), "p = { a = 1, b = 2 } # c\n", "p = { a = 1, b = 2.5 } # c\n"},
		{"list element", set("at[2]", "-7"), "at = [1, 2, 3]\n", "at = [1, 2, -7]\n"},
		{"element of a list over several lines", set("at[1]", "9"),
			"at = [\n  1, # x, not ]\n  2, # y\n]\n", "at = [\n  1, # x, not ]\n  9, # y\n]\n"},
		{"nested list element", set("m[1][0]", "9"), "m = [ [1,2] , [3,4] ]\n", "m = [ [1,2] , [9,4] ]\n"},
		{"list over several lines by one value", set("at", "[]"), "at = [\n 1,\n 2,\n]# t\nb=1\n", "at = []# t\nb=1\n"},
		{"string over several lines", set("note", `"""`+"\nnew\n"+`"""`),
			"note = \"\"\"\n# not a comment\n[no table]\n\"\"\" # yes\nb = 1\n", "note = \"\"\"\nnew\n\"\"\" # yes\nb = 1\n"},
		{"quoted key", set(`"odd key".'é.b'`, "2"), "\"odd key\".'é.b' = 1\n", "\"odd key\".'é.b' = 2\n"},
		{"entry of a list of tables", set("r[1].x", "5"), "[[r]]\nx=1\n[[r]]\nx=2\n", "[[r]]\nx=1\n[[r]]\nx=5\n"},
		{"table in a list entry", set("r[0].s.x", "5"), "[[r]]\n[r.s]\nx=1\n[[r]]\n[r.s]\nx=1\n", "[[r]]\n[r.s]\nx=5\n[[r]]\n[r.s]\nx=1\n"},
		{"CRLF", set("a", "2"), "a = 1\r\nb = 1\r\n", "a = 2\r\nb = 1\r\n"},
		{"list literal in a CRLF text", set("a", "[\n1,\n]"), "a = 1\r\n", "a = [\r\n1,\r\n]\r\n"},
		{"no final newline", set("a", "true"), "a = 1", "a = true"},
		{"byte order mark kept", set("a", "2"), "\ufeffa = 1\n", "\ufeffa = 2\n"},
		{"another kind of value", set("d", "2024-05-31"), "d = \"x\"\n", "d = 2024-05-31\n"},
		{"inline table by a value", set("p", "1"), "p = {a=1} # c\n", "p = 1 # c\n"},
	})
}

func TestSetAdds(t *testing.T) {
	runEdits(t, []editCase{
		{"key at the end of its table's own keys", set("a.z", "3"),
			"[a]\nx = 1 # c\n\n# sub\n[a.b]\ny = 2\n", "[a]\nx = 1 # c\nz = 3\n\n# sub\n[a.b]\ny = 2\n"},
		{"key in a table without keys", set("a.z", "3"), "[a] # t\n\n[b]\n", "[a] # t\nz = 3\n\n[b]\n"},
		{"root key before the tables", set("z", "1"), "# my build\n\n# about a\n[a]\nx=1\n", "# my build\n\nz = 1\n\n# about a\n[a]\nx=1\n"},
		{"root key after the others", set("z", "1"), "x = 1\n[a]\nx=1\n", "x = 1\nz = 1\n[a]\nx=1\n"},
		{"empty text", set("z", "1"), "", "z = 1\n"},
		{"empty text with a byte order mark", set("z", "1"), "\ufeff", "\ufeffz = 1\n"},
		{"text of comments only", set("z", "1"), "# only this", "# only this\nz = 1"},
		{"new table", set("line.rear.at", "1"), "x = 1\n", "x = 1\n\n[line.rear]\nat = 1\n"},
		{"new subtable stays with its table", set("line.rear.at", "1"),
			"[line]\nx = 1\n\n[other]\ny = 1\n", "[line]\nx = 1\n\n[line.rear]\nat = 1\n\n[other]\ny = 1\n"},
		{"new subtable of a list entry", set("r[0].s.x", "1"),
			"[[r]]\na=1\n\n[[r]]\na=2\n", "[[r]]\na=1\n\n[r.s]\nx = 1\n\n[[r]]\na=2\n"},
		{"header for a table only named so far", set("a.b.z", "1"), "[a.b.c]\nx=1\n", "[a.b.c]\nx=1\n\n[a.b]\nz = 1\n"},
		{"dotted neighbour", set("line.pinion.slope", "1"),
			"[line]\npinion.at = 2\nx = 1\n", "[line]\npinion.at = 2\npinion.slope = 1\nx = 1\n"},
		{"inline table", set("p.c", "3"), "p = { a = 1, b.x = 2 } # c\n", "p = { a = 1, b.x = 2, c = 3 } # c\n"},
		{"deep in an inline table", set("p.b.y", "3"), "p = { a = 1, b.x = 2 }\n", "p = { a = 1, b.x = 2, b.y = 3 }\n"},
		{"empty inline table", set("p.c", "3"), "p = { }\n", "p = { c = 3 }\n"},
		{"empty inline table without a space", set("p.c", "3"), "p = {}\n", "p = {c = 3}\n"},
		{"same column", set("a.z", "1"), "[a]\nlonger = 1\nx      = 2\n", "[a]\nlonger = 1\nx      = 2\nz      = 1\n"},
		{"same column after its longest key", set("a.z", "1"), "[a]\nx      = 2\nlonger = 1\n", "[a]\nx      = 2\nlonger = 1\nz      = 1\n"},
		{"same tight spacing and indentation", set("a.z", "1"), "[a]\n\tx=2\n", "[a]\n\tx=2\n\tz=1\n"},
		{"CRLF", set("a.z", "1"), "[a]\r\nx = 2\r\n[b]\r\n", "[a]\r\nx = 2\r\nz = 1\r\n[b]\r\n"},
		{"mixed line ends take the neighbour's", set("a.z", "1"), "y = 1\n[a]\r\nx = 2\r\n[b]\n", "y = 1\n[a]\r\nx = 2\r\nz = 1\r\n[b]\n"},
		{"no final newline", set("a.z", "1"), "[a]\r\nx = 2", "[a]\r\nx = 2\r\nz = 1"},
		{"key that needs quotes", set(`a."b c"`, "1"), "[a]\n", "[a]\n\"b c\" = 1\n"},
		{"after a string over several lines", set("z", "1"), "s = '''\n[x]\n''' # c\n[a]\n", "s = '''\n[x]\n''' # c\nz = 1\n[a]\n"},
	})
}

func TestAppend(t *testing.T) {
	runEdits(t, []editCase{
		{"after the last entry and its subtables", appendTo("r", "x", "3", "y z", `"t"`),
			"[[r]]\nx=1\n\n[[r]]\nx=2\n[r.s]\nq=1\n# tail\n\n# about b\n[b]\n",
			"[[r]]\nx=1\n\n[[r]]\nx=2\n[r.s]\nq=1\n# tail\n\n[[r]]\nx = 3\n\"y z\" = \"t\"\n\n# about b\n[b]\n"},
		{"a comment that touches the next table stays with it", appendTo("r", "x", "3"),
			"[[r]]\nx=1\n# about b\n[b]\n", "[[r]]\nx=1\n\n[[r]]\nx = 3\n# about b\n[b]\n"},
		{"new list at the end", appendTo("r", "x", "3"), "a = 1\n[b]\nc = 2\n", "a = 1\n[b]\nc = 2\n\n[[r]]\nx = 3\n"},
		{"new list in a list entry", appendTo("r[0].t", "x", "3"), "[[r]]\na=1\n\n[[r]]\na=2\n", "[[r]]\na=1\n\n[[r.t]]\nx = 3\n\n[[r]]\na=2\n"},
		{"list in a list entry", appendTo("r[0].t", "x", "3"),
			"[[r]]\n[[r.t]]\nx=1\n[[r]]\n", "[[r]]\n[[r.t]]\nx=1\n\n[[r.t]]\nx = 3\n[[r]]\n"},
		{"CRLF without final newline", appendTo("r", "x", "3"), "[[r]]\r\nx=1", "[[r]]\r\nx=1\r\n\r\n[[r]]\r\nx = 3"},
		{"empty text", appendTo("a.r"), "", "[[a.r]]\n"},
		{"bracket list", appendTo("r", "x", "3"), "r = [ {x = 1} ] # c\n", "r = [ {x = 1}, { x = 3 } ] # c\n"},
		{"empty bracket list", appendTo("r", "x", "3"), "r = []\n", "r = [{ x = 3 }]\n"},
		{"indentation", appendTo("r", "x", "3"), "  [[r]]\n  x=1\n", "  [[r]]\n  x=1\n\n  [[r]]\n  x = 3\n"},
		{"beside dotted keys", appendTo("a.r", "x", "3"), "a.b = 1\nc = 2\n", "a.b = 1\nc = 2\n\n[[a.r]]\nx = 3\n"},
	})
}

func TestRemove(t *testing.T) {
	runEdits(t, []editCase{
		{"key with the comments above and beside it", remove("b"),
			"a = 1\n# about b\n  # more\nb = 2 # here\nc = 3\n", "a = 1\nc = 3\n"},
		{"a comment past a blank line stays", remove("b"), "# file\n\nb = 2\nc = 3\n", "# file\n\nc = 3\n"},
		{"one of two blank lines goes", remove("b"), "a=1\n\n# b\nb=2\n\nc=3\n", "a=1\n\nc=3\n"},
		{"value over several lines", remove("s"), "a=1\ns = '''\n# no\n''' # yes\nb=2\n", "a=1\nb=2\n"},
		{"table with subtables", remove("a"),
			"x=1\n\n# about a\n[a]\ny=1\n# y=2\n\n[a.b]\nz=1\n\n# about c\n[c]\n", "x=1\n\n# about c\n[c]\n"},
		{"table apart from its subtable", remove("a"), "[a]\ny=1\n[c]\nq=1\n[a.b]\nz=1\n[d]\n", "[c]\nq=1\n[d]\n"},
		{"last table", remove("c"), "[a]\ny=1\n\n[c]\nq=1\n", "[a]\ny=1\n"},
		{"list entry", remove("r[1]"), "[[r]]\nx=1\n\n# two\n[[r]]\nx=2\n[r.s]\ny=1\n\n[[r]]\nx=3\n", "[[r]]\nx=1\n\n[[r]]\nx=3\n"},
		{"only list entry", remove("r[0]"), "a=1\n\n[[r]]\nx=1\n", "a=1\n"},
		{"whole list", remove("r"), "[[r]]\nx=1\n\n[[r]]\nx=3\n\n[b]\n", "[b]\n"},
		{"dotted table", remove("a.b"), "[a]\nb.x = 1\nq = 1\nb.y = 2\n", "[a]\nq = 1\n"},
		{"last dotted key takes its table along", remove("a.b.c"), "x = 1\na.b.c = 1\n", "x = 1\n"},
		{"inline key in the middle", remove("p.b"), "p = { a = 1, b = 2, c = 3 } # c\n", "p = { a = 1, c = 3 } # c\n"},
		{"first inline key", remove("p.a"), "p = { a = 1, b = 2 }\n", "p = { b = 2 }\n"},
		{"only inline key", remove("p.a"), "p = {a = 1}\n", "p = {}\n"},
		{"list element", remove("at[0]"), "at = [ 1, 2 ]\n", "at = [ 2 ]\n"},
		{"first of a broken list", remove("at[0]"), "at = [1,\n2]\n", "at = [2]\n"},
		{"last of a broken list", remove("at[1]"), "at = [1,\n2]\n", "at = [1]\n"},
		{"only element", remove("at[0]"), "at = [ 1, ]\n", "at = [  ]\n"},
		{"list element on its own line", remove("at[1]"),
			"at = [\n  1, # one\n  # on two\n  2, # two\n  3, # three\n]\n", "at = [\n  1, # one\n  3, # three\n]\n"},
		{"below a string whose last line looks like a comment", remove("b"), "s = '''\n# x'''\nb = 1\n", "s = '''\n# x'''\n"},
		{"element below such a string", remove("at[1]"), "at = [\n'''\n# x''',\n2,\n]\n", "at = [\n'''\n# x''',\n]\n"},
		{"CRLF", remove("b"), "a = 1\r\n# c\r\nb = 2\r\nc = 3\r\n", "a = 1\r\nc = 3\r\n"},
		{"last line without newline", remove("b"), "a = 1\nb = 2", "a = 1"},
		{"first line behind a byte order mark", remove("a"), "\ufeff# c\na = 1\nb = 2\n", "\ufeffb = 2\n"},
		{"everything", remove("a"), "a = 1\n", ""},
	})
}

func TestRename(t *testing.T) {
	runEdits(t, []editCase{
		{"key", rename("a.x", "width"), "[a]\nx = 1 # x\n", "[a]\nwidth = 1 # x\n"},
		{"aligned key", rename("a.x", "wide"), "[a]\nlonger = 1\nx      = 2\n", "[a]\nlonger = 1\nwide   = 2\n"},
		{"longest aligned key", rename("a.longer", "long"), "[a]\nlonger = 1\nx      = 2\n", "[a]\nlong   = 1\nx      = 2\n"},
		{"table under all its headers", rename("a.b", "z"),
			"[a.b]\n[ a . b . c ]\nx=1\n[[a.b.d]]\n[a.b.d.e]\n", "[a.z]\n[ a . z . c ]\nx=1\n[[a.z.d]]\n[a.z.d.e]\n"},
		{"table in headers and dotted keys", rename("a", "z"), "a.x = 1\na.b.y = 2\n[a.c]\n", "z.x = 1\nz.b.y = 2\n[z.c]\n"},
		{"list of tables", rename("r", "s"), "[[r]]\n[r.x]\n[[r]]\n", "[[s]]\n[s.x]\n[[s]]\n"},
		{"only the entry meant", rename("r[1].x", "y"), "[[r]]\nx.a=1\n[[r]]\nx.a=1\n", "[[r]]\nx.a=1\n[[r]]\ny.a=1\n"},
		{"inline key", rename("p.b", "c"), "p = {a=1, b.x=1, b.y=2}\n", "p = {a=1, c.x=1, c.y=2}\n"},
		{"to a key that needs quotes", rename("a", "b c"), "a = 1\n", "\"b c\" = 1\n"},
		{"only by case", rename("at", "At"), "at = 1\n", "At = 1\n"},
	})
}

func TestMove(t *testing.T) {
	const three = "# one\n[[r]]\nx=1\n\n# two\n[[r]]\nx=2\n[r.s]\ny=2\n# tail\n\n[[r]]\nx=3"
	runEdits(t, []editCase{
		{"forth", move("r", 0, 1), three, "# two\n[[r]]\nx=2\n[r.s]\ny=2\n# tail\n\n# one\n[[r]]\nx=1\n\n[[r]]\nx=3"},
		{"to the end without newline", move("r", 0, 2), three, "# two\n[[r]]\nx=2\n[r.s]\ny=2\n# tail\n\n[[r]]\nx=3\n\n# one\n[[r]]\nx=1"},
		{"back", move("r", 2, 0), three, "[[r]]\nx=3\n\n# one\n[[r]]\nx=1\n\n# two\n[[r]]\nx=2\n[r.s]\ny=2\n# tail"},
		{"to its own place", move("r", 1, 1), three, three},
		{"only entry", move("r", 0, 0), "[[r]]", "[[r]]"},
		{"across another table", move("r", 0, 1), "[[r]]\nx=1\n[o]\n[[r]]\nx=2\n", "[[r]]\nx=2\n[o]\n[[r]]\nx=1\n"},
		{"CRLF", move("r", 1, 0), "[[r]]\r\nx=1\r\n\r\n[[r]]\r\nx=2", "[[r]]\r\nx=2\r\n\r\n[[r]]\r\nx=1"},
		{"bracket list", move("at", 0, 2), "at = [1,  2,\n 3] # c\n", "at = [2,  3,\n 1] # c\n"},
		{"list inside an entry", move("r[1].t", 0, 1), "[[r]]\n[[r]]\n[[r.t]]\na=1\n[[r.t]]\na=2\n", "[[r]]\n[[r]]\n[[r.t]]\na=2\n[[r.t]]\na=1\n"},
	})
}

func TestEditsRefused(t *testing.T) {
	const text = "why = [ 1, # b\n 2 ]\na = 1\nlist = [ # why\n 1, 2 # b\n]\n[t]\nx = 1\n[[r]]\nx=1\n[t.u]\ny=1\n[r.s]\nz=1\n[[r]]\n[o]\nd.e = 1\n"
	for _, c := range []struct {
		name string
		edit edit
		says string
	}{
		{"table by a value", set("t", "1"), "lines of its own"},
		{"list of tables by a value", set("r", "1"), "lines of its own"},
		{"two values", set("a", "1\nb = 2"), "more than one value"},
		{"value with a comment", set("a", "1 # x"), "more than one value"},
		{"no value", set("a", ""), "value is missing"},
		{"not a number", set("a", "nan"), "not measurements"},
		{"bare words", set("a", "12 mm"), "needs quotes"},
		{"control sign", set("a", "\"\x1b\""), "control character"},
		{"under a scalar", set("a.b", "1"), "single value"},
		{"list without an index", set("r.x", "1"), "which entry"},
		{"index past the end", set("list[2]", "1"), "has 2 entries"},
		{"index in a list not there", set("no[0]", "1"), "list is not there"},
		{"bad path", set("a..b", "1"), "not a path"},
		{"whole document", set("", "1"), "whole document"},
		{"clash by case", set("A", "1"), "capital letters"},
		{"remove what is not there", remove("zz"), "no such key"},
		{"remove all", remove(""), "whole document"},
		{"rename onto a neighbour", rename("a", "T"), "already taken"},
		{"rename an entry", rename("r[0]", "b"), "no name"},
		{"move scattered entries", move("r", 0, 1), "other tables stand between"},
		{"move past the end", move("r", 0, 2), "no such place"},
		{"move in a table", move("t", 0, 0), "not a list"},
		{"move between comments", move("list", 0, 9), "no such place"},
		{"move across a comment", move("why", 0, 1), "comments stand between"},
		{"remove beside a comment", remove("why[0]"), "remove it by hand"},
		{"append to a table", appendTo("t"), "not a list"},
		{"append to an entry", appendTo("r[0]"), "name the list"},
		{"append a key twice", appendTo("r", "k", "1", "k", "2"), "given twice"},
		{"append a bad value", appendTo("r", "k", "1 2"), "cannot be used"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := Parse("b.toml", []byte(text))
			require.NoError(t, err)
			got, err := c.edit(d)
			require.Error(t, err)
			assert.Nil(t, got)
			assert.Contains(t, err.Error(), c.says)
			assert.True(t, strings.HasPrefix(err.Error(), "b.toml: "), err.Error())
			assert.Equal(t, text, string(d.Bytes()))
			var ee *EditError
			assert.ErrorAs(t, err, &ee)
		})
	}
}

// An edit that reaches further than it says must not get through.
func TestCommitRefusesOtherChanges(t *testing.T) {
	d := mustParse(t, "a = 1\nb = 2\nc = 2024-05-31\n")
	want := func() any { return replace(plain(d.Root()), []segment{{key: "a"}}, int64(3)) }
	for name, splices := range map[string][]splice{
		"nothing done":     nil,
		"another value":    {{10, 11, "3"}},
		"one value more":   {{4, 5, "3"}, {5, 5, "\nd = 4"}},
		"a value less":     {{4, 11, "3"}},
		"another kind":     {{4, 5, "3.0"}},
		"a date to text":   {{4, 5, "3"}, {16, 16, "'"}, {26, 26, "'"}},
		"overlapping":      {{4, 5, "3"}, {4, 5, "3"}},
		"a date with time": {{4, 5, "3"}, {26, 26, "T00:00:00"}},
	} {
		_, err := d.commit("a", d.root, want(), splices...)
		assert.Error(t, err, name)
	}
	next, err := d.commit("a", d.root, want(), splice{4, 5, "3"})
	require.NoError(t, err)
	assert.Equal(t, "a = 3\nb = 2\nc = 2024-05-31\n", string(next.Bytes()))
}
