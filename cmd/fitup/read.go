package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"

	"github.com/spf13/cobra"
)

// readFlags are the rest of a reading.
type readFlags struct{ on, lower, after, note string }

func (a *app) readCommand() *cobra.Command {
	var flags readFlags
	cmd := &cobra.Command{
		Use:   "read FILE WHAT SHOWN",
		Short: "Add a gauge reading to a build file",
		Long: `Add what the angle gauge shows to a build file, dated today and with the
placement it was taken at, as n does on the bench.

WHAT is powertrain, frame or floor, or a shaft or pinion such as
line.rear.shaft.1. Where there is only one, shaft and pinion will do. SHOWN is
what the gauge shows, in the file's unit or with its own.

The gauge is taken to stand on a square face, on a shaft, the frame or the floor
along it; --on says otherwise. What the reading amounts to is printed.`,
		Example: `  fitup read truck.toml powertrain 85.6 --lower rear
  fitup read truck.toml pinion "85.2 deg" --lower rear --after tacked`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 3 {
				return wrongUse("name the file, what was read and what the gauge shows: `%s FILE WHAT SHOWN`", cmd.CommandPath())
			}
			return nil
		},
		ValidArgsFunction: completeFrom(func(f *project.File, args []string, _ string) []cobra.Completion {
			if len(args) > 0 {
				return nil
			}
			return f.Build.Targets()
		}, cobra.ShellCompDirectiveDefault),
		RunE: func(_ *cobra.Command, args []string) error { return a.read(args[0], args[1], args[2], flags) },
	}
	cmd.Flags().StringVar(&flags.on, "on", "", `what the gauge stood on: along, or "square face"`)
	cmd.Flags().StringVar(&flags.lower, "lower", "", "which end of the axis is lower: front, rear, or unsure")
	cmd.Flags().StringVar(&flags.after, "after", string(project.Hung), "taken after: hung, tacked or welded; after the last two it proves")
	cmd.Flags().StringVar(&flags.note, "note", "", "anything worth knowing")
	for name, words := range map[string][]string{
		"on": project.Along.Words(), "lower": append(project.RearEnd.Words(), unsure), "after": project.Hung.Words(),
	} {
		_ = cmd.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
	}
	return cmd
}

// unsure says that nobody knows which end is lower.
const unsure = "unsure"

func (a *app) read(path, what, shown string, flags readFlags) error {
	said := ""
	err := a.change(path, project.Printable("reading of "+what+": "+shown), func(f *project.File) ([]project.Edit, error) {
		r, text, err := flags.reading(f, what, shown)
		if err != nil {
			return nil, err
		}
		said = text
		e, err := f.AddReading(r, a.env.Now())
		return []project.Edit{e}, err
	})
	if err != nil {
		return err
	}
	return a.print(a.glyphs().Plain(said + "\n"))
}

// reading puts a reading together and says what it amounts to.
func (flags readFlags) reading(f *project.File, what, shown string) (project.TypedReading, string, error) {
	r := project.TypedReading{On: project.Surface(flags.on), Shown: shown, After: project.After(flags.after), Note: flags.note}
	of, err := f.Build.Target(what)
	if err != nil {
		return r, "", err
	}
	r.Of = of
	if r.On == "" {
		r.On = project.SquareFace
		if of == project.TargetFrame || of == project.TargetFloor || strings.Contains(of, ".shaft.") {
			r.On = project.Along
		}
	}
	if flags.lower != unsure {
		r.Lower = project.End(flags.lower)
	}
	for _, w := range []struct {
		flag, word string
		words      []string
	}{
		{"on", string(r.On), r.On.Words()}, {"lower", string(r.Lower), append(r.Lower.Words(), "")}, {"after", string(r.After), r.After.Words()},
	} {
		if !slices.Contains(w.words, w.word) {
			return r, "", fmt.Errorf("--%s: read %q; want one of: %s", w.flag, project.Printable(w.word), strings.Trim(strings.Join(w.words, ", "), ", "))
		}
	}
	slope, err := r.Slope(f.Build.Units)
	switch {
	case errors.Is(err, project.ErrNoSense) && flags.lower == unsure:
		return r, fmt.Sprintf("taken as %s; which end is lower is still to be found out", r.On), nil
	case errors.Is(err, project.ErrNoSense):
		return r, "", fmt.Errorf("which end is lower? add --lower front or --lower rear, or --lower %s when you do not know", unsure)
	case err != nil:
		return r, "", err
	}
	return r, fmt.Sprintf("taken as %s: %s", r.On, quantity.Format(quantity.Slope, slope, f.Build.Units, 2)), nil
}
