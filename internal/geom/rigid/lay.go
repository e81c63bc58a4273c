package rigid

import (
	"errors"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// Why points say nothing of how a body lies.
var (
	ErrFew      = errors.New("three points at least fix how a body lies")
	ErrLine     = errors.New("the points lie on one line, and a body can turn about it")
	ErrMirrored = errors.New("the points are the mirror image of the body's own")
)

// onLine is how far beside their best line points may lie at most (as part of
// how far they reach along it) and still be called a line.
const onLine = 1e-3

// Shape says whether points can fix how a body lies: ErrFew for fewer than three of
// them, ErrLine for points on one line, nil otherwise. mm.
func Shape(own []r3.Vec) error {
	if len(own) < 3 {
		return ErrFew
	}
	var svd mat.SVD
	m := mat.NewDense(len(own), 3, nil)
	c := centre(own)
	for i, p := range own {
		d := r3.Sub(p, c)
		m.SetRow(i, []float64{d.X, d.Y, d.Z})
	}
	if !svd.Factorize(m, mat.SVDNone) {
		return ErrLine
	}
	if s := svd.Values(nil); s[1] <= onLine*s[0] {
		return ErrLine
	}
	return nil
}

func centre(p []r3.Vec) r3.Vec {
	c := r3.Vec{}
	for _, v := range p {
		c = r3.Add(c, r3.Scale(1/float64(len(p)), v))
	}
	return c
}

// Lay returns the pose in which a body's own points (mm, own frame) lie as nearly as
// they can on their places (mm, vehicle axes), all counted alike, and the square sum
// of what is left between them (mm²). It refuses fewer than three points, points on
// one line, and places that are the mirror image of the body.
func Lay(own, at []r3.Vec) (geom.Pose, float64, error) {
	if len(own) != len(at) {
		return geom.Pose{}, 0, errors.New("each point wants a place of its own")
	}
	for _, points := range [2][]r3.Vec{own, at} {
		if err := Shape(points); err != nil {
			return geom.Pose{}, 0, err
		}
	}
	a, b := centre(own), centre(at)
	h := mat.NewDense(3, 3, nil)
	for i := range own {
		p, q := r3.Sub(own[i], a), r3.Sub(at[i], b)
		for r, u := range [3]float64{q.X, q.Y, q.Z} {
			for c, v := range [3]float64{p.X, p.Y, p.Z} {
				h.Set(r, c, h.At(r, c)+u*v)
			}
		}
	}
	var svd mat.SVD
	if !svd.Factorize(h, mat.SVDFull) {
		return geom.Pose{}, 0, errors.New("no pose is found for these points")
	}
	var u, v, r mat.Dense
	svd.UTo(&u)
	svd.VTo(&v)
	if s := svd.Values(nil); mat.Det(&u)*mat.Det(&v) < 0 {
		if s[2] > onLine*onLine*s[0] { // not all in one plane: then only a mirror does it
			return geom.Pose{}, 0, ErrMirrored
		}
		for i := range 3 { // in one plane it may be turned over in space instead
			u.Set(i, 2, -u.At(i, 2))
		}
	}
	r.Mul(&u, v.T())
	col := func(k int) r3.Vec { return r3.Vec{X: r.At(0, k), Y: r.At(1, k), Z: r.At(2, k)} }
	pose := geom.Pose{X: col(0), Y: col(1), Z: col(2)}
	pose.At = r3.Sub(b, pose.Dir(a))
	left := 0.0
	for i := range own {
		left += r3.Norm2(r3.Sub(pose.Point(own[i]), at[i]))
	}
	if math.IsNaN(left) {
		return geom.Pose{}, 0, errors.New("a point is not a number")
	}
	return pose, left, nil
}
