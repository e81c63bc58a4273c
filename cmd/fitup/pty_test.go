//go:build linux

package main

import (
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"fitup/internal/project/starter"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// patience is how long a test waits for something that has to come. It only
// ends tests that would hang; nothing is slower because of it.
const patience = 30 * time.Second

// terminal is the program on a pseudo-terminal that answers no question and
// keeps all that was drawn.
type terminal struct {
	t      *testing.T
	cmd    *exec.Cmd
	master *os.File
	before unix.Termios
	exited chan error

	mu    sync.Mutex
	drawn strings.Builder
	more  chan struct{} // has a token when something was drawn
}

// open starts the program on a terminal of 100 by 30 cells.
func open(t *testing.T, program, dir string, args ...string) *terminal {
	t.Helper()
	return openSized(t, program, dir, &pty.Winsize{Rows: 30, Cols: 100}, args...)
}

func openSized(t *testing.T, program, dir string, size *pty.Winsize, args ...string) *terminal {
	t.Helper()
	master, slave, err := pty.Open()
	require.NoError(t, err)
	require.NoError(t, pty.Setsize(master, size))
	before := settings(t, slave)
	master = closable(t, master)
	cmd := exec.Command(program, args...)
	cmd.Dir = dir
	cmd.Stdin, cmd.Stdout, cmd.Stderr = slave, slave, slave
	cmd.Env = []string{"TERM=xterm-256color", "LANG=C.UTF-8", "TMPDIR=" + dir, "HOME=" + dir, "PATH=" + os.Getenv("PATH")}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	x := &terminal{t: t, cmd: cmd, master: master, before: before, exited: make(chan error, 1), more: make(chan struct{}, 1)}
	require.NoError(t, cmd.Start())
	require.NoError(t, slave.Close())
	read := make(chan struct{})
	go func() {
		defer close(read)
		x.read()
	}()
	go func() {
		err := cmd.Wait()
		<-read // the last of what it drew
		x.exited <- err
	}()
	t.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = master.Close()
	})
	return x
}

func (x *terminal) read() {
	chunk := make([]byte, 8192)
	for {
		n, err := x.master.Read(chunk)
		x.mu.Lock()
		x.drawn.Write(chunk[:n])
		x.mu.Unlock()
		select {
		case x.more <- struct{}{}:
		default:
		}
		if err != nil {
			return
		}
	}
}

func (x *terminal) screen() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.drawn.String()
}

// sees waits until a text has been drawn after the first from bytes, and
// returns how much has been drawn by then.
func (x *terminal) sees(text string, from int) int {
	x.t.Helper()
	limit := time.After(patience)
	for {
		if all := x.screen(); strings.Contains(all[from:], text) {
			return len(all)
		}
		select {
		case <-x.more:
		case <-limit:
			require.Failf(x.t, "not drawn", "%q is not in %q", text, x.screen()[from:])
		}
	}
}

func (x *terminal) types(keys string) {
	x.t.Helper()
	_, err := x.master.WriteString(keys)
	require.NoError(x.t, err)
}

// ends waits for the end of the program and returns its exit code, -1 after a
// signal.
func (x *terminal) ends() int {
	x.t.Helper()
	select {
	case <-x.exited: //nolint:errcheck // the exit code says it
		return x.cmd.ProcessState.ExitCode()
	case <-time.After(patience):
		require.Fail(x.t, "the program does not end", "%q", x.screen())
		return 0
	}
}

// givenBack asserts that the terminal is as it was before the program.
func (x *terminal) givenBack() {
	x.t.Helper()
	all := x.screen()
	at := strings.LastIndex(all, "\x1b[?1049h")
	require.GreaterOrEqual(x.t, at, 0, "there was no screen of its own")
	assert.Contains(x.t, all[at:], "\x1b[?1049l", "the screen of its own is left")
	assert.Greater(x.t, strings.LastIndex(all, "\x1b[?25h"), strings.LastIndex(all, "\x1b[?25l"), "the cursor shows")
	assert.Greater(x.t, strings.LastIndex(all, "\x1b[?2004l"), strings.LastIndex(all, "\x1b[?2004h"), "bracketed paste is off")
	assert.Equal(x.t, x.before, settings(x.t, x.master), "the line settings are back")
}

// settings returns the line settings of a terminal, from either side of it.
func settings(t *testing.T, f *os.File) unix.Termios {
	t.Helper()
	raw, err := f.SyscallConn()
	require.NoError(t, err)
	var s *unix.Termios
	require.NoError(t, raw.Control(func(fd uintptr) { s, err = unix.IoctlGetTermios(int(fd), unix.TCGETS) }))
	require.NoError(t, err)
	return *s
}

// closable is the same file in a form that can be closed during a read.
func closable(t *testing.T, f *os.File) *os.File {
	t.Helper()
	fd, err := unix.FcntlInt(f.Fd(), unix.F_DUPFD_CLOEXEC, 0)
	require.NoError(t, err)
	require.NoError(t, f.Close())
	require.NoError(t, unix.SetNonblock(fd, true))
	return os.NewFile(uintptr(fd), "terminal")
}

// TestOnATerminal runs the program itself on a terminal: the one that the scripts run, which
// is these tests by another name. As it is built it is run by the tests of the bench.
func TestOnATerminal(t *testing.T) {
	program, err := exec.LookPath("fitup")
	require.NoError(t, err)
	require.Contains(t, program, "testscript-main", "no other one that is installed")

	t.Run("first frame", func(t *testing.T) { testFirstFrame(t, program) })
	t.Run("no questions", func(t *testing.T) { testNoQuestions(t, program) })
	t.Run("background", func(t *testing.T) { testBackground(t, program) })
	t.Run("quit", func(t *testing.T) { testQuit(t, program) })
	t.Run("escape", func(t *testing.T) { testEscape(t, program) })
	t.Run("early keys", func(t *testing.T) { testEarlyKeys(t, program) })
	t.Run("no size", func(t *testing.T) { testNoSize(t, program) })
	t.Run("terminal after SIGQUIT", func(t *testing.T) { testSaneAfter(t, program, syscall.SIGQUIT) })
	t.Run("terminal after SIGABRT", func(t *testing.T) { testSaneAfter(t, program, syscall.SIGABRT) })
	t.Run("killed while it asks", func(t *testing.T) { testKilledWhileItAsks(t, program) })
	for name, end := range map[string]func(*terminal) error{
		"SIGHUP":   func(x *terminal) error { return x.cmd.Process.Signal(syscall.SIGHUP) },
		"SIGTERM":  func(x *terminal) error { return x.cmd.Process.Signal(syscall.SIGTERM) },
		"SIGKILL":  func(x *terminal) error { return x.cmd.Process.Kill() },
		"SIGQUIT":  func(x *terminal) error { return x.cmd.Process.Signal(syscall.SIGQUIT) },
		"SIGABRT":  func(x *terminal) error { return x.cmd.Process.Signal(syscall.SIGABRT) },
		"unplug":   func(x *terminal) error { return x.master.Close() },
		"two keys": func(x *terminal) error { x.types("++"); return x.cmd.Process.Signal(syscall.SIGHUP) },
	} {
		t.Run("work survives "+name, func(t *testing.T) { testWorkSurvives(t, program, end) })
	}
	t.Run("a new file by questions", func(t *testing.T) { testNewByQuestions(t, program) })
	t.Run("a new file left", func(t *testing.T) { testNewLeft(t, program) })
	t.Run("input is no terminal", func(t *testing.T) { testInputIsNoTerminal(t, program) })
}

// A terminal that answers no question must not keep the first frame waiting;
// the usual libraries wait five seconds for the answer.
func testFirstFrame(t *testing.T, program string) {
	begin := time.Now()
	x := open(t, program, t.TempDir(), "demo")
	x.sees("2 Mounts: ", 0)
	took := time.Since(begin)
	t.Logf("first frame after %v", took.Round(time.Millisecond))
	assert.Less(t, took, 2500*time.Millisecond)
}

// Nothing asks the terminal for its name or its cursor (ECMA-48 DSR and DA), and
// for its background only where nobody has chosen colours.
func testNoQuestions(t *testing.T, program string) {
	for _, theme := range []string{"", "dark"} {
		args := []string{"demo"}
		if theme != "" {
			args = append(args, "--theme", theme)
		}
		x := open(t, program, t.TempDir(), args...)
		from := x.sees("2 Mounts: ", 0)
		x.types("q")
		assert.Zero(t, x.ends())
		for _, question := range []string{"\x1b[6n", "\x1b[c", "\x1b[0c", "\x1b[>c", "\x1b]10;?", "\x1b[?u", "\x1bP+q"} {
			assert.NotContains(t, x.screen(), question)
		}
		assert.Equal(t, theme == "", strings.Contains(x.screen(), "\x1b]11;?"))
		assert.Greater(t, len(x.screen()), from)
	}
}

// The answer of the terminal changes the colours, also when it comes late and in
// pieces, and none of it is taken for keys.
func testBackground(t *testing.T, program string) {
	x := open(t, program, t.TempDir(), "demo")
	x.sees("2 Mounts: ", 0)
	at := x.sees("\x1b]11;?\x1b\\", 0)
	const keyOfLight = "\x1b[34m"
	assert.NotContains(t, x.screen(), keyOfLight)
	x.types("\x1b]11;rgb:ffff/")
	x.types("fafa/f0f0\x1b\\")
	at = x.sees(keyOfLight, at)
	x.types("2+")
	x.sees("unsaved", at)
	x.types("uq")
	assert.Zero(t, x.ends())
	x.givenBack()
}

func testQuit(t *testing.T, program string) {
	x := open(t, program, t.TempDir(), "demo")
	at := x.sees("2 Mounts: ", 0)
	x.types("+s")
	x.sees("Saved ", at)
	x.types("q")
	assert.Equal(t, exitDone, x.ends())
	x.givenBack()
	tail := x.screen()[strings.LastIndex(x.screen(), "\x1b[?1049l"):]
	assert.Contains(t, tail, "The scratch copy of the demo is ", "it is said on the terminal that stays")
}

// An escape sequence in two writes is one key; a lone escape is one too.
func testEscape(t *testing.T, program string) {
	x := open(t, program, t.TempDir(), "demo")
	at := x.sees("2 Mounts: ", 0)
	x.types("?")
	at = x.sees("In every pane", at)
	x.types("\x1b")
	at = x.sees("2 Mounts: ", at)
	x.types("\x1b[B\x1b[B\x1b[C")
	x.sees("-289.0 mm", at)
	x.types("qd")
	assert.Equal(t, exitDone, x.ends())
}

// Keys that are there before the program is ready are not lost.
func testEarlyKeys(t *testing.T, program string) {
	x := open(t, program, t.TempDir(), "demo")
	x.types("\x1b[B\x1b[B\x1b[C")
	x.sees("-289.0 mm", 0)
	x.types("qd")
	assert.Equal(t, exitDone, x.ends())
}

// A line that does not know its size, such as a serial one, gets a word.
func testNoSize(t *testing.T, program string) {
	x := openSized(t, program, t.TempDir(), &pty.Winsize{}, "demo")
	x.sees("stty rows 36 cols 120", 0)
	x.types("q")
	assert.Equal(t, exitDone, x.ends())
}

// testSaneAfter ends the bench by a signal that kills a program of its kind with
// the terminal as it is.
func testSaneAfter(t *testing.T, program string, s syscall.Signal) {
	x := open(t, program, t.TempDir(), "demo")
	x.sees("2 Mounts: ", 0)
	require.NoError(t, x.cmd.Process.Signal(s))
	x.ends()
	x.givenBack()
	assert.NotContains(t, x.screen(), "goroutine ")
}

// testKilledWhileItAsks kills the bench while it asks whose value counts: the
// next one asks again, and neither value is lost.
func testKilledWhileItAsks(t *testing.T, program string) {
	dir := t.TempDir()
	path := filepath.Join(dir, "build.toml")
	require.NoError(t, os.WriteFile(path, starter.Demo(), 0o644))
	x := open(t, program, dir, "build.toml")
	at := x.sees("2 Mounts: ", 0)
	x.types("\x1b[B\x1b[B\x1b[C")
	x.sees("-289.0 mm", at)
	inJournal(t, dir, "-289")
	require.NoError(t, x.cmd.Process.Kill())
	x.ends()
	theirs := strings.Replace(string(starter.Demo()), "\nrear = -289.5", "\nrear = -250  ", 1)
	require.NoError(t, os.WriteFile(path, []byte(theirs), 0o644))
	for range 2 {
		y := open(t, program, dir, "build.toml")
		at = y.sees("Unsaved work was found", 0)
		y.types("t")
		y.sees("yours -289.0 mm, theirs -250 mm", at)
		require.NoError(t, y.cmd.Process.Kill())
		y.ends()
	}
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, theirs, string(now))
}

// inJournal waits until the journal of a build in a folder has a word in it.
func inJournal(t *testing.T, dir, word string) {
	t.Helper()
	require.Eventually(t, func() bool {
		found := false
		_ = filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err == nil && !d.IsDir() && strings.Contains(filepath.Base(path), "journal") {
				text, _ := os.ReadFile(path)
				found = found || strings.Contains(string(text), word)
			}
			return nil
		})
		return found
	}, 20*time.Second, 10*time.Millisecond, "the edit is not in the journal")
}

// testWorkSurvives edits, ends the program from outside, and takes the work
// back at the next start.
func testWorkSurvives(t *testing.T, program string, end func(*terminal) error) {
	dir := t.TempDir()
	path := filepath.Join(dir, "build.toml")
	require.NoError(t, os.WriteFile(path, starter.Demo(), 0o644))
	x := open(t, program, dir, "build.toml")
	at := x.sees("2 Mounts: ", 0)
	x.types("+")
	x.sees("unsaved", at)
	inJournal(t, dir, "placement") // beside the screen, which does not wait for the disk
	require.NoError(t, end(x))
	x.ends()
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(starter.Demo()), string(now), "the file itself was not touched")

	y := open(t, program, dir, "build.toml")
	at = y.sees("Unsaved work was found", 0)
	y.types("t")
	at = y.sees("unsaved", at)
	y.types("s")
	y.sees("Saved build.toml", at)
	y.types("q")
	assert.Equal(t, exitDone, y.ends())
	y.givenBack()
	now, err = os.ReadFile(path)
	require.NoError(t, err)
	assert.Regexp(t, `(?m)^left_front = -10[45](\.[05])?$`, string(now))
}

func testInputIsNoTerminal(t *testing.T, program string) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "build.toml"), starter.Demo(), 0o644))
	for _, args := range [][]string{{"build.toml"}, {"demo"}} {
		master, slave, err := pty.Open()
		require.NoError(t, err)
		var errs strings.Builder
		cmd := exec.Command(program, args...)
		cmd.Dir, cmd.Stdout, cmd.Stderr = dir, slave, &errs
		cmd.Stdin = strings.NewReader("q")
		require.Error(t, cmd.Run())
		assert.Equal(t, exitTerminal, cmd.ProcessState.ExitCode())
		assert.Contains(t, errs.String(), "the bench needs a terminal, and the input is not one")
		assert.Contains(t, errs.String(), "fitup check")
		waiting, err := unix.IoctlGetInt(int(master.Fd()), unix.TIOCINQ)
		require.NoError(t, err)
		assert.Zero(t, waiting, "nothing was drawn")
		require.NoError(t, slave.Close())
		require.NoError(t, master.Close())
	}
}
