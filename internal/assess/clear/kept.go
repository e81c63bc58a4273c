package clear

import (
	"slices"
	"sync"

	"fitup/internal/geom/clear"
	"fitup/internal/geom/travel"
)

// kept is what of the room to what moves is the same from one place of the powertrain to the
// next: how axles go, pieces of the vehicle as crowds, and room to work in. Of what was seen
// of them before only half-spaces stay that rule out what they rule out whoever asks, so no
// answer rests on who asked before. One state has it at a time.
type kept struct {
	axles  []passagesOf // of each line
	crowds [][]crowd    // of each piece of the vehicle; nil before they are asked for
	near   [][]axleNear // the same, of nearOf
	nearOf *Prepared
	direct []bool // of the lines that those are of
	rods   rods
}

// passagesOf are the passages of a line's axle, which are there once they are asked for.
type passagesOf struct{ cases []passage }

// of reports whether the passages are those of a travel: its points are the very same, which
// nobody writes once they are made, and so is what they are the points of.
func (p *passagesOf) of(t *Travel) bool {
	return slices.EqualFunc(p.cases, t.Cases, func(have passage, want TravelCase) bool {
		return len(have.Points) > 0 && len(have.Points) == len(want.Points) && &have.Points[0] == &want.Points[0] && have.Under == want.Under
	})
}

// passages are those of the travel of line i.
func (k *kept) passages(i int, t *Travel) []passage {
	if t == nil {
		return nil
	}
	for len(k.axles) <= i {
		k.axles = append(k.axles, passagesOf{})
	}
	if p := &k.axles[i]; !p.of(t) {
		p.cases = passages(t)
		k.crowds = nil // what they have of the ways before serves nobody
	}
	return k.axles[i].cases
}

// crowdsOf are the solids of piece i of the vehicle.
func (r *room) crowdsOf(i int) []crowd {
	k := r.kept
	if k.crowds == nil {
		k.crowds = make([][]crowd, len(r.pieces))
	}
	if k.crowds[i] == nil {
		k.crowds[i] = crowdsOf(r.pieces[i].standing())
	}
	return k.crowds[i]
}

// axlesNear are the axles without a piece that piece i of the vehicle has nothing to say of.
func (r *room) axlesNear(i int) []axleNear {
	k := r.kept
	direct := make([]bool, len(r.in.Lines))
	for n := range r.in.Lines {
		direct[n] = r.in.Lines[n].Direct
	}
	if k.near == nil || k.nearOf != r.Prepared || !slices.Equal(k.direct, direct) {
		k.near, k.nearOf, k.direct = make([][]axleNear, len(r.pieces)), r.Prepared, direct
	}
	if k.near[i] == nil {
		k.near[i] = r.axlesNearTo(r.pieces[i].shapes, r.pieces[i].carries...)
	}
	return k.near[i]
}

// rods has the track of the rod that was followed last: a rod is followed in no time, and
// its track is large.
type rods struct {
	track clear.Track
	of    *moverWay
}

func (r *rods) follow(w *moverWay) error {
	if r.of == w {
		return nil
	}
	r.of = nil
	if err := r.track.Follow(w.path); err != nil {
		return err
	}
	r.of = w
	return nil
}

// spares are what was kept and nobody has.
type spares struct {
	mu   sync.Mutex
	list []*kept
}

// mostSpares is how many are kept: more states than that are seldom worked out at a time.
const mostSpares = 4

func (s *spares) take() *kept {
	s.mu.Lock()
	defer s.mu.Unlock()
	if n := len(s.list); n > 0 {
		k := s.list[n-1]
		s.list = s.list[:n-1]
		return k
	}
	return new(kept)
}

func (s *spares) give(k *kept) {
	k.rods.track.Forget()
	k.rods.of = nil
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.list) < mostSpares {
		s.list = append(s.list, k)
	}
}

// mostMet is how many places between those of a passage are remembered.
const mostMet = 2000

// metAt remembers where an axle is between the places that are known.
func metAt(c *TravelCase) func(rise float64) (travel.Point, error) {
	met := map[float64]travel.Point{}
	return func(rise float64) (travel.Point, error) {
		if p, ok := met[rise]; ok {
			return p, nil
		}
		p, err := c.Suspension.At(rise)
		if err == nil {
			if len(met) >= mostMet {
				met = map[float64]travel.Point{}
			}
			met[rise] = p
		}
		return p, err
	}
}
