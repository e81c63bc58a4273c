package main

import (
	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"

	"github.com/spf13/cobra"
)

func (a *app) templateCommand() *cobra.Command {
	glyphs, places, svg := "", 24, ""
	cmd := &cobra.Command{
		Use:   "template FILE MOUNT",
		Short: "Print the wrap-around template of a round leg as a table",
		Long: `Print the template that is wrapped around the ends of a round leg: for a flat
cut that is not square, and for the saddle on a round crossmember.

Draw a line square around the tube at the distance given, and divide it into the
places of the table, clockwise as seen from the pad. From each, measure along the
tube toward the end, and join the marks.

With --svg pad or --svg rail it prints that end's template as a drawing of true
size instead: send it to a file, print it at 100 %, measure the line at its foot,
cut it out and wrap it.`,
		Example: "  fitup template truck.toml left_front\n  fitup template --svg rail truck.toml left_front > rail.svg",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 {
				return wrongUse("name a build file and a mount: `%s FILE MOUNT`", cmd.CommandPath())
			}
			return nil
		},
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			if svg != "" {
				return a.drawTemplate(args[0], args[1], svg)
			}
			return a.sheet(args[0], glyphs, func(r *assess.Assessment) (book.Sheet, error) { return book.Template(r, args[1], places) })
		},
	}
	cmd.Flags().IntVar(&places, "places", places, "places around the tube, 12 to 360")
	cmd.Flags().StringVar(&svg, "svg", svg, "draw one end in true size: pad, or rail")
	addGlyphs(cmd, &glyphs)
	return cmd
}

// drawTemplate prints the template of one end as an SVG drawing in mm.
func (a *app) drawTemplate(path, mount, end string) error {
	if end != "pad" && end != "rail" {
		return wrongUse("--svg draws the pad or the rail end; read %q", end)
	}
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	svg, err := book.TemplateSVG(assess.Run(f.Build), mount, end)
	if err != nil {
		return fail(exitFindings, err)
	}
	return a.print(svg)
}
