package tape

import (
	"context"
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// loosePivot is the part of an unknown's own weight that must be left when all
// before it are eliminated. With less the unknown would be known no better than
// to 100,000 times what its own measurements alone would give, which is not at all.
const loosePivot = 1e-10

// factor is the Cholesky factor UᵀU of sparse normal equations that are scaled to
// a diagonal of ones, by fronts (the multifrontal method; I. S. Duff and J. K.
// Reid, 1983, from memory). An unknown that nothing fixes is pinned: a one is
// added to its diagonal.
type factor struct {
	*ordering
	upper [][]float64 // of each front: its width rows, over its size columns
	pins  []int       // positions
}

// assemble puts what belongs to front k into the square matrix f, row by row.
type assemble func(k int, f []float64, size int)

// factorise works out the factor. pinned are positions to be pinned from the
// start; others that turn out loose are added to the pins.
func factorise(ctx context.Context, o *ordering, fill assemble, pinned []int) (*factor, error) {
	f := &factor{ordering: o, upper: make([][]float64, len(o.fronts)), pins: append([]int(nil), pinned...)}
	update := make([][]float64, len(o.fronts)) // what a front leaves to its parent
	waiting := make([][]int, len(o.fronts))
	for k := range o.fronts {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		fr := &o.fronts[k]
		s, w, r := fr.size(), fr.width, len(fr.below)
		m := make([]float64, s*s)
		fill(k, m, s)
		for _, p := range pinned {
			if p >= fr.first && p < fr.first+w {
				m[(p-fr.first)*(s+1)]++
			}
		}
		for _, c := range waiting[k] {
			in, left := o.fronts[c].inParent, update[c]
			for i, p := range in {
				row, from := m[p*s:], left[i*len(in):]
				for j := i; j < len(in); j++ {
					row[in[j]] += from[j]
				}
			}
			update[c] = nil
		}
		f.eliminate(k, m)
		f.upper[k] = m[: w*s : w*s]
		if r == 0 {
			continue
		}
		waiting[fr.parent] = append(waiting[fr.parent], k)
		left := make([]float64, r*r)
		for i := range r {
			copy(left[i*r+i:(i+1)*r], m[(w+i)*s+w+i:(w+i+1)*s])
		}
		blas64.Syrk(blas.Trans, -1, blas64.General{Rows: w, Cols: r, Stride: s, Data: m[w:]},
			1, blas64.Symmetric{N: r, Stride: r, Data: left, Uplo: blas.Upper})
		update[k] = left
		f.upper[k] = append([]float64(nil), f.upper[k]...)
	}
	return f, nil
}

// eliminate factors the own columns of front k in m.
func (f *factor) eliminate(k int, m []float64) {
	fr := &f.fronts[k]
	s, w, r := fr.size(), fr.width, len(fr.below)
	before := make([]float64, w*w)
	for i := range w {
		copy(before[i*w+i:(i+1)*w], m[i*s+i:i*s+w])
	}
	own := blas64.Symmetric{N: w, Stride: s, Data: m, Uplo: blas.Upper}
	_, ok := lapack64.Potrf(own)
	for i := 0; ok && i < w; i++ {
		ok = m[i*(s+1)]*m[i*(s+1)] >= loosePivot
	}
	if !ok {
		for i := range w {
			copy(m[i*s+i:i*s+w], before[i*w+i:(i+1)*w])
		}
		f.pinning(k, m)
	}
	if r > 0 {
		blas64.Trsm(blas.Left, blas.Trans, 1, f.triangle(k, m, s),
			blas64.General{Rows: w, Cols: r, Stride: s, Data: m[w:]})
	}
}

// pinning is the plain Cholesky factor of the own columns of front k, with a pin
// where nothing is left of an unknown's weight.
func (f *factor) pinning(k int, m []float64) {
	fr := &f.fronts[k]
	s, w := fr.size(), fr.width
	for i := range w {
		row := m[i*s : i*s+w]
		if row[i] < loosePivot {
			f.pins = append(f.pins, fr.first+i)
			row[i]++
		}
		d := math.Sqrt(row[i])
		row[i] = d
		for j := i + 1; j < w; j++ {
			row[j] /= d
		}
		for j := i + 1; j < w; j++ {
			v, to := row[j], m[j*s:]
			for c := j; c < w; c++ {
				to[c] -= v * row[c]
			}
		}
	}
}

func (f *factor) triangle(k int, m []float64, stride int) blas64.Triangular {
	return blas64.Triangular{N: f.fronts[k].width, Stride: stride, Data: m, Uplo: blas.Upper, Diag: blas.NonUnit}
}

// solve solves for one right side, given and returned by position, in place.
func (f *factor) solve(b []float64) {
	for k := range f.fronts {
		fr, u := &f.fronts[k], f.upper[k]
		s, w := fr.size(), fr.width
		own := b[fr.first : fr.first+w]
		blas64.Trsv(blas.Trans, f.triangle(k, u, s), blas64.Vector{N: w, Inc: 1, Data: own})
		for i, y := range own {
			row := u[i*s+w : (i+1)*s]
			for j, p := range fr.below {
				b[p] -= row[j] * y
			}
		}
	}
	for k := len(f.fronts) - 1; k >= 0; k-- {
		fr, u := &f.fronts[k], f.upper[k]
		s, w := fr.size(), fr.width
		own := b[fr.first : fr.first+w]
		for i := range own {
			row := u[i*s+w : (i+1)*s]
			for j, p := range fr.below {
				own[i] -= row[j] * b[p]
			}
		}
		blas64.Trsv(blas.NoTrans, f.triangle(k, u, s), blas64.Vector{N: w, Inc: 1, Data: own})
	}
}

// inverse is the part of the inverse that the factor has room for: the rows of
// each front's own unknowns, over all that it has to do with.
type inverse [][]float64

// selected works the inverse out from the last front to the first (K. Takahashi
// and others, 1973, from memory). visit is shown the square of each front in turn,
// which is then let go.
func (f *factor) selected(ctx context.Context, visit func(k int, m []float64, size int)) (inverse, error) {
	z, out := make(inverse, len(f.fronts)), make(inverse, len(f.fronts))
	children := make([]int, len(f.fronts))
	for _, fr := range f.fronts {
		if fr.parent >= 0 {
			children[fr.parent]++
		}
	}
	for k := len(f.fronts) - 1; k >= 0; k-- {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		fr := &f.fronts[k]
		s, w, r := fr.size(), fr.width, len(fr.below)
		m := make([]float64, s*s)
		copy(m, f.upper[k])
		g := blas64.General{Rows: w, Cols: r, Stride: max(r, 1), Data: make([]float64, w*max(r, 1))}
		for i := range w {
			copy(g.Data[i*g.Stride:], m[i*s+w:i*s+s])
		}
		if r > 0 {
			blas64.Trsm(blas.Left, blas.NoTrans, 1, f.triangle(k, m, s), g)
		}
		lapack64.Potri(f.triangle(k, m, s))
		mirror(m, s, w)
		if r > 0 {
			ps, from := f.fronts[fr.parent].size(), z[fr.parent]
			for i, a := range fr.inParent {
				to := m[(w+i)*s+w:]
				for j, b := range fr.inParent {
					to[j] = from[a*ps+b]
				}
			}
			behind := blas64.General{Rows: r, Cols: r, Stride: s, Data: m[w*s+w:]}
			cross := blas64.General{Rows: w, Cols: r, Stride: s, Data: m[w:]}
			blas64.Gemm(blas.NoTrans, blas.NoTrans, -1, g, behind, 0, cross)
			blas64.Gemm(blas.NoTrans, blas.Trans, -1, cross, g, 1, blas64.General{Rows: w, Cols: w, Stride: s, Data: m})
		}
		mirror(m, s, s)
		visit(k, m, s)
		out[k] = append([]float64(nil), m[:w*s]...)
		if children[k] > 0 {
			z[k] = m
		}
		if fr.parent >= 0 {
			if children[fr.parent]--; children[fr.parent] == 0 {
				z[fr.parent] = nil
			}
		}
	}
	return out, nil
}

// mirror copies what stands above the diagonal of the first n rows and columns
// below it.
func mirror(m []float64, stride, n int) {
	for i := range n {
		for j := range i {
			m[i*stride+j] = m[j*stride+i]
		}
	}
}
