package edit

import (
	"fmt"
	"slices"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// Trial returns the edits that make a trial's changes, each on top of the ones before it.
// What can be moved is moved as Moves does it, so that readings which describe it no
// longer are taken out: gone are the targets of these. set writes what else a trial
// changes; nil writes values, and refuses what is done by ticking, welding or reading.
func Trial(f *project.File, places Places, t *project.Trial, set func(*project.File, string, string) ([]Edit, error)) (edits []Edit, gone []string, err error) {
	if set == nil {
		set = setInTrial
	}
	if len(t.Changes) == 0 {
		return nil, nil, fmt.Errorf("trial.%s changes nothing yet; want [[trial.%s.change]] with of and to", t.Name, t.Name)
	}
	at := f
	for i, c := range t.Changes {
		of, value := strings.TrimSpace(c.Of), strings.TrimSpace(c.To)
		if of == "" || value == "" || strings.ContainsAny(of, "= \t") {
			return nil, nil, fmt.Errorf("trial.%s.change.%d: want of, such as placement.rear, and to, such as -86 mm", t.Name, i+1)
		}
		more, left, err := changed(at, places, of, value, set)
		if err == nil {
			at, err = Apply(at, more...)
		}
		if err != nil {
			return nil, nil, fmt.Errorf("trial.%s.change.%d: %w", t.Name, i+1, err)
		}
		edits = append(edits, more...)
		for _, target := range left {
			if !slices.Contains(gone, target) {
				gone = append(gone, target)
			}
		}
	}
	return edits, gone, nil
}

// changed are the edits of one change of a trial.
func changed(f *project.File, places Places, of, value string, set func(*project.File, string, string) ([]Edit, error)) (edits []Edit, gone []string, err error) {
	m, err := f.Build.MovableNamed(of)
	if err != nil {
		edits, err = set(f, of, value)
		return edits, nil, err
	}
	if !quantity.HasBound(value) {
		to, err := quantity.Parse(m.Kind(), value, f.Build.Units)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", of, err)
		}
		return Moves(f, places, project.Move{Of: m, To: to})
	}
	if edits, err = set(f, of, value); err != nil {
		return nil, nil, err
	}
	after, err := places.of(f.Build).With(project.Move{Of: m, To: 0})
	if err != nil {
		return nil, nil, err
	}
	more, gone := withoutReadings(f, after)
	return append(edits, more...), gone, nil
}

// setInTrial writes one value of a trial.
func setInTrial(f *project.File, path, value string) ([]Edit, error) {
	switch top, _, _ := strings.Cut(path, "."); top {
	case "job", "weld", "reading", "trial", "find", "format", "units":
		return nil, fmt.Errorf("%s is no value of an alternative; change it by itself", project.Printable(path))
	}
	at, edits, err := Begin(f, path)
	if err != nil {
		return nil, err
	}
	if f, err = Draft(f, edits...); err != nil {
		return nil, err
	}
	more, err := Written(f, at, value)
	return append(edits, more...), err
}

// KeepTrial returns the edits that write moves into the file as the trial of a name that
// has none yet.
func KeepTrial(f *project.File, name, note string, moves ...project.Move) ([]Edit, error) {
	if err := FreeTrial(f.Build, name); err != nil {
		return nil, err
	}
	values := [][2]string{{"note", note}}
	for i, m := range moves {
		change := fmt.Sprintf("change.%d.", i+1)
		values = append(values, [2]string{change + "of", m.Of.Path()}, [2]string{change + "to", spelledFinely(m.Of.Kind(), m.To, f.Build.Units)})
	}
	header, err := BeginTable(f, "trial."+name)
	if err != nil {
		return nil, err
	}
	edits := []Edit{header}
	if f, err = Draft(f, header); err != nil {
		return nil, err
	}
	for _, v := range values {
		at, begun, err := Begin(f, "trial."+name+"."+v[0])
		if err != nil {
			return nil, err
		}
		begun = append(begun, InOrder(f, Edit{Op: OpSet, Path: at, Text: Quoted(v[1])}))
		if f, err = Draft(f, begun...); err != nil {
			return nil, err
		}
		edits = append(edits, begun...)
	}
	return edits, nil
}

// spelledFinely writes a value with as many digits as it takes to mean the same place.
func spelledFinely(k quantity.Kind, v float64, u quantity.Units) string {
	const most = 5
	for digits := range most {
		text := quantity.Plain(k, v, u, digits)
		if got, err := quantity.Parse(k, text, u); err == nil && near(got, v) {
			return text
		}
	}
	return quantity.Plain(k, v, u, most)
}

// near reports whether two places are one to whoever measures: a thousandth of a
// millimetre, or a millionth of a turn.
func near(a, b float64) bool { return a-b < 1e-6 && b-a < 1e-6 }

// FreeTrial refuses a name that no trial can be kept under.
func FreeTrial(b *project.Build, name string) error {
	switch {
	case !project.PlainName(name):
		return fmt.Errorf("read %q; a name is made of letters, digits, - and _, 40 at most", project.Printable(name))
	case slices.ContainsFunc(b.Trials, func(t project.Trial) bool { return t.Name == name }):
		return fmt.Errorf("there is a trial %s already; keep this one under another name, or take that out first", name)
	}
	return nil
}

// Step is a job that the builder sets himself: what is to be done, and what is true then.
type Step struct{ Title, Means string }

// AddSteps returns the edits that put jobs into the list before the first that is open,
// one behind the other, each waiting for the ones before it.
func AddSteps(f *project.File, steps ...Step) ([]Edit, error) {
	behind := len(f.Build.Jobs) - 1
	for i, j := range f.Build.Jobs {
		if !j.Done {
			behind = max(i-1, 0)
			break
		}
	}
	var edits []Edit
	var ids []string
	for _, s := range steps {
		e, err := InsertJob(f, behind, s.Title)
		if err != nil {
			return nil, err
		}
		if f, err = Apply(f, e); err != nil {
			return nil, err
		}
		behind = slices.IndexFunc(f.Build.Jobs, func(j project.Job) bool { return j.Title == s.Title && !slices.Contains(ids, j.ID) })
		set := []Edit{{Op: OpSet, Path: jobPath(behind, "means"), Text: Quoted(s.Means)}}
		if len(ids) > 0 {
			set = append(set, Edit{Op: OpSet, Path: jobPath(behind, "needs"), Text: "[" + Quoted(ids[len(ids)-1]) + "]"})
		}
		if f, err = Apply(f, set...); err != nil {
			return nil, err
		}
		ids = append(ids, f.Build.Jobs[behind].ID)
		edits = append(append(edits, e), set...)
	}
	return edits, nil
}
