package tomltext

import (
	"errors"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func FuzzParse(f *testing.F) {
	f.Add([]byte("a = 1\n[b.c]\nd.e = { x = [1, 'y'] } # z\n[[r]]\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		d, err := Parse("f.toml", src)
		if err == nil {
			checkDoc(t, d, src)
			return
		}
		require.Nil(t, d)
		var se *SyntaxError
		require.True(t, errors.As(err, &se))
		require.GreaterOrEqual(t, se.Pos.Line, 1)
		require.GreaterOrEqual(t, se.Pos.Col, 1)
		require.LessOrEqual(t, se.Pos.Offset, len(src))
		require.False(t, strings.ContainsFunc(err.Error(), unicode.IsControl), "%q", err.Error())
	})
}

func FuzzPatch(f *testing.F) {
	f.Add([]byte("a = 1\n[b.c]\nd.e = { x = [1, 'y'] } # z\n[[r]]\n[[r]]\nx=1\n"), uint8(0), uint16(3), uint16(1), "[ 2 ]")
	f.Fuzz(func(t *testing.T, src []byte, op uint8, pick, arg uint16, lit string) {
		if len(src) > 4096 {
			return
		}
		d, err := Parse("f.toml", src)
		if err != nil {
			return
		}
		tryEdit(t, d, op, pick, arg, lit)
	})
}

// genText draws a text with tables, lists of tables, comments, blank lines,
// odd spacing and mixed line ends.
func genText(t *rapid.T) string {
	values := []string{"1", "-2.5", "'x # y'", `"\u00e9"`, "[ 1, 2 ]", "[\n  1, # c\n  # d\n  2,\n]", "{ a = 1, b.c = [2] }", "{}", "'''\n[x]\n# no\n'''", "2024-05-31", "true", "[{x=1},{x=2}]"}
	keys := []string{"a", "b", "a.b", "a.c", "b.x.y", `"k y"`, "long_key", "z"}
	eol := rapid.SampledFrom([]string{"\n", "\r\n"})
	var b strings.Builder
	if rapid.Bool().Draw(t, "mark") {
		b.WriteString(byteOrderMark)
	}
	uniform, n := eol.Draw(t, "end"), rapid.IntRange(0, 14).Draw(t, "lines")
	mixed := rapid.Bool().Draw(t, "mixed")
	for i := range n {
		kind := rapid.IntRange(0, 9).Draw(t, "kind")
		switch {
		case kind == 0:
			b.WriteString("# note")
		case kind == 1:
		case kind == 2:
			b.WriteString("[" + rapid.SampledFrom([]string{"t", "t.u", "r.s", "t . v", "r.s.q", "a.d"}).Draw(t, "table") + "] # t")
		case kind <= 4:
			b.WriteString("  [[" + rapid.SampledFrom([]string{"r", "r", "r.l", "t.l"}).Draw(t, "list") + "]]")
		default:
			b.WriteString(rapid.SampledFrom([]string{"", "\t"}).Draw(t, "indent") + rapid.SampledFrom(keys).Draw(t, "key") +
				rapid.SampledFrom([]string{"=", " = ", "    = "}).Draw(t, "equals") + rapid.SampledFrom(values).Draw(t, "value") +
				rapid.SampledFrom([]string{"", " # c"}).Draw(t, "tail"))
		}
		if i == n-1 && rapid.Bool().Draw(t, "open end") {
			break
		}
		if mixed {
			b.WriteString(eol.Draw(t, "own end"))
		} else {
			b.WriteString(uniform)
		}
	}
	return b.String()
}

func TestEditsAgainstModel(t *testing.T) {
	made, tried := 0, 0
	rapid.Check(t, func(rt *rapid.T) {
		text := genText(rt)
		d, err := Parse("f.toml", []byte(text))
		if err != nil {
			return
		}
		for range 6 {
			op := rapid.Uint8Range(0, 5).Draw(rt, "op")
			pick := rapid.Uint16Range(0, 40).Draw(rt, "pick")
			arg := rapid.Uint16().Draw(rt, "arg")
			lit := rapid.SampledFrom([]string{"7", "'n'", "[1,\n2]", "{ q = 1 }", `"""` + "\nm\n" + `"""`, "1979-05-27T07:32:00Z"}).Draw(rt, "literal")
			next := tryEdit(model{t, rt}, d, op, pick, arg, lit)
			tried++
			if next != d {
				made++
			}
			d = next
		}
	})
	t.Logf("%d of %d edits made", made, tried)
	require.Greater(t, made*10, tried, "most edits were refused: %d of %d made", made, tried)
}

// model lets the checks shared with the fuzz tests report to rapid.
type model struct {
	testing.TB
	rt *rapid.T
}

func (m model) Errorf(format string, args ...any) { m.rt.Errorf(format, args...) }
func (m model) FailNow()                          { m.rt.FailNow() }
func (m model) Helper()                           {}

func TestQuoteRoundTrip(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := rapid.String().Draw(rt, "text")
		d, err := Parse("q", []byte("v = "+Quote(s)+"\n"))
		require.NoError(rt, err)
		require.Equal(rt, strings.ToValidUTF8(s, "\uFFFD"), d.Find("v").Value)
		segs, err := splitPath(QuoteKey(s) + "[3]." + QuoteKey(s))
		require.NoError(rt, err)
		require.Equal(rt, []segment{{key: s}, {index: 3, isIndex: true}, {key: s}}, segs)
	})
}
