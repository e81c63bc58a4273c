package project

import (
	"fitup/internal/geom"
	"fitup/internal/geom/seat"
)

// HungAt returns where the powertrain stood when it was last read, and whether
// the plan has it elsewhere now: the placement in the file is the plan, and
// only a reading says where the iron hangs.
func (b *Build) HungAt() (Placement, bool) {
	now, ok := b.Placement.Seat()
	for i := len(b.Readings) - 1; i >= 0 && ok; i-- {
		r := b.Readings[i]
		if !b.HangsOnPowertrain(r.Of) {
			continue
		}
		if then, ok := r.Placed.Seat(); ok {
			return r.Placed, !SamePlace(then, now)
		}
	}
	return Placement{}, false
}

// SamePlace reports whether two placements are one, but for the rounding of one
// that was written to a file.
func SamePlace(p, q seat.Placement) bool {
	const mm, rad = 1e-4, 1e-7
	return geom.Near(p.LeftFront, q.LeftFront, mm) && geom.Near(p.RightFront, q.RightFront, mm) &&
		geom.Near(p.Rear, q.Rear, mm) && geom.Near(p.Setback, q.Setback, mm) &&
		geom.Near(p.Offset, q.Offset, mm) && geom.Near(p.Heading.Rad(), q.Heading.Rad(), rad)
}

// HangsOnPowertrain reports whether a reading's target goes where the
// powertrain goes: itself, and the first shaft of a line that begins at it.
func (b *Build) HangsOnPowertrain(target string) bool {
	if target == TargetPowertrain || target == TargetAcross {
		return true
	}
	for i := range b.Lines {
		if l := &b.Lines[i]; target == l.ShaftTarget(1) && l.DrivingTarget() == TargetPowertrain {
			return true
		}
	}
	return false
}

// NeedsPlace reports whether a move of the powertrain would make reading r old
// without anybody knowing: it is of what hangs on the powertrain, and does not
// say where that stood.
func (b *Build) NeedsPlace(r *Reading) bool {
	return !r.Placed.complete() && b.HangsOnPowertrain(r.Of)
}
