package tomltext

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// agree holds what was read against a second, independent parser: what we take
// it takes, and it reads the same values.
func agree(t testing.TB, d *Doc) {
	var m map[string]any
	_, err := toml.Decode(d.text, &m)
	require.NoError(t, err, "taken here and refused by the second parser:\n%s", d.text)
	require.True(t, alike(plain(d.root), lists(m)), "read in two ways:\n%s\n%#v\n%#v", d.text, plain(d.root), m)
}

// alike compares values: numbers by bits, times by what they say and the name of
// their zone, whose offset is of the other parser's choosing where none is given.
func alike(a, b any) bool {
	switch a := a.(type) {
	case tree:
		b, ok := b.(tree)
		if !ok || len(a) != len(b) {
			return false
		}
		for k, v := range a {
			if w, ok := b[k]; !ok || !alike(v, w) {
				return false
			}
		}
		return true
	case []any:
		b, ok := b.([]any)
		if !ok || len(a) != len(b) {
			return false
		}
		for i := range a {
			if !alike(a[i], b[i]) {
				return false
			}
		}
		return true
	case float64:
		b, ok := b.(float64)
		return ok && math.Float64bits(a) == math.Float64bits(b)
	case time.Time:
		b, ok := b.(time.Time)
		const clock = "2006-01-02T15:04:05.999999999"
		local := strings.HasSuffix(a.Location().String(), "-local")
		return ok && a.Format(clock) == b.Format(clock) && a.Location().String() == b.Location().String() &&
			(local || a.Equal(b))
	}
	return a == b
}

// odd are spellings at the edge of what is a value.
var odd = []string{
	"0", "-0", "+7", "0x1F", "0xdead_BEEF", "0o17", "0b101", "1_000", "9223372036854775807", "-9223372036854775808", "9223372036854775808",
	"0.0", "-0.0", "1e3", "1E-3", "+1.5e+07", "6.62_6e-34", "1e400", "1e-400", "3_1.4_1", "0x", "0_1", "1__0", "01", "1.", ".5", "1e",
	"2024-05-31", "2024-02-29", "2023-02-29", "2024-13-01", "2024-00-10", "0000-01-01", "2024-5-31", "24-05-31", "2024-05-31T", "2024-05-31 10:00:00",
	"2024-05-31t10:00:00z", "2024-05-31T10:00:00Z", "2024-05-31T10:00Z", "2024-05-31T10:00", "2024-05-31T24:00:00", "2024-05-31T23:59:60", "2024-05-31T10:60:00",
	"2024-05-31T10:00:00.5", "2024-05-31T10:00:00.123456789123", "2024-05-31T10:00:00.", "2024-05-31T10:00:00+05:30", "2024-05-31T10:00:00-00:00",
	"2024-05-31T10:00:00+5:30", "2024-05-31T10:00:00+0530", "2024-05-31T10:00:00+24:00", "2024-05-31T10:00:00+01:00:00", "2024-05-31TT10:00:00", "2024-05-31  10:00:00",
	"10:00:00", "10:00", "10:00:00.25", "1:00:00", "10:0:00", "10:00:00Z", "10:00:00+01:00", "25:00:00", "07:32:00.999999", "2024-05-31-10:00:00",
	`""`, `"a\tb\"\\\u00e9\U0001F600\x41\e"`, `''`, `'a\b'`, `""""""`, `"""` + "\n\na\\\n   b\\\" \"\" c" + `"""`, `'''` + "\nx\r\ny''" + `'''`, `"""a\` + "\r\n\r\n   b\r\nc" + `"""`,
	"true", "false", "[]", "[1, 'a', [2.5]]", "{}", "{ a.b = 1, a.c = [{}] }", "[ { x = 1 }, 2 ]", "{ a = 1,\n b = 2, # c\n}", "[\n1, # c\n]",
}

func TestTheSecondParserAgrees(t *testing.T) {
	taken := 0
	for _, v := range odd {
		for _, text := range []string{"v = " + v, "v = " + v + "\r\n# c\r\nw = 1", "v = [ " + v + " ]", "v = { x = " + v + " }"} {
			if d, err := Parse("b.toml", []byte(text)); err == nil {
				agree(t, d)
				taken++
			}
		}
	}
	require.Greater(t, taken, len(odd), "values that were taken")
	rapid.Check(t, func(rt *rapid.T) {
		if d, err := Parse("f.toml", []byte(genText(rt))); err == nil {
			agree(model{t, rt}, d)
		}
	})
}

// What the second parser takes and we do not is refused for a reason of ours.
func TestRefusedHereOnly(t *testing.T) {
	for _, v := range odd {
		text := "v = " + v
		var m map[string]any
		_, theirs := toml.Decode(text, &m)
		_, ours := Parse("b.toml", []byte(text))
		if theirs == nil && ours != nil && !strings.Contains(ours.Error(), "zone") {
			t.Errorf("%s: %v", text, ours)
		}
	}
}

func FuzzSecondParser(f *testing.F) {
	for _, v := range odd {
		f.Add([]byte("v = " + v + "\n"))
	}
	f.Add([]byte("a = 1\n[b.c]\nd.e = { x = [1, 'y'] } # z\n[[r]]\n[r.s]\nt = 1\n[[r]]\n"))
	f.Add([]byte("a.b = 1\n[a.c]\nx = 1\n[[a.d.e]]\n[a.d]\nf = 2\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		if d, err := Parse("f.toml", src); err == nil {
			agree(t, d)
		}
	})
}
