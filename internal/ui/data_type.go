package ui

import (
	"errors"
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/geom/section"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
	"fitup/internal/project/sheet"
	"fitup/internal/ui/field"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/pane/data"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// maxTyped is the longest text of a row, in signs: as much as a file takes.
const maxTyped = 4000

// begin types the row under the cursor, with that text to begin with.
func (d *dataPage) begin(m *Model, text string) {
	_, r, ok := d.Here()
	if !ok {
		return
	}
	if draft, ok := d.Drafts[r.Path]; ok && text == r.Text {
		text = draft
	}
	t := &data.Typing{Path: r.Path, Picked: -1}
	was := r.Text
	if raw, ok := d.linesOf(r); ok {
		if text == r.Text {
			text = raw
		}
		was = raw
	}
	if r.Shape == sheet.Words || r.Shape == sheet.Switch {
		text = "" // its words are picked from
	}
	t.Field = field.NewLong("", text, maxTyped, d.check(m, r)).WithTheme(m.theme)
	t.Was = was
	if r.Lines && strings.Contains(text, "\n") {
		l := field.NewLines(text, maxTyped, maxTyped)
		t.Lines = &l
	}
	d.Typing = t
	d.pick(m, r)
}

// linesOf is the text of a row that has several lines in the file, as it is.
func (d *dataPage) linesOf(r sheet.Row) (string, bool) {
	n := d.of.Doc().Find(r.Path)
	if !r.Lines || n == nil {
		return "", false
	}
	text, ok := n.Value.(string)
	text = strings.TrimSpace(strings.ReplaceAll(text, "\r\n", "\n"))
	return text, ok && strings.Contains(text, "\n")
}

// typeLines takes a key that types: in a row with several lines, and in one that gets
// its second by it.
func (d *dataPage) typeLines(r sheet.Row, k tea.KeyMsg) bool {
	t := d.Typing
	if t.Lines == nil {
		breaks := k.Type == tea.KeyCtrlJ || k.Paste && strings.ContainsAny(strings.TrimSpace(string(k.Runes)), "\r\n")
		if !r.Lines || !breaks {
			return false
		}
		l := field.NewLines(t.Field.Text(), t.Field.Cursor(), maxTyped)
		t.Lines = &l
	}
	l := t.Lines.Update(k)
	t.Lines = &l
	return true
}

// check judges what is typed for a row as the file would.
func (d *dataPage) check(m *Model, r sheet.Row) field.Check {
	f := m.sess.Now()
	v := m.view(layout.Slot(0))
	return func(text string) (string, error) {
		if text = strings.TrimSpace(text); text == "" {
			return "", nil
		}
		switch r.Shape {
		case sheet.Name:
			if !project.PlainName(text) {
				return "", errors.New("a name is made of letters, digits, - and _, 40 at most")
			}
			return "", nil
		case sheet.Words, sheet.Switch:
			if words := words(r); len(rank(words, text)) == 0 {
				return "", errors.New("want one of: " + strings.Join(words, ", "))
			}
			return "", nil
		}
		if _, err := edit.Typed(f, edit.Value{Path: r.Path, Text: text}); err != nil {
			return "", err
		}
		return understood(r, text, v), nil
	}
}

// words are all that a row may be, of one that is picked.
func words(r sheet.Row) []string {
	if r.Shape == sheet.Switch {
		return []string{"yes", "no"}
	}
	return r.Choices
}

// understood says how what is typed is taken.
func understood(r sheet.Row, text string, v pane.View) string {
	number := func(s string) string {
		x, err := quantity.ParseStated(r.Kind, s, v.Units())
		if err != nil {
			return ""
		}
		text := v.Number(r.Kind, assess.Exact(x.V), v.Digits(r.Kind)+1)
		if x.Half > 0 {
			text += ", at most " + v.Number(finding.Unsigned(r.Kind), assess.Exact(x.Half), v.Digits(r.Kind)+1) + " either way"
		}
		return text
	}
	switch r.Shape {
	case sheet.Quantity:
		return number(text)
	case sheet.Point:
		if strings.HasPrefix(text, "point.") {
			return "as it was measured"
		}
		parts := threeOf(text)
		words := [...]string{"back", "right", "up"}
		for i := range parts {
			if i < len(words) {
				parts[i] = words[i] + " " + number(parts[i])
			}
		}
		return strings.Join(parts, ", ")
	}
	return ""
}

// threeOf are the lengths of a point as it is typed.
func threeOf(text string) []string {
	parts := strings.FieldsFunc(text, func(c rune) bool { return c == ',' || c == ';' })
	if len(parts) == 1 {
		parts = strings.Fields(text)
	}
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

// typingKey takes a key for the row that is typed.
func (d *dataPage) typingKey(m *Model, k tea.KeyMsg) {
	t := d.Typing
	_, r, ok := d.Sheet.Row(t.Path)
	if !ok {
		m.say(theme.Doubt, "The row that was typed is not there any more; esc drops it.")
	}
	t.Refused = ""
	s := k.String()
	if t.Lines != nil && (s == "up" || s == "down") {
		s = "" // within the text
	}
	switch s {
	case "esc", "ctrl+c":
		if text := t.Text(); text != "" && text != t.Was {
			d.dropped = &edit.Value{Path: t.Path, Text: text}
			m.say(theme.Dim, "Dropped; u brings it back.")
		}
		d.Typing = nil
	case "enter":
		if d.take(m) {
			d.refresh(m)
			d.after(m, t.Path)
		}
	case "tab":
		if d.take(m) {
			d.refresh(m)
			on := d.after(m, t.Path)
			if on && d.onTop(m) {
				d.typeHere(m)
			}
		}
	case "shift+tab":
		if d.take(m) {
			d.refresh(m)
			if d.Next(-1) && d.onTop(m) {
				d.typeHere(m)
			}
		}
	case "up", "down":
		if n := len(t.Choices); n > 0 {
			by := 1
			if k.String() == "up" {
				by = -1
			}
			t.Picked = pane.Cursor(t.Picked+by, n)
		}
	default:
		if d.typeLines(r, k) {
			return
		}
		t.Field, _ = t.Field.Update(k)
		d.pick(m, r)
	}
}

// onTop reports whether the page has the keys: no question lies over it.
func (d *dataPage) onTop(m *Model) bool { return m.dialogs[len(m.dialogs)-1] == dialog(d) }

// after moves on: to the next value that the finding lacks for which the page was opened,
// or to the next row. It reports whether it stands on another row to type.
func (d *dataPage) after(m *Model, from string) bool {
	if _, here, ok := d.Here(); ok && here.Path != from {
		return true // in the table that was begun
	}
	if f, ok := m.now.Finding(d.cause); ok && len(f.Lacks()) > 0 {
		d.follow(m)
		return true
	}
	d.cause = ""
	return d.Next(1)
}

// typeHere types the row under the cursor, or the next that can be typed.
func (d *dataPage) typeHere(m *Model) {
	_, r, ok := d.Here()
	switch {
	case !ok:
	case r.Ticked:
		d.typeOn(m)
	default:
		d.begin(m, r.Text)
	}
}

// pick finds what can be picked for what is typed, the best first.
func (d *dataPage) pick(m *Model, r sheet.Row) {
	t := d.Typing
	all := r.Choices
	switch {
	case r.Shape == sheet.Switch:
		all = words(r)
	case all == nil && r.Offers != "":
		all = offered(m, r)
	}
	t.Choices, t.Picked = rank(all, t.Field.Text()), -1
	only := r.Shape == sheet.Words || r.Shape == sheet.Switch
	if only && t.Field.Text() != "" && len(t.Choices) > 0 {
		t.Picked = 0
	}
}

// typed is what Enter takes: what is picked, or what stands there. False where it is no
// word of those that are wanted.
func (d *dataPage) typed(r sheet.Row) (text string, ok bool) {
	t := d.Typing
	text = strings.TrimSpace(t.Text())
	only := r.Shape == sheet.Words || r.Shape == sheet.Switch
	switch {
	case t.Picked >= 0 && t.Picked < len(t.Choices):
		return t.Choices[t.Picked], true
	case only && text == "":
		return t.Was, true
	case only:
		t.Refused = "read \"" + text + "\"; want one of: " + strings.Join(words(r), ", ")
		return "", false
	}
	return text, true
}

// take takes what was typed. It reports whether the row is done with.
func (d *dataPage) take(m *Model) bool {
	t := d.Typing
	d.refresh(m)
	s, r, ok := d.Sheet.Row(t.Path)
	if !ok {
		t.Refused = "the file was changed meanwhile and has no such row any more; esc drops what was typed, u brings it back"
		return false
	}
	if t.Field.Err() != nil {
		return false
	}
	text, ok := d.typed(r)
	if !ok {
		return false
	}
	if _, drafted := d.Drafts[r.Path]; text == t.Was && !drafted {
		d.Typing = nil
		return true
	}
	return d.put(m, s, r, text)
}

// put gives a row a value, or takes it out where text is empty, and reports whether the
// row is done with. What looks like a slip is asked about first.
func (d *dataPage) put(m *Model, s sheet.Section, r sheet.Row, text string) bool {
	if r.Shape == sheet.Name {
		return d.beginNamed(m, s, text)
	}
	if ask, why := d.doubt(m, r, text); ask {
		m.open(newSure("Is that meant so?", capital(why)+".", func(m *Model) { // it stays typed beneath
			if d.write(m, s, r, text) {
				d.refresh(m)
				d.after(m, r.Path)
			}
		}))
		return false
	}
	return d.write(m, s, r, text)
}

// meantSections are the sections of the table that bare sizes typed for a mount can mean.
func meantSections(m *Model, r sheet.Row, text string) []string {
	if r.Offers != "sections" || !strings.HasPrefix(r.Path, "mount.") {
		return nil
	}
	kind := r.Path[:strings.LastIndexByte(r.Path, '.')] + ".kind"
	if _, ok := section.Named(text); ok || m.sess.Now().Has(kind) {
		return nil
	}
	return section.OfSizes(text)
}

// doubt reports whether what was typed is asked about first, and why.
func (d *dataPage) doubt(m *Model, r sheet.Row, text string) (bool, string) {
	f := m.sess.Now()
	if why, odd := edit.TypedDoubt(f, r.Path, text); odd {
		return true, why
	}
	if r.Shape == sheet.Point {
		for i, part := range threeOf(text) {
			if why, odd := edit.TypedDoubt(f, fmt.Sprintf("%s[%d]", r.Path, i), part); odd {
				return true, why
			}
		}
	}
	if meant := meantSections(m, r, text); len(meant) > 0 {
		return true, fmt.Sprintf("%s is taken as a section of your own; the table has %s", text, strings.Join(meant, " and "))
	}
	proves := text == string(project.Tacked) || text == string(project.Welded)
	if strings.HasPrefix(r.Path, "reading[") && strings.HasSuffix(r.Path, ".after") && proves && f.Has(r.Path[:strings.LastIndexByte(r.Path, '.')]) {
		return true, "the reading counts as proof from now on; it is one only if the gauge was put on after the mounts were " + text
	}
	if r.Path == "powertrain.standing" && text == string(project.StandsIn) && r.Text != text && len(m.now.EngineOut) > 0 {
		return true, "the engine-out list is open, and what is on it can only be reached with the powertrain out"
	}
	return false, ""
}

// beginNamed begins a table with a name of its own: its rows come, and the first that is
// typed writes it.
func (d *dataPage) beginNamed(m *Model, s sheet.Section, text string) bool {
	path := s.List + "." + text
	if text == "" {
		d.Typing = nil
		return true
	}
	if d.of.Has(path) {
		d.Typing.Refused = "there is a " + text + " already"
		return false
	}
	d.Typing = nil
	d.begun = append(d.begun, path)
	d.of = nil // made anew with it
	d.refresh(m)
	for _, sec := range d.Sheet.Sections {
		if sec.Path == path && len(sec.Rows) > 0 {
			d.Go(sec.Rows[0].Path)
			break
		}
	}
	return true
}
