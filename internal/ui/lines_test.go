package ui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func ctrlJ() tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyCtrlJ} }

// A note gets its second line on the screen: ctrl+j begins it, Enter takes it all, and
// what the file has then is typed on with its lines.
func TestANoteOfSeveralLines(t *testing.T) {
	t.Parallel()
	for _, size := range [][2]int{{140, 45}, {80, 24}, {60, 20}} {
		d := drive(t, []byte("format = 3\nname = \"a\"\n"), size[0], size[1]).keys("d")
		require.True(t, d.m.data.Go("note"))
		d.keys("enter", "text:Read twice.")
		if size[0] > 60 {
			assert.Contains(t, d.screen(), "ctrl+j another line")
		}
		d.send(ctrlJ())
		d.keys("text:Weld once.")
		assert.Contains(t, d.screen(), "Read twice.")
		assert.Contains(t, d.screen(), "Weld once.")
		want := d.m.drafted()
		assert.Equal(t, want, d.crash(t).m.drafted(), "with its lines")
		d.keys("enter")
		require.Nil(t, d.m.data.Typing)
		assert.Equal(t, "format = 3\nname = \"a\"\nnote = \"\"\"\nRead twice.\nWeld once.\"\"\"\n", d.bytes())

		require.True(t, d.m.data.Go("note"))
		d.keys("enter", "enter")
		undo, _ := d.m.sess.Depth()
		assert.Equal(t, 1, undo, "taken as it was, it is no step")
		require.True(t, d.m.data.Go("note"))
		d.keys("enter", "up", "end", "text: By two people.", "down", "end", "backspace", "esc")
		assert.Contains(t, d.m.message.text, "Dropped")
		d.keys("u")
		require.NotNil(t, d.m.data.Typing)
		d.keys("enter")
		assert.Equal(t, "Read twice. By two people.\nWeld once", d.m.sess.Now().Build.Note)
		d.keys("u", "u")
		assert.Empty(t, d.m.sess.Now().Build.Note)
	}
}

// A paste of several lines keeps them where a text may have several, and nowhere else.
func TestAPasteOfSeveralLines(t *testing.T) {
	t.Parallel()
	d := drive(t, []byte("format = 3\nname = \"a\"\n"), 120, 36).keys("d")
	paste := tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("one\ntwo")}
	require.True(t, d.m.data.Go("note"))
	d.keys("enter")
	d.send(paste)
	d.keys("enter")
	assert.Equal(t, "one\ntwo", d.m.sess.Now().Build.Note)
	require.True(t, d.m.data.Go("name"))
	d.keys("enter")
	d.send(paste)
	d.send(ctrlJ())
	d.keys("enter")
	assert.Equal(t, "aone two", d.m.sess.Now().Build.Name)
	assert.Equal(t, 1, strings.Count(d.bytes(), `= """`))
}
