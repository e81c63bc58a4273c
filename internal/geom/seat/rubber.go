package seat

import (
	"fmt"
	"math"

	"fitup/internal/geom"
)

// Rubber is a plain bonded pad: a disc or a block between two flat metal
// plates, pressed along its thickness. Lengths in mm.
type Rubber struct {
	Hardness  float64 // IRHD, 40 to 70
	Thickness float64
	Diameter  float64 // of a disc; 0 for a block
	Length    float64 // of a block
	Width     float64
}

// Estimate is a value with the half width of the range it may lie in, both in
// N/mm.
type Estimate struct{ Value, PlusMinus float64 }

// Low and High are the ends of the range.
func (e Estimate) Low() float64 { return e.Value - e.PlusMinus }

// High is the upper end of the range.
func (e Estimate) High() float64 { return e.Value + e.PlusMinus }

// Form is what one published relation makes of a pad.
type Form struct {
	Source      string
	E, G        float64 // modulus of the rubber in tension or pressure, and in shear, MPa
	Compression float64 // rate along the thickness, N/mm
	Shear       float64 // rate across it, N/mm
}

// PadRates are the static rates of a pad estimated from its hardness.
type PadRates struct {
	Area        float64 // bonded, mm²
	Shape       float64 // loaded area over force-free area
	Compression Estimate
	Shear       Estimate
	Forms       []Form // what each relation gives
	Note        string
}

// gent returns Young's modulus, MPa, for a hardness in IRHD (Gent, "On the
// relation between indentation hardness and Young's modulus", Rubber Chemistry
// and Technology 31, 1958; constants from memory).
func gent(hardness float64) float64 {
	return 0.0981 * (56 + 7.62336*hardness) / (0.137505 * (254 - 2.54*hardness))
}

// lindley is the table of natural rubber vulcanisates in Lindley, Engineering
// Design with Natural Rubber: hardness IRHD, E and G in MPa, and the factor k
// of the shape (from memory).
var lindley = [...]struct{ irhd, e, g, k float64 }{
	{40, 1.50, 0.45, 0.85},
	{50, 2.20, 0.64, 0.73},
	{55, 3.25, 0.81, 0.64},
	{60, 4.45, 1.06, 0.57},
	{70, 7.35, 1.73, 0.53},
}

// table reads the Lindley table, straight between its rows.
func table(hardness float64) (e, g, k float64) {
	for i := 1; i < len(lindley); i++ {
		a, b := lindley[i-1], lindley[i]
		if hardness <= b.irhd {
			t := (hardness - a.irhd) / (b.irhd - a.irhd)
			return a.e + t*(b.e-a.e), a.g + t*(b.g-a.g), a.k + t*(b.k-a.k)
		}
	}
	last := lindley[len(lindley)-1]
	return last.e, last.g, last.k
}

// atBest is the part of the value below which no estimate from hardness is
// taken to be good: relations in print differ by 40 to 60 % among themselves,
// and two readings of one mount by 3 IRHD (common practice, no source).
const atBest = 0.30

func (r Rubber) check() (area, shape float64, err error) {
	if !geom.Finite(r.Hardness, r.Thickness, r.Diameter, r.Length, r.Width) {
		return 0, 0, fmt.Errorf("rubber: a size or the hardness is not a number")
	}
	first, last := lindley[0].irhd, lindley[len(lindley)-1].irhd
	if r.Hardness < first || r.Hardness > last {
		return 0, 0, fmt.Errorf("rubber: a hardness of %g IRHD is outside the %g to %g that can be estimated; measure the rate and enter it", r.Hardness, first, last)
	}
	if r.Thickness <= 0 {
		return 0, 0, fmt.Errorf("rubber: the thickness is %g mm; it must be more than 0", r.Thickness)
	}
	switch {
	case r.Diameter > 0 && r.Length == 0 && r.Width == 0:
		area, shape = math.Pi*r.Diameter*r.Diameter/4, r.Diameter/(4*r.Thickness)
	case r.Diameter == 0 && r.Length > 0 && r.Width > 0:
		area = r.Length * r.Width
		shape = area / (2 * r.Thickness * (r.Length + r.Width))
	default:
		return 0, 0, fmt.Errorf("rubber: give either a diameter or a length and a width, more than 0")
	}
	if !(shape >= 0.1 && shape <= 5) { // slender pads buckle; flat ones are held by the bulk of the rubber
		return 0, 0, fmt.Errorf("rubber: a pad this %s cannot be estimated from its hardness; measure the rate and enter it", tallOrFlat(shape))
	}
	return area, shape, nil
}

func tallOrFlat(shape float64) string {
	if shape < 0.1 {
		return "tall and narrow"
	}
	return "flat"
}

// Estimate returns the static rates of the pad from its hardness and size.
//
// Compression is E(1+2kS²)·A/t and shear G·A/t with S the shape factor. Two
// published sets are used: the Lindley table with its own G and k, which gives
// the value, and Gent's relation with G = E/3 and k = 1 (Gent and Lindley,
// unfilled rubber). The ± reaches from the value to the other set and is never
// under 30 % of the value.
func (r Rubber) Estimate() (PadRates, error) {
	area, shape, err := r.check()
	if err != nil {
		return PadRates{}, err
	}
	scale := area / r.Thickness
	form := func(source string, e, g, k float64) Form {
		return Form{Source: source, E: e, G: g, Compression: e * (1 + 2*k*shape*shape) * scale, Shear: g * scale}
	}
	e, g, k := table(r.Hardness)
	soft := gent(r.Hardness)
	forms := []Form{
		form("Lindley, Engineering Design with Natural Rubber, table by hardness", e, g, k),
		form("Gent 1958 by hardness, Gent and Lindley 1+2S² for the shape", soft, soft/3, 1),
	}
	spread := func(a, b float64) Estimate {
		return Estimate{Value: a, PlusMinus: max(atBest*a, math.Abs(b-a))}
	}
	return PadRates{
		Area: area, Shape: shape, Forms: forms,
		Compression: spread(forms[0].Compression, forms[1].Compression),
		Shear:       spread(forms[0].Shear, forms[1].Shear),
		Note:        "from hardness: ± covers both published relations and is at least 30 %; a rate measured with a load and a dial gauge is better",
	}, nil
}
