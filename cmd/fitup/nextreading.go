package main

import (
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/propose"

	"github.com/spf13/cobra"
)

func (a *app) nextReadingCommand() *cobra.Command {
	asJSON, glyphs := false, ""
	cmd := &cobra.Command{
		Use:   "next-reading FILE",
		Short: "Print which further reading takes most off the chance of a wrong weld",
		Long: `Print what one further reading or tape measure is expected to take off the chance
of a wrong weld: that a finding which is within its limit by what is known is past it
in truth. Each reading that the file has could be taken once more, on the other kind
of surface, with the gauge turned end for end where its zero is in the file, and each
tape measure of the survey once more. What the reading will show is not known before;
how far it takes the ± down is, and from that the chance follows. The chances of
several findings are added, and errors are taken as normal.

"Enough: weld" stands where every finding is known and ok and no reading takes off a
tenth of a per cent. What was never read, is over or is not known comes before all
of this: it is named, and is not weighed. Findings without a ± do not count, since
nobody said how far they may be off. Behind it stands what is said before the next job
that is hard to undo, and what to measure next by the findings that it waits for alone.`,
		Example: `  fitup next-reading truck.toml
  fitup next-reading --json truck.toml`,
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			g, err := a.signs(glyphs)
			if err != nil {
				return err
			}
			f, err := project.Load(args[0])
			if err != nil {
				return fail(exitFile, err)
			}
			n := propose.NextReading(f.Build)
			hold := holdPointOf(assess.Run(f.Build), n)
			if !asJSON {
				return a.print(g.Plain(headLine(args[0], f.Build) + "\n\n" + nextReadingText(n) + hold.text()))
			}
			text, err := nextReadingJSON(a.version, args[0], n, hold)
			if err != nil {
				return err
			}
			return a.print(text)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON for programs")
	addGlyphs(cmd, &glyphs)
	return cmd
}

// jsonHoldPoint is what is said before the next job that is hard to undo.
type jsonHoldPoint struct {
	Job  string  `json:"job"`
	Says string  `json:"says"`
	Next *string `json:"next"` // what to measure next before it, by what it waits for; null where nothing is to be said
}

// holdPointOf is that of the next; nil where none is left.
func holdPointOf(x *assess.Assessment, n propose.Next) *jsonHoldPoint {
	j, b, ok := x.NextHoldPoint()
	if !ok {
		return nil
	}
	h := &jsonHoldPoint{Job: project.Printable(j.Title), Says: project.Printable(b.Text)}
	if b.Word != assess.MoveIt {
		h.Next = text(n.For(j))
	}
	return h
}

func (h *jsonHoldPoint) text() string {
	if h == nil {
		return ""
	}
	var out strings.Builder
	out.WriteString("\n")
	says := "Before " + quoted(h.Job) + ": " + h.Says
	if h.Next != nil {
		says += " " + *h.Next
	}
	wrapped(&out, "", says)
	return out.String()
}

func nextReadingText(n propose.Next) string {
	var out strings.Builder
	if len(n.Open) > 0 {
		wrapped(&out, "", fmt.Sprintf("%d findings are over or not known, first of all %s: those come before any further reading; `fitup check` says what each wants.", len(n.Open), project.Printable(n.Open[0])))
		out.WriteString("\n")
	}
	worth := 0
	for _, r := range n.Readings {
		if r.Drop < propose.Worth {
			break
		}
		if worth++; worth == 1 {
			wrapped(&out, "", "The chance of a wrong weld by what is read is at most "+propose.PerCent(n.Chance)+" now. What would take most off it:")
		}
		if worth <= 5 {
			wrapped(&out, "  ", fmt.Sprintf("%d. %s %s: %s less", worth, project.Printable(r.Name), r.How, propose.PerCent(r.Drop)))
			if len(r.Helps) > 0 {
				wrapped(&out, "     ", "for "+project.Printable(strings.Join(r.Helps[:min(3, len(r.Helps))], ", ")))
			}
		}
	}
	switch {
	case worth > 0:
	case n.Enough:
		wrapped(&out, "", "Enough: weld. The chance that a finding is past its limit all the same is at most "+propose.PerCent(n.Chance)+", and no further reading with these tools takes a tenth of a per cent off it.")
	case len(n.Readings) == 0:
		wrapped(&out, "", "Nothing has been read yet that could be read again. `fitup check --missing` says what is wanted first.")
	case len(n.Of) > 0:
		wrapped(&out, "", "No further reading with these tools helps, and not all is sure: "+project.Printable(strings.Join(n.Of, ", "))+". A better gauge, or a move away from the limit, does.")
	default:
		wrapped(&out, "", "Of what is read, no further reading is worth taking: the chance of a wrong weld by it is at most "+propose.PerCent(n.Chance)+".")
	}
	return out.String()
}

type jsonNextReading struct {
	Fitup    string               `json:"fitup"`
	File     string               `json:"file"`
	Chance   float64              `json:"chance"` // of a wrong weld, as it stands
	Enough   bool                 `json:"enough"`
	Tight    []string             `json:"tight"`
	Open     []string             `json:"open"`
	Readings []jsonWorthOfReading `json:"readings"`
	Before   *jsonHoldPoint       `json:"before"` // the next job that is hard to undo
}

type jsonWorthOfReading struct {
	Of   string   `json:"of"`
	How  string   `json:"how"`
	Drop float64  `json:"drop"`
	For  []string `json:"for"`
}

func nextReadingJSON(version, path string, n propose.Next, before *jsonHoldPoint) (string, error) {
	names := func(ids []string) []string {
		out := []string{}
		for _, id := range ids {
			out = append(out, project.Printable(id))
		}
		return out
	}
	out := jsonNextReading{Fitup: version, File: project.Printable(path), Chance: n.Chance, Enough: n.Enough, Tight: names(n.Of), Open: names(n.Open), Readings: []jsonWorthOfReading{}, Before: before}
	for _, r := range n.Readings {
		out.Readings = append(out.Readings, jsonWorthOfReading{project.Printable(r.Of), r.How, r.Drop, names(r.Helps)})
	}
	return jsonText("readings", out)
}
