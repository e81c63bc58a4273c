package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"

	"github.com/spf13/cobra"
)

// readFlags are the rest of a reading.
type readFlags struct{ on, lower, after, note, aside, over, stood, hangs string }

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
along it; --on says otherwise. What the reading amounts to is printed.

A gauge sees the side view only. With --aside and --over in place of SHOWN the
reading is by tape, seen from above: how far the rear end of the shaft, or of a
bar along the pinion's axis, stands aside of its front end, over how much along
the vehicle.

The placement in the file is the plan, and a reading says where the powertrain
hangs. When the plan has moved since the last reading, --hangs before says that
the iron has not; without it, it is taken to hang as planned.`,
		Example: `  fitup read truck.toml powertrain 85.6 --lower rear
  fitup read truck.toml pinion "85.2 deg" --lower rear --after tacked
  fitup read truck.toml shaft --aside "14 mm right" --over "1000 mm"`,
		Args: func(cmd *cobra.Command, args []string) error {
			if tape := flags.aside != "" || flags.over != ""; tape && len(args) == 2 {
				return nil
			} else if tape && len(args) == 3 {
				return wrongUse("a reading by tape has --aside and --over in place of what the gauge shows")
			}
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
		RunE: func(_ *cobra.Command, args []string) error {
			return a.read(args[0], args[1], strings.Join(args[2:], ""), flags)
		},
	}
	cmd.Flags().StringVar(&flags.on, "on", "", `what the gauge stood on: along, or "square face"`)
	cmd.Flags().StringVar(&flags.lower, "lower", "", "which end of the axis is lower: front, rear, left or right for a crankshaft across, or unsure")
	cmd.Flags().StringVar(&flags.after, "after", string(project.Hung), "taken after: hung, tacked or welded; after the last two it proves")
	cmd.Flags().StringVar(&flags.stood, "stood", "", `how the vehicle stood: on its wheels, axle on stands, frame on stands, or hanging`)
	cmd.Flags().StringVar(&flags.aside, "aside", "", `by tape, from above: how far the rear end stands aside of the front end, such as "14 mm right"`)
	cmd.Flags().StringVar(&flags.over, "over", "", "the length along the vehicle that --aside was measured over")
	cmd.Flags().StringVar(&flags.hangs, "hangs", "", "where the powertrain hangs: planned, or before, where it was last read")
	cmd.Flags().StringVar(&flags.note, "note", "", "anything worth knowing")
	for name, words := range map[string][]string{
		"on": project.Along.Words(), "lower": append(project.RearEnd.Words(), unsure), "after": project.Hung.Words(),
		"stood": project.OnWheels.Words(), "hangs": hangsWords,
	} {
		_ = cmd.RegisterFlagCompletionFunc(name, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
	}
	return cmd
}

// hangsWords say where the powertrain hangs when the plan has moved.
var hangsWords = []string{"planned", "before"}

// unsure says that nobody knows which end is lower.
const unsure = "unsure"

func (a *app) read(path, what, shown string, flags readFlags) error {
	said := ""
	label := shown
	if flags.aside != "" {
		label = flags.aside + " over " + flags.over
	}
	err := a.change(path, project.Printable("reading of "+what+": "+label), func(f *project.File) ([]edit.Edit, error) {
		r, text, err := flags.reading(f, what, shown)
		if err != nil {
			return nil, err
		}
		said = text
		e, err := edit.AddReading(f, r, a.env.Now())
		return []edit.Edit{e}, err
	})
	if err != nil {
		return err
	}
	return a.print(a.glyphs().Plain(said + "\n"))
}

// reading puts a reading together and says what it amounts to.
func (flags readFlags) reading(f *project.File, what, shown string) (edit.TypedReading, string, error) {
	r := edit.TypedReading{
		On: project.Surface(flags.on), Shown: shown, After: project.After(flags.after), Note: flags.note,
		Aside: flags.aside, Over: flags.over, Stood: project.Stood(flags.stood), Unmoved: flags.hangs == "before",
	}
	of, err := f.Build.Target(what)
	if err != nil {
		return r, "", err
	}
	r.Of = of
	tape := flags.aside != "" || flags.over != ""
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
		{"on", string(r.On), r.On.Words()}, {"lower", string(r.Lower), append(f.Build.Ends(r.Of), "")}, {"after", string(r.After), r.After.Words()},
		{"stood", string(r.Stood), append(r.Stood.Words(), "")}, {"hangs", flags.hangs, append(slices.Clone(hangsWords), "")},
	} {
		if !slices.Contains(w.words, w.word) {
			return r, "", fmt.Errorf("--%s: read %q; want one of: %s", w.flag, project.Printable(w.word), strings.Trim(strings.Join(w.words, ", "), ", "))
		}
	}
	text, err := flags.slopeText(f.Build, r)
	if tape {
		text, err = tapeText(f.Build, r)
	}
	return r, text + placeText(f.Build, r), err
}

// slopeText is what a gauge reading amounts to.
func (flags readFlags) slopeText(b *project.Build, r edit.TypedReading) (string, error) {
	slope, err := r.Slope(b.Units)
	switch {
	case errors.Is(err, edit.ErrNoSense) && flags.lower == unsure:
		return fmt.Sprintf("taken as %s; which end is lower is still to be found out", r.On), nil
	case errors.Is(err, edit.ErrNoSense):
		return "", fmt.Errorf("which end is lower? add --lower front or --lower rear, or --lower %s when you do not know", unsure)
	case err != nil:
		return "", err
	}
	text := fmt.Sprintf("taken as %s: %s", r.On, r.Lower.Falls(slope, b.Units, 2))
	if nose := b.Nose(r.Of, slope); nose != "" {
		text += ", " + nose
	}
	return text, nil
}

// tapeText is what a reading by tape amounts to.
func tapeText(b *project.Build, r edit.TypedReading) (string, error) {
	if r.Of == project.TargetFrame || r.Of == project.TargetFloor {
		return "", fmt.Errorf("the %s is what aside is measured against; want the powertrain, a shaft or a pinion", r.Of)
	}
	heading, err := r.Heading(b.Units)
	if err != nil {
		return "", err
	}
	return "taken by tape, from above: " + quantity.Format(quantity.Heading, heading, b.Units, 2), nil
}

// placeText says where the powertrain was taken to hang, when the plan has
// moved since it was last read.
func placeText(b *project.Build, r edit.TypedReading) string {
	if _, moved := b.HungAt(); !moved || !b.HangsOnPowertrain(r.Of) {
		return ""
	}
	if r.Unmoved {
		return "\ntaken where it hung at the last reading; the plan has it elsewhere"
	}
	return "\ntaken where the plan has it now, which is not where it hung at the last reading; if the iron has not been moved, drop this reading and add --hangs before"
}
