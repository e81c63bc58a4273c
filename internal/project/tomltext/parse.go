package tomltext

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"
)

const byteOrderMark = "\xef\xbb\xbf"

// Parse reads src. The name is only for messages. The error is a
// *SyntaxError that says where and why the text was refused. Besides what
// TOML itself forbids, control characters, nan and inf, keys that differ
// only by case within one table, and texts beyond the package's limits are
// refused.
func Parse(name string, src []byte) (*Doc, error) { return parse(name, string(src)) }

func parse(name, src string) (*Doc, error) {
	d := &Doc{name: name}
	if len(src) > MaxBytes {
		return nil, &SyntaxError{Name: name, Pos: Position{1, 1, 0},
			Msg: fmt.Sprintf("the text is %d bytes long; at most %d are read", len(src), MaxBytes)}
	}
	d.text = src
	if strings.HasPrefix(d.text, byteOrderMark) {
		d.base = bomLength
		d.text = "   " + d.text[bomLength:]
	}
	if off, msg := badCharacter(d.text); msg != "" {
		return nil, d.fail(off, "%s", msg)
	}
	if err := d.build(); err != nil {
		return nil, err
	}
	return d, nil
}

// Reread reads another state of the same text, as Parse does, and gives the very
// document that Parse would.
func (d *Doc) Reread(src []byte) (*Doc, error) { return d.reread(string(src)) }

// badCharacter finds the first byte that may not stand in a text file.
func badCharacter(s string) (int, string) {
	for i := 0; i < len(s); i++ {
		c := s[i]
		switch {
		case c >= ' ' && c < 0x7f || c == '\t' || c == '\n':
		case c == '\r':
			if i+1 >= len(s) || s[i+1] != '\n' {
				return i, "a lone carriage return stands here; end the line the ordinary way"
			}
		case c == 0:
			return i, "a zero byte stands here: this is not a text file, or it is damaged; save it as UTF-8 text"
		case c < utf8.RuneSelf:
			return i, "a control character stands here; delete it"
		default:
			r, n := utf8.DecodeRuneInString(s[i:])
			if r == utf8.RuneError && n == 1 {
				return i, "this byte is not UTF-8 text; save the file as UTF-8"
			}
			if unicode.IsControl(r) {
				return i, "a control character stands here; delete it"
			}
			i += n - 1
		}
	}
	return 0, ""
}

// fail makes the error for the place off.
func (d *Doc) fail(off int, format string, args ...any) *SyntaxError {
	off = min(max(off, d.base), len(d.text))
	c := cursor{text: d.text, base: d.base}
	return &SyntaxError{Name: d.name, Pos: c.at(off), Msg: fmt.Sprintf(format, args...), Near: near(d.text, off)}
}

// spanFailure places an error of the span parser.
func (d *Doc) spanFailure(data []byte, err error) *SyntaxError {
	off := len(data)
	var pe *unstable.ParserError
	if errors.As(err, &pe) {
		// Both slices end at the same backing array, so the difference of
		// their capacities is the offset.
		off = min(max(cap(data)-cap(pe.Highlight), 0), len(data))
		if off == len(data)-1 && len(pe.Highlight) == 1 && strings.Contains(pe.Message, "end of input") {
			off = len(data)
		}
	}
	if strings.Contains(err.Error(), "incomplete") || strings.Contains(err.Error(), "terminated") {
		return d.unclosed(data, err)
	}
	if words := slip(d.text, off); words != "" {
		return d.fail(off, "%s", words)
	}
	return d.fail(off, "%s", reword(err.Error()))
}

// unclosed points at the last key before an open end, which helps more than
// the end of the text does.
func (d *Doc) unclosed(data []byte, err error) *SyntaxError {
	off := d.base
	if n := len(d.stmts); n > 0 {
		off = nextLine(d.text, d.stmts[n-1].end)
	}
	for off < len(data) {
		line := strings.TrimLeft(d.text[off:nextLine(d.text, off)], " \t\r\n")
		if line != "" && line[0] != '#' {
			off = nextLine(d.text, off) - len(line)
			break
		}
		off = nextLine(d.text, off)
	}
	return d.fail(off, "%s", reword(err.Error()))
}

// cursor turns byte offsets into positions. Offsets that mostly grow cost
// only the distance walked.
type cursor struct {
	text      string
	base      int
	off, line int
	col       int
}

func (c *cursor) at(off int) Position {
	if c.line == 0 {
		c.off, c.line, c.col = c.base, 1, 1
	}
	if off < c.off {
		start := max(strings.LastIndexByte(c.text[:off], '\n')+1, c.base)
		c.line -= strings.Count(c.text[off:c.off], "\n")
		c.off, c.col = start, 1
	}
	for ; c.off < off; c.off++ {
		switch b := c.text[c.off]; {
		case b == '\n':
			c.line++
			c.col = 1
		case utf8.RuneStart(b):
			c.col++
		}
	}
	return Position{Line: c.line, Col: c.col, Offset: off}
}

// nextLine is the offset of the line after the one off stands in.
func nextLine(text string, off int) int {
	if i := strings.IndexByte(text[off:], '\n'); i >= 0 {
		return off + i + 1
	}
	return len(text)
}
