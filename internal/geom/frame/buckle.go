package frame

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Strut is a member by itself under its largest pressure.
type Strut struct {
	Pressure float64 // N; 0 for a member in tension
	Euler    float64 // π²EI/(kL)² about the weaker axis, N
	Factor   float64 // the effective length over the length, as given
	Share    float64 // Pressure over Euler
}

// Strut compares the pressure in a member with its Euler load at an effective
// length of factor times its own: 2 covers one end held and the other free to go
// sideways, 1 two ends that stay in place. It looks at the member alone; Buckling
// looks at the frame.
func (r *Result) Strut(member int, factor float64) (Strut, error) {
	if !(factor >= 0.5 && factor <= 10) {
		return Strut{}, fmt.Errorf("%s: an effective length of %g times its own is none; 0.5 to 2 are usual", r.ready.frame.member(member), factor)
	}
	m, l := &r.ready.frame.Members[member], factor*r.Length(member)
	c := r.courses(member)
	_, _, iy, iz := m.Section.principal()
	s := Strut{Factor: factor, Euler: math.Pi * math.Pi * m.Material.E * min(iy, iz) / (l * l)}
	s.Pressure = max(0, -c.axial.at(0), -c.axial.at(r.Length(member)))
	s.Share = s.Pressure / s.Euler
	return s, nil
}

// Buckling is how much more of a case a frame takes before it buckles.
type Buckling struct {
	// Factor is by how much all loads of the case grow together until the perfect
	// elastic frame buckles.
	Factor float64
	Never  bool // no load of this sense buckles it; Factor is 0
	// Member bends most as it buckles; Shift is the way its middle goes, a unit
	// vector in vehicle axes.
	Member int
	Shift  r3.Vec
}

// cuts is into how many pieces a pressed member is cut to find how the frame
// buckles: a strut on two pins then comes out 0.05 % high and one held at both ends
// 0.8 %; a mast that its own weight presses is 3 % off.
//
// Members whose push or pull is far from their own buckling load, beside the pressed
// one that is nearest to it, stay whole: when that one buckles, at the latest between
// two held ends, they carry less than a quarter of theirs on pins, and one piece tells
// what they do. In frames drawn at random, with pushes and pulls far apart, the whole
// comes out up to 8 % off.
const (
	cuts = 4
	far  = 0.05
)

// Buckling finds the lowest buckling load of the frame under a case by its
// eigenvalue: stiffness against geometric stiffness of the axial forces
// (Przemieniecki, ch. 15, from memory), members that carry much of theirs cut in four.
// Bending, shear and torsion are not counted among what makes it buckle, so that the
// sideways buckling of an open section in bending is not seen.
func (r *Ready) Buckling(c Case) (Buckling, error) {
	first, err := r.Solve(c)
	if err != nil {
		return Buckling{}, err
	}
	fine, of := r.cut(first)
	ready, err := Prepare(fine)
	if err != nil {
		return Buckling{}, err
	}
	axial, pressed := make([]float64, len(fine.Members)), false
	for i := range axial {
		axial[i] = first.courses(of[i].member).axial.at(of[i].middle)
		pressed = pressed || axial[i] < 0
	}
	if !pressed {
		return Buckling{Never: true}, nil
	}
	g := ready.geometric(axial)
	value, vector, err := ready.lowest(g)
	if err != nil {
		return Buckling{}, err
	}
	if !(value > 0) {
		return Buckling{Never: true}, nil
	}
	out := Buckling{Factor: 1 / value}
	out.Member, out.Shift = ready.bent(vector, of)
	return out, nil
}

// part says which member a cut piece is of, and where its middle was.
type part struct {
	member int
	middle float64
}

// cut returns the frame with the members that count cut in pieces.
func (r *Ready) cut(res *Result) (*Frame, []part) {
	f := r.frame
	fine := &Frame{Name: f.Name, Nodes: append([]Node(nil), f.Nodes...), Springs: f.Springs}
	var of []part
	shares, most := make([]float64, len(f.Members)), 0.0
	for i := range f.Members {
		m, l, c := &f.Members[i], r.elements[i].length, res.courses(i)
		_, _, iy, iz := m.Section.principal()
		// Pull stiffens a member sideways, and one piece makes too much of that as well. A
		// thin open one twists before it bends.
		bend := math.Pi * math.Pi * m.Material.E * min(iy, iz) / (l * l)
		twist := m.Material.G * m.Section.It * m.Section.Area / (m.Section.Iy + m.Section.Iz)
		first, last := c.axial.at(0)/min(bend, twist), c.axial.at(l)/min(bend, twist)
		shares[i] = max(math.Abs(first), math.Abs(last))
		most = max(most, -first, -last)
	}
	for i := range f.Members {
		m, l := f.Members[i], r.elements[i].length
		n := 1
		if shares[i] > far*most {
			n = cuts
		}
		m.Up = r.elements[i].axes[2]
		start, along := r3.Add(f.Nodes[m.Ends[0]].At, m.Offset[0]), f.along(&f.Members[i])
		for k := range n {
			p := m
			if k > 0 {
				p.Ends[0], p.Free[0], p.Offset[0] = len(fine.Nodes)-1, Six{}, r3.Vec{}
			}
			if k < n-1 {
				fine.Nodes = append(fine.Nodes, Node{Name: m.Name, At: r3.Add(start, r3.Scale(float64(k+1)/float64(n), along))})
				p.Ends[1], p.Free[1], p.Offset[1] = len(fine.Nodes)-1, Six{}, r3.Vec{}
			}
			fine.Members = append(fine.Members, p)
			of = append(of, part{i, l * (float64(k) + 0.5) / float64(n)})
		}
	}
	return fine, of
}

// geometric returns the geometric stiffness, its sign turned: pressure positive.
func (r *Ready) geometric(axial []float64) *skyline {
	g := r.skyline()
	for i, n := range axial {
		if n == 0 {
			continue
		}
		e := &r.elements[i]
		k := r.frame.Members[i].geometric(-n, e.length)
		if e.released {
			k = e.constrained(&k)
		}
		r.spread(g, &r.pieces[i], &k)
	}
	return g
}

// geometric is the consistent geometric stiffness of a member under tension n, at
// its centroid; with it twists the polar part n (Iy+Iz)/A.
func (m *Member) geometric(n, l float64) (k dozen) {
	pair := func(i, j int, v float64) { k[i][j], k[j][i] = v, v }
	bend := func(shift, turn int, sign float64) {
		a, b := n*6/(5*l), sign*n/10
		k[shift][shift], k[shift+6][shift+6] = a, a
		pair(shift, shift+6, -a)
		pair(shift, turn, b)
		pair(shift, turn+6, b)
		pair(shift+6, turn, -b)
		pair(shift+6, turn+6, -b)
		k[turn][turn], k[turn+6][turn+6] = n*l*2/15, n*l*2/15
		pair(turn, turn+6, -n*l/30)
	}
	bend(1, 5, 1)
	bend(2, 4, -1)
	t := n * (m.Section.Iy + m.Section.Iz) / (m.Section.Area * l)
	k[3][3], k[9][9] = t, t
	pair(3, 9, -t)
	return k
}

// constrained takes a matrix of all ways of a member to the ways its nodes give
// it: the freed ways go as the rest makes them.
func (e *element) constrained(k *dozen) (out dozen) {
	var follow dozen // column j: all ways where way j of a node is 1
	for j := range 12 {
		var d [12]float64
		d[j] = 1
		e.recover(&d, r3.Vec{})
		for i, v := range d {
			follow[i][j] = v
		}
	}
	var kf dozen
	for i := range kf {
		for n, v := range k[i] {
			for j := range kf {
				kf[i][j] += v * follow[n][j]
			}
		}
	}
	for n := range kf {
		for i, v := range follow[n] {
			for j := range kf {
				out[i][j] += v * kf[n][j]
			}
		}
	}
	return out
}

// times adds the symmetric matrix times x to y.
func (s *skyline) times(x, y []float64) {
	for i := range x {
		row, f := s.row(i), s.first[i]
		last := len(row) - 1
		y[i] += row[last]*x[i] + dot(row[:last], x[f:i])
		for j, v := range row[:last] {
			y[f+j] += v * x[i]
		}
	}
}

// lowest returns the largest eigenvalue μ of −G φ = μ K φ and φ, by Lanczos's
// method on L⁻¹(−G)L⁻ᵀ with all vectors kept square to each other (Golub and Van
// Loan, Matrix Computations, ch. 10, from memory).
func (r *Ready) lowest(g *skyline) (float64, []float64, error) {
	n := r.unknowns
	z := lanczos{next: make([]float64, n)}
	for i := range z.next { // any start that no symmetry of a frame shares
		z.next[i] = 1 + 0.5*math.Sin(1.7*float64(i)+0.3) + 0.25*math.Cos(float64(i)*float64(i))
	}
	tmp := make([]float64, n)
	apply := func(q, out []float64) {
		copy(tmp, q)
		r.factor.back(tmp)
		r.factor.scale(tmp)
		clear(out)
		g.times(tmp, out)
		r.factor.scale(out)
		r.factor.forward(out)
	}
	most := min(n, 600)
	for look := 10; len(z.v) < most; {
		more := z.step(apply)
		if more && len(z.v) < most && len(z.v) < look {
			continue
		}
		look += look / 2
		value, x, ok := z.largest(!more || len(z.v) == n)
		if ok {
			r.factor.back(x)
			r.factor.scale(x)
			return value, x, nil
		}
		if !more {
			break
		}
	}
	return 0, nil, fmt.Errorf("frame %s: its buckling load is not found", r.frame.Name)
}

// lanczos is a matrix as seen from a few vectors: tridiagonal, diag and off.
type lanczos struct {
	v         [][]float64
	diag, off []float64
	next      []float64
}

func (z *lanczos) scale() float64 {
	most := 0.0
	for _, d := range z.diag {
		most = max(most, math.Abs(d))
	}
	for _, d := range z.off {
		most = max(most, d)
	}
	return most
}

// step takes one more vector; false where there is none.
func (z *lanczos) step(apply func(q, out []float64)) bool {
	size := math.Sqrt(dot(z.next, z.next))
	q := make([]float64, len(z.next))
	for i := range q {
		q[i] = z.next[i] / size
	}
	if len(z.v) > 0 {
		z.off = append(z.off, size)
	}
	z.v = append(z.v, q)
	apply(q, z.next)
	z.diag = append(z.diag, dot(q, z.next))
	for range 2 {
		for _, p := range z.v {
			by := dot(p, z.next)
			for i := range z.next {
				z.next[i] -= by * p[i]
			}
		}
	}
	return math.Sqrt(dot(z.next, z.next)) > 1e-12*z.scale()
}

// largest returns the largest eigenvalue and its vector; false where it has not
// settled, unless the vectors are all there are.
func (z *lanczos) largest(whole bool) (float64, []float64, bool) {
	n := len(z.diag)
	t := mat.NewSymDense(n, nil)
	for i, d := range z.diag {
		t.SetSym(i, i, d)
		if i > 0 {
			t.SetSym(i, i-1, z.off[i-1])
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(t, true) {
		return 0, nil, false
	}
	value := eig.Values(nil)[n-1]
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	left := math.Sqrt(dot(z.next, z.next)) * math.Abs(vectors.At(n-1, n-1))
	if !whole && !(left <= 1e-5*math.Abs(value)) { // the value is good to the square of that
		return 0, nil, false
	}
	x := make([]float64, len(z.next))
	for k, q := range z.v {
		by := vectors.At(k, n-1)
		for i := range x {
			x[i] += by * q[i]
		}
	}
	return value, x, true
}

// bent returns the member a piece of which moves most as the frame buckles, and
// the way it moves.
func (r *Ready) bent(x []float64, of []part) (int, r3.Vec) {
	all := make([]float64, len(r.way))
	for i, w := range r.way {
		if w != held {
			all[i] = x[w]
		}
	}
	most, member, shift := 0.0, 0, r3.Vec{}
	for i := range r.frame.Members {
		for _, n := range r.frame.Members[i].Ends {
			s, _ := r.nodeMotion(all, n)
			if v := r3.Norm(s); v > most*(1+1e-9) {
				most, member, shift = v, of[i].member, r3.Scale(1/v, s)
			}
		}
	}
	return member, shift
}
