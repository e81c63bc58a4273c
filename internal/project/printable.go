package project

import (
	"strings"
	"unicode"
)

// blanks are letters and signs by their class that draw nothing, and so can
// hide in a name (Unicode Character Database, DerivedCoreProperties:
// Default_Ignorable_Code_Point, and the empty braille pattern).
var blanks = &unicode.RangeTable{
	R16: []unicode.Range16{
		{Lo: 0x034f, Hi: 0x034f, Stride: 1}, {Lo: 0x115f, Hi: 0x1160, Stride: 1}, {Lo: 0x17b4, Hi: 0x17b5, Stride: 1},
		{Lo: 0x180b, Hi: 0x180f, Stride: 1}, {Lo: 0x2800, Hi: 0x2800, Stride: 1}, {Lo: 0x3164, Hi: 0x3164, Stride: 1},
		{Lo: 0xfe00, Hi: 0xfe0f, Stride: 1}, {Lo: 0xffa0, Hi: 0xffa0, Stride: 1}, {Lo: 0xfff0, Hi: 0xfff8, Stride: 1},
	},
	R32: []unicode.Range32{{Lo: 0xe0000, Hi: 0xe0fff, Stride: 1}},
}

// maxMarks is how many marks may stand on one letter: no language needs more,
// and a heap of them runs over the lines above.
const maxMarks = 2

// Printable returns s fit for a terminal or a document: control characters,
// escape sequences' openers, characters that change direction, hide or stack up,
// and broken UTF-8 are replaced by a middle dot; tabs, line breaks and spaces of
// odd widths become spaces.
func Printable(s string) string {
	marks := 0
	return strings.Map(func(r rune) rune {
		if r < 0x7f && r >= ' ' {
			marks = 0
			return r
		}
		switch {
		case r == '\t' || r == '\n' || r == '\r' || unicode.Is(unicode.Zs, r):
			marks = 0
			return ' '
		case r == unicode.ReplacementChar,
			unicode.IsControl(r),
			unicode.Is(unicode.Cf, r), // formats: direction overrides, zero-width joiners
			unicode.Is(unicode.Co, r),
			unicode.Is(unicode.Zl, r), unicode.Is(unicode.Zp, r),
			unicode.Is(blanks, r),
			unicode.Is(unicode.Mn, r) && r >= 0x20d0, // stacking marks
			unicode.Is(unicode.Me, r):
			marks = 0
			return '·'
		case unicode.Is(unicode.Mn, r):
			if marks++; marks > maxMarks {
				return '·'
			}
			return r
		}
		marks = 0
		return r
	}, s)
}
