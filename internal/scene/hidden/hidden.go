// Package hidden takes away the lines that one cannot see: each edge is held
// against each solid, exactly and at no scale of its own (Roberts 1963, from
// memory). What a convex solid hides lies in the space behind those of its faces
// that look at the eye and within its outline, which is convex too, so that an
// edge passes through it once.
package hidden

import (
	"math"

	"fitup/internal/scene/solid"
	"fitup/internal/scene/view"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Layer says what may hide what: a thing hides lines of its own layer and of
// those below it. What lies in front of something of a higher layer is seen
// through, as if it were cut away.
type Layer uint8

// The layers.
const (
	Back  Layer = iota // what is looked through
	Front              // what the drawing is about
)

// Item is a thing of the drawing: a solid, a ball, or nothing that could hide
// anything: a line.
type Item struct {
	Layer Layer
	Solid *solid.Solid // nil for none
	Ball  *Ball        // nil for none
}

// Ball is round from every side.
type Ball struct {
	At     r3.Vec
	Radius float64
}

// Piece is a run of lines that is seen, mm on the drawing.
type Piece struct {
	Item   int
	Points []r2.Vec
	Across bool // it lies in front of something of a higher layer
}

// skin is how far a line may lie under a surface and still be taken to lie on it,
// mm.
const skin = 0.5

// plane is the half of space where N·p is at most Off, as it is seen.
type plane struct {
	n   r3.Vec
	off float64
}

// body is an item made ready for one view.
type body struct {
	item    *Item
	points  []r3.Vec
	facing  []bool  // faces that look at the eye
	outline []plane // upright ones: within all of them one sees the body
	surface []plane // faces that look at the eye: behind all of them is the body, or what it hides
	room    r3.Box
	solid   bool
}

// Scene is all items made ready for one view.
type Scene struct {
	bodies []body
	hiders []hider
	hid    []span
	over   []span
	runs   []r2.Vec // room for the points of pieces
}

// store is room for what bodies are made of, asked for at once for all of them.
type store struct {
	points []r3.Vec
	facing []bool
	planes []plane
}

// storeFor is room for all of the items.
func storeFor(items []Item) *store {
	points, faces := 0, 0
	for i := range items {
		switch it := &items[i]; {
		case it.Solid != nil:
			points, faces = points+len(it.Solid.Points), faces+len(it.Solid.Faces)
		case it.Ball != nil:
			points += ballSides
		}
	}
	return &store{make([]r3.Vec, 0, points), make([]bool, 0, faces), make([]plane, 0, points+faces)}
}

// cut takes the last n of a list, which nobody adds to behind them.
func cut[T any](all []T, n int) []T { return all[len(all)-n : len(all) : len(all)] }

// hider is what has to be known first of something that could hide a line.
type hider struct {
	room  r3.Box
	body  int
	layer Layer
}

// span is a part of a line, from 0 to 1.
type span struct{ from, to float64 }

// See makes items ready for a view.
func See(v view.View, items []Item) *Scene {
	sight := v.Sight()
	s := &Scene{bodies: make([]body, len(items)), hiders: make([]hider, 0, len(items))}
	in := storeFor(items)
	for i := range items {
		s.bodies[i] = ready(sight, &items[i], in)
		if b := &s.bodies[i]; b.solid {
			s.hiders = append(s.hiders, hider{b.room, i, items[i].Layer})
		}
	}
	return s
}

func ready(sight view.Sight, it *Item, in *store) body {
	b := body{item: it, room: r3.Box{
		Min: r3.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}, Max: r3.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)},
	}}
	switch {
	case it.Solid != nil:
		b.polyhedron(sight, in)
	case it.Ball != nil:
		b.round(sight, in)
	}
	return b
}

// polyhedron makes a solid ready.
func (b *body) polyhedron(sight view.Sight, in *store) {
	s := b.item.Solid
	b.solid = true
	var middle r2.Vec
	for _, p := range s.Points {
		q := sight.See(p)
		in.points = append(in.points, q)
		b.take(q)
		middle = r2.Add(middle, flat(q))
	}
	b.points = cut(in.points, len(s.Points))
	middle = r2.Scale(1/float64(len(s.Points)), middle)
	from := len(in.planes)
	for i := range s.Faces {
		f := &s.Faces[i]
		n := sight.See(f.Normal)
		in.facing = append(in.facing, n.Z > edgeOn)
		if n.Z > edgeOn {
			in.planes = append(in.planes, plane{n, f.Off - skin})
		}
	}
	b.facing, b.surface = cut(in.facing, len(s.Faces)), cut(in.planes, len(in.planes)-from)
	from = len(in.planes)
	for i := range s.Edges {
		if e := &s.Edges[i]; b.facing[e.Left] != b.facing[e.Right] {
			b.bound(flat(b.points[e.A]), flat(b.points[e.B]), middle, in)
		}
	}
	b.outline = cut(in.planes, len(in.planes)-from)
}

// edgeOn is how little a face may look at the eye before it is seen from its edge.
const edgeOn = 1e-7

// bound adds the side of the outline from p to q.
func (b *body) bound(p, q, inside r2.Vec, in *store) {
	d := r2.Sub(q, p)
	l := math.Sqrt(r2.Norm2(d))
	if l < 1e-9 {
		return
	}
	n := r2.Vec{X: d.Y / l, Y: -d.X / l}
	if r2.Dot(n, r2.Sub(inside, p)) > 0 {
		n = r2.Scale(-1, n)
	}
	in.planes = append(in.planes, plane{r3.Vec{X: n.X, Y: n.Y}, r2.Dot(n, p) - skin})
}

// ballSides is how many sides the outline of a ball is drawn with.
const ballSides = 32

// round makes a ball ready: it hides what lies behind its middle.
func (b *body) round(sight view.Sight, in *store) {
	c, r := sight.See(b.item.Ball.At), b.item.Ball.Radius
	b.solid = true
	for i := range ballSides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / ballSides)
		n := r3.Vec{X: cos, Y: sin}
		p := r3.Add(c, r3.Scale(r, n))
		in.points = append(in.points, p)
		b.take(p)
		in.planes = append(in.planes, plane{n, r3.Dot(n, c) + r*math.Cos(math.Pi/ballSides) - skin})
	}
	b.points, b.outline = cut(in.points, ballSides), cut(in.planes, ballSides)
	in.planes = append(in.planes, plane{r3.Vec{Z: 1}, c.Z - skin})
	b.surface = cut(in.planes, 1)
}

func (b *body) take(p r3.Vec) {
	b.room.Min = r3.Vec{X: min(b.room.Min.X, p.X), Y: min(b.room.Min.Y, p.Y), Z: min(b.room.Min.Z, p.Z)}
	b.room.Max = r3.Vec{X: max(b.room.Max.X, p.X), Y: max(b.room.Max.Y, p.Y), Z: max(b.room.Max.Z, p.Z)}
}

func flat(p r3.Vec) r2.Vec { return r2.Vec{X: p.X, Y: p.Y} }

// Room is the rectangle that item i covers on the drawing, mm; false where it is
// no solid.
func (s *Scene) Room(i int) (r2.Box, bool) {
	b := &s.bodies[i]
	return r2.Box{Min: flat(b.room.Min), Max: flat(b.room.Max)}, b.solid
}

// Depth is how near to the eye the surface of item i is at a place of the
// drawing, mm; false where it is not seen there, whatever lies before it.
func (s *Scene) Depth(i int, at r2.Vec) (float64, bool) {
	b := &s.bodies[i]
	if !b.solid || at.X < b.room.Min.X || at.X > b.room.Max.X || at.Y < b.room.Min.Y || at.Y > b.room.Max.Y {
		return 0, false
	}
	for _, p := range b.outline {
		if p.n.X*at.X+p.n.Y*at.Y > p.off {
			return 0, false
		}
	}
	z := b.room.Max.Z
	for _, p := range b.surface {
		z = min(z, (p.off-p.n.X*at.X-p.n.Y*at.Y)/p.n.Z)
	}
	return z, true
}

// Alone are the lines of item i that would be seen if there were nothing else.
func (s *Scene) Alone(i int) []Piece {
	b := &s.bodies[i]
	c := chain{of: i, in: s}
	if b.item.Solid != nil {
		for _, e := range b.item.Solid.Edges {
			if b.drawn(e) {
				c.add(b.points[e.A], b.points[e.B], span{0, 1}, false)
			}
		}
	}
	return c.pieces
}

// Pieces are the lines of item i that are seen.
func (s *Scene) Pieces(i int) []Piece {
	b := &s.bodies[i]
	out := chain{of: i, in: s}
	switch {
	case b.item.Solid != nil:
		for _, e := range b.item.Solid.Edges {
			if b.drawn(e) {
				s.line(&out, i, b.points[e.A], b.points[e.B])
			}
		}
	case b.item.Ball != nil:
		for k, p := range b.points {
			s.line(&out, i, p, b.points[(k+1)%len(b.points)])
		}
	}
	return out.pieces
}

// Outline is the border of what item i covers on the drawing, hidden or not, as
// runs of lines.
func (s *Scene) Outline(i int) [][]r2.Vec {
	b := &s.bodies[i]
	c := chain{of: i, in: s}
	switch {
	case b.item.Solid != nil:
		for _, e := range b.item.Solid.Edges {
			if b.facing[e.Left] != b.facing[e.Right] {
				c.add(b.points[e.A], b.points[e.B], span{0, 1}, false)
			}
		}
	case b.item.Ball != nil:
		for k, p := range b.points {
			c.add(p, b.points[(k+1)%len(b.points)], span{0, 1}, false)
		}
	}
	var out [][]r2.Vec
	for _, p := range c.pieces {
		out = append(out, p.Points)
	}
	return out
}

// Line are the parts of a line in vehicle axes that are seen as lines of item i.
func (s *Scene) Line(v view.View, i int, points ...r3.Vec) []Piece {
	sight, out := v.Sight(), chain{of: i, in: s}
	for k := 1; k < len(points); k++ {
		s.line(&out, i, sight.See(points[k-1]), sight.See(points[k]))
	}
	return out.pieces
}

// drawn reports whether an edge is drawn where nothing else hides it.
func (b *body) drawn(e solid.Edge) bool {
	l, r := b.facing[e.Left], b.facing[e.Right]
	switch e.Look {
	case solid.Sharp:
		return l || r
	case solid.Smooth:
		return l != r
	}
	return false
}

// line adds what is seen of the line from p to q of item i.
func (s *Scene) line(out *chain, i int, p, q r3.Vec) {
	s.hid, s.over = s.hid[:0], s.over[:0]
	own := s.bodies[i].item
	lo := r3.Vec{X: min(p.X, q.X), Y: min(p.Y, q.Y), Z: min(p.Z, q.Z)}
	hi := r3.Vec{X: max(p.X, q.X), Y: max(p.Y, q.Y)}
	for k := range s.hiders {
		h := &s.hiders[k]
		if hi.X <= h.room.Min.X || lo.X >= h.room.Max.X || hi.Y <= h.room.Min.Y || lo.Y >= h.room.Max.Y ||
			h.body == i || h.layer < own.Layer {
			continue
		}
		higher := h.layer > own.Layer
		if !higher && lo.Z >= h.room.Max.Z {
			continue
		}
		b := &s.bodies[h.body]
		within := clip(span{0, 1}, p, q, b.outline)
		if within.to <= within.from {
			continue
		}
		behind := clip(within, p, q, b.surface)
		if behind.to > behind.from {
			s.hid = append(s.hid, behind)
		}
		if higher {
			s.over = append(s.over, within)
		}
	}
	seen(out, p, q, union(s.hid), union(s.over))
}

// clip is the part of the span of the line from p to q that lies in all planes.
func clip(s span, p, q r3.Vec, planes []plane) span {
	for i := range planes {
		h := &planes[i]
		a, b := r3.Dot(h.n, p)-h.off, r3.Dot(h.n, q)-h.off
		switch {
		case a <= 0 && b <= 0:
			continue
		case a > 0 && b > 0:
			return span{1, 0}
		case a > 0:
			s.from = max(s.from, a/(a-b))
		default:
			s.to = min(s.to, a/(a-b))
		}
		if s.to <= s.from {
			return s
		}
	}
	return s
}
