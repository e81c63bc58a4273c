package theme

import (
	"strings"
	"unicode"

	"github.com/charmbracelet/x/ansi"
)

// Width returns how many cells s takes on screen; escape codes take none.
func Width(s string) int {
	if plainASCII(s) {
		return len(s)
	}
	return ansi.StringWidth(s)
}

// plainASCII reports whether every byte of s is a printable ASCII sign, so
// that bytes and cells are the same thing.
func plainASCII(s string) bool {
	for i := range len(s) {
		if s[i] < 0x20 || s[i] > 0x7e {
			return false
		}
	}
	return true
}

// Clean makes text from a file or the clipboard safe to draw: escape sequences
// go, tabs and line ends become spaces, and other control and formatting signs
// (which could hide or reorder text) and broken bytes are dropped. So are
// accents with no letter before them and signs that attach to what follows:
// they would join what is drawn beside the text and spoil its width.
func Clean(s string) string {
	if plainASCII(s) {
		return s
	}
	before := ' '
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r), r == '\u2028', r == '\u2029':
			r = ' '
		case unicode.IsControl(r), r == unicode.ReplacementChar, unicode.In(r, unicode.Cf, unicode.Co, prefixing):
			return -1
		case before == ' ' && unicode.In(r, unicode.M, suffixing):
			return -1
		}
		before = r
		return r
	}, ansi.Strip(strings.ToValidUTF8(s, "")))
}

// prefixing and suffixing are the printable signs, accents aside, that join
// the sign after or before them (Unicode Standard Annex 29, table 2: Prepend
// and Extend).
var (
	prefixing = &unicode.RangeTable{
		R16: []unicode.Range16{{Lo: 0x0d4e, Hi: 0x0d4e, Stride: 1}},
		R32: []unicode.Range32{
			{Lo: 0x111c2, Hi: 0x111c3, Stride: 1},
			{Lo: 0x1193f, Hi: 0x11941, Stride: 2},
			{Lo: 0x11a3a, Hi: 0x11a3a, Stride: 1},
			{Lo: 0x11a84, Hi: 0x11a89, Stride: 1},
			{Lo: 0x11d46, Hi: 0x11d46, Stride: 1},
		},
	}
	suffixing = &unicode.RangeTable{
		R16: []unicode.Range16{{Lo: 0xff9e, Hi: 0xff9f, Stride: 1}},
		R32: []unicode.Range32{{Lo: 0x1f3fb, Hi: 0x1f3ff, Stride: 1}},
	}
)

// flat turns control signs other than the escape that begins a colour code
// into spaces: a tab or line end inside a line would break every width.
func flat(s string) string {
	if !strings.ContainsFunc(s, loose) {
		return s
	}
	return strings.Map(func(r rune) rune {
		if loose(r) {
			return ' '
		}
		return r
	}, s)
}

func loose(r rune) bool { return r != '\x1b' && unicode.IsControl(r) }

// Cut shortens s to at most w cells, marking the cut with the glyph for it.
// Escape codes are kept, so that colour begun before the cut still ends.
func (g Glyphs) Cut(s string, w int) string {
	if w <= 0 {
		return ""
	}
	s = flat(s)
	if Width(s) <= w {
		return s
	}
	return ansi.Truncate(s, w, g.Ellipsis)
}

// Pad returns s as exactly w cells: cut when too long, filled with spaces when
// too short.
func (g Glyphs) Pad(s string, w int) string {
	s = g.Cut(s, w)
	if n := w - Width(s); n > 0 {
		s += spaces(n)
	}
	return s
}

// PadLeft is Pad with the spaces in front, for figures in a column.
func (g Glyphs) PadLeft(s string, w int) string {
	s = g.Cut(s, w)
	if n := w - Width(s); n > 0 {
		s = spaces(n) + s
	}
	return s
}

// Wrap breaks plain text at spaces into lines of at most w cells; only a word
// longer than a line is broken, so "-3.5" stays whole. It returns at least one
// line, and none when w < 1.
func Wrap(s string, w int) []string {
	if w < 1 {
		return nil
	}
	lines := []string{""}
	used := 0
	for _, word := range strings.Fields(flat(s)) {
		n := Width(word)
		last := len(lines) - 1
		if used > 0 && used+1+n <= w {
			lines[last] += " " + word
			used += 1 + n
			continue
		}
		pieces := []string{word}
		if n > w {
			pieces = strings.Split(ansi.Hardwrap(word, w, false), "\n")
		}
		if used == 0 {
			lines[last] = pieces[0]
			pieces = pieces[1:]
		}
		lines = append(lines, pieces...)
		used = Width(lines[len(lines)-1])
	}
	return lines
}

const blanks = "                                                                                "

func spaces(n int) string {
	if n <= len(blanks) {
		return blanks[:max(n, 0)]
	}
	return strings.Repeat(" ", n)
}

// Plain respells text with the signs the glyph set has: with ASCII glyphs
// degree signs, dashes, quotes and the like become their nearest spelling, and
// letters are left alone. With Unicode glyphs the text stays as it is.
func (g Glyphs) Plain(s string) string {
	if g.Degree == "°" || plainASCII(s) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if to, ok := asciiFor(r, g); ok {
			b.WriteString(to)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// asciiFor is the spelling of a sign where the glyph set lacks it.
func asciiFor(r rune, g Glyphs) (string, bool) {
	switch r {
	case '°':
		return g.Degree, true
	case '±':
		return g.PlusMinus, true
	case '×':
		return g.Times, true
	case '·', '⋅':
		return ".", true
	case '−', '–', '—':
		return "-", true
	case '′', '‘', '’':
		return "'", true
	case '″', '“', '”':
		return `"`, true
	case '…':
		return "...", true
	case '²':
		return "2", true
	case '³':
		return "3", true
	case 'µ', 'μ':
		return "u", true
	case '≤':
		return "<=", true
	case '≥':
		return ">=", true
	case '→':
		return "->", true
	case '←':
		return "<-", true
	case '½':
		return " 1/2", true
	case '¼':
		return " 1/4", true
	case '¾':
		return " 3/4", true
	case '\u00a0', '\u2009', '\u202f':
		return " ", true
	}
	return "", false
}
