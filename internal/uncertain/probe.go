package uncertain

import (
	"fmt"
	"math"
)

// Probe carries numbers through a function that has no written derivatives: f
// fills out, of length outs, for the arguments x. It is asked one standard
// uncertainty to each side of every argument, and once for each pair, so that
// slope and curvature are those over the width that counts; with n arguments that
// are not exact it is asked 1 + 2n + n(n-1)/2 times. A size that is worked out by
// f has a kink at zero: let f give components, and take Norm of them.
//
// It returns f's error where the values themselves fail, and an error where a
// value beside them does or is not a number: a function that breaks off within
// the uncertainty has no straight line there.
func Probe(f func(x, out []float64) error, outs int, args ...Number) ([]Number, error) {
	p := probing{f: f, x: make([]float64, len(args)), args: args}
	for i, a := range args {
		p.x[i] = a.V
		if u := a.U(); u > 0 {
			p.moving, p.u = append(p.moving, i), append(p.u, u)
		}
	}
	n := len(p.moving)
	slab := make([]float64, outs*(2*n+2+n*n))
	take := func(n int) []float64 {
		v := slab[:n:n]
		slab = slab[n:]
		return v
	}
	at, both := take(outs), take(outs)
	if err := f(p.x, at); err != nil {
		return nil, err
	}
	up, down := make([][]float64, n), make([][]float64, n)
	for k := range n {
		up[k], down[k] = take(outs), take(outs)
		if err := p.beside(up[k], k, 1, -1); err != nil {
			return nil, err
		}
		if err := p.beside(down[k], k, -1, -1); err != nil {
			return nil, err
		}
	}
	second := make([][]float64, outs) // second derivatives, by output and by rows
	for o := range outs {
		second[o] = take(n * n)
	}
	for k := range n {
		for o := range outs {
			second[o][k*n+k] = (up[k][o] - 2*at[o] + down[k][o]) / (p.u[k] * p.u[k])
		}
		for l := range k {
			if err := p.beside(both, k, 1, l); err != nil {
				return nil, err
			}
			for o := range outs {
				d := (both[o] - up[k][o] - up[l][o] + at[o]) / (p.u[k] * p.u[l])
				second[o][k*n+l], second[o][l*n+k] = d, d
			}
		}
	}
	out := make([]Number, outs)
	parts, loose := make([]Weighted, n), make([]Number, n)
	for k, i := range p.moving {
		loose[k] = args[i]
	}
	bend := bending{args: loose}
	bend.prepare()
	for o := range outs {
		for k, i := range p.moving {
			parts[k] = Weighted{(up[k][o] - down[k][o]) / (2 * p.u[k]), args[i]}
		}
		out[o] = Smooth(at[o], parts...)
		out[o].bend += bend.half(second[o])
	}
	return out, nil
}

type probing struct {
	f      func(x, out []float64) error
	x      []float64
	args   []Number
	moving []int // arguments that are not exact
	u      []float64
}

// beside asks with moving argument k a standard uncertainty up (1) or down (-1),
// and l up as well unless it is negative.
func (p *probing) beside(out []float64, k int, way float64, l int) error {
	p.x[p.moving[k]] += way * p.u[k]
	if l >= 0 {
		p.x[p.moving[l]] += p.u[l]
	}
	err := p.f(p.x, out)
	p.x[p.moving[k]] = p.args[p.moving[k]].V
	if l >= 0 {
		p.x[p.moving[l]] = p.args[p.moving[l]].V
	}
	if err != nil {
		return fmt.Errorf("within the uncertainty of what it follows from: %w", err)
	}
	for _, v := range out {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("within the uncertainty of what it follows from it is not a number")
		}
	}
	return nil
}
