package clear

import (
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
// From one place to the next no point of the solid may go further than half as
// far again as it gets in a straight line: an arc of up to 170° passes.
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
const LeastTolerance = 0.02

// arcOverChord bounds how far a point goes from one place to the next, as part
// of how far it gets.
const arcOverChord = 1.5

// mostHalvings ends the search between two places where a Path breaks its
// promise.
const mostHalvings = 20

// Least returns where a moving solid comes nearest to one that stands still.
//
// No gap changes by more than the point that goes furthest moves (a solid
// shifted by d comes nearer by d at most), so between two places it stays above
// half of the two gaps less that way. Where that leaves room for a smaller gap
// than the smallest found, the interval is halved; nothing is passed over.
func (p Path) Least(b Shape) (Meeting, error) {
	best := Meeting{Gap: math.Inf(1)}
	if len(p.At) == 0 || len(p.At) != len(p.Solids) {
		return best, fmt.Errorf("a moving solid needs its place at each of %d steps, and has it at %d", len(p.At), len(p.Solids))
	}
	gaps := make([]float64, len(p.At))
	look := func(at float64, s Shape) float64 {
		gap, from, to := Distance(s, b)
		if gap < best.Gap {
			best = Meeting{gap, at, from, to}
		}
		return gap
	}
	for i, s := range p.Solids {
		gaps[i] = look(p.At[i], s)
	}
	if p.Between == nil {
		return best, nil
	}
	var halve func(lo, hi place, left int) error
	halve = func(lo, hi place, left int) error {
		way := arcOverChord * farthestMoved(lo.solid, hi.solid)
		if left == 0 || (lo.gap+hi.gap-way)/2 >= best.Gap-LeastTolerance {
			return nil
		}
		at := (lo.at + hi.at) / 2
		s, err := p.Between(at)
		if err != nil {
			return err
		}
		mid := place{at, s, look(at, s)}
		if err := halve(lo, mid, left-1); err != nil {
			return err
		}
		return halve(mid, hi, left-1)
	}
	for i := 1; i < len(p.At); i++ {
		if err := halve(place{p.At[i-1], p.Solids[i-1], gaps[i-1]}, place{p.At[i], p.Solids[i], gaps[i]}, mostHalvings); err != nil {
			return best, err
		}
	}
	return best, nil
}

// place is a moving solid at one place of its way.
type place struct {
	at    float64
	solid Shape
	gap   float64
}

// farthestMoved is the most that any point of a solid has moved between two
// places. Every point of it is a mean of its core's corners, so it is the most
// that a corner has. A half-space has no corner to go by.
func farthestMoved(a, b Shape) float64 {
	if _, ok := a.(Plane); ok {
		return math.Inf(1)
	}
	ca, cb := coreOf(a), coreOf(b)
	most := 0.0
	for bits := range 1 << ca.n {
		most = max(most, r3.Norm(r3.Sub(ca.corner(bits), cb.corner(bits))))
	}
	return most + math.Abs(ca.r-cb.r)
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
