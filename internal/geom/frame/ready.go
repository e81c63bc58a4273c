package frame

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// Ready is a frame whose stiffness is factored, for one load case after another.
// It may be used from several goroutines at once.
type Ready struct {
	frame    *Frame
	pieces   []piece // members, then springs
	elements []element
	way      []int // of each node's six, the place among the unknowns, or held
	unknowns int
	factor   *skyline
	idle     []idle
	lever    float64 // the frame's size, mm: what a moment is over a force
}

const held = -1

// idle is a way in which parts only spin about their own lines: it is pinned, and
// nothing may turn it.
type idle struct {
	what string
	turn []float64 // all ways
}

// Prepare checks a frame, puts its stiffness together and factors it. The frame
// must not be changed afterwards.
func Prepare(f *Frame) (*Ready, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	r := &Ready{frame: f, pieces: make([]piece, len(f.Members)+len(f.Springs)), elements: make([]element, len(f.Members)), lever: f.size()}
	r.number()
	for i := range f.Members {
		f.buildMember(i, &r.pieces[i], &r.elements[i])
	}
	for i := range f.Springs {
		f.buildSpring(i, &r.pieces[len(f.Members)+i])
	}
	r.assemble()
	if err := r.factor.factor(r.loose); err != nil {
		return nil, err
	}
	return r, nil
}

// Spins names the nodes at which parts are free to spin about their own lines, as a
// link between two ball joints is. It is no fault; nothing may turn them.
func (r *Ready) Spins() []string {
	var out []string
	for _, i := range r.idle {
		out = append(out, i.what)
	}
	return out
}

func (r *Ready) number() {
	r.way = make([]int, 0, 6*len(r.frame.Nodes))
	for i := range r.frame.Nodes {
		for _, h := range r.frame.Nodes[i].Held.list() {
			if h {
				r.way = append(r.way, held)
				continue
			}
			r.way = append(r.way, r.unknowns)
			r.unknowns++
		}
	}
}

// first returns the lowest unknown among a node's ways.
func (r *Ready) first(n int) int {
	if n != Ground {
		for _, w := range r.way[6*n : 6*n+6] {
			if w != held {
				return w
			}
		}
	}
	return r.unknowns
}

func (r *Ready) skyline() *skyline {
	first := make([]int, r.unknowns)
	low := func(n, to int) {
		if n == Ground {
			return
		}
		for _, w := range r.way[6*n : 6*n+6] {
			if w != held {
				first[w] = min(first[w], to)
			}
		}
	}
	for n := range r.frame.Nodes {
		to := r.first(n)
		for _, w := range r.way[6*n : 6*n+6] {
			if w != held {
				first[w] = to
			}
		}
	}
	for i := range r.pieces {
		a, b := r.pieces[i].nodes[0], r.pieces[i].nodes[1]
		to := min(r.first(a), r.first(b))
		low(a, to)
		low(b, to)
	}
	return newSkyline(first)
}

func (r *Ready) assemble() {
	r.factor = r.skyline()
	for i := range r.pieces {
		r.spread(r.factor, &r.pieces[i], &r.pieces[i].k)
	}
}

// spread adds a matrix of a piece's ends to a matrix of the unknowns.
func (r *Ready) spread(to *skyline, p *piece, k *dozen) {
	for a, na := range p.nodes {
		for b, nb := range p.nodes[:a+1] {
			if na == Ground || nb == Ground {
				continue
			}
			block := between(k, &p.t[a], &p.t[b], 6*a, 6*b)
			for i, wi := range r.way[6*na : 6*na+6] {
				if wi == held {
					continue
				}
				for j, wj := range r.way[6*nb : 6*nb+6] {
					if wj == held || a == b && wj > wi {
						continue
					}
					to.add(wi, wj, block[i][j])
				}
			}
		}
	}
}

// MechanismError says how a frame can move without any of its parts bending.
type MechanismError struct {
	Frame string
	Node  string // the node that goes farthest
	// Shift (mm) and Turn (rad) are those of that node, the largest part of the
	// whole motion scaled to 1; vehicle axes.
	Shift, Turn r3.Vec
	Others      []string // nodes that go along
}

func (e *MechanismError) Error() string {
	var b strings.Builder
	if e.Frame != "" {
		fmt.Fprintf(&b, "frame %s: ", e.Frame)
	}
	fmt.Fprintf(&b, "%s: nothing holds it against ", e.Node)
	if e.Shift != (r3.Vec{}) {
		fmt.Fprintf(&b, "moving %s", way(e.Shift, "fore and aft", "to the side", "up and down"))
	} else {
		fmt.Fprintf(&b, "turning about the %s direction", way(e.Turn, "fore-and-aft", "sideways", "upright"))
	}
	if len(e.Others) > 0 {
		fmt.Fprintf(&b, " (%s goes along)", strings.Join(e.Others, ", "))
	}
	b.WriteString("; weld a joint that is free to turn, hold a foot or add a brace")
	return b.String()
}

// way says in words which way a vector goes: the axes that have more than a
// third of it.
func way(v r3.Vec, x, y, z string) string {
	n := r3.Norm(v)
	var parts []string
	for _, c := range []struct {
		v    float64
		word string
	}{{v.X, x}, {v.Y, y}, {v.Z, z}} {
		if math.Abs(c.v) > n/3 {
			parts = append(parts, c.word)
		}
	}
	return strings.Join(parts, " and ")
}

// loose decides about a motion that nothing holds: it is refused unless parts do
// no more than spin about their own lines.
func (r *Ready) loose(_ int, with []float64) error {
	all := make([]float64, len(r.way))
	for i, w := range r.way {
		if w != held && w < len(with) {
			all[i] = with[w]
		}
	}
	// Shifts in mm and turns over a lever of the frame's size compare.
	lever := r.lever
	shifted, turned, at := 0.0, 0.0, 0
	for n := range r.frame.Nodes {
		s, t := r.nodeMotion(all, n)
		shifted = max(shifted, r3.Norm(s))
		if v := r3.Norm(t) * lever; v > turned*(1+1e-9) {
			turned, at = v, n
		}
	}
	shifts := shifted > 1e-6*turned
	if !shifts && !r.swings(all, 1e-6*turned) {
		r.idle = append(r.idle, idle{what: r.frame.node(at), turn: all})
		return nil
	}
	return r.mechanism(all, shifts, lever)
}

func (r *Ready) mechanism(all []float64, shifts bool, lever float64) error {
	size := func(n int) float64 {
		s, t := r.nodeMotion(all, n)
		if shifts {
			return r3.Norm(s)
		}
		return r3.Norm(t) * lever
	}
	at := 0
	for n := range r.frame.Nodes {
		if size(n) > size(at)*(1+1e-9) {
			at = n
		}
	}
	e := &MechanismError{Frame: r.frame.Name, Node: r.frame.node(at)}
	s, t := r.nodeMotion(all, at)
	if most := size(at); shifts {
		e.Shift, e.Turn = r3.Scale(1/most, s), r3.Scale(1/most, t)
	} else {
		e.Turn = r3.Scale(lever/most, t)
	}
	for n := range r.frame.Nodes {
		if n != at && size(n) > 0.1*size(at) && len(e.Others) < 3 {
			e.Others = append(e.Others, r.frame.node(n))
		}
	}
	return e
}

// swings reports whether turns of nodes move an end of a member, by its offset, or
// another end of a spring, by more than some.
func (r *Ready) swings(all []float64, some float64) bool {
	for i := range r.pieces {
		d := r.pieces[i].ways(all)
		for _, v := range [6]float64{d[0], d[1], d[2], d[6], d[7], d[8]} {
			if math.Abs(v) > some {
				return true
			}
		}
	}
	return false
}

// size is the largest distance of a node from the first, mm, and never 0.
func (f *Frame) size() float64 {
	most := 1.0
	for i := range f.Nodes {
		most = max(most, r3.Norm(r3.Sub(f.Nodes[i].At, f.Nodes[0].At)))
	}
	return most
}

// nodeMotion returns a node's shift and turn in vehicle axes from all ways.
func (r *Ready) nodeMotion(all []float64, n int) (shift, turn r3.Vec) {
	axes, _ := r.frame.Nodes[n].Axes.filled()
	for j, a := range axes.list() {
		shift = r3.Add(shift, r3.Scale(all[6*n+j], a))
		turn = r3.Add(turn, r3.Scale(all[6*n+3+j], a))
	}
	return shift, turn
}
