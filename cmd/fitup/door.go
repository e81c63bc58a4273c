package main

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"

	"fitup/internal/assess"
	"fitup/internal/project"
	"fitup/internal/project/edit"
)

// door is the one way in which a job is ticked and a weld is finished, as on
// the bench: with what it relies on, and with a reason where something holds.
type door struct {
	reason string
	now    func() time.Time
	used   bool     // the reason was recorded
	warn   []string // worth knowing, though it was done
}

var (
	jobKey = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^job\[(\d+)\]\.(done|override|done_on|relied|placed)\b`)
	})
	holdKey  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^job\[(\d+)\]\.hold$`) })
	afterKey = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^reading\[(\d+)\]\.after$`) })
	sideKey  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^weld\[(\d+)\]\.side\.([^.]+)\.(state|override)$`) })
)

// through takes the edits that go through the door; mine is false for the rest.
func (d *door) through(f *project.File, at, value string) (edits []edit.Edit, mine bool, err error) {
	if m := jobKey().FindStringSubmatch(at); m != nil {
		i, _ := strconv.Atoi(m[1])
		if i >= len(f.Build.Jobs) {
			return nil, false, nil
		}
		if m[2] != "done" {
			return nil, true, fmt.Errorf("this is written when the job is ticked; set job.%s.done=true, with --reason where it is held", project.Printable(f.Build.Jobs[i].ID))
		}
		edits, err = d.job(f, i, value)
		return edits, true, err
	}
	if m := holdKey().FindStringSubmatch(at); m != nil && value != "" {
		i, _ := strconv.Atoi(m[1])
		edits, err := checkedHold(f, i, at, value)
		return edits, true, err
	}
	if m := sideKey().FindStringSubmatch(at); m != nil {
		i, _ := strconv.Atoi(m[1])
		if m[3] != "state" {
			return nil, true, errors.New("this is written when the side is finished; set its state=finished with --reason")
		}
		edits, err = d.side(f, i, m[2], value)
		return edits, true, err
	}
	if m := afterKey().FindStringSubmatch(at); m != nil && (value == string(project.Tacked) || value == string(project.Welded)) {
		if i, _ := strconv.Atoi(m[1]); i < len(f.Build.Readings) && string(f.Build.Readings[i].After) != value {
			d.warn = append(d.warn, fmt.Sprintf("reading %d counts as proof from now on; it is one only if the gauge was put on after the mounts were %s, or else take a new reading", i+1, value))
		}
	}
	if at == "powertrain.standing" && value == string(project.StandsIn) {
		if open := assess.Run(f.Build).EngineOut; len(open) > 0 && f.Build.Powertrain.Standing != project.StandsIn {
			var texts []string
			for _, it := range open {
				texts = append(texts, it.Text)
			}
			d.warn = append(d.warn, fmt.Sprintf("the engine-out list is open, and this can only be reached with the powertrain out: %s", strings.Join(texts, "; ")))
		}
	}
	return nil, false, nil
}

func (d *door) job(f *project.File, i int, value string) ([]edit.Edit, error) {
	done := false
	if value != "" {
		var err error
		if done, err = edit.Switch(value); err != nil {
			return nil, err
		}
	}
	if !done {
		if !f.Build.Jobs[i].Done {
			return nil, nil
		}
		return edit.UntickJob(f, i), nil
	}
	a := assess.Run(f.Build)
	if a.Jobs[i].State == assess.Done {
		return nil, nil
	}
	t, err := a.Tick(i, d.reason)
	if err != nil {
		return nil, d.held(err, "the job %q is held", a.Jobs[i].ID)
	}
	d.used = d.used || t.Override != ""
	t.Day = d.now()
	return edit.TickJob(f, i, t), nil
}

func (d *door) side(f *project.File, i int, side, value string) ([]edit.Edit, error) {
	if value == "" {
		value = string(project.NoWeld)
	}
	e, err := edit.SetText(f, fmt.Sprintf("weld[%d].side.%s.state", i, side), value)
	if err != nil {
		return nil, err
	}
	if _, err := edit.Apply(f, e); err != nil { // is it a state at all
		return nil, err
	}
	a := assess.Run(f.Build)
	by := ""
	for _, s := range f.Build.Welds[i].Sides {
		if s.Name == side {
			by = s.InspectedBy
		}
	}
	edits, err := a.WeldSide(i, side, project.WeldState(value), d.reason, by)
	if err != nil {
		return nil, d.held(err, "the %s side is held", side)
	}
	for _, e := range edits {
		d.used = d.used || strings.HasSuffix(e.Path, ".override") && e.Op == edit.OpSet
	}
	return edits, nil
}

// held says what holds, and how it can be done all the same.
func (d *door) held(err error, format, what string) error {
	var h *assess.ErrHeld
	if errors.As(err, &h) {
		return fmt.Errorf(format+": %w; --reason TEXT does it all the same and records why", project.Printable(what), err)
	}
	return err
}

// checkedHold refuses a hold that names nothing any build has: it would hold
// for ever, or with "?" behind it never.
func checkedHold(f *project.File, i int, at, value string) ([]edit.Edit, error) {
	e, err := edit.SetText(f, at, value)
	if err != nil {
		return nil, err
	}
	g, err := edit.Apply(f, e)
	if err != nil {
		return nil, err
	}
	a := assess.Run(g.Build)
	if i < len(g.Build.Jobs) {
		for _, h := range g.Build.Jobs[i].Hold {
			if why := a.NoSuch(h); why != "" {
				return nil, errors.New(project.Printable(why))
			}
		}
	}
	return []edit.Edit{e}, nil
}
