package main

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) limitsCommand() *cobra.Command {
	markdown := false
	cmd := &cobra.Command{
		Use:   "limits [FILE]",
		Short: "Print every limit with its source",
		Long: `Print every limit with its source: as built in, or as FILE has it. A limit
that FILE changes is marked. Limits are changed under [limits] in the file, by
the names printed here.`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			build := &project.Build{Units: quantity.Metric()}
			if len(args) == 1 {
				f, err := project.Load(args[0])
				if err != nil {
					return err
				}
				build = f.Build
			}
			rows := limitRows(build)
			if markdown {
				return a.print(limitTable(rows))
			}
			return a.print(strings.Join(columns(rows, theme.Unicode(), 0), "\n") + "\n")
		},
	}
	cmd.Flags().BoolVar(&markdown, "markdown", false, "print a Markdown table")
	return cmd
}

// limitRows has a row for each limit: name, value, what it limits, source.
func limitRows(b *project.Build) [][]string {
	var rows [][]string
	for _, d := range project.Defaults() {
		r := b.Limit(d.Key)
		source := r.Source
		if r.Changed {
			source += " (changed)"
		}
		rows = append(rows, []string{r.Key, ruleText(r, b.Units), r.About, project.Printable(source)})
	}
	return rows
}

// ruleText writes a limit with no more decimals than it has.
func ruleText(r project.Rule, u quantity.Units) string {
	n := fmt.Sprintf("%.6g", quantity.InUnit(r.Kind, r.Value, u))
	switch unit := quantity.UnitName(r.Kind, u); unit {
	case "":
		return n
	case "deg":
		return n + "°"
	default:
		return n + " " + unit
	}
}

func limitTable(rows [][]string) string {
	var b strings.Builder
	b.WriteString("| Name | Value | What it limits | Where it comes from |\n|---|---|---|---|\n")
	for _, r := range rows {
		fmt.Fprintf(&b, "| `%s` | %s |\n", r[0], strings.Join(r[1:], " | "))
	}
	return b.String()
}
