package seat

import "math"

// six is a 6×6 matrix, [row][column].
type six [6][6]float64

// norm is the largest sum of sizes along a row.
func (k *six) norm() float64 {
	most := 0.0
	for _, row := range k {
		sum := 0.0
		for _, v := range row {
			sum += math.Abs(v)
		}
		most = max(most, sum)
	}
	return most
}

// inverse is found by elimination with the largest of each column as its pivot
// (Gauss and Jordan; Golub and Van Loan, Matrix Computations). False where one
// is 0.
func (k *six) inverse() (six, bool) {
	a, inv := *k, six{}
	for i := range inv {
		inv[i][i] = 1
	}
	for c := range a {
		pivot := c
		for r := c + 1; r < len(a); r++ {
			if math.Abs(a[r][c]) > math.Abs(a[pivot][c]) {
				pivot = r
			}
		}
		if !(math.Abs(a[pivot][c]) > 0) {
			return six{}, false
		}
		a[c], a[pivot] = a[pivot], a[c]
		inv[c], inv[pivot] = inv[pivot], inv[c]
		by := 1 / a[c][c]
		for j := range a {
			a[c][j] *= by
			inv[c][j] *= by
		}
		for r := range a {
			by := a[r][c]
			if r == c || by == 0 {
				continue
			}
			for j := range a {
				a[r][j] -= by * a[c][j]
				inv[r][j] -= by * inv[c][j]
			}
		}
	}
	return inv, true
}

// holds reports whether the symmetric part is positive definite, so that any
// small push is answered by a push back: by Cholesky's factors.
func (k *six) holds() bool {
	var l six
	for i := range k {
		for j := range i + 1 {
			sum := (k[i][j] + k[j][i]) / 2
			for n := range j {
				sum -= l[i][n] * l[j][n]
			}
			switch {
			case i != j:
				l[i][j] = sum / l[j][j]
			case !(sum > 0):
				return false
			default:
				l[i][i] = math.Sqrt(sum)
			}
		}
	}
	return true
}
