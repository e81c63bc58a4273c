package propose

import (
	"slices"
	"strings"

	"fitup/internal/assess"
	"fitup/internal/assess/finding"
	"fitup/internal/project"
	"fitup/internal/project/edit"
)

// Tried is a trial of a file with what it comes to.
type Tried struct {
	Trial *project.Trial
	After *assess.Assessment // nil where it cannot be tried
	// Again are the targets of readings that it takes out, since they are of how things
	// stood before.
	Again []string
	Err   error // why it cannot be tried
}

// TryAll assesses a file with each of its trials, each on the build as it is. set writes
// what is not moved (see edit.Trial).
func TryAll(f *project.File, set func(*project.File, string, string) ([]edit.Edit, error)) []Tried {
	out := make([]Tried, len(f.Build.Trials))
	for i := range out {
		t := &f.Build.Trials[i]
		out[i].Trial = t
		out[i].After, out[i].Again, out[i].Err = try(f, t, set)
	}
	return out
}

func try(f *project.File, t *project.Trial, set func(*project.File, string, string) ([]edit.Edit, error)) (*assess.Assessment, []string, error) {
	edits, gone, err := edit.Trial(f, assess.Placed, t, set)
	if err != nil {
		return nil, nil, err
	}
	if edits, err = edit.WithPlaces(f, edits); err != nil {
		return nil, nil, err
	}
	g, err := edit.Apply(f, edits...)
	if err != nil {
		return nil, nil, err
	}
	return assess.Run(g.Build), gone, nil
}

// ChangedRow is a value that one of the trials has otherwise: as the file has it, and as
// each trial does; "" where a trial leaves it.
type ChangedRow struct {
	Of, Now string
	To      []string
}

// ChangedRows are the values that trials have otherwise.
func ChangedRows(f *project.File, all []Tried) []ChangedRow {
	var rows []ChangedRow
	for k, t := range all {
		for _, c := range t.Trial.Changes {
			of := strings.TrimSpace(c.Of)
			i := slices.IndexFunc(rows, func(r ChangedRow) bool { return r.Of == of })
			if i < 0 {
				i = len(rows)
				row := ChangedRow{Of: of, To: make([]string, len(all))}
				row.Now = nowOf(f, of)
				rows = append(rows, row)
			}
			rows[i].To[k] = c.To
		}
	}
	return rows
}

// nowOf is a value as the file has it; of what can be moved and stands at a point where
// that is; "" where it is not known.
func nowOf(f *project.File, of string) string {
	if text, ok := f.Text(f.Resolve(of)); ok {
		return text
	}
	m, err := f.Build.MovableNamed(of)
	if err != nil {
		return ""
	}
	if joint, _ := m.Bearing(); joint == 0 {
		return ""
	}
	v, err := assess.Placed(f.Build).Reads(m)
	if err != nil {
		return ""
	}
	return Spelled(m.Kind(), v, f.Build.Units)
}

// ComparedRow is a finding as it is, and with each trial; nil where that has none.
type ComparedRow struct {
	Now  finding.Finding
	With []*finding.Finding
}

// Differing are the findings whose verdict is not the same with all trials.
func Differing(now *assess.Assessment, all []Tried) []ComparedRow {
	var rows []ComparedRow
	for i := range now.Findings {
		row := ComparedRow{now.Findings[i], make([]*finding.Finding, len(all))}
		differs := false
		for k, t := range all {
			if t.Err != nil {
				continue
			}
			if f, ok := t.After.Finding(row.Now.ID); ok {
				row.With[k] = &f
				differs = differs || f.Status != row.Now.Status
			}
		}
		if differs {
			rows = append(rows, row)
		}
	}
	return rows
}
