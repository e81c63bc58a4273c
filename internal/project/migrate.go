package project

import (
	"fmt"
	"strings"

	"fitup/internal/project/tomltext"
)

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
// here, a FormatNow one higher, and a file of the format before in testdata/old.
func migrations() []migration {
	return []migration{
		// It always was the tyre's outer diameter, never the rim's.
		{from: 1, renames: []rename{{"vehicle.wheel_diameter", "tyre_diameter"}}},
		// What a gauge is good for, apart from what its readings scatter by.
		{from: 2, renames: []rename{{"gauge.plus_minus", "accuracy"}}},
	}
}

// migrate brings a text to today's format. from is the format it was in, 0 when
// there was nothing to do.
func migrate(name string, doc *tomltext.Doc) (next *tomltext.Doc, from int64, err error) {
	was, _ := doc.Root().Child("format").Value.(int64)
	if was == FormatNow {
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
				return nil, 0, Problems{{File: name, Line: n.KeyPos.Line, Col: n.KeyPos.Col, Path: r.path,
					Msg: fmt.Sprintf("since format %d this is called %q, and that name is taken here; keep one of the two", m.from+1, r.now)}}
			}
		}
	}
	if next, err = next.Set("format", fmt.Sprint(FormatNow)); err != nil {
		n := doc.Root().Child("format")
		return nil, 0, Problems{{File: name, Line: n.Pos.Line, Col: n.Pos.Col, Path: "format",
			Msg: fmt.Sprintf("cannot bring this file to format %d: %s", FormatNow, Printable(err.Error()))}}
	}
	return next, was, nil
}

// asWritten gives problems of a migrated text the names and columns of the text
// as its owner knows it. A migration keeps every line on its line.
func asWritten(ps Problems, was, now *tomltext.Doc) {
	old, migrated := strings.Split(string(was.Bytes()), "\n"), strings.Split(string(now.Bytes()), "\n")
	for i := range ps {
		p := &ps[i]
		for _, m := range migrations() {
			for _, r := range m.renames {
				today := r.path[:strings.LastIndexByte(r.path, '.')+1] + r.now
				if rest, ok := strings.CutPrefix(p.Path, today); ok && (rest == "" || rest[0] == '.' || rest[0] == '[') {
					p.Path = r.path + rest
				}
			}
		}
		if p.Line >= 1 && p.Line <= min(len(old), len(migrated)) {
			p.Col = columnIn(old[p.Line-1], migrated[p.Line-1], p.Col)
		}
	}
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

// today is an edit noted by an earlier format's program, as it is to be made
// now.
func (e Edit) today() Edit {
	e.Path, _ = RenamedPath(e.Path)
	return e
}

// noSuchValue says that the schema has nothing at path.
func noSuchValue(path string) error {
	if now, since := RenamedPath(path); since > 0 {
		return fmt.Errorf("%s is called %s since format %d", Printable(path), now, since)
	}
	if near, ok := Nearest(path, SchemaPaths()); ok {
		return fmt.Errorf("there is no value called %q in a build file; did you mean %s?", Printable(path), near)
	}
	return fmt.Errorf("there is no value called %q in a build file", Printable(path))
}
