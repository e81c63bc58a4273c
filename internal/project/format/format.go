// Package format brings a text of an earlier file format to today's: which keys
// were given another name, and when. It knows texts and nothing of a build.
package format

import (
	"fmt"
	"strings"

	"fitup/internal/project/tomltext"
)

// Now is the file format this program writes and reads.
const Now = 3

// Fault says why a text cannot be brought to today's format, and where.
type Fault struct {
	Pos       tomltext.Position
	Path, Msg string
}

// Error says what is wrong, without the place.
func (f *Fault) Error() string { return f.Msg }

// migration says how a text of one format becomes one of the next. A text is
// changed by edits, never written anew, so comments and spelling stay; and only
// when it is saved next, so that an older fitup can still be used until then.
type migration struct {
	from    int64
	renames []rename
}

// rename is a key that got another name. An old name is never used again for
// something else.
type rename struct {
	path string // as it was
	now  string // its last part, as it is
}

// migrations lists every step from the first format on. A new format is a row
// here, a Now one higher, and a file of the format before in testdata/old.
func migrations() []migration {
	return []migration{
		// It always was the tyre's outer diameter, never the rim's.
		{from: 1, renames: []rename{{"vehicle.wheel_diameter", "tyre_diameter"}}},
		// What a gauge is good for, apart from what its readings scatter by.
		{from: 2, renames: []rename{{"gauge.plus_minus", "accuracy"}}},
	}
}

// Migrate brings a text that says its format to today's. from is the format it
// was in, 0 when there was nothing to do. The error is a *Fault.
func Migrate(doc *tomltext.Doc) (next *tomltext.Doc, from int64, err error) {
	was, _ := doc.Root().Child("format").Value.(int64)
	if was == Now {
		return doc, 0, nil
	}
	next = doc
	for _, m := range migrations() {
		if m.from < was {
			continue
		}
		for _, r := range m.renames {
			n := next.Find(r.path)
			if n == nil {
				continue
			}
			if next, err = next.Rename(r.path, r.now); err != nil {
				return nil, 0, &Fault{n.KeyPos, r.path,
					fmt.Sprintf("since format %d this is called %q, and that name is taken here; keep one of the two", m.from+1, r.now)}
			}
		}
	}
	if next, err = next.Set("format", fmt.Sprint(Now)); err != nil {
		return nil, 0, &Fault{doc.Root().Child("format").Pos, "format", fmt.Sprintf("cannot bring this file to format %d: %s", Now, err)}
	}
	return next, was, nil
}

// Written finds places of a migrated text in the text as its owner knows it.
type Written struct{ was, now []string }

// NewWritten compares a text as it was with the same text of today's format. A
// migration keeps every line on its line.
func NewWritten(was, now *tomltext.Doc) Written {
	return Written{strings.Split(string(was.Bytes()), "\n"), strings.Split(string(now.Bytes()), "\n")}
}

// Place is what the owner's text calls path, and the column there of what stands
// at line and col of today's text.
func (w Written) Place(path string, line, col int) (string, int) {
	for _, m := range migrations() {
		for _, r := range m.renames {
			today := r.path[:strings.LastIndexByte(r.path, '.')+1] + r.now
			if rest, ok := strings.CutPrefix(path, today); ok && (rest == "" || rest[0] == '.' || rest[0] == '[') {
				path = r.path + rest
			}
		}
	}
	if line >= 1 && line <= min(len(w.was), len(w.now)) {
		col = columnIn(w.was[line-1], w.now[line-1], col)
	}
	return path, col
}

// columnIn is where column col of the line now stood in the line was: the two
// differ in one place.
func columnIn(was, now string, col int) int {
	a, b := []rune(was), []rune(now)
	same := 0
	for same < min(len(a), len(b)) && a[same] == b[same] {
		same++
	}
	if col-1 <= same {
		return col
	}
	return max(1, col+len(a)-len(b))
}

// RenamedPath returns what a path of an earlier format is called today, and the
// format that gave it that name; 0 when it has the name it always had.
func RenamedPath(path string) (now string, since int64) {
	for _, m := range migrations() {
		for _, r := range m.renames {
			rest, ok := strings.CutPrefix(path, r.path)
			if !ok || rest != "" && rest[0] != '.' && rest[0] != '[' {
				continue
			}
			path, since = r.path[:strings.LastIndexByte(r.path, '.')+1]+r.now+rest, m.from+1
		}
	}
	return path, since
}
