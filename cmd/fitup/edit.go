package main

import (
	"errors"
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book/press"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/format"
	"fitup/internal/project/session"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

// target is the file that a command changes, and what becomes of the result.
type target struct {
	path string
	out  string // a new file for the result, "" for the file itself
	dry  bool   // only tell what would change
}

func (t *target) add(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&t.dry, "dry-run", false, "print what would change, in values and in verdicts, and write nothing")
}

// change makes edits to a build file and tells what that did.
func (a *app) change(path, label string, edits func(*project.File) ([]edit.Edit, error)) error {
	return a.changeInto(target{path: path}, label, edits)
}

// changeInto is change with a choice of what becomes of the result.
func (a *app) changeInto(to target, label string, edits func(*project.File) ([]edit.Edit, error)) error {
	path, out := to.path, to.out
	var gone []string
	checked := func(f *project.File) ([]edit.Edit, error) {
		list, err := edits(f)
		gone = edit.BoundsDropped(f, list)
		if err != nil {
			return nil, fail(exitUsage, err)
		}
		if err := heldJobs(f, list); err != nil {
			return nil, fail(exitUsage, err)
		}
		return list, nil
	}
	var done *session.Changed
	var err error
	switch {
	case to.dry:
		done, err = tryChange(path, checked)
	case out != "":
		done, err = session.ChangeInto(path, out, checked)
	default:
		done, err = session.Change(path, a.env.Now, label, checked)
	}
	var told failure
	var bad *session.EditError
	switch {
	case err == nil:
	case errors.As(err, &told):
		return err
	case errors.As(err, &bad):
		return fail(exitUsage, bad.Err)
	case isProblem(err):
		return fail(exitFile, err)
	default:
		return fail(exitSave, err)
	}
	g := a.glyphs()
	lines := append(effects(done.Before, done.After), nextAsked(done.Before, done.After)...)
	for _, path := range gone {
		lines = append(lines, "the ± of "+project.Printable(path)+" was of the old value and is gone with it; where it holds for the new one, give it again")
	}
	if len(lines) == 0 {
		lines = []string{"nothing to change: the file says so already"}
	}
	switch {
	case to.dry:
		lines = append(lines, "nothing is written: this is what it would do")
	case out != "":
		lines = append(lines, "written to "+project.Printable(out)+"; "+project.Printable(path)+" is as it was")
	}
	if err := a.print(g.Plain(strings.Join(lines, "\n") + "\n")); err != nil {
		return err
	}
	if to.dry {
		return nil
	}
	a.notes(path, done)
	if done.Warning != nil {
		return fail(exitSave, done.Warning)
	}
	return nil
}

// tryChange is what a change would make of a file, which stays as it is.
func tryChange(path string, edits func(*project.File) ([]edit.Edit, error)) (*session.Changed, error) {
	f, err := project.Load(path)
	if err != nil {
		return nil, err
	}
	list, err := edits(f)
	if err != nil {
		return nil, err
	}
	if list, err = edit.WithPlaces(f, list); err != nil {
		return nil, &session.EditError{Err: err}
	}
	g, err := edit.Apply(f, list...)
	if err != nil {
		return nil, &session.EditError{Err: err}
	}
	return &session.Changed{Before: f, After: g}, nil
}

// notes tells on the side what else is worth knowing about the file.
func (a *app) notes(path string, done *session.Changed) {
	if done.Before.From != 0 {
		fmt.Fprintf(a.env.Stderr, "fitup: the file was in format %d and is now in format %d\n", done.Before.From, format.Now)
	}
	if done.Holder != nil {
		fmt.Fprintf(a.env.Stderr, "fitup: the file is open in another fitup, %s; it takes this in by itself\n", done.Holder)
	}
	if done.Leftover > 0 {
		fmt.Fprintf(a.env.Stderr, "fitup: %d unsaved edits of an earlier run still wait; `fitup %s` offers them\n", done.Leftover, shellWord(path))
	}
}

// heldJobs refuses to tick a job past the one door there is: what it relies on
// and why it was overridden would not be recorded.
func heldJobs(f *project.File, edits []edit.Edit) error {
	g, err := edit.Apply(f, edits...)
	if err != nil || len(g.Build.Jobs) != len(f.Build.Jobs) {
		return nil // told when it is applied, or no job was ticked
	}
	for i, j := range assess.Run(g.Build).Jobs {
		if j.Done && !f.Build.Jobs[i].Done && j.State == assess.ProveAgain {
			return fmt.Errorf("the job %q is held: %s", project.Printable(j.ID), project.Printable(strings.Join(j.Broken, "; ")))
		}
	}
	return nil
}

// effects is what became another between two states, one line each: the values
// first, then the findings whose verdict changed.
func effects(before, after *project.File) []string {
	var lines []string
	for _, c := range edit.Diff(before, after) {
		lines = append(lines, c.String())
	}
	return append(lines, press.Verdicts(before, after)...)
}

// nextAsked says what is asked for once something has come into a file: the values that
// findings lack now and did not before, at most three of them.
func nextAsked(before, after *project.File) []string {
	came := false
	for _, c := range edit.Diff(before, after) {
		came = came || c.From == ""
	}
	if !came {
		return nil
	}
	had := map[string]bool{}
	for _, f := range assess.Run(before.Build).Findings {
		for _, path := range f.Lacks() {
			had[path] = true
		}
	}
	const few = 3
	var lines []string
	more := 0
	for _, f := range assess.Run(after.Build).Findings {
		for _, path := range f.Lacks() {
			if had[path] || f.Status != assess.NotKnown {
				continue
			}
			had[path] = true
			if k, _ := project.KeyAt(path); len(lines) < few {
				line := "asked for next: " + project.SpokenPath(path)
				if k.About != "" {
					line += ", " + k.About
				}
				lines = append(lines, project.Printable(line))
			} else {
				more++
			}
		}
	}
	if more > 0 {
		lines = append(lines, fmt.Sprintf("and %d more: `fitup check --missing FILE` lists them", more))
	}
	return lines
}

// glyphs are the signs that the surroundings ask for.
func (a *app) glyphs() theme.Glyphs {
	g, err := a.signs("")
	if err != nil {
		return theme.ASCII()
	}
	return g
}

// atLeastFile is the check of arguments for commands that take a file and more.
func atLeastFile(more int, want string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < 1+more {
			return wrongUse("%s: `%s %s`", "too little to go on", cmd.CommandPath(), want)
		}
		return nil
	}
}

// completeFrom completes the file first, then what list gives for that file.
func completeFrom(list func(f *project.File, args []string, word string) []cobra.Completion, d cobra.ShellCompDirective) cobra.CompletionFunc {
	return func(cmd *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return completeBuildFile(cmd, args, word)
		}
		f, err := project.Load(args[0])
		if err != nil {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return list(f, args[1:], word), d | cobra.ShellCompDirectiveNoFileComp
	}
}
