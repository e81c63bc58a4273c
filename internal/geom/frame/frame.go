package frame

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Six are the ways a node can go or be held: shifts along the three axes, then
// turns about them.
type Six struct{ X, Y, Z, TurnX, TurnY, TurnZ bool }

func (s Six) list() [6]bool { return [6]bool{s.X, s.Y, s.Z, s.TurnX, s.TurnY, s.TurnZ} }

// The usual ways to hold a node.
var (
	Welded = Six{true, true, true, true, true, true} // held against all
	Ball   = Six{X: true, Y: true, Z: true}          // held in place, free to turn
)

// Hinge is what a member's end is free to do where it sits on a ball: turn.
var Hinge = Six{TurnX: true, TurnY: true, TurnZ: true}

// Node is a point where members meet, stand or are loaded.
type Node struct {
	Name string
	At   r3.Vec // vehicle axes, mm
	Held Six
	// Axes are the directions that Held, prescribed shifts and turns count
	// along, orthonormal and right-handed; the zero value is vehicle axes.
	Axes Axes
}

// Axes are three orthonormal, right-handed directions in vehicle axes.
type Axes struct{ X, Y, Z r3.Vec }

// Vehicle are the vehicle's own axes.
func Vehicle() Axes { return Axes{r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}} }

func (a Axes) list() [3]r3.Vec { return [3]r3.Vec{a.X, a.Y, a.Z} }

func (a Axes) filled() (Axes, bool) {
	if a == (Axes{}) {
		return Vehicle(), true
	}
	const tol = 1e-9
	ok := finite(a.X, a.Y, a.Z) && geom.Near(r3.Norm(a.X), 1, tol) && geom.Near(r3.Norm(a.Y), 1, tol) &&
		geom.Near(r3.Dot(r3.Cross(a.X, a.Y), a.Z), 1, tol)
	return a, ok
}

func finite(vs ...r3.Vec) bool {
	for _, v := range vs {
		if !geom.Finite(v.X, v.Y, v.Z) {
			return false
		}
	}
	return true
}

// Section are the figures of a cross-section in the member's own axes through
// its centroid, in powers of mm.
type Section struct {
	Area     float64
	Iy, Iz   float64 // ∫z² dA, ∫y² dA
	Iyz      float64 // ∫yz dA; 0 where y and z are principal
	It       float64 // St Venant torsion constant
	Wt       float64 // torsion modulus: peak torsion stress is T/Wt; read for stress only
	Avy, Avz float64 // areas that carry shear along y and z
	// NoShear leaves the flexibility of shear out, as textbook cases do. The
	// areas then serve for stress only.
	NoShear bool
	// Shear is the shear centre from the centroid (y, z), mm.
	Shear r2.Vec
	// Corners are the places (y, z) where bending is looked at. A round section
	// has its Radius instead.
	Corners []r2.Vec
	Radius  float64
}

// Material of a member: moduli in MPa, density in kg/mm³.
type Material struct{ E, G, Density float64 }

// Member is a straight part between two nodes.
type Member struct {
	Name     string
	Ends     [2]int // nodes, first end and second
	Section  Section
	Material Material
	Up       r3.Vec // see the package comment; zero for vehicle Z
	// Free says what each end is free to do against its node, along and about
	// the member's own axes.
	Free [2]Six
	// Offset is a rigid arm from the node to the member's end, vehicle axes, mm.
	Offset [2]r3.Vec
}

// Ground stands for no node: what a spring is fixed to when it is fixed to the
// world.
const Ground = -1

// Spring joins a node to the ground or to another node: an isolator, a soft
// seat, a plate that gives way. It acts at the second node; a first node that
// stands elsewhere reaches there by a rigid arm.
type Spring struct {
	Name    string
	Ends    [2]int // nodes; the first may be Ground
	Axes    Axes   // the zero value is vehicle axes
	Rates   r3.Vec // N/mm along the axes
	Turning r3.Vec // N·mm/rad about them
}

// Frame is a set of members between nodes.
type Frame struct {
	Name    string
	Nodes   []Node
	Members []Member
	Springs []Spring
}

func named(kind, name string, i int) string {
	if name != "" {
		return kind + " " + name
	}
	return fmt.Sprintf("%s %d", kind, i+1)
}

func (f *Frame) node(i int) string   { return named("node", f.Nodes[i].Name, i) }
func (f *Frame) member(i int) string { return named("member", f.Members[i].Name, i) }
func (f *Frame) spring(i int) string { return named("spring", f.Springs[i].Name, i) }

// The largest frame that is taken for one mount or crossmember, and the largest
// sizes; they keep fourth powers far from overflow.
const (
	mostNodes    = 2000
	limitSection = 1e15
)

func within(most float64, vs ...float64) bool {
	for _, v := range vs {
		if !(math.Abs(v) <= most) {
			return false
		}
	}
	return true
}

func (f *Frame) check() error {
	if len(f.Nodes) == 0 || len(f.Nodes) > mostNodes || len(f.Members) > mostNodes || len(f.Springs) > mostNodes {
		return fmt.Errorf("frame %s: %d nodes and %d members; 1 to %d are wanted", f.Name, len(f.Nodes), len(f.Members), mostNodes)
	}
	for i := range f.Nodes {
		n := &f.Nodes[i]
		if !finite(n.At) || !within(geom.LimitLength, n.At.X, n.At.Y, n.At.Z) {
			return geom.PartFault(f.node(i), "", "its place is not a number that can be used")
		}
		if _, ok := n.Axes.filled(); !ok {
			return geom.PartFault(f.node(i), "", "its axes are not square to each other")
		}
	}
	for i := range f.Members {
		if err := f.checkMember(i); err != nil {
			return &geom.PartError{Part: f.member(i), Err: err}
		}
	}
	for i := range f.Springs {
		if err := f.checkSpring(i); err != nil {
			return &geom.PartError{Part: f.spring(i), Err: err}
		}
	}
	return nil
}

func (f *Frame) checkMember(i int) error {
	m := &f.Members[i]
	for _, e := range m.Ends {
		if e < 0 || e >= len(f.Nodes) {
			return fmt.Errorf("one of its ends is at no node")
		}
	}
	if m.Ends[0] == m.Ends[1] {
		return fmt.Errorf("both its ends are at %s", f.node(m.Ends[0]))
	}
	if !finite(m.Up, m.Offset[0], m.Offset[1]) || !within(geom.LimitLength, m.Offset[0].X, m.Offset[0].Y, m.Offset[0].Z, m.Offset[1].X, m.Offset[1].Y, m.Offset[1].Z) {
		return fmt.Errorf("its upward direction or an offset is not a number that can be used")
	}
	if l := r3.Norm(f.along(m)); !(l > 1e-3) {
		return fmt.Errorf("it has no length: its ends at %s and %s are in one place", f.node(m.Ends[0]), f.node(m.Ends[1]))
	}
	if !(m.Material.E >= 1 && m.Material.G >= 1 && within(geom.LimitLoad, m.Material.E, m.Material.G)) {
		return fmt.Errorf("moduli of %g and %g MPa are no material; steel has 210000 and 81000", m.Material.E, m.Material.G)
	}
	if !(m.Material.Density >= 0 && m.Material.Density < 1) {
		return fmt.Errorf("a density of %g kg/mm³ is no material; steel has 7.85e-6", m.Material.Density)
	}
	return m.Section.check()
}

// along is the vector from a member's first end to its second.
func (f *Frame) along(m *Member) r3.Vec {
	return r3.Sub(r3.Add(f.Nodes[m.Ends[1]].At, m.Offset[1]), r3.Add(f.Nodes[m.Ends[0]].At, m.Offset[0]))
}

func (s *Section) check() error {
	if !(min(s.Area, s.Iy, s.Iz, s.It) >= geom.Least && within(limitSection, s.Area, s.Iy, s.Iz, s.It)) {
		return fmt.Errorf("its section has no area or no stiffness (A %g mm², Iy %g, Iz %g, It %g mm⁴); give its size", s.Area, s.Iy, s.Iz, s.It)
	}
	if !(s.Iyz*s.Iyz < s.Iy*s.Iz*(1-1e-9)) {
		return fmt.Errorf("a product of inertia of %g mm⁴ does not go with Iy %g and Iz %g", s.Iyz, s.Iy, s.Iz)
	}
	if !s.NoShear && !(min(s.Avy, s.Avz) >= geom.Least && within(limitSection, s.Avy, s.Avz)) {
		return fmt.Errorf("its section has no area for shear")
	}
	if !within(limitSection, s.Wt, s.Avy, s.Avz) || min(s.Wt, s.Avy, s.Avz) < 0 || !within(geom.LimitLength, s.Shear.X, s.Shear.Y) || !(s.Radius >= 0 && s.Radius <= geom.LimitLength) {
		return fmt.Errorf("one of its section's figures is not a number that can be used")
	}
	for _, c := range s.Corners {
		if !within(geom.LimitLength, c.X, c.Y) {
			return fmt.Errorf("a corner of its section is not a number that can be used")
		}
	}
	return nil
}

func (f *Frame) checkSpring(i int) error {
	s := &f.Springs[i]
	if s.Ends[1] < 0 || s.Ends[1] >= len(f.Nodes) || s.Ends[0] < Ground || s.Ends[0] >= len(f.Nodes) || s.Ends[0] == s.Ends[1] {
		return fmt.Errorf("it must join a node to the ground or to another node")
	}
	if _, ok := s.Axes.filled(); !ok {
		return fmt.Errorf("its axes are not square to each other")
	}
	for _, k := range []float64{s.Rates.X, s.Rates.Y, s.Rates.Z, s.Turning.X, s.Turning.Y, s.Turning.Z} {
		if !(k >= 0 && k <= limitSection) {
			return fmt.Errorf("a rate of %g is none; 0 or more is wanted", k)
		}
	}
	return nil
}
