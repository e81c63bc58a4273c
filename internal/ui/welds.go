package ui

import (
	"errors"
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// weldOn takes a side of a weld one state further: tacked, then finished. A
// finished one can be taken back; its inspection is another act.
func (m *Model) weldOn(in pane.WeldOn) {
	s, ok := m.weldSide(in)
	if !ok {
		return
	}
	if s.Out && !s.Carries() && m.now.Build.Powertrain.Standing == project.StandsIn {
		m.say(theme.Doubt, "This side can only be reached with the powertrain out; o notes that it came out.")
		return
	}
	if next, on := s.State.Next(); on {
		m.weldTo(in, next, "", "")
		return
	}
	m.open(&question{
		title:   "This side is " + string(s.State),
		text:    []string{"It counts as carrying. If that was entered by mistake, it can be taken back; i enters an inspection."},
		choices: []choice{{"t", "back to tacked", func(m *Model) { m.weldTo(in, project.WeldTacked, "", "") }}},
	})
}

// weldTo brings a side to a state. Where proof is missing it asks for the
// reason, and offers the one given for another side of the same weld.
func (m *Model) weldTo(in pane.WeldOn, to project.WeldState, reason, by string) {
	edits, err := m.now.WeldSide(in.Index, in.Side, to, reason, by)
	var held *assess.ErrHeld
	if errors.As(err, &held) {
		m.say(theme.Danger, "Held: %v", err)
		before := ""
		for _, s := range m.now.Build.Welds[in.Index].Sides {
			if s.Override != "" {
				before = s.Override
			}
		}
		m.open(newOverride(m, weldPath(in), held.Holds, before, func(m *Model, reason string) { m.weldTo(in, to, reason, by) }))
		return
	}
	if err != nil {
		m.say(theme.Doubt, "%s", firstLine(err))
		return
	}
	w := m.now.Build.Welds[in.Index]
	m.do(fmt.Sprintf("weld %s, %s, %s: %s", project.Printable(w.Bracket), project.Printable(w.At), project.Printable(in.Side), to), edits...)
}

// inspect asks who inspected a side.
func (m *Model) inspect(in pane.Inspect) {
	on := pane.WeldOn(in)
	s, ok := m.weldSide(on)
	if !ok {
		return
	}
	if !s.Carries() {
		m.say(theme.Doubt, "A side is inspected once it is finished; this one is not.")
		return
	}
	a := &ask{
		title: "The weld was inspected",
		field: field.New("By whom", s.InspectedBy, nil).WithTheme(m.theme),
		accept: func(m *Model, text string) bool {
			if strings.TrimSpace(text) == "" {
				m.say(theme.Doubt, "An inspection wants a name: who looked at it. Esc leaves it as it is.")
				return false
			}
			m.weldTo(on, project.Inspected, "", text)
			return true
		},
	}
	m.open(a.as(formInspect, weldPath(on)))
}

func (m *Model) weldSide(in pane.WeldOn) (project.WeldSide, bool) {
	if in.Index < len(m.now.Build.Welds) {
		for _, s := range m.now.Build.Welds[in.Index].Sides {
			if s.Name == in.Side {
				return s, true
			}
		}
	}
	return project.WeldSide{}, false
}

// markOut marks an entry of the engine-out list that is no job as done. With
// the powertrain in it cannot have been reached.
func (m *Model) markOut(it assess.OutItem) {
	if m.now.Build.Powertrain.Standing == project.StandsIn {
		m.say(theme.Doubt, "The powertrain is in, so this cannot be reached; o notes that it came out.")
		return
	}
	switch it.Kind {
	case assess.OutWeld:
		m.weldTo(pane.WeldOn{Index: it.Index, Side: it.Side}, project.WeldFinished, "", "")
	case assess.OutFastener:
		m.do("done: "+project.Printable(it.Text), edit.Edit{Op: edit.OpSet, Path: fmt.Sprintf("fastener[%d].marked", it.Index), Text: "true"})
	}
}

// askDrop takes a job out of the list. One that others wait for is asked about,
// and they wait for what it waited for from then on.
func (m *Model) askDrop(i int) {
	drop := func(m *Model) {
		edits, err := edit.DropJob(m.sess.Now(), i)
		if err != nil {
			m.say(theme.Danger, "Not dropped: %v", err)
			return
		}
		if m.do("dropped: "+project.Printable(m.now.Jobs[i].Title), edits...) {
			m.saysUndo()
		}
	}
	waiting := edit.Waiting(m.sess.Now(), i)
	if len(waiting) == 0 {
		drop(m)
		return
	}
	q := &question{
		title:   "Other jobs wait for this one",
		text:    []string{m.theme.Plain(project.Printable(m.now.Jobs[i].Title)), "Dropped, it holds them no more; they wait for what it waited for:"},
		choices: []choice{{"y", "drop it all the same", drop}},
	}
	for n, k := range waiting {
		if n == 5 {
			q.text = append(q.text, fmt.Sprintf("and %d more", len(waiting)-n))
			break
		}
		q.text = append(q.text, "- "+m.theme.Plain(project.Printable(m.now.Jobs[k].Title)))
	}
	m.open(q)
}
