//go:build linux

package ui

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"fitup/internal/project/starter"

	"github.com/stretchr/testify/require"
)

// The program as it is built, ended in the middle of a value: by kill -9 once the journal
// has it, and at once by the end of its terminal. Begun again it has the value in its row.
func TestTypedTextSurvivesAKill(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("tmux"); err != nil {
		t.Skip("tmux is not installed")
	}
	program := asBuilt(t)
	for _, how := range []syscall.Signal{syscall.SIGKILL, syscall.SIGTERM, syscall.SIGHUP} {
		t.Run(how.String(), func(t *testing.T) {
			t.Parallel()
			home := t.TempDir()
			build := filepath.Join(home, "build.toml")
			require.NoError(t, os.WriteFile(build, starter.Demo(), 0o644))
			start := func() *tmux {
				return inTmux(t, t.TempDir(), 120, 36, fmt.Sprintf("exec '%s' --theme plain '%s'", program, build))
			}
			x := start()
			x.sees("left front")
			x.press([]string{"type:d"})
			x.sees("esc closes")
			x.press([]string{"right", "down", "enter", "type: half a name"})
			x.sees("half a name")
			if how == syscall.SIGKILL {
				journal := filepath.Join(home, ".build.toml.fitup", "journal")
				require.Eventually(t, func() bool {
					text, err := os.ReadFile(journal)
					return err == nil && bytes.Contains(text, []byte("half a name"))
				}, patience, 5*time.Millisecond, "the journal has it a second after the last key")
			}
			pid, err := strconv.Atoi(strings.TrimSpace(x.command("display-message -p '#{pane_pid}'")[0]))
			require.NoError(t, err)
			require.NoError(t, syscall.Kill(pid, how))
			require.Eventually(t, func() bool { return syscall.Kill(pid, 0) != nil }, patience, 5*time.Millisecond)
			x = start()
			x.sees("half a name")
			x.sees("typed before the stop, not taken")
			x.press([]string{"enter"})
			x.press([]string{"esc"})
			x.sees("left front")
			x.press([]string{"type:s"})
			x.sees("Saved")
			text, err := os.ReadFile(build)
			require.NoError(t, err)
			require.Contains(t, string(text), "half a name")
		})
	}
}
