//go:build unix

package termbg

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/creack/pty"
	"github.com/stretchr/testify/require"
)

func TestBackgroundIsSettled(t *testing.T) {
	require.True(t, lipgloss.HasDarkBackground())
}

// The order of initialisation rests on this package needing nothing but
// lipgloss, and on its path sorting before bubbletea's.
func TestImportsOnlyLipgloss(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", "{{.ImportPath}}|{{join .Imports \",\"}}", ".").Output()
	require.NoError(t, err)
	path, imports, _ := strings.Cut(strings.TrimSpace(string(out)), "|")
	require.Equal(t, "github.com/charmbracelet/lipgloss", imports)
	require.Less(t, path, "github.com/charmbracelet/bubbletea")
}

// A terminal that never answers: with this package the program starts without
// asking anything; the control without it does ask, so the test can tell.
func TestMuteTerminalIsNeverAsked(t *testing.T) {
	require.NotContains(t, firstOutput(t, "with"), "\x1b]11;", "asked for the background colour")
	require.Contains(t, firstOutput(t, "without"), "\x1b]1", "the control program should have asked")
}

// firstOutput runs a test program on a pseudo-terminal that answers nothing and
// returns what it wrote up to its first query or its own greeting.
func firstOutput(t *testing.T, name string) string {
	t.Helper()
	bin := filepath.Join(t.TempDir(), name)
	out, err := exec.Command("go", "build", "-ldflags", "-s -w", "-o", bin, "./testdata/"+name).CombinedOutput()
	require.NoError(t, err, "%s", out)

	cmd := exec.Command(bin)
	cmd.Env = append(os.Environ(), "TERM=xterm-256color", "COLORFGBG=", "NO_COLOR=", "CI=")
	tty, err := pty.Start(cmd)
	require.NoError(t, err)
	defer func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		_ = tty.Close()
	}()

	var seen bytes.Buffer
	buf := make([]byte, 256)
	for {
		n, err := tty.Read(buf)
		seen.Write(buf[:n])
		if err != nil || bytes.Contains(seen.Bytes(), []byte("started")) || bytes.ContainsRune(seen.Bytes(), '\x1b') {
			return seen.String()
		}
	}
}
