package bracket

import (
	"cmp"
	"math"
	"slices"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r2"
)

// Adapter is a flat plate that is bolted at some holes and carries a pad at others, mm, in
// its own plane about the middle of the pad.
type Adapter struct {
	Name             string
	Bosses           []r2.Vec // middles of the holes that it is bolted by
	Hole             float64  // their diameter
	Pad              []Hole   // for what it carries; none where that is not said
	Edge             float64  // from the middle of each outer hole to the plate's edge
	Thickness, Yield float64  // mm, MPa
}

// roundSides is in how many straight pieces the plate's edge goes once round a hole.
const roundSides = 24

// Plate is the plate as it is cut: the straight edges that touch a circle of the edge
// distance round each of its outer holes, and those circles between them.
func (a Adapter) Plate() (Plate, error) {
	p := Plate{Name: a.Name, Thickness: a.Thickness}
	if !geom.LengthOK(a.Edge) || !geom.LengthOK(a.Hole) || a.Edge <= a.Hole/2 {
		return p, bad("plate", a.Name, "an edge %.1f mm from the middle of holes of %.1f mm is none; make edge more", a.Edge, a.Hole)
	}
	var round []r2.Vec
	circle := func(at r2.Vec) {
		for k := range roundSides { // outside the circle by so much that its sides touch it
			s, c := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / roundSides)
			r := a.Edge / math.Cos(math.Pi/roundSides)
			round = append(round, r2.Vec{X: at.X + r*c, Y: at.Y + r*s})
		}
	}
	for _, q := range a.Bosses {
		if !geom.Finite(q.X, q.Y) || r2.Norm(q) > geom.LimitLength {
			return p, bad("plate", a.Name, "a boss is not at a usable place")
		}
		p.Holes = append(p.Holes, Hole{At: q, Diameter: a.Hole})
		circle(q)
	}
	for _, h := range a.Pad {
		p.Holes = append(p.Holes, h)
		circle(h.At)
	}
	if len(a.Pad) == 0 {
		circle(r2.Vec{})
	}
	p.Outline = hull(round)
	return p, nil
}

// hull is the smallest convex outline round points, anticlockwise (Andrew's monotone
// chain).
func hull(pts []r2.Vec) []r2.Vec {
	pts = slices.Clone(pts)
	slices.SortFunc(pts, func(p, q r2.Vec) int { return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y)) })
	chain := func(pts []r2.Vec) (out []r2.Vec) {
		for _, p := range pts {
			for len(out) > 1 && r2.Cross(r2.Sub(out[len(out)-1], out[len(out)-2]), r2.Sub(p, out[len(out)-1])) <= 1e-9 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out[:len(out)-1]
	}
	lower := chain(pts)
	slices.Reverse(pts)
	return append(lower, chain(pts)...)
}

// LeastPitch is how near the middles of two holes come to each other, and the largest
// diameter of those two; 0 with fewer than two holes.
func (p Plate) LeastPitch() (apart, diameter float64) {
	for i, h := range p.Holes {
		for _, o := range p.Holes[:i] {
			d, most := r2.Norm(r2.Sub(h.At, o.At)), max(h.Diameter, o.Diameter)
			if diameter == 0 || d/most < apart/diameter {
				apart, diameter = d, most
			}
		}
	}
	return apart, diameter
}

// PitchRule is the least distance between the centres of two bolt holes, in hole
// diameters (EN 1993-1-8, table 3.3: 2.2 d0 along the force, which may come from anywhere).
const PitchRule = 2.2

// ReadyAdapter is such a plate with the lines worked out along which it can bend.
type ReadyAdapter struct {
	plate   Plate
	pattern ReadyPattern
	lines   []bendLine
	through float64 // with which a stud in its middle would bend it through, N
	room    []BoltShare
}

// bendLine is a straight line across the plate with the pad on one side of it, or on it.
type bendLine struct {
	at     float64   // from the pad, mm
	width  float64   // of the plate along it, holes taken out
	levers []float64 // of each boss beyond it; 0 of those on the pad's side
	limit  float64   // moment with which the plate begins to give there, N·mm
}

// AdapterBending is what a load does to the plate where it bends it most.
type AdapterBending struct {
	Moment      float64 // about the line, N·mm
	Width       float64 // of the plate along it without its holes, mm
	At          float64 // how far the line is from the middle of the pad, mm
	Through     bool    // under the stud itself
	Utilisation float64
}

// Ready works out its lines: at every 5° and at every place between the pad and the
// bosses. What is beyond a line bends the plate along it, all across; the plate begins to
// give there at yield · width · t²/6. Those are the straight yield lines of plates (Johansen,
// Yield-line Theory, from memory) with the elastic modulus in place of the plastic one, on
// the safe side. Screening.
func (a Adapter) Ready() (ReadyAdapter, error) {
	r := ReadyAdapter{}
	var err error
	if r.plate, err = a.Plate(); err != nil {
		return r, err
	}
	if _, err = r.plate.Figures(); err != nil {
		return r, err
	}
	if r.pattern, err = (BoltPattern{Name: a.Name, At: a.Bosses}).Ready(); err != nil {
		return r, err
	}
	if !(a.Yield >= geom.Least) || !geom.LoadOK(a.Yield) {
		return r, bad("plate", a.Name, "a yield of %g MPa is no plate's", a.Yield)
	}
	hinge := a.Yield * a.Thickness * a.Thickness / 4
	r.through = 2 * math.Pi * hinge // Hopkins and Prager, as of a plate at a tube's end
	for step := range 72 {
		s, c := math.Sincos(float64(step) * 5 * math.Pi / 180)
		n := r2.Vec{X: c, Y: s}
		for _, at := range a.places(n) {
			l := bendLine{at: at, width: r.plate.netAcross(n, at), levers: make([]float64, len(a.Bosses))}
			for i, q := range a.Bosses {
				l.levers[i] = max(0, r2.Dot(n, q)-at)
			}
			if l.limit = l.width * a.Thickness * a.Thickness / 6 * a.Yield; l.limit > geom.Tiny {
				r.lines = append(r.lines, l)
			}
		}
	}
	return r, nil
}

// places are those of the lines square to n: through the pad, beside its holes, and on the
// way to each boss beyond.
func (a Adapter) places(n r2.Vec) (out []float64) {
	out = []float64{0}
	edge := 0.0
	for _, h := range a.Pad {
		d := r2.Dot(n, h.At)
		if d > 0 {
			out = append(out, d)
		}
		edge = max(edge, d+h.Diameter/2)
	}
	out = append(out, edge)
	for _, q := range a.Bosses {
		if d := r2.Dot(n, q); d > 0 {
			for _, part := range []float64{0.25, 0.5, 0.75, 0.9, 1} {
				out = append(out, part*d)
			}
		}
	}
	return out
}

// netAcross is how wide a convex plate is along the line n·x = at, its holes taken out, mm.
func (p Plate) netAcross(n r2.Vec, at float64) float64 {
	along := r2.Vec{X: -n.Y, Y: n.X}
	lo, hi := math.Inf(1), math.Inf(-1)
	for i, q := range p.Outline {
		w := p.Outline[(i+1)%len(p.Outline)]
		d, e := r2.Dot(n, q)-at, r2.Dot(n, w)-at
		if d*e > 0 || d == e {
			continue
		}
		x := r2.Dot(along, r2.Add(q, r2.Scale(d/(d-e), r2.Sub(w, q))))
		lo, hi = min(lo, x), max(hi, x)
	}
	width := max(0, hi-lo)
	if math.IsInf(width, 0) || math.IsNaN(width) {
		return 0
	}
	for _, h := range p.Holes {
		if d := math.Abs(r2.Dot(n, h.At) - at); d < h.Diameter/2 {
			width -= 2 * math.Sqrt(h.Diameter*h.Diameter/4-d*d)
		}
	}
	return max(0, width)
}

// Under is what a load on the pad does: what each boss holds, elastically and with the
// plate stiff against them, and where it bends the plate most. Shares stand until it is
// asked again.
func (r *ReadyAdapter) Under(l Load) (b AdapterBending, shares []BoltShare, err error) {
	if r.room, err = r.pattern.Share(r.room[:0], l); err != nil {
		return b, nil, err
	}
	for i := range r.lines {
		x := &r.lines[i]
		moment := 0.0
		for k, lever := range x.levers {
			moment += lever * r.room[k].Tension
		}
		if used := math.Abs(moment) / x.limit; used > b.Utilisation {
			b = AdapterBending{Moment: math.Abs(moment), Width: x.width, At: x.at, Utilisation: used}
		}
	}
	if used := math.Abs(l.Force.Z) / r.through; used > b.Utilisation {
		b = AdapterBending{Through: true, Utilisation: used}
	}
	return b, r.room, nil
}

// Engagement is how far a bolt has to be screwed into a boss so that its thread does not
// strip before the bolt breaks, in diameters of the bolt: common practice, no source.
func Engagement(metal string) (float64, bool) {
	v, ok := map[string]float64{"steel": 1, "cast iron": 1.5, "aluminium": 2}[metal]
	return v, ok
}
