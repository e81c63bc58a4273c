package section

import (
	"math"

	"fitup/internal/geom"
)

// Kind is the kind of a section.
type Kind uint8

// The kinds of section.
const (
	KindUnknown Kind = iota
	RectTube         // square or rectangular tube
	RoundTube
	RoundBar
	FlatBar // rectangular bar, flat or square
	Channel // parallel or tapered flange channel, rolled or pressed
	Angle   // rolled or folded angle
)

// String returns the trade's word for the kind.
func (k Kind) String() string {
	switch k {
	case RectTube:
		return "rectangular tube"
	case RoundTube:
		return "round tube"
	case RoundBar:
		return "round bar"
	case FlatBar:
		return "flat bar"
	case Channel:
		return "channel"
	case Angle:
		return "angle"
	}
	return "unknown section"
}

// Corner says where the corner radii and the wall of a tube come from.
type Corner uint8

// The corner rules. CornerGiven takes OuterRadius and InnerRadius as they are
// (both zero: sharp corners, which overstates a 50x50x3 tube by 7 %).
const (
	CornerGiven Corner = iota
	CornerCold         // EN 10219-2: cold formed, outer 2T, 2.5T or 3T by wall
	CornerHot          // EN 10210-2: hot finished, outer 1.5T, inner T
	CornerHSS          // AISC: wall 0.93 of nominal, outer 2t, inner t
)

// Steel in kg/mm³ and MPa: EN 1993-1-1, 3.2.6 for E; G as used for tubes.
const (
	SteelDensity = 7850e-9
	SteelE       = 210e3
	SteelG       = 81e3
)

// Shape is a section by its dimensions, mm. B is the width (along U), H the
// height (along V) and T the wall or web; a round section has its outside
// diameter in H and leaves B zero; a flat bar is B by H and leaves T zero. A
// channel stands on its flange tips' side: H is its depth, B its flange width,
// T its web, Flange its flange thickness at the middle of the outstand, Taper the
// slope of the flange's inner face and Root its root radius. Root zero means a
// root that is not known: no fillet is counted, good to some 5 % in bending and
// 20 % in torsion. An angle has its upright leg H and its level leg B of thickness T,
// a root radius Root and toes rounded by half of it. OuterRadius and InnerRadius of a
// channel or an angle are those of the bends it was pressed with; it then has no Root.
type Shape struct {
	Name                     string
	Kind                     Kind
	Corner                   Corner
	B, H, T                  float64
	OuterRadius, InnerRadius float64 // with CornerGiven, and of a pressed channel or angle
	Flange, Taper, Root      float64 // channel; Root of an angle too
	Density                  float64 // kg/mm³, zero for steel
}

// Properties are the figures of a section, in powers of mm. The axis y-y is
// parallel to the side B (strong axis of a section higher than wide), z-z to
// the side H.
type Properties struct {
	Area     float64 // mm²
	Iy, Iz   float64 // second moments of area, mm⁴
	Wy, Wz   float64 // elastic section moduli, mm³
	It, Wt   float64 // torsion constant mm⁴ and torsion modulus mm³
	Avy, Avz float64 // areas that carry shear along y and along z, mm²
	Mass     float64 // kg per m
	Wall     float64 // wall used in the figures, mm (design wall of an HSS)
	Outer    float64 // outer corner radius used, mm
	Inner    float64 // inner corner radius used, mm
	CellArea float64 // area inside the middle line of a tube's wall, mm²; 0 if open
	Back     float64 // channel and angle: centroid from the back of the web or upright leg, mm
	// TrueWy and TrueWz are the moduli with the skew of the principal axes counted,
	// which stresses go by; zero where the axes y and z are principal ones.
	TrueWy, TrueWz float64
	Iyz            float64 // product of inertia about y and z as drawn, right and up, mm⁴; of an angle
	Density        float64 // kg/mm³
	RoundShape     bool    // bending about two axes adds as vectors
}

// Properties returns the figures of the section. EN 10219-2 and EN 10210-2
// annex formulas for tubes, AISC's for HSS, St Venant's series for bars, the
// usual open-section formula for channels.
func (s Shape) Properties() (Properties, error) {
	if err := s.Check(); err != nil {
		return Properties{}, err
	}
	var p Properties
	switch s.Kind {
	case RectTube:
		p = s.rectTube()
	case RoundTube:
		p = s.roundTube()
	case RoundBar:
		p = roundBar(s.H)
	case FlatBar:
		p = flatBar(s.B, s.H)
	case Channel:
		p = s.channel()
	case Angle:
		p = s.angle()
	}
	p.Density = DensityOr(s.Density)
	if p.Mass == 0 {
		p.Mass = p.Area
	}
	p.Mass *= p.Density * 1000
	return p, nil
}

// DensityOr is a density in kg/mm³, or that of steel where none is given.
func DensityOr(d float64) float64 {
	if d == 0 {
		return SteelDensity
	}
	return d
}

func (s Shape) bad(format string, args ...any) error {
	return geom.PartFault("section", s.Name, format, args...)
}

// Check reports what of the sizes cannot be, as Properties does, in plain words.
func (s Shape) Check() error {
	if !geom.LengthOK(s.H) {
		return s.bad("the height or diameter is %g mm, which is no size", s.H)
	}
	if !geom.LoadOK(s.B, s.T, s.OuterRadius, s.InnerRadius, s.Flange, s.Taper, s.Root) {
		return s.bad("one of its sizes is not a number that can be used")
	}
	if !(s.Density >= 0 && s.Density < 1) {
		return s.bad("the density is %g kg/mm³; steel is %g", s.Density, SteelDensity)
	}
	switch s.Kind {
	case RectTube:
		return s.checkRect()
	case RoundTube, RoundBar:
		if s.B != 0 && s.B != s.H {
			return s.bad("a round section has one diameter, not %g by %g mm", s.B, s.H)
		}
		if s.Kind == RoundTube && !(s.T > 0 && s.T < s.H/2) {
			return s.bad("a wall of %g mm does not fit a diameter of %g mm", s.T, s.H)
		}
		return nil
	case FlatBar:
		if !geom.LengthOK(s.B) {
			return s.bad("the width is %g mm, which is no size", s.B)
		}
		return nil
	case Channel:
		return s.checkChannel()
	case Angle:
		return s.checkAngle()
	}
	return s.bad("say what kind of section it is")
}

func (s Shape) checkRect() error {
	if !geom.LengthOK(s.B) {
		return s.bad("the width is %g mm, which is no size", s.B)
	}
	side := math.Min(s.B, s.H)
	if !(s.T > 0 && s.T < side/2) {
		return s.bad("a wall of %g mm does not fit a side of %g mm", s.T, side)
	}
	if s.Corner > CornerHSS {
		return s.bad("the corner rule is not known")
	}
	_, ro, ri := s.wall()
	if !(ri >= 0 && ro >= ri && ro <= side/2 && ri <= side/2-s.T) {
		return s.bad("corner radii of %g outside and %g inside do not fit a side of %g mm with a wall of %g mm", ro, ri, side, s.T)
	}
	return nil
}

func (s Shape) checkChannel() error {
	if !geom.LengthOK(s.B) || !(s.T > 0 && s.T < s.B) || !(s.Flange > 0 && s.Flange < s.H/2) {
		return s.bad("web %g mm and flange %g mm do not fit a channel %g deep and %g wide", s.T, s.Flange, s.H, s.B)
	}
	if !(s.Taper >= 0 && s.Taper*(s.B-s.T)/2 < s.Flange && s.Flange+s.Taper*(s.B-s.T)/2 < s.H/2) {
		return s.bad("a flange taper of %g does not fit a flange of %g mm", s.Taper, s.Flange)
	}
	if !(s.Root >= 0 && s.Root <= s.B-s.T && s.Root <= s.H/2-s.Flange) {
		return s.bad("a root radius of %g mm does not fit", s.Root)
	}
	if s.OuterRadius > 0 && (s.Root > 0 || s.Taper > 0) {
		return s.bad("a pressed channel has bends, and neither a root nor a taper")
	}
	return s.checkBend(s.B-s.T, s.H/2-s.Flange)
}

func (s Shape) checkAngle() error {
	if !geom.LengthOK(s.B) || !(s.T > 0 && s.T < min(s.B, s.H)) {
		return s.bad("a thickness of %g mm does not fit an angle of %g by %g mm", s.T, s.H, s.B)
	}
	if !(s.Root >= 0 && s.Root <= min(s.B, s.H)-1.5*s.T && s.Root/2 <= s.T) {
		return s.bad("a root radius of %g mm does not fit", s.Root)
	}
	if s.OuterRadius > 0 && s.Root > 0 {
		return s.bad("a folded angle has a bend and no root")
	}
	return s.checkBend(s.B-s.T, s.H-s.T)
}

// checkBend looks at the radii of what is pressed, which has that much room for them.
func (s Shape) checkBend(across, up float64) error {
	if s.OuterRadius == 0 && s.InnerRadius == 0 {
		return nil
	}
	if !(s.InnerRadius >= 0 && s.OuterRadius > s.InnerRadius && s.InnerRadius <= min(across, up) && s.OuterRadius <= min(s.B, s.H/2)) {
		return s.bad("bends of %g mm outside and %g mm inside do not fit", s.OuterRadius, s.InnerRadius)
	}
	return nil
}

// Toward is the shape that tapers to another of its kind, at a part of the way to it: 0
// is itself, 1 the other. It fails where the two are of different kinds.
func (s Shape) Toward(end Shape, way float64) (Shape, error) {
	if s.Kind != end.Kind || s.Corner != end.Corner {
		return s, s.bad("it tapers from a %s to a %s; want two of one kind", s.Kind, end.Kind)
	}
	mix := func(a, b float64) float64 { return a + (b-a)*min(max(way, 0), 1) }
	s.B, s.H, s.T = mix(s.B, end.B), mix(s.H, end.H), mix(s.T, end.T)
	s.OuterRadius, s.InnerRadius = mix(s.OuterRadius, end.OuterRadius), mix(s.InnerRadius, end.InnerRadius)
	s.Flange, s.Taper, s.Root = mix(s.Flange, end.Flange), mix(s.Taper, end.Taper), mix(s.Root, end.Root)
	return s, nil
}

// wall returns the wall the figures are made with and the two corner radii.
func (s Shape) wall() (t, ro, ri float64) {
	switch s.Corner {
	case CornerCold:
		switch {
		case s.T <= 6:
			return s.T, 2 * s.T, s.T
		case s.T <= 10:
			return s.T, 2.5 * s.T, 1.5 * s.T
		}
		return s.T, 3 * s.T, 2 * s.T
	case CornerHot:
		return s.T, 1.5 * s.T, s.T
	case CornerHSS:
		t = designWall(s.T)
		return t, 2 * t, t
	}
	return s.T, s.OuterRadius, s.InnerRadius
}

// designWall is 0.93 of the nominal wall, kept to a thousandth of an inch as
// the AISC tables print it (ASTM A500).
func designWall(nominal float64) float64 {
	t := math.Round(0.93*nominal/inch*1000) / 1000 * inch
	if t <= 0 {
		return 0.93 * nominal
	}
	return t
}

const inch = geom.Inch
