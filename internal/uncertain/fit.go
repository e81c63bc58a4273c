package uncertain

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// ErrCovariance is returned for a matrix that no errors can have.
var ErrCovariance = errors.New("the covariance is not one: some combination would have less than no variance")

// Correlated adds the sources behind numbers whose covariance is known, such as
// the unknowns of a fit: by the factor L of cov = L·Lᵀ (Cholesky; by eigenvectors
// where cov leaves some combination without variance) each is its value and a
// row of L times errors of standard uncertainty 1. All sources have the one
// label. dof is that of the fit when its covariance was scaled by its residuals,
// 0 when it follows from stated uncertainties.
func (s *Sources) Correlated(label string, values []float64, cov mat.Symmetric, dof float64) ([]Number, error) {
	n := len(values)
	if cov.SymmetricDim() != n {
		return nil, fmt.Errorf("%s: %d values and a covariance of %d", label, n, cov.SymmetricDim())
	}
	root, err := rootOf(cov)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", label, err)
	}
	ids := make([]ID, n)
	for j := range ids {
		src := Source{Label: label, U: 1, DoF: dof}
		if dof != 0 && j > 0 {
			src.Pool = ids[0]
		}
		if ids[j], err = s.Add(src); err != nil {
			return nil, err
		}
	}
	out := make([]Number, n)
	for i, v := range values {
		parts := make([]Part, n)
		for j, id := range ids {
			parts[j] = Part{id, root.At(i, j)}
		}
		out[i] = s.Number(v, parts...)
	}
	return out, nil
}

// rootOf is a matrix L with L·Lᵀ = cov: the standard deviations times the root of
// the correlations, which lie between -1 and 1 whatever the units are.
func rootOf(cov mat.Symmetric) (*mat.Dense, error) {
	n := cov.SymmetricDim()
	d, r := make([]float64, n), mat.NewSymDense(n, nil)
	for i := range n {
		v := cov.At(i, i)
		if !(v >= 0) || math.IsInf(v, 1) {
			return nil, ErrCovariance
		}
		d[i] = math.Sqrt(v)
	}
	for i := range n {
		r.SetSym(i, i, 1)
		for j := range i {
			v := cov.At(i, j)
			if u := d[i] * d[j]; u > 0 {
				v /= u
			}
			if !(math.Abs(v) <= 1+1e-9) || v != 0 && (d[i] == 0 || d[j] == 0) {
				return nil, ErrCovariance
			}
			r.SetSym(i, j, v)
		}
	}
	root, err := rootOfCorrelations(r)
	if err != nil {
		return nil, err
	}
	for i := range n {
		for j := range n {
			root.Set(i, j, d[i]*root.At(i, j))
		}
	}
	return root, nil
}

func rootOfCorrelations(r *mat.SymDense) (*mat.Dense, error) {
	n := r.SymmetricDim()
	var chol mat.Cholesky
	if chol.Factorize(r) {
		var l mat.TriDense
		chol.LTo(&l)
		return mat.DenseCopyOf(&l), nil
	}
	var eig mat.EigenSym
	if !eig.Factorize(drop(r), true) {
		return nil, ErrCovariance
	}
	values := eig.Values(nil)
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	root := mat.NewDense(n, n, nil)
	for j, v := range values {
		if v < -1e-9 {
			return nil, ErrCovariance
		}
		for i := range n {
			root.Set(i, j, vectors.At(i, j)*math.Sqrt(max(0, v)))
		}
	}
	return root, nil
}

// drop is a symmetric matrix with entries up to about 1, without those that are
// nothing beside it: they upset the search for eigenvalues.
func drop(m *mat.SymDense) *mat.SymDense {
	n := m.SymmetricDim()
	out := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			if v := m.At(i, j); math.Abs(v) > 1e-30 {
				out.SetSym(i, j, v)
			}
		}
	}
	return out
}

// Shared are the errors that several of the numbers rest on: each a row of what one
// standard uncertainty of it does to each of the numbers. own is the standard
// uncertainty of what is left of each, which it has alone. What is nothing beside the
// uncertainties of all that rest on it stays with them. Never are they more than the
// numbers: where more errors are shared, they are put together to as many that do the
// same to all of them.
func Shared(of []Number) (common [][]float64, labels []string, own []float64) {
	const nothing = 1e-3 // of a standard uncertainty
	own = make([]float64, len(of))
	users, from := map[ID]int{}, map[ID]*Sources{}
	for _, n := range of {
		u := n.U()
		for _, t := range n.terms {
			if math.Abs(t.c) > nothing*u {
				users[t.id]++
				from[t.id] = n.from
			}
		}
	}
	row := map[ID]int{}
	for i, n := range of {
		left := n.variance()
		for _, t := range n.terms {
			if users[t.id] < 2 {
				continue
			}
			k, ok := row[t.id]
			if !ok {
				k = len(common)
				row[t.id] = k
				common, labels = append(common, make([]float64, len(of))), append(labels, from[t.id].Source(t.id).Label)
			}
			common[k][i] = t.c
			left -= t.c * t.c
		}
		own[i] = math.Sqrt(max(left, 0))
	}
	if len(common) > len(of) {
		common = together(common)
		labels = make([]string, len(common))
		for k := range labels {
			labels[k] = "errors that they share"
		}
	}
	return common, labels, own
}

// together are as many rows as there are columns that make the same covariance of these
// as more rows do: with C = Q·R it is Cᵀ·C = Rᵀ·R.
func together(rows [][]float64) [][]float64 {
	n := len(rows[0])
	c := mat.NewDense(len(rows), n, nil)
	for k, row := range rows {
		c.SetRow(k, row)
	}
	var qr mat.QR
	qr.Factorize(c)
	var r mat.Dense
	qr.RTo(&r)
	out := make([][]float64, n)
	for k := range out {
		out[k] = mat.Row(nil, k, &r)
	}
	return out
}
