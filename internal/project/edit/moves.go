package edit

import (
	"fmt"
	"slices"

	"fitup/internal/project"
)

// Moves returns the edits that put movable things where moves say, each on top of the
// ones before it, and take out the readings that describe what was moved no longer (see
// project.Build.With). gone are the targets of these.
func Moves(f *project.File, moves ...project.Move) (edits []Edit, gone []string, err error) {
	after, err := f.Build.With(moves...)
	if err != nil {
		return nil, nil, err
	}
	at := f
	for _, m := range moves {
		more, err := movedTo(at, m)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", m.Of.Path(), err)
		}
		if at, err = Apply(at, more...); err != nil {
			return nil, nil, err
		}
		edits = append(edits, more...)
	}
	more, gone := withoutReadings(f, after)
	return append(edits, more...), gone, nil
}

// withoutReadings are the edits that take out the readings whose targets have none in
// another state of the build, and these targets.
func withoutReadings(f *project.File, after *project.Build) (edits []Edit, gone []string) {
	for i := len(f.Build.Readings) - 1; i >= 0; i-- {
		of := f.Build.Readings[i].Of
		if slices.ContainsFunc(after.Readings, func(r project.Reading) bool { return r.Of == of }) {
			continue
		}
		edits = append(edits, Edit{Op: OpRemove, Path: fmt.Sprintf("reading[%d]", i)})
		if !slices.Contains(gone, of) {
			gone = append(gone, of)
		}
	}
	return edits, gone
}

// movedTo are the edits of one move.
func movedTo(f *project.File, m project.Move) ([]Edit, error) {
	if row, ok := m.Of.Row(); ok {
		return MoveRow(f, row.Row, m.To)
	}
	path, edits, err := Begin(f, m.Of.Path())
	if err != nil {
		return nil, err
	}
	if n := m.Of.Yokes(); n > 0 { // the word for it would say it a second time
		phase := f.Resolve(fmt.Sprintf("line.%s.shaft.%d.phase", m.Of.Line(), n))
		if f.Has(phase) {
			edits = append(edits, Edit{Op: OpRemove, Path: phase})
		}
	}
	if f, err = Draft(f, edits...); err != nil {
		return nil, err
	}
	e, err := SetValue(f, path, m.To)
	if err != nil {
		return nil, err
	}
	return append(edits, e), nil
}
