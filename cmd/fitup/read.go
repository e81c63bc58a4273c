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
type readFlags struct{ on, lower, after, note, aside, over, stood, hangs, gaugeEnd, face, with string }

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
	cmd.Flags().StringVar(&flags.gaugeEnd, "gauge-end", "", "which way the marked end of the gauge pointed: front, rear, left or right, or up or down on a square face")
	cmd.Flags().StringVar(&flags.face, "face", "", "which way the square face looks: front, rear, left or right")
	cmd.Flags().StringVar(&flags.with, "with", "", "the tool that --aside and --over were measured with, such as tool.tape; one that shops have comes into the file with its usual figures")
	cmd.Flags().StringVar(&flags.hangs, "hangs", "", "where the powertrain hangs: planned, or before, where it was last read")
	cmd.Flags().StringVar(&flags.note, "note", "", "anything worth knowing")
	for name, words := range map[string][]string{
		"on": project.Along.Words(), "lower": append(project.RearEnd.Words(), unsure), "after": project.Hung.Words(),
		"stood": project.OnWheels.Words(), "hangs": hangsWords, "gauge-end": project.MarkedUp.Words(), "face": project.RearEnd.Words(),
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
		tool, err := readTool(f, r)
		if err != nil {
			return nil, err
		}
		e, err := edit.AddReading(f, r, a.env.Now())
		return append(tool, e), err
	})
	if err != nil {
		return err
	}
	return a.print(a.glyphs().Plain(said + "\n"))
}

// readTool returns the edits that put the tool of a reading with its usual figures into
// the file, where it is one that shops have and the file has not.
func readTool(f *project.File, r edit.TypedReading) ([]edit.Edit, error) {
	if r.With == "" {
		return nil, nil
	}
	if r.Aside == "" {
		return nil, wrongUse("--with is the tool of a reading by tape; the gauge's own figures are gauge.accuracy and gauge.zero")
	}
	if _, mine := f.Build.ToolNamed(r.With); mine {
		return nil, nil
	}
	var names []string
	for _, t := range project.CommonTools() {
		if t.Path() == r.With {
			return edit.BeginTool(f, r.With)
		}
		names = append(names, t.Path())
	}
	return nil, fmt.Errorf("--with: the file has no %s; begin it with add, or take one that shops have: %s", project.Printable(r.With), strings.Join(names, ", "))
}

// reading puts a reading together and says what it amounts to.
func (flags readFlags) reading(f *project.File, what, shown string) (edit.TypedReading, string, error) {
	r := edit.TypedReading{
		On: project.Surface(flags.on), Shown: shown, After: project.After(flags.after), Note: flags.note,
		Aside: flags.aside, Over: flags.over, Stood: project.Stood(flags.stood), Unmoved: flags.hangs == "before",
		GaugeEnd: project.MarkedEnd(flags.gaugeEnd), Face: project.End(flags.face), With: flags.with,
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
		{"gauge-end", flags.gaugeEnd, append(r.GaugeEnd.Words(), "")}, {"face", flags.face, append(r.Face.Words(), "")},
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
