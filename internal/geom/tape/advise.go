package tape

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// Further is a measurement that could be taken: what it is, between which points,
// and its place in the list of observations were it added.
type Further struct {
	Kind   Kind
	Points []int
	Again  int // the observation that it would repeat from the start; -1 for something new
	of     Observation
}

// Sigmas are the standard uncertainties that a further measurement would have: a
// distance, a rise and an offset from a string, each in the unit of the network;
// one that is 0 cannot be taken.
type Sigmas struct{ Distance, Rise, Offset float64 }

// Furthers lists what could be measured and was not: distances between any two
// points that are not both known, rises between those whose heights are sought,
// and offsets from the string between the two points farthest from each other; and
// at the end what was measured, to be measured once more from the start. x are the
// unknowns as they are thought to be.
func (n *Net) Furthers(x []float64, sigma Sigmas) []Further {
	done := map[[3]int]bool{}
	for i := range n.measure {
		if k, p := n.Between(i); len(p) == 2 {
			done[[3]int{int(k), min(p[0], p[1]), max(p[0], p[1])}] = true
		}
	}
	var out []Further
	trial := &Net{points: n.points, first: n.first, start: n.start}
	take := func(kind Kind, points ...int) {
		out = append(out, Further{Kind: kind, Points: points, Again: -1, of: trial.measure[len(trial.measure)-1]})
	}
	far, ends := 0.0, [2]int{}
	for i := range n.points {
		for j := range i {
			d := distance(n, j, i, x)
			if d > far {
				far, ends = d, [2]int{j, i}
			}
			if !n.sought(i) && !n.sought(j) {
				continue
			}
			if sigma.Distance > 0 && d > 0 && !done[[3]int{int(Distance), j, i}] {
				trial.Distance("", j, i, d, sigma.Distance)
				take(Distance, j, i)
			}
			if up := n.points[i].Free[2] || n.points[j].Free[2]; up && sigma.Rise > 0 && !done[[3]int{int(Rise), j, i}] {
				trial.Rise("", j, i, 0, sigma.Rise)
				take(Rise, j, i)
			}
		}
	}
	for i := range n.points {
		if far > 0 && sigma.Offset > 0 && i != ends[0] && i != ends[1] {
			trial.Offset("", i, ends[0], ends[1], 0, sigma.Offset)
			take(Offset, i, ends[0], ends[1])
		}
	}
	for i, o := range n.observations() {
		kind, points := n.Between(i)
		out = append(out, Further{Kind: kind, Points: points, Again: i, of: o})
	}
	return out
}

func (n *Net) sought(point int) bool {
	f := n.points[point].Free
	return f[0] || f[1] || f[2]
}

func distance(n *Net, a, b int, x []float64) float64 {
	p, q := n.Where(a, x), n.Where(b, x)
	return math.Sqrt((p.X-q.X)*(p.X-q.X) + (p.Y-q.Y)*(p.Y-q.Y) + (p.Z-q.Z)*(p.Z-q.Z))
}

// tied is how many movements a further measurement is sought for: where hundreds of
// points can move, one that ties down some of them is as good as any.
const tied = 24

// Ties returns which of the further measurements would tie down most of what a
// LooseError says can move, -1 when none would. x are the unknowns at which it
// was found.
func (e *LooseError) Ties(further []Further, x []float64) int {
	for left := e.Moves; len(left) > 0; left = left[min(tied, len(left)):] {
		if k := ties(orthonormal(left[:min(tied, len(left))]), further, x); k >= 0 {
			return k
		}
	}
	return -1
}

// ties is Ties for some of the movements.
func ties(moves [][]float64, further []Further, x []float64) int {
	best, most := -1, 1e-9
	by := make([]float64, len(moves)) // how far the measurement notices each
	for i, c := range further {
		clear(by)
		c.of.Of.Partials(x, func(u int, p float64) {
			for k, m := range moves {
				by[k] += p * m[u]
			}
		})
		sum := floats.Dot(by, by)
		if sum > most*(1+1e-9) {
			best, most = i, sum
		}
	}
	return best
}

func orthonormal(moves [][]float64) [][]float64 {
	var out [][]float64
	for _, m := range moves {
		m := append([]float64(nil), m...)
		before := floats.Norm(m, 2)
		for range 2 {
			for _, o := range out {
				floats.AddScaled(m, -floats.Dot(m, o), o)
			}
		}
		if size := floats.Norm(m, 2); size > 1e-9*before {
			floats.Scale(1/size, m)
			out = append(out, m)
		}
	}
	return out
}

// Best returns which of the further measurements would help most: it brings the
// mean square of the smallest detectable errors down the farthest, so that a slip
// is found where it hides best now. In a network in which nothing hides it is the
// one that makes the places surest. -1 when there is none.
func (f *Fit) Best(further []Further) int {
	best, least := -1, math.Inf(1)
	score := f.with
	table := f.table
	if table == nil && len(further) > f.linear.n/4 && f.entries() <= mostNoticed {
		table = f.noticing()
	}
	if table != nil {
		sum := make([]float64, len(f.Each))
		score = func(o Observation) float64 { return table.with(o, sum) }
	}
	for i, c := range further {
		if score := score(c.of); score < least*(1-1e-9) {
			best, least = i, score
		}
	}
	return best
}

// hardly is the redundancy below which an observation counts as unchecked, so
// that one is not sought in vain.
const hardly = 1e-3

// with is the sum of 1/r over the observations were o one of them.
func (f *Fit) with(o Observation) float64 {
	s := f.linear
	b := make([]float64, s.n)
	var row []int
	o.Of.Partials(f.X, func(u int, d float64) {
		if u >= s.n { // shared, where the fit does not look at that
			return
		}
		p := s.position[u]
		b[p] += d / o.Sigma * s.scale[u]
		row = append(row, p)
	})
	part := make(map[int]float64, len(row))
	for _, p := range row {
		part[p] = b[p]
	}
	s.apply(b)
	own := 0.0
	for p, v := range part {
		own += v * b[p]
	}
	sum := 1 / max(1/(1+own), hardly) // how well it is checked itself
	for i, e := range f.Each {
		h := 0.0
		for k, p := range s.at[i] {
			h += s.values[i][k] * b[p]
		}
		sum += 1 / max(e.Redundancy+h*h/(1+own), hardly)
	}
	return sum
}
