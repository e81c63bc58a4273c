package project

import (
	"errors"

	"fitup/internal/geom/seat"
)

// MovedSince reports whether the powertrain stands elsewhere than when
// something that hangs on it was read, with both places. The error says that
// nobody can tell.
func (b *Build) MovedSince(r Reading) (moved bool, then, now seat.Placement, err error) {
	now, have := b.Placement.Seat()
	then, noted := r.Placed.Seat()
	switch {
	case !noted && r.Placed.Elsewhere(b.Placement):
		return false, now, now, errors.New("the powertrain was moved since, and the reading does not say the whole of where it stood")
	case !noted:
		return false, now, now, nil
	case !have && r.Placed.Elsewhere(b.Placement):
		return false, then, then, errors.New("the powertrain was moved since, and the file does not have the whole of where it stands now")
	case !have:
		return false, then, then, errors.New("the reading says where the powertrain stood, and the file no longer has where it stands now")
	}
	return !SamePlace(then, now), then, now, nil
}
