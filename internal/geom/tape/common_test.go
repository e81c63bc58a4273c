package tape

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
)

// sharingTapes is the mixed frame, its distances taken with two tapes whose scales are
// off, and the dense covariance of what was measured.
func sharingTapes(r *rand.Rand) (*Net, *mat.SymDense) {
	n, _ := mixed(r, 0.5)
	tapes := []Common{{Name: "the long tape's scale"}, {Name: "the short tape's scale"}}
	off := []float64{r.NormFloat64(), r.NormFloat64()}
	for k := range tapes {
		tapes[k].Of = make([]float64, len(n.measure))
	}
	for i := range n.measure {
		o := &n.measure[i]
		if kind, _ := n.Between(i); kind == Distance {
			tapes[i%2].Of[i] = 0.002 * o.Value * (1 + float64(i%2))
			o.Value += off[i%2] * tapes[i%2].Of[i]
		}
	}
	q := mat.NewSymDense(len(n.measure), nil)
	for i, o := range n.measure {
		for j := range i + 1 {
			v := 0.0
			for _, c := range tapes {
				v += c.Of[i] * c.Of[j]
			}
			if i == j {
				v += o.Sigma * o.Sigma
			}
			q.SetSym(i, j, v)
		}
	}
	n.Share(tapes...)
	return n, q
}

// dense is least squares with a full covariance, plainly: x = x + (AᵀPA)⁻¹AᵀP(l-f(x)), P
// = Q⁻¹, until it stands; the residuals v = f(x)-l, their cofactors Qvv = Q-A(AᵀPA)⁻¹Aᵀ,
// and the test of one slip in observation i, (P·v)i/√(P·Qvv·P)ii (W. Baarda, 1968, for
// correlated observations; from memory).
func dense(n *Net, q *mat.SymDense) (x []float64, cov *mat.Dense, w, detectable []float64, square float64) {
	m, u := len(n.measure), len(n.start)
	var p mat.Dense
	if err := p.Inverse(q); err != nil {
		panic(err)
	}
	x = append([]float64(nil), n.start...)
	a, l := mat.NewDense(m, u, nil), mat.NewVecDense(m, nil)
	cov = mat.NewDense(u, u, nil)
	for range 30 {
		a.Zero()
		for i, o := range n.measure {
			o.Of.Partials(x, func(j int, d float64) { a.Set(i, j, a.At(i, j)+d) })
			l.SetVec(i, o.Value-o.Of.At(x))
		}
		var ap, normal mat.Dense
		ap.Mul(a.T(), &p)
		normal.Mul(&ap, a)
		if err := cov.Inverse(&normal); err != nil {
			panic(err)
		}
		var right, step mat.VecDense
		right.MulVec(&ap, l)
		step.MulVec(cov, &right)
		for j := range x {
			x[j] += step.AtVec(j)
		}
	}
	var pv mat.VecDense
	pv.MulVec(&p, l)
	var ac, aca, qvv, pq, pqp mat.Dense
	ac.Mul(a, cov)
	aca.Mul(&ac, a.T())
	qvv.Sub(q, &aca)
	pq.Mul(&p, &qvv)
	pqp.Mul(&pq, &p)
	for i := range m {
		s := math.Sqrt(max(pqp.At(i, i), 0))
		w, detectable = append(w, -pv.AtVec(i)/s), append(detectable, shift/s)
	}
	return x, cov, w, detectable, mat.Dot(l, &pv)
}

// What observations share as unknowns of their own is the full covariance: places, their
// covariance, the test of each measurement, what it would find, and the sum of squares.
func TestSharedErrorsAreTheFullCovariance(t *testing.T) {
	for k := range uint64(20) {
		n, q := sharingTapes(rand.New(rand.NewPCG(1, k)))
		f, err := Solve(context.Background(), n.Problem())
		require.NoError(t, err)
		x, cov, w, detectable, square := dense(n, q)
		for j := range x {
			assert.InDelta(t, x[j], f.X[j], 1e-6)
			for i := range x {
				assert.InDelta(t, cov.At(i, j), f.Cov(i, j), 1e-9*(1+math.Abs(cov.At(i, j))))
			}
		}
		require.Len(t, f.Each, len(n.measure))
		assert.Equal(t, len(n.measure)-len(x), f.DoF)
		assert.InDelta(t, square, f.SumSquare, 1e-6)
		gains := f.Gains(map[int]float64{2: 1, 5: -1})
		require.Len(t, gains, len(n.measure))
		for i, e := range f.Each {
			assert.InDelta(t, w[i], e.W, 1e-6)
			assert.InDelta(t, detectable[i], e.Detectable, 1e-6*detectable[i])
		}
		open := 0.0 // by what each observation does to it
		for i, a := range gains {
			for j, b := range gains {
				open += a * b * q.At(i, j)
			}
		}
		assert.InDelta(t, cov.At(2, 2)+cov.At(5, 5)-2*cov.At(2, 5), open, 1e-8)
	}
}

// A tape whose scale is off by twice what was said of it fails no measurement of its own
// where that is known to be shared; taken as errors of each alone it would be too narrow
// or too wide. Measurements of sound tapes fail as often as the test says: one in a
// thousand each.
func TestSoundTapesFailAsOftenAsSaid(t *testing.T) {
	failed, all, squares, dof := 0, 0, 0.0, 0
	for k := range uint64(150) {
		n, _ := sharingTapes(rand.New(rand.NewPCG(2, k)))
		f, err := Solve(context.Background(), n.Problem())
		require.NoError(t, err)
		for _, e := range f.Each {
			if all++; math.Abs(e.W) > Critical {
				failed++
			}
		}
		squares, dof = squares+f.SumSquare, dof+f.DoF
	}
	assert.Less(t, failed, all/200)
	assert.InDelta(t, 1, squares/float64(dof), 0.15)
}

// A slip in a measurement that shares its tape's scale is found by its number in the list
// of measurements, with how far it is off.
func TestASlipAmongSharedErrors(t *testing.T) {
	for slipped := range 6 {
		n, _ := sharingTapes(rand.New(rand.NewPCG(3, 1)))
		n.measure[slipped].Value += 150
		p := n.Problem()
		f, err := Solve(context.Background(), p)
		require.NoError(t, err)
		found, err := Suspects(context.Background(), p, f)
		require.NoError(t, err)
		k := slices.IndexFunc(found, func(s Suspect) bool { return s.Observation == slipped })
		require.GreaterOrEqual(t, k, 0, slipped)
		assert.InDelta(t, 150, found[k].Off, 25)
		for _, s := range found {
			for _, i := range append(s.Alike, s.Observation) {
				assert.Less(t, i, len(n.measure))
			}
		}
	}
}
