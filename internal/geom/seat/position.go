package seat

import (
	"math"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// position is where the body is: its centre moved by shift, mm, and turned.
type position struct {
	shift r3.Vec
	turn  quat.Number // of length 1
}

// unmoved is where the body is before anything rests on the isolators.
func unmoved() position { return position{turn: quat.Number{Real: 1}} }

// moved is how far the tip of an arm r from the centre has moved.
func (p position) moved(r r3.Vec) r3.Vec { return r3.Add(p.shift, p.swing(r)) }

// swing returns how far the tip of an arm r from the centre moves by turning.
// Written so that small turns keep all their digits.
func (p position) swing(r r3.Vec) r3.Vec {
	v := r3.Vec{X: p.turn.Imag, Y: p.turn.Jmag, Z: p.turn.Kmag}
	return r3.Scale(2, r3.Cross(v, r3.Add(r3.Scale(p.turn.Real, r), r3.Cross(v, r))))
}

// swings takes an arm from the centre to how far its tip moves by turning, as swing
// does, for many arms.
type swings [3][3]float64

func (p position) swings() swings {
	w, x, y, z := p.turn.Real, p.turn.Imag, p.turn.Jmag, p.turn.Kmag
	return swings{
		{-2 * (y*y + z*z), 2 * (x*y - w*z), 2 * (x*z + w*y)},
		{2 * (x*y + w*z), -2 * (x*x + z*z), 2 * (y*z - w*x)},
		{2 * (x*z - w*y), 2 * (y*z + w*x), -2 * (x*x + y*y)},
	}
}

func (m *swings) of(r r3.Vec) r3.Vec { return times((*[3][3]float64)(m), r) }

// by returns the position after a further shift and turn (rotation vector).
func (p position) by(m [6]float64) position {
	w := r3.Vec{X: m[3], Y: m[4], Z: m[5]}
	a := math.Sqrt(r3.Norm2(w))
	half := 0.5
	if a > 1e-9 {
		half = math.Sin(a/2) / a
	}
	q := quat.Mul(quat.Number{Real: math.Cos(a / 2), Imag: half * w.X, Jmag: half * w.Y, Kmag: half * w.Z}, p.turn)
	return position{
		shift: r3.Add(p.shift, r3.Vec{X: m[0], Y: m[1], Z: m[2]}),
		turn:  quat.Scale(1/math.Sqrt(q.Real*q.Real+q.Imag*q.Imag+q.Jmag*q.Jmag+q.Kmag*q.Kmag), q),
	}
}
