package tape

import (
	"context"
	"math"
	"math/bits"
	"slices"

	"fitup/internal/abreast"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Mirror is another place where points could be as well.
type Mirror struct {
	Points []int
	At     []r3.Vec // of each of them
}

// asWell is how much larger the sum of squares may be for another answer to be
// held for possible: the 0.1 % point of chi-squared with one degree of freedom.
const asWell = 10.83

// Mirrors looks for other answers that fit as well as f: a point on the other side
// of the line or plane through those it was measured from, and, seen from above, a
// part of the network folded over the line between two points that alone hold it, or
// all of it over the line on which the known points lie. What of a network without known
// points fits only by being turned over as a whole is not looked for: which side is which
// is for the datum to say.
func (n *Net) Mirrors(ctx context.Context, f *Fit) ([]Mirror, error) {
	around, of := n.around(), n.ofEach()
	aside := make([]*Mirror, len(n.points))
	abreast.Each(len(n.points), func(p int) {
		if m, ok := n.otherSide(ctx, f, p, around[p], of[p]); ok {
			aside[p] = &m
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var out []Mirror
	for _, m := range aside {
		if m != nil {
			out = append(out, *m)
		}
	}
	for _, m := range append(n.folds(f, around), n.turnedOver(f)...) {
		if len(m.Points) > 1 || !slices.ContainsFunc(out, func(o Mirror) bool { return slices.Equal(o.Points, m.Points) }) {
			out = append(out, m)
		}
	}
	return out, nil
}

// turnedOver is the whole network on the other side of the line on which its known points
// lie, seen from above; nothing where it has fewer than two, or they lie on no line.
func (n *Net) turnedOver(f *Fit) []Mirror {
	var known, part []int
	for i, p := range n.points {
		switch {
		case !p.Free[0] && !p.Free[1]:
			known = append(known, i)
		default:
			part = append(part, i)
		}
	}
	far, ends := 0.0, [2]r3.Vec{}
	for i, a := range known {
		for _, b := range known[:i] {
			p, q := n.points[a].At, n.points[b].At
			if d := apart(p, q, true); d > far {
				far, ends = d, [2]r3.Vec{p, q}
			}
		}
	}
	if far == 0 || len(part) == 0 {
		return nil
	}
	const off = 1e-3 // of its length that a known point may lie beside the line
	for _, k := range known {
		if there, ok := reflected(n.points[k].At, ends[:], false); !ok || apart(there, n.points[k].At, true) > 2*off*far {
			return nil
		}
	}
	if m, ok := n.folded(f, part, ends[0], ends[1]); ok {
		return []Mirror{m}
	}
	return nil
}

// around lists the points that were measured together with each.
func (n *Net) around() [][]int {
	seen := map[[2]int]bool{}
	out := make([][]int, len(n.points))
	for i := range n.measure {
		_, points := n.Between(i)
		for _, a := range points {
			for _, b := range points {
				if a != b && !seen[[2]int{a, b}] {
					seen[[2]int{a, b}] = true
					out[a] = append(out[a], b)
				}
			}
		}
	}
	return out
}

// ofEach lists the observations that have to do with each point.
func (n *Net) ofEach() [][]Observation {
	out := make([][]Observation, len(n.points))
	for i, o := range n.observations() {
		_, points := n.Between(i)
		for k, p := range points {
			if !slices.Contains(points[:k], p) {
				out[p] = append(out[p], o)
			}
		}
	}
	return out
}

// otherSide tries the place of one point mirrored in those around it, all others
// where they are: in the plane through them, and at its own height. of are the
// observations that have to do with it.
func (n *Net) otherSide(ctx context.Context, f *Fit, point int, around []int, of []Observation) (Mirror, bool) {
	free := n.points[point].Free
	if !free[0] || !free[1] || len(around) < 2 || len(around) > 12 {
		return Mirror{}, false
	}
	if m, ok := n.reflectedIn(ctx, f, point, around, of, free[2]); ok || !free[2] {
		return m, ok
	}
	return n.reflectedIn(ctx, f, point, around, of, false)
}

// reflectedIn is otherSide in space, or seen from above.
func (n *Net) reflectedIn(ctx context.Context, f *Fit, point int, around []int, of []Observation, space bool) (Mirror, bool) {
	here := n.Where(point, f.X)
	there, ok := reflected(here, n.places(around, f.X), space)
	if !ok {
		return Mirror{}, false
	}
	own := Problem{Observations: make([]Observation, 0, len(of))}
	rest := part{whole: slices.Clone(f.X)}
	at := [3]float64{there.X, there.Y, there.Z}
	for k := range 3 {
		if u := n.first[point][k]; u >= 0 {
			rest.unknowns = append(rest.unknowns, u)
			own.Start = append(own.Start, at[k])
		}
	}
	before := 0.0
	for _, o := range of {
		l := (o.Value - o.Of.At(f.X)) / o.Sigma
		before += l * l
		rest.of = o.Of
		o.Of = rest
		own.Observations = append(own.Observations, o)
	}
	g, err := Solve(ctx, own)
	if err != nil || g.SumSquare-before > asWell {
		return Mirror{}, false
	}
	if there = n.Where(point, rest.with(g.X)); r3.Norm(r3.Sub(there, here)) < 6*n.sure(f, point) {
		return Mirror{}, false
	}
	return Mirror{Points: []int{point}, At: []r3.Vec{there}}, true
}

// sure is the largest standard uncertainty of a point's coordinates.
func (n *Net) sure(f *Fit, point int) float64 {
	most := 0.0
	for _, u := range n.first[point] {
		if u >= 0 {
			most = max(most, f.Sigma(u))
		}
	}
	return most
}

func (n *Net) places(points []int, x []float64) []r3.Vec {
	out := make([]r3.Vec, len(points))
	for i, p := range points {
		out[i] = n.Where(p, x)
	}
	return out
}

// part is a function of some of the unknowns, the others where they are. Several of one
// problem may work in one whole.
type part struct {
	of       Function
	whole    []float64
	unknowns []int
}

// with is all unknowns, those of the part as given, until it is asked again.
func (p part) with(x []float64) []float64 {
	for k, u := range p.unknowns {
		p.whole[u] = x[k]
	}
	return p.whole
}

// At implements Function.
func (p part) At(x []float64) float64 { return p.of.At(p.with(x)) }

// Partials implements Function.
func (p part) Partials(x []float64, add func(unknown int, d float64)) {
	p.of.Partials(p.with(x), func(u int, d float64) {
		for k, v := range p.unknowns {
			if u == v {
				add(k, d)
			}
		}
	})
}

// reflected mirrors p in the best line (seen from above) or plane through the
// others. False when they lie in one place, or in space on one line.
func reflected(p r3.Vec, others []r3.Vec, space bool) (r3.Vec, bool) {
	centre := r3.Vec{}
	for _, o := range others {
		centre = r3.Add(centre, r3.Scale(1/float64(len(others)), o))
	}
	size := 2
	if space {
		size = 3
	}
	spread := mat.NewSymDense(size, nil)
	for _, o := range others {
		d := r3.Sub(o, centre)
		v := [3]float64{d.X, d.Y, d.Z}
		for i := range size {
			for j := i; j < size; j++ {
				spread.SetSym(i, j, spread.At(i, j)+v[i]*v[j])
			}
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(spread, true) {
		return r3.Vec{}, false
	}
	values := eig.Values(nil) // ascending
	if values[1] <= 1e-9*values[size-1] && space || values[size-1] <= 0 {
		return r3.Vec{}, false
	}
	var v mat.Dense
	eig.VectorsTo(&v)
	normal := r3.Vec{X: v.At(0, 0), Y: v.At(1, 0)}
	if space {
		normal.Z = v.At(2, 0)
	}
	return r3.Sub(p, r3.Scale(2*r3.Dot(normal, r3.Sub(p, centre)), normal)), true
}

// maxFold is the number of points up to which pairs that hold a part are sought: a set of
// them is one word.
const maxFold = 60

// folds finds parts of two points and more that hang on two points alone, and fit
// as well folded over the line between those.
func (n *Net) folds(f *Fit, around [][]int) []Mirror {
	if len(n.points) > maxFold {
		return nil
	}
	near := make([]uint64, len(n.points))
	for p, others := range around {
		for _, q := range others {
			near[p] |= 1 << q
		}
	}
	var out []Mirror
	for b := range n.points {
		for a := range b {
			for _, part := range without(a, b, near) {
				if len(part) < 2 {
					continue
				}
				if m, ok := n.folded(f, part, n.Where(a, f.X), n.Where(b, f.X)); ok {
					out = append(out, m)
				}
			}
		}
	}
	return out
}

// without lists the parts into which the network falls with two points taken out,
// the largest left out: it is the others that fold. Known points do not fold.
func without(a, b int, near []uint64) [][]int {
	left := uint64(1)<<len(near) - 1
	left &^= 1<<a | 1<<b
	var parts []uint64
	largest := -1
	for left != 0 {
		part, fresh := uint64(0), left&-left
		for fresh != 0 {
			part |= fresh
			reached := uint64(0)
			for s := fresh; s != 0; s &= s - 1 {
				reached |= near[bits.TrailingZeros64(s)]
			}
			fresh = reached & left &^ part
		}
		left &^= part
		parts = append(parts, part)
		if largest < 0 || bits.OnesCount64(part) > bits.OnesCount64(parts[largest]) {
			largest = len(parts) - 1
		}
	}
	var out [][]int
	for k, part := range parts {
		if k == largest {
			continue
		}
		var points []int
		for s := part; s != 0; s &= s - 1 {
			points = append(points, bits.TrailingZeros64(s))
		}
		out = append(out, points)
	}
	return out
}

func (n *Net) folded(f *Fit, points []int, a, b r3.Vec) (Mirror, bool) {
	x := append([]float64(nil), f.X...)
	m := Mirror{Points: points}
	moved := 0.0
	for _, p := range points {
		if !n.points[p].Free[0] || !n.points[p].Free[1] {
			return Mirror{}, false
		}
		here := n.Where(p, f.X)
		there, ok := reflected(here, []r3.Vec{a, b}, false)
		if !ok {
			return Mirror{}, false
		}
		moved = max(moved, r3.Norm(r3.Sub(there, here))/max(n.sure(f, p), 1e-300))
		x[n.first[p][0]], x[n.first[p][1]] = there.X, there.Y
		m.At = append(m.At, there)
	}
	sum := n.Problem().square(x)
	return m, moved > 6 && !math.IsInf(sum, 1) && sum-f.SumSquare <= asWell
}
