package main

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"

	"github.com/spf13/cobra"
)

func (a *app) setCommand() *cobra.Command {
	out := ""
	reason := ""
	cmd := &cobra.Command{
		Use:   "set FILE PATH=VALUE...",
		Short: "Change values in a build file, without a terminal",
		Long: `Change values in a build file, all of them or none.

A path is what the file says, with dots between: placement.rear, or
line.rear.pinion.slope. An entry of a list goes by its id or name, or by its
number from 1: job.make-safe.done, reading.2.shown. The rows of the bench that
are no keys of the file can be set as well: placement.lift, placement.tilt.
fitup get FILE lists what there is.

A value is written as on the bench: 212, "212 mm", "4.8 deg down to the rear". It
is checked in the same way, and nothing else in the file changes. Nothing behind
the = takes the value out of the file.

A job is ticked as on the bench: what it relies on is recorded with it, and one
that is held wants --reason. So does a side of the weld map that is to go past
tacked while proof is missing. An inspection wants the name first:
weld.1.side.front.inspected_by=NAME weld.1.side.front.state=inspected.

With -o the result goes to a new file and the one that was read stays as it is;
a file that is there already is never replaced.`,
		Example: `  fitup set truck.toml placement.rear=-288
  fitup set truck.toml "line.rear.pinion.slope=4.8 deg down to the rear" job.hang.done=true
  fitup set truck.toml --reason "the rig goes back today" job.tack-mounts.done=true`,
		Args: atLeastFile(1, "FILE PATH=VALUE..."),
		ValidArgsFunction: completeFrom(func(f *project.File, _ []string, word string) []cobra.Completion {
			return completeSet(f, word)
		}, cobra.ShellCompDirectiveNoSpace),
		RunE: func(cmd *cobra.Command, args []string) error {
			label := "set " + strings.Join(args[1:], ", ")
			d := door{reason: strings.TrimSpace(reason), now: a.env.Now}
			if cmd := cmd.Flags().Lookup("reason"); cmd.Changed && d.reason == "" {
				return wrongUse("the reason is blank; say why it is done although something holds it")
			}
			err := a.changeInto(args[0], out, project.Printable(label), func(f *project.File) ([]edit.Edit, error) {
				d.used, d.warn = false, nil
				return d.setEdits(f, args[1:])
			})
			if err != nil {
				return err
			}
			if d.reason != "" && !d.used {
				fmt.Fprintln(a.env.Stderr, "fitup: nothing held it, so the reason is not recorded")
			}
			for _, w := range d.warn {
				fmt.Fprintln(a.env.Stderr, "fitup: "+a.glyphs().Plain(project.Printable(w)))
			}
			return nil
		},
	}
	cmd.Flags().StringVarP(&out, "output", "o", "", "write the result to a new `FILE`, under another name")
	cmd.Flags().StringVar(&reason, "reason", "", "why a held job is ticked, or a weld finished, all the same")
	return cmd
}

// setEdits turns path=value into edits, each on top of the ones before it.
func (d *door) setEdits(f *project.File, args []string) ([]edit.Edit, error) {
	var all []edit.Edit
	for _, arg := range args {
		path, value, ok := strings.Cut(arg, "=")
		if !ok {
			return nil, fmt.Errorf("read %q; want a path and a value with = between, such as placement.rear=-288", project.Printable(arg))
		}
		edits, err := d.setOne(f, strings.TrimSpace(path), strings.TrimSpace(value))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", project.Printable(path), err)
		}
		next, err := edit.Apply(f, edits...)
		if err != nil {
			return nil, err
		}
		f, all = next, append(all, edits...)
	}
	return all, nil
}

func (d *door) setOne(f *project.File, path, value string) ([]edit.Edit, error) {
	at := f.Resolve(path)
	if at == "units.system" {
		return edit.SetUnits(f, value)
	}
	if edits, mine, err := d.through(f, at, value); mine {
		return edits, err
	}
	if row, ok := project.RowNamed(at); ok && !project.IsPath(at) {
		v, err := quantity.Parse(row.Kind, value, f.Build.Units)
		if err != nil {
			return nil, err
		}
		edits, err := edit.MoveRow(f, row.Row, v)
		if err != nil {
			return nil, err
		}
		return edits, slip(f, at, value)
	}
	if value == "" && project.IsPath(at) {
		if !f.Has(at) {
			return nil, nil
		}
		return []edit.Edit{{Op: edit.OpRemove, Path: strings.TrimSuffix(at, ".value")}}, nil
	}
	e, err := edit.SetText(f, at, value)
	if err != nil {
		return nil, err
	}
	if err := slip(f, at, value); err != nil {
		if _, err := edit.Apply(f, e); err != nil {
			return nil, err // there is more against it
		}
		return nil, err
	}
	return []edit.Edit{e}, nil
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
		for _, c := range project.Choices(f.Resolve(path)) {
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
