package tomltext

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func mustParse(t testing.TB, text string) *Doc {
	t.Helper()
	d, err := Parse("b.toml", []byte(text))
	require.NoError(t, err)
	return d
}

func TestTree(t *testing.T) {
	const text = "title = \"é\" # c\n" +
		"[line.rear]\n" +
		"pinion.at = [ 1, [ 2.5 ], { x = 3 } ]\n" +
		"\"b c\" = '''\nlong'''\n" +
		"[[reading]]\n" +
		"on = 2024-05-31\n" +
		"[[reading]]\n" +
		"[line]\n" +
		"  sure = true\n"
	d := mustParse(t, text)
	for _, c := range []struct {
		path, raw    string
		kind         Kind
		value        any
		keyAt, valAt string
		inline       bool
	}{
		{"title", `"é"`, String, "é", "1:1", "1:9", false},
		{"line", "", Table, nil, "9:2", "9:1", false},
		{"line.rear", "", Table, nil, "2:7", "2:1", false},
		{"line.rear.pinion", "", Table, nil, "3:1", "3:1", false},
		{"line.rear.pinion.at", "[ 1, [ 2.5 ], { x = 3 } ]", Array, nil, "3:8", "3:13", false},
		{"line.rear.pinion.at[0]", "1", Integer, int64(1), "3:15", "3:15", true},
		{"line.rear.pinion.at[1]", "[ 2.5 ]", Array, nil, "3:18", "3:18", true},
		{"line.rear.pinion.at[1][0]", "2.5", Float, 2.5, "3:20", "3:20", true},
		{"line.rear.pinion.at[2]", "{ x = 3 }", Table, nil, "3:27", "3:27", true},
		{"line.rear.pinion.at[2].x", "3", Integer, int64(3), "3:29", "3:33", true},
		{`line.rear."b c"`, "'''\nlong'''", String, "long", "4:1", "4:9", false},
		{"reading", "", TableArray, nil, "6:3", "6:1", false},
		{"reading[0]", "", Table, nil, "6:3", "6:1", false},
		{"reading[1]", "", Table, nil, "8:3", "8:1", false},
		{"line.sure", "true", Bool, true, "10:3", "10:10", false},
	} {
		t.Run(c.path, func(t *testing.T) {
			n := d.Find(c.path)
			require.NotNil(t, n)
			assert.Equal(t, c.path, n.Path)
			assert.Equal(t, c.kind, n.Kind)
			assert.Equal(t, c.raw, n.Raw)
			assert.Equal(t, c.value, n.Value)
			assert.Equal(t, text[n.Start:n.End], n.Raw)
			assert.Equal(t, c.keyAt, fmt.Sprintf("%d:%d", n.KeyPos.Line, n.KeyPos.Col))
			assert.Equal(t, c.valAt, fmt.Sprintf("%d:%d", n.Pos.Line, n.Pos.Col))
			assert.Equal(t, c.inline, n.Inline)
		})
	}
	day := d.Find("reading[0].on")
	assert.Equal(t, Datetime, day.Kind)
	assert.Equal(t, "2024-05-31", day.Value.(time.Time).Format(time.DateOnly))
	assert.Equal(t, "date-local", day.Value.(time.Time).Location().String())

	var keys []string
	for _, c := range d.Root().Children {
		keys = append(keys, c.Key)
	}
	assert.Equal(t, []string{"title", "line", "reading"}, keys, "children stand in document order")
	assert.Same(t, d.Root(), d.Find(""))
	for _, path := range []string{"no", "title.x", "reading[2]", "reading.on", "[0]", "a..b", "line.", `"open`, "title[0]", "reading[-1]", "reading[x]"} {
		assert.Nil(t, d.Find(path), path)
	}
	assert.Nil(t, d.Find("reading").Child("on"))
	assert.Equal(t, 9, mustParse(t, "\ufeff \"é\"=1").Find("\"é\"").Pos.Offset)
	assert.Equal(t, 2, mustParse(t, "\ufeff \"é\" = 1").Find("\"é\"").KeyPos.Col, "a byte order mark takes no column")
}

func TestRefused(t *testing.T) {
	deep := strings.Repeat("[", MaxDepth) + strings.Repeat("]", MaxDepth)
	for _, c := range []struct{ name, text, says string }{
		{"no equals", "a = 1\n  foo bar\n", `b.toml:2:7: a key needs an = and a value after it, found "bar"`},
		{"no value", "a =\n", "b.toml:1:4: this is not a value"},
		{"no value at the end", "a =", "b.toml:1:4: the value is missing, found the end of the text"},
		{"bare words", "at = 12 mm # c\n", `b.toml:1:9: a value with its unit or a fraction needs quotes: "16 1/4 in", found "mm # c"`},
		{"unquoted text", "at = wide\n", `b.toml:1:6: this is not a value; text needs quotes, a number its digits first, found "wide"`},
		{"text not closed", "a = 1\nb = \"x\nc = 2\n", "b.toml:2:7: this text is not closed before the end of the line, found the end of the line"},
		{"long text not closed", "a = 1\n\n# c\n  b = '''x\nc = 2\n", `b.toml:4:3: this text is not closed; ''' is missing, found "b = '''x"`},
		{"list not closed", "a = 1\nb = [1,\n\n", `b.toml:2:1: this list is not closed; a ] is missing, found "b = [1,"`},
		{"header not closed", "[a\n", "b.toml:1:3: a table header needs a closing ], found the end of the line"},
		{"entry not closed", "[[a]\n", "b.toml:1:4: this header begins with [["},
		{"backslash", `a = "c:\x"` + "\n", `\u needs four`},
		{"backslash before a letter", `a = "\q"` + "\n", "b.toml:1:6: a backslash in text must be written twice"},
		{"leading zero", "a = 007\n", "b.toml:1:5: a number must not begin with 0"},
		{"no such day", "a = 2024-02-31\n", "b.toml:1:5: this is not a date or time that exists"},
		{"no such zone", "a = 2024-05-31T10:00:00+24:00\n", "b.toml:1:5: this is not a date or time that exists"},
		{"no such zone minutes", "a = 2024-05-31T10:00:00-00:60\n", "its zone reaches from"},
		{"too large", "a = 9223372036854775808\n", "b.toml:1:5: this number is too large to hold"},
		{"too large a float", "a = 1\nb = 1e999\n", "b.toml:2:5: this number is too large to hold"},
		{"nan", "a = 1\nb = [ 1, nan ]\n", `b.toml:2:10: nan and inf are not measurements; write a number, or leave the line out, found "nan ]"`},
		{"inf", "b = -inf\n", "b.toml:1:5: nan and inf"},
		{"key twice", "[t]\nat = 1\n at = 2\n", `b.toml:3:2: "t.at" stands twice; the first is on line 2, column 1, found "at = 2"`},
		{"key twice in a list entry", "[[r]]\nx=1\n[[r]]\nx=1\nx=2\n", `b.toml:5:1: "r.2.x" stands twice; the first is on line 4`},
		{"key twice in an inline table", "p = { a = 1, a = 2 }\n", `b.toml:1:14: "p.a" stands twice; the first is on line 1, column 7`},
		{"table twice", "[t]\n[t]\n", `b.toml:2:2: "t" stands twice; the first is on line 1, column 2`},
		{"table onto a value", "t = 1\n[t]\n", `b.toml:2:2: "t" stands twice`},
		{"table under a value", "t = 1\n[t.u]\n", "cannot be opened as a table"},
		{"entry onto a list", "t = []\n[[t]]\n", "b.toml:2:3: \"t\" cannot begin a list entry"},
		{"value onto a dotted table", "a.b = 1\na = 2\n", `b.toml:2:1: "a" stands twice; the first is on line 1`},
		{"dotted into another header's table", "[a.b]\n[a]\nb.c = 1\n", `b.toml:3:1: "a.b" stands twice`},
		{"dotted into an inline table", "a = {b = 1}\na.c = 1\n", `"a" stands twice`},
		{"only by case", "[t]\nAt = 1\nat = 2\n", `b.toml:3:1: the key "at" differs only by small and capital letters from "At" on line 2`},
		{"tables only by case", "[line]\n[Line.x]\n", "differs only by small and capital"},
		{"only by case in many keys", "a=1\nb=1\nc=1\nd=1\ne=1\nf=1\ng=1\nh=1\ni=1\nj=1\nk=1\nl=1\nm=1\n\"É\"=1\n\"é\"=1\n", "differs only by small and capital"},
		{"not UTF-8", "a = 1\nb = \"\xff\"\n", `b.toml:2:6: this byte is not UTF-8 text; save the file as UTF-8, found "\xff\""`},
		{"zero byte", "a\x00 = 1", `b.toml:1:2: a zero byte stands here`},
		{"escape", "# \x1b[2J", `b.toml:1:3: a control character stands here; delete it, found "\x1b[2J"`},
		{"C1 control", "# \u009b2J", "b.toml:1:3: a control character stands here"},
		{"delete sign", "a = \"\x7f\"", "a control character stands here"},
		{"lone carriage return", "a = 1\rb = 2\n", "b.toml:1:6: a lone carriage return"},
		{"column in characters", "\"éé\" = é\n", "b.toml:1:8: "},
		{"too deep a list", "a = [" + deep + "]\n", "b.toml:1:37: tables and lists stand more than 32 deep"},
		{"too deep a key", strings.Repeat("a.", MaxDepth) + "a = 1\n", "b.toml:1:65: tables and lists stand more than 32 deep"},
		{"too deep for the parser's own limit", "a = " + strings.Repeat("[", 20000), "far too deep"},
		{"too many keys", "a = [" + strings.Repeat("1,", MaxKeys) + "]\n", "more than 100000 keys"},
		{"too long a name", strings.Repeat("k", maxPath+1) + " = 1\n", "too long together"},
		{"too long a text", strings.Repeat("#\n", MaxBytes/2+1), "b.toml:1:1: the text is 4194306 bytes long; at most 4194304 are read"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, err := Parse("b.toml", []byte(c.text))
			require.Error(t, err)
			assert.Nil(t, d)
			assert.Contains(t, err.Error(), c.says)
			var se *SyntaxError
			require.ErrorAs(t, err, &se)
			assertPosition(t, c.text, se.Pos)
			for _, r := range err.Error() {
				assert.True(t, r >= ' ' && r != 0x7f && (r < 0x80 || r > 0x9f), "control character in %q", err.Error())
			}
		})
	}
	_, err := Parse("x\x1b.toml", []byte("a"))
	assert.True(t, strings.HasPrefix(err.Error(), `x\x1b.toml:1:1: `), err.Error())
}

// assertPosition checks line and column against the offset the slow way.
func assertPosition(t *testing.T, text string, p Position) {
	t.Helper()
	require.LessOrEqual(t, p.Offset, len(text))
	head := strings.TrimPrefix(text, byteOrderMark)[:max(0, p.Offset-len(text)+len(strings.TrimPrefix(text, byteOrderMark)))]
	line := 1 + strings.Count(head, "\n")
	col := 1 + len([]rune(head[strings.LastIndexByte(head, '\n')+1:]))
	assert.Equal(t, line, p.Line)
	assert.Equal(t, col, p.Col)
}

func TestAtTheLimitsAccepted(t *testing.T) {
	for name, text := range map[string]string{
		"deep list":         "a = " + strings.Repeat("[", MaxDepth) + strings.Repeat("]", MaxDepth),
		"many entries":      "a = [" + strings.Repeat("1,", MaxKeys-1) + "]",
		"long text":         strings.Repeat("#\n", MaxBytes/2),
		"dotted subtable":   "a.b = 1\n[a.c]\nx = 1\n",
		"same key apart":    "[[r]]\nAt = 1\n[[r]]\nat = 1\n",
		"table after sub":   "[a.b]\n[a]\nc = 1\n",
		"dates":             "a = 2024-05-31T10:00:00Z\nb = 10:00:00\nd = 2024-05-31T10:00:00-23:59\nc = 2024-05-31 10:00:00\n",
		"numbers":           "a = 0x1F\nb = 1_000\nc = -0.0\nd = 6e-3\n",
		"inline over lines": "p = {\n  a = 1, # c\n  b = 2,\n}\n",
	} {
		_, err := Parse(name, []byte(text))
		assert.NoError(t, err, name)
	}
}

func TestQuote(t *testing.T) {
	for _, s := range []string{"", "plain", `q"\`, "a\nb\r\n\t\b\f", "\x00\x1b\x7f\u009b", "é 12 mm ✓", "[x] # y"} {
		d := mustParse(t, "v = "+Quote(s)+"\n"+`k.`+QuoteKey(s)+" = 1\n")
		assert.Equal(t, s, d.Find("v").Value)
		assert.Equal(t, s, d.Find("k").Children[0].Key)
		require.NotNil(t, d.Find("k."+QuoteKey(s)))
	}
	assert.Equal(t, "\"a\uFFFDb\"", Quote("a\xffb"))
	assert.Equal(t, "pinion-2_a", QuoteKey("pinion-2_a"))
	assert.Equal(t, `"é"`, QuoteKey("é"))
	assert.Equal(t, `""`, QuoteKey(""))
}

func TestReread(t *testing.T) {
	d := mustParse(t, "a = 1\n[t]\nb = [1, 'x']\nc = 2\n")
	next, err := d.Reread([]byte("a = 1\n[t]\nb = [1, 'y']\nc = 2\nd.e = 3\n"))
	require.NoError(t, err)
	assert.Equal(t, "y", next.Find("t.b[1]").Value)
	assert.Equal(t, int64(2), next.Find("t.c").Value)
	assert.Equal(t, int64(3), next.Find("t.d.e").Value)
	_, err = d.Reread([]byte("a = 1\n[t]\nb = [1, 'x']\nc = 99999999999999999999\n"))
	assert.EqualError(t, err, `b.toml:4:5: this number is too large to hold, found "99999999999999999999"`)
}
