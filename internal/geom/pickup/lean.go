package pickup

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Leaning is an axle whose wheels rise unlike each other, vehicle axes at ride height, mm.
type Leaning struct {
	Left, Right r3.Vec // wheel centres
	// Rods hold it by their lengths; On is not looked at. Pivots are places of the axle that
	// bushes keep where they are.
	Rods   []Span
	Pivots []r3.Vec
}

const (
	// heights is how much more a mm of a wheel's height counts than a mm of a bush.
	heights = 1e4
	// loosely is how little staying where it goes with both wheels alike counts beside
	// bushes: it decides only what nothing else holds.
	loosely   = 1e-4
	mostTurns = 60
)

// At is the axle's motion from ride height with its left and its right wheel centre risen
// by so much. near is how it goes with both risen by the mean of the two; what neither
// rods nor pivots hold stays as near to that as it can, and bushes give by least squares,
// all of them alike (Gauss–Newton on the six coordinates of a rigid body).
func (l Leaning) At(near geom.Pose, left, right float64) (State, error) {
	if !finite(l.Left, l.Right) || !geom.Finite(left, right) || max(math.Abs(left), math.Abs(right)) > mostRise {
		return State{}, errNumbers
	}
	track := l.Right.Y - l.Left.Y
	if track < leastArm || math.Abs(right-left) > 0.8*track {
		return State{}, fmt.Errorf("one wheel %.0f mm higher than the other on a track of %.0f mm leans the axle over too far", math.Abs(right-left), track)
	}
	for _, x := range l.Rods {
		if err := x.check(); err != nil {
			return State{}, err
		}
	}
	middle := near.Point(r3.Scale(0.5, r3.Add(l.Left, l.Right)))
	lean, err := geom.Turn(middle, r3.Vec{X: 1}, geom.Angle(math.Asin((right-left)/track)))
	if err != nil {
		return State{}, err
	}
	start := near.Then(lean)
	p := start
	for range mostTurns {
		step, err := l.step(p, start, left, right)
		if err != nil {
			return State{}, err
		}
		turn := r3.Vec{X: step[3], Y: step[4], Z: step[5]}
		m := geom.Identity()
		if n := r3.Norm(turn); n > 0 {
			on := p.Point(r3.Scale(0.5, r3.Add(l.Left, l.Right)))
			if m, err = geom.Turn(on, r3.Scale(1/n, turn), geom.Angle(n)); err != nil {
				return State{}, err
			}
		}
		d := r3.Vec{X: step[0], Y: step[1], Z: step[2]}
		m.At = r3.Add(m.At, d)
		p = p.Then(m)
		if r3.Norm(d) < settled*100 && r3.Norm(turn)*track < settled*100 {
			return State{Rise: (left + right) / 2, Wheel: p.Point(l.Left), Motion: [bodies]geom.Pose{p, p, p}}, nil
		}
	}
	return State{}, errors.New("how the axle leans with one wheel up is not found")
}

// step is what Gauss and Newton would move it by: d, and a turn about its middle.
func (l Leaning) step(p, start geom.Pose, left, right float64) ([6]float64, error) {
	centre := r3.Scale(0.5, r3.Add(l.Left, l.Right))
	on := p.Point(centre)
	var rows, off []float64
	// row is an equation: what a place of the axle is off by along a direction.
	row := func(at, along r3.Vec, by, weight float64) {
		turn := r3.Cross(r3.Sub(at, on), along)
		for _, v := range [6]float64{along.X, along.Y, along.Z, turn.X, turn.Y, turn.Z} {
			rows = append(rows, weight*v)
		}
		off = append(off, -weight*by)
	}
	axes := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	for i, w := range [2]r3.Vec{l.Left, l.Right} {
		at := p.Point(w)
		row(at, axes[2], at.Z-w.Z-[2]float64{left, right}[i], heights)
	}
	for _, x := range l.Rods {
		at := p.Point(x.End)
		d := r3.Sub(at, x.Chassis)
		if r3.Norm(d) < leastArm {
			return [6]float64{}, errors.New("a rod of the axle has no length left")
		}
		row(at, r3.Unit(d), r3.Norm(d)-x.At(nil), 1)
	}
	for _, at := range l.Pivots {
		now := p.Point(at)
		off := r3.Sub(now, at)
		for k, v := range [3]float64{off.X, off.Y, off.Z} {
			row(now, axes[k], v, 1)
		}
	}
	for _, at := range [3]r3.Vec{l.Left, l.Right, r3.Add(centre, r3.Vec{X: r3.Norm(r3.Sub(l.Right, l.Left)) / 2})} {
		now := p.Point(at)
		off := r3.Sub(now, start.Point(at))
		for k, v := range [3]float64{off.X, off.Y, off.Z} {
			row(now, axes[k], v, loosely)
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(mat.NewDense(len(off), 6, rows), mat.NewVecDense(len(off), off)); err != nil {
		var bad mat.Condition
		if !errors.As(err, &bad) {
			return [6]float64{}, err
		}
	}
	var out [6]float64
	for i := range out {
		if out[i] = x.AtVec(i); !geom.Finite(out[i]) {
			return out, errors.New("how the axle leans with one wheel up is not found")
		}
	}
	return out, nil
}
