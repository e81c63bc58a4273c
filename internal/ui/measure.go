package ui

import (
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// measure is the form for what tape, plumb line, level or another gauge shows.
type measure struct {
	of, on, values field.Model
	with, after    picker
	row            int
}

// The lines of the form.
const (
	measureOf = iota
	measureWith
	measureOn
	measureValues
	measureAfter
	measureRows
)

func newMeasurement(m *Model) *measure {
	f := &measure{
		of: field.New("of", "", nil).WithTheme(m.theme), on: field.New("on", "", nil).WithTheme(m.theme),
		with: picker{label: "taken with", answers: []string{"tape", "plumb line", "level", "angle gauge"},
			values: []string{string(project.TapeMeasure), string(project.PlumbLine), string(project.SpiritLevel), string(project.AngleGauge)}},
		after: picker{label: "taken", answers: []string{"nothing fixed yet", "after tacking", "after welding"},
			values: []string{string(project.Hung), string(project.Tacked), string(project.Welded)}},
	}
	m.addTools(&f.with)
	u := m.sess.Now().Build.Units
	f.values = field.New("it shows", "", func(text string) (string, error) {
		_, err := edit.ParseRepeats(f.kind(), text, u)
		return "", err
	}).WithTheme(m.theme)
	return f
}

func (f *measure) kind() quantity.Kind { return project.Instrument(f.with.value()).Kind() }

// line is the text field of the line with the cursor, nil on a choice.
func (f *measure) line(row int) *field.Model {
	switch row {
	case measureOf:
		return &f.of
	case measureOn:
		return &f.on
	case measureValues:
		return &f.values
	}
	return nil
}

func (f *measure) choice(row int) *picker {
	if row == measureWith {
		return &f.with
	}
	return &f.after
}

func (f *measure) key(m *Model, k tea.KeyMsg) {
	if formKey(m, k, &f.row, measureRows, f.accept) {
		return
	}
	if line := f.line(f.row); line != nil {
		*line, _ = line.Update(k)
		return
	}
	f.choice(f.row).key(k)
}

func (f *measure) accept(m *Model) {
	switch {
	case strings.TrimSpace(f.of.Text()) == "":
		f.row = measureOf
		m.say(theme.Doubt, "Say of what it is, such as: diagonal, left front to right rear")
		return
	case strings.TrimSpace(f.values.Text()) == "":
		f.row = measureValues
		m.say(theme.Doubt, "Type each repeat with a blank or a semicolon between them, such as 412 411.5")
		return
	}
	var edits []edit.Edit
	note, err := "", error(nil)
	if f.kind() == quantity.Length {
		if note, err = edit.NoLine(m.sess.Now(), f.of.Text()); err != nil {
			f.row = measureOf
			m.say(theme.Danger, "%s", firstLine(err))
			return
		}
		edits = m.takeTool(f.tool())
	}
	if f.kind() == quantity.Length {
		edits = append(edits, edit.NewPoints(m.sess.Now(), f.of.Text())...)
	}
	e, err := edit.AddMeasurement(m.sess.Now(), edit.TypedMeasurement{
		Of: f.of.Text(), With: project.Instrument(f.with.value()), On: f.on.Text(), Values: f.values.Text(), After: project.After(f.after.value()),
	}, m.today())
	if err != nil {
		f.row = measureValues
		m.say(theme.Danger, "%s", firstLine(err))
		return
	}
	before, of, open := m.now, project.Printable(strings.TrimSpace(f.of.Text())), m.dialogs
	m.close()
	again := m.retaken(e)
	label, edits := "measured: "+of, append(edits, e)
	if again != nil {
		label, edits = "measured again: "+of, append(edits[:len(edits)-1], again...)
	}
	switch {
	case !m.do(label, edits...): // what was typed stays to be mended
		m.dialogs, f.row = open, measureValues
	case again != nil:
		m.say(theme.Text, "%s stands in place of what did not fit; what it read before is in its note. u brings it back.", of)
	case note != "":
		m.say(theme.Doubt, "%s was measured; %s. u takes it back.", of, note)
	default:
		m.landed(before)
	}
}

// landed says what a tape has come to: that it does not fit the survey, or, in plain words,
// the verdicts on the frame that it brought or changed, the worst first.
func (m *Model) landed(before *assess.Assessment) {
	fit, _ := m.now.Finding(finding.SurveyFit)
	if was, _ := before.Finding(finding.SurveyFit); fit.Status == assess.Over && was.Status != assess.Over {
		m.say(pane.Status(fit.Status).Role(), "%s", project.Printable(fit.Advice()))
		return
	}
	var found []assess.Finding
	for _, f := range m.now.Findings {
		was, had := before.Finding(f.ID)
		if strings.HasPrefix(f.ID, finding.TapedPrefix) && (!had || was.Status != f.Status || was.Value != f.Value || was.Missing != f.Missing) {
			found = append(found, f)
		}
	}
	slices.SortStableFunc(found, func(f, g assess.Finding) int { return int(g.Status) - int(f.Status) })
	var texts []string
	for _, f := range found {
		text := f.Title + ": " + f.Status.String()
		switch {
		case f.Missing != "":
			text += ", " + f.Missing
		case f.HasValue:
			text += ", " + quantity.Format(f.Kind, f.Value, m.now.Build.Units, 1)
		}
		texts = append(texts, project.Printable(text))
	}
	if len(found) > 0 {
		m.say(pane.Status(found[0].Status).Role(), "%s", strings.Join(texts, "; "))
	}
}

// tool is the tool that was chosen, "" for one of the plain words.
func (f *measure) tool() string {
	if project.Instrument(f.with.value()).Tool() {
		return f.with.value()
	}
	return ""
}

func (f *measure) size(w, _ int) (int, int) { return min(74, w-4), 12 }

func (f *measure) draw(m *Model, w, _ int) (string, string, []string) {
	lines := []string{""}
	labels := [measureRows]string{"of", "taken with", "on, or between", "it shows", "taken"}
	for i, label := range labels {
		mark, role := "  ", theme.Text
		if i == f.row {
			mark, role = m.theme.Pointer(), theme.Selected
		}
		head := " " + m.theme.Paint(role, mark+m.theme.Pad(label, 15))
		if line := f.line(i); line != nil {
			input := line.View(max(w-20, 10))
			lines = append(lines, head+input[min(1, len(input)-1)])
			continue
		}
		p := f.choice(i)
		value := m.theme.Plain(p.answers[p.at])
		if i == f.row {
			value = m.theme.Left + " " + value + " " + m.theme.Right
		}
		lines = append(lines, head+value)
	}
	lines = append(lines, "")
	text, role := "Each repeat, a blank or a semicolon between them. The same words in the first line, before and after welding, give the drift.", theme.Dim
	if f.row == measureOf {
		text = "Say of what it is. Between two points of the survey: rail lf to rail rr, or over for a height; a new point with point. before it, such as point.rail_lf to point.rail_rr."
	}
	if s := strings.TrimSpace(f.values.Text()); s != "" {
		if _, err := edit.ParseRepeats(f.kind(), s, m.sess.Now().Build.Units); err != nil {
			text, role = err.Error(), theme.Danger
		}
	}
	if s := m.toolMeaning(f.tool()); s != "" && f.row == measureWith {
		text, role = s, theme.Doubt
	}
	for _, l := range theme.Wrap(text, max(w-4, 1)) {
		lines = append(lines, "   "+m.theme.Paint(role, m.theme.Plain(l)))
	}
	return "A measurement", "enter takes it, esc leaves", lines
}
