package clear

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Crowd is solids that stand still while others pass them, in an order in which
// neighbours are likely to stand by each other, such as a rod at each place of its own
// way: what passes far off is seen to do so for many of them at once. For one goroutine
// at a time.
type Crowd struct {
	Stills []Still
	rooms  []room // that hold those of each branch: of branch i, those of 2i+1 and 2i+2
	aims   [directions]aim
	known  int // aims in use
	next   int // the aim that the next one takes the place of
}

// directions is how many directions are kept in which a crowd is seen.
const directions = 6

// aim is a crowd seen along a direction of length 1: how far back each branch begins.
type aim struct {
	n    r3.Vec
	from []float64
}

// NewCrowd makes a crowd of solids.
func NewCrowd(solids []Solid) *Crowd {
	c := &Crowd{Stills: make([]Still, len(solids))}
	for i := range solids {
		c.Stills[i].Solid = solids[i]
	}
	if len(solids) > 0 {
		c.rooms = make([]room, branches(len(solids)))
		c.hold(0, 0, len(solids))
	}
	return c
}

// Anew forgets what was seen of those that came past, but for half-spaces that rule out
// steps of ways: those change nothing that is found.
func (c *Crowd) Anew() {
	c.known, c.next = 0, 0
	for i := range c.Stills {
		c.Stills[i].apart = parting{}
	}
}

// branches is how many branches a tree of n leaves may have, by number.
func branches(n int) int {
	most := 1
	for leaves := 1; leaves < n; leaves *= 2 {
		most = 2*most + 1
	}
	return most
}

// hold makes the rooms of a branch of the solids from lo up to hi.
func (c *Crowd) hold(branch, lo, hi int) room {
	r := c.Stills[lo].room
	if hi-lo > 1 {
		mid := (lo + hi) / 2
		r = c.hold(2*branch+1, lo, mid).with(c.hold(2*branch+2, mid, hi), 0)
	}
	c.rooms[branch] = r
	return r
}

// look sees the crowd along a direction.
func (c *Crowd) look(n r3.Vec) int {
	k := c.next
	c.next = (c.next + 1) % len(c.aims)
	c.known = max(c.known, k+1)
	a := &c.aims[k]
	a.n = n
	if a.from == nil {
		a.from = make([]float64, len(c.rooms))
	}
	c.see(a, 0, 0, len(c.Stills))
	return k
}

func (c *Crowd) see(a *aim, branch, lo, hi int) float64 {
	var from float64
	if hi-lo > 1 {
		mid := (lo + hi) / 2
		from = min(c.see(a, 2*branch+1, lo, mid), c.see(a, 2*branch+2, mid, hi))
	} else {
		from = c.Stills[lo].begins(a.n)
	}
	a.from[branch] = from
	return from
}

// begins is how far along a unit direction a solid begins, and a little before that.
func (a *ready) begins(n r3.Vec) float64 {
	if a.endless {
		return math.Inf(-1)
	}
	c := &a.core
	at := r3.Dot(n, c.at) - c.r
	for i := range c.n {
		at -= math.Abs(r3.Dot(n, c.axis[i])) * c.long[i]
	}
	return at - 1e-11*(1+math.Abs(at))
}

// Passing is a path on its way past crowds. A rod by the ways of its ends does not need
// to be followed for it; of other paths Track is the path followed.
type Passing struct {
	Path  *Path
	Track *Track
	room  room
	ok    bool
}

// ready works out what is the same for all crowds.
func (p *Passing) ready() {
	if p.ok {
		return
	}
	p.ok = true
	if p.Path.Rod != nil && p.Path.Rod.ok(len(p.Path.At)) {
		p.room = p.Path.Rod.room(-1)
	} else {
		p.room = p.Track.whole
	}
}

// ends is how far along a unit direction the path reaches, and a little beyond; it is worked
// out no closer than to be at most enough.
func (p *Passing) ends(n r3.Vec, enough float64) float64 {
	far := math.Inf(-1)
	if r := p.Path.Rod; r != nil && r.ok(len(p.Path.At)) {
		far = r.reach(n, -1, enough)
	} else {
		strays := 0.0
		for i := range p.Track.ways {
			w := &p.Track.ways[i]
			if w.solid.endless {
				return math.Inf(1)
			}
			far, strays = max(far, w.solid.ends(n)), max(strays, w.strays)
		}
		far += strays
	}
	return far + 1e-11*(1+math.Abs(far))
}

func (a *ready) ends(n r3.Vec) float64 {
	c := &a.core
	at := r3.Dot(n, c.at) + c.r
	for i := range c.n {
		at += math.Abs(r3.Dot(n, c.axis[i])) * c.long[i]
	}
	return at
}

// Past visits, in their order, those of the crowd that a path is not plainly no nearer to
// than below, mm, which a visit may lower.
func (c *Crowd) Past(p *Passing, below *float64, visit func(i int)) {
	if len(c.Stills) == 0 {
		return
	}
	p.ready()
	w := passage{crowd: c, passing: p, below: below, visit: visit}
	for k := range c.known {
		a := &c.aims[k]
		w.far[k] = p.ends(a.n, a.from[0]-*below)
		if a.from[0]-w.far[k] >= *below-alike {
			return // all of them
		}
	}
	w.past(0, 0, len(c.Stills))
}

// passage is a path on its way past one crowd.
type passage struct {
	crowd   *Crowd
	passing *Passing
	below   *float64
	visit   func(i int)
	far     [directions]float64 // along each aim
}

func (w *passage) past(branch, lo, hi int) {
	c := w.crowd
	for k := range c.known {
		if c.aims[k].from[branch]-w.far[k] >= *w.below-alike {
			return
		}
	}
	if c.rooms[branch].from(&w.passing.room) >= *w.below {
		return
	}
	if hi-lo > 1 {
		mid := (lo + hi) / 2
		w.past(2*branch+1, lo, mid)
		w.past(2*branch+2, mid, hi)
		return
	}
	w.visit(lo)
	// What would have ruled this one out may rule out its neighbours.
	if s := &c.Stills[lo].apart; s.known {
		if far := w.passing.ends(s.n, math.Inf(-1)); s.at-far >= *w.below-alike {
			w.far[c.look(s.n)] = far
		}
	}
}
