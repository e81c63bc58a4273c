package finding

import (
	"math"

	"fitup/internal/uncertain"
)

// Open adds what leaves the finding's value open as well: n is its error, 0 with its
// ±. The verdict is that of the wider number; one that is not known, or past its
// limit, stays so.
func (f *Finding) Open(n uncertain.Number) {
	if !f.HasValue {
		return
	}
	f.number = f.number.Plus(n)
	// A size near zero reaches farther than its number: then the two add by squares.
	f.Uncertainty = max(f.number.Expanded(), math.Hypot(f.Uncertainty, n.Expanded()))
	if f.HasLimit && f.Status == OK && Verdict(f.Margin, f.Uncertainty) == Tight {
		f.Status = Tight
		f.Says = Say("It keeps its limit, but by less than the survey leaves open of the points that it follows from.")
	}
}

// Unplaced makes a finding not known that follows from a point without a place, and
// takes its number away.
func (f *Finding) Unplaced(why string) {
	f.Unknown(why)
	f.HasValue, f.Uncertainty = false, 0
	f.Says = Say(NotYet(why))
}
