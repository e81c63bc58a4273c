package ui

import (
	"testing"

	"fitup/internal/ui/pane"

	tea "github.com/charmbracelet/bubbletea"
)

// BenchmarkData is a key on the data page with all of it open, and its frame: the cursor
// a row on, a sign of a value that is typed, and the value that is taken.
func BenchmarkData(b *testing.B) {
	rune1 := func(r rune) tea.Msg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}} }
	typed := func(s string) tea.Msg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)} }
	up := tea.Msg(tea.KeyMsg{Type: tea.KeyUp})
	enter := tea.Msg(tea.KeyMsg{Type: tea.KeyEnter})
	for _, s := range benched {
		for _, what := range []struct {
			name string
			path string
			open []tea.Msg
			keys []tea.Msg
		}{
			{"move", "mount.rear.holds", nil, []tea.Msg{tea.KeyMsg{Type: tea.KeyDown}, tea.KeyMsg{Type: tea.KeyUp}}},
			{"move by drawing", "powertrain.pads.left_front", nil, []tea.Msg{tea.KeyMsg{Type: tea.KeyDown}, tea.KeyMsg{Type: tea.KeyUp}}},
			{"type", "powertrain.mass", []tea.Msg{enter}, []tea.Msg{rune1('1'), tea.KeyMsg{Type: tea.KeyBackspace}}},
			{"take", "powertrain.mass", nil, []tea.Msg{rune1('3'), typed("30"), enter, up, rune1('2'), typed("90"), enter, up}},
		} {
			b.Run(s.name+"/"+what.name, func(b *testing.B) {
				m := benchModel(b, s.text, s.w, s.h)
				m.Update(rune1('d'))
				for _, sec := range m.data.Sheet.Sections {
					if sec.Begun && len(sec.Rows) > 0 {
						m.data.Go(sec.Rows[0].Path)
					}
				}
				m.data.Go(what.path)
				m.data.Key(pane.Up, m.view(0))
				m.data.Key(pane.Down, m.view(0))
				for _, k := range what.open {
					m.Update(k)
				}
				b.ReportAllocs()
				i := 0
				for ; b.Loop(); i++ {
					m.Update(what.keys[i%len(what.keys)])
				}
				if undo, _ := m.sess.Depth(); what.name == "take" && i > len(what.keys) && undo == 0 {
					b.Fatal("nothing was taken")
				}
			})
		}
	}
}
