package main

import (
	"errors"
	"fmt"
	"io"

	"fitup/internal/project"
	"fitup/internal/ui"
)

// The exit codes. Scripts rely on them: they do not change.
const (
	exitDone     = 0
	exitFindings = 1   // check: something is over or not known; a leg that cannot be made
	exitUsage    = 2   // wrong use of the command
	exitFile     = 3   // the build file cannot be used
	exitTerminal = 4   // needs a terminal
	exitSave     = 5   // could not write
	exitStopped  = 130 // by an interrupt, as shells have it
	exitBug      = 70  // a bug in fitup; 70 is EX_SOFTWARE of BSD's sysexits.h
)

const exitCodesHelp = `fitup ends with one of these exit codes:

   0  done; with check: every finding that is judged here is ok or tight
   1  check: something is over or not known, or there is nothing to check yet; propose: no proposal; get: a value that was named is not known; cuts, match, template: there is no such leg, or it cannot be made; drawing: there is nothing to draw yet
   2  the command was not used as it is meant
   3  the build file cannot be used: missing, unreadable, broken or refused
   4  the bench needs a terminal and there is none, or it cannot be used
   5  something could not be written
  70  a bug in fitup
 130  stopped by an interrupt before it was done; nothing changed`

// failure is an error with the exit code it leads to. One without a text has
// been told already.
type failure struct {
	code int
	err  error
}

func (f failure) Error() string {
	if f.err == nil {
		return ""
	}
	return f.err.Error()
}

func (f failure) Unwrap() error { return f.err }

func fail(code int, err error) error { return failure{code, err} }

func wrongUse(format string, args ...any) error {
	return failure{exitUsage, fmt.Errorf(format, args...)}
}

// exitCode returns the code an error leads to. What no command has claimed
// comes from cobra and is about the use of the command.
func exitCode(err error) int {
	var f failure
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &f):
		return f.code
	case isProblem(err):
		return exitFile
	}
	return exitUsage
}

func isProblem(err error) bool {
	var one project.Problem
	var many project.Problems
	return errors.As(err, &one) || errors.As(err, &many)
}

// maxProblems is how many problems of a file are printed. More help nobody.
const maxProblems = 50

// printError tells the person what went wrong; problems of a file one a line,
// in the form editors understand.
func printError(w io.Writer, err error) {
	if err == nil || err.Error() == "" {
		return
	}
	var ps project.Problems
	if !errors.As(err, &ps) {
		var p project.Problem
		if errors.As(err, &p) {
			ps = project.Problems{p}
		}
	}
	if len(ps) == 0 {
		fmt.Fprintf(w, "fitup: %s\n", project.Printable(err.Error()))
		return
	}
	for i, p := range ps {
		if i == maxProblems {
			fmt.Fprintf(w, "and %d more\n", len(ps)-maxProblems)
			break
		}
		fmt.Fprintln(w, project.Printable(p.Error()))
	}
	if len(ps) > 1 {
		fmt.Fprintf(w, "fitup: %d problems in the file; it was not changed\n", len(ps))
	}
}

// reportBug says that the program itself has failed, and where.
func reportBug(w io.Writer, f *ui.Failure) {
	fmt.Fprintf(w, "fitup: this is a bug in fitup and no fault of yours: %s, at %s; please report this line together with the command you gave\n",
		project.Printable(f.What), project.Printable(f.Place()))
}
