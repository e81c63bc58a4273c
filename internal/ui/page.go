package ui

import (
	"slices"

	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"

	tea "github.com/charmbracelet/bubbletea"
)

// page is a pane that has the screen below the title to itself until it is
// closed. Boxes can open over it.
type page struct {
	pane.Pane
	opens action.ID    // the action that opens it, whose key closes it too
	scope action.Scope // whose keys it has
	keeps []action.ID  // what else of the bench works while it is open

	digits func(k tea.KeyMsg) // what a digit begins; nil for nothing
}

func (p *page) key(m *Model, k tea.KeyMsg) {
	id, _ := m.actions.Lookup(p.scope, k.String())
	switch {
	case p.digits != nil && isDigit(k):
		p.digits(k)
	case leavesPage(k) || id == p.opens:
		m.close()
	case id == pane.Up, id == pane.Down, id == pane.Less, id == pane.More, id == pane.NextLeaf, id == pane.PrevLeaf:
		m.intent(p.Key(id, m.view(m.focus)))
	case slices.Contains(p.keeps, id):
		m.perform(id)
	}
}

// leavesPage reports whether a key closes a page, whatever it does elsewhere.
func leavesPage(k tea.KeyMsg) bool {
	switch k.String() {
	case "esc", "enter", " ", "q", "ctrl+c":
		return true
	}
	return false
}

func (p *page) size(w, h int) (int, int) { return w, h - 2 }

func (p *page) draw(m *Model, w, h int) (string, string, []string) {
	v := m.view(m.focus)
	v.Focused = m.dialogs[len(m.dialogs)-1] == dialog(p)
	f := p.Draw(w, h, v)
	return f.Title, f.Note, f.Text
}

// wholeScreen reports whether a dialog has the screen below the title to itself.
func wholeScreen(d dialog) bool {
	switch d.(type) {
	case *page, *dataPage, *round:
		return true
	}
	return false
}

// onTop draws what lies over the panes: the page that is open, and the box that
// has the keys.
func (m *Model) onTop(lines []string) []string {
	for i, d := range m.dialogs {
		if wholeScreen(d) || i == len(m.dialogs)-1 {
			lines = m.overlay(lines, d)
		}
	}
	return lines
}
