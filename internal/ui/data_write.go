package ui

import (
	"errors"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/sheet"
	"fitup/internal/ui/theme"
)

// write makes the edit. Where the file refuses the value by itself it stays as it is
// typed; where it only lacks what goes with it, it is kept beside the file until it can
// stand.
func (d *dataPage) write(m *Model, s sheet.Section, r sheet.Row, text string) bool {
	f := m.sess.Now()
	label := name(s, r) + " " + m.theme.Right + " " + project.Printable(text)
	if text == "" {
		label = "taken out: " + name(s, r)
	}
	mine := edit.Value{Path: r.Path, Text: text}
	edits, err := edit.Typed(f, mine)
	if err != nil {
		d.refuse(m, firstLine(err))
		return false
	}
	if len(edits) == 0 {
		d.Typing = nil
		return true
	}
	for _, values := range d.together(s, mine) {
		if !stand(f, values) {
			continue
		}
		values = d.withOthers(f, values)
		edits, err := edit.Typed(f, values...)
		if err != nil {
			continue
		}
		if len(edits) == 1 { // a table that is begun stands where it belongs
			edits[0] = edit.InOrder(f, edits[0])
		}
		if !m.do(label, edits...) {
			return false
		}
		for _, v := range values {
			d.undraft(v.Path)
		}
		d.Typing = nil
		return true
	}
	_, err = edit.Apply(f, edits...)
	if strings.HasPrefix(r.Path, "limits.") || strings.HasPrefix(r.Path, "units.") { // nothing else could mend it
		d.refuse(m, reason(err))
		return false
	}
	d.keep(m, mine, err)
	return true
}

// together are the values that are tried in one step, the most first: what was typed with
// all that is kept, with what is kept for its table, and alone.
func (d *dataPage) together(s sheet.Section, mine edit.Value) [][]edit.Value {
	var all, near []edit.Value
	for _, v := range d.drafts {
		if v.Path == mine.Path {
			continue
		}
		all = append(all, v)
		if strings.HasPrefix(v.Path, s.Path+".") {
			near = append(near, v)
		}
	}
	out := [][]edit.Value{append(all, mine)}
	if len(near) < len(all) {
		out = append(out, append(near, mine))
	}
	if len(near) > 0 {
		out = append(out, []edit.Value{mine})
	}
	return out
}

// stand reports whether the file would take values in one step.
func stand(f *project.File, values []edit.Value) bool {
	edits, err := edit.Typed(f, values...)
	if err == nil {
		_, err = edit.Apply(f, edits...)
	}
	return err == nil
}

// withOthers are values that can stand, with what is kept for each other table that can
// stand beside them: one table that cannot holds none of the others.
func (d *dataPage) withOthers(f *project.File, values []edit.Value) []edit.Value {
	taken := map[string]bool{}
	for _, v := range values {
		taken[v.Path] = true
	}
	var tables []string
	of := map[string][]edit.Value{}
	for _, v := range d.drafts {
		if taken[v.Path] {
			continue
		}
		table := v.Path[:max(strings.LastIndexByte(v.Path, '.'), 0)]
		if of[table] == nil {
			tables = append(tables, table)
		}
		of[table] = append(of[table], v)
	}
	for _, t := range tables {
		if more := append(slices.Clone(of[t]), values...); stand(f, more) {
			values = more
		}
	}
	return values
}

// reason is why a file with an edit would not stand, without the place in it.
func reason(err error) string {
	var ps project.Problems
	if errors.As(err, &ps) && len(ps) > 0 {
		return project.Printable(ps[0].Msg)
	}
	return firstLine(err)
}

func (d *dataPage) refuse(m *Model, why string) {
	if d.Typing != nil {
		d.Typing.Refused = why
		return
	}
	m.say(theme.Danger, "Not changed: %s", why)
}

// keep keeps a value beside the file that cannot stand in it alone.
func (d *dataPage) keep(m *Model, v edit.Value, err error) {
	d.undraft(v.Path)
	if v.Text != "" {
		d.drafts = append(d.drafts, v)
	}
	d.Typing = nil
	why := reason(err)
	if v.Text == "" {
		m.say(theme.Danger, "Not taken out: %s", why)
		return
	}
	m.say(theme.Doubt, "Kept, and not in the file yet: %s", why)
}
