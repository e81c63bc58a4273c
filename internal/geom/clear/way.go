package clear

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Way is how a point goes: where it is at each place of a path, with what bounds it
// between them. It may be shared by many paths. It is not changed once it is made, but for
// how finely what lies between is known (Along).
type Way struct {
	at     []r3.Vec
	strays []float64 // from the place before, as of way
	spans  []span
	whole  span

	rises   []float64 // of the places, where between is known
	between func(rise float64) (r3.Vec, error)
	steps   []step // of each place from the one before
	seen    [8]reached
	next    int // of those, the one that the next takes the place of
}

// span is a part of a way, from one place to another: every point of it lies no farther
// than off from the line between its ends, and all of it in room.
type span struct {
	from, to int
	ends     [2]r3.Vec
	off      float64
	room     room
}

// spanned is how many steps of a way are taken together.
const spanned = 8

// WayOf makes a way ready of where a point is at each place, mm; between says that what
// lies between them counts, and then it keeps the promise of Path. A point that is at one
// place only stands still.
func WayOf(at []r3.Vec, between bool) *Way {
	w := &Way{at: at, strays: make([]float64, len(at))}
	if len(at) == 0 {
		return w
	}
	for i := 1; between && i < len(at); i++ {
		w.strays[i] = r3.Norm2(r3.Sub(at[i], at[i-1])) / (6 * tightest)
	}
	w.whole = w.span(0, len(at)-1)
	for from := 0; from == 0 || from < len(at)-1; from += spanned {
		w.spans = append(w.spans, w.span(from, min(from+spanned, len(at)-1)))
	}
	return w
}

// span bounds the way from one place to another.
func (w *Way) span(from, to int) span {
	s := span{from: from, to: to, ends: [2]r3.Vec{w.at[from], w.at[to]}, room: room{w.at[from], w.at[from]}}
	line, strays := r3.Sub(s.ends[1], s.ends[0]), 0.0
	l := r3.Norm2(line)
	for i := from; i <= to; i++ {
		p := w.at[i]
		s.room = s.room.with(room{p, p}, 0)
		if i > from {
			strays = max(strays, w.strays[i])
		}
		d := r3.Sub(p, s.ends[0])
		if l > 0 {
			d = r3.Sub(d, r3.Scale(min(max(r3.Dot(d, line)/l, 0), 1), line))
		}
		s.off = max(s.off, length(d))
	}
	s.room = s.room.with(s.room, strays)
	s.off += strays
	return s
}

// still reports whether the point stands still.
func (w *Way) still() bool { return len(w.at) == 1 }

// place is where the point is at place i, and how far it may stray on its way there.
func (w *Way) place(i int) (at r3.Vec, strays float64) {
	if w.still() {
		i = 0
	}
	return w.at[i], w.strays[i]
}

// Rod is a rod by the ways of its two ends, or a ball where both are one way: of each
// place of a path, instead of a solid for each.
type Rod struct {
	From, To *Way
	Radius   float64
}

// ok reports whether it has its ends at so many places.
func (r *Rod) ok(places int) bool {
	for _, w := range [2]*Way{r.From, r.To} {
		if n := len(w.at); n != 1 && n != places || n == 0 {
			return false
		}
	}
	return true
}

// moving is the way that has as many places as the path; one that stands still where
// both do.
func (r *Rod) moving() *Way {
	if r.From.still() {
		return r.To
	}
	return r.From
}

// solid is the rod at place i.
func (r *Rod) solid(i int) Shape {
	to, _ := r.To.place(i)
	if r.From == r.To {
		return Sphere{At: to, R: r.Radius}
	}
	from, _ := r.From.place(i)
	return Segment{A: from, B: to, R: r.Radius}
}

// spanOf is what bounds an end over span k of the one that moves; of all of it for k -1.
func (r *Rod) spanOf(w *Way, k int) *span {
	if k < 0 || w.still() {
		return &w.whole
	}
	return &w.spans[k]
}

// room holds the rod on span k.
func (r *Rod) room(k int) room {
	return r.spanOf(r.From, k).room.with(r.spanOf(r.To, k).room, r.Radius)
}

// reach is how far along a unit direction the rod goes on span k, mm from the vehicle's
// zero; on all of it for k -1. It is worked out no closer than to be at most enough.
func (r *Rod) reach(n r3.Vec, k int, enough float64) float64 {
	rough, far := math.Inf(-1), math.Inf(-1)
	for _, w := range [2]*Way{r.From, r.To} {
		p := r.spanOf(w, k)
		rough = max(rough, max(r3.Dot(n, p.ends[0]), r3.Dot(n, p.ends[1]))+p.off)
	}
	if rough += r.Radius; rough <= enough {
		return rough
	}
	for _, w := range [2]*Way{r.From, r.To} {
		if k < 0 {
			far = max(far, w.reaches(n))
			continue
		}
		p := r.spanOf(w, k)
		far = max(far, w.reach(n, p.from, p.to))
	}
	return far + r.Radius
}

// reached is how far along a direction a point goes on all of its way.
type reached struct {
	n   r3.Vec
	far float64
}

// reaches is reach from the first place to the last. Of a way that is for one goroutine it
// is remembered, since many rods end on it.
func (w *Way) reaches(n r3.Vec) float64 {
	if w.between == nil {
		return w.reach(n, w.whole.from, w.whole.to)
	}
	for i := range w.seen {
		if w.seen[i].n == n {
			return w.seen[i].far
		}
	}
	s := &w.seen[w.next]
	w.next = (w.next + 1) % len(w.seen)
	*s = reached{n, w.reach(n, w.whole.from, w.whole.to)}
	return s.far
}

// reach is how far along a unit direction the point goes from one place to another.
func (w *Way) reach(n r3.Vec, from, to int) float64 {
	last := r3.Dot(n, w.at[from])
	far := last
	for i := from + 1; i <= to; i++ {
		at := r3.Dot(n, w.at[i])
		far = max(far, farther(last, at, w.strays[i]))
		last = at
	}
	return far
}

// farther is how far along a direction a point goes on its way between two places, by how
// far along it they are and how far it may stray from the farther of the two in any.
//
// An arc of radius r over a chord c that rises along the direction by d goes r(1 - cos(b-a))
// beyond its farther end, where sin a = d/c and sin b = c/2r: nothing from d = c²/2r on, and
// before that less than in proportion to what is left of it.
func farther(a, b, strays float64) float64 {
	return max(a, b) + max(0, strays-math.Abs(a-b)/leaning)
}

// leaning is the rise at which a point strays beyond neither end, c²/2r, by how far it may
// stray, c²/6r.
const leaning = 3

// beyond is at most the distance of the rod on span k from what the half-space holds; it
// is worked out no closer than to be at least enough.
func (s *parting) beyond(r *Rod, k int, enough float64) float64 {
	if !s.known {
		return math.Inf(-1)
	}
	far := r.reach(s.n, k, s.at-enough-s.rounding(s.at-enough))
	return s.at - far - s.rounding(far)
}

// NoNearer reports whether a path is plainly no nearer to a solid than below, mm, by
// what is known of the ways of a rod: then Least finds nothing, and it does not need to be
// followed. False is for where that is not plain.
func (p *Path) NoNearer(b *Still, below float64) bool {
	if p.Rod == nil || !p.Rod.ok(len(p.At)) {
		return false
	}
	if b.apart.beyond(p.Rod, -1, below-alike) >= below-alike {
		return true
	}
	whole := p.Rod.room(-1)
	return b.from(&whole) >= below
}
