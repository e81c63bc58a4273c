package ui

import (
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/field"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// ask is a box with one field.
type ask struct {
	title  string // of the box; "Type a value" when empty
	field  field.Model
	accept func(m *Model, text string) bool // true closes the box
	form   formID                           // in the journal; "" for what is no loss
	at     string                           // what it is about
	was    string                           // the text that it began with
}

// newAskRow asks for the value of a placement row and turns the powertrain
// until the row reads it.
func newAskRow(m *Model, r project.RowID) *ask {
	row := m.rowInfo(r)
	u := m.sess.Now().Build.Units
	title := row.Label
	if view := m.view(m.focus); row.Now.Known {
		title += ", now " + view.Number(row.Kind, row.Now, view.Digits(row.Kind))
	}
	parse := func(text string) (float64, error) {
		if project.IsPath(row.Name) { // a key of the file, which has room for a ±
			s, err := quantity.ParseStated(row.Kind, text, u)
			return s.V, err
		}
		return quantity.Parse(row.Kind, text, u)
	}
	check := func(text string) (string, error) {
		v, err := parse(text)
		if err != nil {
			return "", err
		}
		view := m.view(m.focus)
		return view.Number(row.Kind, assess.Exact(v), view.Digits(row.Kind)+1), nil
	}
	a := &ask{field: field.New(title, "", check).WithTheme(m.theme)}
	a.accept = func(m *Model, text string) bool {
		v, err := parse(text)
		if err != nil {
			return false
		}
		if why, odd := edit.TypedDoubt(m.sess.Now(), row.Name, text); odd {
			m.open(newSure("Is that meant so?", capital(why)+".", func(m *Model) { // it stays typed beneath
				if m.setRow(row, v, text) {
					m.shut(a)
				}
			}))
			return false
		}
		return m.setRow(row, v, text)
	}
	return a.as(formRow, row.Name)
}

// setRow makes a row read v. A row that is a key of the file and was not known
// is simply written; the others need a placed powertrain.
func (m *Model) setRow(row assess.Row, v float64, typed string) bool {
	if m.now.Pose.Known && !quantity.HasBound(typed) {
		return m.moveRow(row, v, typed)
	}
	if _, ok := project.KindAt(row.Name); !ok {
		m.say(theme.Danger, "Cannot set the %s yet: %s", row.Label, m.now.Pose.Why)
		return false
	}
	e, err := edit.SetText(m.sess.Now(), row.Name, typed)
	if err != nil {
		m.say(theme.Danger, "%s", firstLine(err))
		return false
	}
	return m.do(row.Label+" set to "+strings.TrimSpace(typed), e)
}

func (a *ask) key(m *Model, k tea.KeyMsg) {
	if k.String() == "ctrl+c" {
		m.close()
		return
	}
	var done field.Done
	a.field, done = a.field.Update(k)
	switch done {
	case field.Cancelled:
		m.close()
	case field.Accepted:
		if a.accept(m, a.field.Text()) {
			m.close()
		}
	}
}

func (a *ask) size(w, _ int) (int, int) {
	dw := min(64, w-4)
	return dw, len(a.field.View(dw-4)) + 3
}

func (a *ask) draw(m *Model, w, _ int) (string, string, []string) {
	lines := []string{""}
	for _, l := range a.field.View(max(w-2, 1)) {
		lines = append(lines, " "+l)
	}
	title := a.title
	if title == "" {
		title = "Type a value"
	}
	return title, "enter takes it, esc leaves", lines
}
