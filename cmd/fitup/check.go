package main

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/abreast"
	"fitup/internal/assess"
	"fitup/internal/book"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) checkCommand() *cobra.Command {
	var as checkForm
	glyphs := ""
	cmd := &cobra.Command{
		Use:   "check FILE",
		Short: "Print what is ok and what is not, without a terminal",
		Long: `Print every finding of a build: its status, value, limit and whether it is
planned, read or proved. What is over and what is not known comes first, each
with advice. The ± is the expanded uncertainty (k = 2, about 95 %); where none
is shown, none is claimed.

  ok         within its limit, and at least 97.5 % sure of it
  tight      within its limit, but less sure: enough for what can be undone, such
             as a tack, not for a finish weld
  over       past its limit
  not known  something is missing; the line below says what
  judged elsewhere
             the file says that somebody else judges it; it counts apart

A plan has no ±: its ok says what the file amounts to, and not how well that was
measured. What a number rests on that nobody has measured stands below it, behind
"Assumed".

The exit code is 0 when every finding that is judged here is ok or tight, and 1
when one is over or not known, or none is judged here; see fitup help exit-codes.

--missing lists instead what the findings that are not known ask for: first what
most of them do, each with its path, what it is and how it is given; then what each
finding lacks.

For programs there is --json; see fitup help json. For a line of a script there is
--plain-numbers: a line for each finding with its id, status, value, limit and ±,
parted by tabs, numbers in the file's own units with all their digits, - where there
is none.`,
		Example: `  fitup check truck.toml
  fitup check --missing truck.toml
  fitup check --json truck.toml`,
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(_ *cobra.Command, args []string) error {
			g, err := a.signs(glyphs)
			if err != nil {
				return err
			}
			return a.check(args[0], as, g)
		},
	}
	cmd.Flags().BoolVar(&as.json, "json", false, "print JSON for programs")
	cmd.Flags().BoolVar(&as.missing, "missing", false, "list what the findings that are not known ask for")
	cmd.Flags().BoolVar(&as.plain, "plain-numbers", false, "print a line for each finding, for scripts: all digits, no unit, no words")
	cmd.MarkFlagsMutuallyExclusive("json", "missing", "plain-numbers")
	addGlyphs(cmd, &glyphs)
	return cmd
}

// checkForm is how the findings are printed.
type checkForm struct{ json, missing, plain bool }

func (a *app) check(path string, as checkForm, g theme.Glyphs) error {
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	result, err := a.assessed(f.Build)
	if err != nil {
		return err
	}
	var text string
	switch {
	case as.json:
		if text, err = checkJSON(a.version, path, result); err != nil {
			return err
		}
	case as.plain:
		text = plainCheck(result)
	case as.missing:
		text = g.Plain(missingText(path, f, result, g))
	default:
		text = g.Plain(checkText(path, result, g))
	}
	if err := a.print(text); err != nil {
		return err
	}
	a.doubts(f)
	count := result.Count()
	if len(result.Findings) == count[assess.Elsewhere] || count[assess.Over] > 0 || count[assess.NotKnown] > 0 {
		return failure{code: exitFindings} // the findings say it all
	}
	return nil
}

// doubts asks on the side about bare numbers that look like a slip.
func (a *app) doubts(f *project.File) {
	for _, d := range edit.Doubts(f) {
		line, _ := f.Place(d.Path)
		fmt.Fprintf(a.env.Stderr, "fitup: line %d: is that a slip? %s; with its unit behind it nothing is asked\n", line, a.glyphs().Plain(project.Printable(d.Text)))
	}
}

// headLine is the first line of what is printed of a file: its path and what the
// build is called.
func headLine(path string, b *project.Build) string {
	if b.Name == "" {
		return project.Printable(path)
	}
	return project.Printable(path) + ": " + project.Printable(b.Name)
}

// checkText is the assessment for people: one line for each finding, the
// urgent ones first, and the count.
func checkText(path string, a *assess.Assessment, g theme.Glyphs) string {
	head := headLine(path, a.Build) + "\n\n"
	if len(a.Findings) == 0 {
		return head + "Nothing to check yet: the file has no driveline. [line.rear.pinion] begins the one to the rear axle.\n"
	}
	var findings, hold string
	abreast.Do(func() { hold = holdText(a) }, func() { findings = findingsText(a, g) }) // moves are tried for the first
	return head + findings + "\n" + countLine(a) + "\n" + hold
}

// findingsText has one line for each finding, and below it what else there is to say.
func findingsText(a *assess.Assessment, g theme.Glyphs) string {
	var out strings.Builder
	rows := make([][]string, len(a.Findings))
	findings := urgentFirst(a.Findings)
	for i, f := range findings {
		rows[i] = cells(f, a.Build.Units, g)
	}
	lines := columns(rows, g, len(indent)-2)
	for i, f := range findings {
		out.WriteString(lines[i] + "\n")
		for _, more := range below(f) {
			out.WriteString(indent + more + "\n")
		}
	}
	return out.String()
}

// holdText is what is said before the next job that is hard to undo; "" where there is none.
func holdText(a *assess.Assessment) string {
	var out strings.Builder
	if j, b, ok := a.NextHoldPoint(); ok {
		out.WriteString("\n")
		wrapped(&out, "", "Before "+project.Printable(quoted(j.Title))+": "+project.Printable(b.Text))
		if b.Why != "" {
			wrapped(&out, "  ", project.Printable(b.Why))
		}
	}
	return out.String()
}

const indent = "             " // as wide as the status and the gap behind it

// urgentFirst puts what is over first, then what is not known, then what is
// judged elsewhere, each in the order of the file, as is the rest.
func urgentFirst(fs []assess.Finding) []assess.Finding {
	rank := func(f assess.Finding) int {
		switch f.Status {
		case assess.Over:
			return 0
		case assess.NotKnown:
			return 1
		case assess.Elsewhere:
			return 2
		}
		return 3
	}
	out := slices.Clone(fs)
	slices.SortStableFunc(out, func(f, g assess.Finding) int { return rank(f) - rank(g) })
	return out
}

// cells are the columns of one finding.
func cells(f assess.Finding, u quantity.Units, g theme.Glyphs) []string {
	basis := f.Basis.String()
	if f.Status == assess.NotKnown {
		basis = ""
	}
	if f.Moved {
		basis += ", moved since"
	}
	return []string{
		g.Sign(pane.Status(f.Status)) + " " + f.Status.String(),
		project.Printable(f.Title), valueText(f, u), limitText(f, u), basis,
	}
}

func valueText(f assess.Finding, u quantity.Units) string {
	if !f.HasValue {
		return ""
	}
	s := book.Magnitude(f.Kind, f.Value, u)
	if f.Uncertainty > 0 {
		s += " ± " + book.Magnitude(f.Kind, f.Uncertainty, u)
	}
	if way := book.Sense(f.Kind, f.Value, u); way != "" && f.HasLimit {
		s += " " + way
	}
	return s
}

// limitText is the limit. What has none has room for its sense there.
func limitText(f assess.Finding, u quantity.Units) string {
	switch {
	case !f.HasLimit && f.HasValue:
		return book.Sense(f.Kind, f.Value, u)
	case !f.HasLimit:
		return ""
	}
	s := "at most "
	if f.AtLeast {
		s = "at least "
	}
	s += book.Magnitude(f.Kind, f.Limit, u)
	if f.Changed {
		s += " (changed)"
	}
	return s
}

// below are the lines under a finding: what it assumes; and when it is not ok
// what to do, under which id to find it, and whose limit it is.
func below(f assess.Finding) []string {
	var out []string
	if len(f.Assumes) > 0 {
		out = append(out, "Assumed: "+project.Printable(strings.Join(f.Assumes, "; "))+".")
	}
	if f.Status == assess.OK {
		return out
	}
	out = append(out, project.Printable(f.Advice())+" ["+project.Printable(f.ID)+"]")
	if f.HasLimit && f.HasValue {
		out = append(out, "Limit: "+project.Printable(f.Source)+".")
	}
	return out
}

// columns pads the cells so that they stand under each other, the first column
// at least first wide.
func columns(rows [][]string, g theme.Glyphs, first int) []string {
	widths := []int{first}
	for _, row := range rows {
		for i, c := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], theme.Width(g.Plain(c)))
		}
	}
	lines := make([]string, len(rows))
	for i, row := range rows {
		var line strings.Builder
		for j, c := range row {
			line.WriteString(g.Pad(g.Plain(c), widths[j]) + "  ")
		}
		lines[i] = strings.TrimRight(line.String(), " ")
	}
	return lines
}

// quoted is a title in quotes.
func quoted(title string) string { return `"` + title + `"` }

func countLine(a *assess.Assessment) string {
	n, count := len(a.Findings), a.Count()
	word := "findings"
	if n == 1 {
		word = "finding"
	}
	line := fmt.Sprintf("%d %s: %d ok, %d tight, %d over, %d not known",
		n, word, count[assess.OK], count[assess.Tight], count[assess.Over], count[assess.NotKnown])
	if m := count[assess.Elsewhere]; m > 0 {
		line += fmt.Sprintf(", %d judged elsewhere", m)
	}
	return line
}
