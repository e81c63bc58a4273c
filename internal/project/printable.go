package project

import (
	"strings"
	"unicode"
)

// Printable returns s fit for a terminal or a document: control characters,
// escape sequences' openers, characters that change direction or hide, and
// broken UTF-8 are replaced by a middle dot; tabs and line breaks become spaces.
func Printable(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case r == unicode.ReplacementChar,
			unicode.IsControl(r),
			unicode.Is(unicode.Cf, r), // formats: direction overrides, zero-width joiners
			unicode.Is(unicode.Co, r),
			unicode.Is(unicode.Zl, r), unicode.Is(unicode.Zp, r),
			unicode.Is(unicode.Mn, r) && r >= 0x20d0, // stacking marks
			unicode.Is(unicode.Me, r):
			return '·'
		}
		return r
	}, s)
}
