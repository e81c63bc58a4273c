package ui

import (
	"slices"
	"strings"

	"fitup/internal/project/sheet"
)

// entryMark is what tells an entry of a list from the others, whatever its number; fresh
// is the one that is not begun.
type entryMark struct {
	path, list, mark string
	fresh            bool
}

// marksOf are the marks of the entries that a row is in, the outermost first.
func (d *dataPage) marksOf(path string) []entryMark {
	var out []entryMark
	for _, s := range d.Sheet.Sections {
		if s.List != "" && !s.Named && s.ID == s.Path && strings.HasPrefix(path, s.Path+".") {
			out = append(out, entryMark{s.Path, s.List, markOf(s, path), !s.Begun})
		}
	}
	return out
}

// markOf is the name of an entry, or all that stands in it but for the row at path.
func markOf(s sheet.Section, path string) string {
	if s.Name != "" {
		return s.Name
	}
	var all []string
	for _, r := range s.Rows {
		if !strings.HasSuffix(path, strings.TrimPrefix(r.Path, s.Path)) {
			all = append(all, r.Text)
		}
	}
	return strings.Join(all, "\x00")
}

// found is where a row is now, after somebody else has put entries before those that it
// is in, or has begun the one that was not.
func (d *dataPage) found(path string, marks []entryMark) string {
	marks = slices.Clone(marks)
	for i, m := range marks {
		at := d.entryWith(m, path)
		path = at + strings.TrimPrefix(path, m.path)
		for j := i + 1; j < len(marks); j++ {
			marks[j].path = at + strings.TrimPrefix(marks[j].path, m.path)
			marks[j].list = at + strings.TrimPrefix(marks[j].list, m.path)
		}
	}
	return path
}

// entryWith is the path of the entry with that mark: where it was, or else wherever it
// stands in its list now.
func (d *dataPage) entryWith(m entryMark, path string) string {
	found := m.path
	for _, s := range d.Sheet.Sections {
		if s.List != m.list || s.Begun == m.fresh || s.ID != s.Path || !m.fresh && markOf(s, path) != m.mark {
			continue
		}
		if s.Path == m.path {
			return m.path
		}
		found = s.Path
	}
	return found
}

// takeAlong takes what is typed and what is kept along, after somebody else has changed the
// file.
func (d *dataPage) takeAlong(m *Model) {
	if d == nil || d.Sheet == nil {
		return
	}
	paths := make([][]entryMark, len(d.drafts))
	for i, v := range d.drafts {
		paths[i] = d.marksOf(v.Path)
	}
	var typing []entryMark
	if d.Typing != nil {
		typing = d.marksOf(d.Typing.Path)
	}
	d.refresh(m)
	for i := range d.drafts {
		d.drafts[i].Path = d.found(d.drafts[i].Path, paths[i])
	}
	if t := d.Typing; t != nil {
		if at := d.found(t.Path, typing); at != t.Path {
			t.Path = at
			d.Go(at)
		}
	}
	d.refresh(m)
}
