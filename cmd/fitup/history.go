package main

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"strings"

	"fitup/internal/book/press"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/keep"

	"github.com/spf13/cobra"
)

// historyFlags choose what is done with an earlier state; 0 is none.
type historyFlags struct{ show, diff, restore int }

func (a *app) historyCommand() *cobra.Command {
	var flags historyFlags
	cmd := &cobra.Command{
		Use:   "history FILE",
		Short: "List the earlier states of a build file, and bring one back",
		Long: `List the states that a build file had before its last saves, ten at most, the
newest first, and what each save changed. Unsaved work that was dropped is among
them. They lie in the hidden folder beside the file.

A state brought back is a change like any other: what it replaces becomes the
newest earlier state, and u on the bench takes it back.`,
		Example: `  fitup history truck.toml
  fitup history truck.toml --diff 3       what has changed since state 3
  fitup history truck.toml --restore 3    make the file what it was then`,
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			chosen := 0
			for _, name := range []string{"show", "diff", "restore"} {
				if cmd.Flags().Changed(name) {
					chosen++
				}
			}
			if chosen > 1 {
				return wrongUse("one of --show, --diff and --restore at a time")
			}
			return a.history(args[0], flags, chosen == 1)
		},
	}
	cmd.Flags().IntVar(&flags.show, "show", 0, "print the text of state `N`")
	cmd.Flags().IntVar(&flags.diff, "diff", 0, "list what has changed since state `N`")
	cmd.Flags().IntVar(&flags.restore, "restore", 0, "make the file what it was in state `N`")
	return cmd
}

func (a *app) history(path string, flags historyFlags, chosen bool) error {
	states, err := keep.States(path)
	if err != nil {
		return fail(exitFile, err)
	}
	if !chosen {
		return a.listStates(path, states)
	}
	n := flags.show + flags.diff + flags.restore
	if n < 1 || n > len(states) {
		return wrongUse("there is no state %d of %s; it has %s", n, project.Printable(path), stateCount(len(states)))
	}
	text, err := states[n-1].Text()
	if err != nil {
		return fail(exitFile, err)
	}
	if flags.show > 0 {
		return a.print(a.shown(string(text)))
	}
	old, err := project.Parse(path, text)
	if err != nil {
		return fail(exitFile, err)
	}
	if flags.restore > 0 {
		if src, bad := project.Read(path); bad == nil {
			if _, bad = project.Parse(path, src); bad != nil {
				return a.replaceBroken(path, src, old)
			}
		}
		return a.change(path, fmt.Sprintf("state of %s brought back", press.Stamp(states[n-1].Written)), func(f *project.File) ([]edit.Edit, error) {
			return []edit.Edit{edit.Splice(f, old)}, nil
		})
	}
	now, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	lines := effects(old, now)
	if len(lines) == 0 {
		lines = []string{"no value has changed"}
	}
	return a.print(a.glyphs().Plain(strings.Join(lines, "\n") + "\n"))
}

// replaceBroken brings a state back over a file that is no build any more, so
// that there are no values to compare.
func (a *app) replaceBroken(path string, broken []byte, old *project.File) error {
	sum := sha256.Sum256(broken)
	if err := keep.Save(path, old.Bytes(), keep.Options{Expect: &sum}); err != nil {
		return fail(exitSave, err)
	}
	return a.print("the file could not be read; it is what it was then, and the unreadable text is state 1 now\n")
}

// shown is the text of a file for whoever reads the output: as it is for a
// program, without anything that a terminal would act on for a person.
func (a *app) shown(text string) string {
	if !isTerminal(a.env.Stdout) {
		return text
	}
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		lines[i] = project.Printable(strings.TrimSuffix(l, "\r"))
	}
	return strings.Join(lines, "\n")
}

// droppedNote tells a state that never was the file from the others.
func droppedNote(s keep.State) string {
	if s.Dropped {
		return ", dropped unsaved"
	}
	return ""
}

func stateCount(n int) string {
	switch n {
	case 0:
		return "no earlier state"
	case 1:
		return "one earlier state"
	}
	return fmt.Sprintf("%d earlier states", n)
}

// listStates prints the present state and the earlier ones, each with what led
// to it from the one below.
func (a *app) listStates(path string, states []keep.State) error {
	info, err := os.Stat(path)
	if err != nil {
		_, err = project.Read(path) // says it in plain words
		if err == nil {
			err = errors.New("the file changed while it was read; try again")
		}
		return fail(exitFile, err)
	}
	var out strings.Builder
	fmt.Fprintf(&out, "%s: %s\n\n", project.Printable(path), stateCount(len(states)))
	now, err := project.Load(path)
	if err != nil {
		now = nil
	}
	fmt.Fprintf(&out, "now  %s\n", press.Stamp(info.ModTime()))
	for _, s := range states {
		text, err := s.Text()
		if err != nil {
			return fail(exitFile, err)
		}
		old, err := project.Parse(path, text)
		if err != nil {
			old = nil
		}
		fmt.Fprintf(&out, "     %s\n", press.Led(old, now))
		fmt.Fprintf(&out, "%3d  %s%s\n", s.N, press.Stamp(s.Written), droppedNote(s))
		now = old
	}
	return a.print(a.glyphs().Plain(out.String()))
}
