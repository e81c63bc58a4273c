package clear

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Solid is a shape made ready to be measured again and again. It is not changed
// by that.
type Solid struct{ ready }

// Ready makes a shape ready; it must pass Check.
func Ready(s Shape) Solid { return Solid{readyOf(s)} }

// Moved returns the solid after the rigid motion m, or placed from its own frame.
func (s *Solid) Moved(m geom.Pose) Solid {
	out := *s
	c := &out.core
	c.at = m.Point(c.at)
	for i := range max(c.n, 1) {
		c.axis[i] = m.Dir(c.axis[i])
	}
	if !s.endless {
		out.room = c.room()
	}
	return out
}

// AtLeast is a distance of at most that of two solids, found without looking for their
// nearest places.
func (s *Solid) AtLeast(b *Solid) float64 { return s.atLeast(&b.ready) }

// Distance is that of two shapes.
func (s *Solid) Distance(b *Solid) (gap float64, from, to r3.Vec) { return s.distance(&b.ready) }

// Group is a rigid group of solids in its own frame, mm, such as the pieces of a
// powertrain. It is not changed by being placed.
type Group struct {
	solids []Solid
	middle r3.Vec
	reach  []float64 // of each solid's core from the middle of the group, mm
}

// NewGroup makes a group of shapes in their own frame. Each must pass Check.
func NewGroup(shapes []Shape) *Group {
	g := &Group{solids: make([]Solid, len(shapes)), reach: make([]float64, len(shapes))}
	for i, s := range shapes {
		g.solids[i] = Ready(s)
		g.middle = r3.Add(g.middle, r3.Scale(1/float64(len(shapes)), g.solids[i].core.at))
	}
	for i := range g.solids {
		c := &g.solids[i].core
		if g.solids[i].endless {
			g.reach[i] = math.Inf(1)
			continue
		}
		for bits := range 1 << c.n {
			g.reach[i] = max(g.reach[i], length(r3.Sub(c.corner(bits), g.middle)))
		}
	}
	return g
}

// Len is how many solids there are.
func (g *Group) Len() int { return len(g.solids) }

// Solid is solid i in the group's own frame.
func (g *Group) Solid(i int) *Solid { return &g.solids[i] }

// Placed is a group at each of several poses of its frame, with room to work in:
// for one goroutine at a time.
type Placed struct {
	group *Group
	poses []geom.Pose
	moves []move    // of each pose from the first
	which []int     // the place of solid i at pose k in posed, at k·n+i; 0 before it is asked for
	posed []Solid   // the first is none
	least []float64 // of each solid at the first pose: at most its distance from the still one
	apart []parting // of each solid, from the still one
}

// move is how far a pose takes the middle of the group, mm, and how far it turns a
// vector for each mm of its length at most.
type move struct{ shift, turn float64 }

// At places the group at poses.
func (g *Group) At(poses []geom.Pose) *Placed {
	n := len(g.solids)
	p := &Placed{group: g, poses: poses, moves: make([]move, len(poses)), which: make([]int, n*len(poses)),
		posed: make([]Solid, 1, 1+2*n), least: make([]float64, n), apart: make([]parting, n)}
	for k, pose := range poses {
		turned := 0.0
		for _, e := range [3][2]r3.Vec{{pose.X, poses[0].X}, {pose.Y, poses[0].Y}, {pose.Z, poses[0].Z}} {
			turned += r3.Norm2(r3.Sub(e[0], e[1]))
		}
		// For a turn by θ the sum is 8 sin² θ/2, and nothing moves by more than 2 sin θ/2
		// of its distance from the axis.
		p.moves[k] = move{length(r3.Sub(pose.Point(g.middle), poses[0].Point(g.middle))), math.Sqrt(turned / 2)}
	}
	return p
}

// Solid is solid i at pose k, vehicle axes.
func (p *Placed) Solid(k, i int) *Solid {
	at := &p.which[k*len(p.group.solids)+i]
	if *at == 0 {
		*at, p.posed = len(p.posed), append(p.posed, p.group.solids[i].Moved(p.poses[k]))
	}
	return &p.posed[*at]
}

// Strays is how far any point of solid i is at any of the poses from where the first has it,
// at the most, mm.
func (p *Placed) Strays(i int) (far float64) {
	for _, m := range p.moves {
		far = max(far, m.shift+m.turn*p.group.reach[i])
	}
	return far
}

// Near is where a group comes nearest to a solid: the gap as of Distance, and
// which of its solids at which pose.
type Near struct {
	Gap         float64
	From, To    r3.Vec // on the group and on the other, vehicle axes
	Solid, Pose int
}

// First is where the group at the first pose comes nearest to b. It must have a
// solid and a pose. What Nearer is asked next is asked of the same b.
func (p *Placed) First(b *Solid) Near {
	start := 0
	for i := range p.group.solids {
		p.apart[i].known = false
		if p.least[i] = p.Solid(0, i).atLeast(&b.ready); p.least[i] < p.least[start] {
			start = i
		}
	}
	best := Near{Gap: math.Inf(1)}
	p.measure(b, 0, start, &best)
	for i := range p.group.solids {
		if i != start && p.least[i] < best.Gap {
			p.measure(b, 0, i, &best)
		}
	}
	return best
}

// Nearer looks at the poses from lo up to hi for one where the group is nearer to
// b than best, which is that of First or what Nearer made of it. b is that of the
// last First.
//
// A solid whose points have moved by d since the first pose is nearer by d at
// most: the gap of two convex solids, overlap counted below 0, is the largest
// over all directions of how far they are apart seen along it, and that changes by
// d at most. A half-space beyond which b lies bounds the gap from below too, and
// closely. What they rule out is not measured.
func (p *Placed) Nearer(b *Solid, lo, hi int, best Near) Near {
	for k := lo; k < hi; k++ {
		first := best.Solid
		p.look(b, k, first, &best)
		for i := range p.group.solids {
			if i != first {
				p.look(b, k, i, &best)
			}
		}
	}
	return best
}

// look measures solid i at pose k unless it is plainly no nearer than best.
func (p *Placed) look(b *Solid, k, i int, best *Near) {
	if p.least[i]-p.moves[k].shift-p.moves[k].turn*p.group.reach[i]-rounding*(1+math.Abs(p.least[i])) >= best.Gap {
		return
	}
	if p.apart[i].fromPlaced(&p.group.solids[i].ready, &p.poses[k]) >= best.Gap {
		return
	}
	if p.Solid(k, i).atLeast(&b.ready) < best.Gap {
		p.measure(b, k, i, best)
	}
}

// measure takes the distance of solid i at pose k from b.
func (p *Placed) measure(b *Solid, k, i int, best *Near) {
	s := p.Solid(k, i)
	gap, from, to := s.distance(&b.ready)
	if k == 0 {
		p.least[i] = gap
	}
	if !s.endless {
		p.apart[i].between(gap, from, to)
	}
	if gap < best.Gap {
		*best = Near{gap, from, to, i, k}
	}
}

// fromPlaced is from with the solid given in its own frame and placed.
func (s *parting) fromPlaced(a *ready, pose *geom.Pose) float64 {
	if !s.known || a.endless {
		return math.Inf(-1)
	}
	c, n := &a.core, pose.OwnDir(s.n)
	far := r3.Dot(s.n, pose.At) + r3.Dot(n, c.at) + c.r
	for i := range c.n {
		far += math.Abs(r3.Dot(n, c.axis[i])) * c.long[i]
	}
	return s.at - far - s.rounding(far)
}

// Ball is a ball that holds the solid: its middle, and its radius in mm. An
// endless one has none: a radius of 0 about the origin.
func (s *Solid) Ball() (middle r3.Vec, radius float64) {
	if s.endless {
		return r3.Vec{}, 0
	}
	c, sum := &s.core, 0.0
	for k := range c.n {
		sum += r3.Norm2(c.half(k)) // the half edges of a box are square to each other
	}
	return c.at, math.Sqrt(sum) + c.r
}
