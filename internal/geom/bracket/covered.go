package bracket

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"
)

// Rect is a rectangle in a plane, mm.
type Rect struct {
	Middle r2.Vec
	Along  r2.Vec // which way its length looks, of length 1
	Half   r2.Vec // half its length, half its width
}

// roundRects is how many rectangles stand for a round corner.
const roundRects = 6

// Covered are rectangles that have every place of the plate among them, and none that is
// farther than 3.5 % of edge outside: what it takes of the room round it. One along each
// straight edge, some through each round corner, and strips no wider than edge between the
// outer holes, which end within edge of the line between them.
func (a Adapter) Covered() (out []Rect) {
	holes := append([]r2.Vec{}, a.Bosses...)
	for _, h := range a.Pad {
		holes = append(holes, h.At)
	}
	if len(a.Pad) == 0 {
		holes = append(holes, r2.Vec{})
	}
	inner, e := hull(holes), a.Edge
	long := r2.Vec{}
	for i, p := range inner {
		d := r2.Sub(inner[(i+1)%len(inner)], p)
		if r2.Norm2(d) > r2.Norm2(long) {
			long = d
		}
		if size := r2.Norm(d); size > 0 {
			out = append(out, Rect{r2.Add(p, r2.Scale(0.5, d)), r2.Scale(1/size, d), r2.Vec{X: size / 2, Y: e}})
		}
		for k := range roundRects {
			s, c := math.Sincos(math.Pi * float64(k) / roundRects)
			out = append(out, Rect{p, r2.Vec{X: c, Y: s}, r2.Vec{X: e, Y: e * math.Sin(math.Pi/2/roundRects)}})
		}
	}
	if r2.Norm2(long) == 0 {
		return out
	}
	return append(out, stripsOf(inner, r2.Unit(long), e)...)
}

// stripsOf cover a convex polygon by rectangles across a direction, each no wider than
// that and as long as the polygon anywhere in it.
func stripsOf(polygon []r2.Vec, along r2.Vec, width float64) (out []Rect) {
	across := r2.Vec{X: -along.Y, Y: along.X}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range polygon {
		lo, hi = min(lo, r2.Dot(along, p)), max(hi, r2.Dot(along, p))
	}
	n := max(1, math.Ceil((hi-lo)/width))
	for k := range int(n) {
		from, to := lo+(hi-lo)*float64(k)/n, lo+(hi-lo)*float64(k+1)/n
		low, high := math.Inf(1), math.Inf(-1)
		see := func(v float64) { low, high = min(low, v), max(high, v) }
		for i, p := range polygon {
			q := polygon[(i+1)%len(polygon)]
			x, y := r2.Dot(along, p), r2.Dot(along, q)
			if x >= from && x <= to {
				see(r2.Dot(across, p))
			}
			for _, at := range [2]float64{from, to} {
				if (x-at)*(y-at) < 0 {
					see(r2.Dot(across, r2.Add(p, r2.Scale((at-x)/(y-x), r2.Sub(q, p)))))
				}
			}
		}
		if low <= high {
			middle := r2.Add(r2.Scale((from+to)/2, along), r2.Scale((low+high)/2, across))
			out = append(out, Rect{middle, along, r2.Vec{X: (to - from) / 2, Y: (high - low) / 2}})
		}
	}
	return out
}
