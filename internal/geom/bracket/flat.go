package bracket

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// polygon returns the area of a closed polygon, without sign, and its first
// moments about from.
func polygon(pts []r2.Vec, from r2.Vec) (area float64, first r2.Vec) {
	for i := range pts {
		p, q := r2.Sub(pts[i], from), r2.Sub(pts[(i+1)%len(pts)], from)
		c := r2.Cross(p, q)
		area += c / 2
		first = r2.Add(first, r2.Scale(c/6, r2.Add(p, q)))
	}
	if area < 0 {
		return -area, r2.Scale(-1, first)
	}
	return area, first
}

// crossing returns two sides of a closed polygon that meet where they should
// not.
func crossing(pts []r2.Vec) (i, j int, crossed bool) {
	n := len(pts)
	for i := range n {
		for j := i + 1; j < n; j++ {
			if j == i+1 || i == 0 && j == n-1 {
				continue
			}
			if segments(pts[i], pts[(i+1)%n], pts[j], pts[(j+1)%n]) <= 0 {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// inside reports whether a point lies in a closed polygon.
func inside(p r2.Vec, pts []r2.Vec) bool {
	in := false
	for i := range pts {
		a, b := pts[i], pts[(i+1)%len(pts)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// segments returns the least distance between two line segments, which may be
// points; zero where they cross.
func segments(a, b, c, d r2.Vec) float64 {
	side := func(p, q, r r2.Vec) float64 { return r2.Cross(r2.Sub(q, p), r2.Sub(r, p)) }
	if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
		return 0
	}
	return math.Min(math.Min(toSegment(a, c, d), toSegment(b, c, d)),
		math.Min(toSegment(c, a, b), toSegment(d, a, b)))
}

// toSegment returns the distance from p to the segment ab.
func toSegment(p, a, b r2.Vec) float64 {
	ab := r2.Sub(b, a)
	t := 0.0
	if n := r2.Dot(ab, ab); n > 0 {
		t = math.Max(0, math.Min(1, r2.Dot(r2.Sub(p, a), ab)/n))
	}
	return r2.Norm(r2.Sub(p, r2.Add(a, r2.Scale(t, ab))))
}
