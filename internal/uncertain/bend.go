package uncertain

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

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
	switch n := len(args); {
	case n == 0:
		return 0
	case signsIn(args):
		return quadratic / 2 * bySizes(hessian, args)
	case n == 2:
		return quadratic / 2 * ofPair(hessian, args)
	}
	return quadratic / 2 * ofMany(hessian, args)
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

// ofMany is the sum for any number of arguments.
func ofMany(hessian []float64, args []Number) float64 {
	n := len(args)
	u, r := make([]float64, n), mat.NewSymDense(n, nil)
	h, most := mat.NewDense(n, n, nil), 0.0
	for i, a := range args {
		u[i] = a.U()
		for j := range i + 1 {
			r.SetSym(i, j, Correlation(a, args[j]))
			h.Set(i, j, (hessian[i*n+j]+hessian[j*n+i])/2*u[i]*u[j])
			h.Set(j, i, h.At(i, j))
			most = max(most, math.Abs(h.At(i, j)))
		}
	}
	root, err := rootOfCorrelations(r)
	if err != nil || most == 0 {
		return bySizes(hessian, args)
	}
	var half, whole mat.Dense
	half.Mul(h, root)
	whole.Mul(root.T(), &half)
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			sym.SetSym(i, j, (whole.At(i, j)+whole.At(j, i))/2/most)
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(drop(sym), false) {
		return bySizes(hessian, args)
	}
	sum := 0.0
	for _, v := range eig.Values(nil) {
		sum += most * math.Abs(v)
	}
	return sum
}
