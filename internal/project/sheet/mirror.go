package sheet

import (
	"regexp"
	"strings"
	"sync"
)

// Mirror returns the row of the other side of the vehicle that is the same value as the
// one at path, and what it would be on this side: the offset of a point the other way.
// False where there is no other side, it has no value, or its value was found on that
// one alone.
func (s *Sheet) Mirror(path string) (row Row, text string, ok bool) {
	sec, r, ok := s.Row(path)
	if !ok || r.Own || r.Ticked {
		return Row{}, "", false
	}
	other := swapped(path)
	if other == path {
		other = s.sibling(sec, path)
	}
	_, row, ok = s.Row(other)
	if !ok || other == path || !row.Given {
		return Row{}, "", false
	}
	text = sureness().ReplaceAllString(mirrored(row), "")
	return row, text, !strings.ContainsRune(text, '±')
}

// sureness is a ± behind a number: how well a value was measured on its own side, which
// says nothing of the other.
var sureness = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`\s*(±|\+/?-)\s*[0-9][0-9./]*(\s+[0-9]+/[0-9]+)?`) })

// sibling is the path of the same value in the entry of the same list whose name has the
// other side in it.
func (s *Sheet) sibling(sec Section, path string) string {
	if sec.List == "" || sec.Named {
		return path
	}
	mine := s.nameIn(sec.Path)
	if mine == "" || swapped(mine) == mine {
		return path
	}
	for _, o := range s.Sections {
		if o.List == sec.List && o.Begun && s.nameIn(o.Path) == swapped(mine) {
			return o.Path + strings.TrimPrefix(path, sec.Path)
		}
	}
	return path
}

func (s *Sheet) nameIn(entry string) string {
	_, r, _ := s.Row(entry + ".name")
	return r.Text
}

// swapped is a path or a text with the other side in it.
func swapped(s string) string {
	const held = "\x00"
	s = strings.ReplaceAll(s, "left", held)
	s = strings.ReplaceAll(s, "right", "left")
	return strings.ReplaceAll(s, held, "right")
}

// mirrored is a value as it is on the other side.
func mirrored(r Row) string {
	switch r.Shape {
	case Point:
		return mirroredPoint(r.Text)
	case Points:
		parts := strings.Split(r.Text, ";")
		for i := range parts {
			parts[i] = mirroredPoint(strings.TrimSpace(parts[i]))
		}
		return strings.Join(parts, "; ")
	case Quantity, Text, Words, Texts:
		return swapped(r.Text)
	}
	return r.Text
}

// mirroredPoint turns the sign of the second of three lengths round.
func mirroredPoint(text string) string {
	sep := ", "
	if strings.Contains(text, ";") {
		sep = "; "
	}
	parts := strings.Split(text, sep)
	if len(parts) != 3 {
		return text
	}
	y := strings.TrimSpace(parts[1])
	bare := strings.TrimLeft(strings.TrimPrefix(strings.TrimPrefix(strings.TrimPrefix(y, "-"), "−"), "+"), " ")
	switch {
	case strings.Trim(bare, "0.") == "":
		parts[1] = bare
	case bare == y || strings.HasPrefix(y, "+"):
		parts[1] = "-" + bare
	default:
		parts[1] = bare
	}
	return strings.Join(parts, sep)
}
