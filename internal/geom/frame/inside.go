package frame

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Internal are the forces on a cut through a member: see the package comment.
type Internal struct {
	Axial, ShearY, ShearZ     float64 // N
	Torsion, MomentY, MomentZ float64 // N·mm
}

// course is a force or moment along a member: c[0] + c[1] x + c[2] x².
type course [3]float64

func (c course) at(x float64) float64 { return c[0] + x*(c[1]+x*c[2]) }

// once and twice are its integrals from 0 to x.
func (c course) once(x float64) float64 { return x * (c[0] + x*(c[1]/2+x*c[2]/3)) }

func (c course) twice(x float64) float64 { return x * x * (c[0]/2 + x*(c[1]/6+x*c[2]/12)) }

func (c course) plus(k float64, d course) course {
	return course{c[0] + k*d[0], c[1] + k*d[1], c[2] + k*d[2]}
}

// courses are the internal forces along a member.
type courses struct{ axial, shearY, shearZ, torsion, momentY, momentZ course }

func (r *Result) courses(i int) courses {
	q, w := r.Ends[i][0], r.lines[i]
	var c courses
	c.axial = course{-q.Force.X, -w.X}
	c.shearY = course{-q.Force.Y, -w.Y}
	c.shearZ = course{-q.Force.Z, -w.Z}
	c.momentY = course{-q.Moment.Y, -q.Force.Z, -w.Z / 2}
	c.momentZ = course{-q.Moment.Z, q.Force.Y, w.Y / 2}
	s := r.ready.frame.Members[i].Section.Shear
	c.torsion = course{-q.Moment.X}.plus(-s.X, c.shearZ).plus(s.Y, c.shearY)
	return c
}

// Inside returns the internal forces of a member at x mm from its first end; x is
// kept on the member.
func (r *Result) Inside(member int, x float64) Internal {
	c := r.courses(member)
	return c.at(r.on(member, x))
}

func (c *courses) at(x float64) Internal {
	return Internal{c.axial.at(x), c.shearY.at(x), c.shearZ.at(x), c.torsion.at(x), c.momentY.at(x), c.momentZ.at(x)}
}

// AtEnd returns where an end (0 or 1) of a member is and what acts on the member there,
// vehicle axes, N and N·mm about that place: what its weld or its bolts carry.
func (r *Result) AtEnd(member, end int) (r3.Vec, Push) {
	f := r.ready.frame
	m, e, p := &f.Members[member], &r.ready.elements[member], r.Ends[member][end]
	out := func(v r3.Vec) r3.Vec {
		return r3.Add(r3.Add(r3.Scale(v.X, e.axes[0]), r3.Scale(v.Y, e.axes[1])), r3.Scale(v.Z, e.axes[2]))
	}
	return r3.Add(f.Nodes[m.Ends[end]].At, m.Offset[end]), Push{out(p.Force), out(p.Moment)}
}

// Length returns a member's length between its ends, mm.
func (r *Result) Length(member int) float64 { return r.ready.elements[member].length }

func (r *Result) on(member int, x float64) float64 {
	if !(x > 0) {
		return 0
	}
	return math.Min(x, r.Length(member))
}

// bends returns the curvatures dθy/dx and dθz/dx along a member.
func (m *Member) bends(c *courses) (y, z course) {
	s := &m.Section
	by := 1 / (m.Material.E * (s.Iy*s.Iz - s.Iyz*s.Iyz))
	y = course{}.plus(by*s.Iz, c.momentY).plus(by*s.Iyz, c.momentZ)
	z = course{}.plus(by*s.Iy, c.momentZ).plus(by*s.Iyz, c.momentY)
	return y, z
}

// slips returns the shear strains along y and z; the areas count along the
// principal axes.
func (m *Member) slips(c *courses) (y, z course) {
	s := &m.Section
	if s.NoShear {
		return course{}, course{}
	}
	cos, sin, _, _ := s.principal()
	a := course{}.plus(cos, c.shearY).plus(sin, c.shearZ)
	b := course{}.plus(-sin, c.shearY).plus(cos, c.shearZ)
	ka, kb := 1/(m.Material.G*s.Avy), 1/(m.Material.G*s.Avz)
	y = course{}.plus(cos*ka, a).plus(-sin*kb, b)
	z = course{}.plus(sin*ka, a).plus(cos*kb, b)
	return y, z
}

// Shape returns how far the middle line of a member has shifted at x mm from its
// first end, vehicle axes, mm: bending, shear, stretch and twist integrated from
// that end.
func (r *Result) Shape(member int, x float64) r3.Vec {
	x = r.on(member, x)
	m, e, d, c := &r.ready.frame.Members[member], &r.ready.elements[member], &r.ways[member], r.courses(member)
	s := &m.Section
	ky, kz := m.bends(&c)
	gy, gz := m.slips(&c)
	twist := c.torsion.once(x) / (m.Material.G * s.It)
	u := d[0] + c.axial.once(x)/(m.Material.E*s.Area)
	v := d[1] + d[5]*x + kz.twice(x) + gy.once(x) + s.Shear.Y*twist
	w := d[2] - d[4]*x - ky.twice(x) + gz.once(x) - s.Shear.X*twist
	return r3.Add(r3.Add(r3.Scale(u, e.axes[0]), r3.Scale(v, e.axes[1])), r3.Scale(w, e.axes[2]))
}

// Energy is the strain energy in the members and springs, N·mm: N²/2EA, M²/2EI,
// T²/2GI and V²/2GA integrated along each member.
func (r *Result) Energy() float64 {
	sum := 0.0
	for i := range r.Ends {
		sum += r.memberEnergy(i)
	}
	for i, p := range r.Springs {
		s := &r.ready.frame.Springs[i]
		for _, c := range [2][2]r3.Vec{{p.Force, s.Rates}, {p.Moment, s.Turning}} {
			for _, d := range [3][2]float64{{c[0].X, c[1].X}, {c[0].Y, c[1].Y}, {c[0].Z, c[1].Z}} {
				if d[1] > 0 {
					sum += d[0] * d[0] / (2 * d[1])
				}
			}
		}
	}
	return sum
}

// memberEnergy is that of one member. The courses are of second degree at most, so
// four places of Gauss serve exactly.
func (r *Result) memberEnergy(i int) float64 {
	m, c, l := &r.ready.frame.Members[i], r.courses(i), r.Length(i)
	ky, kz := m.bends(&c)
	gy, gz := m.slips(&c)
	sum := 0.0
	for k, at := range [4]float64{0.06943184420297371, 0.33000947820757187, 0.6699905217924281, 0.9305681557970263} {
		weight := [4]float64{0.17392742256872692, 0.32607257743127305, 0.32607257743127305, 0.17392742256872692}[k]
		x := at * l
		n, t := c.axial.at(x), c.torsion.at(x)
		sum += weight * (n*n/(m.Material.E*m.Section.Area) + t*t/(m.Material.G*m.Section.It) +
			c.momentY.at(x)*ky.at(x) + c.momentZ.at(x)*kz.at(x) + c.shearY.at(x)*gy.at(x) + c.shearZ.at(x)*gz.at(x))
	}
	return sum * l / 2
}
