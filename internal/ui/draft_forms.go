package ui

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/ui/action"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
)

// What each form says of what is typed in it, and how it takes it back.

// oneLine is the name of the line of a form that has one only.
const oneLine = "text"

func (a *ask) draft() (draft, bool) {
	if text := a.field.Text(); a.form == "" || text == "" || text == a.was {
		return draft{}, false
	}
	return draft{Form: a.form, At: a.at, Lines: map[string]line{oneLine: lineOf(a.field)}}, true
}

func (a *ask) redraft(d draft) { retype(map[string]*field.Model{oneLine: &a.field}, d.Lines) }

// as says which form a is in the journal, and what it is about.
func (a *ask) as(form formID, at string) *ask {
	a.form, a.at, a.was = form, at, a.field.Text()
	return a
}

func (o *override) draft() (draft, bool) {
	if text := o.reason.Text(); text == "" || text == o.was {
		return draft{}, false
	}
	return draft{Form: formReason, At: o.at, Lines: map[string]line{oneLine: lineOf(o.reason)}}, true
}

func (o *override) redraft(d draft) { retype(map[string]*field.Model{oneLine: &o.reason}, d.Lines) }

func (r *reading) inputs() map[string]*field.Model {
	return map[string]*field.Model{"shown": &r.shown, "aside": &r.aside, "over": &r.over}
}

func (r *reading) pickers() map[string]*picker {
	return map[string]*picker{"of": &r.of, "on": &r.on, "lower": &r.lower, "marked": &r.marked, "side": &r.side, "after": &r.after,
		"stood": &r.stood, "hangs": &r.hangs, "upright": &r.upright, "with": &r.with}
}

func (r *reading) draft() (draft, bool) {
	lines := texts(r.inputs())
	return draft{Form: formReading, At: r.of.value(), Lines: lines, Picks: picked(r.pickers()), Row: r.row}, len(lines) > 0
}

func (r *reading) redraft(d draft) {
	for _, p := range r.pickers() {
		if p != &r.of {
			p.at = 0
		}
	}
	delete(d.Picks, "of") // it was opened for it
	repick(r.pickers(), d.Picks)
	retype(r.inputs(), d.Lines)
	r.row = d.Row
}

func (f *measure) inputs() map[string]*field.Model {
	return map[string]*field.Model{"of": &f.of, "on": &f.on, "values": &f.values}
}

func (f *measure) pickers() map[string]*picker {
	return map[string]*picker{"with": &f.with, "after": &f.after}
}

func (f *measure) draft() (draft, bool) {
	lines := texts(f.inputs())
	return draft{Form: formMeasure, Lines: lines, Picks: picked(f.pickers()), Row: f.row}, len(lines) > 0
}

func (f *measure) redraft(d draft) {
	f.with.at = 0
	repick(f.pickers(), d.Picks)
	retype(f.inputs(), d.Lines)
	f.row = min(max(d.Row, 0), measureRows-1)
}

func (s *shake) inputs() map[string]*field.Model {
	out := map[string]*field.Model{}
	for i := range s.fields {
		out[shakeLabels[i]] = &s.fields[i]
	}
	return out
}

func (s *shake) draft() (draft, bool) {
	lines := texts(s.inputs())
	return draft{Form: formShake, Lines: lines, Row: s.at}, len(lines) > 0
}

func (s *shake) redraft(d draft) {
	retype(s.inputs(), d.Lines)
	s.at = min(max(d.Row, 0), len(s.fields)-1)
}

// The lists of a round, as the journal names them.
var roundLists = [2]string{gaugeList: "gauge", tapeList: "tape"}

func (r *round) draft() (draft, bool) {
	d := draft{Form: formRound, Lines: map[string]line{}, Picks: map[string]string{}}
	for i, name := range roundLists {
		l := &r.lists[i]
		if l.field.Text() != "" {
			d.Lines[name] = lineOf(l.field)
		}
		if l.waits != "" {
			d.Lines[name+" waits"] = line{Text: l.waits}
		}
		d.Picks[name] = l.at
		if l.lower != "" {
			d.Picks[name+" lower"] = string(l.lower)
		}
	}
	d.Row = gaugeList
	if r.tape {
		d.Row = tapeList
	}
	if len(d.Lines) == 0 {
		return d, false
	}
	for at, on := range r.on {
		d.Picks["on "+at] = fmt.Sprint(on)
	}
	d.Picks["after"], d.Picks["stood"] = fmt.Sprint(r.after), fmt.Sprint(r.stood)
	d.Picks["each"], d.Picks["before"] = fmt.Sprint(r.each), fmt.Sprint(r.before)
	return d, true
}

// waiting are the values that stand typed on the round and are not taken, each with
// what it is of.
func (r *round) waiting(m *Model) []string {
	var out []string
	for i := range r.lists {
		l := &r.lists[i]
		for _, text := range []string{l.waits, l.field.Text()} {
			if text = strings.TrimSpace(text); text != "" {
				out = append(out, m.theme.Plain(project.Printable(l.at+" "+m.theme.Right+" "+text)))
			}
		}
	}
	return out
}

// askWaiting asks what becomes of what stands typed on the round, before the program ends.
func (r *round) askWaiting(m *Model) *question {
	q := &question{
		title: "Typed, and not taken",
		text:  []string{"On the reading screen this was not finished with Enter, and is lost when fitup ends:"},
		choices: []choice{
			{"b", "back to the readings", func(m *Model) { m.openRound() }},
			{"q", "quit without it", func(m *Model) {
				m.round = nil
				m.askQuit()
			}},
		},
	}
	for _, text := range r.waiting(m) {
		q.text = append(q.text, "- "+text)
	}
	return q
}

// reopenRound puts a value back that was typed on the round.
func (m *Model) reopenRound(d draft) again {
	r := m.openRound()
	r.tape = d.Row == tapeList
	number := func(name string, into *int, below int) {
		var n int
		if _, err := fmt.Sscan(d.Picks[name], &n); err == nil && n >= 0 && n < below {
			*into = n
		}
	}
	number("after", &r.after, len(r.form.after.values))
	number("stood", &r.stood, len(r.form.stood.values))
	number("each", &r.each, mostEach+1)
	r.each, r.before = max(r.each, 1), d.Picks["before"] == "true"
	for name := range d.Picks {
		if at, ok := strings.CutPrefix(name, "on "); ok {
			on := 0
			number(name, &on, 2)
			r.on[at] = on
		}
	}
	for i, name := range roundLists {
		l := &r.lists[i]
		l.at, l.lower, l.waits = d.Picks[name], project.End(d.Picks[name+" lower"]), d.Lines[name+" waits"].Text
		retype(map[string]*field.Model{name: &l.field}, d.Lines)
	}
	r.settle(m)
	for i, name := range roundLists {
		if was := d.Picks[name]; r.lists[i].at != was && d.Lines[name].Text != "" {
			r.lists[i].lower = ""
			r.refused = "This was typed for " + project.Printable(was) + ", which is not there any more."
		}
	}
	if d.Shut {
		m.shut(r)
	}
	return reopened
}

// drafted is what is typed on the data page and not in the file.
func (d *dataPage) drafted(m *Model) []draft {
	var out []draft
	for _, path := range d.begun {
		out = append(out, draft{Form: formBegun, At: path, Shut: true})
	}
	for _, v := range d.drafts {
		out = append(out, draft{Form: formKept, At: v.Path, Lines: map[string]line{oneLine: {Text: v.Text}}, Shut: true})
	}
	if t := d.Typing; t != nil && t.Text() != "" && t.Text() != t.Was {
		out = append(out, draft{Form: formValue, At: t.Path, Lines: map[string]line{oneLine: {t.Text(), t.Cursor()}}})
	}
	if len(out) == len(d.begun) { // tables without a value are nothing that was typed
		return nil
	}
	for i := range out {
		out[i].Shut = !m.isOpen(d)
	}
	return out
}

// reopenData puts back what was typed on the data page.
func (m *Model) reopenData(d draft) again {
	m.sheet()
	page := m.data
	text := d.Lines[oneLine].Text
	if d.Form == formBegun {
		if !page.of.Has(d.At) && !slices.Contains(page.begun, d.At) {
			page.begun, page.of = append(page.begun, d.At), nil
			page.refresh(m)
		}
		return inFile
	}
	_, row, ok := page.Sheet.Row(d.At)
	switch {
	case !ok:
		return noForm
	case row.Text == text:
		return inFile
	case d.Form == formKept:
		page.drafts = append(page.drafts, edit.Value{Path: d.At, Text: text})
		page.refresh(m)
		return reopened
	}
	m.openData().Go(d.At)
	page.begin(m, text)
	t := page.Typing
	if at := d.Lines[oneLine].Cursor; t.Lines != nil {
		l := field.NewLines(text, at, maxTyped)
		t.Lines = &l
	} else {
		t.Field = t.Field.With(text, at)
	}
	page.pick(m, row)
	t.Refused = "typed before the stop, not taken: enter takes it, esc drops it"
	return reopened
}

// reopenName asks again for the name of a copy, or another name of a table.
func (m *Model) reopenName(d draft, id action.ID) {
	was := len(m.dialogs)
	page := m.openData()
	if !page.Go(d.At) {
		m.dialogs = m.dialogs[:was]
		return
	}
	if s, ok := page.entryHere(); ok && s.Path == d.At {
		page.entry(m, id)
		return
	}
	m.dialogs = m.dialogs[:was]
}

// weldPath is a side of a weld as the data page names it.
func weldPath(on pane.WeldOn) string { return fmt.Sprintf("weld[%d].side.%s", on.Index, on.Side) }

// reopenWeld asks again who inspected a side of a weld, or why it is made although it is
// held.
func (m *Model) reopenWeld(d draft, inspected bool) {
	for i, w := range m.now.Build.Welds {
		for _, s := range w.Sides {
			on := pane.WeldOn{Index: i, Side: s.Name}
			switch {
			case weldPath(on) != d.At:
			case inspected:
				m.inspect(pane.Inspect(on))
			default:
				m.weldOn(on)
			}
		}
	}
}

// jobAt is how the journal names a job.
func jobAt(id string) string { return "job " + id }

// reopenReason asks again why something is done although it is held.
func (m *Model) reopenReason(d draft) {
	was := len(m.dialogs)
	for i, j := range m.now.Jobs {
		if jobAt(j.ID) == d.At && j.Held {
			m.toggle(i)
		}
	}
	m.reopenWeld(d, false)
	if len(m.dialogs) > was {
		if _, ok := m.dialogs[len(m.dialogs)-1].(*override); !ok {
			m.dialogs = m.dialogs[:was]
		}
	}
}
