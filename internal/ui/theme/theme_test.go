package theme

import (
	"reflect"
	"strings"
	"testing"

	"fitup/internal/golden"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func make2(t require.TestingT, name string, g Glyphs) *Theme {
	th, err := New(name, g)
	require.NoError(t, err)
	return th
}

func TestStatusesDifferWithoutColour(t *testing.T) {
	for _, g := range []Glyphs{Unicode(), ASCII()} {
		signs, words := map[string]bool{}, map[string]bool{}
		for _, s := range []Status{Unknown, OK, Tight, Over} {
			require.Equal(t, 1, ansi.StringWidth(g.Sign(s)), g.Sign(s))
			signs[g.Sign(s)], words[s.Word()] = true, true
		}
		require.Len(t, signs, 4)
		require.Len(t, words, 4)
	}
	var zero Status
	require.Equal(t, "not known", zero.Word())
	require.NotEqual(t, OK.Role(), zero.Role())
}

func TestGlyphWidths(t *testing.T) {
	for _, g := range []Glyphs{Unicode(), ASCII()} {
		v := reflect.ValueOf(g)
		wide := map[string]bool{"Name": true, "Degree": true, "PlusMinus": true, "TickOn": true, "TickOff": true}
		check := func(name, s string) {
			require.NotEmpty(t, s, name)
			if !wide[name] {
				require.Equal(t, 1, ansi.StringWidth(s), "%s %s", g.Name, name)
			}
			if g.Name == "ascii" {
				require.True(t, plainASCII(s), name)
			}
		}
		for i := range v.NumField() {
			f, name := v.Field(i), v.Type().Field(i).Name
			if f.Kind() == reflect.String {
				check(name, f.String())
				continue
			}
			for j := range f.NumField() {
				check(name, f.Field(j).String())
			}
		}
		require.Equal(t, ansi.StringWidth(g.Tick(true)), ansi.StringWidth(g.Tick(false)))
		require.NotEqual(t, g.Tick(true), g.Tick(false))
		require.NotEqual(t, g.Heavy, g.Light)
	}
}

func TestThemes(t *testing.T) {
	for _, name := range Names() {
		th := make2(t, name, Unicode())
		for r := range numRoles {
			on, off := th.SGR(r)
			require.Equal(t, on == "", off == "")
			require.Zero(t, ansi.StringWidth(on+off))
			require.NotContains(t, on, "38;", "only the terminal's own colours")
			require.Equal(t, "x", ansi.Strip(th.Paint(r, "x")))
		}
		on, off := th.SGR(numRoles)
		require.Empty(t, on+off)
	}
	plain := make2(t, "plain", ASCII())
	for r := range numRoles {
		require.Equal(t, "x", plain.Paint(r, "x"))
	}
	require.Equal(t, "X over", plain.Status(Over))
	require.Equal(t, "\x1b[1;91mX over\x1b[0m", make2(t, "dark", ASCII()).Status(Over))
	require.Equal(t, "\x1b[1;31mX\x1b[0m", make2(t, "light", ASCII()).StatusSign(Over))

	_, err := New("pink", ASCII())
	require.ErrorContains(t, err, `"pink"`)
	require.ErrorContains(t, err, "dark, light, both, plain")
	_, err = GlyphsNamed("runes")
	require.ErrorContains(t, err, `"runes"`)
	for _, n := range []string{"unicode", "ascii"} {
		g, err := GlyphsNamed(n)
		require.NoError(t, err)
		require.Equal(t, n, g.Name)
	}
}

func TestCutAndPad(t *testing.T) {
	u, a := Unicode(), ASCII()
	require.Equal(t, "gear…", u.Cut("gearbox", 5))
	require.Equal(t, "gear~", a.Cut("gearbox", 5))
	require.Equal(t, "gearbox", u.Cut("gearbox", 7))
	require.Equal(t, "", u.Cut("gearbox", 0))
	require.Equal(t, "", u.Cut("gearbox", -4))
	require.Equal(t, "\x1b[31mgea…\x1b[0m", u.Cut("\x1b[31mgearbox\x1b[0m", 4), "colour still ends")
	require.Equal(t, "ab  ", u.Pad("ab", 4))
	require.Equal(t, "  ab", u.PadLeft("ab", 4))
	require.Equal(t, "歯… ", u.Pad("歯車箱", 4), "a double-width sign is not halved")
	require.Equal(t, "a b c", u.Pad("a\tb\nc", 5), "no tab or line end reaches a cell")
}

func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"plain":                 "plain",
		"Rahmen größer 3°":      "Rahmen größer 3°",
		"\x1b[2Jgone":           "gone",
		"\x1b]0;title\x07text":  "text",
		"a\tb\r\nc":             "a b  c",
		"bell\x07":              "bell",
		"\u0301a\u0301 \u0301b": "a\u0301 b",
		"\u202ereversed":        "reversed",
		"zero\u200bwidth\ufeff": "zerowidth",
		"bad\xffbyte":           "badbyte",
		"\u009b31mc1":           "31mc1",
	} {
		require.Equal(t, want, Clean(in), "%q", in)
	}
}

func TestCleanNeverLeavesControls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Clean(rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) })).Draw(t, "s"))
		require.False(t, strings.ContainsFunc(s, func(r rune) bool { return r < 0x20 || r >= 0x7f && r < 0xa0 }), "%q", s)
		require.Equal(t, s, Clean(s))
	})
}

func TestWrap(t *testing.T) {
	require.Equal(t, []string{"read 4 deg,", "wanted at", "most -3.5"}, Wrap("read 4 deg, wanted at most -3.5", 12))
	require.Equal(t, []string{"abcd", "efgh", "i j"}, Wrap("abcdefghi j", 4))
	require.Equal(t, []string{""}, Wrap("  ", 4))
	require.Nil(t, Wrap("x", 0))
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.SampledFrom([]rune("ab- ß歯\n"))).Draw(t, "s")
		w := rapid.IntRange(2, 20).Draw(t, "w")
		lines := Wrap(s, w)
		for _, l := range lines {
			require.LessOrEqual(t, ansi.StringWidth(l), w)
		}
		squash := func(s string) string { return strings.Join(strings.Fields(s), "") }
		require.Equal(t, squash(s), squash(strings.Join(lines, "")), "nothing is lost")
	})
}

// Whatever the size and the content, a panel is exactly that size.
func TestPanelIsExactlyItsSize(t *testing.T) {
	text := rapid.OneOf(rapid.String(), rapid.StringOf(rapid.SampledFrom([]rune("ab ß歯\t\n…"))),
		rapid.Just("\x1b[31mred and long enough to be cut\x1b[0m"), rapid.Just(""))
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.SampledFrom([]Glyphs{Unicode(), ASCII()}).Draw(t, "glyphs")
		th := make2(t, rapid.SampledFrom(Names()).Draw(t, "theme"), g)
		w, h := rapid.IntRange(-1, 50).Draw(t, "w"), rapid.IntRange(-1, 8).Draw(t, "h")
		clean := rapid.Map(text, func(s string) string {
			if strings.HasPrefix(s, "\x1b[31m") {
				return s
			}
			return Clean(s)
		})
		got := th.Panel(w, h, clean.Draw(t, "title"), clean.Draw(t, "note"), rapid.Bool().Draw(t, "focused"), rapid.SliceOfN(clean, 0, 9).Draw(t, "lines"))
		require.Len(t, got, max(h, 0))
		for _, l := range got {
			require.Equal(t, max(w, 0), ansi.StringWidth(l), "%q", l)
			require.NotContains(t, l, "\n")
		}
	})
}

func TestFocusShowsWithoutColour(t *testing.T) {
	for _, g := range []Glyphs{Unicode(), ASCII()} {
		th := make2(t, "plain", g)
		for w := 3; w < 20; w++ {
			require.Contains(t, th.Panel(w, 3, "Mounts", "", true, nil)[0], g.Focus)
			require.Contains(t, th.Bar(w, "Mounts", "", true), g.Focus)
		}
		require.NotContains(t, th.Panel(20, 3, "Mounts", "", false, nil)[0], g.Focus)
	}
}

func TestPanelPictures(t *testing.T) {
	var b strings.Builder
	for _, g := range []Glyphs{Unicode(), ASCII()} {
		for _, name := range []string{"plain", "dark"} {
			th := make2(t, name, g)
			b.WriteString("-- " + name + " " + g.Name + "\n")
			for _, focused := range []bool{false, true} {
				lines := th.Panel(40, 6, "Mounts", "1 over", focused, []string{
					"left mount   412 mm  " + th.Status(OK), "right mount  409 mm  " + th.Status(Tight),
					"gearbox      980 mm  " + th.Status(Over), "a line that is much too long for the panel it is in"})
				lines = append(lines, th.Bar(40, "Jobs", "3 of 12", focused), th.Bar(12, "Driveline", "3 of 12", focused))
				b.WriteString(strings.Join(lines, "\n") + "\n")
			}
		}
	}
	golden.Same(t, "panels.txt", b.String())
}

func BenchmarkPanel(b *testing.B) {
	th := make2(b, "dark", Unicode())
	lines := make([]string, 30)
	for i := range lines {
		lines[i] = "left mount   412 mm  " + th.Status(Over)
	}
	for b.Loop() {
		th.Panel(60, 32, "Mounts", "1 over", true, lines)
	}
}

func TestPlain(t *testing.T) {
	const s = "4.4° ± 0.1° at −3 N·m, 2 × 16″ größer"
	require.Equal(t, s, Unicode().Plain(s))
	require.Equal(t, `4.4 deg +/- 0.1 deg at -3 N.m, 2 x 16" größer`, ASCII().Plain(s))
	require.Equal(t, "16 1/4 in", ASCII().Plain("16¼ in"))
}
