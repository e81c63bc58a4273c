package clear

import (
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// Span is how far a solid reaches along a direction, mm from the vehicle's zero; false
// for a half-space.
func (s *Solid) Span(way r3.Vec) (lo, hi float64, ok bool) {
	n, err := geom.Unit(way)
	if err != nil || s.endless {
		return 0, 0, false
	}
	c := &s.core
	return r3.Dot(n, c.far(r3.Scale(-1, n))) - c.r, r3.Dot(n, c.far(n)) + c.r, true
}

// Shifted is the solid moved by d, mm.
func (s *Solid) Shifted(d r3.Vec) Solid {
	out := *s
	out.core = s.core.shifted(d)
	out.room = room{r3.Add(s.room.lo, d), r3.Add(s.room.hi, d)}
	return out
}

// sweepStep is how closely the nearest place on a way is found, mm.
const sweepStep = 1e-3

// Sweep is the least gap between a solid that is pushed straight along a unit direction
// by up to far mm and one that stands still, and how far along that is; as Distance,
// negative by how deep they lie in each other. It looks no closer where that is at least
// enough.
//
// The gap of two convex solids, negative where they overlap, is a convex function of a
// shift of one of them (it is that of a point from their Minkowski difference, which is
// convex): along the way it has one valley, which golden section finds.
func (s *Solid) Sweep(still *Solid, way r3.Vec, far, enough float64) (gap, at float64) {
	end := s.Shifted(r3.Scale(far, way))
	if !s.endless && !still.endless {
		swept := ready{room: s.room.with(end.room, 0)}
		if bound := swept.room.from(&still.room); bound >= enough {
			return bound, 0
		}
	}
	of := func(t float64) float64 {
		moved := s.Shifted(r3.Scale(t, way))
		g, _, _ := moved.Distance(still)
		return g
	}
	const g = 0.6180339887498949
	a, b := 0.0, far
	c, d := b-g*(b-a), a+g*(b-a)
	fc, fd := of(c), of(d)
	for b-a > sweepStep {
		if fc < fd {
			b, d, fd = d, c, fc
			c = b - g*(b-a)
			fc = of(c)
		} else {
			a, c, fc = c, d, fd
			d = a + g*(b-a)
			fd = of(d)
		}
	}
	gap = math.Inf(1)
	for _, t := range []float64{0, (a + b) / 2, far} {
		if v := of(t); v < gap {
			gap, at = v, t
		}
	}
	return gap, at
}

// Meets is how far along a way, mm, the gap first comes down to a limit; at is where it
// is least and under that limit.
func (s *Solid) Meets(still *Solid, way r3.Vec, at, limit float64) float64 {
	lo, hi := 0.0, at
	for hi-lo > sweepStep {
		mid := (lo + hi) / 2
		moved := s.Shifted(r3.Scale(mid, way))
		if g, _, _ := moved.Distance(still); g < limit {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi
}
