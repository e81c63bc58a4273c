package scene

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// outline is what is seen of a solid in a view: the convex hull of its corners
// (Andrew's monotone chain), in order round it, anticlockwise.
func outline(v View, b Solid) []r2.Vec {
	pts := make([]r2.Vec, len(b.Corners))
	for i, c := range b.Corners {
		pts[i] = v.at(c)
	}
	slices.SortFunc(pts, func(a, z r2.Vec) int {
		return cmp.Or(cmp.Compare(a.X, z.X), cmp.Compare(a.Y, z.Y))
	})
	half := func(pts []r2.Vec) []r2.Vec {
		var out []r2.Vec
		for _, p := range pts {
			for len(out) >= 2 && turn(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out[:len(out)-1]
	}
	lower := half(pts)
	slices.Reverse(pts)
	return append(lower, half(pts)...)
}

// turn is positive when a, b, c turn to the left.
func turn(a, b, c r2.Vec) float64 {
	return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
}
