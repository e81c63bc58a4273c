// Package jobs is the pane with the job list and what belongs to it: the steps
// with their state, the engine-out list, the readings, the fasteners.
package jobs

import (
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"
)

// leaf is one page of the pane.
type leaf int

const (
	steps leaf = iota
	engineOut
	readings
	fasteners
	leaves
)

var leafNames = [leaves]string{"list", "engine-out", "measured", "fasteners"}

// Pane is the state of the Jobs pane: which leaf is up, and where its cursor
// is in each.
type Pane struct {
	leaf leaf
	at   [leaves]int
}

// Start puts the cursor on the first job that can be done, and with the
// powertrain out on what can only be done now.
func (p *Pane) Start(a *assess.Assessment) {
	best := -1
	for i, j := range a.Jobs {
		if j.State == assess.Open || j.State == assess.ProveAgain {
			p.at[steps] = i
			best = i
			break
		}
	}
	for i, j := range a.Jobs {
		if best < 0 && j.State != assess.Done {
			p.at[steps], best = i, i
		}
	}
	if a.Out() {
		p.ShowOut()
	}
}

// ShowOut turns to the engine-out list.
func (p *Pane) ShowOut() { p.leaf = engineOut }

// Job returns the index of the job under the cursor, -1 when there is none.
func (p *Pane) Job(a *assess.Assessment) int {
	if len(a.Jobs) == 0 {
		return -1
	}
	return pane.Cursor(p.at[steps], len(a.Jobs))
}

// Key turns an action into an intent.
func (p *Pane) Key(id action.ID, v pane.View) pane.Intent {
	switch id {
	case pane.NextLeaf:
		p.leaf = (p.leaf + 1) % leaves
		return nil
	case pane.PrevLeaf:
		p.leaf = (p.leaf + leaves - 1) % leaves
		return nil
	}
	n := p.rows(v.A)
	if n == 0 {
		return nil
	}
	at := pane.Cursor(p.at[p.leaf], n)
	switch id {
	case pane.Up:
		at = pane.Cursor(at-1, n)
	case pane.Down:
		at = pane.Cursor(at+1, n)
	}
	p.at[p.leaf] = at
	switch p.leaf {
	case steps:
		return p.stepKey(id, at, n)
	case engineOut:
		return outKey(id, v.A.EngineOut[at])
	case fasteners:
		return mapKey(id, v.A, at)
	}
	return nil
}

// rows is how many rows of the leaf can have the cursor.
func (p *Pane) rows(a *assess.Assessment) int {
	switch p.leaf {
	case engineOut:
		return len(a.EngineOut)
	case readings:
		return len(readingRows(pane.View{A: a}, 0))
	case fasteners:
		return len(a.Fasteners) + len(a.Build.Fluids) + len(sides(a))
	}
	return len(a.Jobs)
}

// Draw draws the pane's content for w by h cells.
func (p *Pane) Draw(w, h int, v pane.View) pane.Frame {
	count := v.A.Headcount()
	notes := []string{count.String(), fmt.Sprintf("%d of %d done", count.Done, count.Total)}
	var f pane.Frame
	switch p.leaf {
	case steps:
		f.Lines = p.drawSteps(w, h, v)
	case engineOut:
		notes = []string{fmt.Sprintf("%d open", len(v.A.EngineOut))}
		f.Lines = p.drawOut(w, h, v)
	case readings:
		notes = []string{""}
		f.Lines = p.list(readingRows(v, w), h, v)
		if len(f.Lines) == 0 {
			f.Lines = theme.Wrap("Nothing measured yet. n takes a gauge reading, m a tape, plumb line or level.", w)
		}
	case fasteners:
		notes = []string{""}
		f.Lines = p.drawFasteners(w, h, v)
	}
	f.Title, f.Note = pane.LeafTitle("Jobs", leafNames[:], int(p.leaf), w, notes, v.Theme)
	return f
}

// row is one entry of a plain list: its first line and what hangs under it.
type row struct {
	head string
	more []string
}

// list draws rows with the cursor, in a window of h lines.
func (p *Pane) list(rows []row, h int, v pane.View) []string {
	if len(rows) == 0 {
		return nil
	}
	at := pane.Cursor(p.at[p.leaf], len(rows))
	var lines []string
	cursor := 0
	for i, r := range rows {
		mark, role := "  ", theme.Text
		if i == at {
			cursor = len(lines)
			mark = v.Theme.Bullet + " "
			if v.Focused {
				mark, role = v.Theme.Focus+" ", theme.Selected
			}
		}
		lines = append(lines, v.Theme.Paint(role, mark+r.head))
		for _, m := range r.more {
			lines = append(lines, "  "+v.Theme.Paint(theme.Dim, m))
		}
	}
	top := pane.Window(cursor, len(lines), h)
	return lines[top:min(len(lines), top+max(h, 0))]
}
