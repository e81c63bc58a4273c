package main

import (
	"cmp"
	"fmt"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/propose"
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
		edits, gone, err := edit.Trial(f, assess.Placed, t, d.setValue)
		again = gone
		return edits, err
	})
	if err == nil && len(again) > 0 {
		fmt.Fprintln(a.env.Stderr, "fitup: what was read of these was of before and is taken out; once it is moved, read again: "+project.Printable(strings.Join(again, ", ")))
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

// setValue writes one value of a trial by way of the door.
func (d *door) setValue(f *project.File, path, value string) ([]edit.Edit, error) {
	return d.setEdits(f, []string{path + "=" + value})
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
	all := propose.TryAll(f, d.setValue)
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

func trialsText(path string, f *project.File, now *assess.Assessment, all []propose.Tried, g theme.Glyphs) string {
	var out strings.Builder
	out.WriteString(headLine(path, now.Build) + "\n\n")
	if len(all) == 0 {
		wrapped(&out, "", "This file has no trials. One is [trial.NAME] with [[trial.NAME.change]]: of, such as placement.rear, and to, such as -86 mm.")
		return out.String()
	}
	head := []string{"", "as it is"}
	for _, t := range all {
		head = append(head, project.Printable(t.Trial.Name))
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
		if t.Trial.Note != "" {
			wrapped(&out, "", project.Printable(t.Trial.Name)+": "+project.Printable(t.Trial.Note))
		}
		if t.Err != nil {
			wrapped(&out, "", project.Printable(t.Trial.Name)+" cannot be tried: "+strings.TrimSuffix(project.Printable(t.Err.Error()), "?")+".")
		}
		if len(t.Again) > 0 {
			wrapped(&out, "", project.Printable(t.Trial.Name)+" moves what was read: "+project.Printable(now.Build.TargetWords(t.Again...))+". What rested on that is planned in it.")
		}
	}
	return out.String()
}

// changedRows are the values that trials have otherwise.
func changedRows(f *project.File, all []propose.Tried) [][]string {
	var rows [][]string
	for _, r := range propose.ChangedRows(f, all) {
		row := []string{project.Printable(r.Of), cmp.Or(project.Printable(r.Now), "-")}
		for _, to := range r.To {
			row = append(row, cmp.Or(project.Printable(to), "same"))
		}
		rows = append(rows, row)
	}
	return rows
}

// countRows are how many findings have each verdict.
func countRows(now *assess.Assessment, all []propose.Tried) [][]string {
	var rows [][]string
	for _, s := range []assess.Status{assess.OK, assess.Tight, assess.Over, assess.NotKnown} {
		row := []string{"findings " + s.String(), fmt.Sprint(now.Count()[s])}
		for _, t := range all {
			n := "-"
			if t.Err == nil {
				n = fmt.Sprint(t.After.Count()[s])
			}
			row = append(row, n)
		}
		rows = append(rows, row)
	}
	return rows
}

// verdictRows are the findings whose verdict is not the same everywhere.
func verdictRows(now *assess.Assessment, all []propose.Tried, g theme.Glyphs) [][]string {
	cell := func(f assess.Finding) string {
		return g.Sign(pane.Status(f.Status)) + " " + strings.TrimSpace(valueText(f, now.Build.Units)+" "+f.Status.String())
	}
	var rows [][]string
	for _, r := range propose.Differing(now, all) {
		row := []string{project.Printable(r.Now.Title), cell(r.Now)}
		for _, f := range r.With {
			if f == nil {
				row = append(row, "-")
				continue
			}
			row = append(row, cell(*f))
		}
		rows = append(rows, row)
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

func trialsJSON(version, path string, now *assess.Assessment, all []propose.Tried) (string, error) {
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
		j := jsonTrial{Name: project.Printable(t.Trial.Name), Note: project.Printable(t.Trial.Note), Changes: []jsonChange{}, Again: []string{}, Findings: list(t.After)}
		for _, c := range t.Trial.Changes {
			j.Changes = append(j.Changes, jsonChange{project.Printable(c.Of), project.Printable(c.To)})
		}
		if t.Err != nil {
			j.Error = text(t.Err.Error())
		}
		j.Again = append(j.Again, t.Again...)
		out.Trials = append(out.Trials, j)
	}
	return jsonText("trials", out)
}
