package ui

import (
	"slices"

	"fitup/internal/ui/action"
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/pane/drawing"
	"fitup/internal/ui/pane/driveline"
	"fitup/internal/ui/pane/frame"
	"fitup/internal/ui/pane/jobs"
	"fitup/internal/ui/pane/mounts"
)

// Scopes, one for each pane.
const (
	scopeSketch    action.Scope = "sketch"
	scopeMounts    action.Scope = "mounts"
	scopeDriveline action.Scope = "driveline"
	scopeFrame     action.Scope = "frame"
	scopeJobs      action.Scope = "jobs"

	scopeData  action.Scope = "data"  // of the data page
	scopeRound action.Scope = "round" // of the round of readings

	scopePropose action.Scope = "proposals" // of the box of proposals
)

// benchPane is what the bench knows of a pane: all there is outside its own
// room.
type benchPane struct {
	name  string           // as the bar of a small screen has it
	scope action.Scope     // of the keys that only it has
	make  func() pane.Pane // with its cursors at rest
	// focus is the key that leads to it: the number of its place. Its label is
	// the scope.
	focus action.ID
	help  string
	enter string // what Enter does, for the footer, where the pane does not say
	steps bool   // left and right go by the step of a nudge
}

// benchPanes are the panes in the order in which they are shown and stepped
// through. The first is the sketch, which has a place of its own. A pane more is
// an entry more.
var benchPanes = []benchPane{
	layout.Sketch: {
		name: "Sketch", scope: scopeSketch, make: func() pane.Pane { return &drawing.Pane{} },
		focus: "focus.sketch", help: "Go to the sketch.", enter: "next view",
	},
	{
		name: "Mounts", scope: scopeMounts, make: func() pane.Pane { return mounts.New() },
		focus: "focus.mounts", help: "Go to the Mounts pane.",
		steps: true,
	},
	{
		name: "Driveline", scope: scopeDriveline, make: func() pane.Pane { return driveline.New() },
		focus: "focus.driveline", help: "Go to the Driveline pane.",
	},
	{
		name: "Frame", scope: scopeFrame, make: func() pane.Pane { return frame.New() },
		focus: "focus.frame", help: "Go to the Frame pane.",
	},
	{
		name: "Jobs", scope: scopeJobs, make: func() pane.Pane { return jobs.New() },
		focus: "focus.jobs", help: "Go to the Jobs pane.",
	},
}

// firstPane has the focus at the start.
const firstPane = layout.Sketch + 1

// focusActions are the rows of the keys that lead to the panes.
func focusActions() []action.Action {
	var out []action.Action
	for i, p := range benchPanes {
		out = append(out, action.Action{ID: p.focus, Scope: action.Everywhere, Keys: []string{string(rune('1' + i))}, Label: string(p.scope), Help: p.help})
	}
	return out
}

// paneOf is the pane that an action goes to.
func paneOf(id action.ID) (layout.Slot, bool) {
	i := slices.IndexFunc(benchPanes, func(p benchPane) bool { return p.focus == id })
	return layout.Slot(i), i >= 0
}

// paneWith is the place of the pane with that scope; there has to be one.
func paneWith(s action.Scope) layout.Slot {
	return layout.Slot(slices.IndexFunc(benchPanes, func(p benchPane) bool { return p.scope == s }))
}

// scopeOf returns the scope of the pane in focus.
func scopeOf(p layout.Slot) action.Scope { return benchPanes[p].scope }

// newPanes makes the panes of a bench.
func newPanes() []pane.Pane {
	var out []pane.Pane
	for _, p := range benchPanes {
		out = append(out, p.make())
	}
	return out
}

// plan lays the panes out on the screen.
func (m *Model) plan() layout.Plan {
	edges := layout.Edges{Message: len(m.lessonLines()) + len(m.messageLines()), Footer: 1}
	if len(m.dialogs) == 0 && (m.width < layout.StackW || m.height < layout.StackH) { // a box says its keys itself
		edges.Footer = 2
	}
	return layout.Compute(m.width, m.height, len(m.panes)-1, m.focus, m.zoomed, edges)
}

// mounts is the pane whose cursor says what a nudge moves.
func (m *Model) mounts() *mounts.Pane { return m.panes[paneWith(scopeMounts)].(*mounts.Pane) }

// jobs is the pane whose cursor says where a job is added.
func (m *Model) jobs() *jobs.Pane { return m.panes[paneWith(scopeJobs)].(*jobs.Pane) }
