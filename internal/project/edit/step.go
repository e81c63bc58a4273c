package edit

import (
	"fmt"
	"strings"

	"fitup/internal/project"
	"fitup/internal/project/quantity"
)

// StepBy returns the edits that add what was typed to the number at a path of the
// text, a row of the placement included; sign is 1, or -1 to take it off. What
// is typed is read as a value of that kind.
func StepBy(f *project.File, path, typed string, sign float64) ([]Edit, error) {
	k, isQuantity := project.KindAt(path)
	row, isRow := project.RowNamed(path)
	if !isQuantity {
		k = row.Kind
	}
	if !isQuantity && !isRow {
		return nil, fmt.Errorf("it is no number that a step could be added to; give its value behind =")
	}
	by, err := quantity.Parse(k, typed, f.Build.Units)
	if err != nil {
		return nil, err
	}
	if !isQuantity {
		supports, at, err := f.Build.Seat()
		if err != nil {
			return nil, err
		}
		now, err := supports.Value(at, row.Row)
		if err != nil {
			return nil, err
		}
		return MoveRow(f, row.Row, now+sign*by)
	}
	now, ok := f.QuantityAt(path, k)
	if !ok {
		return nil, fmt.Errorf("it is not in the file yet, so there is nothing to step from; give its value behind =")
	}
	e, err := SetValue(f, path, now+sign*by)
	if err != nil {
		return nil, err
	}
	return []Edit{e}, nil
}

// SignedDoubt asks about a number typed with a plus in front of it: it can be the
// value itself or a step from what stands there.
func SignedDoubt(path, typed string) error {
	_, isQuantity := project.KindAt(path)
	_, isRow := project.RowNamed(path)
	rest, plus := strings.CutPrefix(strings.TrimSpace(typed), "+")
	if !plus || !isQuantity && !isRow {
		return nil
	}
	shown := project.SpokenPath(path)
	return fmt.Errorf("read %q: is it a step or the value? %q adds it to what stands there, %q sets it",
		project.Printable(typed), shown+"+="+project.Printable(rest), shown+"="+project.Printable(rest))
}
