package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"

	"fitup/internal/project"
	"fitup/internal/project/keep"
	"fitup/internal/project/starter"

	"github.com/spf13/cobra"
)

func (a *app) demoCommand() *cobra.Command {
	var look lookFlags
	var walk bool
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Open an invented build in a scratch copy",
		Long: `Open an invented build on the bench, in a scratch copy of its own.

Change what you like: every demo starts afresh. Where the copy lies is said at
the end. Weld nothing from its numbers.

The first time it begins with a walk of two minutes that teaches by doing; Esc
leaves it, --walk brings it back.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return wrongUse("demo takes no file; `fitup new --demo FILE` writes the demo build into a file")
			}
			return nil
		},
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE:              func(*cobra.Command, []string) error { return a.demo(look, walk) },
	}
	look.add(cmd)
	cmd.Flags().BoolVar(&walk, "walk", false, "begin with the walk that teaches by doing")
	return cmd
}

func (a *app) demo(look lookFlags, walk bool) error {
	look, err := look.settle(a.env.Getenv)
	if err != nil {
		return err
	}
	if why := a.noTerminal(); why != "" {
		return fail(exitTerminal, fmt.Errorf("the bench needs a terminal, and %s; without one, `fitup new --demo FILE` writes the demo build and `fitup check FILE` prints its findings", why))
	}
	dir, err := os.MkdirTemp("", "fitup-demo-")
	if err != nil {
		return fail(exitSave, fmt.Errorf("there is no room for a scratch copy: %w", err))
	}
	path := filepath.Join(dir, "demo.toml")
	if err := keep.Save(path, starter.Demo(), keep.Options{New: true}); err != nil {
		return fail(exitSave, err)
	}
	err = a.openBench(benchOptions{Path: path, Scratch: true, Look: look, Walk: a.firstTime() || walk})
	if err == nil && untouched(path) {
		_ = os.RemoveAll(dir) // nothing of the user's is in it
		return nil
	}
	fmt.Fprintf(a.env.Stdout, "The scratch copy of the demo is %s\n", project.Printable(path))
	return err
}

// untouched reports whether the scratch copy still is the demo as it came.
func untouched(path string) bool {
	src, err := project.Read(path)
	return err == nil && bytes.Equal(src, starter.Demo())
}

// firstTime reports whether the demo has not been open before, and notes that it has
// (XDG Base Directory Specification: state). Where that cannot be noted nobody is led
// about again and again.
func (a *app) firstTime() bool {
	dir := a.env.Getenv("XDG_STATE_HOME")
	if dir == "" {
		home := a.env.Getenv("HOME")
		if home == "" {
			return false
		}
		dir = filepath.Join(home, ".local", "state")
	}
	dir = filepath.Join(dir, "fitup")
	if os.MkdirAll(dir, 0o700) != nil {
		return false
	}
	f, err := os.OpenFile(filepath.Join(dir, "demo-seen"), os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return false
	}
	return f.Close() == nil
}
