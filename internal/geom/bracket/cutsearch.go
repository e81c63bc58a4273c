package bracket

import (
	"math"
	"slices"
)

// fill is eps for the room on a bar, mm: below anything a saw can tell.
const fill = 1e-9

type openBar struct {
	kind  int // index in nest.types
	left  float64
	items []int
}

type packing struct {
	bars []openBar
	cost float64
}

func (p packing) clone() packing {
	q := packing{cost: p.cost, bars: slices.Clone(p.bars)}
	for i := range q.bars {
		q.bars[i].items = slices.Clone(q.bars[i].items)
	}
	return q
}

// firstFit tries first and best fit decreasing with each kind of bar as the one
// to open, and returns the cheapest plan.
func (n *nest) firstFit() (packing, bool) {
	best, found := packing{}, false
	for prefer := range n.types {
		for _, tight := range []bool{false, true} {
			p, ok := n.fit(prefer, tight)
			if !ok {
				continue
			}
			n.shrink(&p)
			if !found || p.cost < best.cost-n.eps {
				best, found = p, true
			}
		}
	}
	return best, found
}

// fit opens what is on hand first, then the preferred kind, then any.
func (n *nest) fit(prefer int, tight bool) (packing, bool) {
	var p packing
	used := make([]int, len(n.types))
	for i, it := range n.items {
		at := -1
		for b := range p.bars {
			if p.bars[b].left >= it.size-fill && (at < 0 || tight && p.bars[b].left < p.bars[at].left) {
				at = b
				if !tight {
					break
				}
			}
		}
		if at < 0 {
			kind := n.open(used, prefer, it.size)
			if kind < 0 {
				return p, false
			}
			used[kind]++
			p.cost += n.types[kind].cost
			p.bars = append(p.bars, openBar{kind: kind, left: n.types[kind].room})
			at = len(p.bars) - 1
		}
		p.bars[at].left -= it.size
		p.bars[at].items = append(p.bars[at].items, i)
	}
	return p, true
}

// open chooses the kind of a new bar for a piece, or -1.
func (n *nest) open(used []int, prefer int, size float64) int {
	can := func(k int) bool { return used[k] < n.types[k].count && n.types[k].room >= size-fill }
	for k := range n.free {
		if can(k) {
			return k
		}
	}
	if can(prefer) {
		return prefer
	}
	for k := n.free; k < len(n.types); k++ {
		if can(k) {
			return k
		}
	}
	return -1
}

// shrink gives each bar the cheapest stock that still holds its pieces.
func (n *nest) shrink(p *packing) {
	used := make([]int, len(n.types))
	for _, b := range p.bars {
		used[b.kind]++
	}
	for i := range p.bars {
		b := &p.bars[i]
		load := n.types[b.kind].room - b.left
		for k, t := range n.types {
			if t.room >= load-fill && used[k] < t.count && t.cost < n.types[b.kind].cost-n.eps {
				used[b.kind]--
				used[k]++
				p.cost += t.cost - n.types[b.kind].cost
				b.kind, b.left = k, t.room-load
			}
		}
	}
}

// bound returns a cost no plan can be under: what is on hand is taken as if it
// were filled to the last millimetre, and the rest must be covered by bought
// bars.
func (n *nest) bound() float64 {
	need := 0.0
	for _, it := range n.items {
		need += it.size
	}
	for _, t := range n.types[:n.free] {
		need -= t.room * float64(min(t.count, len(n.items)))
	}
	bought := n.types[n.free:]
	if need <= fill || len(bought) == 0 {
		return 0
	}
	if len(bought) == 1 {
		bars := math.Ceil(need/bought[0].room - 1e-12)
		if n.free == 0 {
			bars = math.Max(bars, n.pairBound(bought[0].room))
		}
		return bars * bought[0].cost
	}
	return cover(bought, need)
}

// pairBound counts the bars that pieces need because two of them do not go on
// one bar (the bound of Martello and Toth, Knapsack Problems, ch. 8).
func (n *nest) pairBound(room float64) float64 {
	best := 0.0
	for _, k := range n.items {
		if k.size > room/2 {
			continue
		}
		alone, half, slack, rest := 0.0, 0.0, 0.0, 0.0
		for _, it := range n.items {
			switch {
			case it.size > room-k.size+fill:
				alone++
			case it.size > room/2+fill:
				half++
				slack += room - it.size
			case it.size >= k.size-fill:
				rest += it.size
			}
		}
		best = math.Max(best, alone+half+math.Max(0, math.Ceil((rest-slack)/room-1e-9)))
	}
	big := 0.0
	for _, it := range n.items {
		if it.size > room/2+fill {
			big++
		}
	}
	return math.Max(best, big)
}

// cover returns the least cost of bars whose rooms add up to need. Beyond its
// step limit it falls back to the best price per millimetre.
func cover(types []barType, need float64) float64 {
	types = slices.Clone(types)
	slices.SortFunc(types, func(a, b barType) int {
		switch d := a.cost*b.room - b.cost*a.room; {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	best, steps := math.Inf(1), 20000
	var walk func(k int, need, cost float64)
	walk = func(k int, need, cost float64) {
		if need <= fill {
			best = math.Min(best, cost)
			return
		}
		if k == len(types) || steps <= 0 {
			return
		}
		t := types[k]
		if cost+t.cost/t.room*need >= best {
			return
		}
		steps--
		most := min(t.count, int(math.Ceil(need/t.room-1e-12)))
		for c := most; c >= 0; c-- {
			walk(k+1, need-float64(c)*t.room, cost+float64(c)*t.cost)
		}
	}
	walk(0, need, 0)
	if steps <= 0 || math.IsInf(best, 1) {
		return types[0].cost / types[0].room * need
	}
	return best
}

// search is the exact branch and bound over pieces, longest first.
type search struct {
	*nest
	best   packing
	found  bool
	bound  float64
	budget int
	now    packing
	used   []int
	rest   []float64 // size of pieces from i on
}

// place puts piece i and all after it.
func (s *search) place(i int) {
	if s.used == nil {
		s.used = make([]int, len(s.types))
		s.rest = make([]float64, len(s.items)+1)
		for k := len(s.items) - 1; k >= 0; k-- {
			s.rest[k] = s.rest[k+1] + s.items[k].size
		}
	}
	if s.done() {
		return
	}
	s.budget--
	if i == len(s.items) {
		if !s.found || s.now.cost < s.best.cost-s.eps {
			s.best, s.found = s.now.clone(), true
		}
		return
	}
	if s.found && s.now.cost+s.more(i) >= s.best.cost-s.eps {
		return
	}
	size := s.items[i].size
	first := 0
	if i > 0 && s.items[i-1].size == size { // equal pieces in one order only
		first = slices.IndexFunc(s.now.bars, func(b openBar) bool { return slices.Contains(b.items, i-1) })
	}
	for b := max(0, first); b < len(s.now.bars); b++ {
		if s.now.bars[b].left < size-fill || s.like(b, first) {
			continue
		}
		left := s.now.bars[b].left // kept, as adding back would not give it exactly
		s.put(b, i, size)
		s.place(i + 1)
		s.now.bars[b].left = left
		s.now.bars[b].items = s.now.bars[b].items[:len(s.now.bars[b].items)-1]
		if s.done() {
			return
		}
	}
	for k, t := range s.types {
		if s.used[k] >= t.count || t.room < size-fill {
			continue
		}
		s.used[k]++
		s.now.cost += t.cost
		s.now.bars = append(s.now.bars, openBar{kind: k, left: t.room})
		b := len(s.now.bars) - 1
		s.put(b, i, size)
		s.place(i + 1)
		s.now.bars = s.now.bars[:b]
		s.now.cost -= t.cost
		s.used[k]--
		if s.done() {
			return
		}
	}
}

func (s *search) done() bool {
	return s.budget <= 0 || s.found && s.best.cost <= s.bound+s.eps
}

// like reports whether an earlier bar that could be chosen is just as full.
func (s *search) like(b, first int) bool {
	for a := max(0, first); a < b; a++ {
		if s.now.bars[a].left == s.now.bars[b].left {
			return true
		}
	}
	return false
}

func (s *search) put(b, i int, size float64) {
	s.now.bars[b].left -= size
	s.now.bars[b].items = append(s.now.bars[b].items, i)
}

// more is a cost the pieces from i on cannot be under: they fill what is left
// on open bars and on hand, and the rest is bought at the best price.
func (s *search) more(i int) float64 {
	need, shortest := s.rest[i], s.items[len(s.items)-1].size
	for _, b := range s.now.bars {
		if b.left >= shortest-fill {
			need -= b.left
		}
	}
	for k, t := range s.types[:s.free] {
		need -= t.room * float64(min(t.count-s.used[k], len(s.items)))
	}
	if need <= fill*float64(len(s.items)) {
		return 0
	}
	rate, bar := math.Inf(1), math.Inf(1)
	for k, t := range s.types[s.free:] {
		if s.used[s.free+k] < t.count && t.room > 0 {
			rate, bar = math.Min(rate, t.cost/t.room), math.Min(bar, t.cost)
		}
	}
	return math.Max(rate*need, bar)
}
