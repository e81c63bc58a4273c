package hidden

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// union sorts spans and joins those that meet.
func union(s []span) []span {
	if len(s) < 2 {
		return s
	}
	slices.SortFunc(s, func(a, b span) int {
		switch {
		case a.from < b.from:
			return -1
		case a.from > b.from:
			return 1
		}
		return 0
	})
	out := s[:1]
	for _, x := range s[1:] {
		if last := &out[len(out)-1]; x.from <= last.to+1e-9 {
			last.to = max(last.to, x.to)
		} else {
			out = append(out, x)
		}
	}
	return out
}

// seen adds what is left of a line between what is hidden, parted where it comes
// before something that it does not hide and where it leaves it.
func seen(out *chain, p, q r3.Vec, hid, over []span) {
	at := 0.0
	add := func(to float64) {
		if to-at > 1e-9 {
			parted(out, p, q, span{at, to}, over)
		}
	}
	for _, h := range hid {
		add(h.from)
		at = max(at, h.to)
	}
	add(1)
}

func parted(out *chain, p, q r3.Vec, s span, over []span) {
	for _, o := range over {
		if o.to <= s.from || o.from >= s.to {
			continue
		}
		if o.from > s.from {
			out.add(p, q, span{s.from, o.from}, false)
		}
		out.add(p, q, span{max(s.from, o.from), min(s.to, o.to)}, true)
		s.from = min(s.to, o.to)
	}
	if s.to-s.from > 1e-9 {
		out.add(p, q, s, false)
	}
}

// chain joins lines that go on from each other.
type chain struct {
	of     int
	in     *Scene // whose room its points take
	pieces []Piece
}

// run is points one after another in the scene's room: those of a piece and one more
// that goes on from it, or two that begin one.
func (s *Scene) run(so []r2.Vec, more ...r2.Vec) []r2.Vec {
	n := len(so) + len(more)
	if cap(s.runs)-len(s.runs) < len(more) {
		s.runs = append(make([]r2.Vec, 0, max(256, 2*n)), so...)
	}
	s.runs = append(s.runs, more...)
	return cut(s.runs, n)
}

func (c *chain) add(p, q r3.Vec, s span, across bool) {
	at := func(t float64) r2.Vec {
		switch t { // corners stay where they are
		case 0:
			return flat(p)
		case 1:
			return flat(q)
		}
		return r2.Vec{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)}
	}
	a, b := at(s.from), at(s.to)
	if a == b {
		return
	}
	if n := len(c.pieces); n > 0 {
		last := &c.pieces[n-1]
		if last.Across == across && last.Points[len(last.Points)-1] == a {
			last.Points = c.in.run(last.Points, b)
			return
		}
	}
	if c.pieces == nil {
		c.pieces = make([]Piece, 0, 4)
	}
	c.pieces = append(c.pieces, Piece{Item: c.of, Points: c.in.run(nil, a, b), Across: across})
}
