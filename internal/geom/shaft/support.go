package shaft

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Support is a bearing that holds a shaft between two joints sideways and lets it
// turn, tilt and slide.
type Support struct {
	Shaft int     // 1 is behind the first joint
	At    float64 // where between its joints, 0 at the one ahead and 1 at the one behind
}

// leastLever is how little of a joint's play a bearing may see and still be said to
// hold it: nearer than a twentieth of the shaft's length to the joint at its other
// end it holds by too short a lever. Set by fitup.
const leastLever = 0.05

// Loose counts the motions that are left to the joints between the first and the
// last, which stand still: 0 for a line that holds itself, and each more is a way in
// which it can whip. A line of three joints without a support has one at least: its
// middle joint goes round. slides says for each shaft between two joints whether its
// length can change; a shaft that is not in it does not.
//
// Of small shifts d of the joint centres: a shaft that does not slide wants
// u·(d₂ − d₁) = 0, a support e·((1−t)·d₁ + t·d₂) = 0 for both e square to u. What is
// left is the dimension of the kernel, by singular values above leastLever.
func (c Chain) Loose(slides []bool, supports []Support) (int, error) {
	axes, err := c.Line().Axes()
	if err != nil {
		return 0, err
	}
	n := len(c.Joints)
	free := n - 2
	if free < 1 {
		return 0, nil
	}
	var rows [][]float64
	row := func(shaft int, e r3.Vec, ahead, behind float64) {
		r := make([]float64, 3*free)
		for k, w := range [2]float64{ahead, behind} {
			joint := shaft - 1 + k // counted from 0
			if joint < 1 || joint > free {
				continue
			}
			for i, v := range [3]float64{e.X, e.Y, e.Z} {
				r[3*(joint-1)+i] = w * v
			}
		}
		rows = append(rows, r)
	}
	for i := 1; i < n; i++ {
		if i-1 >= len(slides) || !slides[i-1] {
			row(i, axes[i], -math.Sqrt2/2, math.Sqrt2/2)
		}
	}
	for _, s := range supports {
		if s.Shaft < 1 || s.Shaft >= n || !(s.At >= 0 && s.At <= 1) {
			return 0, fmt.Errorf("a support on shaft %d at %.2f of its length is on none of the %d shafts between joints", s.Shaft, s.At, n-1)
		}
		e, f := squares(axes[s.Shaft])
		row(s.Shaft, e, 1-s.At, s.At)
		row(s.Shaft, f, 1-s.At, s.At)
	}
	return 3*free - rank(rows, 3*free), nil
}

func rank(rows [][]float64, width int) int {
	if len(rows) == 0 {
		return 0
	}
	m := mat.NewDense(len(rows), width, nil)
	for i, r := range rows {
		m.SetRow(i, r)
	}
	var svd mat.SVD
	if !svd.Factorize(m, mat.SVDNone) {
		return 0
	}
	held := 0
	for _, v := range svd.Values(nil) {
		if v >= leastLever {
			held++
		}
	}
	return held
}

// squares are two directions square to a unit vector and to each other.
func squares(u r3.Vec) (e, f r3.Vec) {
	e = r3.Vec{Z: 1}
	if math.Abs(u.Z) > 0.9 {
		e = r3.Vec{Y: 1}
	}
	e = unit(r3.Sub(e, r3.Scale(r3.Dot(e, u), u)))
	return e, r3.Cross(u, e)
}

// OnSupport is the force on a bearing at one end of a shaft of a length (mm) that holds a
// couple (N·mm) square to it, with a joint at the other end: N.
func OnSupport(couple, length float64) (float64, error) {
	if !(length >= geom.Least) || !geom.Finite(couple) || math.Abs(couple) > 1e15 || length > geom.LimitLength {
		return 0, fmt.Errorf("a shaft %g mm long that holds %g N·mm is none", length, couple)
	}
	return math.Abs(couple) / length, nil
}
