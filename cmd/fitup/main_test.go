package main

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"fitup": main})
}

func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"fill": fill, "code": code},
	})
}

// fill FILE BYTES TEXT makes a file of that many bytes that begins with text.
func fill(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 3 {
		ts.Fatalf("usage: fill FILE BYTES TEXT")
	}
	n, err := strconv.ParseInt(args[1], 10, 64)
	ts.Check(err)
	path := ts.MkAbs(args[0])
	ts.Check(os.MkdirAll(filepath.Dir(path), 0o755))
	ts.Check(os.WriteFile(path, []byte(args[2]), 0o644))
	ts.Check(os.Truncate(path, n))
}

// code WANT COMMAND... runs a command and holds its exit code against WANT.
func code(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) < 2 {
		ts.Fatalf("usage: code WANT COMMAND...")
	}
	err := ts.Exec(args[1], args[2:]...)
	got := 0
	if exit, ok := err.(interface{ ExitCode() int }); ok {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if strconv.Itoa(got) != args[0] {
		ts.Fatalf("exit code %d, want %s", got, args[0])
	}
}
