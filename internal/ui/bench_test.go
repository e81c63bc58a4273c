package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"fitup/internal/project/session"
	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
)

// benchModel is the demo on a screen of w by h, the cursor on the rear mount.
func benchModel(b *testing.B, w, h int) *Model {
	path := filepath.Join(b.TempDir(), "build.toml")
	require.NoError(b, os.WriteFile(path, starter.Demo(), 0o644))
	s, left, err := session.Open(path, clock)
	require.NoError(b, err)
	look, err := theme.New("dark", theme.Unicode())
	require.NoError(b, err)
	table, err := Actions()
	require.NoError(b, err)
	m := newModel(s, left, look, table, false)
	for _, msg := range []tea.Msg{tea.WindowSizeMsg{Width: w, Height: h}, tea.KeyMsg{Type: tea.KeyDown}, tea.KeyMsg{Type: tea.KeyDown}} {
		m.Update(msg)
	}
	return m
}

// BenchmarkNudge is one step of the rear mount and its frame: edit, journal,
// assessment, effects of every row, drawing. The wait for the disk runs beside
// it in the program and is left out here.
func BenchmarkNudge(b *testing.B) {
	for _, s := range [][2]int{{140, 45}, {80, 24}} {
		b.Run(fmt.Sprintf("%dx%d", s[0], s[1]), func(b *testing.B) {
			m := benchModel(b, s[0], s[1])
			keys := []tea.Msg{tea.KeyMsg{Type: tea.KeyRight}, tea.KeyMsg{Type: tea.KeyLeft}}
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				m.Update(keys[i%2])
				if len(m.View()) == 0 {
					b.Fatal("no frame")
				}
			}
		})
	}
}

// BenchmarkCursor is a key that moves only the cursor.
func BenchmarkCursor(b *testing.B) {
	m := benchModel(b, 140, 45)
	keys := []tea.Msg{tea.KeyMsg{Type: tea.KeyDown}, tea.KeyMsg{Type: tea.KeyUp}}
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		m.Update(keys[i%2])
	}
}
