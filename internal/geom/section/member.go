package section

import (
	"math"

	"fitup/internal/geom"
)

// Forces act at one cross-section of a member: axial in N (tension positive),
// shear along U (y) and V (z) in N, moments about y (the U axis) and z (the V
// axis) and torsion about the member's own axis in N·mm.
type Forces struct {
	Axial            float64
	ShearY, ShearZ   float64
	MomentY, MomentZ float64
	Torsion          float64
}

// TorsionBy says which torsion stress of a tube is shown.
type TorsionBy uint8

// The two torsion stresses. They differ by a seventh on a 100x50x5 tube.
const (
	TorsionModulus TorsionBy = iota // T/Wt, the peak stress of the section
	TorsionBredt                    // T/(2 Ah t), the mean through a tube's wall
)

// String says in words which stress it is.
func (t TorsionBy) String() string {
	if t == TorsionBredt {
		return "Bredt mean through the wall, T/(2 Ah t)"
	}
	return "torsion modulus, T/Wt"
}

// MemberStress is the screening stress of a member, MPa. Bending at the
// extreme fibre, torsion and shear are added as if they met at one point,
// which is on the safe side.
type MemberStress struct {
	Axial        float64 // N/A, tension positive
	BendY, BendZ float64 // sizes
	Normal       float64 // largest size of axial and bending together
	Torsion      float64 // by By
	By           TorsionBy
	Shear        float64 // torsion and transverse shear together
	Equivalent   float64 // √(Normal² + 3 Shear²), von Mises
	Allowable    float64 // as given
	Utilisation  float64 // Equivalent over Allowable
}

// Screen returns the stress of forces on the section against an allowable
// stress in MPa (yield over the factor chosen). By TorsionBredt needs a tube.
// A screening figure: a licensed engineer and the local rules decide.
func (p Properties) Screen(part string, f Forces, allowable float64, by TorsionBy) (MemberStress, error) {
	bad := func(format string, args ...any) error { return geom.PartFault("member", part, format, args...) }
	if !(min(p.Area, p.Wy, p.Wz, p.Wt, p.Avy, p.Avz) >= geom.Least) {
		return MemberStress{}, bad("the section has no properties")
	}
	if !(allowable >= geom.Least) || !geom.LoadOK(allowable) {
		return MemberStress{}, bad("an allowable stress of %g MPa is none; give yield over the factor you use", allowable)
	}
	if !geom.LoadOK(f.Axial, f.ShearY, f.ShearZ, f.MomentY, f.MomentZ, f.Torsion) {
		return MemberStress{}, bad("a force or moment is not a usable number")
	}
	s := MemberStress{By: by, Allowable: allowable, Axial: f.Axial / p.Area}
	wy, wz := p.Wy, p.Wz
	if p.TrueWy > 0 && p.TrueWz > 0 { // an angle bends skew to its legs
		wy, wz = p.TrueWy, p.TrueWz
	}
	s.BendY, s.BendZ = math.Abs(f.MomentY)/wy, math.Abs(f.MomentZ)/wz
	bend := s.BendY + s.BendZ
	if p.RoundShape { // a round section has no corner where both peaks meet
		bend = math.Hypot(s.BendY, s.BendZ)
	}
	s.Normal = math.Abs(s.Axial) + bend
	s.Torsion = math.Abs(f.Torsion) / p.Wt
	if by == TorsionBredt {
		if !(p.CellArea*p.Wall >= geom.Least) {
			return MemberStress{}, bad("an open or solid section has no Bredt stress; use the torsion modulus")
		}
		s.Torsion = math.Abs(f.Torsion) / (2 * p.CellArea * p.Wall)
	}
	s.Shear = s.Torsion + math.Hypot(f.ShearY/p.Avy, f.ShearZ/p.Avz)
	s.Equivalent = math.Sqrt(s.Normal*s.Normal + 3*s.Shear*s.Shear)
	s.Utilisation = s.Equivalent / allowable
	return s, nil
}

// Twist returns the twist in rad of a member of length l (mm) under torsion T
// (N·mm): T l/(G It). G in MPa.
func (p Properties) Twist(part string, torsion, l, g float64) (float64, error) {
	if !(p.It > 0 && g > 0) || !geom.LengthOK(l) || !geom.LoadOK(torsion, g) {
		return 0, geom.PartFault("member", part, "twist needs a section, a length and a shear modulus above zero")
	}
	t := torsion * l / (g * p.It)
	if math.IsInf(t, 0) || math.IsNaN(t) {
		return 0, geom.PartFault("member", part, "the shear modulus %g MPa is no material", g)
	}
	return t, nil
}
