package seat

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// touching finds where the body rests under d, which stops are met there and which way.
// With those that are met taken as springs the balance is a smooth one; those that would
// pull are let go of and those that were passed are met, until none is left. All of them
// change at once for some rounds, and then the first one alone, which comes to an end
// where the stiffness changes little (Murty, Note on a Bard-type scheme for solving the
// complementarity problem, 1974, from memory).
func (s *Hung) touching(d dead, from position, met []int8) (position, float64, int, error) {
	const together = 8
	at, steps := from, 0
	for round := range together + 16*len(met) {
		pos, size, n, err := s.meeting(met).balanceFrom(at, d)
		if steps += n; err != nil {
			return pos, size, steps, err
		}
		at = pos
		changed := false
		for i := range s.buffers {
			b := &s.buffers[i]
			if way := b.way(b.gone(pos.moved(b.arm)), met[i]); way != met[i] && !(changed && round >= together) {
				met[i], changed = way, true
			}
		}
		if !changed {
			return pos, size, steps, nil
		}
	}
	return at, math.Inf(1), steps, ErrSoft
}

// way is which way a stop is met where its point has gone x along it, and was taken to be
// met as was: one that just touches stays as it is.
func (b *buffer) way(x float64, was int8) int8 {
	const slip = 1e-9 // mm
	switch {
	case was > 0 && x > b.Forward-slip || was < 0 && x < slip-b.Backward:
		return was
	case x > b.Forward+slip:
		return 1
	case x < -b.Backward-slip:
		return -1
	}
	return 0
}

// meeting is the body with the stops that are met as springs, and with no other.
func (s *Hung) meeting(met []int8) *Hung {
	out := *s
	out.ties, out.buffers = s.ties[:len(s.ties):len(s.ties)], nil
	for i, way := range met {
		if way != 0 {
			out.ties = append(out.ties, s.buffers[i].met(way))
		}
	}
	out.ready()
	return &out
}

// ramps is in how many steps a load is put on where that at once finds no balance: with
// less of it the body is caught before it has turned too far.
const ramps = 16

// caught is the balance of a body that has stops.
func (s *Hung) caught(d dead) (pos position, size float64, steps int, err error) {
	met := make([]int8, len(s.buffers))
	if pos, size, steps, err = s.touching(d, s.rested, met); err == nil {
		return pos, size, steps, nil
	}
	clear(met)
	rest := Resting().Force(s.body)
	pos = s.rested
	for i := range ramps {
		by := float64(i+1) / ramps
		now := dead{r3.Add(r3.Scale(1-by, rest), r3.Scale(by, d.force)), r3.Scale(by, d.torque)}
		var n int
		pos, size, n, err = s.touching(now, pos, met)
		if steps += n; err != nil {
			break
		}
	}
	return pos, size, steps, err
}
