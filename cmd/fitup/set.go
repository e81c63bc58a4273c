package main

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/edit"

	"github.com/spf13/cobra"
)

func (a *app) setCommand() *cobra.Command {
	to := target{}
	reason := ""
	cmd := &cobra.Command{
		Use:   "set FILE PATH=VALUE...",
		Short: "Change values in a build file, without a terminal",
		Long: `Change values in a build file, all of them or none.

A path is what the file says, with dots between: placement.rear, or
line.rear.pinion.slope. An entry of a list goes by its id or name, or by its
number from 1: job.make-safe.done, reading.2.shown. The rows of the bench that
are no keys of the file can be set as well: placement.lift, placement.tilt.
fitup help file lists every key; fitup get FILE those that the file has.

What is not begun is begun: a table is put where it belongs, and an entry behind
the last one of its list by its number, as in line.rear.shaft.1.outside. Keys that
an entry cannot do without are given in the same command.

A value is written as on the bench: 212, "212 mm", "4.8 deg down to the rear". It
is checked in the same way, and nothing else in the file changes. Nothing behind
the = takes the value out of the file. With += or -= in place of = the value is a
step from what stands there: placement.rear+=5. A value with a + in front of it
could be meant as one and is refused.

With --dry-run nothing is written: what would change is printed, in values and in
verdicts.

A job is ticked as on the bench: what it relies on is recorded with it, and one
that is held wants --reason. So does a side of the weld map that is to go past
tacked while proof is missing. An inspection wants the name first:
weld.1.side.front.inspected_by=NAME weld.1.side.front.state=inspected.

With -o the result goes to a new file and the one that was read stays as it is;
a file that is there already is never replaced.`,
		Example: `  fitup set truck.toml placement.rear=-288
  fitup set truck.toml "line.rear.pinion.slope=4.8 deg down to the rear" job.hang.done=true
  fitup set truck.toml placement.rear+=5 --dry-run
  fitup set truck.toml line.rear.shaft.1.outside=76.2 line.rear.shaft.1.wall=2.1
  fitup set truck.toml --reason "the rig goes back today" job.tack-mounts.done=true`,
		Args: atLeastFile(1, "FILE PATH=VALUE..."),
		ValidArgsFunction: completeFrom(func(f *project.File, _ []string, word string) []cobra.Completion {
			return completeSet(f, word)
		}, cobra.ShellCompDirectiveNoSpace),
		RunE: func(cmd *cobra.Command, args []string) error {
			d, err := a.door(cmd, reason)
			if err != nil {
				return err
			}
			to.path = args[0]
			return a.through(d, to, "set "+strings.Join(args[1:], ", "), func(f *project.File) ([]edit.Edit, error) {
				return d.setEdits(f, args[1:])
			})
		},
	}
	to.add(cmd)
	cmd.Flags().StringVarP(&to.out, "output", "o", "", "write the result to a new `FILE`, under another name")
	cmd.Flags().StringVar(&reason, "reason", "", "why a held job is ticked, or a weld finished, all the same")
	return cmd
}

// slip asks about a bare number that is many times off what stands there.
func slip(f *project.File, path, value string) error {
	if why, odd := edit.TypedDoubt(f, path, value); odd {
		return fmt.Errorf("%s; is it a slip? When it is meant so, write it with its unit behind it", why)
	}
	return nil
}

// completeSet completes a path, and behind = the words it may be.
func completeSet(f *project.File, word string) []cobra.Completion {
	if path, _, ok := strings.Cut(word, "="); ok {
		var out []cobra.Completion
		for _, c := range f.Choices(f.Resolve(path)) {
			out = append(out, path+"="+c)
		}
		return out
	}
	var out []cobra.Completion
	for _, p := range settable(f) {
		if strings.HasPrefix(p, word) {
			out = append(out, p+"=")
		}
	}
	return out
}

func settable(f *project.File) []string {
	out := f.Paths()
	for _, r := range project.PlacementRows() {
		if !project.IsPath(r.Name) {
			out = append(out, r.Name)
		}
	}
	return out
}

func (a *app) renameCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "rename FILE PATH NAME",
		Short: "Give a driveline another name, everywhere it is named",
		Long: `Give a table with a name of its own, such as line.rear, another name. What
refers to it goes along: what readings are of, and what jobs wait for.`,
		Example: "  fitup rename truck.toml line.rear back",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 3 {
				return wrongUse("name the file, what to rename and the new name: `%s FILE PATH NAME`", cmd.CommandPath())
			}
			return nil
		},
		ValidArgsFunction: completeFrom(func(f *project.File, args []string, _ string) []cobra.Completion {
			if len(args) > 0 {
				return nil
			}
			var out []cobra.Completion
			for _, l := range f.Build.Lines {
				out = append(out, "line."+l.Name)
			}
			return out
		}, cobra.ShellCompDirectiveDefault),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.change(args[0], project.Printable("rename "+args[1]+" to "+args[2]), func(f *project.File) ([]edit.Edit, error) {
				return edit.Rename(f, args[1], args[2])
			})
		},
	}
}
