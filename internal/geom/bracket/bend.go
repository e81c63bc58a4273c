package bracket

import (
	"math"

	"fitup/internal/geom"
	"fitup/internal/geom/section"
)

// K factors of steel sheet bent with usual tools: the place of the neutral
// line in the wall, as the three ninety-degree formulas of Machinery's
// Handbook (from memory) imply: 0.55, 0.64 and 0.71 T + 1.57 R.
const (
	KSoft   = 0.3501 // soft copper and brass
	KMedium = 0.4074 // half-hard copper and brass, mild steel, aluminium
	KHard   = 0.4520 // hard copper, bronze, cold-rolled and spring steel
)

// Bend is one bend, mm: A is the angle the sheet is turned through (not the
// angle left between the flanges), R the inside radius, T the thickness and K
// the place of the neutral line as a fraction of T.
type Bend struct {
	Angle geom.Angle
	R, T  float64
	K     float64
}

func (b Bend) check(part string) error {
	switch {
	case !(b.Angle > 0 && b.Angle < 175*geom.Deg):
		return bad("bend", part, "it turns through %.1f°; more than 0° and less than 175° is wanted, counted from flat", b.Angle.Degrees())
	case !geom.LengthOK(b.T) || !(b.R >= 0 && b.R <= geom.LimitLength):
		return bad("bend", part, "thickness %g and inside radius %g mm are no sheet", b.T, b.R)
	case !(b.K >= 0 && b.K <= 1):
		return bad("bend", part, "a K factor of %g is none; steel has 0.33 to 0.5", b.K)
	}
	return nil
}

func (b Bend) allowance() float64 { return b.Angle.Rad() * (b.R + b.K*b.T) }

func (b Bend) setback() float64 { return (b.R + b.T) * math.Tan(b.Angle.Rad()/2) }

// Deduction returns what is taken from the sum of the outside sizes of the two
// flanges: two setbacks less the allowance.
func (b Bend) Deduction(part string) (float64, error) {
	if err := b.check(part); err != nil {
		return 0, err
	}
	return 2*b.setback() - b.allowance(), nil
}

// Strip is a strip of plate bent across its length, mm. Outside holds the
// flanges in order, each measured over the outside corners it ends in; between
// flange i and i+1 lies Bends[i]. All bends have one radius and K factor.
type Strip struct {
	Name             string
	Width, Thickness float64
	Radius, K        float64
	Outside          []float64
	Bends            []geom.Angle
	Density          float64 // kg/mm³, zero for steel
}

// FlatBend is where a bend lies on the flat blank, mm from its start.
type FlatBend struct {
	From, Middle, To float64 // the bend's ends and its middle line
	Deduction        float64
}

// Blank is a bent strip laid flat.
type Blank struct {
	Length  float64
	Flats   [][2]float64 // where each flange is flat, mm from the start
	Bends   []FlatBend
	Mass    float64   // kg
	corners []float64 // where each flange's first outside corner lies, on the flange's own flat
}

// Develop lays the strip flat.
func (s Strip) Develop() (Blank, error) {
	bad := func(format string, args ...any) error { return bad("strip", s.Name, format, args...) }
	if len(s.Outside) == 0 || len(s.Bends) != len(s.Outside)-1 {
		return Blank{}, bad("%d flanges need %d bends between them, not %d", len(s.Outside), max(0, len(s.Outside)-1), len(s.Bends))
	}
	if !geom.LengthOK(s.Width) || !geom.LengthOK(s.Thickness) || !(s.Density >= 0 && s.Density < 1) {
		return Blank{}, bad("width %g and thickness %g mm are no strip", s.Width, s.Thickness)
	}
	var b Blank
	at, before := 0.0, 0.0
	for i, size := range s.Outside {
		after := 0.0
		var bend Bend
		if i < len(s.Bends) {
			bend = Bend{s.Bends[i].Abs(), s.Radius, s.Thickness, s.K}
			if err := bend.check(s.Name); err != nil {
				return Blank{}, err
			}
			after = bend.setback()
		}
		flat := size - before - after
		if !geom.LengthOK(size) || flat < 0 {
			return Blank{}, bad("flange %d of %.1f mm is shorter than the %.1f mm its bends take", i+1, size, before+after)
		}
		b.corners = append(b.corners, at-before)
		b.Flats = append(b.Flats, [2]float64{at, at + flat})
		at += flat
		if i < len(s.Bends) {
			a := bend.allowance()
			b.Bends = append(b.Bends, FlatBend{at, at + a/2, at + a, 2*after - a})
			at += a
		}
		before = after
	}
	b.Length = at
	b.Mass = b.Length * s.Width * s.Thickness * section.DensityOr(s.Density)
	return b, nil
}

// OnFlat returns where a mark lies on the blank that will stand d mm from the
// first outside corner of flange i (0 is the first; its corner is the strip's
// end). The mark must lie on the flat of its flange.
func (b Blank) OnFlat(part string, i int, d float64) (float64, error) {
	if i < 0 || i >= len(b.Flats) {
		return 0, bad("strip", part, "there is no flange %d", i+1)
	}
	x := b.corners[i] + d
	if !(x >= b.Flats[i][0]-geom.Tiny && x <= b.Flats[i][1]+geom.Tiny) {
		return 0, bad("strip", part, "a hole or mark %.1f mm from the corner of flange %d lies in a bend or off the plate; make the plate larger or move the mark", d, i+1)
	}
	return x, nil
}
