package ui

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
	"fitup/internal/project/tomltext"
	"fitup/internal/ui/field"
)

// fill makes the form of the reading that is shown, with the answers of the round.
func (r *round) fill(m *Model) {
	l := &r.lists[gaugeList]
	r.form = *newReading(m, l.at)
	at, given := r.on[l.at]
	if !given {
		at = r.form.on.at
		for _, x := range slices.Backward(m.now.Build.Readings) {
			if x.Of == l.at && !x.InPlan() && x.On != "" {
				at = max(slices.Index(r.form.on.values, string(x.On)), 0)
				break
			}
		}
	}
	r.form.on.at = at
	r.form.after.at = min(r.after, len(r.form.after.values)-1)
	r.form.stood.at = min(r.stood, len(r.form.stood.values)-1)
	if r.before && r.form.moved {
		r.form.hangs.at = 1
	}
	text := l.field.Text()
	if l.waits != "" {
		text = l.waits
	}
	r.form.shown = field.New("", unsigned(text), nil)
	r.lowerIs(l.lower)
}

// lowerIs gives the form the end that is lower.
func (r *round) lowerIs(end project.End) {
	r.form.lower.at = 0
	if end != "" {
		r.form.lower.at = max(slices.Index(r.form.lower.values, string(end)), 0)
	}
}

// unsigned leaves out the sign that a gauge may show: it says how the gauge stood, and
// nothing of front and rear.
func unsigned(text string) string { return strings.TrimLeft(strings.TrimSpace(text), "+-−") }

// notSure is the answer that nobody knows which end is lower.
const notSure project.End = "not sure"

// lowerKey takes the key that says which end is lower, and with a value that waits for
// it takes that one.
func (r *round) lowerKey(m *Model, key string) bool {
	l := r.list()
	across := project.LiesAcross(l.at)
	ends := map[string]project.End{"left": project.FrontEnd, "right": project.RearEnd, "f": project.FrontEnd, "r": project.RearEnd, "n": notSure}
	if across {
		ends = map[string]project.End{"left": project.LeftEnd, "right": project.RightEnd, "l": project.LeftEnd, "r": project.RightEnd, "n": notSure}
	}
	end, ok := ends[key]
	if !ok || key == "n" && l.waits == "" {
		return false
	}
	l.lower, r.refused = end, ""
	if l.waits != "" {
		waits := l.waits
		l.waits = ""
		r.takeReadingOf(m, waits)
	}
	return true
}

// takeReading takes what is typed as the next reading of the axis shown.
func (r *round) takeReading(m *Model, text string) {
	u := m.sess.Now().Build.Units
	if _, err := quantity.ParseStated(quantity.Angle, unsigned(text), u); err != nil {
		r.refused = firstLine(err)
		return
	}
	r.fill(m)
	err := r.form.fault(m)
	l := r.list()
	switch {
	case errors.Is(err, gauge.ErrNoSense) && l.lower == "":
		l.waits = text
		r.write(m, "")
		return
	case err != nil && !errors.Is(err, gauge.ErrNoSense):
		r.refused = r.standsOnAnother(m, err)
		return
	}
	r.takeReadingOf(m, text)
}

// standsOnAnother says why a reading cannot be, and how to say what the gauge stood on.
func (r *round) standsOnAnother(m *Model, err error) string {
	return firstLine(err) + "; " + m.keyOf(actRoundOn) + " says what the gauge stood on"
}

// takeReadingOf writes the reading: one step to undo.
func (r *round) takeReadingOf(m *Model, text string) {
	l := r.list()
	typed := l.field
	r.write(m, text)
	r.fill(m)
	if l.lower == notSure {
		r.lowerIs("")
	}
	t := r.form.typed()
	e, err := edit.AddReading(m.sess.Now(), t, m.today())
	if err != nil {
		r.refused = firstLine(err)
		return
	}
	what := r.form.of.answers[r.form.of.at]
	if !m.do("reading of the "+what+": "+t.Shown, e) {
		r.refused = m.message.text
		return
	}
	l.field = typed
	if strings.TrimSpace(typed.Text()) == text {
		r.write(m, "")
	}
	l.lower, l.dropped = "", ""
	r.goOn(m, t.Shown, what)
}

// goOn says what was taken, and brings up what is read next: the same again where its
// values do not agree.
func (r *round) goOn(m *Model, text, of string) {
	s := r.agree(m)
	r.taken = text
	if s.count > 1 {
		r.taken += ", " + r.apart(m, s) + " apart"
	}
	r.taken += ", " + of
	if s.clash != "" || s.doubt != "" {
		return
	}
	if !r.next(m) {
		r.taken += "; the round is done, and one more is a repeat"
	}
	r.settle(m)
}

// measured are the things that the file has measurements of, in order.
func (m *Model) measured() (of, labels []string) {
	for _, x := range m.now.Build.Measurements {
		if title := x.Title(); !slices.Contains(of, title) {
			of = append(of, title)
		}
	}
	return of, of
}

// lastOf is the last measurement of a thing.
func (m *Model) lastOf(of string) (project.Measurement, bool) {
	for _, x := range slices.Backward(m.now.Build.Measurements) {
		if x.Title() == of {
			return x, true
		}
	}
	return project.Measurement{}, false
}

// takeMeasure takes what is typed as the next repeat of the thing shown: in with those
// of today that were taken alike, or as a measurement of its own.
func (r *round) takeMeasure(m *Model, text string) {
	l := r.list()
	last, ok := m.lastOf(l.at)
	if !ok {
		r.refused = "Nothing is measured yet; enter the first with its name, from the Jobs pane"
		return
	}
	edits, err := r.repeat(m, last, text)
	if err != nil {
		r.refused = firstLine(err)
		return
	}
	if !m.do("measured: "+project.Printable(l.at)+": "+text, edits...) {
		r.refused = m.message.text
		return
	}
	r.write(m, "")
	l.dropped = ""
	r.goOn(m, text, project.Printable(l.at))
}

// repeat are the edits for one more value of a measurement, in the place of one that does
// not fit what else was measured.
func (r *round) repeat(m *Model, last project.Measurement, text string) ([]edit.Edit, error) {
	f := m.sess.Now()
	k := shownBy(last)
	if err := oneValue(f, last, text); err != nil {
		return nil, err
	}
	after, stood := r.state()
	alike := func(x project.Measurement) bool {
		return x.Title() == last.Title() && x.With == last.With && x.Stood == stood && (x.After == after || x.After == "" && after == project.Hung) &&
			x.Taken.Format(time.DateOnly) == m.today().Format(time.DateOnly)
	}
	e, err := r.another(m, last, text)
	if err != nil {
		return nil, err
	}
	if again := m.retaken(e); again != nil {
		return again, nil
	}
	if alike(last) {
		all := f.Build.Measurements
		i := len(all) - 1
		for !alike(all[i]) {
			i--
		}
		key := map[quantity.Kind]string{quantity.Length: "lengths", quantity.Angle: "angles"}[k]
		path := fmt.Sprintf("measure[%d].%s", i, key)
		if _, row, ok := m.sheet().Row(path); ok && row.Given {
			return edit.Typed(f, edit.Value{Path: path, Text: row.Text + "; " + text})
		}
	}
	return []edit.Edit{e}, nil
}

// another is the edit that adds a value as a measurement of its own.
func (r *round) another(m *Model, last project.Measurement, text string) (edit.Edit, error) {
	f, k := m.sess.Now(), shownBy(last)
	after, stood := r.state()
	e, err := edit.AddMeasurement(f, edit.TypedMeasurement{Of: last.Title(), With: last.With, On: last.On, Values: text, After: after, Length: k == quantity.Length}, m.today())
	if err != nil {
		return edit.Edit{}, err
	}
	if last.Surveys() {
		e.Pairs = append(surveyed(last), slices.DeleteFunc(e.Pairs, func(p tomltext.Pair) bool {
			return slices.Contains([]string{"of", "from", "to", "as"}, p.Key)
		})...)
	}
	at := len(f.Build.Measurements) - 1
	for f.Build.Measurements[at].Title() != last.Title() {
		at--
	}
	for _, key := range []string{"plus_minus", "angle_plus_minus"} { // what it was taken with is as good as it was
		if n := f.Doc().Find(fmt.Sprintf("measure[%d].%s", at, key)); n != nil {
			e.Pairs = append(e.Pairs, tomltext.Pair{Key: key, Literal: n.Raw})
		}
	}
	if stood != "" {
		e.Pairs = append(e.Pairs, tomltext.Pair{Key: "stood", Literal: tomltext.Quote(string(stood))})
	}
	return e, nil
}

// oneValue refuses what is not one more value of a measurement.
func oneValue(f *project.File, last project.Measurement, text string) error {
	v, err := edit.ParseRepeats(shownBy(last), text, f.Build.Units)
	signed := last.Surveys() && (last.Line() == project.HeightLine || last.Line() == project.OffsetLine)
	switch {
	case err != nil:
		return err
	case len(v) > 1:
		return fmt.Errorf("read %q; want one value at a time, such as 412.5", project.Printable(text))
	case v[0] < 0 && !signed:
		return fmt.Errorf("read %q; a length that was measured cannot be negative", project.Printable(text))
	}
	return nil
}

// shownBy is what was read off the instrument.
func shownBy(x project.Measurement) quantity.Kind {
	switch {
	case len(x.Angles) > 0:
		return quantity.Angle
	case len(x.Lengths) > 0:
		return quantity.Length
	}
	return x.With.Kind()
}

// surveyed are the keys that say between which points a line of the survey was taken.
func surveyed(x project.Measurement) []tomltext.Pair {
	var out []tomltext.Pair
	for _, k := range []struct{ key, text string }{{"of", x.Of}, {"from", x.From}, {"to", x.To}, {"as", string(x.As)}, {"at", x.At}} {
		if k.text != "" {
			out = append(out, tomltext.Pair{Key: k.key, Literal: tomltext.Quote(k.text)})
		}
	}
	return out
}

// state is what was fixed, and how the vehicle stands.
func (r *round) state() (project.After, project.Stood) {
	return project.After(r.form.after.value()), project.Stood(r.form.stood.value())
}
