package main

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/assess/frame"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/project/quantity"
	"fitup/internal/ui"
	"fitup/internal/ui/pane"

	"github.com/spf13/cobra"
)

func (a *app) surveyCommand() *cobra.Command {
	asJSON, glyphs := false, ""
	cmd := &cobra.Command{
		Use:   "survey FILE",
		Short: "Print where the survey places its points, and what does not fit",
		Long: `Print the survey of the frame: where its points lie, each with its ±, what every
measurement says beside the others, which does not fit, and which one to take
next; then what it says of the frame: square, diagonals, widths, twist and axles.

A measurement's own w is how far it is from what the others say, in its own
standard uncertainties; above 3.29 it is suspect. Its check is the part of a slip
in it that would show, 0 for none; beside it stands the smallest slip that would
be found four times in five.`,
		Example: `  fitup survey truck.toml
  fitup survey --json truck.toml`,
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
			x, err := a.assessed(f.Build)
			if err != nil {
				return err
			}
			if !asJSON {
				return a.print(g.Plain(headLine(args[0], x.Build) + "\n\n" + surveyText(x, ui.WritesFractions(f.Doc().Text()))))
			}
			text, err := surveyJSON(args[0], x)
			if err != nil {
				return err
			}
			return a.print(text)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it for programs")
	addGlyphs(cmd, &glyphs)
	return cmd
}

// surveyText is the survey for people; with rule, readings that stand on an inch rule are
// written as its fractions.
func surveyText(x *assess.Assessment, rule bool) string {
	var out strings.Builder
	r := x.Frame
	if !r.Given() && r.InPlainWords() {
		wrapped(&out, "", "This file has no points of a survey. What was taped in plain words says:")
		writeFindings(&out, x)
		return out.String()
	}
	if !r.Given() {
		if writeSubframes(&out, x); out.Len() > 0 {
			return strings.TrimPrefix(out.String(), "\n")
		}
		wrapped(&out, "", "This file has no survey. Name points, [point.rail_lf] is enough, and add what was measured between them: [[measure]] with from, to, with and lengths.")
		return out.String()
	}
	writePlaces(&out, x)
	writeLines(&out, x, rule)
	out.WriteString("\nwhat it says\n")
	writeFindings(&out, x)
	writeWithout(&out, x)
	for _, m := range r.Now.Mirrors {
		wrapped(&out, "  ", project.Printable(m+"."))
	}
	for _, s := range r.Now.Assumes {
		wrapped(&out, "  ", project.Printable("Assumed: "+s+"."))
	}
	if r.Now.Next() != "" {
		wrapped(&out, "  ", project.Printable("To measure next: "+r.Now.Next()+"."))
	}
	writeSubframes(&out, x)
	return out.String()
}

func writeFindings(out *strings.Builder, x *assess.Assessment) {
	for _, f := range x.Findings {
		if f.By != finding.FrameTrade {
			continue
		}
		value := ""
		if f.HasValue {
			value = ", " + book.Magnitude(f.Kind, f.Value, x.Build.Units)
			if f.Uncertainty > 0 {
				value += " ± " + book.Magnitude(f.Kind, f.Uncertainty, x.Build.Units)
			}
		}
		wrapped(out, "  ", project.Printable(fmt.Sprintf("%s: %s%s. %s", f.Title, f.Status, value, f.Advice())))
	}
}

func writePlaces(out *strings.Builder, x *assess.Assessment) {
	s := x.Frame.Now
	out.WriteString("places")
	if s.After != "" {
		out.WriteString(", " + string(s.After))
	}
	out.WriteString("\n")
	if s.Why != "" {
		wrapped(out, "  ", project.Printable(finding.Sentence(s.Why)))
		return
	}
	if why := s.Unplaced(); why != "" {
		wrapped(out, "  ", project.Printable("None is given: "+why+"."))
		return
	}
	u := x.Build.Units
	digits := pane.Digits(quantity.Length, u)
	cell := func(m finding.Number) string {
		if !m.Known {
			return "-"
		}
		return quantity.Short(quantity.Length, m.V, u, digits) + " ± " + quantity.Short(quantity.Length, m.Expanded(), u, digits)
	}
	fmt.Fprintf(out, "  %-20s %18s %18s %18s   %s\n", "", "station", "right", "up", quantity.UnitName(quantity.Length, u))
	for _, p := range s.Points() {
		fmt.Fprintf(out, "  %-20s %18s %18s %18s\n", project.Printable(p.Name), cell(p.Place[0]), cell(p.Place[1]), cell(p.Place[2]))
	}
}

func writeLines(out *strings.Builder, x *assess.Assessment, rule bool) {
	s := x.Frame.Now
	if len(s.Lines) == 0 {
		return
	}
	u := x.Build.Units
	fmt.Fprintf(out, "\n  %-34s %12s %8s %6s %7s %10s\n", "measured", "", "off", "w", "check", "finds")
	for _, l := range s.Lines {
		k := quantity.Length
		if l.As == project.SquareLine {
			k = quantity.Angle
		}
		num := func(v float64) string { return quantity.Short(k, v, u, pane.Digits(k, u)) }
		read, unit := num(l.Value.V), quantity.UnitName(k, u)
		if s, ok := quantity.Fraction(k, l.Value.V, u); rule && ok {
			read = strings.TrimSuffix(s, " "+unit)
		}
		if l.Out {
			fmt.Fprintf(out, "  %-34s %9s %-3s left out\n", project.Printable(l.Name), read, unit)
			continue
		}
		find := "nothing"
		if l.Redundancy > 0 {
			find = num(l.Detectable) + " " + unit
		}
		fmt.Fprintf(out, "  %-34s %9s %-3s %7s %6.1f %7.2f %10s\n", project.Printable(l.Name), read, unit, num(-l.V), -l.W, l.Redundancy, find)
	}
	if s.DoF > 0 {
		fmt.Fprintf(out, "  %d more than it takes; they scatter %.2f times as much as was said of them\n", s.DoF, s.Scatter)
	}
}

// writeWithout says what the answers become without each suspect.
func writeWithout(out *strings.Builder, x *assess.Assessment) {
	for _, s := range x.Frame.Now.Suspects {
		if !s.Without.Known {
			continue
		}
		u := x.Build.Units
		wrapped(out, "  ", project.Printable(fmt.Sprintf("Without %s: one rail %s ahead of the other, diagonals %s apart.", s.Line.Name,
			book.Magnitude(quantity.Length, math.Abs(s.Without.Square.V), u), book.Magnitude(quantity.Length, math.Abs(s.Without.Diagonals.V), u))))
	}
}

type jsonSurvey struct {
	File     string        `json:"file"`
	After    string        `json:"after"`
	Why      *string       `json:"why"`
	Points   []jsonPlace   `json:"points"`
	Lines    []jsonLine    `json:"measurements"`
	Suspects []jsonSuspect `json:"suspects"`
	Next     *string       `json:"next"`
	Assumes  []string      `json:"assumes"`
	Findings []jsonFinding `json:"findings"`
}

// jsonPlace is a point: places and expanded uncertainties in mm, null where not
// known; the ellipse is of standard uncertainties, its direction in degrees from
// the station's axis to the offset's.
type jsonPlace struct {
	Point   string      `json:"point"`
	At      [3]*float64 `json:"at"`
	Sure    [3]*float64 `json:"uncertainty"`
	Ellipse [3]float64  `json:"ellipse"`
}

// jsonLine is a measurement, in mm or for a square in degrees.
type jsonLine struct {
	Name       string   `json:"name"`
	As         string   `json:"as"`
	Value      float64  `json:"value"`
	Residual   float64  `json:"residual"`
	W          float64  `json:"w"`
	Redundancy float64  `json:"redundancy"`
	Detectable *float64 `json:"detectable"`
	LeftOut    bool     `json:"left_out"`
}

type jsonSuspect struct {
	Name    string   `json:"name"`
	Off     float64  `json:"off"`
	W       float64  `json:"w"`
	Alike   []string `json:"alike"`
	LeftOut bool     `json:"left_out"`
	Likely  *string  `json:"likely"`
}

func surveyJSON(path string, x *assess.Assessment) (string, error) {
	out := jsonSurvey{File: project.Printable(path), Points: []jsonPlace{}, Lines: []jsonLine{}, Suspects: []jsonSuspect{}, Assumes: []string{}, Findings: []jsonFinding{}}
	if x.Frame.Given() {
		s := x.Frame.Now
		out.After, out.Why, out.Next = string(s.After), text(cmp.Or(s.Why, s.Unplaced())), text(s.Next())
		out.Assumes = append(out.Assumes, s.Assumes...)
		for _, p := range s.Points() {
			out.Points = append(out.Points, placeJSON(p))
		}
		for _, l := range s.Lines {
			out.Lines = append(out.Lines, lineJSON(l))
		}
		for _, p := range s.Suspects {
			out.Suspects = append(out.Suspects, jsonSuspect{project.Printable(p.Line.Name), p.Off * unitOf(p.Line), p.W, append([]string{}, p.Alike...), p.Out, text(p.Likely)})
		}
	}
	for _, f := range x.Findings {
		if f.By == finding.FrameTrade {
			out.Findings = append(out.Findings, findingJSON(f, x.Build.Units))
		}
	}
	return jsonText("survey", out)
}

// unitOf turns a value of the line into mm or degrees.
func unitOf(l frame.Line) float64 {
	if l.As == project.SquareLine {
		return 180 / math.Pi
	}
	return 1
}

func placeJSON(p frame.Point) jsonPlace {
	out := jsonPlace{Point: project.Printable(p.Path), Ellipse: [3]float64{p.Ellipse.Long, p.Ellipse.Short, p.Ellipse.Direction * 180 / math.Pi}}
	for k, m := range p.Place {
		if m.Known {
			v, u := m.V, m.Expanded()
			out.At[k], out.Sure[k] = &v, &u
		}
	}
	return out
}

func lineJSON(l frame.Taken) jsonLine {
	k := unitOf(l.Line)
	out := jsonLine{Name: project.Printable(l.Name), As: string(l.As), Value: l.Value.V * k, Residual: l.V * k, W: l.W, Redundancy: l.Redundancy, LeftOut: l.Out}
	if l.Redundancy > 0 {
		v := l.Detectable * k
		out.Detectable = &v
	}
	return out
}
