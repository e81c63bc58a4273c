package main

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/edit"

	"github.com/spf13/cobra"
)

func (a *app) addCommand() *cobra.Command {
	to := target{}
	csvFile, reason := "", ""
	cmd := &cobra.Command{
		Use:   "add FILE LIST [KEY=VALUE...]",
		Short: "Add an entry to a list of a build file, or a list from a table",
		Long: `Add an entry to a list of a build file, behind its last one, with the values
that are given: chassis, stock, measure, weld, line.rear.suspension.link. A table
with a name of its own is begun in the same way: line.front, mount.gearbox. Values
are written as for fitup set; fitup help file LIST says which keys there are.

With --csv the entries come from a table such as a spreadsheet saves: the first
row names the keys, each row below it is an entry, an empty cell is left out.
Bare numbers are in the units of the build file. A point stands in one cell as
[1200, 0, -50], or in three columns: at.station, at.offset, at.height. Columns are
parted by comma, semicolon or tab. When one row is wrong, its row and column are
named and nothing is added.

A reading is added by fitup read.`,
		Example: `  fitup add truck.toml chassis name="steering shaft" from="[300, 250, -40]" to="[900, 420, 60]" radius=12
  fitup add truck.toml chassis --csv survey.csv
  fitup add truck.toml line.front toward=front`,
		Args: atLeastFile(1, "FILE LIST [KEY=VALUE...]"),
		ValidArgsFunction: completeFrom(func(f *project.File, args []string, word string) []cobra.Completion {
			return completeAdd(args, word)
		}, cobra.ShellCompDirectiveNoSpace),
		RunE: func(cmd *cobra.Command, args []string) error {
			if csvFile != "" && len(args) > 2 {
				return wrongUse("give the values behind the list, or a table with --csv; not both")
			}
			d, err := a.door(cmd, reason)
			if err != nil {
				return err
			}
			rows := []csvRow{{}}
			if csvFile != "" {
				if rows, err = readTable(csvFile, a.env.Stdin); err != nil {
					return err
				}
			} else if rows[0].keys, err = keyValues(args[2:]); err != nil {
				return err
			}
			to.path = args[0]
			return a.through(d, to, "add "+strings.Join(args[1:], " "), func(f *project.File) ([]edit.Edit, error) {
				return d.addRows(f, args[1], rows)
			})
		},
	}
	to.add(cmd)
	cmd.Flags().StringVar(&csvFile, "csv", "", "take the entries from a table in `FILE`, or - for standard input")
	cmd.Flags().StringVar(&reason, "reason", "", "why a held job is ticked, or a weld finished, all the same")
	return cmd
}

// keyValues reads KEY=VALUE.
func keyValues(args []string) ([]edit.KeyValue, error) {
	var out []edit.KeyValue
	for _, arg := range args {
		key, value, ok := strings.Cut(arg, "=")
		if key = strings.TrimSpace(key); !ok || key == "" {
			return nil, wrongUse("read %q; want a key and a value with = between, such as name=\"steering shaft\"", project.Printable(arg))
		}
		out = append(out, edit.KeyValue{Key: key, Typed: strings.TrimSpace(value)})
	}
	return out, nil
}

// addRows returns the edits that add an entry for each row. The error names the
// row and the column when the rows are those of a table.
func (d *door) addRows(f *project.File, list string, rows []csvRow) ([]edit.Edit, error) {
	c := &change{start: f, file: f}
	for _, row := range rows {
		if err := d.addRow(c, list, row.keys); err != nil {
			return nil, row.place(err)
		}
	}
	d.sections(c)
	return c.edits, nil
}

func (d *door) addRow(c *change, list string, keys []edit.KeyValue) error {
	seen := map[string]bool{}
	for _, k := range keys {
		if seen[k.Key] {
			return fmt.Errorf("%s is given twice", project.Printable(k.Key))
		}
		seen[k.Key] = true
	}
	e, err := edit.AddEntry(c.file, list, keys, guarded)
	if err != nil {
		return err
	}
	if err := c.add(e.Edits...); err != nil {
		return err
	}
	for _, k := range e.Later {
		if err := d.setOn(c, e.At+"."+k.Key, k.Typed); err != nil {
			return fmt.Errorf("%s: %w", project.Printable(k.Key), err)
		}
	}
	return c.fault
}

// completeAdd completes the list, then the keys of an entry.
func completeAdd(args []string, word string) []cobra.Completion {
	var out []cobra.Completion
	for _, k := range project.Schema() {
		path := strings.ReplaceAll(strings.ReplaceAll(k.Path, ".N.", "."), "NAME", "rear")
		switch {
		case len(args) == 0 && k.Shape == project.TablesShape && strings.HasPrefix(path, word):
			out = append(out, path)
		case len(args) > 0:
			key, ok := strings.CutPrefix(path, args[0]+".")
			if ok && !strings.Contains(key, ".") && strings.HasPrefix(key, word) {
				out = append(out, key+"=")
			}
		}
	}
	return out
}

func (a *app) removeCommand() *cobra.Command {
	to := target{}
	cmd := &cobra.Command{
		Use:   "remove FILE ENTRY...",
		Short: "Take entries of lists out of a build file",
		Long: `Take entries of lists out of a build file, each by its name or by its number from
1: chassis.battery, reading.2, line.rear.suspension.link.1; or a table with a name
of its own, such as line.front. The comment right above an entry goes with it.
Numbers are those that the entries have now, also when several are named.

What refers to an entry that is gone is named, and nothing is changed; a job of
the list hands on what it waited for. A single value is taken out by fitup set,
with nothing behind the =.`,
		Example: `  fitup remove truck.toml chassis.battery
  fitup remove truck.toml reading.2 reading.3`,
		Args: atLeastFile(1, "FILE ENTRY..."),
		ValidArgsFunction: completeFrom(func(f *project.File, _ []string, word string) []cobra.Completion {
			var out []cobra.Completion
			for _, e := range f.Entries() {
				if strings.HasPrefix(e, word) {
					out = append(out, project.Printable(e))
				}
			}
			return out
		}, cobra.ShellCompDirectiveDefault),
		RunE: func(_ *cobra.Command, args []string) error {
			to.path = args[0]
			return a.changeInto(to, project.Printable("remove "+strings.Join(args[1:], ", ")), func(f *project.File) ([]edit.Edit, error) {
				return edit.RemoveEntries(f, args[1:])
			})
		},
	}
	to.add(cmd)
	return cmd
}
