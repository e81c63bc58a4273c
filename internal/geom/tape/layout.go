package tape

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// LostError names the points to which no chain of distances leads from the others.
type LostError struct{ Points []string }

func (e *LostError) Error() string {
	return fmt.Sprintf("no distance leads to %d of the points", len(e.Points))
}

// Layout finds about where the points of the network are whose place is a Guess,
// from the distances alone: what was not measured is put at the shortest way over
// what was, and the places follow from all distances between all points (classical
// scaling; W. S. Torgerson, 1952, from memory). Heights come from rises first. The
// whole is laid on the points whose places are known, turned over when it fits
// them better so. Where none are, it lies anyhow, and turned over or not.
//
// It returns a *LostError for points that no distance reaches.
func (n *Net) Layout() error {
	any, inPlan := false, true
	for _, p := range n.points {
		any = any || p.Guess
	}
	if !any {
		return nil
	}
	levelled := n.levels()
	for i, p := range n.points {
		inPlan = inPlan && (!p.Free[2] || !p.Guess || levelled[i])
	}
	way, err := n.ways(inPlan)
	if err != nil {
		return err
	}
	dims := 3
	if inPlan {
		dims = 2
	}
	places := scaled(way, dims)
	n.lay(places, inPlan)
	return nil
}

// Turn puts all points where turn puts them: before the first condition is held.
func (n *Net) Turn(turn func(p r3.Vec) r3.Vec) {
	for i, p := range n.points {
		at := turn(p.At)
		n.move(i, 0, at.X)
		n.move(i, 1, at.Y)
		n.move(i, 2, at.Z)
	}
}

// Put is where a point is to start, as far as it is free.
func (n *Net) Put(point int, at r3.Vec) {
	for k, v := range [3]float64{at.X, at.Y, at.Z} {
		if n.points[point].Free[k] {
			n.move(point, k, v)
		}
	}
}

// levels puts guessed points at the heights that rises and marks give, and says
// which have one.
func (n *Net) levels() []bool {
	has := make([]bool, len(n.points))
	anyKnown := false
	for i, p := range n.points {
		has[i] = !p.Guess
		anyKnown = anyKnown || has[i]
	}
	for i, o := range n.measure {
		if k, p := n.Between(i); k == Coordinate && n.points[p[0]].Guess && o.Of.(between).axis == 2 {
			n.move(p[0], 2, o.Value)
			has[p[0]], anyKnown = true, true
		}
	}
	for again := true; again; {
		again = false
		for i, o := range n.measure {
			k, p := n.Between(i)
			if k != Rise {
				continue
			}
			a, b := p[0], p[1]
			if !anyKnown { // the first levelled point is as good as any
				n.move(a, 2, 0)
				has[a], anyKnown = true, true
			}
			switch {
			case has[a] && !has[b]:
				n.move(b, 2, n.points[a].At.Z+o.Value)
				has[b], again = true, true
			case has[b] && !has[a]:
				n.move(a, 2, n.points[b].At.Z-o.Value)
				has[a], again = true, true
			}
		}
	}
	return has
}

// move sets one coordinate of where a point starts.
func (n *Net) move(point, axis int, v float64) {
	p := &n.points[point].At
	*[3]*float64{&p.X, &p.Y, &p.Z}[axis] = v
	if u := n.first[point][axis]; u >= 0 {
		n.start[u] = v
	}
}

// ways returns the shortest ways between all points over what was measured, in the
// plan or in space; between known points the distance is known.
func (n *Net) ways(inPlan bool) ([][]float64, error) {
	m := len(n.points)
	way := make([][]float64, m)
	for i := range way {
		way[i] = make([]float64, m)
		for j := range way[i] {
			if i != j {
				way[i][j] = math.Inf(1)
				if !n.points[i].Guess && !n.points[j].Guess {
					way[i][j] = apart(n.points[i].At, n.points[j].At, inPlan)
				}
			}
		}
	}
	for i, o := range n.measure {
		k, p := n.Between(i)
		if k != Distance {
			continue
		}
		d := o.Value
		if inPlan {
			up := n.points[p[0]].At.Z - n.points[p[1]].At.Z
			d = math.Sqrt(max(d*d-up*up, 0))
		}
		if n.points[p[0]].Guess || n.points[p[1]].Guess {
			way[p[0]][p[1]] = min(way[p[0]][p[1]], d)
			way[p[1]][p[0]] = way[p[0]][p[1]]
		}
	}
	for k, through := range way { // (R. W. Floyd, 1962)
		for _, row := range way {
			to := row[k]
			if math.IsInf(to, 1) {
				continue
			}
			for j, on := range through {
				if d := to + on; d < row[j] {
					row[j] = d
				}
			}
		}
	}
	var lost []string
	for i := range m {
		if math.IsInf(way[0][i], 1) {
			lost = append(lost, n.points[i].Name)
		}
	}
	if len(lost) > 0 {
		return nil, &LostError{lost}
	}
	return way, nil
}

func apart(a, b r3.Vec, inPlan bool) float64 {
	d := r3.Sub(a, b)
	if inPlan {
		d.Z = 0
	}
	return r3.Norm(d)
}

// scaled returns places in so many dimensions whose distances are those given, as
// nearly as they can be.
func scaled(way [][]float64, dims int) []r3.Vec {
	m := len(way)
	b := mat.NewSymDense(m, nil)
	mean := make([]float64, m)
	all := 0.0
	for i := range m {
		for j := range m {
			mean[i] += way[i][j] * way[i][j] / float64(m)
		}
		all += mean[i] / float64(m)
	}
	for i := range m {
		for j := i; j < m; j++ {
			b.SetSym(i, j, -(way[i][j]*way[i][j]-mean[i]-mean[j]+all)/2)
		}
	}
	out := make([]r3.Vec, m)
	values, v, ok := largest(b, min(dims, m))
	if !ok {
		return out
	}
	for k, value := range values {
		root := math.Sqrt(max(value, 0))
		for i := range out {
			*[3]*float64{&out[i].X, &out[i].Y, &out[i].Z}[k] = root * v.At(i, k)
		}
	}
	return out
}

// few is how many rows a matrix has at most of which all eigenvectors are worked out.
const few = 60

// largest returns the largest eigenvalues of b, the first of them first, and their vectors
// as columns. Of a large matrix they are near: by turns of a few more vectors than are
// asked for (simultaneous iteration; H. Rutishauser, 1969, from memory), which is enough
// to start from.
func largest(b *mat.SymDense, count int) ([]float64, *mat.Dense, bool) {
	m := b.SymmetricDim()
	basis, turns := mat.NewDense(m, min(m, count+5), nil), 0
	if m > few {
		turns = 12
		for i := range m { // any start will do
			for j := range basis.RawMatrix().Cols {
				basis.Set(i, j, math.Sin(float64((i+1)*(i+1)+7*i*(j+1))))
			}
		}
	}
	ritz := b
	for range turns {
		var next mat.Dense
		next.Mul(b, basis)
		basis = orthogonal(&next)
	}
	if turns > 0 {
		var turned, small mat.Dense
		turned.Mul(b, basis)
		small.Mul(basis.T(), &turned)
		ritz = mat.NewSymDense(basis.RawMatrix().Cols, nil)
		for i := range ritz.SymmetricDim() {
			for j := i; j < ritz.SymmetricDim(); j++ {
				ritz.SetSym(i, j, (small.At(i, j)+small.At(j, i))/2)
			}
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(ritz, true) {
		return nil, nil, false
	}
	all := eig.Values(nil) // ascending
	var v mat.Dense
	eig.VectorsTo(&v)
	if turns > 0 {
		var back mat.Dense
		back.Mul(basis, &v)
		v = back
	}
	values, out := make([]float64, count), mat.NewDense(m, count, nil)
	for k := range count {
		values[k] = all[len(all)-1-k]
		for i := range m {
			out.Set(i, k, v.At(i, len(all)-1-k))
		}
	}
	return values, out, true
}

// orthogonal makes the columns of a orthogonal to each other and of length 1, twice over
// (Gram and Schmidt).
func orthogonal(a *mat.Dense) *mat.Dense {
	m, n := a.Dims()
	t := mat.DenseCopyOf(a.T())
	for j := range n {
		row := t.RawRowView(j)
		for range 2 {
			for k := range j {
				floats.AddScaled(row, -floats.Dot(row, t.RawRowView(k)), t.RawRowView(k))
			}
		}
		if size := floats.Norm(row, 2); size > 0 {
			floats.Scale(1/size, row)
		}
	}
	out := mat.NewDense(m, n, nil)
	out.Copy(t.T())
	return out
}

// lay lays places on the known points, and puts the guessed points there.
func (n *Net) lay(places []r3.Vec, inPlan bool) {
	var from, to []r3.Vec
	for i, p := range n.points {
		if !p.Guess {
			at := p.At
			if inPlan {
				at.Z = 0
			}
			from, to = append(from, places[i]), append(to, at)
		}
	}
	turn, a, b := laidOn(from, to, inPlan)
	for i, p := range n.points {
		if !p.Guess {
			continue
		}
		at := r3.Add(b, turn(r3.Sub(places[i], a)))
		n.move(i, 0, at.X)
		n.move(i, 1, at.Y)
		if !inPlan {
			n.move(i, 2, at.Z)
		}
	}
}

// laidOn returns how points are turned (and turned over, where that fits better)
// about a to come to lie on others about b (W. Kabsch, 1976, from memory).
func laidOn(from, to []r3.Vec, inPlan bool) (turn func(r3.Vec) r3.Vec, a, b r3.Vec) {
	for i := range from {
		a = r3.Add(a, r3.Scale(1/float64(len(from)), from[i]))
		b = r3.Add(b, r3.Scale(1/float64(len(to)), to[i]))
	}
	same := func(p r3.Vec) r3.Vec { return p }
	if len(from) < 2 {
		return same, a, b
	}
	h := mat.NewDense(3, 3, nil)
	for i := range from {
		p, q := r3.Sub(from[i], a), r3.Sub(to[i], b)
		for r, u := range [3]float64{q.X, q.Y, q.Z} {
			for c, v := range [3]float64{p.X, p.Y, p.Z} {
				h.Set(r, c, h.At(r, c)+u*v)
			}
		}
	}
	if inPlan {
		h.Set(2, 2, 1)
	}
	var svd mat.SVD
	if !svd.Factorize(h, mat.SVDFull) {
		return same, a, b
	}
	var u, v, r mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	r.Mul(&u, v.T())
	return func(p r3.Vec) r3.Vec {
		return r3.Vec{
			X: r.At(0, 0)*p.X + r.At(0, 1)*p.Y + r.At(0, 2)*p.Z,
			Y: r.At(1, 0)*p.X + r.At(1, 1)*p.Y + r.At(1, 2)*p.Z,
			Z: r.At(2, 0)*p.X + r.At(2, 1)*p.Y + r.At(2, 2)*p.Z,
		}
	}, a, b
}
