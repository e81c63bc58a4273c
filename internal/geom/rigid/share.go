package rigid

import (
	"errors"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Share returns what a rigid body puts on each of the points that hold it (mm, vehicle
// axes) when a force (N) acts on it at a place and a moment (N·mm) beside: the points all
// alike, as stiff every way, each holding it by a force alone. It is the elastic method
// for a group of fasteners, in space: with d from the middle of n points, each carries
// F/n and turns by θ × d, θ from Σ d × (θ × d) = M. It refuses fewer than three points and
// points on one line, which let the body turn.
func Share(held []r3.Vec, force, at, moment r3.Vec) ([]r3.Vec, error) {
	if err := Shape(held); err != nil {
		return nil, err
	}
	mid := centre(held)
	m := r3.Add(moment, r3.Cross(r3.Sub(at, mid), force))
	k := mat.NewSymDense(3, nil)
	for _, p := range held {
		d := r3.Sub(p, mid)
		v, s := [3]float64{d.X, d.Y, d.Z}, r3.Norm2(d)
		for i := range 3 {
			for j := i; j < 3; j++ {
				own := -v[i] * v[j]
				if i == j {
					own += s
				}
				k.SetSym(i, j, k.At(i, j)+own)
			}
		}
	}
	var c mat.Cholesky
	var x mat.VecDense
	if !c.Factorize(k) {
		return nil, ErrLine
	}
	if err := c.SolveVecTo(&x, mat.NewVecDense(3, []float64{m.X, m.Y, m.Z})); err != nil {
		return nil, ErrLine
	}
	turn := r3.Vec{X: x.AtVec(0), Y: x.AtVec(1), Z: x.AtVec(2)}
	out := make([]r3.Vec, len(held))
	for i, p := range held {
		out[i] = r3.Add(r3.Scale(1/float64(len(held)), force), r3.Cross(turn, r3.Sub(p, mid)))
		if !geom.Finite(out[i].X, out[i].Y, out[i].Z) {
			return nil, errors.New("what the points carry is no number")
		}
	}
	return out, nil
}
