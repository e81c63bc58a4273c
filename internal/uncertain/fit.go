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

// rootOf is a matrix L with L·Lᵀ = cov.
func rootOf(cov mat.Symmetric) (*mat.Dense, error) {
	n := cov.SymmetricDim()
	for i := range n {
		for j := range n {
			if v := cov.At(i, j); math.IsNaN(v) || math.IsInf(v, 0) {
				return nil, ErrCovariance
			}
		}
	}
	var chol mat.Cholesky
	if chol.Factorize(cov) {
		var l mat.TriDense
		chol.LTo(&l)
		return mat.DenseCopyOf(&l), nil
	}
	var eig mat.EigenSym
	if !eig.Factorize(cov, true) {
		return nil, ErrCovariance
	}
	values := eig.Values(nil)
	var vectors mat.Dense
	eig.VectorsTo(&vectors)
	most := 0.0
	for _, v := range values {
		most = max(most, math.Abs(v))
	}
	root := mat.NewDense(n, n, nil)
	for j, v := range values {
		if v < -1e-9*most {
			return nil, ErrCovariance
		}
		for i := range n {
			root.Set(i, j, vectors.At(i, j)*math.Sqrt(max(0, v)))
		}
	}
	return root, nil
}
