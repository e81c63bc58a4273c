package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/session"
	"fitup/internal/ui"

	"github.com/mattn/go-isatty"
	"github.com/spf13/cobra"
)

// benchOptions is what the bench screen is opened with.
type benchOptions struct {
	Path    string
	Scratch bool // the file is a copy in a temporary folder
	Walk    bool // it begins with the walk
	Look    lookFlags
}

// openFile opens the bench on a build file.
func (a *app) openFile(cmd *cobra.Command, path string, look lookFlags) error {
	look, err := look.settle(a.env.Getenv)
	if err != nil {
		return err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		if n := near(cmd, path); n != "" {
			return wrongUse("there is no file and no command %q; did you mean `fitup %s`?", path, n)
		}
	}
	if why := a.noTerminal(); why != "" {
		return fail(exitTerminal, fmt.Errorf("the bench needs a terminal, and %s; `fitup check %s` prints the findings without one", why, shellWord(path)))
	}
	return a.openBench(benchOptions{Path: path, Look: look})
}

// openBench runs the bench screen and sorts what can go wrong with it.
func (a *app) openBench(o benchOptions) error {
	err := a.bench(a.env, o)
	var told failure
	var bug *ui.Failure
	var unkept *session.JournalError
	switch {
	case err == nil, isProblem(err), errors.As(err, &told):
		return err
	case errors.As(err, &bug):
		reportBug(a.env.Stderr, bug)
		fmt.Fprintln(a.env.Stderr, "fitup: your unsaved work is kept and offered when you open the file again")
		return failure{code: exitBug}
	case errors.As(err, &unkept):
		return fail(exitSave, err)
	}
	return fail(exitTerminal, err)
}

// noTerminal says why the bench cannot be shown, "" when it can.
func (a *app) noTerminal() string {
	switch {
	case !isTerminal(a.env.Stdin):
		return "the input is not one"
	case !isTerminal(a.env.Stdout):
		return "the output is not one"
	case a.env.Getenv("TERM") == "dumb":
		return "this one can only print (TERM is dumb)"
	}
	return ""
}

func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && f != nil && isatty.IsTerminal(f.Fd())
}

// shellWord writes a path so that it can be copied into a command.
func shellWord(path string) string {
	path = project.Printable(path)
	if strings.ContainsAny(path, " '\"$&|;<>()*?[]`\\!#~") {
		return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
	}
	return path
}
