package bracket

import (
	"math"

	"fitup/internal/geom"
)

// WeldStrength is what a fillet may carry, MPa.
type WeldStrength struct {
	Name     string
	Throat   float64 // on the throat
	Parent   float64 // shear of the parent metal along the leg; 0 if not checked
	Factored bool    // for factored loads; otherwise for the loads as they are
	Source   string
}

// AllowableWeld is the allowable stress on the throat for loads as they are:
// 0.30 of the electrode's strength, and 0.40 of the parent metal's yield on
// the leg (AWS D1.1 and AISC allowable strength, from memory). Both in MPa;
// yield zero leaves the parent metal out.
func AllowableWeld(part string, electrode, yield float64) (WeldStrength, error) {
	if err := checkWeldMetal(part, electrode, yield); err != nil {
		return WeldStrength{}, err
	}
	return WeldStrength{"0.30 of the electrode", 0.30 * electrode, 0.40 * yield, false, "AWS D1.1 (from memory)"}, nil
}

// FactoredWeld is the design strength on the throat for factored loads: 0.75 ×
// 0.60 of the electrode's strength (AISC 360, table J2.5).
func FactoredWeld(part string, electrode float64) (WeldStrength, error) {
	if err := checkWeldMetal(part, electrode, 0); err != nil {
		return WeldStrength{}, err
	}
	return WeldStrength{"0.75 × 0.60 of the electrode", 0.75 * 0.60 * electrode, 0, true, "AISC 360, table J2.5"}, nil
}

// CodeWeld is the simplified method of EN 1993-1-8, 4.5.3.3 for factored
// loads: fu/(√3 βw γM2), with fu of the weaker part and the correlation factor
// βw of its grade (0.8 for S235, 0.85 for S275, 0.9 for S355).
func CodeWeld(part string, fu, betaW float64) (WeldStrength, error) {
	if err := checkWeldMetal(part, fu, 0); err != nil {
		return WeldStrength{}, err
	}
	if !(betaW >= 0.5 && betaW <= 1) {
		return WeldStrength{}, bad("weld", part, "a correlation factor of %g is none; S355 has 0.9", betaW)
	}
	return WeldStrength{"fu/(√3 βw γM2)", fu / (math.Sqrt(3) * betaW * GammaM2), 0, true, "EN 1993-1-8, 4.5.3.3"}, nil
}

func checkWeldMetal(part string, strength, yield float64) error {
	if !(strength >= 200 && strength <= 1200) || !(yield >= 0 && yield <= 1200) {
		return bad("weld", part, "a strength of %g and a yield of %g MPa are no weld; a 70 ksi electrode has 483", strength, yield)
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

// DirectionFactor is what a fillet carries more when loaded at an angle to its
// length: 1 + 0.5 sin^1.5 θ (AISC 360, J2.4). Not to be used with the stresses
// of WeldGroup, which leave direction out.
func DirectionFactor(a geom.Angle) float64 {
	s := math.Abs(math.Sin(a.Rad()))
	if !(s >= 0) {
		return 1
	}
	return 1 + 0.5*math.Pow(s, 1.5)
}

// CodeDirectionFactor is the same after the directional method of EN
// 1993-1-8, 4.5.3.2, for a force along one leg's face at an angle to the
// weld's length: √(3/(2 + cos²θ)), as √(σ⊥² + 3(τ⊥² + τ∥²)) gives it.
func CodeDirectionFactor(a geom.Angle) float64 {
	c := math.Cos(a.Rad())
	if !(c*c >= 0) {
		return 1
	}
	return math.Sqrt(3 / (2 + c*c))
}
