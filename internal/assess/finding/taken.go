package finding

import (
	"errors"
	"fmt"

	"fitup/internal/geom/gauge"
	"fitup/internal/project"
	"fitup/internal/uncertain"
)

// ErrContradict is the error of readings that cannot all be true.
var ErrContradict = errors.New("the readings cannot all be true")

// Taken is what the readings of one thing come to, taken by gauge or by tape.
type Taken struct {
	Set   []int  // those in use, by index in the file, the last first; empty without any
	Mean  Number // of them, or why there is none
	Level Number // of gauge readings, less the slope of what the vehicle stood on
	Doubt string // asks for a third reading, "" when there is no need
	// Apart is how far gauge readings in use are apart as slopes, the largest less the
	// smallest: rad, 0 of one.
	Apart float64
	// Marked says that no gauge was put on it, and Mean follows from what was measured to marks
	// and points: as a reading that was taken when As was, of which Set is empty.
	Marked bool
	As     project.Reading
	// Assumes is what the ± takes for granted that the file does not say.
	Assumes []string
}

// Unreadable asks for what readings of a thing lack, in the words of the bench, and names
// where it is typed. They are the readings of b with the indices of set.
func Unreadable(label string, m Number, b *project.Build, set []int) string {
	switch {
	case errors.Is(m.Err, ErrContradict):
		return "two readings of " + label + " cannot both be true: " + m.Err.Error()
	case errors.Is(m.Err, gauge.ErrNoSense):
		return "the reading of " + label + " has no direction; which end is lower, front or rear?" + WhereRead(m, b, set)
	case errors.Is(m.Err, gauge.ErrNoSurface):
		return "the reading of " + label + " does not say what the gauge stood on; along the axis, or on a square face?" + WhereRead(m, b, set)
	}
	return fmt.Sprintf("the reading of %s: %s", label, m.Why)
}

// WhereRead names what a reading lacks that makes m unusable, in brackets: the first of
// those of b with the indices of set that lacks it; "" where it lacks nothing.
func WhereRead(m Number, b *project.Build, set []int) string {
	for _, i := range set {
		r := b.Readings[i]
		switch {
		case errors.Is(m.Err, gauge.ErrNoSense) && r.Lower == "":
			return fmt.Sprintf(" (reading.%d.lower)", i+1)
		case errors.Is(m.Err, gauge.ErrNoSurface) && r.On == "":
			return fmt.Sprintf(" (reading.%d.on)", i+1)
		}
	}
	return ""
}

// Readings is what the readings of a build come to.
type Readings struct {
	Gauge, Tape map[string]Taken       // by target
	Lengths     map[string]Number      // of shafts, joint to joint, by target: as all that was measured says, mm
	Levelled    map[project.Stood]bool // the frame or the floor was read with the vehicle standing so
	// Moved are the errors of how far each row of a placement was moved, in the
	// order of seat.Written: 0 each, with the ± of the tape or gauge.
	Moved [6]uncertain.Number
}
