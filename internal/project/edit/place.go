package edit

import (
	"fitup/internal/geom/seat"
	"fitup/internal/project"
)

// MoveRow returns the edits that make a placement row read target (internal
// unit). Only the keys that change are edited.
func MoveRow(f *project.File, r seat.Row, target float64) ([]Edit, error) {
	supports, from, err := f.Build.Seat()
	if err != nil {
		return nil, err
	}
	to, err := supports.Solve(from, r, target)
	if err != nil {
		return nil, err
	}
	var edits []Edit
	for _, k := range []struct {
		path     string
		old, now float64
	}{
		{"placement.left_front", from.LeftFront, to.LeftFront},
		{"placement.right_front", from.RightFront, to.RightFront},
		{"placement.rear", from.Rear, to.Rear},
		{"placement.setback", from.Setback, to.Setback},
		{"placement.offset", from.Offset, to.Offset},
		{"placement.heading", from.Heading.Rad(), to.Heading.Rad()},
	} {
		if k.old == k.now {
			continue
		}
		e, err := SetValue(f, k.path, k.now)
		if err != nil {
			return nil, err
		}
		edits = append(edits, e)
	}
	return edits, nil
}
