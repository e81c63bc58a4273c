package shaft

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/spatial/r3"
)

// pair is the linear map z -> a·z + b·conj(z) of arm directions, each as a
// complex number in a frame (f, axis×f) square to its own shaft. |a|² - |b|² is
// its determinant, the product of the cosines of the joint angles.
type pair struct{ a, b complex128 }

// after returns the map that does first and then p.
func (p pair) after(first pair) pair {
	return pair{
		a: p.a*first.a + p.b*cmplx.Conj(first.b),
		b: p.a*first.b + p.b*cmplx.Conj(first.a),
	}
}

// turned returns the map with its result turned by the unit number t.
func (p pair) turned(t complex128) pair { return pair{a: t * p.a, b: t * p.b} }

// ripple reads the speed ratio off the map. A chain whose joints together come
// to 90° is refused.
func (p pair) ripple() (Ripple, error) {
	k := math.Sqrt(norm2(p.b) / norm2(p.a))
	if !(1-k >= nearSquare) {
		return Ripple{}, ErrSquare
	}
	return Ripple{k}, nil
}

func norm2(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

// across returns the map of one cross for arms written in the frame f of its
// driving shaft, and the frame of the driven shaft: f carried over by the
// smallest turn that brings u to v. In these frames the normal of the two
// shafts has one and the same direction, along which the shadow keeps its
// length, while square to it the shadow shrinks by cos β: a = (1+cos β)/2 and
// b = (1-cos β)/2 along twice that direction. Written with the components of v
// it needs no normal, so a straight joint is no special case.
func (x *cross) across(f r3.Vec) (pair, r3.Vec) {
	g := r3.Cross(x.u, f)
	carried := x.carry(f)
	if x.even {
		return pair{a: 1}, carried
	}
	w := complex(r3.Dot(x.v, f), r3.Dot(x.v, g))
	// 1i is the quarter turn from the shadow to the driven arm.
	return pair{
		a: complex(0, (1+x.cos)/2),
		b: w * w * complex(0, -1/(2*(1+x.cos))),
	}, carried
}

// carry takes a vector square to u to the one square to v that the smallest
// turn from u to v makes of it.
func (x *cross) carry(f r3.Vec) r3.Vec {
	return r3.Sub(f, r3.Scale(r3.Dot(f, x.v)/(1+x.cos), r3.Add(x.u, x.v)))
}

// smallTerm is what the cross alone adds to the small-angle rule: b/a with its
// size tan²(β/2) replaced by β²/4.
func (x *cross) smallTerm() complex128 {
	if x.sin2 == 0 {
		return 0
	}
	sin := math.Sqrt(x.sin2)
	// β/2 over tan(β/2); squared last, or the smallest angles come to 0/0.
	r := math.Atan2(sin, x.cos) / 2 / (sin / (1 + x.cos))
	return x.pair.b * complex(0, -2/(1+x.cos)) * complex(r*r, 0)
}
