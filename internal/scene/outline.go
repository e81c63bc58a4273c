package scene

import (
	"cmp"
	"slices"
)

// Outline is the outline of a solid in a view: the convex hull of its corners
// (Andrew's monotone chain), in order round it.
func Outline(v View, b Solid) [][2]float64 {
	pts := make([][2]float64, len(b.Corners))
	for i, c := range b.Corners {
		pts[i][0], pts[i][1] = v.Flat(c)
	}
	slices.SortFunc(pts, func(a, z [2]float64) int {
		return cmp.Or(cmp.Compare(a[0], z[0]), cmp.Compare(a[1], z[1]))
	})
	half := func(pts [][2]float64) [][2]float64 {
		var out [][2]float64
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
func turn(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}
