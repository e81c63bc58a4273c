package uncertain

import "math"

// quadratic is the 97.5 % point of chi-squared with one degree of freedom (any
// table). A sum of squares of standard normal errors with weights of one sign
// exceeds it times the sum of the weights in at most 2.5 % of cases: at this
// level one weight alone is the worst (Székely and Bakirov, 2003, from memory;
// held by simulation).
const quadratic = 5.023886187314888

// bent is the half width of half of error·hessian·error, where the errors are
// those of args: hessian has a row for each, by rows. In independent errors of
// unit size it is a sum of squares with the eigenvalues of the transformed
// hessian as weights; their sum, without signs, times quadratic over 2 bounds it.
func bent(hessian []float64, args []Number) float64 {
	b := bending{args: args}
	b.prepare()
	return b.half(hessian)
}

// bending is bent for several functions of the same arguments.
type bending struct {
	args  []Number
	plain bool // only sizes are known: signs are not, or the correlations have no root
	u     [fullBend]float64
	root  square
}

func (b *bending) prepare() {
	if b.plain = len(b.args) > fullBend || signsIn(b.args); b.plain || len(b.args) < 3 {
		return
	}
	for i := range b.args {
		b.u[i] = b.args[i].U()
	}
	b.plain = !correlationRoot(&b.root, b.args, b.u[:len(b.args)])
}

func (b *bending) half(hessian []float64) float64 {
	switch n := len(b.args); {
	case n == 0:
		return 0
	case b.plain:
		return quadratic / 2 * bySizes(hessian, b.args)
	case n == 1:
		return quadratic / 2 * math.Abs(hessian[0]) * b.args[0].variance()
	case n == 2:
		return quadratic / 2 * ofPair(hessian, b.args)
	}
	return quadratic / 2 * b.ofMany(hessian)
}

func signsIn(args []Number) bool {
	for _, a := range args {
		for _, t := range a.terms {
			if t.flags&turns != 0 {
				return true
			}
		}
	}
	return false
}

// bySizes bounds the sum of the weights whatever the correlation is.
func bySizes(hessian []float64, args []Number) float64 {
	sum := 0.0
	for i, a := range args {
		for j, b := range args {
			sum += math.Abs(hessian[i*len(args)+j]) * a.U() * b.U()
		}
	}
	return sum
}

// ofPair is the sum for two arguments: the eigenvalues of hessian times
// covariance, by their sum and their product.
func ofPair(h []float64, args []Number) float64 {
	a, b, r := args[0].U(), args[1].U(), Correlation(args[0], args[1])
	x, y, xy := h[0]*a*a, h[3]*b*b, (h[1]+h[2])/2*a*b
	most := max(math.Abs(x), math.Abs(y), math.Abs(xy))
	if most == 0 {
		return 0
	}
	x, y, xy = x/most, y/most, xy/most
	sum, product := x+2*r*xy+y, (x*y-xy*xy)*(1-r*r)
	if product >= 0 {
		return most * math.Abs(sum)
	}
	return most * math.Sqrt(sum*sum-4*product)
}

// fullBend is how many arguments are looked at in full: as many as the directions
// of a line of five axes, both views of each, and more.
const fullBend = 12

type square [fullBend][fullBend]float64

// ofMany is the sum for any number of arguments: of the eigenvalues of the
// hessian in errors that are independent, which is Lᵀ·H·L with L·Lᵀ the
// correlations and H in standard uncertainties.
func (b *bending) ofMany(hessian []float64) float64 {
	n, l := len(b.args), &b.root
	var h, m square
	most := 0.0
	for i := range n {
		for j := range i + 1 {
			v := (hessian[i*n+j] + hessian[j*n+i]) / 2 * b.u[i] * b.u[j]
			h[i][j], h[j][i] = v, v
			most = max(most, math.Abs(v))
		}
	}
	if most == 0 {
		return 0
	}
	for i := range n { // H·L, over most
		for j := range n {
			sum := 0.0
			for k := j; k < n; k++ {
				sum += h[i][k] * l[k][j]
			}
			m[i][j] = sum / most
		}
	}
	for j := range n { // Lᵀ·(H·L), in the place of H
		for i := range n {
			sum := 0.0
			for k := i; k < n; k++ {
				sum += l[k][i] * m[k][j]
			}
			h[i][j] = sum
		}
	}
	return most * sizesOfEigenvalues(&h, n)
}

// correlationRoot fills in the lower triangle L with L·Lᵀ the correlations of
// args (Cholesky); false where that is lost in rounding.
func correlationRoot(l *square, args []Number, u []float64) bool {
	const small = 1e-9
	for i := range args {
		for j := range i + 1 {
			v := 1.0
			switch {
			case u[i] == 0 || u[j] == 0:
				v = 0
			case i != j:
				v = Covariance(args[i], args[j]) / (u[i] * u[j])
			}
			for k := range j {
				v -= l[i][k] * l[j][k]
			}
			switch {
			case i == j && v < -small:
				return false
			case i == j:
				l[i][i] = math.Sqrt(max(0, v))
			case l[j][j]*l[j][j] > small:
				l[i][j] = v / l[j][j]
			case math.Abs(v) > math.Sqrt(small):
				return false
			}
		}
	}
	return true
}

// sizesOfEigenvalues is the sum of the sizes of the eigenvalues of a symmetric
// matrix, by Jacobi's rotations.
func sizesOfEigenvalues(m *square, n int) float64 {
	for range 30 {
		off, on := 0.0, 0.0
		for i := range n {
			on += m[i][i] * m[i][i]
			for j := range i {
				off += m[i][j] * m[i][j]
			}
		}
		if off <= 1e-20*on || off == 0 {
			break
		}
		for p := range n {
			for q := p + 1; q < n; q++ {
				turnOut(m, n, p, q)
			}
		}
	}
	sum := 0.0
	for i := range n {
		sum += math.Abs(m[i][i])
	}
	return sum
}

// turnOut makes m[p][q] zero by a turn in the plane of p and q.
func turnOut(m *square, n, p, q int) {
	if m[p][q] == 0 {
		return
	}
	theta := (m[q][q] - m[p][p]) / (2 * m[p][q])
	t := math.Copysign(1, theta) / (math.Abs(theta) + math.Sqrt(1+theta*theta))
	c := 1 / math.Sqrt(1+t*t)
	s := t * c
	for k := range n {
		m[k][p], m[k][q] = c*m[k][p]-s*m[k][q], s*m[k][p]+c*m[k][q]
	}
	for k := range n {
		m[p][k], m[q][k] = c*m[p][k]-s*m[q][k], s*m[p][k]+c*m[q][k]
	}
}
