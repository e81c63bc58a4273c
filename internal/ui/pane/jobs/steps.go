package jobs

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/scene"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

func (p *Pane) stepKey(id action.ID, _ pane.Item, at int, v pane.View) pane.Intent {
	if at < 0 {
		return nil
	}
	switch id {
	case pane.Tick:
		return pane.ToggleJob{Index: at}
	case pane.Enter:
		return pane.ShowJob{Index: at}
	case pane.DropJob:
		return pane.RemoveJob{Index: at}
	case pane.JobUp, pane.JobDown:
		by := 1
		if id == pane.JobUp {
			by = -1
		}
		p.Put(steps, pane.Cursor(at+by, len(v.A.Jobs)))
		return pane.ShiftJob{Index: at, By: by}
	}
	return nil
}

// stepItems are the jobs, each stage under its heading.
func stepItems(w int, v pane.View) []pane.Item {
	stages := map[string]assess.Stage{}
	for _, s := range v.A.Stages() {
		stages[s.Name] = s
	}
	var out []pane.Item
	stage := "\x00"
	for _, j := range v.A.Jobs {
		if j.Stage != stage {
			stage = j.Stage
			out = append(out, pane.Item{Paint: func(string, theme.Role) string { return v.Theme.Paint(theme.Dim, heading(w, stages[j.Stage], v)) }})
		}
		it := pane.Item{Stop: true, Subject: subject(j), Paint: func(mark string, role theme.Role) string { return step(w, j, mark, role, v) }}
		if j.State == assess.Done {
			it.Role = theme.Dim
		}
		out = append(out, it)
	}
	return out
}

// subject is what a job is about, for the sketch: the first finding that holds it, or else
// the first that it waits for. What it rests on may be another job, which is nowhere.
func subject(j assess.Job) string {
	first := ""
	for _, h := range j.Holds {
		switch place := scene.Subject(h.ID); {
		case place == "" || strings.HasPrefix(h.ID, "job."):
		case h.Holds():
			return h.ID
		case first == "":
			first = h.ID
		}
	}
	return first
}

// wrapped are the same rows with the titles that are cut carried on below: all of them,
// or that of the job with an index only.
func wrapped(w int, items []pane.Item, only int, v pane.View) []pane.Item {
	out, n := slices.Clone(items), -1
	for i := range out {
		if !out[i].Stop {
			continue
		}
		if n++; only >= 0 && n != only {
			continue
		}
		j := v.A.Jobs[n]
		if lines := theme.Wrap(listed(j), max(w-8, 1)); len(lines) > 1 {
			out[i].Paint = func(mark string, role theme.Role) string { return stepLine(j, lines[0], mark, role, v) }
			for _, l := range lines[1:] {
				out[i].More = append(out[i].More, "      "+l)
			}
		}
	}
	return out
}

func (p *Pane) drawSteps(w, h int, v pane.View) []string {
	at := p.Job(v.A)
	if at < 0 {
		return theme.Wrap("No jobs in this build yet. A puts the built-in list in, a adds one of your own.", w)
	}
	items := stepItems(w, v)
	foot := foot(w, min(max(6, h/3), h-3), v.A.Jobs[at], v)
	room := max(h-len(foot), min(h, 3))
	if whole := wrapped(w, items, -1, v); pane.Height(whole) <= room {
		items = whole
	} else {
		items = wrapped(w, items, at, v)
	}
	return append(pane.Part(w, items, p.Cursor(items), room, v), foot...)
}

// heading is the name of a stage and how far it is.
func heading(w int, s assess.Stage, v pane.View) string {
	note := fmt.Sprintf(" %d of %d", s.Done, s.Total)
	return v.Theme.Cut(project.Printable(s.Name), max(w-len(note), 1)) + note
}

// step is the line of one job.
func step(w int, j assess.Job, mark string, role theme.Role, v pane.View) string {
	return stepLine(j, v.Theme.Cut(listed(j), max(w-8, 0)), mark, role, v)
}

// stepLine is that line with these words.
func stepLine(j assess.Job, title, mark string, role theme.Role, v pane.View) string {
	sign := "  "
	switch {
	case j.State == assess.ProveAgain:
		sign = v.Theme.StatusSign(theme.Tight) + " "
	case j.State == assess.InDoubt:
		sign = v.Theme.StatusSign(theme.Unknown) + " "
	case j.State == assess.Held && waits(j):
		sign = "- "
	case j.State == assess.Held:
		sign = v.Theme.StatusSign(worstHold(j)) + " "
	case j.Overridden:
		sign = "! "
	}
	return v.Theme.Paint(role, mark+v.Theme.Tick(j.State == assess.Done)) + " " + sign + v.Theme.Paint(role, title)
}

// listed is the title of a job as the list has it.
func listed(j assess.Job) string {
	title := project.Printable(j.Title)
	if j.State == assess.ProveAgain {
		title = "prove again: " + title
	}
	if j.State == assess.InDoubt {
		title = "in doubt: " + title
	}
	return title
}

// waits reports whether the job waits for nothing but other jobs and for the
// powertrain: nothing is wrong and nothing is not known.
func waits(j assess.Job) bool {
	for _, h := range j.Holds {
		if h.Holds() && !h.Waits() {
			return false
		}
	}
	return true
}

func worstHold(j assess.Job) theme.Status {
	worst := assess.OK
	for _, h := range j.Holds {
		if h.Holds() {
			worst = max(worst, h.Status)
		}
	}
	return pane.Status(worst)
}

// WordRole is how what is said before a hold point looks.
func WordRole(w assess.Word) theme.Role {
	switch w {
	case assess.GoOn:
		return theme.Good
	case assess.Measure:
		return theme.Doubt
	}
	return theme.Danger
}

// foot says under the list, in most rows and an empty one among them, what the job under the cursor waits for, why it has to be
// proved again, that it was overridden, and what to mind.
func foot(w, most int, j assess.Job, v pane.View) []string {
	var out []string
	add := func(r theme.Role, text string) {
		if text == "" {
			return
		}
		for _, l := range theme.Wrap(v.Theme.Plain(project.Printable(text)), max(w, 1)) {
			out = append(out, v.Theme.Paint(r, l))
		}
	}
	if j.State == assess.ProveAgain {
		add(theme.Warn, "prove again: "+strings.Join(j.Broken, "; "))
	}
	if j.State == assess.InDoubt {
		add(theme.Warn, "in doubt: "+strings.Join(j.Doubts, "; "))
	}
	if b, ok := v.A.Before(j); ok {
		add(WordRole(b.Word), b.Text)
		if v.Next != nil && b.Word != assess.MoveIt {
			add(theme.Accent, v.Next(j))
		}
	}
	if j.State == assess.Held {
		for _, h := range j.Holds {
			if h.Holds() {
				sign := v.Theme.Sign(pane.Status(h.Status))
				if h.Waits() {
					sign = "-"
				}
				add(pane.Status(h.Status).Role(), sign+" "+h.Text)
			}
		}
	}
	if j.Overridden {
		add(theme.Warn, "overridden: "+j.Override)
	}
	for _, c := range v.A.Changed(j) {
		add(theme.Warn, c)
	}
	if j.State != assess.Done {
		for _, c := range j.Cautions {
			add(theme.Warn, c)
		}
	}
	if j.Note != "" {
		add(theme.Dim, j.Note)
	}
	if len(out) == 0 || most < 3 {
		return nil
	}
	if len(out) > most-1 {
		out = append(out[:most-2], v.Theme.Paint(theme.Dim, v.Theme.Cut("enter shows the rest", w)))
	}
	return append([]string{""}, out...)
}
