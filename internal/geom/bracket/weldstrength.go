package bracket

import (
	"math"

	"fitup/internal/geom"
)

// WeldStrength is what a fillet may carry, MPa.
type WeldStrength struct {
	Name   string
	Throat float64 // on the throat
	Source string
}

// CodeWeld is the simplified method of EN 1993-1-8, 4.5.3.3 for factored
// loads: fu/(√3 βw γM2), with fu of the weaker part and the correlation factor
// βw of its grade (0.8 for S235, 0.85 for S275, 0.9 for S355).
func CodeWeld(part string, fu, betaW float64) (WeldStrength, error) {
	if err := checkWeldMetal(part, fu); err != nil {
		return WeldStrength{}, err
	}
	if !(betaW >= 0.5 && betaW <= 1) {
		return WeldStrength{}, bad("weld", part, "a correlation factor of %g is none; S355 has 0.9", betaW)
	}
	return WeldStrength{"fu/(√3 βw γM2)", fu / (math.Sqrt(3) * betaW * GammaM2), "EN 1993-1-8, 4.5.3.3"}, nil
}

func checkWeldMetal(part string, strength float64) error {
	if !(strength >= 200 && strength <= 1200) {
		return bad("weld", part, "a strength of %g MPa is no steel; S235 has 360", strength)
	}
	return nil
}

// PerLength returns what a fillet of a leg (mm) carries by its throat, N/mm.
func (s WeldStrength) PerLength(leg float64) float64 {
	if !geom.LengthOK(leg) || !(s.Throat > 0) || !geom.LoadOK(s.Throat) {
		return 0
	}
	return s.Throat * throat * leg
}

// FilletMost is the largest leg of a fillet that is counted, mm, by the
// thickness of the thinner part it joins: a throat of 0.7 of that thickness
// (DIN 18800-1, element 519, from memory), so a leg of the thickness itself.
// What is laid on beyond that carries nothing more, pulls harder and burns
// through.
func FilletMost(thinner float64) float64 { return thinner }

// FilletLeast is the smallest leg of a fillet by the thickness of the thinner
// part, mm: less is quenched by the cold metal around it and cracks (AISC 360,
// table J2.4, from memory).
func FilletLeast(thinner float64) float64 {
	switch {
	case thinner <= 6:
		return 3
	case thinner <= 13:
		return 5
	case thinner <= 19:
		return 6
	}
	return 8
}
