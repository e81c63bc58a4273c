package ui

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"fitup/internal/assess"
	"fitup/internal/geom"
	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/field"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// reading is the form for one gauge reading, or for one by tape from above.
type reading struct {
	of, on, lower, marked, side, after, stood, hangs picker
	upright                                          picker // of the marked end, on a square face
	with                                             picker // the tool of a reading by tape
	shown, aside, over                               field.Model
	moved                                            bool // the plan has the powertrain elsewhere than it hung
	row                                              int  // which line has the cursor
}

// The lines of the form.
const (
	rowOf = iota
	rowOn
	rowShown
	rowLower
	rowMarked
	rowAside
	rowSide
	rowOver
	rowAfter
	rowStood
	rowHangs
	rowWith
)

// byTape is the answer that the reading is not the gauge's. It is no surface.
const byTape = "tape"

// rows are the lines that this reading needs.
func (r *reading) rows(m *Model) []int {
	out := []int{rowOf, rowOn, rowShown, rowLower, rowMarked, rowAfter, rowStood}
	if r.tape() {
		out = []int{rowOf, rowOn, rowAside, rowSide, rowOver, rowAfter, rowStood}
	}
	if r.moved && m.now.Build.HangsOnPowertrain(r.of.value()) {
		out = append(out, rowHangs)
	}
	if r.tape() {
		out = append(out, rowWith)
	}
	return out
}

// standing is how a gauge stood on a square face: where its marked end pointed, and
// which way the face looks.
type standing struct {
	end  project.MarkedEnd
	face project.End
}

// standings are the ways in which a gauge can stand on a square face; those across
// the vehicle come last.
func standings(transaxle bool) []standing {
	looks := []project.End{project.RearEnd, project.FrontEnd}
	if transaxle {
		looks = append(looks, project.LeftEnd, project.RightEnd)
	}
	var out []standing
	for _, face := range looks {
		out = append(out, standing{project.MarkedUp, face}, standing{project.MarkedDown, face})
	}
	return out
}

// square reports whether the gauge stood on a face square to the axis.
func (r *reading) square() bool { return r.on.value() == string(project.SquareFace) }

func (r *reading) tape() bool { return r.on.value() == byTape }

func newReading(m *Model, of string) *reading {
	r := &reading{
		on: picker{label: "gauge stood", answers: []string{"along the axis", "on a face square to it", "not: by tape, seen from above"},
			values: []string{string(project.Along), string(project.SquareFace), byTape}},
		lower: picker{label: "lower end", answers: []string{"? choose", "front", "rear", "not sure"},
			values: []string{"", string(project.FrontEnd), string(project.RearEnd), ""}},
		marked: picker{label: "gauge marked", answers: []string{"not noted", "end to the front", "end to the rear"},
			values: []string{"", string(project.FrontEnd), string(project.RearEnd)}},
		after: picker{label: "taken", answers: []string{"hung, nothing fixed", "after tacking", "after welding"},
			values: []string{string(project.Hung), string(project.Tacked), string(project.Welded)}},
		side: picker{label: "rear end is", answers: []string{"to the right", "to the left"}, values: []string{"right", "left"}},
		stood: picker{label: "vehicle stood", answers: []string{"not noted", "on its wheels", "axle on stands", "frame on stands, axle hanging", "hanging"},
			values: []string{"", string(project.OnWheels), string(project.AxleOnStands), string(project.OnFrame), string(project.Hanging)}},
		hangs: picker{label: "it hangs", answers: []string{"as planned now", "where it was last read"}, values: []string{"", "before"}},
		row:   rowShown,

		upright: picker{label: "gauge marked", answers: []string{"not noted"}, values: []string{""}},
		with:    picker{label: "measured with", answers: []string{"not noted"}, values: []string{""}},
	}
	m.addTools(&r.with)
	for _, u := range standings(m.now.Build.AnyAcross()) {
		r.upright.answers = append(r.upright.answers, fmt.Sprintf("end %s, on a face that looks to the %s", u.end, u.face))
		r.upright.values = append(r.upright.values, string(u.end))
	}
	_, r.moved = m.now.Build.HungAt()
	if m.now.Build.AnyAcross() {
		r.lower.answers = append(r.lower.answers, "left", "right")
		r.lower.values = append(r.lower.values, string(project.LeftEnd), string(project.RightEnd))
	}
	if m.now.Build.Powertrain.Layout == project.Transaxle {
		r.addTarget(project.TargetAcross, "", "crankshaft, across", 0)
	}
	r.addTargets(m)
	for i, v := range r.of.values {
		if v == of {
			r.of.at = i
		}
	}
	if !strings.Contains(of, ".shaft.") && of != project.TargetFrame && of != project.TargetFloor {
		r.on.at = 1 // engines and flanges offer a square face; shafts and rails do not
	}
	u := m.sess.Now().Build.Units
	number := func(label string, k quantity.Kind) field.Model {
		return field.New(label, "", func(text string) (string, error) {
			_, err := quantity.ParseStated(k, text, u)
			return "", err
		}).WithTheme(m.theme)
	}
	r.shown = number("gauge shows", quantity.Angle)
	r.aside, r.over = number("aside", quantity.Length), number("over", quantity.Length)
	return r
}

// addTargets adds what can be read in this build.
func (r *reading) addTargets(m *Model) {
	r.of.label = "reading of"
	for _, l := range m.now.Lines {
		for _, x := range l.Axes {
			r.addTarget(x.Target, l.Name, x.Label, len(m.now.Lines))
		}
	}
	if len(r.of.values) == 0 {
		r.addTarget(project.TargetPowertrain, "", "powertrain", 0)
	}
	for _, l := range m.now.Build.Lines {
		if len(l.Pinion.Marks) > 0 {
			r.addTarget(l.AxleTarget(), l.Name, "axle, across", len(m.now.Build.Lines))
		}
		if !m.now.Build.Direct(l) {
			r.addTarget(l.FirstTarget(), l.Name, "output that does not hang on the powertrain", len(m.now.Build.Lines))
		}
	}
	r.addTarget(project.TargetFrame, "", "frame, along the rails", 0)
	r.addTarget(project.TargetFloor, "", "floor under the vehicle", 0)
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

// choice is the picker of a line, nil on one that is typed.
func (r *reading) choice(row int) *picker {
	if row == rowMarked && r.square() {
		return &r.upright
	}
	return map[int]*picker{rowOf: &r.of, rowOn: &r.on, rowLower: &r.lower, rowMarked: &r.marked, rowSide: &r.side,
		rowAfter: &r.after, rowStood: &r.stood, rowHangs: &r.hangs, rowWith: &r.with}[row]
}

// input is the field of a line that is typed.
func (r *reading) input(row int) *field.Model {
	return map[int]*field.Model{rowShown: &r.shown, rowAside: &r.aside, rowOver: &r.over}[row]
}

func (r *reading) key(m *Model, k tea.KeyMsg) {
	rows := r.rows(m)
	was := max(slices.Index(rows, r.row), 0)
	at := was
	if formKey(m, k, &at, len(rows), r.accept) {
		if at != was { // an answer that is not taken moves the cursor by itself
			r.row = rows[at]
		}
		return
	}
	if p := r.choice(r.row); p != nil {
		p.key(k)
		return
	}
	f := r.input(r.row)
	*f, _ = f.Update(k)
}

// typed is the reading as entered so far.
func (r *reading) typed() edit.TypedReading {
	t := edit.TypedReading{
		Of: r.of.value(), After: project.After(r.after.value()), Stood: project.Stood(r.stood.value()),
		Unmoved: r.moved && r.hangs.value() != "",
	}
	if r.tape() {
		t.Aside = strings.TrimSpace(r.aside.Text()) + " " + r.side.value()
		t.Over, t.With = strings.TrimSpace(r.over.Text()), r.with.value()
		return t
	}
	t.On, t.Shown = project.Surface(r.on.value()), strings.TrimSpace(r.shown.Text())
	t.Lower, t.GaugeEnd = project.End(r.lower.value()), project.MarkedEnd(r.marked.value())
	if r.square() {
		t.GaugeEnd = ""
		if i := r.upright.at; i > 0 {
			u := standings(true)[i-1]
			t.GaugeEnd, t.Face = u.end, u.face
		}
	}
	return t
}

// lacks says what has still to be typed, and on which line.
func (r *reading) lacks() (row int, what string) {
	empty := func(f field.Model) bool { return f.Err() != nil || strings.TrimSpace(f.Text()) == "" }
	switch {
	case !r.tape() && empty(r.shown):
		return rowShown, "Type what the gauge shows, such as 85.6"
	case r.tape() && empty(r.aside):
		return rowAside, "Type how far the rear end stands aside of the front end, such as 14 mm"
	case r.tape() && empty(r.over):
		return rowOver, "Type over how much along the vehicle, such as 1000 mm"
	}
	return 0, ""
}

func (r *reading) accept(m *Model) {
	if row, what := r.lacks(); what != "" {
		r.row = row
		m.say(theme.Doubt, "%s", what)
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
	var edits []edit.Edit
	if r.tape() {
		edits = m.takeTool(t.With)
	}
	e, err := edit.AddReading(m.sess.Now(), t, m.today())
	if err != nil {
		m.say(theme.Danger, "%s", firstLine(err))
		return
	}
	open := m.dialogs
	m.close()
	shown := t.Shown
	if r.tape() {
		shown = t.Aside + " over " + t.Over
	}
	if !m.do("reading of the "+r.of.answers[r.of.at]+": "+shown, append(edits, e)...) {
		m.dialogs = open // what was typed stays to be mended
		return
	}
	m.askClash(t.Of)
}

func (m *Model) today() time.Time { return m.sess.Clock() }

func (r *reading) gauge(m *Model) (gauge.Reading, error) {
	v, err := quantity.ParseStated(quantity.Angle, r.shown.Text(), m.sess.Now().Build.Units)
	return gauge.Reading{
		Shown: geom.Angle(v.V), On: project.Surface(r.on.value()).Gauge(), Lower: project.End(r.lower.value()).Gauge(),
	}, err
}

// fault is what keeps the reading from being a slope, or a heading.
func (r *reading) fault(m *Model) error {
	if r.tape() {
		_, err := r.typed().Heading(m.sess.Now().Build.Units)
		return err
	}
	g, err := r.gauge(m)
	if err == nil {
		_, err = g.Slope()
	}
	return err
}

// meaning says what the reading amounts to, or what it still lacks.
func (r *reading) meaning(m *Model) (string, theme.Role) {
	v := m.view(m.focus)
	if text := m.toolMeaning(r.with.value()); text != "" && r.tape() && r.row == rowWith {
		return text, theme.Doubt
	}
	if r.tape() {
		h, err := r.typed().Heading(m.sess.Now().Build.Units)
		if _, what := r.lacks(); what != "" {
			return "a straight edge or a string along it, seen from above: its rear end against its front end, from a line along the vehicle", theme.Dim
		} else if err != nil {
			return err.Error(), theme.Danger
		}
		return "= " + v.Number(quantity.Heading, assess.Exact(h), 2), theme.Good
	}
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
	if lower := project.End(r.lower.value()); lower == project.LeftEnd || lower == project.RightEnd {
		return "= " + r.typed().Lower.Falls(s.Rad(), m.sess.Now().Build.Units, 2), theme.Good
	}
	text := "= " + v.Number(quantity.Slope, assess.Exact(s.Rad()), 2)
	if nose := m.now.Build.Nose(r.of.value(), s.Rad()); nose != "" {
		text += ", " + nose
	}
	return text, theme.Good
}

// nose is how a pinion looks with the end that is chosen lower, beside it: it
// turns round at a front axle.
func (r *reading) nose(m *Model) string {
	slope := map[project.End]float64{project.RearEnd: 1, project.FrontEnd: -1}[project.End(r.lower.value())]
	if nose := m.now.Build.Nose(r.of.value(), slope); nose != "" {
		return " (" + nose + ")"
	}
	return ""
}

func (r *reading) size(w, _ int) (int, int) { return min(70, w-4), 15 }

func (r *reading) draw(m *Model, w, _ int) (string, string, []string) {
	lines := []string{""}
	labels := map[int]string{rowShown: "gauge shows", rowAside: "aside by", rowOver: "over"}
	for _, i := range r.rows(m) {
		mark, role := "  ", theme.Text
		if i == r.row {
			mark, role = m.theme.Pointer(), theme.Selected
		}
		p := r.choice(i)
		if p == nil {
			input := r.input(i).View(24)
			lines = append(lines, " "+m.theme.Paint(role, mark+m.theme.Pad(labels[i], 14))+input[min(1, len(input)-1)])
			continue
		}
		value := m.theme.Plain(p.answers[p.at])
		if i == r.row {
			value = m.theme.Left + " " + value + " " + m.theme.Right
		}
		if i == rowLower {
			value += r.nose(m)
		}
		lines = append(lines, " "+m.theme.Paint(role, mark+m.theme.Pad(p.label, 14))+value)
	}
	lines = append(lines, "")
	text, role := r.meaning(m)
	for _, l := range theme.Wrap(text, max(w-4, 1)) {
		lines = append(lines, "   "+m.theme.Paint(role, m.theme.Plain(l)))
	}
	return "A reading", "enter takes it, esc leaves", lines
}
