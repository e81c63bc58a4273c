// Package jobs is the pane with the job list: what is done, what is open and
// what holds it.
package jobs

import (
	"fmt"

	"fitup/internal/project"
	"fitup/internal/project/assess"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// Pane is the state of the Jobs pane: which job has the cursor.
type Pane struct{ at int }

// Start puts the cursor on the first job that is still open.
func (p *Pane) Start(a *assess.Assessment) {
	for i, j := range a.Jobs {
		if !j.Done {
			p.at = i
			return
		}
	}
}

// Key turns an action into an intent.
func (p *Pane) Key(id action.ID, v pane.View) pane.Intent {
	n := len(v.A.Jobs)
	if n == 0 {
		return nil
	}
	p.at = pane.Cursor(p.at, n)
	switch id {
	case pane.Up:
		p.at = pane.Cursor(p.at-1, n)
	case pane.Down:
		p.at = pane.Cursor(p.at+1, n)
	case pane.Tick, pane.Enter:
		return pane.ToggleJob{Index: p.at}
	}
	return nil
}

// Draw draws the pane's content for w by h cells.
func (p *Pane) Draw(w, h int, v pane.View) pane.Frame {
	done, total := v.A.Progress()
	f := pane.Frame{Title: "Jobs", Note: fmt.Sprintf("%d of %d done", done, total)}
	if total == 0 {
		f.Lines = theme.Wrap("No jobs in this build yet. Add [[job]] entries to the file.", w)
		return f
	}
	p.at = pane.Cursor(p.at, total)
	var lines []string
	cursor, stage := 0, ""
	for i, j := range v.A.Jobs {
		if j.Stage != stage {
			stage = j.Stage
			lines = append(lines, v.Theme.Paint(theme.Dim, project.Printable(stage)))
		}
		if i == p.at {
			cursor = len(lines)
		}
		lines = append(lines, p.line(w, i, j, v))
	}
	foot := p.foot(w, v.A.Jobs[p.at], v)
	room := max(h-len(foot), min(h, 3))
	top := pane.Window(cursor, len(lines), room)
	lines = lines[top:min(len(lines), top+room)]
	f.Lines = append(lines, foot...)
	return f
}

func (p *Pane) line(w, i int, j assess.Job, v pane.View) string {
	mark, role := "  ", theme.Text
	if j.Done {
		role = theme.Dim
	}
	if i == p.at {
		mark = v.Theme.Bullet + " "
		if v.Focused {
			mark, role = v.Theme.Focus+" ", theme.Selected
		}
	}
	held := "  "
	if j.Held && !j.Done {
		held = v.Theme.StatusSign(worstHold(j)) + " "
	}
	title := v.Theme.Cut(project.Printable(j.Title), max(w-8, 0))
	return v.Theme.Paint(role, mark+v.Theme.Tick(j.Done)) + " " + held + v.Theme.Paint(role, title)
}

func worstHold(j assess.Job) theme.Status {
	worst := assess.OK
	for _, h := range j.Holds {
		worst = max(worst, h.Status)
	}
	return pane.Status(worst)
}

// foot says what holds the job under the cursor, or its note.
func (p *Pane) foot(w int, j assess.Job, v pane.View) []string {
	var out []string
	for _, h := range j.Holds {
		if h.Status == assess.OK || j.Done {
			continue
		}
		out = append(out, v.Theme.Cut(v.Theme.Status(pane.Status(h.Status))+" "+project.Printable(h.Title), w))
	}
	if j.Note != "" {
		for _, l := range theme.Wrap(project.Printable(j.Note), w) {
			out = append(out, v.Theme.Paint(theme.Dim, l))
		}
	}
	if len(out) > 0 {
		out = append([]string{""}, out...)
	}
	return out[:min(len(out), 6)]
}
