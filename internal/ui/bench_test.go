package ui

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"fitup/internal/assess"
	"fitup/internal/project/grown"
	"fitup/internal/project/session"
	"fitup/internal/project/starter"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"
)

// benchModel is a build on a screen of w by h, the cursor on the rear mount.
func benchModel(b *testing.B, text string, w, h int) *Model {
	path := filepath.Join(b.TempDir(), "build.toml")
	require.NoError(b, os.WriteFile(path, []byte(text), 0o644))
	s, left, err := session.Open(path, clock)
	require.NoError(b, err)
	look, err := theme.New("dark", theme.Unicode())
	require.NoError(b, err)
	table, err := Actions()
	require.NoError(b, err)
	m := newModel(s, left, assess.Run(s.Now().Build), look, table, false)
	for _, msg := range []tea.Msg{tea.WindowSizeMsg{Width: w, Height: h}, tea.KeyMsg{Type: tea.KeyDown}, tea.KeyMsg{Type: tea.KeyDown}} {
		m.Update(msg)
	}
	return m
}

// processor is the time that the program has had of the processors. Unlike the clock's it
// says the same on a machine that has other work to do.
func processor(b *testing.B) time.Duration {
	var u syscall.Rusage
	require.NoError(b, syscall.Getrusage(syscall.RUSAGE_SELF, &u))
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// benched is what is measured.
var benched = []struct {
	name string
	text string
	w, h int
}{
	{"demo-140x45", string(starter.Demo()), 140, 45},
	{"demo-80x24", string(starter.Demo()), 80, 24},
	{"large-120x40", grown.Large(), 120, 40},
}

// BenchmarkNudge is one step of the rear mount and its frame: edit, assessment,
// effects of every row, drawing. What the disk has to do runs beside it in the
// program and is left out here.
func BenchmarkNudge(b *testing.B) {
	for _, s := range benched {
		b.Run(s.name, func(b *testing.B) {
			m := benchModel(b, s.text, s.w, s.h)
			keys := []tea.Msg{tea.KeyMsg{Type: tea.KeyRight}, tea.KeyMsg{Type: tea.KeyLeft}}
			b.ReportAllocs()
			before := processor(b)
			for i := 0; b.Loop(); i++ {
				m.Update(keys[i%2])
				if len(m.View()) == 0 {
					b.Fatal("no frame")
				}
			}
			b.ReportMetric((processor(b)-before).Seconds()*1e3/float64(b.N), "cpu-ms/op")
		})
	}
}

// BenchmarkCursor is a key that moves only the cursor.
func BenchmarkCursor(b *testing.B) {
	for _, s := range benched {
		b.Run(s.name, func(b *testing.B) {
			m := benchModel(b, s.text, s.w, s.h)
			keys := []tea.Msg{tea.KeyMsg{Type: tea.KeyDown}, tea.KeyMsg{Type: tea.KeyUp}}
			b.ReportAllocs()
			for i := 0; b.Loop(); i++ {
				m.Update(keys[i%2])
			}
		})
	}
}
