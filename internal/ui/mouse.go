package ui

import (
	"fitup/internal/ui/layout"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// wheelRows is how many rows the wheel moves the cursor at a time.
const wheelRows = 3

// mouse takes a click or a turn of the wheel, where somebody wants the mouse. A
// click chooses a pane or a row and does nothing with it.
func (m *Model) mouse(e tea.MouseMsg) {
	if e.Action != tea.MouseActionPress || m.plan().Mode == layout.Refused || m.sess.Lent() {
		return
	}
	key := tea.KeyMsg{Type: tea.KeyUp}
	wheel := e.Button == tea.MouseButtonWheelUp
	if e.Button == tea.MouseButtonWheelDown {
		key.Type, wheel = tea.KeyDown, true
	}
	if n := len(m.dialogs); n > 0 {
		if wheel {
			m.scrollBox(m.dialogs[n-1], key)
		}
		return
	}
	p, ok := m.paneAt(e.X, e.Y)
	if !ok || !wheel && e.Button != tea.MouseButtonLeft {
		return
	}
	m.focus = p
	m.point()
	if wheel {
		if p == layout.Sketch {
			return
		}
		id := pane.Up
		if key.Type == tea.KeyDown {
			id = pane.Down
		}
		for range wheelRows {
			m.intent(m.paneKey(id))
		}
		return
	}
	m.pick(e.X, e.Y)
}

// scrollBox moves what a box shows, where it shows more than fits.
func (m *Model) scrollBox(d dialog, key tea.KeyMsg) {
	switch d := d.(type) {
	case interface{ move(k tea.KeyMsg) }:
		for range wheelRows {
			d.move(key)
		}
	case *findings:
		d.key(m, key)
	case *dataPage:
		if d.Typing == nil {
			for range wheelRows {
				d.key(m, key)
			}
		}
	}
}

// pick puts the cursor of the pane in focus on the row under the pointer.
func (m *Model) pick(x, y int) {
	p, ok := m.panes[m.focus].(pane.Picking)
	r := m.plan().Panes[m.focus]
	if !ok || !r.Has(x, y) {
		return
	}
	for _, t := range m.targets {
		if t.Y == y && r.Has(t.X, t.Y) {
			p.Pick(t.Row)
		}
	}
}

// paneAt is the pane with that cell of the screen, or whose name stands there.
func (m *Model) paneAt(x, y int) (layout.Slot, bool) {
	plan := m.plan()
	for _, rects := range []map[layout.Slot]layout.Rect{plan.Panes, plan.Collapsed} {
		for p, r := range rects {
			if r.Has(x, y) {
				return p, true
			}
		}
	}
	if plan.Strip.Has(x, y) {
		at := plan.Strip.X + 1
		for i, s := range m.stripNames() {
			if x >= at && x < at+theme.Width(s) {
				return layout.Slot(i), true
			}
			at += theme.Width(s) + stripGap
		}
	}
	return 0, false
}
