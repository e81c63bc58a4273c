package clear

import (
	"errors"
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Path is a solid that moves: Solids[i] is where it stands at place At[i] of
// its way, the places in rising order. What a place is (a rise in mm, a time)
// is the caller's. Between gives it at a place between two of them; without
// one, only the places given are looked at.
//
// No point of the solid may go round a curve tighter than tightest from one
// place to the next; links, arms and springs of a vehicle are far from it.
type Path struct {
	At      []float64
	Solids  []Shape
	Between func(at float64) (Shape, error)
}

// Meeting is where two solids come nearest: the gap as of Distance, the place
// of the way, and the points on each.
type Meeting struct {
	Gap      float64
	At       float64
	From, To r3.Vec // on the one that moves, and on the other; vehicle axes
}

// LeastTolerance is how closely (mm) Least finds the smallest gap: it is never
// smaller than what is given by more than that.
const LeastTolerance = 0.05

// tightest is the smallest radius of a point's way, mm.
const tightest = 25

// mostHalvings ends the search between two places where a Path breaks its
// promise.
const mostHalvings = 20

// Least returns where a moving solid comes nearest to one that stands still, if
// that is nearer than below (mm; infinite for any): false where it is not.
//
// Between two places a point strays from the further of its two ends, seen in
// any one direction, by no more than the rise of an arc over the chord it has
// covered. Taken for the corners along the shortest way to the other solid, which
// no convex solid can cut short, that bounds the gap from below. Where the bound
// leaves room for a smaller gap than the smallest found, the interval is halved;
// nothing is passed over.
func (p Path) Least(b Shape, below float64) (best Meeting, found bool, err error) {
	if len(p.At) == 0 || len(p.At) != len(p.Solids) {
		return best, false, fmt.Errorf("a moving solid needs its place at each of %d steps, and has it at %d", len(p.At), len(p.Solids))
	}
	if _, ok := p.Solids[0].(Plane); ok && p.Between != nil {
		return best, false, errors.New("a half-space that moves is not followed")
	}
	best.Gap = below
	places := make([]place, len(p.At))
	look := func(at float64, s Shape) place {
		m := Meeting{At: at}
		if m.Gap, m.From, m.To = Distance(s, b); m.Gap < best.Gap {
			best, found = m, true
		}
		return place{m, s}
	}
	for i, s := range p.Solids {
		places[i] = look(p.At[i], s)
	}
	if p.Between == nil {
		return best, found, nil
	}
	var halve func(lo, hi place, left int) error
	halve = func(lo, hi place, left int) error {
		if left == 0 || max(lo.leastTo(hi), hi.leastTo(lo)) >= best.Gap-LeastTolerance {
			return nil
		}
		at := (lo.At + hi.At) / 2
		s, err := p.Between(at)
		if err != nil {
			return err
		}
		mid := look(at, s)
		if err := halve(lo, mid, left-1); err != nil {
			return err
		}
		return halve(mid, hi, left-1)
	}
	for i := 1; i < len(places); i++ {
		if err := halve(places[i-1], places[i], mostHalvings); err != nil {
			return best, found, err
		}
	}
	return best, found, nil
}

// place is a moving solid at one place of its way.
type place struct {
	Meeting
	solid Shape
}

// leastTo is a gap that the solid keeps on its way from here to there, by the
// direction in which it is nearest here.
func (l place) leastTo(r place) float64 {
	a, b := coreOf(l.solid), coreOf(r.solid)
	n, err := geom.Unit(r3.Sub(l.To, l.From))
	if err != nil || math.Abs(l.Gap) < touching {
		return l.Gap - farthestMoved(a, b)
	}
	if l.Gap < 0 {
		n = r3.Scale(-1, n)
	}
	here, between := math.Inf(-1), math.Inf(-1)
	for bits := range 1 << a.n {
		p, q := a.corner(bits), b.corner(bits)
		chord := r3.Norm(r3.Sub(q, p))
		here = max(here, r3.Dot(n, p))
		between = max(between, max(r3.Dot(n, p), r3.Dot(n, q))+chord*chord/(6*tightest))
	}
	return l.Gap + here - between - math.Abs(a.r-b.r)
}

// farthestMoved bounds how far any point of a solid moves between two places.
func farthestMoved(a, b core) float64 {
	most := 0.0
	for bits := range 1 << a.n {
		chord := r3.Norm(r3.Sub(a.corner(bits), b.corner(bits)))
		most = max(most, chord+chord*chord/(6*tightest))
	}
	return most + math.Abs(a.r-b.r)
}

// corner is the corner of a core that bits choose: one bit for each half edge.
func (c core) corner(bits int) r3.Vec {
	p := c.at
	for i, h := range c.half[:c.n] {
		p = r3.Add(p, r3.Scale(float64(2*(bits>>i&1)-1), h))
	}
	return p
}

// Steady is a solid that does not move, as a Path of one place.
func Steady(s Shape) Path { return Path{At: []float64{0}, Solids: []Shape{s}} }

// Carried is a solid taken along by rigid motions from where solid is, vehicle
// axes: motions[i] at place at[i], and between them as between says.
func Carried(solid Shape, at []float64, motions []geom.Pose, between func(at float64) (geom.Pose, error)) Path {
	p := Path{At: at, Solids: make([]Shape, len(motions))}
	for i, m := range motions {
		p.Solids[i] = Moved(solid, m)
	}
	if between != nil {
		p.Between = func(at float64) (Shape, error) {
			m, err := between(at)
			if err != nil {
				return nil, err
			}
			return Moved(solid, m), nil
		}
	}
	return p
}
