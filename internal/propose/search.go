package propose

import (
	"container/heap"
	"context"
	"math"
)

// goal is what a search is for.
type goal struct {
	active []bool // the demands that are held
	// cost of a step of an axis, added up; nil where the goal is another.
	cost [][]float64
	// spare makes the least spare of all demands as large as it gets.
	spare bool
	// least makes the shortfall of a demand as small as it gets; -1 for none.
	least int
	first bool // the first place that holds will do
}

// found is what a search came to.
type found struct {
	cell    []int // nil where no place was found
	value   float64
	done    bool // the whole space was settled: cell is the best, or there is none
	settled float64
	judged  int
	reasons []bool // the demands that ruled places out
	err     error  // why it was not finished, where that was the context
}

const eps = 1e-9

// search is a branch and bound over boxes.
type search struct {
	space
	goal
	ctx    context.Context
	budget int // places that may still be judged
	tell   func(share float64, judged int)
	memo   *memo

	best    []int
	value   float64
	queue   nodes
	reasons []bool
	settled float64
	total   float64
	judged  int
	out     []float64
	dug     int // boxes that were looked into deeper
	struck  int // of those, that were ruled out so
	passed  int // boxes of which that was not thought worth it
}

// run searches. It may be given a place that is known to hold.
func (s *search) run(known []int, value float64) found {
	s.best, s.value = known, value
	if known == nil {
		s.value = math.Inf(1)
	}
	s.reasons = make([]bool, len(s.active))
	s.out = make([]float64, len(s.active))
	var all []node
	for _, b := range s.roots() {
		s.total += b.size()
		all = append(all, s.node(b, math.Inf(-1)))
	}
	s.queue = all
	heap.Init(&s.queue)
	for s.queue.Len() > 0 {
		n := heap.Pop(&s.queue).(node)
		if err := s.stop(); err != nil || s.budget <= 0 {
			return s.result(false, err)
		}
		if s.beaten(n.bound) {
			s.settled += n.size()
			continue
		}
		if s.take(n) {
			return s.result(false, nil)
		}
	}
	return s.result(true, nil)
}

func (s *search) stop() error {
	if s.ctx == nil {
		return nil
	}
	return s.ctx.Err()
}

func (s *search) result(done bool, err error) found {
	share := 1.0
	if s.total > 0 && !done {
		share = s.settled / s.total
	}
	return found{s.best, s.value, done, share, s.judged, s.reasons, err}
}

func (s *search) beaten(bound float64) bool {
	return s.best != nil && bound >= s.value-eps
}

// take looks into a box; true ends the search.
func (s *search) take(n node) bool {
	mid := n.middle()
	if n.single() {
		mid = n.lo
	}
	sp := s.spotOf(mid)
	if s.tell != nil && s.judged%64 == 0 {
		s.tell(s.settled/s.total, s.judged)
	}
	fails, better := s.try(mid, sp)
	if better && s.first {
		return true
	}
	if n.single() {
		s.settled++
		if fails >= 0 {
			s.blame(sp)
		}
		return false
	}
	bound, dead := s.bounds(n, mid, sp)
	if dead < 0 && !sp.all && s.goDeeper(n) && s.deeper(mid, sp) {
		bound, dead = s.bounds(n, mid, sp)
		s.dug++
		if dead >= 0 {
			s.struck++
		}
	}
	if dead >= 0 {
		s.reasons[dead] = true
		s.settled += n.size()
		return false
	}
	if s.beaten(bound) {
		s.settled += n.size()
		return false
	}
	for _, half := range s.halves(n.box) {
		child := s.node(half, max(bound, n.bound))
		child.then = s.missing(sp)
		if s.cost == nil && !s.spare && s.least < 0 {
			child.order = child.then
		}
		if s.beaten(child.bound) {
			s.settled += half.size()
			continue
		}
		if s.queue.Len() < mostNodes {
			heap.Push(&s.queue, child)
			continue
		}
		if s.dive(child) {
			return true
		}
	}
	return false
}

// goDeeper reports whether a box is worth working out more of its middle, which fails what
// is quick: one of some places, as long as now and then it rules one out. Where it does not,
// one box in many is tried all the same, since smaller ones are ruled out sooner.
func (s *search) goDeeper(n node) bool {
	const places, first, oneIn, again = 8, 64, 8, 16
	if n.size() < places {
		return false
	}
	if s.dug < first || s.struck*oneIn >= s.dug {
		return true
	}
	s.passed++
	return s.passed%again == 0
}

// try judges a place, and keeps it where it is better than the best: the demand that
// fails there, or a number below 0, and whether it was kept.
func (s *search) try(mid []int, sp *spot) (fails int, better bool) {
	if fails = s.quickly(sp); fails >= 0 {
		return fails, false
	}
	if s.best != nil && s.worth(mid, sp) >= s.value-eps {
		return holdsNoBetter, false
	}
	if fails = s.failing(mid, sp); fails >= 0 {
		return fails, false
	}
	v := s.worth(mid, sp)
	if s.best != nil && v >= s.value-eps {
		return fails, false
	}
	s.best, s.value = append([]int(nil), mid...), v
	return fails, true
}

// dive goes through a box without keeping it: its depth is at most the number of
// halvings.
func (s *search) dive(n node) bool {
	if s.stop() != nil || s.budget <= 0 {
		heap.Push(&s.queue, n)
		return false
	}
	return s.take(n)
}

// node is a box with what is known of it before its middle is judged.
func (s *search) node(b box, bound float64) node {
	n := node{box: b, bound: bound}
	if s.cost != nil {
		sum := 0.0
		for i, c := range s.cost {
			least := math.Inf(1)
			for k := b.lo[i]; k <= b.hi[i]; k++ {
				least = min(least, c[k])
			}
			sum += least
		}
		n.bound = max(bound, sum)
	}
	n.order = n.bound
	return n
}

// spotOf judges a place, or has it judged already.
func (s *search) spotOf(cell []int) *spot {
	k := key(cell)
	if sp, ok := s.memo.at[k]; ok {
		return sp
	}
	sp := s.at(cell)
	s.judged++
	s.budget--
	if len(s.memo.at) < s.memo.most {
		s.memo.at[k] = sp
	}
	return sp
}

// holdsNoBetter stands for a place that holds what is quick, and would be no better than
// the best if it held all else.
const holdsNoBetter = -2

// quickly is the first active demand that a place misses of those that are judged, -1
// for none.
func (s *search) quickly(sp *spot) int {
	for i, on := range s.active {
		if on && sp.short[i] > 0 {
			return i
		}
	}
	return -1
}

// failing is quickly of all demands: those that are not judged yet are now.
func (s *search) failing(cell []int, sp *spot) int {
	if i := s.quickly(sp); i >= 0 || sp.all {
		return i
	}
	s.whole(cell, sp)
	for i, on := range s.active {
		if on && !(sp.short[i] <= 0) {
			return i
		}
	}
	return -1
}

// blame names a demand that rules a place out: one that ruled out others already,
// where there is one, since few reasons make a short conflict.
func (s *search) blame(sp *spot) {
	first := -1
	for i, on := range s.active {
		if !on || !(sp.short[i] > 0) {
			continue
		}
		if s.reasons[i] {
			return
		}
		if first < 0 {
			first = i
		}
	}
	if first >= 0 {
		s.reasons[first] = true
	}
}

// missing is by how much a place misses what is active, in proportion: 0 where it
// misses nothing that was judged.
func (s *search) missing(sp *spot) float64 {
	sum := 0.0
	for i, on := range s.active {
		if on && sp.short[i] > 0 {
			sum += min(sp.short[i]/s.scale(i), 1e3)
		}
	}
	return sum
}

// worth is the value of a place that holds.
func (s *search) worth(cell []int, sp *spot) float64 {
	switch {
	case s.cost != nil:
		sum := 0.0
		for i, c := range s.cost {
			sum += c[cell[i]]
		}
		return sum
	case s.spare:
		return -s.spareOf(sp)
	case s.least >= 0:
		if !sp.all {
			s.whole(cell, sp)
		}
		return max(0, sp.short[s.least])
	}
	return 0
}

// spareOf is the least that is left to spare of all active demands, in proportion.
func (s *search) spareOf(sp *spot) float64 {
	least := math.Inf(1)
	for i, on := range s.active {
		if on && s.counts(i) && !math.IsNaN(sp.short[i]) {
			least = min(least, -sp.short[i]/s.scale(i))
		}
	}
	return least
}

// bounds are what holds of all places of a box: a demand that fails on all of it, or
// -1, and a value that none is below.
func (s *search) bounds(n node, mid []int, sp *spot) (bound float64, dead int) {
	s.reach(n.box, mid, sp, s.out)
	bound = n.bound
	spare := math.Inf(1)
	for i, far := range s.out {
		if math.IsNaN(sp.built[i]) || math.IsInf(far, 1) {
			continue
		}
		best := sp.built[i] + far // no place of the box has more to its limit
		switch {
		case s.active[i] && best < -eps:
			return bound, i
		case s.only(i):
		case s.active[i] && s.spare && s.counts(i):
			spare = min(spare, best/s.scale(i))
		case i == s.least:
			bound = max(bound, -best)
		}
	}
	if s.spare && !math.IsInf(spare, 1) {
		bound = max(bound, -spare)
	}
	return bound, -1
}

// halves cuts a box across the axis that moves the demands most.
func (s *search) halves(b box) [2]box {
	axis, most := -1, -1.0
	for i := range b.lo {
		if n := b.hi[i] - b.lo[i]; n > 0 {
			if w := float64(n) * max(s.spread(i), 1e-6); w > most {
				axis, most = i, w
			}
		}
	}
	at := (b.lo[axis] + b.hi[axis]) / 2
	low, high := box{b.lo, append([]int(nil), b.hi...)}, box{append([]int(nil), b.lo...), b.hi}
	low.hi[axis], high.lo[axis] = at, at+1
	return [2]box{low, high}
}
