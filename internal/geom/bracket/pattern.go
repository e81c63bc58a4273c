package bracket

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
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
	r, err := p.Ready()
	if err != nil {
		return nil, err
	}
	return r.Share(nil, l)
}

// ReadyPattern is a pattern whose geometry is worked out, for one load after
// another.
type ReadyPattern struct {
	pattern BoltPattern
	g       plane
}

func (p BoltPattern) bad(format string, args ...any) error {
	return bad("bolt pattern", p.Name, format, args...)
}

// OneRowError says that bolts in one row were to hold bending about that row, N·mm.
type OneRowError struct {
	Name  string
	About float64
}

func (e *OneRowError) Error() string {
	return fmt.Sprintf("bolt pattern %s: the bolts stand in one line and cannot hold the bending about that line, %.0f N·m; set one beside it", e.Name, e.About/1000)
}

// aboutRow is the part of a moment that bends about the row in which all parts stand; all of
// it where they stand in one place.
func (p plane) aboutRow(mx, my float64) float64 {
	u, err := geom.Unit(r3.Vec{X: p.ixy, Y: p.ix})
	if p.iy >= p.ix {
		u, err = geom.Unit(r3.Vec{X: p.iy, Y: p.ixy})
	}
	if err != nil {
		return math.Hypot(mx, my)
	}
	return math.Abs(mx*u.X + my*u.Y)
}

// Ready works out the geometry of the pattern.
func (p BoltPattern) Ready() (ReadyPattern, error) {
	n := float64(len(p.At))
	if n == 0 || n > 1000 {
		return ReadyPattern{}, p.bad("it has %d bolts", len(p.At))
	}
	g := plane{size: n}
	for _, q := range p.At {
		if !(math.Abs(q.X) <= geom.LimitLength && math.Abs(q.Y) <= geom.LimitLength) {
			return ReadyPattern{}, p.bad("a bolt at %g, %g mm is not usable", q.X, q.Y)
		}
		g.centroid = r2.Add(g.centroid, r2.Scale(1/n, q))
	}
	for _, q := range p.At {
		d := r2.Sub(q, g.centroid)
		g.ix += d.Y * d.Y
		g.iy += d.X * d.X
		g.ixy += d.X * d.Y
	}
	return ReadyPattern{p, g}, nil
}

// Share is that of the pattern; the shares are appended to into.
func (r *ReadyPattern) Share(into []BoltShare, l Load) ([]BoltShare, error) {
	p, g, n := r.pattern, r.g, r.g.size
	if !l.ok() {
		return nil, p.bad("the load or its place is not a usable number")
	}
	f, m := l.about(g.centroid)
	turn := 0.0
	if m.Z != 0 {
		if g.polar() <= geom.Tiny*geom.Tiny {
			return nil, p.bad("one bolt, or bolts in one place, cannot hold a twist of %.0f N·m", m.Z/1000)
		}
		turn = m.Z / g.polar()
	}
	a, b, c, ok := g.tilt(f.Z, m.X, m.Y)
	if !ok {
		return nil, &OneRowError{p.Name, g.aboutRow(m.X, m.Y)}
	}
	for _, q := range p.At {
		d := r2.Sub(q, g.centroid)
		into = append(into, BoltShare{At: q,
			Shear:   r2.Vec{X: f.X/n - turn*d.Y, Y: f.Y/n + turn*d.X},
			Tension: a + b*d.X + c*d.Y})
	}
	return into, nil
}
