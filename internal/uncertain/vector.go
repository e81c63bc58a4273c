package uncertain

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Vec is a vector of numbers, in any one frame.
type Vec struct{ X, Y, Z Number }

// ExactVec is a vector without any uncertainty.
func ExactVec(v r3.Vec) Vec { return Vec{Exact(v.X), Exact(v.Y), Exact(v.Z)} }

// SmoothVec is a vector that is a function of numbers, by its value there and
// its partial derivatives: K of each.
func SmoothVec(v r3.Vec, gradient ...WeightedVec) Vec {
	part := func(value float64, of func(r3.Vec) float64) Number {
		var few [8]Weighted
		ws := few[:0]
		for _, g := range gradient {
			ws = append(ws, Weighted{of(g.K), g.N})
		}
		return Smooth(value, ws...)
	}
	return Vec{
		X: part(v.X, func(k r3.Vec) float64 { return k.X }),
		Y: part(v.Y, func(k r3.Vec) float64 { return k.Y }),
		Z: part(v.Z, func(k r3.Vec) float64 { return k.Z }),
	}
}

// WeightedVec is the vector K·N, or the change K that N makes in a vector.
type WeightedVec struct {
	K r3.Vec
	N Number
}

// V is the vector without its uncertainty.
func (v Vec) V() r3.Vec { return r3.Vec{X: v.X.V, Y: v.Y.V, Z: v.Z.V} }

// Plus is v + w.
func (v Vec) Plus(w Vec) Vec { return Vec{v.X.Plus(w.X), v.Y.Plus(w.Y), v.Z.Plus(w.Z)} }

// Minus is v - w.
func (v Vec) Minus(w Vec) Vec { return Vec{v.X.Minus(w.X), v.Y.Minus(w.Y), v.Z.Minus(w.Z)} }

// Times is k·v, k exact.
func (v Vec) Times(k float64) Vec { return Vec{v.X.Times(k), v.Y.Times(k), v.Z.Times(k)} }

// Dot is the scalar product with an exact vector: the component of v along d
// where d has length 1.
func (v Vec) Dot(d r3.Vec) Number {
	return Sum(Weighted{d.X, v.X}, Weighted{d.Y, v.Y}, Weighted{d.Z, v.Z})
}

// Linear is the product of a matrix, given by its columns, and v: a turn, where
// the columns are the turned axes.
func (v Vec) Linear(x, y, z r3.Vec) Vec {
	return SmoothVec(
		r3.Add(r3.Add(r3.Scale(v.X.V, x), r3.Scale(v.Y.V, y)), r3.Scale(v.Z.V, z)),
		WeightedVec{x, v.X}, WeightedVec{y, v.Y}, WeightedVec{z, v.Z},
	)
}

// ellipsoid is where a vector of up to three components lies: its value, the
// covariance of its components (an upper bound of it where signs are unknown),
// and the half width of what straight lines leave out.
type ellipsoid struct {
	at   [3]float64
	cov  [3][3]float64
	k    float64
	bend float64
	// bound says that the covariance is an upper bound, of signs nobody knows.
	bound bool
}

// scattered works out where the vector of some numbers lies.
func scattered(parts []Number) ellipsoid {
	e := ellipsoid{}
	var rest [3][]term
	var from *Sources
	for i, p := range parts {
		e.at[i], rest[i] = p.V, p.terms
		e.bend = math.Hypot(e.bend, p.bend)
		from = related(from, p.from)
	}
	var pools []groupVec
	var unknown []signedVec
	for {
		id, flags := None, uint32(0)
		for _, r := range rest {
			if len(r) > 0 && (id == None || r[0].id < id) {
				id, flags = r[0].id, r[0].flags
			}
		}
		if id == None {
			break
		}
		c := [3]float64{}
		for i, r := range rest {
			if len(r) > 0 && r[0].id == id {
				c[i], rest[i] = r[0].c, r[1:]
			}
		}
		if flags&turns != 0 {
			unknown = addSigned(unknown, from.all[id-1].sign, id, c)
			continue
		}
		addOuter(&e.cov, c, 1)
		if flags&estimated != 0 {
			pools = addPool(pools, &from.all[id-1], c)
		}
	}
	e.bound = len(unknown) > 0
	for _, x := range unknown {
		x.into(&e.cov)
	}
	e.k = e.worstFactor(pools)
	return e
}

func addOuter(m *[3][3]float64, c [3]float64, w float64) {
	for i := range 3 {
		for j := range 3 {
			m[i][j] += w * c[i] * c[j]
		}
	}
}

// signedVec is what one source that may turn does to a vector: with its own
// sign, and with signs that nobody knows.
type signedVec struct {
	of      ID
	known   [3]float64
	unknown [][3]float64
}

func addSigned(all []signedVec, of, id ID, c [3]float64) []signedVec {
	at := -1
	for i := range all {
		if all[i].of == of {
			at = i
		}
	}
	if at < 0 {
		all, at = append(all, signedVec{of: of}), len(all)
	}
	if id == of {
		all[at].known = c
	} else {
		all[at].unknown = append(all[at].unknown, c)
	}
	return all
}

// into adds a covariance that is no smaller in any direction than that of any
// choice of signs: for vectors c it is the sum of their lengths times the sum of
// c·cᵀ over the length of c (Cauchy and Schwarz), and exact where all point along
// one line.
func (x signedVec) into(cov *[3][3]float64) {
	all, sum := append(x.unknown, x.known), 0.0
	for _, c := range all {
		sum += length(c)
	}
	for _, c := range all {
		if l := length(c); l > 0 {
			addOuter(cov, c, sum/l)
		}
	}
}

// groupVec is the covariance that one pool gives a vector.
type groupVec struct {
	of  ID
	cov [3][3]float64
	dof float64
}

func addPool(all []groupVec, k *kept, c [3]float64) []groupVec {
	for i := range all {
		if all[i].of == k.pool {
			addOuter(&all[i].cov, c, 1)
			return all
		}
	}
	g := groupVec{of: k.pool, dof: k.DoF}
	addOuter(&g.cov, c, 1)
	return append(all, g)
}

// worstFactor is the largest coverage factor among the components, the principal
// directions and the direction of the vector itself.
func (e *ellipsoid) worstFactor(pools []groupVec) float64 {
	if len(pools) == 0 {
		return Coverage
	}
	_, axes := e.principal()
	worst := Coverage
	for _, d := range [...][3]float64{{1}, {0, 1}, {0, 0, 1}, axes[0], axes[1], axes[2], e.at} {
		total, below := form(e.cov, d), 0.0
		for _, g := range pools {
			s := form(g.cov, d)
			below += s * s / g.dof
		}
		if below > 0 {
			worst = max(worst, factor(total*total/below))
		}
	}
	return worst
}

// form is dᵀ·m·d.
func form(m [3][3]float64, d [3]float64) float64 {
	sum := 0.0
	for i := range 3 {
		for j := range 3 {
			sum += d[i] * m[i][j] * d[j]
		}
	}
	return sum
}

func length(c [3]float64) float64 { return math.Sqrt(c[0]*c[0] + c[1]*c[1] + c[2]*c[2]) }

// principal returns the eigenvalues of the covariance, none negative, and its
// unit eigenvectors: Jacobi's rotations.
func (e *ellipsoid) principal() (values [3]float64, axes [3][3]float64) {
	m := e.cov
	axes = [3][3]float64{{1}, {0, 1}, {0, 0, 1}} // by rows
	for range 12 {
		off := m[0][1]*m[0][1] + m[0][2]*m[0][2] + m[1][2]*m[1][2]
		if trace := m[0][0] + m[1][1] + m[2][2]; off <= 1e-30*trace*trace {
			break
		}
		for _, pq := range [...][2]int{{0, 1}, {0, 2}, {1, 2}} {
			rotate(&m, &axes, pq[0], pq[1])
		}
	}
	for i := range 3 {
		values[i] = max(0, m[i][i])
	}
	return values, axes
}

// rotate makes m[p][q] zero.
func rotate(m, axes *[3][3]float64, p, q int) {
	if m[p][q] == 0 {
		return
	}
	theta := (m[q][q] - m[p][p]) / (2 * m[p][q])
	t := math.Copysign(1, theta) / (math.Abs(theta) + math.Sqrt(1+theta*theta))
	c := 1 / math.Sqrt(1+t*t)
	s := t * c
	for k := range 3 {
		m[k][p], m[k][q] = c*m[k][p]-s*m[k][q], s*m[k][p]+c*m[k][q]
	}
	for k := range 3 {
		m[p][k], m[q][k] = c*m[p][k]-s*m[q][k], s*m[p][k]+c*m[q][k]
		axes[p][k], axes[q][k] = c*axes[p][k]-s*axes[q][k], s*axes[p][k]+c*axes[q][k]
	}
}
