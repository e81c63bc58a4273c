package clear

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// finest is into how many pieces a step of a way is taken apart at the most, to see how far
// it strays.
const finest = 16

// step is the way from one place to the next, as finely as it has been wanted yet.
type step struct {
	rises  []float64
	at     []r3.Vec
	strays []float64 // from the one before, as of Way
	done   bool      // it gets no finer
}

// guard is a half-space that holds a solid that stands still, from at along n, with how far
// along n a point goes on one step of its way.
type guard struct {
	n         r3.Vec
	at, reach float64
	known     bool
}

// Along is WayOf a point whose place between two others can be asked for: how far it strays
// there is then seen as closely as it is wanted. Rises has the places of the path; between
// keeps the promise of Path. It is for one goroutine at a time.
func Along(rises []float64, at []r3.Vec, between func(rise float64) (r3.Vec, error)) *Way {
	w := WayOf(at, true)
	w.rises, w.between, w.steps = rises, between, make([]step, len(at))
	return w
}

// onStep is how far along a unit direction the point goes from place k-1 to k, mm from the
// vehicle's zero. It is worked out no closer than to be at most enough.
func (w *Way) onStep(n r3.Vec, k int, enough float64) float64 {
	s := &w.steps[k]
	if s.at == nil {
		s.rises, s.at, s.strays = w.rises[k-1:k+1:k+1], w.at[k-1:k+1:k+1], []float64{0, w.strays[k]}
	}
	for {
		last := r3.Dot(n, s.at[0])
		far, most := last, last
		for i := 1; i < len(s.at); i++ {
			at := r3.Dot(n, s.at[i])
			far, most = max(far, farther(last, at, s.strays[i])), max(most, at)
			last = at
		}
		if far <= enough || most > enough || s.done || !w.finer(s) {
			return far
		}
	}
}

// finer takes a step apart into twice as many pieces; false where it cannot be.
func (w *Way) finer(s *step) bool {
	pieces := len(s.at) - 1
	out := step{rises: make([]float64, 0, 2*pieces+1), at: make([]r3.Vec, 0, 2*pieces+1), strays: make([]float64, 0, 2*pieces+1), done: 2*pieces >= finest}
	add := func(rise float64, at r3.Vec) {
		strays := 0.0
		if n := len(out.at); n > 0 {
			strays = r3.Norm2(r3.Sub(at, out.at[n-1])) / (6 * tightest)
		}
		out.rises, out.at, out.strays = append(out.rises, rise), append(out.at, at), append(out.strays, strays)
	}
	for i := range s.at {
		if i > 0 {
			mid := (s.rises[i-1] + s.rises[i]) / 2
			at, err := w.between(mid)
			if err != nil {
				s.done = true
				return false
			}
			add(mid, at)
		}
		add(s.rises[i], s.at[i])
	}
	*s = out
	return true
}

// guardsOf are the guards of the steps of a way.
func (b *Still) guardsOf(w *Way) []guard {
	if g, ok := b.guards[w]; ok {
		return g
	}
	if b.guards == nil {
		b.guards = map[*Way][]guard{}
	}
	g := make([]guard, len(w.at))
	b.guards[w] = g
	return g
}

// keeps is at most the distance that a rod which ends on the way keeps on that step from
// what the guard holds; start is its other end, which stands still, or is the same one.
func (g *guard) keeps(start r3.Vec, ball bool, radius float64) float64 {
	if !g.known {
		return math.Inf(-1)
	}
	far := g.reach
	if !ball {
		far = max(far, r3.Dot(g.n, start))
	}
	far += radius
	return g.at - far - 1e-11*(1+math.Abs(far)+math.Abs(g.at))
}

// NoNearer reports whether Least finds nothing nearer than below, mm, for a rod of which one
// end stands still and the other goes along its way, or for a ball on such a way. Half-spaces
// that have ruled out one such rod serve for others that end on the same way. False is for
// where it may find something, or where this cannot see it.
func (t *Track) NoNearer(b *Still, below float64) bool {
	r := t.path.Rod
	if r == nil || t.path.Between == nil || b.endless || r.To.between == nil || !r.From.still() && r.From != r.To || math.IsInf(below, 1) {
		return false
	}
	apart := b.apart // where Least begins to look rests on that, and of places alike the first stays
	p := passed{track: t, rod: r, below: below, ball: r.From == r.To, guards: b.guardsOf(r.To),
		search: search{still: &b.ready, apart: &apart, best: Meeting{Gap: below}, between: t.path.Between}}
	for i := range t.looks {
		t.looks[i].measured = false
	}
	for k := 1; k < len(t.ways); k++ {
		if !p.step(k) {
			return false
		}
	}
	return true
}

// passed is a rod that is seen to pass a solid no nearer than below, step by step.
type passed struct {
	search
	track  *Track
	rod    *Rod
	below  float64
	ball   bool
	guards []guard
}

// step reports whether there is nothing nearer from place k-1 to k.
func (p *passed) step(k int) bool {
	g, start, enough := &p.guards[k], p.rod.From.at[0], p.below-alike
	if g.keeps(start, p.ball, p.rod.Radius) >= enough {
		return true
	}
	t := p.track
	t.build(&t.parts[(k-1)/spanned])
	ends := [2]*look{t.look(k - 1), t.look(k)}
	for _, l := range ends {
		if !l.measured {
			p.take(l)
		}
		if p.found {
			return false
		}
		if l.Gap <= aimed {
			continue
		}
		n := r3.Scale(1/l.Gap, r3.Sub(l.To, l.From))
		try := guard{n: n, at: r3.Dot(n, l.To), known: true}
		want := try.at - p.rod.Radius - enough
		try.reach = p.rod.To.onStep(n, k, want-1e-11*(1+math.Abs(want)+math.Abs(try.at)))
		if try.keeps(start, p.ball, p.rod.Radius) >= enough {
			*g = try
			return true
		}
	}
	return p.halve(ends[0], ends[1], mostHalvings) == nil && !p.found
}
