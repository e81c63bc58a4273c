package main

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/book/press"
	"fitup/internal/project"

	"github.com/spf13/cobra"
)

func (a *app) templateCommand() *cobra.Command {
	glyphs, places, svg, out, paper := "", 24, "", "", "a4"
	cmd := &cobra.Command{
		Use:   "template FILE [MOUNT]",
		Short: "Print the wrap-around template of a round leg as a table, or write templates of true size",
		Long: `Print the template that is wrapped around the ends of a round leg: for a flat
cut that is not square, and for the saddle on a round crossmember.

Draw a line square around the tube at the distance given, and divide it into the
places of the table, clockwise as seen from the pad. From each, measure along the
tube toward the end, and join the marks.

With --svg pad or --svg rail it prints that end's template as a drawing of true
size instead: send it to a file, print it at 100 %, measure the line at its foot,
cut it out and wrap it.

With -o DIR it writes all templates of the mount, or of every mount when none is
named, in true size into that folder: wraps for the ends of round, square and
rectangular tubes, of legs and of the members of a mount, plates and gussets with
their holes and bend lines, jigs for the holes in a rail, the taper under a pad that
leans, and wedges, shims and spring perches. They are on one PDF, in tiles where a sheet is too small, and each
as SVG and DXF in mm, with outline, holes, bends and engraving on layers of their
own. Every page has a bar of 100 mm and one of 4 in both ways: measure them before
you cut. The kerf is left to the machine.`,
		Example: "  fitup template truck.toml left_front\n  fitup template --svg rail truck.toml left_front > rail.svg\n  fitup template truck.toml -o templates --paper letter",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 2 || len(args) == 1 && out != "" {
				return nil
			}
			return wrongUse("name a build file and a mount: `%s FILE MOUNT`; with -o DIR the mount may be left out", cmd.CommandPath())
		},
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			switch {
			case out != "" && svg != "":
				return wrongUse("--svg prints one template and -o writes all of them: give one of the two")
			case out != "":
				return a.writeTemplates(args, out, paper)
			case svg != "":
				return a.drawTemplate(args[0], args[1], svg)
			}
			return a.sheet(args[0], glyphs, func(r *assess.Assessment) (book.Sheet, error) { return book.Template(r, args[1], places) })
		},
	}
	cmd.Flags().IntVar(&places, "places", places, "places around the tube, 12 to 360")
	cmd.Flags().StringVar(&svg, "svg", svg, "draw one end in true size: pad, or rail")
	cmd.Flags().StringVarP(&out, "output", "o", out, "write templates of true size into this folder")
	cmd.Flags().StringVar(&paper, "paper", paper, "sheet of the PDF: a4 or letter")
	addGlyphs(cmd, &glyphs)
	return cmd
}

// writeTemplates writes the templates of one mount, or of all, into a folder.
func (a *app) writeTemplates(args []string, dir, sheet string) error {
	job := press.Job{What: press.Templates, Dir: dir}
	if len(args) > 1 {
		job.Mount = args[1]
	}
	done, err := a.pressed(job, args[0], sheet)
	if err != nil {
		return err
	}
	var say strings.Builder
	for _, l := range done.Left {
		fmt.Fprintln(&say, project.Printable(l))
	}
	fmt.Fprintf(&say, "Written into %s: %s, and each of its templates as SVG and DXF. Print at 100 %% and measure the bars before you cut.\n",
		project.Printable(dir), done.First)
	return a.print(say.String())
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
