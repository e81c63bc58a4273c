package main

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) orderCommand() *cobra.Command {
	glyphs := ""
	cmd := &cobra.Command{
		Use:   "order FILE [LINE]",
		Short: "Print the order sheet of the shafts, for a shaft maker",
		Long: `Print what a shaft maker asks, one sheet for each driveline, or only for
the one that is named.

Measures are at ride height, with the vehicle on its wheels. What the file does
not say yet is printed as not known, with what is missing. Weights, speeds,
torques and balance are screening figures: the shaft's maker decides.`,
		Example: `  fitup order truck.toml
  fitup order truck.toml rear`,
		Args:              orderArgs,
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			g, err := a.signs(glyphs)
			if err != nil {
				return err
			}
			line := ""
			if len(args) > 1 {
				line = args[1]
			}
			return a.order(args[0], line, g)
		},
	}
	addGlyphs(cmd, &glyphs)
	return cmd
}

func orderArgs(cmd *cobra.Command, args []string) error {
	switch len(args) {
	case 1, 2:
		return nil
	case 0:
		return wrongUse("name a build file: `%s FILE`, or `%s FILE LINE` for one line", cmd.CommandPath(), cmd.CommandPath())
	}
	return wrongUse("one build file and at most one line; read %d names", len(args))
}

func (a *app) order(path, line string, g theme.Glyphs) error {
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	result := assess.Run(f.Build)
	lines := result.Lines
	if len(lines) == 0 {
		return fail(exitFile, fmt.Errorf("%s has no driveline yet, so there is no shaft to order; [line.rear.pinion] begins the one to the rear axle", path))
	}
	if line != "" {
		var names []string
		for _, l := range lines {
			names = append(names, l.Name)
		}
		i := slices.Index(names, line)
		if i < 0 {
			return wrongUse("%s has no line %q; it has %s", path, line, strings.Join(names, ", "))
		}
		lines = lines[i : i+1]
	}
	sheets := make([]string, len(lines))
	for i := range lines {
		sheets[i] = sheetText(book.Order(result, &lines[i], path), g, sheetWidth)
	}
	return a.print(g.Plain(strings.Join(sheets, "\n\n")))
}
