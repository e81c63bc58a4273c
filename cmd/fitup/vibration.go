package main

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) vibrationCommand() *cobra.Command {
	var road, engine, frequency, samples, lowHigh string
	gear, glyphs := 0, ""
	cmd := &cobra.Command{
		Use:   "vibration FILE",
		Short: "Find what a vibration comes from",
		Long: `Rank what a vibration can come from: wheels, shafts, universal joints (twice a
turn of the shaft), constant-velocity joints, the engine and its firing, or none
of these. The ranking uses this build's own numbers, such as how near its joints
are to their limits, and the frequency when a phone has shown it. Below stand
tests that tell the suspects apart.

Give the road speed or the engine speed at which it is felt; with a gear, one
follows from the other. With a transfer case that has a reduction, give the range
as well. Speeds that contradict each other are refused.

A phone takes so many samples of a shake a second, 100 when nothing else is said.
What shakes faster than half of that it shows at a lower frequency, which is
named.`,
		Example: `  fitup vibration truck.toml --road-speed 90km/h
  fitup vibration truck.toml --road-speed "55 mph" --frequency 44Hz
  fitup vibration truck.toml --engine 2400rpm --gear 4
  fitup vibration truck.toml --road-speed 20km/h --gear 2 --range low`,
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(c *cobra.Command, args []string) error {
			g, err := a.signs(glyphs)
			if err != nil {
				return err
			}
			if gear < 1 && c.Flags().Changed("gear") {
				return wrongUse("--gear: %d is no gear; 1 is first", gear)
			}
			if road == "" && engine == "" {
				return wrongUse("give the speed at which it is felt: --road-speed 90km/h or --engine 2400rpm")
			}
			return a.vibration(args[0], g, assess.Shake{Gear: gear, Range: assess.Range(lowHigh)}, map[string]string{
				"road-speed": road, "engine": engine, "frequency": frequency, "samples": samples,
			})
		},
	}
	cmd.Flags().StringVar(&road, "road-speed", "", "road speed at which it is felt, such as 90km/h")
	cmd.Flags().StringVar(&engine, "engine", "", "engine speed at which it is felt, such as 2400rpm")
	cmd.Flags().StringVar(&frequency, "frequency", "", "its frequency, when a phone has shown it, such as 26Hz")
	cmd.Flags().IntVar(&gear, "gear", 0, "the gear it was in; 1 is first")
	cmd.Flags().StringVar(&lowHigh, "range", "", "the range the transfer case was in: high or low")
	cmd.Flags().StringVar(&samples, "samples", "", "how many samples a second the phone takes, such as 100Hz")
	addGlyphs(cmd, &glyphs)
	return cmd
}

// vibration prints what a shake can come from; typed holds the flags that are
// numbers, by name.
func (a *app) vibration(path string, g theme.Glyphs, shake assess.Shake, typed map[string]string) error {
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	for _, in := range []struct {
		flag string
		kind quantity.Kind
		to   *float64
	}{
		{"road-speed", quantity.RoadSpeed, &shake.Road},
		{"engine", quantity.Speed, &shake.Engine},
		{"frequency", quantity.Frequency, &shake.Frequency},
		{"samples", quantity.Frequency, &shake.Rate},
	} {
		text := typed[in.flag]
		if text == "" {
			continue
		}
		v, err := quantity.Parse(in.kind, text, f.Build.Units)
		if err == nil && v <= 0 {
			err = fmt.Errorf("%s: a value above zero is wanted", project.Printable(text))
		}
		if err != nil {
			return wrongUse("--%s: %v", in.flag, err)
		}
		*in.to = v
	}
	x := assess.Run(f.Build)
	found, err := x.FindShake(shake)
	if err != nil {
		return wrongUse("%v", err)
	}
	return a.print(g.Plain(vibrationText(found)))
}

func vibrationText(found assess.Shaking) string {
	var out strings.Builder
	out.WriteString("what it may come from, most suspect first\n\n")
	for _, s := range found.Suspects {
		band := fmt.Sprintf("%.1f to %.1f Hz", s.Lo, s.Hi)
		if s.Hi-s.Lo < 0.05 {
			band = fmt.Sprintf("%.1f Hz", s.Lo)
		}
		if s.None() {
			fmt.Fprintf(&out, "  %3.0f %%  %s\n", 100*s.Share, project.Printable(s.What))
		} else {
			fmt.Fprintf(&out, "  %3.0f %%  %s, %s\n", 100*s.Share, project.Printable(s.What), band)
		}
		wrapped(&out, "         ", project.Printable(s.Why))
	}
	out.WriteString("\ntests that tell them apart\n\n")
	for i, t := range found.Tests {
		wrapped(&out, "  ", fmt.Sprintf("%d  %s", i+1, t))
	}
	out.WriteString("\n")
	wrapped(&out, "", "Drive such tests where the law and the road allow it, with somebody else reading the phone. "+
		"A shake that grows, or comes with a bang, is a reason to stop: a shaft may be letting go.")
	for _, n := range found.Notes {
		wrapped(&out, "", "Note: "+project.Printable(n)+".")
	}
	return out.String()
}
