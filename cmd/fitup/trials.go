package main

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/ui/pane"
	"fitup/internal/ui/theme"

	"github.com/spf13/cobra"
)

func (a *app) trialsCommand() *cobra.Command {
	to := target{}
	adopt, asJSON, glyphs := "", false, ""
	cmd := &cobra.Command{
		Use:   "trials FILE",
		Short: "Print the named alternatives of a file beside the build as it is",
		Long: `Print the trials of a build file side by side: what each has otherwise, how many
findings are ok, tight, over and not known with it, and each finding whose verdict
differs in one of them. A trial is a table with a name of its own:

  [trial.lower_rear]
  note = "and a wedge"
  [[trial.lower_rear.change]]
  of = "placement.rear"
  to = "-86 mm"

Each stands on the build as it is, not on another trial. What was read of a pinion
or a shaft that a trial moves holds in it no longer: what rested on that is planned,
and to be read again.

--adopt NAME makes the trial's changes in the file, in one step that can be undone.
The trial stays where it is.`,
		Example: `  fitup trials truck.toml
  fitup trials truck.toml --adopt lower_rear
  fitup trials truck.toml --adopt lower_rear --dry-run`,
		Args:              oneFile,
		ValidArgsFunction: completeBuildFile,
		RunE: func(cmd *cobra.Command, args []string) error {
			g, err := a.signs(glyphs)
			if err != nil {
				return err
			}
			if to.path = args[0]; adopt == "" {
				if to.dry {
					return wrongUse("--dry-run is for --adopt NAME; without it nothing is written anyway")
				}
				return a.trials(cmd, args[0], asJSON, g)
			}
			if asJSON {
				return wrongUse("--json is for the table; --adopt prints what it changed")
			}
			return a.adopt(cmd, to, adopt)
		},
	}
	to.add(cmd)
	cmd.Flags().StringVar(&adopt, "adopt", "", "make the changes of the trial of this `NAME` in the file")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON for programs")
	addGlyphs(cmd, &glyphs)
	return cmd
}

// setting are a trial's changes as fitup set takes them.
func setting(t *project.Trial) ([]string, error) {
	var out []string
	for i, c := range t.Changes {
		of, value := strings.TrimSpace(c.Of), strings.TrimSpace(c.To)
		if of == "" || value == "" || strings.ContainsAny(of, "= \t") {
			return nil, fmt.Errorf("trial.%s.change.%d: want of, such as placement.rear, and to, such as -86 mm", t.Name, i+1)
		}
		out = append(out, of+"="+value)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("trial.%s changes nothing yet; want [[trial.%s.change]] with of and to", t.Name, t.Name)
	}
	return out, nil
}

// adopt makes a trial's changes in its file.
func (a *app) adopt(cmd *cobra.Command, to target, name string) error {
	d, err := a.door(cmd, "")
	if err != nil {
		return err
	}
	var again []string
	err = a.through(d, to, "adopt trial "+name, func(f *project.File) ([]edit.Edit, error) {
		t, err := trialNamed(f.Build, name)
		if err != nil {
			return nil, err
		}
		args, err := setting(t)
		if err != nil {
			return nil, err
		}
		again = readAgain(f.Build, t)
		return d.setEdits(f, args)
	})
	if err == nil && len(again) > 0 {
		fmt.Fprintln(a.env.Stderr, "fitup: what was read of these is of before; once it is moved, read again: "+project.Printable(strings.Join(again, ", ")))
	}
	return err
}

func trialNamed(b *project.Build, name string) (*project.Trial, error) {
	var names []string
	for i := range b.Trials {
		if b.Trials[i].Name == name {
			return &b.Trials[i], nil
		}
		names = append(names, b.Trials[i].Name)
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("the file has no trials yet")
	}
	return nil, fmt.Errorf("there is no trial %s; the file has %s", project.Printable(name), project.Printable(strings.Join(names, ", ")))
}

// readAgain are the targets that were read and that a trial moves.
func readAgain(b *project.Build, t *project.Trial) []string {
	after, err := movedAway(b, t)
	if err != nil {
		return nil
	}
	var out []string
	for _, r := range b.Readings {
		gone := !slices.ContainsFunc(after.Readings, func(s project.Reading) bool { return s.Of == r.Of })
		if gone && !slices.Contains(out, r.Of) {
			out = append(out, r.Of)
		}
	}
	return out
}

// movedAway is a build without the readings of what a trial moves, where it stands.
func movedAway(b *project.Build, t *project.Trial) (*project.Build, error) {
	for _, c := range t.Changes {
		m, err := b.MovableNamed(strings.TrimSpace(c.Of))
		if _, row := m.Row(); err != nil || row {
			continue
		}
		at, err := b.Reads(m)
		if err != nil {
			return nil, err
		}
		if b, err = b.With(project.Move{Of: m, To: at}); err != nil {
			return nil, err
		}
	}
	return b, nil
}

// tryTrial is a build as it would be with a trial.
func (d *door) tryTrial(f *project.File, t *project.Trial) (*assess.Assessment, error) {
	args, err := setting(t)
	if err != nil {
		return nil, err
	}
	list, err := d.setEdits(f, args)
	if err == nil {
		list, err = edit.WithPlaces(f, list)
	}
	if err != nil {
		return nil, err
	}
	g, err := edit.Apply(f, list...)
	if err != nil {
		return nil, err
	}
	b, err := movedAway(g.Build, t)
	if err != nil {
		return nil, err
	}
	return assess.Run(b), nil
}

// triedTrial is a trial with what it comes to.
type triedTrial struct {
	trial *project.Trial
	now   *assess.Assessment
	err   error
}

func (a *app) trials(cmd *cobra.Command, path string, asJSON bool, g theme.Glyphs) error {
	f, err := project.Load(path)
	if err != nil {
		return fail(exitFile, err)
	}
	d, err := a.door(cmd, "")
	if err != nil {
		return err
	}
	all := make([]triedTrial, len(f.Build.Trials))
	for i := range all {
		t := &f.Build.Trials[i]
		all[i].trial = t
		all[i].now, all[i].err = d.tryTrial(f, t)
	}
	now := assess.Run(f.Build)
	if asJSON {
		text, err := trialsJSON(a.version, path, now, all)
		if err != nil {
			return err
		}
		return a.print(text)
	}
	return a.print(g.Plain(trialsText(path, f, now, all, g)))
}

func trialsText(path string, f *project.File, now *assess.Assessment, all []triedTrial, g theme.Glyphs) string {
	var out strings.Builder
	out.WriteString(headLine(path, now.Build) + "\n\n")
	if len(all) == 0 {
		wrapped(&out, "", "This file has no trials. One is [trial.NAME] with [[trial.NAME.change]]: of, such as placement.rear, and to, such as -86 mm.")
		return out.String()
	}
	head := []string{"", "as it is"}
	for _, t := range all {
		head = append(head, project.Printable(t.trial.Name))
	}
	rows := [][]string{head}
	rows = append(rows, changedRows(f, all)...)
	rows = append(rows, countRows(now, all)...)
	rows = append(rows, verdictRows(now, all, g)...)
	for _, l := range columns(rows, g, 0) {
		out.WriteString(l + "\n")
	}
	out.WriteString("\n")
	for _, t := range all {
		if t.trial.Note != "" {
			wrapped(&out, "", project.Printable(t.trial.Name)+": "+project.Printable(t.trial.Note))
		}
		if t.err != nil {
			wrapped(&out, "", project.Printable(t.trial.Name)+" cannot be tried: "+strings.TrimSuffix(project.Printable(t.err.Error()), "?")+".")
		}
		if again := readAgain(now.Build, t.trial); t.err == nil && len(again) > 0 {
			wrapped(&out, "", project.Printable(t.trial.Name)+" moves what was read: "+project.Printable(strings.Join(again, ", "))+". What rested on that is planned in it.")
		}
	}
	return out.String()
}

// changedRows are the values that trials have otherwise.
func changedRows(f *project.File, all []triedTrial) [][]string {
	var rows [][]string
	at := map[string]int{}
	for k, t := range all {
		for _, c := range t.trial.Changes {
			of := strings.TrimSpace(c.Of)
			i, ok := at[of]
			if !ok {
				i = len(rows)
				at[of] = i
				row := make([]string, len(all)+2)
				row[0] = project.Printable(of)
				row[1] = "-"
				if text, ok := f.Text(f.Resolve(of)); ok {
					row[1] = project.Printable(text)
				}
				for j := 2; j < len(row); j++ {
					row[j] = "same"
				}
				rows = append(rows, row)
			}
			rows[i][k+2] = project.Printable(c.To)
		}
	}
	return rows
}

// countRows are how many findings have each verdict.
func countRows(now *assess.Assessment, all []triedTrial) [][]string {
	var rows [][]string
	for _, s := range []assess.Status{assess.OK, assess.Tight, assess.Over, assess.NotKnown} {
		row := []string{"findings " + s.String(), fmt.Sprint(now.Count()[s])}
		for _, t := range all {
			n := "-"
			if t.err == nil {
				n = fmt.Sprint(t.now.Count()[s])
			}
			row = append(row, n)
		}
		rows = append(rows, row)
	}
	return rows
}

// verdictRows are the findings whose verdict is not the same everywhere.
func verdictRows(now *assess.Assessment, all []triedTrial, g theme.Glyphs) [][]string {
	cell := func(f assess.Finding) string {
		return g.Sign(pane.Status(f.Status)) + " " + strings.TrimSpace(valueText(f, now.Build.Units)+" "+f.Status.String())
	}
	var rows [][]string
	for _, f := range now.Findings {
		row, differs := []string{project.Printable(f.Title), cell(f)}, false
		for _, t := range all {
			text := "-"
			if t.err == nil {
				if h, ok := t.now.Finding(f.ID); ok {
					text = cell(h)
					differs = differs || h.Status != f.Status
				}
			}
			row = append(row, text)
		}
		if differs {
			rows = append(rows, row)
		}
	}
	return rows
}

type jsonTrials struct {
	Fitup  string        `json:"fitup"`
	File   string        `json:"file"`
	Now    []jsonFinding `json:"findings"`
	Trials []jsonTrial   `json:"trials"`
}

type jsonTrial struct {
	Name     string        `json:"name"`
	Note     string        `json:"note"`
	Changes  []jsonChange  `json:"changes"`
	Error    *string       `json:"error"` // why it cannot be tried
	Again    []string      `json:"read_again"`
	Findings []jsonFinding `json:"findings"`
}

type jsonChange struct {
	Of string `json:"of"`
	To string `json:"to"`
}

func trialsJSON(version, path string, now *assess.Assessment, all []triedTrial) (string, error) {
	u := now.Build.Units
	list := func(a *assess.Assessment) []jsonFinding {
		out := []jsonFinding{}
		if a != nil {
			for _, f := range a.Findings {
				out = append(out, findingJSON(f, u))
			}
		}
		return out
	}
	out := jsonTrials{Fitup: version, File: project.Printable(path), Now: list(now), Trials: []jsonTrial{}}
	for _, t := range all {
		j := jsonTrial{Name: project.Printable(t.trial.Name), Note: project.Printable(t.trial.Note), Changes: []jsonChange{}, Again: []string{}, Findings: list(t.now)}
		for _, c := range t.trial.Changes {
			j.Changes = append(j.Changes, jsonChange{project.Printable(c.Of), project.Printable(c.To)})
		}
		if t.err != nil {
			j.Error = text(t.err.Error())
		}
		j.Again = append(j.Again, readAgain(now.Build, t.trial)...)
		out.Trials = append(out.Trials, j)
	}
	return jsonText("trials", out)
}
