package bracket

import (
	"math"

	"fitup/internal/geom/assembly"
	geombracket "fitup/internal/geom/bracket"
	"fitup/internal/geom/section"
)

// stubby is the slenderness up to which a strut does not buckle before it yields: EN
// 1993-1-1, 6.3.1.2(4), from memory.
const stubby = 0.2

// legStrut is what a single leg uses of what it takes as a strut, under the stress at the
// end that is bent most; nil for one that is too stubby to buckle. Pressure over its
// resistance after EN 1993-1-1, 6.3.1.2, curve c, at twice its length, and the bending
// beside it, larger by 1/(1 − N/Ncr), over the yield (MPa). γM1 is 1.
func (b *Bracket) legStrut(yield float64) func(s *section.MemberStress) float64 {
	props := b.Cut.Section
	euler, err := geombracket.Buckling(b.Label+" leg", section.SteelE, props.Least(), b.Cut.Length, 2)
	if err != nil { // no length to buckle over; what is no section was refused before
		return nil
	}
	slender2 := props.Area * yield / euler
	if slender2 <= stubby*stubby {
		return nil
	}
	holds := assembly.Chi(slender2) * props.Area * yield
	return func(s *section.MemberStress) float64 {
		pressed := -s.Axial * props.Area
		switch {
		case pressed <= 0:
			return 0
		case pressed >= euler:
			return pressed / holds // it has buckled
		}
		return pressed/holds + (math.Abs(s.BendY)+math.Abs(s.BendZ))/yield/(1-pressed/euler)
	}
}
