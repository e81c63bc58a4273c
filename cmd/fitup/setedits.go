package main

import (
	"fmt"
	"strings"

	"fitup/internal/assess/bracket"
	"fitup/internal/project"
	"fitup/internal/project/edit"
	"fitup/internal/project/quantity"

	"github.com/spf13/cobra"
)

// door is the way through which values are set, with the reason of a command
// line.
func (a *app) door(cmd *cobra.Command, reason string) (*door, error) {
	d := &door{reason: strings.TrimSpace(reason), now: a.env.Now}
	if flag := cmd.Flags().Lookup("reason"); flag != nil && flag.Changed && d.reason == "" {
		return nil, wrongUse("the reason is blank; say why it is done although something holds it")
	}
	return d, nil
}

// through makes a change by way of the door, and tells what it has to say.
func (a *app) through(d *door, to target, label string, edits func(*project.File) ([]edit.Edit, error)) error {
	err := a.changeInto(to, project.Printable(label), func(f *project.File) ([]edit.Edit, error) {
		d.used, d.warn = false, nil
		return edits(f)
	})
	if err != nil {
		return err
	}
	if d.reason != "" && !d.used {
		fmt.Fprintln(a.env.Stderr, "fitup: nothing held it, so the reason is not recorded")
	}
	for _, w := range d.warn {
		fmt.Fprintln(a.env.Stderr, "fitup: "+a.glyphs().Plain(project.Printable(w)))
	}
	return nil
}

// change is a file on its way through several edits.
type change struct {
	start, file *project.File
	edits       []edit.Edit
	fault       error // why the file cannot stand as it is; more edits may cure it
}

// add makes edits on top of those before.
func (c *change) add(edits ...edit.Edit) error {
	for _, e := range edits {
		e = edit.InOrder(c.file, e)
		next, err := edit.Draft(c.file, e)
		if err != nil {
			return err
		}
		c.edits = append(c.edits, e)
		whole, err := c.start.With(next.Doc())
		if c.file, c.fault = whole, err; err != nil {
			c.file = next
		}
	}
	return nil
}

// setEdits turns path=value into edits, each on top of the ones before it.
func (d *door) setEdits(f *project.File, args []string) ([]edit.Edit, error) {
	c := &change{start: f, file: f}
	for _, arg := range args {
		path, value, ok := strings.Cut(arg, "=")
		if !ok {
			return nil, fmt.Errorf("read %q; want a path and a value with = between and no space round it, such as placement.rear=-288", project.Printable(arg))
		}
		if err := d.setOn(c, strings.TrimSpace(path), strings.TrimSpace(value)); err != nil {
			return nil, fmt.Errorf("%s: %w", project.Printable(strings.TrimRight(path, " +-")), err)
		}
	}
	d.sections(c)
	return c.edits, c.fault
}

// sections asks about the sections of legs that a change has named and the table
// has not.
func (d *door) sections(c *change) {
	for _, m := range c.file.Build.Mounts {
		if m.Leg.Section == c.start.Build.Mount(m.Name).Leg.Section {
			continue
		}
		if why := bracket.SectionFault(m.Name, m.Leg, c.file.Build.Units); why != "" {
			d.warn = append(d.warn, why)
		}
	}
}

// setOn sets one value on top of a change. A path with + or - behind it is a step.
func (d *door) setOn(c *change, path, value string) error {
	sign := 0.0
	for end, s := range map[string]float64{"+": 1, "-": -1} {
		if cut, ok := strings.CutSuffix(path, end); ok {
			path, sign = strings.TrimSpace(cut), s
		}
	}
	if value != "" { // what is not there has nothing to take out
		_, begun, err := edit.Begin(c.file, path)
		if err != nil {
			return err
		}
		if err := c.add(begun...); err != nil {
			return err
		}
	}
	at := c.file.Resolve(path)
	if err := beginSide(c, at); err != nil {
		return err
	}
	if sign != 0 {
		edits, err := edit.StepBy(c.file, at, value, sign)
		if err != nil {
			return err
		}
		return c.add(edits...)
	}
	if err := edit.SignedDoubt(at, value); err != nil {
		return err
	}
	edits, err := d.setOne(c, at, value)
	if err != nil {
		return err
	}
	return c.add(edits...)
}

// setOne returns the edits that give the value at a path of the text what was
// typed.
func (d *door) setOne(c *change, at, value string) ([]edit.Edit, error) {
	f := c.file
	if at == "units.system" {
		return edit.SetUnits(f, value)
	}
	if guarded(at) && c.fault != nil {
		return nil, c.fault // what is held is told from a whole file
	}
	if edits, mine, err := d.through(f, at, value); mine {
		return edits, err
	}
	if row, ok := project.RowNamed(at); ok && !project.IsPath(at) {
		v, err := quantity.Parse(row.Kind, value, f.Build.Units)
		if err != nil {
			return nil, err
		}
		edits, err := edit.MoveRow(f, row.Row, v)
		if err != nil {
			return nil, err
		}
		return edits, slip(f, at, value)
	}
	if value == "" && project.IsPath(at) {
		if !f.Has(at) {
			return nil, nil
		}
		return []edit.Edit{{Op: edit.OpRemove, Path: strings.TrimSuffix(at, ".value")}}, nil
	}
	edits, err := edit.Written(f, at, value)
	if err != nil {
		return nil, err
	}
	if err := slip(f, at, value); err != nil {
		if _, err := edit.Apply(f, edits...); err != nil {
			return nil, err // there is more against it
		}
		return nil, err
	}
	return edits, nil
}

// guarded reports whether a path of the text is one that the door looks after.
func guarded(at string) bool {
	return jobKey().MatchString(at) || holdKey().MatchString(at) || sideKey().MatchString(at) ||
		afterKey().MatchString(at) || at == "powertrain.standing"
}

// beginSide begins a side of the weld map that is not there: what becomes of it
// is the door's to say.
func beginSide(c *change, at string) error {
	m := sideKey().FindStringSubmatch(at)
	side := strings.TrimSuffix(at, ".state")
	if m == nil || c.file.Has(side) {
		return nil
	}
	e, err := edit.BeginTable(c.file, side)
	if err != nil {
		return err
	}
	return c.add(e)
}
