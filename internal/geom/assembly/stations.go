package assembly

import (
	"math"
	"slices"

	"fitup/internal/geom/frame"

	"gonum.org/v1/gonum/spatial/r3"
)

// Fixing is how the feet of a mount are fixed to the rails.
type Fixing uint8

// The ways that feet are fixed. What is bolted lies between Held and Pinned.
const (
	// Held: against everything, as a foot that is welded.
	Held Fixing = iota
	// Pinned: each foot in its place and against tipping fore and aft, free to turn
	// as the member bends, up and down as well as fore and aft.
	Pinned
	// Sliding: pinned, and the last foot free to go across the vehicle, as in a
	// slotted hole.
	Sliding
	// SlidingFirst: the same of the first foot.
	SlidingFirst
)

// holds is what a foot is held against; slides says that it is the one that is free.
func (f Fixing) holds(slides bool) frame.Six {
	if f == Held {
		return frame.Welded
	}
	return frame.Six{X: true, Y: !slides, Z: true, TurnY: true}
}

// station is a place on a part's axis where something is fixed to it.
type station struct {
	along float64
	node  int
}

// same is how near two stations are one, mm.
const same = 1e-3

// stationing are the nodes of a frame and where on the parts they are.
type stationing struct {
	solved *Solved
	frame  *frame.Frame
	of     [][]station // of each part
}

// stations makes the nodes: of each part those at its ends, where others stand on
// it, and under the pad. The first node of the frame is the pad.
func (s *Solved) stations(f *frame.Frame, fixed Fixing) ([][]station, error) {
	n := stationing{s, f, make([][]station, len(s.Parts))}
	n.through()
	if s.perch >= 0 {
		n.share(s.perch, s.PerchAlong, 0)
	}
	first, last := -1, -1    // of the parts that stand on a rail
	for i := range s.Parts { // what others stand on before the ends of those
		p := &s.Parts[i]
		for k := range p.Ends {
			switch e := &p.Ends[k]; e.Kind {
			case Pad, Pin:
				n.share(i, p.Along(k), 0)
			case OnMember:
				n.node(p.Host[k], e.Along, p.Name+" on "+s.Parts[p.Host[k]].Name, frame.Six{})
			case Rail, Lies:
				if first < 0 {
					first = i
				}
				last = i
			}
		}
	}
	for i := range s.Parts {
		for k := range s.Parts[i].Ends {
			two := s.Parts[i].Ends[1-k].Kind == s.Parts[i].Ends[k].Kind // from rail to rail
			slides := fixed == Sliding && i == last && (k == 1 || !two) || fixed == SlidingFirst && i == first && (k == 0 || !two)
			if err := n.end(i, k, fixed, slides); err != nil {
				return nil, err
			}
		}
	}
	for i := range n.of {
		slices.SortStableFunc(n.of[i], func(a, b station) int {
			if a.along < b.along {
				return -1
			}
			return 1
		})
	}
	return n.of, nil
}

// Along is how far from the first cut an end is fixed, mm.
func (p *Part) Along(k int) float64 {
	switch {
	case p.Ends[k].Kind == Lies || p.Ends[k].Kind == Pin || p.Ends[k].Kind == Bolted || p.Ends[k].Kind == Inside:
		return r3.Dot(p.Cut.Axis, r3.Sub(p.Ends[k].At, p.Cut.Pad.At))
	case k == 1:
		return p.Cut.Length
	}
	return 0
}

// find is the node at a place on a part, -1 for none.
func (n *stationing) find(i int, along float64) int {
	for _, k := range n.of[i] {
		if math.Abs(k.along-along) < same {
			return k.node
		}
	}
	return -1
}

// share puts a node that there is on a part.
func (n *stationing) share(i int, along float64, node int) {
	n.of[i] = append(n.of[i], station{along, node})
}

// node puts a new node on a part, unless there is one at that place.
func (n *stationing) node(i int, along float64, name string, held frame.Six) {
	if n.find(i, along) >= 0 {
		return
	}
	c := &n.solved.Parts[i].Cut
	n.share(i, along, len(n.frame.Nodes))
	n.frame.Nodes = append(n.frame.Nodes, frame.Node{Name: name, At: r3.Add(c.Pad.At, r3.Scale(along, c.Axis)), Held: held})
}

// through makes a node at each bolt through ears or a socket, on all that it goes through.
func (n *stationing) through() {
	s := n.solved
	for _, x := range s.Through() {
		p := &s.Parts[x.Part]
		n.node(x.Part, p.Along(x.End), "the bolt of "+p.Name+" at the "+p.Ends[x.End].On, frame.Six{})
		node := n.find(x.Part, p.Along(x.End))
		for _, j := range x.Ears {
			n.share(j, s.Parts[j].Along(1), node)
		}
		if x.Socket >= 0 {
			host := &s.Parts[x.Socket].Cut
			n.share(x.Socket, r3.Dot(host.Axis, r3.Sub(p.Ends[x.End].At, host.Pad.At)), node)
		}
	}
}

// end fixes an end of a part.
func (n *stationing) end(i, k int, fixed Fixing, slides bool) error {
	s := n.solved
	p := &s.Parts[i]
	along := p.Along(k)
	switch e := &p.Ends[k]; e.Kind {
	case Square:
		n.node(i, along, "the free end of "+p.Name, frame.Six{})
	case Rail, Lies:
		held := fixed.holds(slides)
		if s.Jointed() { // what gives way are its bolts
			held = frame.Welded
		}
		if e.Ball {
			held = frame.Ball
		}
		if n.find(i, along) >= 0 {
			return s.bad(&p.Member, "something stands on it right where it meets the rail; stand that on the rail")
		}
		n.node(i, along, "the foot of "+p.Name, held)
	case OnMember:
		if node := n.find(p.Host[k], e.Along); node >= 0 {
			n.share(i, along, node)
		}
	case Mitre:
		q := &s.Parts[p.Host[k]]
		for j := range q.Ends {
			if q.Ends[j].Kind != Mitre || q.Ends[j].Host != p.Name {
				continue
			}
			if node := n.find(p.Host[k], q.Along(j)); node >= 0 {
				n.share(i, along, node)
				return nil
			}
		}
		n.node(i, along, "the knee of "+p.Name+" and "+q.Name, frame.Six{})
	case Pad, Pin, Bolted, Inside:
	}
	return nil
}
