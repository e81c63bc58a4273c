package finding

import (
	"math"

	"fitup/internal/uncertain"
)

// OpenSecond is Open of the number that the finding is held to beside its own.
func (f *Finding) OpenSecond(n uncertain.Number) {
	f.also.Open(n)
	f.heed()
}

// Open adds what leaves the finding's value open as well: n is its error, 0 with its
// ±. The verdict is that of the wider number; one that is not known, or past its
// limit, stays so.
func (f *Finding) Open(n uncertain.Number) {
	wide := n.Expanded()
	if !f.HasValue || wide == 0 {
		return
	}
	f.opened = f.opened.Plus(n)
	f.number = f.number.Plus(n)
	// A size near zero reaches farther than its number: then the two add by squares.
	f.Uncertainty = max(f.number.Expanded(), math.Hypot(f.Uncertainty, wide))
	switch {
	case f.Status != OK && f.Status != Tight:
	case f.again != nil:
		f.again(f)
	case f.HasLimit && f.Status == OK && Verdict(f.Margin, f.Uncertainty) == Tight:
		f.Status = Tight
		f.Says = Say("It keeps its limit by less than its ±.")
	}
}

// OpenBeyond makes a finding not known of which it cannot be told how far its value
// is open. One that is past its limit stays so.
func (f *Finding) OpenBeyond(why string) {
	if f.Status == OK || f.Status == Tight {
		f.Unknown(why)
		f.Says = Say(NotYet(why))
	}
}

// Unplaced makes a finding not known that follows from a point without a place, and
// takes its number away.
func (f *Finding) Unplaced(why string) {
	f.Unknown(why)
	f.HasValue, f.Uncertainty = false, 0
	f.Says = Say(NotYet(why))
}
