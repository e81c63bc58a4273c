package section

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r2"
)

// freeEnd is what a wall's free end takes from bt³/3, in t⁴: St Venant's series of a
// narrow rectangle has 0.630 t/b for both ends (Timoshenko and Goodier, from memory).
const freeEnd = 0.105

// together is how near the ends of walls have to be to meet, mm.
const together = 1e-3

// web is walls as a graph: nodes where they end, and which two each wall joins.
type web struct {
	nodes []r2.Vec
	of    [][2]int
	most  []float64 // the thickest wall at each node
	ends  []int     // how many walls end there
}

func (b Built) graph() (web, error) {
	var g web
	node := func(p r2.Vec, t float64) int {
		for i, q := range g.nodes {
			if r2.Norm(r2.Sub(p, q)) < together {
				g.ends[i]++
				g.most[i] = max(g.most[i], t)
				return i
			}
		}
		g.nodes, g.most, g.ends = append(g.nodes, p), append(g.most, t), append(g.ends, 1)
		return len(g.nodes) - 1
	}
	for _, w := range b.Walls {
		if !geom.LengthOK(w.T) || !(w.length() > together && w.length() <= 2*geom.LimitLength) {
			return g, b.bad("a wall %.3g mm long and %.3g mm thick is none", w.length(), w.T)
		}
		g.of = append(g.of, [2]int{node(w.A, w.T), node(w.B, w.T)})
	}
	return g, nil
}

func (w Wall) length() float64 { return r2.Norm(r2.Sub(w.B, w.A)) }

// walls sets what rests on the middle lines: torsion, shear areas and shear centre.
//
// For a twist of 1 per mm each wall is sheared by t/l·(2A + w₂ - w₁), A the area that
// it sweeps from the centroid and w how far its ends warp; the flows into each node
// add up to nothing. Open walls then carry no flow, and cells carry Bredt's: one way
// for any number of cells (Vlasov's sectorial area; Kollbrunner and Basler, Torsion,
// from memory). The shear centre is the place about which the warping does no work
// in bending.
func (b Built) walls(f *Figures) error {
	if len(b.Walls) == 0 {
		return nil
	}
	g, err := b.graph()
	if err != nil {
		return err
	}
	warp, pieces, err := b.warping(g, f.Centroid)
	if err != nil {
		return err
	}
	open, most := 0.0, 0.0
	f.Thinnest = math.Inf(1)
	for i, w := range b.Walls {
		l, d := w.length(), r2.Sub(w.B, w.A)
		open += l * w.T * w.T * w.T / 3
		for _, n := range g.of[i] {
			open -= b.endLoss(g, n, w)
		}
		flow := w.T / l * (swept(w, f.Centroid) + warp[g.of[i][1]] - warp[g.of[i][0]])
		f.Cell += flow * swept(w, f.Centroid)
		if math.Abs(flow) > 1e-9*w.T*l {
			f.Closed = true
			f.Thinnest = min(f.Thinnest, w.T)
		}
		f.Thickest = max(f.Thickest, w.T)
		most = max(most, math.Abs(flow)/w.T+w.T) // of the shear, for a twist of 1/G
		f.ShearX += w.T * math.Abs(d.X)
		f.ShearY += w.T * math.Abs(d.Y)
	}
	if !f.Closed {
		f.Cell, f.Thinnest = 0, 0
	}
	f.J = max(open, 0) + f.Cell
	f.Wt = f.J / most
	if pieces == 1 {
		f.shearCentre(b.Walls, g, warp)
	}
	return nil
}

// endLoss is what a wall's end takes from its torsion constant: that of a free end,
// and where it meets thinner walls that of the step.
func (b Built) endLoss(g web, n int, w Wall) float64 {
	fourth := func(t float64) float64 { return t * t * t * t }
	if g.ends[n] == 1 {
		return freeEnd * fourth(w.T)
	}
	next := 0.0
	for i, o := range b.Walls {
		if o != w && (g.of[i][0] == n || g.of[i][1] == n) {
			next = max(next, o.T)
		}
	}
	if next < w.T {
		return freeEnd * (fourth(w.T) - fourth(next))
	}
	return 0
}

// swept is twice the area that a wall sweeps from a pole, positive anticlockwise.
func swept(w Wall, pole r2.Vec) float64 { return r2.Cross(r2.Sub(w.A, pole), r2.Sub(w.B, pole)) }

// warping solves how far each node warps (mm² for a twist of 1 per mm), one node of
// each connected piece at nothing, and says of how many pieces the walls are.
func (b Built) warping(g web, pole r2.Vec) ([]float64, int, error) {
	n := len(g.nodes)
	root := make([]int, n)
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			i = root[i]
		}
		return i
	}
	k, rhs := mat.NewSymDense(n, nil), mat.NewVecDense(n, nil)
	scale := 0.0
	for i, w := range b.Walls {
		p, q := g.of[i][0], g.of[i][1]
		s := w.T / w.length()
		k.SetSym(p, p, k.At(p, p)+s)
		k.SetSym(q, q, k.At(q, q)+s)
		k.SetSym(p, q, k.At(p, q)-s)
		flow := s * swept(w, pole)
		rhs.SetVec(p, rhs.AtVec(p)+flow)
		rhs.SetVec(q, rhs.AtVec(q)-flow)
		scale = max(scale, s)
		root[find(p)] = find(q)
	}
	pieces := 0
	for i := range n {
		if find(i) == i {
			pieces++
			k.SetSym(i, i, k.At(i, i)+scale) // holds this node
		}
	}
	var c mat.Cholesky
	if !c.Factorize(k) {
		return nil, 0, b.bad("its walls do not hang together")
	}
	var x mat.VecDense
	if err := c.SolveVecTo(&x, rhs); err != nil {
		return nil, 0, b.bad("its walls do not hang together")
	}
	return x.RawVector().Data, pieces, nil
}

// shearCentre is where a shear force does not twist the section: warping about the
// centroid, held against bending about either axis (Vlasov).
func (f *Figures) shearCentre(walls []Wall, g web, warp []float64) {
	var area, sw, ix, iy, ixy, wx, wy float64
	var s r2.Vec
	each := func(take func(w Wall, at r2.Vec, warp, da float64)) {
		for i, w := range walls { // Simpson: what is integrated is at most quadratic
			p, q := g.of[i][0], g.of[i][1]
			da := w.T * w.length() / 6
			take(w, w.A, warp[p], da)
			take(w, r2.Scale(0.5, r2.Add(w.A, w.B)), (warp[p]+warp[q])/2, 4*da)
			take(w, w.B, warp[q], da)
		}
	}
	each(func(_ Wall, at r2.Vec, v, da float64) {
		area, sw = area+da, sw+v*da
		s = r2.Add(s, r2.Scale(da, at))
	})
	c := r2.Scale(1/area, s)
	each(func(_ Wall, at r2.Vec, v, da float64) {
		p := r2.Sub(at, c)
		v -= sw / area
		ix, iy, ixy = ix+p.Y*p.Y*da, iy+p.X*p.X*da, ixy+p.X*p.Y*da
		wx, wy = wx+p.X*v*da, wy+p.Y*v*da
	})
	det := ix*iy - ixy*ixy
	if det <= 1e-12*ix*iy || det <= 0 { // all in one line: it is the centroid
		f.ShearCentre, f.HasShearCentre = f.Centroid, true
		return
	}
	f.ShearCentre = r2.Add(f.Centroid, r2.Vec{X: (-wy*iy + wx*ixy) / det, Y: (wx*ix - wy*ixy) / det})
	f.HasShearCentre = true
}
