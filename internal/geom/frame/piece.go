package frame

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// dozen is a matrix between the six ways of two ends.
type dozen [12][12]float64

// piece is a member or a spring, ready to be put together: its stiffness in its
// own axes and how the ways of its nodes become the ways of its ends.
type piece struct {
	nodes [2]int // Ground for none
	t     [2][6][6]float64
	k     dozen
}

// element is the rest of a member.
type element struct {
	length   float64
	axes     [3]r3.Vec
	spread   [3][12]float64 // end forces that hold it under 1 N/mm along each of its axes
	freed    []freed
	released bool
}

// freed is one way of an end that the node does not follow, as it was when it
// was taken out: pivot × way + row · ways + load = 0.
type freed struct {
	way    int
	pivot  float64 // 0: nothing in the member holds it
	row    [12]float64
	spread [3]float64
}

// axesOf returns the member's own axes.
func axesOf(along, up r3.Vec) [3]r3.Vec {
	x := r3.Unit(along)
	square := func(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, x), x)) }
	if u, err := geom.Unit(up); err == nil {
		if z := square(u); r3.Norm(z) > 1e-6 {
			z = r3.Unit(z)
			return [3]r3.Vec{x, r3.Cross(z, x), z}
		}
	}
	if z := square(r3.Vec{Z: 1}); r3.Norm(z) > 1e-6 {
		z = r3.Unit(z)
		return [3]r3.Vec{x, r3.Cross(z, x), z}
	}
	y := r3.Unit(square(r3.Vec{Y: 1}))
	return [3]r3.Vec{x, y, r3.Cross(x, y)}
}

// toEnd returns the map from a node's six ways, along its axes, to those of a
// point a rigid arm away, along other axes.
func toEnd(own [3]r3.Vec, node Axes, arm r3.Vec) (t [6][6]float64) {
	for j, n := range node.list() {
		swing := r3.Cross(n, arm)
		for a, e := range own {
			c := r3.Dot(e, n)
			t[a][j], t[3+a][3+j], t[a][3+j] = c, c, r3.Dot(e, swing)
		}
	}
	return t
}

// principal returns the turn α about x from y and z to the principal axes y′ = y
// cos α + z sin α, and the second moments about them.
func (s *Section) principal() (cos, sin, iy, iz float64) {
	if s.Iyz == 0 {
		return 1, 0, s.Iy, s.Iz
	}
	sin, cos = math.Sincos(math.Atan2(2*s.Iyz, s.Iz-s.Iy) / 2)
	mid, half := (s.Iy+s.Iz)/2, math.Hypot((s.Iz-s.Iy)/2, s.Iyz)
	return cos, sin, mid - half, mid + half
}

// toShear is the map from an end's six ways at the centroid to those at the
// shear centre, along the principal axes.
func (s *Section) toShear() (p [6][6]float64, plain bool) {
	cos, sin, _, _ := s.principal()
	p[0][0], p[3][3] = 1, 1
	for _, r := range [2]int{1, 4} {
		p[r][r], p[r][r+1], p[r+1][r], p[r+1][r+1] = cos, sin, -sin, cos
	}
	// v − zₛ θ and w + yₛ θ, turned with the axes.
	p[1][3] = -cos*s.Shear.Y + sin*s.Shear.X
	p[2][3] = sin*s.Shear.Y + cos*s.Shear.X
	return p, sin == 0 && s.Shear.X == 0 && s.Shear.Y == 0
}

// shearing returns 12EI/(G Av L²), by which bending is softer for shear.
func shearing(m *Member, i, area, l float64) float64 {
	if m.Section.NoShear {
		return 0
	}
	return 12 * m.Material.E * i / (m.Material.G * area * l * l)
}

// stiffness returns a member's stiffness along its principal axes at the shear
// centre (Przemieniecki, eq. 5.116, from memory).
func (m *Member) stiffness(l float64) (k dozen) {
	_, _, iy, iz := m.Section.principal()
	e, g := m.Material.E, m.Material.G
	pair := func(i, j int, v float64) { k[i][j], k[j][i] = v, v }
	for _, c := range [2]struct {
		way int
		v   float64
	}{{0, e * m.Section.Area / l}, {3, g * m.Section.It / l}} {
		k[c.way][c.way], k[c.way+6][c.way+6] = c.v, c.v
		pair(c.way, c.way+6, -c.v)
	}
	bend := func(shift, turn int, sign, i, area float64) {
		f := shearing(m, i, area, l)
		b := e * i / (l * (1 + f))
		t, s := 12*b/(l*l), sign*6*b/l
		k[shift][shift], k[shift+6][shift+6] = t, t
		pair(shift, shift+6, -t)
		k[turn][turn], k[turn+6][turn+6] = (4+f)*b, (4+f)*b
		pair(turn, turn+6, (2-f)*b)
		pair(shift, turn, s)
		pair(shift, turn+6, s)
		pair(shift+6, turn, -s)
		pair(shift+6, turn+6, -s)
	}
	bend(1, 5, 1, iz, m.Section.Avy)
	bend(2, 4, -1, iy, m.Section.Avz)
	return k
}

// spreads returns the end forces, at the centroid, that hold a member fast under
// a load of 1 N/mm along each of its axes.
func (m *Member) spreads(l float64) (f [3][12]float64) {
	half, twelfth := l/2, l*l/12
	f[0][0], f[0][6] = -half, -half
	f[1][1], f[1][7], f[1][5], f[1][11] = -half, -half, -twelfth, twelfth
	f[2][2], f[2][8], f[2][4], f[2][10] = -half, -half, twelfth, -twelfth
	return f
}

// around returns pᵀ k p for each pair of ends, the same p at both.
func around(k *dozen, p *[6][6]float64) (out dozen) {
	for a := 0; a < 12; a += 6 {
		for b := 0; b < 12; b += 6 {
			block := between(k, p, p, a, b)
			for i := range 6 {
				copy(out[a+i][b:b+6], block[i][:])
			}
		}
	}
	return out
}

// between returns pᵀ K q of the block of k that starts at a, b.
func between(k *dozen, p, q *[6][6]float64, a, b int) (out [6][6]float64) {
	var kq [6][6]float64
	for i := range 6 {
		row := k[a+i][b : b+6]
		to := &kq[i]
		for n, v := range row {
			if v == 0 {
				continue
			}
			qn := &q[n]
			for j := range 6 {
				to[j] += v * qn[j]
			}
		}
	}
	for n := range 6 {
		from := &kq[n]
		for i, v := range p[n] {
			if v == 0 {
				continue
			}
			to := &out[i]
			for j := range 6 {
				to[j] += v * from[j]
			}
		}
	}
	return out
}

// release takes the freed ways out of a member's stiffness.
func (e *element) release(k *dozen, free [2]Six) {
	whole := *k
	for end, s := range free {
		for i, is := range s.list() {
			if !is {
				continue
			}
			way := 6*end + i
			fr := freed{way: way}
			e.released = true
			if k[way][way] > 1e-12*whole[way][way] {
				fr.pivot, fr.row = k[way][way], k[way]
				fr.row[way] = 0
			}
			for a := range e.spread {
				fr.spread[a] = e.spread[a][way]
				e.spread[a][way] = 0
				for j := range fr.row {
					if fr.pivot > 0 {
						e.spread[a][j] -= fr.row[j] * fr.spread[a] / fr.pivot
					}
				}
			}
			for r := range k {
				for c := range k {
					if fr.pivot > 0 && r != way && c != way {
						k[r][c] -= fr.row[r] * fr.row[c] / fr.pivot
					}
				}
			}
			for j := range k {
				k[way][j], k[j][way] = 0, 0
			}
			e.freed = append(e.freed, fr)
		}
	}
}

// recover fills in where the freed ways of an end go under a load along the
// member's axes, the others being where their nodes are.
func (e *element) recover(d *[12]float64, w r3.Vec) {
	for i := len(e.freed) - 1; i >= 0; i-- {
		fr := &e.freed[i]
		if fr.pivot == 0 {
			d[fr.way] = d[(fr.way+6)%12]
			continue
		}
		d[fr.way] = 0
		sum := fr.spread[0]*w.X + fr.spread[1]*w.Y + fr.spread[2]*w.Z
		for j, v := range fr.row {
			sum += v * d[j]
		}
		d[fr.way] = -sum / fr.pivot
	}
}

func (f *Frame) buildMember(i int, p *piece, e *element) {
	m := &f.Members[i]
	along := f.along(m)
	e.length, e.axes = r3.Norm(along), axesOf(along, m.Up)
	p.nodes, p.k, e.spread = m.Ends, m.stiffness(e.length), m.spreads(e.length)
	if to, plain := m.Section.toShear(); !plain {
		p.k = around(&p.k, &to)
	}
	e.release(&p.k, m.Free)
	for end, n := range m.Ends {
		axes, _ := f.Nodes[n].Axes.filled()
		p.t[end] = toEnd(e.axes, axes, m.Offset[end])
	}
}

func (f *Frame) buildSpring(i int, p *piece) {
	s := &f.Springs[i]
	own, _ := s.Axes.filled()
	for a, k := range [6]float64{s.Rates.X, s.Rates.Y, s.Rates.Z, s.Turning.X, s.Turning.Y, s.Turning.Z} {
		p.k[a][a], p.k[a+6][a+6], p.k[a][a+6], p.k[a+6][a] = k, k, -k, -k
	}
	p.nodes = s.Ends
	for end, n := range s.Ends {
		if n == Ground {
			continue
		}
		axes, _ := f.Nodes[n].Axes.filled()
		p.t[end] = toEnd(own.list(), axes, r3.Sub(f.Nodes[s.Ends[1]].At, f.Nodes[n].At))
	}
}
