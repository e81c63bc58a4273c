package ui

import "bytes"

// cutEscape reports whether b ends within an escape sequence (ECMA-48): a lone
// escape, or an introducer whose final byte has not come yet.
func cutEscape(b []byte) bool {
	i := bytes.LastIndexByte(b, 0x1b)
	if i < 0 {
		return false
	}
	rest := b[i+1:]
	switch {
	case len(rest) == 0:
		return true
	case isCommand(b[i:]): // up to BEL, or to the escape of its end
		return bytes.IndexByte(rest, 7) < 0
	case rest[0] == ']': // alt+], or the beginning of an answer
		return len(rest) == 1
	case rest[0] == 'O': // SS3: one more byte
		return len(rest) == 1
	case rest[0] != '[':
		return false
	}
	for _, c := range rest[1:] {
		if c >= 0x40 && c <= 0x7e {
			return false
		}
	}
	return true
}
