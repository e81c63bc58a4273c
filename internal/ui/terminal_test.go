//go:build linux

package ui

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fitup/internal/inturn"
	"fitup/internal/project"
	"fitup/internal/project/sheet"
	"fitup/internal/project/starter"
	"fitup/internal/ui/paint"
	"fitup/internal/ui/theme"

	"github.com/stretchr/testify/require"
)

// patience is how long a test waits for what has to be drawn. It only ends tests that
// would hang.
const patience = 30 * time.Second

// TestTheExampleIsTypedOnARealTerminal types the annotated example into a file of fitup
// new in tmux, with the program as it is built. The keys are those that the driver
// presses; every screen on the way must be the driver's, and so must the file.
func TestTheExampleIsTypedOnARealTerminal(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("tmux"); err != nil {
		t.Skip("tmux is not installed; the driver presses the same keys without a terminal")
	}
	program := asBuilt(t)
	for _, size := range []struct{ w, h int }{{140, 45}, {80, 24}} {
		t.Run(fmt.Sprintf("%d by %d", size.w, size.h), func(t *testing.T) {
			t.Parallel()
			testTyped(t, program, size.w, size.h)
		})
	}
}

func testTyped(t *testing.T, program string, w, h int) {
	want := annotated(t)
	path := filepath.Join(t.TempDir(), "build.toml")
	require.NoError(t, os.WriteFile(path, starter.New(), 0o644))
	wr := &writer{driver: driveAt(t, path, w, h, "plain", theme.Unicode(), nil, time.Now), want: sheet.Of(want)}
	chapters := 4
	if w < 100 { // the same keys lead to smaller screens
		chapters = 2
	}
	if inturn.Whole() {
		chapters = len(sheet.Chapters())
	}
	steps := recorded(wr, chapters)

	dir := t.TempDir()
	x := inTmux(t, dir, w, h, fmt.Sprintf("'%s' new build.toml --no-questions && exec '%s' --theme plain build.toml", program, program))
	for i, s := range steps {
		x.press(s.keys)
		x.shows(s, fmt.Sprintf("stretch %d of %d, after %q", i+1, len(steps), s.keys))
	}
	x.press([]string{"s"})
	wr.press("s")
	x.sees("Saved build.toml.")
	typed, err := os.ReadFile(filepath.Join(dir, "build.toml"))
	require.NoError(t, err)
	require.Equal(t, wr.file(), string(typed))
	if inturn.Whole() {
		f, err := project.Parse("build.toml", typed)
		require.NoError(t, err)
		require.Equal(t, meant(want), meant(f))
	}
	t.Logf("%d keys, %d screens", wr.pressed, len(steps))
}

// stretch is keys that are pressed without a pause, and the screen that they lead to.
type stretch struct {
	keys   []string
	screen string
	cursor paint.Cell
}

// recorded is what the driver presses for the first so many chapters. A lone Escape is followed by a pause: with a letter close behind it is another key.
func recorded(w *writer, chapters int) []stretch {
	steps := []stretch{{nil, w.screen(), w.m.caret}}
	var keys []string
	end := func() {
		steps = append(steps, stretch{keys, w.screen(), w.m.caret})
		keys = nil
	}
	w.after = func(key string) {
		if keys = append(keys, key); key == "esc" || len(keys) >= 12 {
			end()
		}
	}
	w.build(chapters)
	for w.m.data.Typing != nil || len(w.m.dialogs) > 0 {
		w.press("esc")
	}
	return steps
}

// sent is what tmux calls the keys.
var sent = map[string]string{
	"enter": "Enter", "tab": "Tab", "esc": "Escape", "home": "Home", "down": "Down", "right": "Right",
	"ctrl+u": "C-u",
}

// tmux is a program in tmux, spoken to by its control mode.
type tmux struct {
	t       *testing.T
	in      io.Writer
	replies chan []string
	more    chan struct{} // has a token when something was drawn
}

// inTmux starts a command on a screen of w by h cells, in a server of its own.
func inTmux(t *testing.T, dir string, w, h int, command string) *tmux {
	t.Helper()
	run := func(args ...string) *exec.Cmd {
		cmd := exec.Command("tmux", append([]string{"-u", "-f", os.DevNull, "-S", filepath.Join(dir, "s")}, args...)...)
		cmd.Dir = dir
		cmd.Env = []string{"TERM=xterm-256color", "LANG=C.UTF-8", "SHELL=/bin/sh", "TMPDIR=" + dir, "HOME=" + dir, "PATH=" + os.Getenv("PATH")}
		return cmd
	}
	out, err := run("new-session", "-d", "-x", fmt.Sprint(w), "-y", fmt.Sprint(h), command, ";",
		"set", "-g", "status", "off", ";", "set", "-g", "window-size", "manual", ";", "resize-window", "-x", fmt.Sprint(w), "-y", fmt.Sprint(h)).CombinedOutput()
	require.NoError(t, err, string(out))
	control := run("-C", "attach")
	in, err := control.StdinPipe()
	require.NoError(t, err)
	said, err := control.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, control.Start())
	x := &tmux{t: t, in: in, replies: make(chan []string, 1), more: make(chan struct{}, 1)}
	t.Cleanup(func() {
		_ = run("kill-server").Run()
		_ = control.Wait()
	})
	go x.listen(said)
	x.reply() // to the attaching
	return x
}

// listen sorts what tmux says into replies to commands and news of what was drawn.
func (x *tmux) listen(r io.Reader) {
	defer close(x.replies)
	lines := bufio.NewReader(r)
	var block []string
	inside := false
	for {
		line, err := lines.ReadString('\n')
		if err != nil {
			return
		}
		line = strings.TrimSuffix(line, "\n")
		switch {
		case strings.HasPrefix(line, "%begin "):
			inside, block = true, nil
		case inside && strings.HasPrefix(line, "%end "), inside && strings.HasPrefix(line, "%error "):
			inside = false
			if strings.HasPrefix(line, "%error ") {
				block = append(block, line)
			}
			x.replies <- block
		case inside:
			block = append(block, line)
		case strings.HasPrefix(line, "%output "):
			select {
			case x.more <- struct{}{}:
			default:
			}
		}
	}
}

func (x *tmux) reply() []string {
	x.t.Helper()
	select {
	case lines, ok := <-x.replies:
		require.True(x.t, ok, "tmux has ended")
		return lines
	case <-time.After(patience):
		require.Fail(x.t, "tmux does not answer")
		return nil
	}
}

func (x *tmux) command(text string) []string {
	x.t.Helper()
	_, err := io.WriteString(x.in, text+"\n")
	require.NoError(x.t, err)
	lines := x.reply()
	require.False(x.t, len(lines) > 0 && strings.HasPrefix(lines[len(lines)-1], "%error "), "%s: %q", text, lines)
	return lines
}

// press sends keys without a pause.
func (x *tmux) press(keys []string) {
	x.t.Helper()
	for _, k := range keys {
		if name, ok := sent[k]; ok {
			x.command("send-keys " + name)
			continue
		}
		text := strings.TrimPrefix(k, "type:")
		x.command("send-keys -l -- '" + strings.ReplaceAll(text, "'", `'\''`) + "'")
	}
}

// shows waits until the screen is that of the driver, and the cursor shows where it has it.
func (x *tmux) shows(s stretch, when string) {
	x.t.Helper()
	want := trimmed(strings.Split(s.screen, "\n")) + fmt.Sprintf("\n%d %d 1", s.cursor.X, s.cursor.Y)
	got := x.until(func(got string) bool { return got == want })
	require.Equal(x.t, want, got, when)
}

// sees waits until a text stands on the screen.
func (x *tmux) sees(text string) {
	x.t.Helper()
	require.Contains(x.t, x.until(func(got string) bool { return strings.Contains(got, text) }), text)
}

// until waits for a screen, with the place of the cursor below it, and returns it, or the last one when it never comes.
func (x *tmux) until(wanted func(screen string) bool) string {
	x.t.Helper()
	limit := time.After(patience)
	for {
		got := trimmed(append(x.command("capture-pane -p"), x.command("display-message -p '#{cursor_x} #{cursor_y} #{cursor_flag}'")...))
		if wanted(got) {
			return got
		}
		select {
		case <-x.more:
		case <-limit:
			return got
		}
	}
}

// trimmed is a screen without the blanks at the ends of its rows, which tmux leaves out.
func trimmed(rows []string) string {
	out := make([]string, len(rows))
	for i, r := range rows {
		out[i] = strings.TrimRight(r, " ")
	}
	return strings.Join(out, "\n")
}
