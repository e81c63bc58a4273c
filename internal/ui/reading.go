package ui

import (
	"errors"
	"strings"
	"time"

	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/project/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/field"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// reading is the form for one gauge reading.
type reading struct {
	of, on, lower, marked, after picker
	shown                        field.Model
	row                          int // which line has the cursor
}

// The lines of the form.
const (
	rowOf = iota
	rowOn
	rowShown
	rowLower
	rowMarked
	rowAfter
	readingRows
)

func newReading(m *Model, of string) *reading {
	r := &reading{
		on: picker{label: "gauge stood", answers: []string{"along the axis", "on a face square to it"},
			values: []string{string(project.Along), string(project.SquareFace)}},
		lower: picker{label: "lower end", answers: []string{"? choose", "front", "rear", "not sure"},
			values: []string{"", string(project.FrontEnd), string(project.RearEnd), ""}},
		marked: picker{label: "gauge marked", answers: []string{"not noted", "end to the front", "end to the rear"},
			values: []string{"", string(project.FrontEnd), string(project.RearEnd)}},
		after: picker{label: "taken", answers: []string{"hung, nothing fixed", "after tacking", "after welding"},
			values: []string{string(project.Hung), string(project.Tacked), string(project.Welded)}},
		row: rowShown,
	}
	r.of.label = "reading of"
	for _, l := range m.now.Lines {
		for _, x := range l.Axes {
			r.addTarget(x.Target, l.Name, x.Label, len(m.now.Lines))
		}
	}
	if len(r.of.values) == 0 {
		r.addTarget(project.TargetPowertrain, "", "powertrain", 0)
	}
	r.addTarget(project.TargetFrame, "", "frame, along the rails", 0)
	r.addTarget(project.TargetFloor, "", "floor under the vehicle", 0)
	for i, v := range r.of.values {
		if v == of {
			r.of.at = i
		}
	}
	if !strings.Contains(of, ".shaft.") && of != project.TargetFrame && of != project.TargetFloor {
		r.on.at = 1 // engines and flanges offer a square face; shafts and rails do not
	}
	u := m.sess.Now().Build.Units
	r.shown = field.New("gauge shows", "", func(text string) (string, error) {
		_, err := quantity.Parse(quantity.Angle, text, u)
		return "", err
	}).WithTheme(m.theme)
	return r
}

func (r *reading) addTarget(target, line, label string, lines int) {
	for _, v := range r.of.values {
		if v == target {
			return
		}
	}
	if lines > 1 && target != project.TargetPowertrain {
		label = line + " " + label
	}
	r.of.values = append(r.of.values, target)
	r.of.answers = append(r.of.answers, label)
}

func (r *reading) picker() *picker {
	return map[int]*picker{rowOf: &r.of, rowOn: &r.on, rowLower: &r.lower, rowMarked: &r.marked, rowAfter: &r.after}[r.row]
}

func (r *reading) key(m *Model, k tea.KeyMsg) {
	if formKey(m, k, &r.row, readingRows, r.accept) {
		return
	}
	p := r.picker()
	if p == nil {
		r.shown, _ = r.shown.Update(k)
		return
	}
	p.key(k)
}

// typed is the reading as entered so far.
func (r *reading) typed() project.TypedReading {
	return project.TypedReading{
		Of: r.of.value(), On: project.Surface(r.on.value()), Shown: strings.TrimSpace(r.shown.Text()),
		Lower: project.End(r.lower.value()), GaugeEnd: project.End(r.marked.value()), After: project.After(r.after.value()),
	}
}

func (r *reading) accept(m *Model) {
	if r.shown.Err() != nil || strings.TrimSpace(r.shown.Text()) == "" {
		r.row = rowShown
		m.say(theme.Doubt, "Type what the gauge shows, such as 85.6")
		return
	}
	switch err := r.fault(m); {
	case err == nil:
	case errors.Is(err, gauge.ErrNoSense):
		if r.lower.at == 0 {
			r.row = rowLower
			m.say(theme.Doubt, "Which end is lower, front or rear? Choose, then Enter.")
			return
		}
	default:
		r.row = rowOn
		m.say(theme.Doubt, "%v.", err)
		return
	}
	t := r.typed()
	e, err := m.sess.Now().AddReading(t, m.today())
	if err != nil {
		m.say(theme.Danger, "%s", firstLine(err))
		return
	}
	m.close()
	m.do("reading of the "+r.of.answers[r.of.at]+": "+t.Shown, e)
}

func (m *Model) today() time.Time { return m.sess.Clock() }

func (r *reading) gauge(m *Model) (gauge.Reading, error) {
	v, err := quantity.Parse(quantity.Angle, r.shown.Text(), m.sess.Now().Build.Units)
	return gauge.Reading{
		Shown: geom.Angle(v), On: project.Surface(r.on.value()).Gauge(), Lower: project.End(r.lower.value()).Gauge(),
	}, err
}

// fault is what keeps the reading from being a slope.
func (r *reading) fault(m *Model) error {
	g, err := r.gauge(m)
	if err == nil {
		_, err = g.Slope()
	}
	return err
}

// meaning says what the reading amounts to, or what it still lacks.
func (r *reading) meaning(m *Model) (string, theme.Role) {
	if strings.TrimSpace(r.shown.Text()) == "" {
		return "type what the gauge shows", theme.Dim
	}
	g, err := r.gauge(m)
	if err != nil {
		return err.Error(), theme.Danger
	}
	s, err := g.Slope()
	if err != nil {
		return err.Error(), theme.Doubt
	}
	v := m.view(m.focus)
	return "= " + v.Number(quantity.Slope, assess.Measure{V: s.Rad(), Known: true}, 2), theme.Good
}

func (r *reading) size(w, _ int) (int, int) { return min(70, w-4), 13 }

func (r *reading) draw(m *Model, w, _ int) (string, string, []string) {
	lines := []string{""}
	for i, p := range []*picker{&r.of, &r.on, nil, &r.lower, &r.marked, &r.after} {
		mark, role := "  ", theme.Text
		if i == r.row {
			mark, role = m.theme.Focus+" ", theme.Selected
		}
		if p == nil {
			input := r.shown.View(24)
			lines = append(lines, " "+m.theme.Paint(role, mark+m.theme.Pad("gauge shows", 14))+input[min(1, len(input)-1)])
			continue
		}
		value := p.answers[p.at]
		if i == r.row {
			value = m.theme.Left + " " + value + " " + m.theme.Right
		}
		lines = append(lines, " "+m.theme.Paint(role, mark+m.theme.Pad(p.label, 14))+value)
	}
	lines = append(lines, "")
	text, role := r.meaning(m)
	for _, l := range theme.Wrap(text, max(w-4, 1)) {
		lines = append(lines, "   "+m.theme.Paint(role, m.theme.Plain(l)))
	}
	return "A gauge reading", "enter takes it, esc leaves", lines
}
