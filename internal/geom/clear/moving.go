package clear

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Path is a solid that moves: Solids[i] is where it stands at place At[i] of
// its way, the places in rising order. What a place is (a rise in mm, a time)
// is the caller's. Between gives it at a place between two of them; without
// one, only the places given are looked at.
//
// No point of the solid may go round a curve tighter than tightest from one
// place to the next, nor further round it than widest; links, arms and springs of
// a vehicle are far from it.
//
// A rod may be given by the ways of its ends instead of solids; what is far off is then
// passed over without a solid for each place.
type Path struct {
	At      []float64
	Solids  []Shape
	Rod     *Rod // nil for the solids
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

// tightest is the smallest radius of a point's way, mm, and widest how far round
// it goes from one place to the next, rad. An arc of radius r and angle b rises by
// c²/(4·r·(1 + cos b/2)) over its chord c, which is c²/(6·r) at 120°.
const (
	tightest = 25
	widest   = 2 * math.Pi / 3
)

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
	var t Track
	if err := t.Follow(p); err != nil {
		return best, false, err
	}
	return t.Least(b, below)
}

// Track is a Path made ready to be met by one solid after another, and room to
// do it in: for one goroutine at a time.
type Track struct {
	path  Path
	whole room
	ways  []way
	parts []part
	looks []look    // made when a place has to be measured
	least []float64 // of each place: at most its gap
}

// part is places of the track that are taken together: the last of one is the first of
// the next.
type part struct {
	from, to int
	least    float64 // at most the gap on all of it
	made     bool    // its places are
}

// way is the solid at one place, and the room of its way there from the place
// before, with how far beside both a point may stray on it.
type way struct {
	solid  ready
	since  room
	strays float64
	ends   [2]float64 // the same of the two ends of a rod, or of a ball's middle
	made   bool       // the solid is there
}

// Forget lets the path go. What is followed next takes the room that it had.
func (t *Track) Forget() {
	t.path = Path{}
	clear(t.looks[:cap(t.looks)])
	t.looks = t.looks[:0]
}

// Follow turns to a path and works out what is the same whatever the path meets.
func (t *Track) Follow(p Path) error {
	if p.Rod != nil && len(p.At) > 0 && p.Rod.ok(len(p.At)) {
		t.followRod(p)
		return nil
	}
	if len(p.At) == 0 || len(p.At) != len(p.Solids) {
		return fmt.Errorf("a moving solid needs its place at each of %d steps, and has it at %d", len(p.At), len(p.Solids))
	}
	if _, ok := p.Solids[0].(Plane); ok && p.Between != nil {
		return errors.New("a half-space that moves is not followed")
	}
	t.path, t.looks = p, t.looks[:0]
	t.parts = append(t.parts[:0], part{0, len(p.At) - 1, math.Inf(-1), true})
	t.ways, t.least = slices.Grow(t.ways[:0], len(p.At))[:len(p.At)], slices.Grow(t.least[:0], len(p.At))[:len(p.At)]
	for i, s := range p.Solids {
		w := &t.ways[i]
		*w = way{solid: readyOf(s), made: true}
		w.since = w.solid.room
		if i == 0 {
			t.whole = w.since
			continue
		}
		before := &t.ways[i-1].solid
		if p.Between != nil {
			var strays [8]float64
			w.strays = w.solid.core.strays(&before.core, &strays) + math.Abs(w.solid.core.r-before.core.r)
			w.ends = [2]float64{strays[0], strays[1]}
		}
		w.since = w.since.with(before.room, w.strays)
		t.whole = t.whole.with(w.since, 0)
	}
	return nil
}

// Still is a solid that stands still while others pass it, and a half-space that
// holds it, by where one of them came near, and such for each step of ways: for one
// goroutine at a time.
type Still struct {
	Solid
	apart  parting
	guards map[*Way][]guard
}

// alike is how little nearer, mm, a place may be for it not to count: a rod that
// comes nearest with an end that stands still does so at every place, but for
// rounding. Of places alike the first that is measured stays.
const alike = 5e-8

// Least is that of the path followed. What is plainly no nearer than below, by
// boxes that hold the two or by a half-space between them, is not measured; the
// answer is the same to what counts as alike.
func (t *Track) Least(b Shape, below float64) (best Meeting, found bool, err error) {
	return t.LeastOf(&Still{Solid: Ready(b)}, below)
}

// LeastOf is Least for a solid that is ready.
func (t *Track) LeastOf(b *Still, below float64) (best Meeting, found bool, err error) {
	s := search{still: &b.ready, apart: &b.apart, best: Meeting{Gap: below}, between: t.path.Between}
	if s.still.from(&t.whole) >= below {
		return s.best, false, nil
	}
	first := t.promising(&s)
	if first < 0 {
		return s.best, false, nil
	}
	for i := range t.looks {
		t.looks[i].measured = false
	}
	t.lookAt(&s, first) // the most promising place rules out most others
	for _, p := range t.parts {
		for i := p.from; i <= p.to && p.least < s.best.Gap-alike; i++ {
			if i != first {
				t.lookAt(&s, i)
			}
		}
	}
	if s.between == nil {
		return s.best, s.found, nil
	}
	for k := range t.parts {
		if p := &t.parts[k]; p.least < s.best.Gap-alike && (t.path.Rod == nil || s.apart.beyond(t.path.Rod, k, s.best.Gap-alike) < s.best.Gap-alike) {
			if err := t.lookBetween(&s, p); err != nil {
				return s.best, s.found, err
			}
		}
	}
	return s.best, s.found, nil
}

// promising bounds the gap at every place that may be nearer than the nearest, and
// returns the one where that leaves most room for a smaller one; -1 where there is none.
func (t *Track) promising(s *search) int {
	first, enough := -1, s.best.Gap-alike
	for k := range t.parts {
		p := &t.parts[k]
		if t.path.Rod != nil {
			if p.least = s.apart.beyond(t.path.Rod, k, enough); p.least < enough {
				room := t.path.Rod.room(k)
				p.least = max(p.least, s.still.from(&room))
			}
			if p.least >= enough {
				continue
			}
			t.build(p)
		}
		for i := p.from; i <= p.to; i++ {
			least := s.apart.from(&t.ways[i].solid)
			if least < enough {
				least = max(least, s.still.from(&t.ways[i].solid.room))
			}
			if t.least[i] = least; first < 0 || least < t.least[first]-alike {
				first = i
			}
		}
	}
	return first
}

// followRod is Follow of a rod whose ends have their ways: its solids are made where they
// are looked at.
func (t *Track) followRod(p Path) {
	t.path, t.looks, t.parts = p, t.looks[:0], t.parts[:0]
	for _, s := range p.Rod.moving().spans { // where both ends stand still it is the same everywhere
		t.parts = append(t.parts, part{from: s.from, to: s.to})
	}
	t.whole = p.Rod.room(-1)
	t.ways, t.least = slices.Grow(t.ways[:0], len(p.At))[:len(p.At)], slices.Grow(t.least[:0], len(p.At))[:len(p.At)]
	for i := range t.ways {
		t.ways[i].made = false
	}
}

// build makes the places of a part.
func (t *Track) build(p *part) {
	if p.made {
		return
	}
	p.made = true
	r := t.path.Rod
	for i := p.from; i <= p.to; i++ {
		w := &t.ways[i]
		if !w.made {
			*w = way{solid: readyOf(r.solid(i)), made: true}
			w.since = w.solid.room
		}
		if i > p.from { // from the place before
			_, from := r.From.place(i)
			_, to := r.To.place(i)
			w.ends, w.strays = [2]float64{from, to}, max(from, to)
			w.since = w.solid.room.with(t.ways[i-1].solid.room, w.strays)
		}
	}
}

// lookAt measures place i unless it is plainly no nearer than the nearest.
func (t *Track) lookAt(s *search, i int) {
	if t.least[i] >= s.best.Gap-alike || len(t.looks) > 0 && t.looks[i].measured {
		return
	}
	if t.least[i] = max(t.least[i], s.apart.from(&t.ways[i].solid)); t.least[i] < s.best.Gap-alike {
		s.take(t.look(i))
	}
}

// lookBetween looks between the places of a part wherever the way leaves room for less.
func (t *Track) lookBetween(s *search, p *part) error {
	for i := p.from + 1; i <= p.to; i++ {
		a, w := &t.ways[i-1].solid, &t.ways[i]
		enough := s.best.Gap - alike
		// Both ends by one half-space, since each measuring may turn it: what is
		// beyond one here and beyond another there may be near in between.
		if min(s.apart.from(a), s.apart.from(&w.solid))-w.strays >= enough || s.still.from(&w.since) >= s.best.Gap || s.apart.onTheWay(a, w) >= enough {
			continue
		}
		lo, hi := t.look(i-1), t.look(i)
		for _, l := range [2]*look{lo, hi} {
			if !l.measured {
				s.take(l)
			}
		}
		if err := s.halve(lo, hi, mostHalvings); err != nil {
			return err
		}
	}
	return nil
}

// look is the look at place i.
func (t *Track) look(i int) *look {
	if len(t.looks) == 0 {
		t.looks = slices.Grow(t.looks, len(t.ways))[:len(t.ways)]
		for k := range t.looks {
			t.looks[k] = look{Meeting: Meeting{At: t.path.At[k]}, solid: &t.ways[k].solid}
		}
	}
	return &t.looks[i]
}

// from is at most the distance of a shape from what a room holds.
func (a *ready) from(r *room) float64 {
	if a.endless {
		return r.over(a.plane())
	}
	return r.from(&a.room)
}

// look is where a moving solid at one place comes nearest.
type look struct {
	Meeting
	solid    *ready
	measured bool // the Meeting is there
}

// search is for the place of a path nearest to a solid that stands still.
type search struct {
	still   *ready
	apart   *parting
	best    Meeting
	found   bool
	between func(at float64) (Shape, error)
}

// take measures the solid of l.
func (s *search) take(l *look) {
	l.measured = true
	if l.Gap, l.From, l.To = l.solid.distance(s.still); l.Gap < s.best.Gap-alike {
		s.best, s.found = l.Meeting, true
	}
	if !l.solid.endless { // a half-space parts them from a core alone
		s.apart.between(l.Gap, l.From, l.To)
	}
}

// parting is a half-space that holds the solid that stands still: on from at along
// n, which is of length 1. At the next place it parts the two nearly as well.
type parting struct {
	n     r3.Vec
	at    float64
	known bool
}

// aimed is the gap, mm, from which on the direction between the two nearest points
// is sure: below, rounding of the points turns it.
const aimed = 0.1

// between takes the half-space that parts two solids at their nearest points.
func (s *parting) between(gap float64, from, to r3.Vec) {
	if gap > aimed {
		n := r3.Scale(1/gap, r3.Sub(to, from))
		*s = parting{n, r3.Dot(n, to), true}
	}
}

// rounding is far over what a bound loses in its last digits with numbers of that
// size, mm, and less than alike.
func (s *parting) rounding(size float64) float64 {
	return 1e-11 * (1 + math.Abs(size) + math.Abs(s.at))
}

// from is at most the distance of a solid from what the half-space holds.
func (s *parting) from(a *ready) float64 {
	if !s.known || a.endless {
		return math.Inf(-1)
	}
	c := &a.core
	far := r3.Dot(s.n, c.at) + c.r
	for i := range c.n {
		far += math.Abs(r3.Dot(s.n, c.half(i)))
	}
	return s.at - far - s.rounding(far)
}

// onTheWay is at most the distance that a solid keeps on its way from a place to w
// from what the half-space holds.
func (s *parting) onTheWay(a *ready, w *way) float64 {
	if !s.known || a.endless {
		return math.Inf(-1)
	}
	b, far := &w.solid, math.Inf(-1)
	strays := [8]float64{w.ends[0], w.ends[1]}
	if a.core.n > 1 {
		a.core.strays(&b.core, &strays)
	}
	for bits := range 1 << a.core.n {
		far = max(far, farther(r3.Dot(s.n, a.core.corner(bits)), r3.Dot(s.n, b.core.corner(bits)), strays[bits]))
	}
	far += max(a.core.r, b.core.r)
	return s.at - far - s.rounding(far)
}

// halve looks between two places as long as the way leaves room for a smaller
// gap than the smallest found.
func (s *search) halve(lo, hi *look, left int) error {
	if left == 0 {
		return nil
	}
	var strays [8]float64
	lo.solid.core.strays(&hi.solid.core, &strays)
	if enough := s.best.Gap - LeastTolerance; lo.leastTo(hi, &strays) >= enough || hi.leastTo(lo, &strays) >= enough {
		return nil
	}
	at := (lo.At + hi.At) / 2
	shape, err := s.between(at)
	if err != nil {
		return err
	}
	solid := readyOf(shape)
	mid := look{Meeting: Meeting{At: at}, solid: &solid}
	s.take(&mid)
	if err := s.halve(lo, &mid, left-1); err != nil {
		return err
	}
	return s.halve(&mid, hi, left-1)
}

// leastTo is a gap that the solid keeps on its way from here to there, by the
// direction in which it is nearest here; strays are those between the two.
func (l *look) leastTo(r *look, strays *[8]float64) float64 {
	a, b := &l.solid.core, &r.solid.core
	n, err := geom.Unit(r3.Sub(l.To, l.From))
	if err != nil || math.Abs(l.Gap) < touching {
		return l.Gap - farthestMoved(a, b, strays)
	}
	if l.Gap < 0 {
		n = r3.Scale(-1, n)
	}
	here, between := math.Inf(-1), math.Inf(-1)
	for bits := range 1 << a.n {
		p, q := r3.Dot(n, a.corner(bits)), r3.Dot(n, b.corner(bits))
		here = max(here, p)
		between = max(between, farther(p, q, strays[bits]))
	}
	return l.Gap + here - between - math.Abs(a.r-b.r)
}

// farthestMoved bounds how far any point of a solid moves between two places.
func farthestMoved(a, b *core, strays *[8]float64) float64 {
	most := 0.0
	for bits := range 1 << a.n {
		most = max(most, length(r3.Sub(a.corner(bits), b.corner(bits)))+strays[bits])
	}
	return most + math.Abs(a.r-b.r)
}

// strays fills in how far each corner may stray from the further of its two
// ends, seen in any direction, on the way between two places, and returns the
// most.
func (c *core) strays(d *core, out *[8]float64) float64 {
	most := 0.0
	for bits := range 1 << c.n {
		out[bits] = r3.Norm2(r3.Sub(c.corner(bits), d.corner(bits))) / (6 * tightest)
		most = max(most, out[bits])
	}
	return most
}

// corner is the corner of a core that bits choose: one bit for each half edge.
func (c *core) corner(bits int) r3.Vec {
	p := c.at
	for i := range c.n {
		if h := c.half(i); bits>>i&1 == 1 {
			p = r3.Add(p, h)
		} else {
			p = r3.Sub(p, h)
		}
	}
	return p
}

// Steady is a solid that does not move, as a Path of one place.
func Steady(s Shape) Path { return Path{At: []float64{0}, Solids: []Shape{s}} }
