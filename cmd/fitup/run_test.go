package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"fitup/internal/project"
	"fitup/internal/ui"

	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// badWriter panics as a bug would.
type badWriter struct{}

func (badWriter) Write([]byte) (int, error) { panic("the needle\x1b is\nbent") }

func TestPanicIsReportedInOneSentence(t *testing.T) {
	var errs bytes.Buffer
	code := run([]string{"check", file(t, threeReadings)}, Env{
		Stdin: strings.NewReader(""), Stdout: badWriter{}, Stderr: &errs,
		Getenv: os.Getenv, Now: time.Now,
	})
	assert.Equal(t, exitBug, code)
	assert.Equal(t, 1, strings.Count(errs.String(), "\n"), errs.String())
	assert.Contains(t, errs.String(), "fitup: this is a bug in fitup")
	assert.Contains(t, errs.String(), "badWriter.Write (run_test.go:")
	assert.NotContains(t, errs.String(), "\x1b")
	assert.NotContains(t, errs.String(), "goroutine")
}

func TestPanicInTheRuntimeNamesOurLine(t *testing.T) {
	var errs bytes.Buffer
	func() {
		defer func() { reportBug(&errs, ui.FailureOf(recover())) }()
		var list []int
		_ = list[len(os.Args)+3]
	}()
	assert.Contains(t, errs.String(), "index out of range")
	assert.Contains(t, errs.String(), "(run_test.go:")
}

func TestManyProblemsAreCutShort(t *testing.T) {
	var ps project.Problems
	for i := range 60 {
		ps = append(ps, project.Problem{File: "a.toml", Line: i + 1, Col: 1, Msg: "wrong"})
	}
	var out bytes.Buffer
	printError(&out, fail(exitFile, ps))
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	require.Len(t, lines, maxProblems+2)
	assert.Equal(t, "a.toml:50:1: wrong", lines[maxProblems-1])
	assert.Equal(t, "and 10 more", lines[maxProblems])
	assert.Equal(t, "fitup: 60 problems in the file; it was not changed", lines[maxProblems+1])
}

func TestExitCode(t *testing.T) {
	for _, c := range []struct {
		err  error
		want int
	}{
		{nil, exitDone},
		{wrongUse("no"), exitUsage},
		{errors.New("from cobra"), exitUsage},
		{project.Problem{Msg: "bad"}, exitFile},
		{fmt.Errorf("deeper: %w", project.Problems{{Msg: "bad"}}), exitFile},
		{fmt.Errorf("deeper: %w", fail(exitSave, errors.New("full"))), exitSave},
		{failure{code: exitFindings}, exitFindings},
	} {
		assert.Equal(t, c.want, exitCode(c.err), "%v", c.err)
	}
}

// The help is the promise to scripts.
func TestHelpNamesEveryExitCode(t *testing.T) {
	for _, c := range []int{exitDone, exitFindings, exitUsage, exitFile, exitTerminal, exitSave, exitBug} {
		assert.Contains(t, exitCodesHelp, fmt.Sprintf("\n%4d  ", c))
	}
}

// onTerminal runs the program on a pseudo-terminal with a screen that only
// notes how it was opened.
func onTerminal(t *testing.T, env map[string]string, screen func(benchOptions) error, args ...string) (int, string) {
	t.Helper()
	master, slave, err := pty.Open()
	if err != nil {
		t.Skipf("no pseudo-terminal here: %v", err)
	}
	defer master.Close()
	defer slave.Close()
	var errs bytes.Buffer
	a := &app{
		version: "test",
		bench:   func(_ Env, o benchOptions) error { return screen(o) },
		env: Env{
			Stdin: slave, Stdout: slave, Stderr: &errs,
			Getenv: func(k string) string { return env[k] },
			Now:    time.Now,
		},
	}
	code := a.run(args)
	return code, errs.String()
}

func TestBenchOnATerminal(t *testing.T) {
	var got benchOptions
	screen := func(o benchOptions) error { got = o; return nil }
	path := file(t, threeReadings)
	code, errs := onTerminal(t, nil, screen, "--theme", "plain", "--glyphs", "ascii", "--keys", "k.toml", path)
	assert.Equal(t, exitDone, code, errs)
	assert.Equal(t, benchOptions{Path: path, Look: lookFlags{theme: "plain", glyphs: "ascii", keys: "k.toml"}}, got)
}

func TestDemoOpensAScratchCopy(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	var paths []string
	screen := func(o benchOptions) error {
		assert.True(t, o.Scratch)
		f, err := project.Load(o.Path)
		if paths = append(paths, o.Path); err != nil || len(paths) == 1 {
			return err
		}
		return os.WriteFile(o.Path, append(f.Bytes(), "# tried\n"...), 0o600)
	}
	for range 2 {
		code, errs := onTerminal(t, nil, screen, "demo")
		assert.Equal(t, exitDone, code, errs)
	}
	require.Len(t, paths, 2)
	assert.NotEqual(t, paths[0], paths[1])
	assert.NoFileExists(t, paths[0], "a copy nothing was done to is taken away")
	assert.FileExists(t, paths[1])
}

func TestDumbTerminalIsRefused(t *testing.T) {
	screen := func(benchOptions) error { return errors.New("must not be opened") }
	code, errs := onTerminal(t, map[string]string{"TERM": "dumb"}, screen, file(t, threeReadings))
	assert.Equal(t, exitTerminal, code)
	assert.Contains(t, errs, "TERM is dumb")
	code, errs = onTerminal(t, map[string]string{"TERM": "dumb"}, screen, "demo")
	assert.Equal(t, exitTerminal, code)
	assert.Contains(t, errs, "fitup check")
}

func TestWhatTheBenchReportsDecidesTheExitCode(t *testing.T) {
	for _, c := range []struct {
		err  error
		want int
	}{
		{project.Problem{File: "a.toml", Msg: "there is no such file"}, exitFile},
		{project.Problems{{File: "a.toml", Line: 1, Col: 1, Msg: "bad"}}, exitFile},
		{errors.New("cannot set the terminal up"), exitTerminal},
		{fail(exitSave, errors.New("disk full")), exitSave},
	} {
		code, errs := onTerminal(t, nil, func(benchOptions) error { return c.err }, "a.toml")
		assert.Equal(t, c.want, code, "%v", c.err)
		assert.Contains(t, errs, c.err.Error())
	}
	code, errs := onTerminal(t, nil, func(benchOptions) error { panic("bent") }, "a.toml")
	assert.Equal(t, exitBug, code)
	assert.Contains(t, errs, "bent")
}

func TestUsualKeysFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "fitup", "keys.toml")
	var got string
	screen := func(o benchOptions) error { got = o.Look.keys; return nil }
	env := map[string]string{"XDG_CONFIG_HOME": dir}
	onTerminal(t, env, screen, "a.toml")
	assert.Empty(t, got, "a settings file that is not there is not asked for")

	require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
	require.NoError(t, os.WriteFile(path, nil, 0o644))
	onTerminal(t, env, screen, "a.toml")
	assert.Equal(t, path, got)
	onTerminal(t, env, screen, "--keys", "own.toml", "a.toml")
	assert.Equal(t, "own.toml", got)

	home := t.TempDir()
	require.NoError(t, os.MkdirAll(filepath.Join(home, ".config", "fitup"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(home, ".config", "fitup", "keys.toml"), nil, 0o644))
	onTerminal(t, map[string]string{"HOME": home}, screen, "a.toml")
	assert.Equal(t, filepath.Join(home, ".config", "fitup", "keys.toml"), got)
}

func TestUsualLook(t *testing.T) {
	for _, c := range []struct {
		env           map[string]string
		theme, glyphs string
		ask           bool
	}{
		{nil, "both", "unicode", false},
		{map[string]string{"TERM": "xterm"}, "both", "unicode", true},
		{map[string]string{"TERM": "vt220"}, "both", "unicode", false},
		{map[string]string{"TERM": "xterm", "NO_COLOR": "1", "COLORFGBG": "0;15"}, "plain", "unicode", false},
		{map[string]string{"TERM": "xterm", "COLORFGBG": "0;15"}, "light", "unicode", true},
		{map[string]string{"COLORFGBG": "15;default;0"}, "dark", "unicode", false},
		{map[string]string{"COLORFGBG": "default;default"}, "both", "unicode", false},
		{map[string]string{"LANG": "de_DE.UTF-8"}, "both", "unicode", false},
		{map[string]string{"LANG": "de_DE.utf8", "LC_ALL": "C"}, "both", "ascii", false},
		{map[string]string{"LANG": "C.UTF-8", "TERM": "linux"}, "dark", "ascii", false},
	} {
		l, err := lookFlags{}.settle(func(k string) string { return c.env[k] })
		require.NoError(t, err)
		assert.Equal(t, lookFlags{theme: c.theme, glyphs: c.glyphs, ask: c.ask}, l, "%v", c.env)
	}
	l, err := lookFlags{theme: "dark"}.settle(func(string) string { return "xterm" })
	require.NoError(t, err)
	assert.False(t, l.ask, "who has chosen is not overruled")
	_, err = lookFlags{theme: "tartan"}.settle(func(string) string { return "" })
	assert.Equal(t, exitUsage, exitCode(err))
}

func TestPanicThatTheBenchCaught(t *testing.T) {
	stack := func() (s string) {
		defer func() { _ = recover(); s = string(debug.Stack()) }()
		panic("bent")
	}()
	screen := func(benchOptions) error {
		return &ui.Failure{What: "bent", Stack: stack}
	}
	code, errs := onTerminal(t, nil, screen, "a.toml")
	assert.Equal(t, exitBug, code)
	assert.Contains(t, errs, "bent, at ")
	assert.Contains(t, errs, "(run_test.go:")
	assert.Contains(t, errs, "unsaved work is kept")
	assert.Equal(t, "a place unknown", (&ui.Failure{Stack: "no trace"}).Place())
}

func TestKeysCommandListsEveryAction(t *testing.T) {
	table, err := ui.Actions()
	require.NoError(t, err)
	r := fitup(t, "keys")
	require.Equal(t, exitDone, r.code, r.err)
	md := fitup(t, "keys", "--markdown")
	assert.Equal(t, table.Markdown(), md.out)
	assert.Equal(t, len(table.All()), strings.Count(r.out, "\n"))
	for _, x := range table.All() {
		assert.Contains(t, r.out, string(x.ID))
		assert.Contains(t, r.out, x.Help)
	}
	assert.Equal(t, exitUsage, fitup(t, "keys", "a.toml").code)
}

func TestShellWord(t *testing.T) {
	for in, want := range map[string]string{
		"truck.toml":      "truck.toml",
		"my truck.toml":   "'my truck.toml'",
		"it's.toml":       `'it'\''s.toml'`,
		"a\x1b[31mb.toml": "'a·[31mb.toml'",
	} {
		assert.Equal(t, want, shellWord(in))
	}
}

func FuzzRun(f *testing.F) {
	for _, s := range []string{threeReadings, "format = 1", "format = 1\n[line.rear.pinion]\nslope = 3", "\x00", "[[", "format = 9"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		path := file(t, string(text))
		for _, args := range [][]string{{"check", path}, {"check", "--json", path}} {
			r := fitup(t, args...)
			require.NotEqual(t, exitBug, r.code, r.err)
			if r.code > exitFindings {
				require.Empty(t, r.out)
				require.NotEmpty(t, r.err)
			}
			require.NotContains(t, r.out+r.err, "\x1b")
			require.NotContains(t, r.out, "NaN")
		}
		now, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, text, now, "a check changes nothing")
	})
}
