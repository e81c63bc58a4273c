package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// onBench runs the program with its real screen on a pseudo-terminal of 120 by
// 36 cells, sends the keys and returns the exit code, everything that was
// drawn, and standard error.
func onBench(t *testing.T, keys string, args ...string) (int, string, string) {
	t.Helper()
	master, slave, err := pty.Open()
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	defer master.Close()
	require.NoError(t, pty.Setsize(master, &pty.Winsize{Rows: 36, Cols: 120}))
	drawn := make(chan string)
	go func() {
		var all bytes.Buffer
		chunk := make([]byte, 4096)
		for typed := false; ; { // ends with an error when the slave is closed
			n, err := master.Read(chunk)
			all.Write(chunk[:n])
			if !typed && strings.Contains(all.String(), "Mounts") { // the screen is up
				typed = true
				_, _ = master.WriteString(keys)
			}
			if err != nil {
				break
			}
		}
		drawn <- all.String()
	}()
	var errs bytes.Buffer
	code := run(args, Env{
		Stdin: slave, Stdout: slave, Stderr: &errs,
		Getenv: func(k string) string { return map[string]string{"TERM": "xterm"}[k] },
		Now:    time.Now,
	})
	require.NoError(t, slave.Close())
	return code, <-drawn, errs.String()
}

func TestBenchOpensAndGivesTheTerminalBack(t *testing.T) {
	path := file(t, threeReadings)
	code, drawn, errs := onBench(t, "q", path)
	assert.Equal(t, exitDone, code, errs)
	assert.Contains(t, drawn, "\x1b[?1049h", "the screen of its own is opened")
	assert.Contains(t, drawn, "\x1b[?1049l", "and closed again")
	now, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, threeReadings, string(now))
}

func TestDemoSaysWhereItsCopyIs(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	code, drawn, errs := onBench(t, "+sq", "demo")
	assert.Equal(t, exitDone, code, errs)
	assert.Regexp(t, `The scratch copy of the demo is \S+demo\.toml\r\n$`, drawn)
}

func TestBrokenFileIsToldBeforeTheScreenOpens(t *testing.T) {
	for name, path := range map[string]string{
		"missing": "no-such-file.toml",
		"broken":  file(t, "format = 1\nwheelbase =\n"),
	} {
		code, drawn, errs := onBench(t, "q", path)
		assert.Equal(t, exitFile, code, name)
		assert.NotContains(t, drawn, "\x1b[?1049h", name)
		assert.NotEmpty(t, errs, name)
	}
}
