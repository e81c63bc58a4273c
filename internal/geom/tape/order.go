package tape

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// front is a run of unknowns that are eliminated together, because the same later
// unknowns hang on all of them.
type front struct {
	first, width int   // its own unknowns stand at these positions of the order
	below        []int // the later positions that hang on them, ascending
	parent       int   // the front of the first of below; -1 without any
	inParent     []int // where each of below stands among the parent's
}

// size is how many unknowns the front has to do with.
func (f *front) size() int { return f.width + len(f.below) }

// place is where a position stands in the front, -1 when it does not.
func (f *front) place(position int) int {
	if position >= f.first && position < f.first+f.width {
		return position - f.first
	}
	if k, ok := slices.BinarySearch(f.below, position); ok {
		return f.width + k
	}
	return -1
}

// ordering says in which order the unknowns of sparse normal equations are
// eliminated, so that little fills up.
type ordering struct {
	position []int // of each unknown
	unknown  []int // at each position
	fronts   []front
	frontOf  []int // of each position
}

// set is a set of small numbers.
type set []uint64

func newSet(n int) set       { return make(set, (n+63)/64) }
func (s set) add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s set) drop(i int)     { s[i/64] &^= 1 << (i % 64) }
func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 != 0 }
func (s set) each(do func(i int)) {
	for w, b := range s {
		for ; b != 0; b &= b - 1 {
			do(64*w + bits.TrailingZeros64(b))
		}
	}
}

func (s set) len() int {
	n := 0
	for _, b := range s {
		n += bits.OnesCount64(b)
	}
	return n
}

func (s set) take(o set) {
	for i, b := range o {
		s[i] |= b
	}
}

// order finds the ordering for observations that rest on the given unknowns each:
// unknowns with the same neighbours are taken together (the coordinates of a
// point), and those with the fewest neighbours left go first (minimum degree;
// A. George and J. W. H. Liu, Computer Solution of Large Sparse Positive Definite
// Systems, from memory).
func order(n int, rows [][]int) *ordering {
	groups := alikeUnknowns(n, rows)
	of := make([]int, n)
	for g, us := range groups {
		for _, u := range us {
			of[u] = g
		}
	}
	near := make([]set, len(groups))
	for g := range near {
		near[g] = newSet(len(groups))
	}
	for _, row := range rows {
		for _, u := range row {
			for _, v := range row {
				if of[u] != of[v] {
					near[of[u]].add(of[v])
				}
			}
		}
	}
	turn, later := minimumDegree(near)
	turn, later = postorder(turn, later)
	return fronts(n, groups, turn, later)
}

// alikeUnknowns groups the unknowns that meet the same others.
func alikeUnknowns(n int, rows [][]int) [][]int {
	near := make([]set, n)
	for u := range near {
		near[u] = newSet(n)
		near[u].add(u)
	}
	for _, row := range rows {
		for _, u := range row {
			for _, v := range row {
				near[u].add(v)
			}
		}
	}
	index := map[string]int{}
	var groups [][]int
	key := make([]byte, 0, n/8+8)
	for u, s := range near {
		key = key[:0]
		for _, b := range s {
			key = binary.LittleEndian.AppendUint64(key, b)
		}
		g, ok := index[string(key)]
		if !ok {
			g = len(groups)
			index[string(key)] = g
			groups = append(groups, nil)
		}
		groups[g] = append(groups[g], u)
	}
	return groups
}

// minimumDegree returns the groups in the order of their elimination, and for
// each place in that order the groups left that then hang on it. near is used up.
func minimumDegree(near []set) (turn []int, later []set) {
	n := len(near)
	degree, gone := make([]int, n), make([]bool, n)
	for g := range near {
		degree[g] = near[g].len()
	}
	for range n {
		next := -1
		for g := range n {
			if !gone[g] && (next < 0 || degree[g] < degree[next]) {
				next = g
			}
		}
		gone[next] = true
		around := near[next]
		around.each(func(g int) {
			near[g].take(around)
			near[g].drop(g)
			near[g].drop(next)
			degree[g] = near[g].len()
		})
		turn, later = append(turn, next), append(later, around)
	}
	return turn, later
}

// postorder rearranges an elimination so that each group follows those that lead
// up to it: nothing fills up more, and groups that can go together stand together.
func postorder(turn []int, later []set) ([]int, []set) {
	n := len(turn)
	at := make([]int, n)
	for k, g := range turn {
		at[g] = k
	}
	children := make([][]int, n+1) // by place; n is the root of all
	for k := range n {
		parent := n
		later[k].each(func(g int) { parent = min(parent, at[g]) })
		children[parent] = append(children[parent], k)
	}
	outTurn, outLater := make([]int, 0, n), make([]set, 0, n)
	type visit struct{ place, next int }
	stack := []visit{{n, 0}}
	for len(stack) > 0 {
		top := &stack[len(stack)-1]
		if top.next < len(children[top.place]) {
			top.next++
			stack = append(stack, visit{children[top.place][top.next-1], 0})
			continue
		}
		if k := top.place; k < n {
			outTurn, outLater = append(outTurn, turn[k]), append(outLater, later[k])
		}
		stack = stack[:len(stack)-1]
	}
	return outTurn, outLater
}

// fronts joins groups that follow each other and have the same behind them.
func fronts(n int, groups [][]int, turn []int, later []set) *ordering {
	o := &ordering{position: make([]int, n), frontOf: make([]int, n)}
	for k, g := range turn {
		joins := k > 0 && later[k-1].has(g) && later[k-1].len() == later[k].len()+1
		if !joins {
			o.fronts = append(o.fronts, front{first: len(o.unknown), parent: -1})
		}
		f := &o.fronts[len(o.fronts)-1]
		for _, u := range groups[g] {
			o.position[u] = len(o.unknown)
			o.frontOf[len(o.unknown)] = len(o.fronts) - 1
			o.unknown = append(o.unknown, u)
			f.width++
		}
	}
	for k, g := range turn {
		f := &o.fronts[o.frontOf[o.position[groups[g][0]]]]
		if f.first+f.width != o.position[groups[g][0]]+len(groups[g]) {
			continue // not the last of its front
		}
		later[k].each(func(h int) {
			for _, u := range groups[h] {
				f.below = append(f.below, o.position[u])
			}
		})
		slices.Sort(f.below)
	}
	for i := range o.fronts {
		f := &o.fronts[i]
		if len(f.below) == 0 {
			continue
		}
		f.parent = o.frontOf[f.below[0]]
		for _, p := range f.below {
			f.inParent = append(f.inParent, o.fronts[f.parent].place(p))
		}
	}
	return o
}
