package tomltext

import (
	"strings"
	"unicode/utf8"
)

// The helpers here look only between statements, where a line is blank or a
// comment; lines inside a long string or list are never judged by them.

// lineStart is the offset at which the line holding off begins.
func (d *Doc) lineStart(off int) int {
	return max(strings.LastIndexByte(d.text[:off], '\n')+1, d.base)
}

// lineEnd is the offset after the line end of statement i.
func (d *Doc) lineEnd(i int) int { return nextLine(d.text, d.stmts[i].end) }

func (d *Doc) blankAt(off int) bool {
	return strings.TrimLeft(d.text[off:nextLine(d.text, off)], " \t\r\n") == ""
}

func (d *Doc) commentAt(off int) bool {
	return strings.HasPrefix(strings.TrimLeft(d.text[off:nextLine(d.text, off)], " \t"), "#")
}

// blankBefore reports whether the line before off is blank or off is the
// beginning of the text.
func (d *Doc) blankBefore(off int) bool {
	return off <= d.base || d.blankAt(d.lineStart(off-1))
}

// attachStart is where the comment lines directly above statement i begin,
// or its own line when there are none.
func (d *Doc) attachStart(i int) int {
	floor := d.base
	if i > 0 {
		floor = d.lineEnd(i - 1)
	}
	at := d.lineStart(d.stmts[i].start)
	for at > floor {
		above := d.lineStart(at - 1)
		if !d.commentAt(above) {
			break
		}
		at = above
	}
	return at
}

// blockEnd is the offset after statement i and the comment lines that follow
// it without a blank line, unless those belong to the next statement.
func (d *Doc) blockEnd(i int) int {
	end := d.lineEnd(i)
	at := end
	for at < len(d.text) && d.commentAt(at) {
		at = nextLine(d.text, at)
	}
	if i+1 < len(d.stmts) && at >= d.lineStart(d.stmts[i+1].start) {
		return end
	}
	return at
}

// ending is the line end in use just before off, else the first in the
// text, else a line feed.
func (d *Doc) ending(off int) string {
	i := strings.LastIndexByte(d.text[:off], '\n')
	if i < 0 {
		i = strings.IndexByte(d.text, '\n')
	}
	if i > 0 && d.text[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// indent is the white space before statement i.
func (d *Doc) indent(i int) string {
	s := d.stmts[i].start
	return d.text[d.lineStart(s):s]
}

// insertLines makes the splice that puts whole lines at off, the beginning
// of a line or the end of the text. A text without a final line end stays
// without.
func (d *Doc) insertLines(off int, lines ...string) splice {
	eol := d.ending(off)
	body := strings.Join(lines, eol)
	switch {
	case off < len(d.text) || off == d.base || d.text[off-1] == '\n':
		body += eol
	default:
		body = eol + body
	}
	return splice{off, off, body}
}

// columns is the width of s in characters.
func columns(s string) int { return utf8.RuneCountInString(s) }

// beforeEquals is the white space between key and "=".
func (d *Doc) beforeEquals(s *statement) string {
	return d.text[d.parts[s.hi-1].end:s.eq]
}

func (d *Doc) equalsColumn(s *statement) int {
	return columns(d.text[d.lineStart(s.start):s.eq])
}

// aligned reports whether key line i has its "=" in a column kept on
// purpose: padded itself, or level with a padded neighbour.
func (d *Doc) aligned(i int) bool {
	s := &d.stmts[i]
	if len(d.beforeEquals(s)) > 1 {
		return true
	}
	for _, j := range [...]int{i - 1, i + 1} {
		if j < 0 || j >= len(d.stmts) {
			continue
		}
		o := &d.stmts[j]
		if o.form != formKey || o.section != s.section {
			continue
		}
		lo, hi := min(i, j), max(i, j)
		touching := d.lineEnd(lo) == d.lineStart(d.stmts[hi].start)
		if touching && len(d.beforeEquals(o)) > 1 && d.equalsColumn(o) == d.equalsColumn(s) {
			return true
		}
	}
	return false
}
