package ui

import (
	"fmt"
	"testing"

	"fitup/internal/ui/action"
	"fitup/internal/ui/pane"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// trial is a pane of two pages, the first a list.
type trial struct{ pane.Leaves }

func newTrial() pane.Pane {
	return &trial{pane.Leaves{Name: "Trial", Pages: []pane.Leaf{
		{Name: "rows", Items: func(_ int, v pane.View) []pane.Item {
			var out []pane.Item
			for i := range 3 {
				out = append(out, pane.Item{Text: []string{fmt.Sprintf("row %d", i)}, Stop: true})
			}
			return out
		}, Key: func(id action.ID, _ pane.Item, at int, _ pane.View) pane.Intent {
			if id == pane.Enter {
				return pane.Say{Text: fmt.Sprintf("row %d it is", at)}
			}
			return nil
		}},
		{Name: "words", Items: func(int, pane.View) []pane.Item { return nil }, Draw: func(_, _ int, _ pane.View) []string { return []string{"words"} }},
	}}}
}

// A pane more is an entry more: it has its place at every size, its key, its
// pages and its cursor. The panes are everybody's while it runs, so nothing runs beside it.
func TestAPaneMoreIsAnEntryMore(t *testing.T) {
	before := benchPanes
	t.Cleanup(func() { benchPanes = before })
	benchPanes = append(benchPanes[:len(before):len(before)], benchPane{
		name: "Trial", scope: "trial", make: newTrial, focus: "focus.trial", help: "Go to the trial.", enter: "say",
	})
	for _, s := range [][2]int{{200, 50}, {140, 45}, {120, 36}, {80, 24}, {60, 20}} {
		d := demo(t, s[0], s[1])
		if s[0] > 60 { // one name more than a bar of 60 cells holds
			assert.Contains(t, d.screen(), "6 Trial")
		}
		d.keys("6", "down", "enter")
		assert.Contains(t, d.screen(), "▸ row 1")
		assert.Contains(t, d.screen(), "row 1 it is")
		assert.Contains(t, d.screen(), "enter say")
		d.keys("]")
		assert.Contains(t, d.screen(), "words")
		d.keys("]", "tab", "shift+tab", "z")
		assert.Contains(t, d.screen(), "▸ row 1", "the cursor is where it was")
		d.keys("z", "tab")
		assert.Equal(t, scopeSketch, scopeOf(d.m.focus), "the panes go round")
		d.keys(":", "text:trial", "enter")
		assert.Equal(t, action.Scope("trial"), scopeOf(d.m.focus))
	}
}

// A page has the screen below the title; a box opens over it and gives it back.
func TestAPageTakesTheScreen(t *testing.T) {
	t.Parallel()
	d := demo(t, 80, 24)
	p := &page{Pane: newTrial(), opens: actLarge, scope: scopeMounts, keeps: []action.ID{actHelp}}
	d.m.open(p)
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	for _, gone := range []string{"Mounts", "Jobs", "Sketch"} {
		assert.NotContains(t, d.screen(), gone)
	}
	d.keys("down", "down")
	assert.Contains(t, d.screen(), "▸ row 2")
	d.keys("]")
	assert.Contains(t, d.screen(), "words")
	d.keys("[", "s", "5", "x", "tab")
	require.Len(t, d.m.dialogs, 1, "a key that it does not keep does nothing")
	assert.Equal(t, firstPane, d.m.focus)
	frame := d.m.View()

	d.m.open(&question{title: "A question", choices: []choice{{"y", "yes", func(*Model) {}}}})
	d.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	assert.Contains(t, d.screen(), "A question")
	assert.Contains(t, d.screen(), "▸Trial: [rows] words", "the page is still behind it")
	d.keys("esc")
	assert.Equal(t, frame, d.m.View())

	d.keys("?")
	require.Len(t, d.m.dialogs, 2, "a key that it keeps works")
	d.keys("esc", "b")
	assert.Empty(t, d.m.dialogs, "the key that opens it closes it")
	assert.Contains(t, d.screen(), "Mounts")
}
