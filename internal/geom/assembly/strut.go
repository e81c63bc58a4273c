package assembly

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/bracket"
	"fitup/internal/geom/frame"
	"fitup/internal/geom/section"
)

// swayed is the effective length of a part as a strut over its own: one end held,
// the other free to go aside, which is the worst of all frames.
const swayed = 2

// unpressed is what of its yield a part may be pressed with that comes of rounding alone.
const unpressed = 1e-9

// Strut is how much of what it takes as a strut a part uses: pressure over its
// buckling resistance after EN 1993-1-1, 6.3.1.2, curve c, at twice its length,
// and the bending stress beside it, larger by 1/(1 − N/Ncr), over the yield (MPa).
// A part that is not pressed anywhere uses nothing. γM1 is 1. A screening figure.
func (f *Frame) Strut(r *frame.Result, part int, yield float64) (float64, error) {
	if !(yield >= 10 && yield <= 3000) {
		return 0, geom.PartFault("member", f.solved.Parts[part].Name, "a yield of %g MPa is no metal; S235 has 235", yield)
	}
	p := &f.solved.Parts[part]
	props := p.Cut.Section
	pressed, bent := 0.0, 0.0
	for _, q := range f.pieces[part] {
		for _, x := range [2]float64{0, q.to - q.from} {
			pressed = max(pressed, -r.Inside(q.member, x).Axial)
			s, err := r.StressAt(q.member, x)
			if err != nil {
				return 0, err
			}
			bent = max(bent, math.Abs(s.BendY)+math.Abs(s.BendZ))
		}
	}
	if pressed <= unpressed*props.Area*yield {
		return 0, nil
	}
	euler, err := bracket.Buckling(p.Name, section.SteelE, props.Least(), p.Cut.Length, swayed)
	if err != nil {
		return 0, err
	}
	holds := Chi(props.Area*yield/euler) * props.Area * yield
	used := pressed / holds
	if pressed < euler {
		used += bent / yield / (1 - pressed/euler)
	}
	return used, nil
}

// Chi is the reduction of a strut's resistance by its slenderness squared, A fy
// over its Euler load: EN 1993-1-1, 6.3.1.2, curve c (α = 0.49).
func Chi(slenderness2 float64) float64 {
	const alpha = 0.49
	l := math.Sqrt(max(0, slenderness2))
	if l <= 0.2 {
		return 1
	}
	phi := 0.5 * (1 + alpha*(l-0.2) + l*l)
	return min(1, 1/(phi+math.Sqrt(phi*phi-l*l)))
}
