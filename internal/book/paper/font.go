package paper

import (
	"encoding/binary"
	"fmt"
	"strings"
	"sync"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"golang.org/x/text/unicode/bidi"
)

// Face is what is printed with. It is not changed once it
// is made.
type Face struct {
	glyphs  map[rune]uint16
	advance []uint16 // by glyph; the last holds for all behind it
	em      float64
	ttf     []byte
}

// Regular is the face, read once: DejaVu Sans Condensed, whose licence is in
// LICENSES beside the program. Bold is the same with a stroke round its letters,
// so that one font is enough.
var Regular = sync.OnceValue(func() *Face { return mustRead(dejavusanscondensed.TTF) })

// mustRead reads a face that is part of the program; a test reads it.
func mustRead(ttf []byte) *Face {
	f, err := readFace(ttf)
	if err != nil {
		panic(err)
	}
	return f
}

// readFace reads which signs a TrueType font has and how wide they are: the
// tables head, hhea, hmtx and cmap of ISO/IEC 14496-22. Only signs of the basic
// plane count, which are those that the printer of pages can set.
func readFace(ttf []byte) (*Face, error) {
	tables, err := tablesOf(ttf)
	if err != nil {
		return nil, err
	}
	head, hhea, hmtx, cmap := tables["head"], tables["hhea"], tables["hmtx"], tables["cmap"]
	if len(head) < 20 || len(hhea) < 36 || len(cmap) < 4 {
		return nil, fmt.Errorf("the font lacks one of the tables head, hhea and cmap")
	}
	f := &Face{em: float64(binary.BigEndian.Uint16(head[18:])), ttf: ttf, glyphs: map[rune]uint16{}}
	n := int(binary.BigEndian.Uint16(hhea[34:]))
	if n == 0 || len(hmtx) < 4*n || f.em == 0 {
		return nil, fmt.Errorf("the font says no widths")
	}
	for i := range n {
		f.advance = append(f.advance, binary.BigEndian.Uint16(hmtx[4*i:]))
	}
	for i := range int(binary.BigEndian.Uint16(cmap[2:])) {
		if len(cmap) < 4+8*(i+1) {
			break
		}
		at := int(binary.BigEndian.Uint32(cmap[4+8*i+4:]))
		if at+14 <= len(cmap) && binary.BigEndian.Uint16(cmap[at:]) == 4 {
			f.segments(cmap[at:])
			return f, nil
		}
	}
	return nil, fmt.Errorf("the font has no table of signs in format 4")
}

func tablesOf(ttf []byte) (map[string][]byte, error) {
	if len(ttf) < 12 {
		return nil, fmt.Errorf("no font: %d bytes", len(ttf))
	}
	out := map[string][]byte{}
	for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
		d := 12 + 16*i
		if d+16 > len(ttf) {
			return nil, fmt.Errorf("the font ends within its list of tables")
		}
		from, size := int(binary.BigEndian.Uint32(ttf[d+8:])), int(binary.BigEndian.Uint32(ttf[d+12:]))
		if from+size > len(ttf) {
			return nil, fmt.Errorf("the font ends within its table %q", ttf[d:d+4])
		}
		out[string(ttf[d:d+4])] = ttf[from : from+size]
	}
	return out, nil
}

// segments reads a table of signs in format 4: runs of signs, each with a step
// to its glyphs or a list of them.
func (f *Face) segments(t []byte) {
	u := func(at int) int {
		if at+2 > len(t) {
			return 0
		}
		return int(binary.BigEndian.Uint16(t[at:]))
	}
	n := u(6) / 2
	ends, starts, deltas, offsets := 14, 16+2*n, 16+4*n, 16+6*n
	for i := range n {
		first, last := u(starts+2*i), u(ends+2*i)
		for c := first; c <= last && c < 0xFFFF; c++ {
			g := c
			if o := u(offsets + 2*i); o != 0 {
				if g = u(offsets + 2*i + o + 2*(c-first)); g == 0 {
					continue
				}
			}
			if g = (g + u(deltas+2*i)) & 0xFFFF; g != 0 {
				f.glyphs[rune(c)] = uint16(g)
			}
		}
	}
}

// Has reports whether the face has a sign.
func (f *Face) Has(r rune) bool {
	_, ok := f.glyphs[r]
	return ok
}

// Width is how wide a text is in letters of a size, mm.
func (f *Face) Width(text string, size float64) float64 {
	sum := 0.0
	for _, r := range text {
		sum += f.signWidth(r)
	}
	return sum * size
}

func (f *Face) signWidth(r rune) float64 {
	g := min(int(f.glyphs[r]), len(f.advance)-1)
	return float64(f.advance[g]) / f.em
}

// NoSign stands for a sign that the face does not have.
const NoSign = '□'

// Settle puts NoSign for what the face cannot print, and reports whether it had
// to. It leaves the order of the signs alone.
func (f *Face) Settle(text string) (out string, lost bool) {
	out = strings.Map(func(r rune) rune {
		switch {
		case f.Has(r):
			return r
		case r == '\t' || r == '\n' || unicode.IsSpace(r):
			return ' '
		case unicode.Is(unicode.Mn, r): // sits on the sign before it
			lost = true
			return -1
		}
		lost = true
		return NoSign
	}, text)
	return out, lost
}

// visual brings one line into the order in which it is read on paper, from left
// to right (Unicode Standard Annex 9, by golang.org/x/text). Arabic letters are
// not joined.
func visual(line string) string {
	if !strings.ContainsFunc(line, func(r rune) bool { return r >= 0x590 }) {
		return line
	}
	var p bidi.Paragraph
	if _, err := p.SetString(line); err != nil {
		return line
	}
	o, err := p.Order()
	if err != nil {
		return line
	}
	var b strings.Builder
	for i := range o.NumRuns() {
		run := o.Run(i)
		s := run.String()
		if run.Direction() == bidi.RightToLeft {
			s = bidi.ReverseString(s)
		}
		b.WriteString(s)
	}
	return b.String()
}

// Fit is the text, cut with an ellipsis where it is wider than there is room.
func (f *Face) Fit(text string, size, room float64) string {
	if f.Width(text, size) <= room {
		return text
	}
	w := f.signWidth('…') * size
	for i, r := range text {
		w += f.signWidth(r) * size
		if w > room {
			return text[:i] + "…"
		}
	}
	return text
}

// Wrap breaks a text into lines no wider than there is room; a word that is
// wider by itself is broken where it must. There is always one line, and each
// has at least one sign.
func (f *Face) Wrap(text string, size, room float64) []string {
	var out []string
	line, wide := "", 0.0
	space := f.signWidth(' ') * size
	for _, word := range strings.Fields(text) {
		w := f.Width(word, size)
		if line != "" && wide+space+w <= room {
			line, wide = line+" "+word, wide+space+w
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for w > room {
			head := f.head(word, size, room)
			if head == word {
				break
			}
			out = append(out, head)
			word = word[len(head):]
			w = f.Width(word, size)
		}
		line, wide = word, w
	}
	return append(out, line)
}

// head is as much of a word as has room, at least one sign.
func (f *Face) head(word string, size, room float64) string {
	w := 0.0
	for i, r := range word {
		w += f.signWidth(r) * size
		if w > room && i > 0 {
			return word[:i]
		}
	}
	return word
}
