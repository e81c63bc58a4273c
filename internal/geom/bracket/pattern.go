package bracket

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
)

// BoltPattern is a group of equal bolts in one plane, mm.
type BoltPattern struct {
	Name string
	At   []r2.Vec
}

// BoltShare is what one bolt of a pattern carries.
type BoltShare struct {
	At      r2.Vec
	Shear   r2.Vec  // N
	Tension float64 // N; negative where the plates are pressed together
}

// Share divides a load among the bolts by the elastic method (Shigley's
// Mechanical Engineering Design, ch. 8): equal parts of the force, shear from
// torsion by distance from the centroid, tension from bending in a plane
// through the centroid with the full second moments, product included. Prying
// and the preload are not in it. Screening figures.
func (p BoltPattern) Share(l Load) ([]BoltShare, error) {
	bad := func(format string, args ...any) error { return bad("bolt pattern", p.Name, format, args...) }
	n := float64(len(p.At))
	if n == 0 || n > 1000 {
		return nil, bad("it has %d bolts", len(p.At))
	}
	if !l.ok() {
		return nil, bad("the load or its place is not a usable number")
	}
	g := plane{size: n}
	for _, q := range p.At {
		if !(math.Abs(q.X) <= limitLength && math.Abs(q.Y) <= limitLength) {
			return nil, bad("a bolt at %g, %g mm is not usable", q.X, q.Y)
		}
		g.centroid = r2.Add(g.centroid, r2.Scale(1/n, q))
	}
	for _, q := range p.At {
		d := r2.Sub(q, g.centroid)
		g.ix += d.Y * d.Y
		g.iy += d.X * d.X
		g.ixy += d.X * d.Y
	}
	f, m := l.about(g.centroid)
	turn := 0.0
	if m.Z != 0 {
		if g.polar() <= geom.Tiny*geom.Tiny {
			return nil, bad("one bolt, or bolts in one place, cannot hold a twist of %.0f N·m", m.Z/1000)
		}
		turn = m.Z / g.polar()
	}
	a, b, c, ok := g.tilt(f.Z, m.X, m.Y)
	if !ok {
		return nil, bad("the bolts stand in one line and cannot hold the bending about that line; set one beside it")
	}
	out := make([]BoltShare, len(p.At))
	for i, q := range p.At {
		d := r2.Sub(q, g.centroid)
		out[i] = BoltShare{At: q,
			Shear:   r2.Vec{X: f.X/n - turn*d.Y, Y: f.Y/n + turn*d.X},
			Tension: a + b*d.X + c*d.Y}
	}
	return out, nil
}
