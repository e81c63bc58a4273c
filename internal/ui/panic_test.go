//go:build linux

package ui

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fitup/internal/assess"
	"fitup/internal/project/session"
	"fitup/internal/project/starter"
	"fitup/internal/ui/paint"
	"fitup/internal/ui/theme"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// bomb is the bench with a fault: the key F9 starts a command that panics, F10
// panics in the model.
type bomb struct{ guarded }

func (b bomb) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if k, ok := msg.(tea.KeyMsg); ok {
		switch k.Type {
		case tea.KeyF9:
			return b, guard(func() tea.Msg { panic("the needle is bent") })
		case tea.KeyF10:
			b.open(&panics{})
		}
	}
	_, cmd := b.guarded.Update(msg)
	return b, cmd
}

// TestPanicGivesTheTerminalBack runs the bench on a terminal, edits, and makes
// it panic: the terminal is as it was, the trace is kept, and so is the work.
func TestPanicGivesTheTerminalBack(t *testing.T) {
	for name, key := range map[string]string{"in a command": "\x1b[20~", "in the model": "\x1b[21~x"} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "build.toml")
			require.NoError(t, os.WriteFile(path, starter.Demo(), 0o644))
			s, left, err := session.Open(path, clock)
			require.NoError(t, err)
			look, err := theme.New("dark", theme.Unicode())
			require.NoError(t, err)
			table, err := Actions()
			require.NoError(t, err)
			m := newModel(s, left, assess.Run(s.Now().Build), look, table, false)

			master, slave, err := pty.Open()
			require.NoError(t, err)
			defer master.Close()
			require.NoError(t, pty.Setsize(master, &pty.Winsize{Rows: 24, Cols: 80}))
			before, err := unix.IoctlGetTermios(int(slave.Fd()), unix.TCGETS)
			require.NoError(t, err)

			drawn := typed(master, []keyAt{{"Mounts", "+"}, {"unsaved", key}})
			m.screen = paint.New(slave)
			_, err = program(bomb{guarded{m}}, slave, slave, untilTheEnd(m.screen)).Run()
			require.NoError(t, err)
			m.screen.Close()
			after, err := unix.IoctlGetTermios(int(slave.Fd()), unix.TCGETS)
			require.NoError(t, err)
			require.NoError(t, slave.Close())
			screen := <-drawn

			assert.Equal(t, before, after, "the line settings are back")
			tail := screen[strings.LastIndex(screen, "\x1b[?1049h"):]
			assert.Contains(t, tail, "\x1b[?1049l", "the screen of its own is left")
			assert.Greater(t, strings.LastIndex(tail, "\x1b[?25h"), strings.LastIndex(tail, "\x1b[?25l"), "the cursor shows")
			require.NotNil(t, m.failure)
			assert.Equal(t, "the needle is bent", m.failure.Error())
			assert.Contains(t, m.failure.Stack, "panic_test.go")

			next := driveFile(t, path, 80, 24)
			require.Len(t, next.m.dialogs, 1)
			next.keys("t")
			assert.Equal(t, "-105.5", next.raw("placement.left_front"))
		})
	}
}

// keyAt is what is typed as soon as a text has been drawn.
type keyAt struct{ sight, keys string }

// typed reads all that is drawn and types when it is time. The channel gives
// everything drawn when the terminal is closed.
func typed(master *os.File, plan []keyAt) <-chan string {
	out := make(chan string, 1)
	go func() {
		var all bytes.Buffer
		chunk := make([]byte, 4096)
		from := 0
		for {
			n, err := master.Read(chunk)
			all.Write(chunk[:n])
			if len(plan) > 0 && strings.Contains(all.String()[from:], plan[0].sight) {
				from = all.Len()
				_, _ = master.WriteString(plan[0].keys)
				plan = plan[1:]
			}
			if err != nil {
				out <- all.String()
				return
			}
		}
	}()
	return out
}
