package ui

import (
	"slices"

	"fitup/internal/ui/action"
	"fitup/internal/ui/field"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
)

// palette finds any action by a few letters of its name.
type palette struct {
	field field.Model
	at    int
}

func newPalette(m *Model) *palette {
	return &palette{field: field.New("Find an action", "", nil).WithTheme(m.theme)}
}

func (p *palette) matches(m *Model) []action.Action {
	return m.actions.Match(p.field.Text(), scopeOf(m.focus), action.Everywhere)
}

func (p *palette) key(m *Model, k tea.KeyMsg) {
	found := p.matches(m)
	switch k.String() {
	case "esc", "ctrl+c":
		m.close()
	case "up":
		p.at = pane.Cursor(p.at-1, len(found))
	case "down":
		p.at = pane.Cursor(p.at+1, len(found))
	case "enter":
		if len(found) == 0 {
			return
		}
		a := found[pane.Cursor(p.at, len(found))]
		m.close()
		if a.Scattered(p.field.Text()) && changes(a.ID) {
			m.open(newSure(a.Label, "The letters lie scattered over its name. "+a.Help, func(m *Model) { m.perform(a.ID) }))
			return
		}
		m.perform(a.ID)
	default:
		p.field, _ = p.field.Update(k)
		p.at = 0
	}
}

// changes reports whether an action does more than show something or open a
// form: it is not run on a guess.
func changes(id action.ID) bool {
	return slices.Contains([]action.ID{pane.Less, pane.More, pane.Delete, pane.Tick, pane.DropJob, pane.JobUp, pane.JobDown,
		actJobList, actEngine, actUndo, actRedo, actSave, actQuit}, id)
}

func (p *palette) size(w, h int) (int, int) { return min(76, w-4), min(20, h-4) }

func (p *palette) draw(m *Model, w, h int) (string, string, []string) {
	head := p.field.View(w)
	head = append(head[min(1, len(head)):min(len(head), 2)], "")
	found := p.matches(m)
	p.at = pane.Cursor(p.at, len(found))
	room := max(h-len(head), 0)
	top := pane.Window(p.at, len(found), room)
	lines := head
	for i := top; i < len(found) && i-top < room; i++ {
		a := found[i]
		mark, role := "  ", theme.Text
		if i == p.at {
			mark, role = m.theme.Focus+" ", theme.Selected
		}
		lines = append(lines, m.theme.Paint(role, mark+m.theme.Pad(a.Label, 18)+m.theme.Pad(a.KeyText(), 14))+" "+m.theme.Paint(theme.Dim, a.Help))
	}
	if len(found) == 0 {
		lines = append(lines, "  no action answers to that")
	}
	return "Find an action", "enter does it, esc leaves", lines
}
