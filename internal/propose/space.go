package propose

// space is what is searched: places on a grid, and demands on each.
type space interface {
	// axes are the numbers of steps of each axis, each at least 1.
	axes() []int
	// roots are the boxes that the search begins with. They share no place, and a
	// bound holds within each.
	roots() []box
	// at judges the place, as far as is quick; whole judges all of it.
	at(cell []int) *spot
	whole(cell []int, s *spot)
	// deeper works out the built numbers of demands that at does not judge, where something
	// is argued of them; false where there is nothing to add.
	deeper(cell []int, s *spot) bool
	// reach writes for each demand how far its built number may get from that of the
	// middle place within the box, +Inf where nothing is argued.
	reach(b box, middle []int, s *spot, out []float64)
	// only reports whether a demand's built number says no more than that it fails, and
	// nothing of by how much.
	only(demand int) bool
	// scale is what a demand's shortfall is measured by.
	scale(demand int) float64
	// counts reports whether a demand's spare is worth something: not where nothing that
	// moves changes it.
	counts(demand int) bool
	// spread is how much of the demands an axis moves, per step, in proportion.
	spread(axis int) float64
}

// box is the places from lo to hi, both included.
type box struct{ lo, hi []int }

func (b box) single() bool {
	for i := range b.lo {
		if b.lo[i] != b.hi[i] {
			return false
		}
	}
	return true
}

func (b box) size() float64 {
	n := 1.0
	for i := range b.lo {
		n *= float64(b.hi[i] - b.lo[i] + 1)
	}
	return n
}

func (b box) middle() []int {
	m := make([]int, len(b.lo))
	for i := range m {
		m[i] = (b.lo[i] + b.hi[i]) / 2
	}
	return m
}

// spot is one place, judged.
type spot struct {
	// short is by how much each demand misses, in its own unit: 0 or less where it
	// holds, then what is left to spare; +Inf where it is not known; NaN where it was
	// not judged yet.
	short []float64
	// built is what each demand has to its limit as built, whatever its ± and its
	// weight; NaN where that is not known or means nothing.
	built []float64
	all   bool // all demands were judged
	deep  bool // the built numbers of all are worked out
	even  []even
	last  []lastShaft
}

// memo keeps what was judged, up to a number of places.
type memo struct {
	at   map[string]*spot
	most int
}

func newMemo(most int) *memo { return &memo{map[string]*spot{}, most} }

func key(cell []int) string {
	b := make([]byte, 2*len(cell))
	for i, v := range cell {
		b[2*i], b[2*i+1] = byte(v), byte(v>>8)
	}
	return string(b)
}

type node struct {
	box
	order, then float64 // the less the sooner
	bound       float64 // no place in it has a smaller value
}

type nodes []node

func (n nodes) Len() int { return len(n) }

func (n nodes) Less(i, j int) bool {
	if n[i].order != n[j].order {
		return n[i].order < n[j].order
	}
	return n[i].then < n[j].then
}

func (n nodes) Swap(i, j int) { n[i], n[j] = n[j], n[i] }

// Push adds a node.
func (n *nodes) Push(x any) { *n = append(*n, x.(node)) }

// Pop takes the last node off.
func (n *nodes) Pop() any {
	old := *n
	x := old[len(old)-1]
	old[len(old)-1] = node{}
	*n = old[:len(old)-1]
	return x
}

// mostNodes bounds the memory of a search: past it, boxes are gone through one after
// the other instead of the best first.
const mostNodes = 1 << 17
