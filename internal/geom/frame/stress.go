package frame

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Stress is the screening stress at one cut of a member, MPa. Peaks of torsion
// and of shear are added to bending at the worst corner as if they met there,
// which is on the safe side.
type Stress struct {
	Member     int
	At         float64 // mm from the member's first end
	Corner     r2.Vec  // the worst corner, y and z; of a round section the place on its skin
	Axial      float64 // N/A, tension positive
	BendY      float64 // what MomentY makes at that corner, tension positive
	BendZ      float64 // what MomentZ makes there
	Normal     float64 // the sum, tension positive
	Torsion    float64 // T/Wt, a size
	Shear      float64 // V/Av, both directions together, a size
	Equivalent float64 // √(Normal² + 3 (Torsion+Shear)²), von Mises
}

// StressAt returns the stress of a member at x mm from its first end. It fails
// where the section lacks what it takes.
func (r *Result) StressAt(member int, x float64) (Stress, error) {
	m := &r.ready.frame.Members[member]
	if err := m.stressed(); err != nil {
		return Stress{}, fmt.Errorf("%s: %w", r.ready.frame.member(member), err)
	}
	c := r.courses(member)
	x = r.on(member, x)
	return m.stress(member, x, c.at(x)), nil
}

func (m *Member) stressed() error {
	s := &m.Section
	switch {
	case s.Radius <= 0 && len(s.Corners) == 0:
		return fmt.Errorf("its section has no corners to look at; give its size")
	case s.Wt < geom.Least:
		return fmt.Errorf("its section has no torsion modulus")
	case min(s.Avy, s.Avz) < geom.Least:
		return fmt.Errorf("its section has no area for shear")
	}
	return nil
}

// bending returns what a unit of MomentY and of MomentZ makes at a place: σ = b y + c z
// with ∫σz = MomentY and −∫σy = MomentZ.
func (s *Section) bending(p r2.Vec) (y, z float64) {
	det := s.Iy*s.Iz - s.Iyz*s.Iyz
	return (s.Iz*p.Y - s.Iyz*p.X) / det, (s.Iyz*p.Y - s.Iy*p.X) / det
}

func (m *Member) stress(member int, x float64, f Internal) Stress {
	s := &m.Section
	out := Stress{Member: member, At: x, Axial: f.Axial / s.Area}
	corners := s.Corners
	if s.Radius > 0 {
		p := r2.Vec{X: -f.MomentZ, Y: f.MomentY}
		if n := r2.Norm(p); n > 0 {
			p = r2.Scale(s.Radius/n, p)
		} else {
			p = r2.Vec{Y: s.Radius}
		}
		corners = []r2.Vec{p, r2.Scale(-1, p)}
	}
	for i, p := range corners {
		y, z := s.bending(p)
		y, z = y*f.MomentY, z*f.MomentZ
		if n := out.Axial + y + z; i == 0 || math.Abs(n) > math.Abs(out.Normal) {
			out.Corner, out.BendY, out.BendZ, out.Normal = p, y, z, n
		}
	}
	out.Torsion = math.Abs(f.Torsion) / s.Wt
	out.Shear = math.Hypot(f.ShearY/s.Avy, f.ShearZ/s.Avz)
	out.Equivalent = math.Sqrt(out.Normal*out.Normal + 3*(out.Torsion+out.Shear)*(out.Torsion+out.Shear))
	return out
}

// stations is how many pieces a member with a load along it is looked at in,
// besides the places where a moment, or what bends and pulls at a corner, is largest.
// Without such a load every part of
// the stress is straight along the member, and the worst place is an end.
const stations = 16

// WorstOf returns the worst stress along one member.
func (r *Result) WorstOf(member int) (Stress, error) {
	m := &r.ready.frame.Members[member]
	if err := m.stressed(); err != nil {
		return Stress{}, fmt.Errorf("%s: %w", r.ready.frame.member(member), err)
	}
	c, l := r.courses(member), r.Length(member)
	worst := m.stress(member, 0, c.at(0))
	try := func(x float64) {
		if x > 0 && x <= l {
			if s := m.stress(member, x, c.at(x)); s.Equivalent > worst.Equivalent {
				worst = s
			}
		}
	}
	try(l)
	if r.lines[member] == (r3.Vec{}) {
		return worst, nil
	}
	for i := 1; i < stations; i++ {
		try(l * float64(i) / stations)
	}
	top := func(p course) {
		if p[2] != 0 {
			try(-p[1] / (2 * p[2]))
		}
	}
	top(c.momentY)
	top(c.momentZ)
	s := &m.Section
	for _, p := range s.Corners {
		y, z := s.bending(p)
		top(course{}.plus(1/s.Area, c.axial).plus(y, c.momentY).plus(z, c.momentZ))
	}
	return worst, nil
}

// Worst returns the worst stress of the frame.
func (r *Result) Worst() (Stress, error) {
	if len(r.Ends) == 0 {
		return Stress{}, fmt.Errorf("frame %s: it has no members", r.ready.frame.Name)
	}
	var worst Stress
	for i := range r.Ends {
		s, err := r.WorstOf(i)
		if err != nil {
			return Stress{}, err
		}
		if i == 0 || s.Equivalent > worst.Equivalent {
			worst = s
		}
	}
	return worst, nil
}
