package ui

import (
	"slices"
	"strconv"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/sheet"
	"fitup/internal/ui/action"
	"fitup/internal/ui/field"
	"fitup/internal/ui/theme"
)

// entry does what concerns a whole entry of a list, or a table with a name of its own.
func (d *dataPage) entry(m *Model, id action.ID) {
	if id == actDataAdd {
		d.add(m)
		return
	}
	s, ok := d.entryHere()
	if !ok {
		m.say(theme.Dim, "Stand in an entry of a list, or in a table with a name, such as a mount.")
		return
	}
	f := m.sess.Now()
	switch id {
	case actDataCopy:
		d.copyEntry(m, s)
	case actDataRemove:
		d.removeEntry(m, s)
	case actDataRename:
		if !s.Named {
			m.say(theme.Dim, "Its name is a row like the others; Enter types it.")
			return
		}
		d.askName(m, formRename, "Another name for it", s, func(name string) ([]edit.Edit, error) { return edit.Rename(f, s.Path, name) })
	case actDataUp, actDataDown:
		if s.Named {
			m.say(theme.Dim, "Tables with names have no order.")
			return
		}
		by := 1
		if id == actDataUp {
			by = -1
		}
		e, err := edit.MoveEntry(f, s.List, s.Index, by)
		if err != nil {
			m.say(theme.Doubt, "Not moved: %s", firstLine(err))
			return
		}
		at := strings.TrimPrefix(d.place(), s.Path)
		if m.do("moved: "+project.Printable(s.Title), e) {
			d.refresh(m)
			d.Go(entryPath(s.List, s.Index+by) + at)
		}
	}
}

// place is the path of the row or the section under the cursor.
func (d *dataPage) place() string {
	s, r, ok := d.Here()
	if ok {
		return r.Path
	}
	return s.ID
}

// entryHere is the entry that the cursor stands in: the innermost one.
func (d *dataPage) entryHere() (sheet.Section, bool) {
	here, _, _ := d.Here()
	secs := d.Sheet.Sections
	i := slices.IndexFunc(secs, func(s sheet.Section) bool { return s.ID == here.ID })
	if i < 0 || here.ID == "" && here.Path == "" && d.OnChapter() {
		return sheet.Section{}, false
	}
	depth := secs[i].Depth + 1
	for ; i >= 0; i-- {
		if s := secs[i]; s.Depth < depth {
			if s.Entry() {
				return s, true
			}
			if depth = s.Depth; depth == 0 {
				break
			}
		}
	}
	return sheet.Section{}, false
}

// add goes to the entry that can be begun: of the list the cursor is in, or the next one
// of its chapter.
func (d *dataPage) add(m *Model) {
	here, _, _ := d.Here()
	list := here.List
	if s, ok := d.entryHere(); ok && list == "" {
		list = s.List
	}
	found, begin := "", d.OnChapter()
	for _, s := range d.Sheet.Sections {
		if s.Chapter != here.Chapter || s.List == "" {
			begin = begin || s.ID == here.ID
			continue
		}
		free := !s.Begun && len(s.Rows) > 0 && s.Index >= s.Count
		if free && (s.List == list || list == "" && (begin || found == "")) {
			if found = s.Rows[0].Path; s.List == list || begin {
				break
			}
		}
	}
	if found == "" || !d.Go(found) {
		m.say(theme.Dim, "There is no list here to add to.")
		return
	}
	d.begin(m, "")
}

func (d *dataPage) copyEntry(m *Model, s sheet.Section) {
	f := m.sess.Now()
	if s.Named {
		d.askName(m, formCopy, "The name of the copy", s, func(name string) ([]edit.Edit, error) { return edit.CopyNamed(f, s.Path, name) })
		return
	}
	edits, err := edit.CopyEntry(f, s.List, s.Index)
	if err != nil {
		m.say(theme.Danger, "Not copied: %s", firstLine(err))
		return
	}
	if m.do("copied: "+project.Printable(s.Title), edits...) {
		d.refresh(m)
		d.Go(entryPath(s.List, s.Index+1))
	}
}

func entryPath(list string, i int) string { return list + "[" + strconv.Itoa(i) + "]" }

// askName asks for a name and makes the edits that it gives.
func (d *dataPage) askName(m *Model, form formID, title string, s sheet.Section, edits func(name string) ([]edit.Edit, error)) {
	a := &ask{
		title: project.Printable(s.Title),
		field: field.New(title, "", func(text string) (string, error) {
			if text = strings.TrimSpace(text); text == "" {
				return "", nil
			}
			_, err := edits(text)
			return "", err
		}).WithTheme(m.theme),
		accept: func(m *Model, text string) bool {
			if text = strings.TrimSpace(text); text == "" {
				return true
			}
			list, err := edits(text)
			if err != nil {
				m.say(theme.Danger, "%s", firstLine(err))
				return false
			}
			if !m.do(project.Printable(s.Title)+" "+m.theme.Right+" "+text, list...) {
				return false
			}
			d.refresh(m)
			d.Go(s.List + "." + text)
			return true
		},
	}
	m.open(a.as(form, s.Path))
}

// removeEntry takes an entry out, once it was asked about. One that others wait for has
// its own question.
func (d *dataPage) removeEntry(m *Model, s sheet.Section) {
	if s.List == "job" && !s.Named {
		m.askDrop(s.Index)
		return
	}
	m.open(newSure("Take it out?", project.Printable(s.Title)+" and all that stands in it goes out of the file; u brings it back.", func(m *Model) {
		if m.do("taken out: "+project.Printable(s.Title), edit.Edit{Op: edit.OpRemove, Path: s.Path}) {
			d.drafts = slices.DeleteFunc(d.drafts, func(v edit.Value) bool { return strings.HasPrefix(v.Path, s.Path+".") })
			d.refresh(m)
		}
	}))
}

// offer says what the other side has for the row under the cursor, where it has none.
func (d *dataPage) offer(m *Model) string {
	_, r, ok := d.Here()
	if !ok || r.Given {
		return ""
	}
	row, text, ok := d.Sheet.Mirror(r.Path)
	if !ok {
		return ""
	}
	a, _ := m.actions.Get(actDataMirror)
	return "The other side has " + row.Text + ", at " + row.Path + "; " + a.KeyText() + " takes it over as " + text + "."
}

// takeOffer gives the row under the cursor what the other side has, mirrored.
func (d *dataPage) takeOffer(m *Model) {
	s, r, ok := d.Here()
	if !ok {
		return
	}
	_, text, ok := d.Sheet.Mirror(r.Path)
	if !ok {
		m.say(theme.Dim, "The other side has nothing for this row, or it has none.")
		return
	}
	if d.put(m, s, r, text) {
		d.refresh(m)
		d.Next(1)
	}
}
