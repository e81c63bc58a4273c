package clear

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// ready is a shape with what its distances need.
type ready struct {
	core    core
	room    room
	endless bool // it is a half-space: on core.at, facing core.axis[0]
}

func (a *ready) plane() Plane { return Plane{On: a.core.at, Normal: a.core.axis[0]} }

func readyOf(s Shape) ready {
	if p, ok := s.(Plane); ok {
		return ready{core: core{at: p.On, axis: [3]r3.Vec{p.unit()}}, endless: true, room: everywhere()}
	}
	c := coreOf(s)
	return ready{core: c, room: c.room()}
}

// rounding is far over what the bounds lose in their last digits, mm.
const rounding = 1e-9

// atLeast is a distance of at most that of two shapes, found without looking for
// the place.
func (a *ready) atLeast(b *ready) float64 {
	switch {
	case a.endless && b.endless:
		return math.Inf(-1)
	case a.endless:
		return b.room.over(a.plane())
	case b.endless:
		return a.room.over(b.plane())
	}
	return a.room.from(&b.room)
}

// room is a box along the vehicle's axes that holds a solid, mm.
type room struct{ lo, hi r3.Vec }

func everywhere() room {
	inf := math.Inf(1)
	return room{r3.Vec{X: -inf, Y: -inf, Z: -inf}, r3.Vec{X: inf, Y: inf, Z: inf}}
}

func (c *core) room() room {
	h := r3.Vec{X: c.r, Y: c.r, Z: c.r}
	for i := range c.n {
		e := c.half(i)
		h.X += math.Abs(e.X)
		h.Y += math.Abs(e.Y)
		h.Z += math.Abs(e.Z)
	}
	return room{r3.Sub(c.at, h), r3.Add(c.at, h)}
}

// with is the room that holds both, larger by more on every side.
func (a room) with(b room, more float64) room {
	return room{
		r3.Vec{X: min(a.lo.X, b.lo.X) - more, Y: min(a.lo.Y, b.lo.Y) - more, Z: min(a.lo.Z, b.lo.Z) - more},
		r3.Vec{X: max(a.hi.X, b.hi.X) + more, Y: max(a.hi.Y, b.hi.Y) + more, Z: max(a.hi.Z, b.hi.Z) + more},
	}
}

// from is at most the distance of what the two rooms hold. Rooms that overlap
// are parted by a shift along any one axis, so they bound the depth too.
func (a *room) from(b *room) float64 {
	x := max(a.lo.X-b.hi.X, b.lo.X-a.hi.X)
	y := max(a.lo.Y-b.hi.Y, b.lo.Y-a.hi.Y)
	z := max(a.lo.Z-b.hi.Z, b.lo.Z-a.hi.Z)
	most := max(x, y, z)
	if most <= 0 {
		return most - rounding
	}
	x, y, z = max(x, 0), max(y, 0), max(z, 0)
	return math.Sqrt(x*x+y*y+z*z)*(1-rounding) - rounding
}

// over is at most the distance of what the room holds from a half-space.
func (a *room) over(p Plane) float64 {
	n := p.unit()
	mid, half := r3.Scale(0.5, r3.Add(a.lo, a.hi)), r3.Scale(0.5, r3.Sub(a.hi, a.lo))
	reach := math.Abs(n.X)*half.X + math.Abs(n.Y)*half.Y + math.Abs(n.Z)*half.Z
	d := r3.Dot(n, r3.Sub(mid, p.On)) - reach
	return d - rounding*(1+math.Abs(d))
}
