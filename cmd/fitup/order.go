package main

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
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
				return fail(exitUsage, err)
			}
			line := ""
			if len(args) > 1 {
				line = args[1]
			}
			return a.order(args[0], line, g)
		},
	}
	cmd.Flags().StringVar(&glyphs, "glyphs", glyphs, "signs of the text: unicode, or ascii; by the locale when left out")
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
	var out strings.Builder
	for i := range lines {
		if i > 0 {
			out.WriteString("\n\n")
		}
		orderSheet(&out, path, result, &lines[i], g)
	}
	return a.print(g.Plain(out.String()))
}

// orderWidth is that of a printed page.
const orderWidth = 78

// orderNote is what whoever reads the sheet has to know.
var orderNote = []string{
	"Measures are at ride height, with the vehicle on its wheels, as planned in the",
	"file; joint angles are read where there are readings. Measure again on the",
	"vehicle before the shaft is made. Weights, speeds, torques and balance are",
	"screening figures for the bare tube: the shaft maker decides.",
}

// byHand are the things a shop asks that the file does not hold.
var byHand = []string{"joint size, and outside or inside clips", "flange or yoke at each end, and its bolts", "slip spline, and which end it is at", "grease fittings"}

// orderSheet writes the sheet of one line.
func orderSheet(out *strings.Builder, path string, a *assess.Assessment, l *assess.Line, g theme.Glyphs) {
	title := "Shaft order sheet, " + project.Printable(l.Name) + " line"
	fmt.Fprintf(out, "%s\n%s\n\n", title, strings.Repeat("=", theme.Width(title)))
	for _, x := range [][2]string{{"build", a.Build.Name}, {"vehicle", a.Build.Vehicle.Name}, {"file", path}} {
		if x[1] == "" {
			x[1] = "not known: no name in the file"
		}
		fmt.Fprintf(out, "%-9s%s\n", x[0], project.Printable(x[1]))
	}
	if l.PlanWhy != "" {
		why := "The line is not planned yet: " + project.Printable(l.PlanWhy) + "."
		out.WriteString("\n" + strings.Join(theme.Wrap(why, orderWidth), "\n") + "\n")
	}
	out.WriteString("\n")
	var rows [][]string
	for _, r := range l.Order {
		rows = append(rows, []string{project.Printable(r.Label), orderValue(r, l, a.Build.Units)})
	}
	for _, line := range columns(rows, g, 0) {
		out.WriteString(line + "\n")
	}
	if len(l.Assumes) > 0 {
		out.WriteString("\nWhat the joint angles rest on\n")
		for _, clause := range l.Assumes {
			out.WriteString("  " + strings.Join(theme.Wrap(project.Printable(clause), orderWidth-2), "\n  ") + "\n")
		}
	}
	if notes := rateNote("speed", l.Speed) + rateNote("torque", l.Torque); notes != "" {
		out.WriteString("\n" + notes)
	}
	out.WriteString("\nTo write in by hand\n")
	for _, s := range byHand {
		fmt.Fprintf(out, "  %-42s%s\n", s, strings.Repeat("_", 34))
	}
	out.WriteString("\n" + strings.Join(orderNote, "\n") + "\n")
}

// rateNote says where the largest speed or torque comes from.
func rateNote(what string, r assess.Rate) string {
	if !r.Known || r.From == "" {
		return ""
	}
	return strings.Join(theme.Wrap("The largest "+what+" is "+project.Printable(r.From)+".", orderWidth), "\n") + "\n"
}

// orderValue is the value of a row. What is missing for the whole line has been
// said above the rows.
func orderValue(r assess.OrderRow, l *assess.Line, u quantity.Units) string {
	switch {
	case r.Name == "":
		return project.Printable(r.Words)
	case !r.Value.Known && l.PlanWhy != "" && strings.HasPrefix(r.Value.Why, l.PlanWhy):
		return "not known: the line is not planned yet"
	case !r.Value.Known:
		return "not known: " + project.Printable(r.Value.Why)
	}
	s := book.Magnitude(r.Kind, r.Value.V, u)
	if r.Value.U > 0 {
		s += " ± " + book.Magnitude(r.Kind, r.Value.Expanded(), u)
	}
	return s
}
