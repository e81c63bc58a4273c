package ui

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
	"fitup/internal/project/session"
	"fitup/internal/ui/action"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/pane/drawing"
	"fitup/internal/ui/theme"
)

// perform does one action, whether it came from a key or from the search.
func (m *Model) perform(id action.ID) {
	switch id {
	case actNextPane:
		m.cycle(1)
	case actPrevPane:
		m.cycle(-1)
	case actZoom:
		m.zoomed = !m.zoomed
	case actStepSmaller:
		m.setStep(m.step - 1)
	case actStepLarger:
		m.setStep(m.step + 1)
	case actUndo:
		m.rewind("Undone: ", "Nothing to undo.", m.sess.Undo)
	case actRedo:
		m.rewind("Done again: ", "Nothing to do again.", m.sess.Redo)
	case actSave:
		m.save(false, whatever)
	case actSaveAs:
		m.open(newSaveAs(m))
	case actQuit:
		m.askQuit()
	case actJobAdd, actJobList, actDoneTo, actEngine, actShake, actMeasure, actTape:
		m.performJobs(id)
	case actHelp, actSearch, actTrail, actWalk, actMessages, actFindings, actInFull, actPrint, actData, actDataHere, actLarge, actPropose, actRound:
		m.performOpen(id)
	case actWatch:
		m.watchNext()
	case actFit:
		m.fitStop()
	case pane.NextLeaf, pane.PrevLeaf:
		m.turnLeaf(id)
	case pane.Read:
		m.askReading()
	default:
		if slices.Contains(drawing.Actions(), id) {
			m.intent(m.panes[layout.Sketch].Key(id, m.view(layout.Sketch)))
			return
		}
		if p, ok := paneOf(id); ok {
			m.focus = p
			m.point()
			return
		}
		m.intent(m.paneKey(id))
	}
}

// performOpen opens what an action leads to over the panes.
func (m *Model) performOpen(id action.ID) {
	switch id {
	case actHelp:
		m.open(newHelp(m))
	case actSearch:
		m.open(newSearch(m))
	case actTrail:
		m.openTrail()
	case actWalk:
		m.startLesson()
	case actMessages:
		m.open(newMessages())
	case actFindings:
		m.open(newFindings(m))
	case actInFull:
		m.openInFull()
	case actPrint:
		m.openPrint()
	case actData:
		m.openData()
	case actDataHere:
		m.openDataHere()
	case actLarge:
		m.open(newLarge(m))
	case actTrials:
		m.openTrials()
	case actPropose:
		m.openProposals()
	case actRound:
		m.openRound()
	}
}

func (m *Model) paneKey(id action.ID) pane.Intent { return m.panes[m.focus].Key(id, m.view(m.focus)) }

// turnLeaf opens another leaf of the pane in focus, if it has more than one.
func (m *Model) turnLeaf(id action.ID) {
	if _, ok := m.panes[m.focus].(pane.Paged); !ok {
		m.say(theme.Dim, "The sketch has one page only; v turns it.")
		return
	}
	m.intent(m.paneKey(id))
}

// intent does what a pane asks for.
func (m *Model) intent(in pane.Intent) {
	switch in := in.(type) {
	case pane.Nudge:
		m.nudge(in)
	case pane.AskRow:
		m.open(newAskRow(m, in.Row))
	case pane.AskReading:
		m.open(newReading(m, in.Of))
	case pane.DropReading:
		m.dropOf(in.Index)
	case pane.ToggleJob:
		m.toggle(in.Index)
	case pane.ShowJob, pane.RemoveJob, pane.ShiftJob, pane.MarkOut, pane.MarkFastener, pane.FillFluid, pane.WeldOn, pane.Inspect:
		m.jobIntent(in)
	case pane.ShowData:
		m.openDataHere()
	case pane.Say:
		m.say(theme.Doubt, "%s", in.Text)
	}
}

func (m *Model) cycle(by int) {
	n := len(m.panes)
	m.focus = layout.Slot((int(m.focus) + by + n) % n)
	m.point()
}

func (m *Model) setStep(i int) {
	m.step = pane.Cursor(i, len(m.steps))
	v := m.view(m.focus)
	s := m.steps[m.step]
	one := func(k quantity.Kind, x float64) string {
		return v.Number(k, assess.Exact(x), v.StepDigits(k))
	}
	m.say(theme.Dim, "One step is now %s, or %s.", one(quantity.Length, s.Length), one(quantity.Angle, s.Angle))
}

func (m *Model) rowInfo(r project.RowID) assess.Row {
	for _, row := range m.now.Rows {
		if row.Row == r {
			return row
		}
	}
	return assess.Row{}
}

// nudge moves a row by steps.
func (m *Model) nudge(n pane.Nudge) {
	row := m.rowInfo(n.Row)
	m.moveRow(row, row.Now.V+float64(n.Steps)*m.steps[m.step].For(row.Kind), "")
}

// moveRow makes a row read target and says in trade words what that did. What was
// typed for it without a unit, if anything, is a number in the file's unit.
func (m *Model) moveRow(row assess.Row, target float64, typed string) bool {
	edits, err := edit.MoveRow(m.sess.Now(), row.Row, target)
	if err != nil {
		m.say(theme.Danger, "Cannot move the %s there: %v", row.Label, err)
		return false
	}
	for i := range edits {
		if typed == "" || edit.HasUnit(typed) || edits[i].Path != row.Name {
			continue
		}
		if e, err := edit.SetText(m.sess.Now(), row.Name, typed); err == nil {
			edits[i] = e
		}
	}
	v := m.view(m.focus)
	from := v.Number(row.Kind, row.Now, v.Digits(row.Kind))
	to := v.Number(row.Kind, assess.Exact(target), v.Digits(row.Kind))
	m.moving = row.Name
	defer func() { m.moving = "" }()
	done := m.do(fmt.Sprintf("%s %s %s %s", row.Label, from, m.theme.Right, to), edits...)
	switch {
	case done && typed == "":
		m.practised.nudged++
	case done:
		m.practised.typed++
	}
	return done
}

// do applies edits and assesses the build again. It reports whether the edits
// were taken.
func (m *Model) do(label string, edits ...edit.Edit) bool {
	said := label
	if len(edit.BoundsDropped(m.sess.Now(), edits)) > 0 {
		said += "; the ± was of the old value and is gone with it"
	}
	err := m.sess.Do(label, edits...)
	var je *session.JournalError
	if err != nil && !errors.As(err, &je) {
		m.say(theme.Danger, "Not changed: %s", firstLine(err))
		return false
	}
	m.assess(said)
	if err != nil {
		m.journalled(err)
	}
	return true
}

// assess runs the assessment of the present state and says what changed.
func (m *Model) assess(label string) {
	before := m.now
	m.writeAhead()
	m.reassess()
	m.tell(before, label)
}

// assessing assesses the build as it is after another, as assess.Again does.
type assessing func(before *assess.Assessment, b *project.Build) *assess.Assessment

// reassess runs the assessment of the present state.
func (m *Model) reassess() {
	before := m.now
	m.now = m.again(m.now, m.sess.Now().Build)
	m.stood.moved(before, m.now, m.moving)
	m.steps = stepsFor(m.now.Build.Units) // a file loaded again can have other units
}

// tell says what was done and what has changed since before.
func (m *Model) tell(before *assess.Assessment, label string) {
	text := label
	role := theme.Text
	for i, c := range assess.Changes(m.sinceFit(before), m.now) {
		if i == 2 {
			text += ", and more"
			break
		}
		text += fmt.Sprintf("; %s: %s %s %s", c.Finding.Title, c.From, m.theme.Right, c.Finding.Status)
		role = pane.Status(c.Finding.Status).Role()
	}
	m.say(role, "%s", text)
}

func (m *Model) rewind(done, none string, f func() (string, bool, error)) {
	label, ok, err := f()
	if !ok {
		m.say(theme.Dim, "%s", none)
		return
	}
	m.practised.undone++
	m.assess(done + label)
	if err != nil {
		m.journalled(err)
	}
}

func (m *Model) dropReading(i int) {
	if m.do(fmt.Sprintf("reading %d taken out", i+1), edit.Edit{Op: edit.OpRemove, Path: fmt.Sprintf("reading[%d]", i)}) {
		m.saysUndo()
	}
}

// saysUndo adds to the message the key that takes back what was done: for keys that
// change much at once.
func (m *Model) saysUndo() {
	if a, ok := m.actions.Get(actUndo); ok && len(a.Keys) > 0 {
		m.message.text = strings.TrimSuffix(m.message.text, ".") + ". " + a.KeyText() + " takes it back."
	}
}

// askReading opens the form for a reading of what the cursor of the pane in
// focus is on, or of the first axis that has none.
func (m *Model) askReading() {
	if ask, ok := m.paneKey(pane.Read).(pane.AskReading); ok {
		m.open(newReading(m, ask.Of))
		return
	}
	for _, l := range m.now.Lines {
		for _, x := range l.Axes {
			if !x.Read.Known {
				m.open(newReading(m, x.Target))
				return
			}
		}
	}
	m.open(newReading(m, project.TargetPowertrain))
}

func (m *Model) watchNext() {
	ids := m.now.Watchable()
	if len(ids) == 0 {
		m.say(theme.Dim, "No finding has a value yet; enter readings or geometry first.")
		return
	}
	f, _ := m.watched()
	m.watch = ids[(slices.Index(ids, f.ID)+1)%len(ids)]
	f, _ = m.now.Finding(m.watch)
	m.say(theme.Text, "Watching %s.", f.Title)
}

func firstLine(err error) string {
	line, _, _ := strings.Cut(err.Error(), "\n")
	return project.Printable(line)
}
