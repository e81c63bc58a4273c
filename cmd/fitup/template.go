package main

import (
	"fmt"
	"strconv"
	"strings"

	"fitup/internal/project/assess"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) templateCommand() *cobra.Command {
	glyphs, places := "unicode", 24
	cmd := &cobra.Command{
		Use:   "template FILE MOUNT",
		Short: "Print the wrap-around template of a round leg as a table",
		Long: `Print the template that is wrapped around the ends of a round leg: for a flat
cut that is not square, and for the saddle on a round crossmember.

Draw a line square around the tube at the distance given, and divide it into the
places of the table, clockwise as seen from the pad. From each, measure along the
tube toward the end, and join the marks.`,
		Example: "  fitup template truck.toml left_front",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 {
				return wrongUse("name a build file and a mount: `%s FILE MOUNT`", cmd.CommandPath())
			}
			return nil
		},
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.sheet(args[0], glyphs, func(r *assess.Assessment) (string, error) { return templateText(r, args[1], places) })
		},
	}
	cmd.Flags().IntVar(&places, "places", places, "places around the tube, 12 to 360")
	cmd.Flags().StringVar(&glyphs, "glyphs", glyphs, "signs of the text: unicode, or ascii")
	return cmd
}

func templateText(a *assess.Assessment, mount string, places int) (string, error) {
	b, ok := a.Bracket(mount)
	if !ok {
		return "", fmt.Errorf("there is no leg [mount.%s.leg] in the file", mount)
	}
	wraps, err := b.Wraps(places)
	if err != nil {
		return "", err
	}
	u := a.Build.Units
	var out strings.Builder
	if len(wraps) == 0 {
		fmt.Fprintf(&out, "Both ends of the %s leg are cut square: there is nothing to wrap.\n", b.Label)
	}
	for i, w := range wraps {
		if i > 0 {
			out.WriteString("\n")
		}
		fmt.Fprintf(&out, "%s leg, %s end\n", b.Label, w.End)
		fmt.Fprintf(&out, "  square line: %s from the pad's end of the axis; once around: %s\n",
			magnitude(quantity.Length, w.Ring, u), magnitude(quantity.Length, w.Around, u))
		fmt.Fprintf(&out, "  place 0: %s clockwise from the top of the tube, seen from the pad\n", magnitude(quantity.Angle, w.Zero, u))
		if w.Fitted != "" {
			fmt.Fprintf(&out, "  fitted: %s\n", w.Fitted)
		}
		rows := [][]string{{"  place", "angle", "around", "toward the " + w.End + " end"}}
		for j, p := range w.Points {
			rows = append(rows, []string{"  " + strconv.Itoa(j), magnitude(quantity.Angle, p.Angle, u),
				magnitude(quantity.Length, p.Around, u), magnitude(quantity.Length, p.Toward, u)})
		}
		out.WriteString(strings.Join(columns(rows, theme.Unicode(), 7), "\n") + "\n")
	}
	return out.String(), nil
}
