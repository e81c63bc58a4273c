// Package jobs is the pane with the job list and what belongs to it: the steps
// with their state, the engine-out list, the readings, the fasteners.
package jobs

import (
	"fmt"

	"fitup/internal/assess"
	"fitup/internal/ui/pane"
)

// Pane is the state of the Jobs pane.
type Pane struct{ pane.Leaves }

// The leaves, in order.
const (
	steps = iota
	engineOut
	readings
	fasteners
)

// New makes the pane.
func New() *Pane {
	p := &Pane{}
	p.Leaves = pane.Leaves{Name: "Jobs", Notes: p.notes, Pages: []pane.Leaf{
		steps:     {Name: "list", Items: stepItems, Draw: p.drawSteps, Key: p.stepKey},
		engineOut: {Name: "engine-out", Items: outItems, Draw: p.drawOut, Key: outKey},
		readings:  {Name: "measured", Items: readingItems, Draw: p.drawReadings},
		fasteners: {Name: "fasteners", Items: fastenerItems, Draw: p.drawFasteners, Key: fastenerKey},
	}}
	return p
}

// Words are what Enter does, for the footer.
func (p *Pane) Words(pane.View) (sides, enter string) {
	if p.Open() == steps || p.Open() == engineOut {
		return "", "show"
	}
	return "", ""
}

// Start puts the cursor on the first job that can be done, and with the
// powertrain out on what can only be done now.
func (p *Pane) Start(a *assess.Assessment) {
	best := -1
	for i, j := range a.Jobs {
		if j.State == assess.Open || j.State == assess.ProveAgain {
			p.Put(steps, i)
			best = i
			break
		}
	}
	for i, j := range a.Jobs {
		if best < 0 && j.State != assess.Done {
			p.Put(steps, i)
			best = i
		}
	}
	if a.Out() {
		p.ShowOut()
	}
}

// ShowOut turns to the engine-out list.
func (p *Pane) ShowOut() { p.Show(engineOut) }

// ShowStep turns to the list and puts the cursor on the job with that index.
func (p *Pane) ShowStep(i int) {
	p.Show(steps)
	p.Put(steps, i)
}

// Job returns the index of the job under the cursor, -1 when there is none.
func (p *Pane) Job(a *assess.Assessment) int {
	return p.At(steps, len(a.Jobs))
}

// notes are the count of jobs, or of what is open with the powertrain out.
func (p *Pane) notes(v pane.View) []string {
	switch p.Open() {
	case steps:
		count := v.A.Headcount()
		return []string{count.String(), fmt.Sprintf("%d of %d done", count.Done, count.Total)}
	case engineOut:
		return []string{fmt.Sprintf("%d open", len(v.A.EngineOut))}
	}
	return []string{""}
}
