package ui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/ui/action"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/pane/jobs"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// performJobs does the actions of the Jobs pane that no row is needed for.
func (m *Model) performJobs(id action.ID) {
	f := m.sess.Now()
	switch id {
	case actJobAdd:
		m.open(newAskJob(m))
	case actJobList:
		e, n, err := edit.AddJobs(f)
		switch {
		case err != nil:
			m.say(theme.Danger, "Not added: %s", firstLine(err))
		case n == 0:
			m.say(theme.Dim, "The jobs of the built-in list are in the file already.")
		default:
			m.open(newSure("The built-in list", fmt.Sprintf("This puts %d jobs of the built-in list into the file. u takes them out again.", n), func(m *Model) {
				if m.do(fmt.Sprintf("%d jobs of the built-in list added", n), e) {
					m.saysUndo()
				}
			}))
		}
	case actDoneTo:
		m.askDoneTo()
	case actEngine:
		m.turnEngine()
	case actShake:
		m.open(newShake(m))
	case actMeasure, actTape:
		m.open(newMeasurement(m))
	}
}

// jobIntent does what a row of the Jobs pane asks for.
func (m *Model) jobIntent(in pane.Intent) {
	f := m.sess.Now()
	set := func(label, path, literal string) {
		m.do(label, edit.Edit{Op: edit.OpSet, Path: path, Text: literal})
	}
	switch in := in.(type) {
	case pane.ShowJob:
		m.open(&jobCard{index: in.Index})
	case pane.RemoveJob:
		m.askDrop(in.Index)
	case pane.ShiftJob:
		e, err := edit.MoveJob(f, in.Index, in.By)
		if err != nil {
			m.say(theme.Doubt, "Not moved: %v", err)
			return
		}
		m.do("moved: "+project.Printable(m.now.Jobs[in.Index].Title), e)
	case pane.MarkOut:
		m.markOut(in.Item)
	case pane.WeldOn:
		m.weldOn(in)
	case pane.Inspect:
		m.inspect(in)
	case pane.MarkFastener:
		x := m.now.Fasteners[in.Index]
		if x.Marked && len(x.Due) > 0 { // it was due, so this is the check and not a mark taken away
			km := strconv.FormatFloat(f.Build.Vehicle.DrivenKm.V(), 'f', -1, 64)
			set("checked again at "+km+" km: "+project.Printable(x.Name), fmt.Sprintf("fastener[%d].rechecked_km", in.Index), km)
			return
		}
		set("paint mark: "+project.Printable(x.Name), fmt.Sprintf("fastener[%d].marked", in.Index), fmt.Sprint(!x.Marked))
	case pane.FillFluid:
		x := f.Build.Fluids[in.Index]
		set("fluid: "+project.Printable(x.Name), fmt.Sprintf("fluid[%d].filled", in.Index), fmt.Sprint(!x.Filled))
	}
}

// toggle ticks a job, opens a done one again, and proves one again that has
// to be. A held one asks for the reason of an override.
func (m *Model) toggle(i int) {
	j := m.now.Jobs[i]
	if j.State == assess.Done {
		m.do("open again: "+project.Printable(j.Title), edit.UntickJob(m.sess.Now(), i)...)
		return
	}
	if j.Held {
		_, err := m.now.Tick(i, "")
		m.say(theme.Danger, "Held: %v", err)
		m.open(newOverride(m, jobAt(j.ID), j.Holds, "", func(m *Model, reason string) { m.tick(i, reason) }))
		return
	}
	m.tick(i, "")
}

func (m *Model) tick(i int, override string) bool {
	j := m.now.Jobs[i]
	t, err := m.now.Tick(i, override)
	if err != nil {
		m.say(theme.Danger, "Held: %v", err)
		return false
	}
	t.Day = m.today()
	label := "ticked: "
	switch {
	case t.Override != "":
		label = "ticked with an override: "
	case j.State == assess.ProveAgain || j.State == assess.InDoubt:
		label = "proved again: "
	}
	if !m.do(label+project.Printable(j.Title), edit.TickJob(m.sess.Now(), i, t)...) {
		return false
	}
	m.saysHoldPoint()
	return true
}

// saysHoldPoint adds to the message what is said before a job that is hard to undo, where
// that is the next one to do.
func (m *Model) saysHoldPoint() {
	next := slices.IndexFunc(m.now.Jobs, func(j assess.Job) bool { return j.State != assess.Done })
	if next < 0 {
		return
	}
	if b, ok := m.now.Before(m.now.Jobs[next]); ok {
		text := strings.TrimSuffix(m.message.text, ".") + `. Next, "` + project.Printable(m.now.Jobs[next].Title) + `": ` + project.Printable(b.Text)
		m.message.text = m.theme.Plain(text)
	}
}

// turnEngine notes that the powertrain went the other way. Going back in with
// the engine-out list open is warned.
func (m *Model) turnEngine() {
	set := func(m *Model, to project.Standing) {
		e, err := edit.SetText(m.sess.Now(), "powertrain.standing", string(to))
		if err != nil {
			m.say(theme.Danger, "%s", firstLine(err))
			return
		}
		if !m.do("the powertrain is "+string(to), e) {
			return
		}
		m.saysUndo()
		if to == project.StandsOut {
			m.jobs().ShowOut()
		}
	}
	if m.now.Build.Powertrain.Standing != project.StandsOut {
		set(m, project.StandsOut)
		return
	}
	if n := len(m.now.EngineOut); n > 0 {
		q := &question{
			title:   "The engine-out list is open",
			text:    []string{fmt.Sprintf("%d on it can only be reached while the powertrain is out:", n)},
			choices: []choice{{"y", "put it in all the same", func(m *Model) { set(m, project.StandsIn) }}},
		}
		for i, it := range m.now.EngineOut {
			if i == 5 {
				q.text = append(q.text, "and more")
				break
			}
			q.text = append(q.text, "- "+m.theme.Plain(project.Printable(it.Text)))
		}
		m.open(q)
		return
	}
	set(m, project.StandsIn)
}

// newAskJob asks for the words of a job of the builder's own.
func newAskJob(m *Model) *ask {
	a := &ask{
		title: "A job of your own",
		field: field.New("What is to be done", "", nil).WithTheme(m.theme),
		accept: func(m *Model, text string) bool {
			e, err := edit.InsertJob(m.sess.Now(), m.jobs().Job(m.now), text)
			if err != nil {
				m.say(theme.Doubt, "%s", firstLine(err))
				return false
			}
			return m.do("added: "+project.Printable(strings.TrimSpace(text)), e)
		},
	}
	return a.as(formJob, "")
}

// jobCard is everything about one job.
type jobCard struct {
	scroll
	index int
}

func (c *jobCard) key(m *Model, k tea.KeyMsg) {
	if quitKey(k) {
		m.close()
		return
	}
	if k.String() == " " {
		m.close()
		m.toggle(c.index)
		return
	}
	c.move(k)
}

func (c *jobCard) size(w, h int) (int, int) { return min(90, w-2), h - 2 }

func (c *jobCard) draw(m *Model, w, h int) (string, string, []string) {
	shown, note := c.show(c.lines(m, w), h)
	return "Job", strings.TrimSpace(note + "  space ticks, esc closes"), shown
}

func (c *jobCard) lines(m *Model, w int) []string {
	j := m.now.Jobs[c.index]
	var out []string
	part := func(r theme.Role, head string, texts ...string) {
		if len(texts) == 0 {
			return
		}
		if head != "" {
			out = append(out, m.theme.Paint(theme.Dim, head))
		}
		for _, t := range texts {
			for _, l := range theme.Wrap(m.theme.Plain(project.Printable(t)), max(w-2, 1)) {
				out = append(out, "  "+m.theme.Paint(r, l))
			}
		}
		out = append(out, "")
	}
	some := func(s string) []string {
		if s == "" {
			return nil
		}
		return []string{s}
	}
	out = append(out, theme.Wrap(m.theme.Plain(project.Printable(j.Title)), w)...)
	out = append(out, "")
	state := j.State.String()
	if !j.DoneOn.IsZero() {
		state += ", ticked on " + j.DoneOn.Format("2006-01-02")
	}
	part(theme.Text, "state", state+", in stage: "+j.Stage)
	if b, ok := m.now.Before(j); ok {
		part(jobs.WordRole(b.Word), "before it", b.Text)
		if b.Word != assess.MoveIt {
			part(theme.Accent, "", some(m.nextFor(j))...)
		}
	}
	if j.State == assess.ProveAgain {
		part(theme.Warn, "prove again, because", j.Broken...)
	}
	part(theme.Warn, "in doubt, because it", j.Doubts...)
	part(theme.Warn, "overridden, because", some(j.Override)...)
	part(theme.Warn, "changed in this file", m.now.Changed(j)...)
	part(theme.Text, "it is done when", some(j.Means)...)
	part(theme.Warn, "mind", j.Cautions...)
	var holds []string
	for _, h := range j.Holds {
		holds = append(holds, m.theme.Sign(pane.Status(h.Status))+" "+h.Text)
	}
	part(theme.Text, "it waits for", holds...)
	part(theme.Text, "tools", some(j.Tools)...)
	part(theme.Text, "note", some(j.Note)...)
	return out
}
