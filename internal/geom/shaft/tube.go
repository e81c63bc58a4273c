package shaft

import (
	"fmt"
	"math"

	"fitup/internal/geom"
)

// RPM is one turn per minute in rad/s: 3000*RPM reads as it is said.
const RPM = math.Pi / 30

// Material is what a tube is made of.
type Material struct {
	E       float64 // modulus of elasticity, MPa
	G       float64 // shear modulus, MPa
	Density float64 // kg/mm³
}

// KgPerM3 is 1 kg/m³ in kg/mm³: 7850*KgPerM3 is steel.
const KgPerM3 = 1e-9

// Steel returns common steel: 206 GPa, 80 GPa, 7850 kg/m³ (handbook values,
// from memory; tubes differ by a percent or two in E).
func Steel() Material { return Material{E: 206e3, G: 80e3, Density: 7850 * KgPerM3} }

// Aluminium returns common wrought aluminium alloy: 70 GPa, 26 GPa, 2700 kg/m³
// (handbook values, from memory).
func Aluminium() Material { return Material{E: 70e3, G: 26e3, Density: 2700 * KgPerM3} }

// Tube is the tube of one shaft.
type Tube struct {
	Outside  float64 // outside diameter, mm
	Wall     float64 // mm; half the outside diameter is a solid bar
	Length   float64 // between joint centres, mm
	Material Material
}

// Check returns an error that says what is wrong with the tube's figures.
func (t Tube) Check() error {
	for _, q := range []struct {
		what  string
		v     float64
		unit  string
		scale float64
	}{
		{"outside diameter", t.Outside, "mm", 1},
		{"wall", t.Wall, "mm", 1},
		{"length between joint centres", t.Length, "mm", 1},
		{"modulus of elasticity", t.Material.E, "MPa", 1},
		{"shear modulus", t.Material.G, "MPa", 1},
		{"density", t.Material.Density / KgPerM3, "kg/m³", 1},
	} {
		if err := above(q.what, q.v, q.unit); err != nil {
			return err
		}
	}
	if t.Wall > t.Outside/2 {
		return fmt.Errorf("wall is %g mm: at most half the outside diameter, %g mm, is wanted", t.Wall, t.Outside/2)
	}
	return nil
}

// Section is the cross-section of a tube.
type Section struct {
	Area   float64 // mm²
	Second float64 // second moment of area about a diameter, I, mm⁴
	Polar  float64 // about the axis, J = π/32·(D⁴-d⁴) = 2I, mm⁴
}

// Section returns the tube's cross-section.
func (t Tube) Section() (Section, error) {
	if err := t.Check(); err != nil {
		return Section{}, err
	}
	inside := t.Outside - 2*t.Wall
	a := math.Pi * t.Wall * (t.Outside - t.Wall)
	j := a * (t.Outside*t.Outside + inside*inside) / 8
	return Section{a, j / 2, j}, result("section", a, j)
}

// Mass returns the mass of the bare tube over its length between joint
// centres, kg.
func (t Tube) Mass() (float64, error) {
	s, err := t.Section()
	if err != nil {
		return 0, err
	}
	m := s.Area * t.Length * t.Material.Density
	return m, result("mass", m)
}

// Whirl returns the first whirling speed (rad/s) of the tube between supports
// that let it tilt: (π/L)²·√(E·I/(ρ·A)), pinned-pinned Euler-Bernoulli beam;
// Machinery's Handbook, 31st ed., p. 205 has the same for a plain shaft. Joints,
// splines, soft supports and run-out bring the real speed down: see Safe.
func (t Tube) Whirl() (float64, error) {
	s, err := t.Section()
	if err != nil {
		return 0, err
	}
	w := math.Pi / t.Length * (math.Pi / t.Length) *
		math.Sqrt(newton*t.Material.E*s.Second/(t.Material.Density*s.Area))
	return w, result("whirling speed", w)
}

// Shear returns the shear stress at the outside of the tube, T·D/(2J), MPa,
// under a torque (N·mm). A screening figure: welds, joints and fatigue are not
// in it.
func (t Tube) Shear(torque float64) (float64, error) {
	s, err := t.turned(torque)
	if err != nil {
		return 0, err
	}
	tau := math.Abs(torque) * t.Outside / (2 * s.Polar)
	return tau, result("shear stress", tau)
}

// Twist returns how far a torque (N·mm) twists the tube over its length,
// T·L/(G·J), with the sign of the torque.
func (t Tube) Twist(torque float64) (geom.Angle, error) {
	s, err := t.turned(torque)
	if err != nil {
		return 0, err
	}
	a := torque * t.Length / (t.Material.G * s.Polar)
	return geom.Angle(a), result("twist", a)
}

func (t Tube) turned(torque float64) (Section, error) {
	if _, err := loaded(torque, 0); err != nil {
		return Section{}, err
	}
	return t.Section()
}

// result refuses a figure that ran over because a size was absurd.
func result(what string, vs ...float64) error {
	if geom.Finite(vs...) {
		return nil
	}
	return fmt.Errorf("the %s of this tube cannot be worked out: look again at its diameter, wall and length", what)
}

// Safe returns the part of a whirling speed that may be used. Driveshaft makers
// print 0.65 (industrial) to 0.75, with 0.7 for vehicles.
func Safe(whirl, fraction float64) (float64, error) {
	if err := above("whirling speed", whirl, "rad/s"); err != nil {
		return 0, err
	}
	if !(fraction > 0 && fraction <= 1) {
		return 0, fmt.Errorf("safe fraction of the whirling speed is %g: more than 0 and at most 1 is wanted", fraction)
	}
	return whirl * fraction, nil
}
