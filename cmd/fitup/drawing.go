package main

import (
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"

	"github.com/spf13/cobra"
)

func (a *app) drawingCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "drawing FILE [VIEW]",
		Short: "Print one view of the build as a drawing, true to scale on A4",
		Long: `Print the build as an SVG drawing on A4, at the largest usual scale at which it has
room: its side, which is meant when no VIEW is named, its plan, its front or a
three-quarter view. Send it to a file and print it at 100 %.`,
		Example: "  fitup drawing truck.toml > side.svg\n  fitup drawing truck.toml front > front.svg",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) < 1 || len(args) > 2 {
				return wrongUse("name a build file and a view: `%s FILE VIEW`", cmd.CommandPath())
			}
			if len(args) == 2 && !slices.Contains(book.DrawingViews(), args[1]) {
				return wrongUse("there is no view %q; a drawing is of %s", args[1], strings.Join(book.DrawingViews(), ", "))
			}
			return nil
		},
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			f, err := project.Load(args[0])
			if err != nil {
				return fail(exitFile, err)
			}
			of := book.DrawingViews()[0]
			if len(args) == 2 {
				of = args[1]
			}
			svg, err := book.Drawing(assess.Run(f.Build), of)
			if err != nil {
				return fail(exitFindings, err)
			}
			return a.print(svg)
		},
	}
}
