// Package rail is a frame rail as a beam of stepped stiffness: on its spring hangers or
// towers in bending, between its axles in torsion.
//
// X is the station, to the rear, mm; forces are N and positive down for loads, up for
// what bearings push; a moment (N·mm) is positive where the rail sags, so that its
// bottom is pulled; deflections are mm and positive down; EI is N·mm².
//
// The rail is straight in side view and bends in its own plane (Euler and Bernoulli:
// no shear flexibility). Screening figures.
package rail

import (
	"math"
	"slices"
	"sort"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
)

// Piece is a piece of the rail of one stiffness.
type Piece struct {
	From, To float64
	EI       float64 // N·mm²
}

// Bearing is what carries the rail: a single place, or places that share one force
// whatever the rail does, as the two hangers of a leaf spring do. Shares add up to 1.
type Bearing struct {
	At, Share []float64
}

// Load presses down on a length, evenly, or on one place where From is To.
type Load struct {
	From, To, Force float64
}

// Beam is a rail with what it carries and is carried by.
type Beam struct {
	Name     string
	Pieces   []Piece // one behind the other, front to rear, without gaps
	Bearings []Bearing
	Loads    []Load
}

// Bent is a beam under its loads.
type Bent struct {
	Reactions []float64 // of each bearing, up
	xs        []float64 // where anything changes
	m, v      []float64 // moment and shear just behind each of xs
	spread    []float64 // load per mm behind each
	w, turn   []float64 // deflection and its slope at each
	ei        []float64
}

// Solve bends the beam. The moments are those of all forces in front of a place; the
// deflection is M/EI integrated twice, exactly; the reactions are those for which
// forces and moments balance and no bearing gives (the force method). Fails, naming
// the rail, on pieces that do not follow each other, on fewer than two bearings or two
// at one place, and on what does not stand on the rail.
func (b Beam) Solve() (*Bent, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	from, to := b.Pieces[0].From, b.Pieces[len(b.Pieces)-1].To
	l := to - from
	r := b.grid()
	n := len(b.Bearings)
	// One shape for each bearing pushing up with 1 N, one for the loads.
	shapes := make([]shape, n+1)
	for i, s := range b.Bearings {
		up := make([]Load, len(s.At))
		for j, x := range s.At {
			up[j] = Load{x, x, -s.Share[j]}
		}
		shapes[i] = r.shapeOf(up)
	}
	shapes[n] = r.shapeOf(b.Loads)

	// Unknowns: reactions by the beam's own stiffness, the front end's place, its slope.
	unit := 0.0
	for _, p := range b.Pieces {
		unit = max(unit, p.EI/(l*l*l))
	}
	a, rhs := mat.NewDense(n+2, n+2, nil), mat.NewVecDense(n+2, nil)
	for i, s := range b.Bearings {
		arm := 0.0
		for j, x := range s.At {
			for k := range n {
				a.Set(i, k, a.At(i, k)+s.Share[j]*shapes[k].at(r, x)*unit)
			}
			rhs.SetVec(i, rhs.AtVec(i)-s.Share[j]*shapes[n].at(r, x))
			arm += s.Share[j] * (x - from) / l
		}
		a.Set(i, n, 1)
		a.Set(i, n+1, arm)
		a.Set(n, i, 1)
		a.Set(n+1, i, arm)
	}
	for _, p := range b.Loads {
		rhs.SetVec(n, rhs.AtVec(n)+p.Force/unit)
		rhs.SetVec(n+1, rhs.AtVec(n+1)+p.Force/unit*((p.From+p.To)/2-from)/l)
	}
	var lu mat.LU
	lu.Factorize(a)
	if c := lu.Cond(); !(c < 1e12) {
		return nil, b.bad("its bearings do not hold it: they lie at one place")
	}
	var x mat.VecDense
	if err := lu.SolveVecTo(&x, false, rhs); err != nil {
		return nil, b.bad("its bearings do not hold it: they lie at one place")
	}
	for i := range n {
		r.Reactions = append(r.Reactions, x.AtVec(i)*unit)
	}
	r.add(shapes, x.AtVec(n), x.AtVec(n+1)/l)
	if !geom.Finite(r.w...) || !geom.Finite(r.m...) {
		return nil, b.bad("its loads or stiffness are no usable numbers")
	}
	return r, nil
}

func (b Beam) bad(format string, args ...any) error {
	return geom.PartFault("rail", b.Name, format, args...)
}

func (b Beam) check() error {
	if len(b.Pieces) == 0 {
		return b.bad("it has no length")
	}
	for i, p := range b.Pieces {
		switch {
		case !(math.Abs(p.From) <= geom.LimitLength) || !(p.To > p.From) || p.To > geom.LimitLength:
			return b.bad("piece %d runs from %.4g to %.4g mm, which is no length", i+1, p.From, p.To)
		case i > 0 && math.Abs(p.From-b.Pieces[i-1].To) > 1e-6:
			return b.bad("piece %d begins at %.4g mm and the one before it ends at %.4g", i+1, p.From, b.Pieces[i-1].To)
		case !(p.EI > geom.Least && p.EI < 1e24):
			return b.bad("piece %d has no stiffness", i+1)
		}
	}
	if len(b.Bearings) < 2 {
		return b.bad("it has %d bearings; want two at least", len(b.Bearings))
	}
	return b.checkPlaces()
}

// checkPlaces refuses what does not stand on the rail.
func (b Beam) checkPlaces() error {
	from, to := b.Pieces[0].From, b.Pieces[len(b.Pieces)-1].To
	on := func(x float64) bool { return x >= from-1e-6 && x <= to+1e-6 }
	for _, s := range b.Bearings {
		sum := 0.0
		if len(s.At) == 0 || len(s.At) != len(s.Share) {
			return b.bad("a bearing has %d places and %d shares", len(s.At), len(s.Share))
		}
		for i, x := range s.At {
			if !on(x) {
				return b.bad("a bearing at %.4g mm is not on the rail, which runs from %.4g to %.4g mm", x, from, to)
			}
			sum += s.Share[i]
		}
		if math.Abs(sum-1) > 1e-9 {
			return b.bad("the shares of a bearing add up to %g", sum)
		}
	}
	for _, p := range b.Loads {
		if !geom.LoadOK(p.Force) || !on(p.From) || !on(p.To) || p.To < p.From {
			return b.bad("a load from %.4g to %.4g mm is not on the rail, which runs from %.4g to %.4g mm", p.From, p.To, from, to)
		}
	}
	return nil
}

// grid sets up where anything changes.
func (b Beam) grid() *Bent {
	var xs []float64
	for _, p := range b.Pieces {
		xs = append(xs, p.From, p.To)
	}
	for _, s := range b.Bearings {
		xs = append(xs, s.At...)
	}
	for _, p := range b.Loads {
		xs = append(xs, p.From, p.To)
	}
	from, to := b.Pieces[0].From, b.Pieces[len(b.Pieces)-1].To
	for i := range xs {
		xs[i] = min(max(xs[i], from), to)
	}
	slices.Sort(xs)
	xs = slices.CompactFunc(xs, func(a, c float64) bool { return math.Abs(c-a) < 1e-6 })
	r := &Bent{xs: xs, ei: make([]float64, len(xs))}
	for i := range xs {
		at := xs[i]
		if i+1 < len(xs) {
			at = (xs[i] + xs[i+1]) / 2
		}
		k := sort.Search(len(b.Pieces)-1, func(k int) bool { return b.Pieces[k].To > at })
		r.ei[i] = b.Pieces[k].EI
	}
	return r
}

// shape is what forces do to the rail with its front end held level and fast, all
// forces in front of a place counted.
type shape struct {
	m, v, q, w, turn []float64
}

// shapeOf works out a shape on the grid. Between two of its places the moment is
// m + v·s - q·s²/2, and the slope turns by -M/EI.
func (r *Bent) shapeOf(loads []Load) shape {
	n := len(r.xs)
	s := shape{make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)}
	for i := range r.xs {
		if i > 0 {
			d := r.xs[i] - r.xs[i-1]
			m, v, q, ei := s.m[i-1], s.v[i-1], s.q[i-1], r.ei[i-1]
			s.m[i] = m + v*d - q*d*d/2
			s.v[i] = v - q*d
			s.turn[i] = s.turn[i-1] - (m*d+v*d*d/2-q*d*d*d/6)/ei
			s.w[i] = s.w[i-1] + s.turn[i-1]*d - (m*d*d/2+v*d*d*d/6-q*d*d*d*d/24)/ei
		}
		for _, p := range loads {
			switch from, to := r.index(p.From), r.index(p.To); {
			case from == to:
				if from == i {
					s.v[i] -= p.Force
				}
			case from <= i && i < to:
				s.q[i] += p.Force / (r.xs[to] - r.xs[from])
			}
		}
	}
	return s
}

// index is the place of the grid nearest to x, which is one of it.
func (r *Bent) index(x float64) int {
	i := sort.SearchFloat64s(r.xs, x-1e-6)
	return min(i, len(r.xs)-1)
}

func (s shape) at(r *Bent, x float64) float64 { return s.w[r.index(x)] }

func (r *Bent) add(shapes []shape, place, slope float64) {
	n := len(r.xs)
	r.m, r.v, r.spread, r.w, r.turn = make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		r.w[i], r.turn[i] = place+slope*(r.xs[i]-r.xs[0]), slope
		for k, s := range shapes {
			f := 1.0
			if k < len(r.Reactions) {
				f = r.Reactions[k]
			}
			r.m[i] += f * s.m[i]
			r.v[i] += f * s.v[i]
			r.spread[i] += f * s.q[i]
			r.w[i] += f * s.w[i]
			r.turn[i] += f * s.turn[i]
		}
	}
}

// piece is the piece of the grid that x lies in, and how far behind its front.
func (r *Bent) piece(x float64) (int, float64) {
	i := max(sort.SearchFloat64s(r.xs, x+1e-9)-1, 0)
	return i, x - r.xs[i]
}

// Moment is the bending moment at a station.
func (r *Bent) Moment(x float64) float64 {
	i, d := r.piece(x)
	return r.m[i] + r.v[i]*d - r.spread[i]*d*d/2
}

// Sheared is a shear force (N, without a sense) just in front of or just behind a station.
type Sheared struct{ At, Force float64 }

// Shears are the shear forces at both ends of every stretch without a force in it: the
// largest anywhere is one of them.
func (r *Bent) Shears() []Sheared {
	var out []Sheared
	for i := range len(r.xs) - 1 {
		v := r.v[i]
		out = append(out, Sheared{r.xs[i], math.Abs(v)}, Sheared{r.xs[i+1], math.Abs(v - r.spread[i]*(r.xs[i+1]-r.xs[i]))})
	}
	return out
}

// Deflection is how far a station sinks.
func (r *Bent) Deflection(x float64) float64 {
	i, d := r.piece(x)
	return r.w[i] + r.turn[i]*d - (r.m[i]*d*d/2+r.v[i]*d*d*d/6-r.spread[i]*d*d*d*d/24)/r.ei[i]
}

// Stations are the places where anything changes, and where a spread load makes a
// moment largest between them: no moment between two of them is larger than at both.
func (r *Bent) Stations() []float64 {
	out := slices.Clone(r.xs)
	for i := range len(r.xs) - 1 {
		if q := r.spread[i]; q != 0 {
			if d := r.v[i] / q; d > 0 && d < r.xs[i+1]-r.xs[i] {
				out = append(out, r.xs[i]+d)
			}
		}
	}
	slices.Sort(out)
	return out
}
