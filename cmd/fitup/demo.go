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
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "Open an invented build in a scratch copy",
		Long: `Open an invented build on the bench, in a scratch copy of its own.

Change what you like: every demo starts afresh. Where the copy lies is said at
the end. Weld nothing from its numbers.`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return wrongUse("demo takes no file; `fitup new --demo FILE` writes the demo build into a file")
			}
			return nil
		},
		ValidArgsFunction: cobra.NoFileCompletions,
		RunE:              func(*cobra.Command, []string) error { return a.demo(look) },
	}
	look.add(cmd)
	return cmd
}

func (a *app) demo(look lookFlags) error {
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
	err = a.openBench(benchOptions{Path: path, Scratch: true, Look: look})
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
