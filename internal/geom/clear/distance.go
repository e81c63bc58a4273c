package clear

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Endless is the depth given, as a negative gap, for two half-spaces that no
// shift can part, mm.
const Endless = 1e9

// touching is the distance between cores, mm, at and below which they count
// as meeting; it is only where one formula hands over to the other.
const touching = 1e-9

// Distance returns the smallest distance between two shapes, mm, and the
// points where it occurs: from on the surface of a, to on the surface of b,
// vehicle axes.
//
// When the shapes overlap, gap is negative and -gap is the penetration depth:
// the length of the shortest shift of one of them that parts the two. Shifting
// b by from - to does it, and brings the two points together. The depth is
// exact for every pair, not only its sign. Where the smallest distance occurs
// all along a line or face, the points are one choice of it.
//
// Two planes are two half-spaces: face to face they have a gap, in any other
// position they always overlap and the gap is -Endless.
//
// Both shapes must pass Check.
func Distance(a, b Shape) (gap float64, from, to r3.Vec) {
	pa, pb := readyOf(a), readyOf(b)
	return pa.distance(&pb)
}

func (a *ready) distance(b *ready) (gap float64, from, to r3.Vec) {
	switch {
	case a.endless && b.endless:
		return betweenPlanes(a.plane(), b.plane())
	case a.endless:
		return fromPlane(a.plane(), &b.core)
	case b.endless:
		gap, to, from = fromPlane(b.plane(), &a.core)
		return gap, from, to
	}
	return betweenCores(&a.core, &b.core)
}

// length is r3.Norm without its care for numbers whose squares are beyond what
// a float holds; no length in mm is.
func length(v r3.Vec) float64 { return math.Sqrt(r3.Norm2(v)) }

// fromPlane is exact because the lowest point of a convex solid over a plane
// is its furthest point against the normal.
func fromPlane(p Plane, c *core) (gap float64, from, to r3.Vec) {
	n := p.unit()
	to = r3.Sub(c.far(r3.Scale(-1, n)), r3.Scale(c.r, n))
	gap = r3.Dot(n, r3.Sub(to, p.On))
	return gap, r3.Sub(to, r3.Scale(gap, n)), to
}

func betweenPlanes(a, b Plane) (gap float64, from, to r3.Vec) {
	na, nb := a.unit(), b.unit()
	if r3.Norm(r3.Add(na, nb)) > 1e-9 {
		return -Endless, a.On, r3.Sub(a.On, r3.Scale(Endless, na))
	}
	gap = r3.Dot(na, r3.Sub(b.On, a.On))
	return gap, r3.Sub(b.On, r3.Scale(gap, na)), b.On
}

// betweenCores takes the distance of the cores and then the two radii.
func betweenCores(a, b *core) (gap float64, from, to r3.Vec) {
	from, to = closest(a, b)
	d := r3.Sub(to, from)
	gap = length(d)
	var n r3.Vec // from a to b
	if gap > touching {
		n = r3.Scale(1/gap, d)
	} else {
		var depth float64
		n, depth = escape(a, b)
		gap = -depth
		// Touching once b is shifted clear: the points where that happens.
		clearOfA := b.shifted(r3.Scale(depth, n))
		p, q := closest(a, &clearOfA)
		mid := r3.Scale(0.5, r3.Add(p, q))
		from, to = mid, r3.Sub(mid, r3.Scale(depth, n))
	}
	from = r3.Add(from, r3.Scale(a.r, n))
	to = r3.Sub(to, r3.Scale(b.r, n))
	return gap - a.r - b.r, from, to
}

// closest returns the closest points of two cores, and two points that
// coincide when the cores meet.
func closest(a, b *core) (onA, onB r3.Vec) {
	switch {
	case a.n == 3 && b.n == 3:
		return boxBox(a, b)
	case a.n == 3:
		onB, onA = lineBox(b, a.box())
	case b.n == 3:
		onA, onB = lineBox(a, b.box())
	default:
		p, u := start(a)
		q, v := start(b)
		onA, onB = lineLine(p, u, q, v)
	}
	return onA, onB
}

// start returns the first end of a line core and the vector to its other end;
// a point has a zero vector.
func start(c *core) (at, along r3.Vec) {
	if c.n == 0 {
		return c.at, r3.Vec{}
	}
	h := c.half(0)
	return r3.Sub(c.at, h), r3.Scale(2, h)
}

// lineLine returns the closest points of p + s·u and q + t·v, s and t from 0
// to 1. The smallest distance is either that of the two straight lines, when
// its feet lie on both, or one of an end to the other line; the smallest of
// the five is exact, also for parallel lines and lines without length.
func lineLine(p, u, q, v r3.Vec) (onP, onQ r3.Vec) {
	best := math.Inf(1)
	n := r3.Cross(u, v)
	if n2 := r3.Norm2(n); n2 > 1e-24*r3.Norm2(u)*r3.Norm2(v) {
		w := r3.Sub(q, p)
		s := r3.Dot(r3.Cross(w, v), n) / n2
		t := r3.Dot(r3.Cross(w, u), n) / n2
		if s >= 0 && s <= 1 && t >= 0 && t <= 1 {
			onP, onQ = r3.Add(p, r3.Scale(s, u)), r3.Add(q, r3.Scale(t, v))
			best = r3.Norm2(r3.Sub(onP, onQ))
		}
	}
	pu, qv := r3.Add(p, u), r3.Add(q, v)
	for _, end := range [2]r3.Vec{p, pu} {
		foot := footOn(q, v, end)
		if d := r3.Norm2(r3.Sub(end, foot)); d < best {
			best, onP, onQ = d, end, foot
		}
	}
	for _, end := range [2]r3.Vec{q, qv} {
		foot := footOn(p, u, end)
		if d := r3.Norm2(r3.Sub(foot, end)); d < best {
			best, onP, onQ = d, foot, end
		}
	}
	return onP, onQ
}

// footOn returns the point of q + t·v, t from 0 to 1, closest to p.
func footOn(q, v, p r3.Vec) r3.Vec {
	v2 := r3.Norm2(v)
	if v2 == 0 {
		return q
	}
	t := min(max(r3.Dot(r3.Sub(p, q), v)/v2, 0), 1)
	return r3.Add(q, r3.Scale(t, v))
}

// lineBox returns the closest points of a line (or point) core and a solid
// box.
func lineBox(l *core, b Box) (onLine, onBox r3.Vec) {
	p, u := start(l)
	own, in := lineOwnBox(b.Pose.Own(p), b.Pose.OwnDir(u), b.Half)
	return b.Pose.Point(own), b.Pose.Point(in)
}

// lineOwnBox works in the box's own frame, the line being p + t·u, t from 0
// to 1.
//
// Half the slope of the squared distance along the line is the sum over the
// axes of u times how far the point sticks out. It never falls and is straight
// between the t at which an axis passes a face, so its zero is found exactly:
// first between which of those t, then by proportion.
func lineOwnBox(p, u, half r3.Vec) (onLine, inBox r3.Vec) {
	lo, hi := 0.0, 1.0
	glo, ghi := slopeAt(p, u, half, lo), slopeAt(p, u, half, hi)
	t := 0.0
	switch {
	case glo >= 0:
	case ghi <= 0:
		t = 1
	default: // glo < 0 < ghi: narrow to one straight piece
		for _, ax := range [3][3]float64{{p.X, u.X, half.X}, {p.Y, u.Y, half.Y}, {p.Z, u.Z, half.Z}} {
			for _, face := range [2]float64{-ax[2], ax[2]} {
				at := (face - ax[0]) / ax[1]
				if !(at > lo && at < hi) { // also false for 0/0
					continue
				}
				if g := slopeAt(p, u, half, at); g < 0 {
					lo, glo = at, g
				} else {
					hi, ghi = at, g
				}
			}
		}
		t = lo + (hi-lo)*(-glo/(ghi-glo))
	}
	onLine = r3.Add(p, r3.Scale(t, u))
	inBox = r3.Vec{X: onLine.X - out(onLine.X, half.X), Y: onLine.Y - out(onLine.Y, half.Y), Z: onLine.Z - out(onLine.Z, half.Z)}
	return onLine, inBox
}

// slopeAt is half the slope of the squared distance at t.
func slopeAt(p, u, half r3.Vec, t float64) float64 {
	return u.X*out(p.X+t*u.X, half.X) + u.Y*out(p.Y+t*u.Y, half.Y) + u.Z*out(p.Z+t*u.Z, half.Z)
}

// out is how far v sticks out of -h to h, with its sign.
func out(v, h float64) float64 {
	switch {
	case v > h:
		return v - h
	case v < -h:
		return v + h
	}
	return 0
}

// boxBox returns the closest points of two solid boxes. Between boxes that are
// apart some closest pair has a point on an edge of one of them (a corner to a
// face, an edge to an edge, a face to a face by its rim), and boxes that meet
// have an edge of one inside the other; so the edges of each against the solid
// other are enough.
//
// An edge that a box along the solid's own axes holds further off than the most
// promising edge is, is not measured; the answer is the same.
func boxBox(a, b *core) (onA, onB r3.Vec) {
	boxes := [2]Box{a.box(), b.box()}
	var bounds [24]float64
	first := 0
	for e := range bounds {
		if e%12 == 0 {
			solid, from := &boxes[1-e/12], [2]*core{a, b}[e/12]
			edgesAtLeast(solid, from, bounds[e:e+12])
		}
		if bounds[e] < bounds[first] {
			first = e
		}
	}
	measure := func(e int) (d float64, own, in r3.Vec) {
		solid := &boxes[1-e/12]
		p, u := edge(&boxes[e/12], e%12)
		own, in = lineOwnBox(solid.Pose.Own(p), solid.Pose.OwnDir(u), solid.Half)
		return r3.Norm2(r3.Sub(own, in)), own, in
	}
	enough, _, _ := measure(first)
	best := math.Inf(1)
	for e := range bounds {
		if bounds[e] > enough*(1+rounding)+rounding {
			continue
		}
		d, own, in := measure(e)
		if d >= best {
			continue
		}
		best, enough = d, min(enough, d)
		solid := &boxes[1-e/12]
		onA, onB = solid.Pose.Point(own), solid.Pose.Point(in)
		if e >= 12 {
			onA, onB = onB, onA
		}
		if best == 0 {
			break
		}
	}
	return onA, onB
}

// edgesAtLeast fills in for each edge of a box at most its squared distance from a
// solid one.
func edgesAtLeast(solid *Box, from *core, out []float64) {
	middle := solid.Pose.Own(from.at)
	var halves [3]r3.Vec
	for k := range halves {
		halves[k] = solid.Pose.OwnDir(from.half(k))
	}
	for e := range out {
		out[e] = edgeAtLeast(middle, &halves, e, solid.Half)
	}
}

// edgeAtLeast is at most the squared distance of edge i of a box from a solid one
// of those half lengths, in whose own frame the first has that middle and those
// half edges.
func edgeAtLeast(middle r3.Vec, halves *[3]r3.Vec, i int, half r3.Vec) float64 {
	k := i / 4
	m, n := &halves[(k+1)%3], &halves[(k+2)%3]
	if k == 1 {
		m, n = n, m // edge counts the other two axes in rising order
	}
	s, t := float64(2*(i&1)-1), float64(2*(i>>1&1)-1)
	x := max(0, math.Abs(middle.X+s*m.X+t*n.X)-math.Abs(halves[k].X)-half.X)
	y := max(0, math.Abs(middle.Y+s*m.Y+t*n.Y)-math.Abs(halves[k].Y)-half.Y)
	z := max(0, math.Abs(middle.Z+s*m.Z+t*n.Z)-math.Abs(halves[k].Z)-half.Z)
	return x*x + y*y + z*z
}

// edge returns the start of edge i (0 to 11) of a box and the vector along it:
// four edges along each own axis.
func edge(b *Box, i int) (at, along r3.Vec) {
	sign := func(bit int) float64 { return float64(2*(i>>bit&1) - 1) }
	h := b.Half
	var own r3.Vec
	switch i / 4 {
	case 0:
		own, along = r3.Vec{X: -h.X, Y: sign(0) * h.Y, Z: sign(1) * h.Z}, r3.Scale(2*h.X, b.Pose.X)
	case 1:
		own, along = r3.Vec{X: sign(0) * h.X, Y: -h.Y, Z: sign(1) * h.Z}, r3.Scale(2*h.Y, b.Pose.Y)
	default:
		own, along = r3.Vec{X: sign(0) * h.X, Y: sign(1) * h.Y, Z: -h.Z}, r3.Scale(2*h.Z, b.Pose.Z)
	}
	return b.Pose.Point(own), along
}

// escape returns for two cores that meet the direction and length of the
// shortest shift of b that parts them.
//
// All positions of b at which the cores meet make a solid whose edges are the
// half edges of both; each of its faces is square to two of them, and the
// shortest way out goes square through a face.
func escape(a, b *core) (n r3.Vec, depth float64) {
	var edges [6]r3.Vec
	k := 0
	for _, c := range [2]*core{a, b} {
		for i := range c.n {
			edges[k] = c.half(i)
			k++
		}
	}
	c := r3.Sub(b.at, a.at)
	best := math.Inf(1)
	for i := range k {
		for j := i + 1; j < k; j++ {
			m := r3.Cross(edges[i], edges[j])
			l2 := r3.Norm2(m)
			if l2 <= 1e-20*r3.Norm2(edges[i])*r3.Norm2(edges[j]) {
				continue
			}
			m = r3.Scale(1/math.Sqrt(l2), m)
			reach := 0.0
			for _, e := range edges[:k] {
				reach += math.Abs(r3.Dot(e, m))
			}
			at := r3.Dot(c, m)
			if d := reach - math.Abs(at); d < best {
				best, n = d, m
				if at < 0 {
					n = r3.Scale(-1, m)
				}
			}
		}
	}
	if math.IsInf(best, 1) { // all in one line or point: any way square to it
		return squareTo(edges[:k]), 0
	}
	return n, max(best, 0)
}

// squareTo returns a unit vector square to parallel vectors, straight up when
// all are zero.
func squareTo(parallel []r3.Vec) r3.Vec {
	for _, e := range parallel {
		for _, axis := range [2]r3.Vec{{Z: 1}, {X: 1}} {
			side := r3.Sub(axis, r3.Scale(r3.Dot(axis, e)/max(r3.Norm2(e), geom.Tiny*geom.Tiny), e))
			if u, err := geom.Unit(side); err == nil && r3.Norm2(e) > 0 && r3.Norm(side) > 0.1 {
				return u
			}
		}
	}
	return r3.Vec{Z: 1}
}
