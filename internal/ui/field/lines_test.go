package field

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"fitup/internal/ui/theme"
)

func pressed(m Lines, keys ...any) Lines {
	for _, k := range keys {
		switch k := k.(type) {
		case tea.KeyType:
			m = m.Update(tea.KeyMsg{Type: k})
		case string:
			m = m.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)})
		}
	}
	return m
}

func TestLinesAreTyped(t *testing.T) {
	m := pressed(NewLines("", 0, 100), "first", tea.KeyCtrlJ, "third", tea.KeyUp, tea.KeyEnd, tea.KeyCtrlJ, "second")
	assert.Equal(t, "first\nsecond\nthird", m.Text())
	assert.Equal(t, len("first\nsecond"), m.Cursor())
	m = pressed(m, tea.KeyHome, tea.KeyBackspace)
	assert.Equal(t, "firstsecond\nthird", m.Text())
	m = pressed(m, tea.KeyEnd, tea.KeyDelete)
	assert.Equal(t, "firstsecondthird", m.Text())
	m = pressed(m, tea.KeyLeft, tea.KeyLeft, tea.KeyBackspace, tea.KeyCtrlK)
	assert.Equal(t, "firstsec", m.Text())
	assert.Equal(t, "ab\ncd", pressed(NewLines("", 0, 100), "ab\r\ncd").Text(), "a paste keeps its lines")
	assert.Equal(t, "abc", pressed(NewLines("", 0, 3), "abcdef", tea.KeyCtrlJ).Text(), "no more than there is room for")
}

// A field made anew from its text and its cursor is the same one, and every frame of it
// fits and has the cursor in it.
func TestLinesOutliveAnything(t *testing.T) {
	look, err := theme.New("plain", theme.Unicode())
	assert.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		m := NewLines(rapid.StringMatching(`[a-zé車\n ]{0,40}`).Draw(t, "text"), 0, 60)
		for range rapid.IntRange(0, 20).Draw(t, "keys") {
			old := m.Text()
			next := pressed(m, rapid.SampledFrom([]any{tea.KeyCtrlJ, tea.KeyUp, tea.KeyDown, tea.KeyLeft, tea.KeyRight, tea.KeyHome,
				tea.KeyEnd, tea.KeyBackspace, tea.KeyDelete, tea.KeyCtrlU, tea.KeyCtrlK, "x", "車\nü", " "}).Draw(t, "key"))
			if m.Text() != old {
				t.Fatalf("the old one was changed")
			}
			m = next
			again := NewLines(m.Text(), m.Cursor(), 60)
			if again.Text() != m.Text() || again.Cursor() != m.Cursor() {
				t.Fatalf("%q at %d came back as %q at %d", m.Text(), m.Cursor(), again.Text(), again.Cursor())
			}
			w, h := rapid.IntRange(2, 12).Draw(t, "w"), rapid.IntRange(1, 4).Draw(t, "h")
			carets := 0
			for _, l := range m.View(w, h, look) {
				if len([]rune(l)) > 0 && theme.Width(strings.ReplaceAll(l, theme.Caret, "")) != w {
					t.Fatalf("%q is not %d wide", l, w)
				}
				carets += strings.Count(l, theme.Caret)
			}
			if carets != 1 {
				t.Fatalf("%d cursors in %q", carets, m.View(w, h, look))
			}
		}
	})
}
