package frame

import (
	"fmt"
	"math"

	"fitup/internal/geom"

	"gonum.org/v1/gonum/spatial/r3"
)

// NodeLoad is a force, N, and a moment, N·mm, on a node, vehicle axes.
type NodeLoad struct {
	Node          int
	Force, Moment r3.Vec
}

// LineLoad is a force per mm of a member's own length, N/mm, along its middle
// line, vehicle axes.
type LineLoad struct {
	Member int
	Force  r3.Vec
}

// Moved is a shift, mm, and a turn, rad, that a support is given, vehicle axes.
// Only what the node is held against is read.
type Moved struct {
	Node        int
	Shift, Turn r3.Vec
}

// Case is one set of loads that act together.
type Case struct {
	Name  string
	Nodes []NodeLoad
	Lines []LineLoad
	// Pull is what the members' own mass is pulled with, in g, vehicle axes: {Z:
	// −1} at rest, the zero vector to leave it out.
	Pull  r3.Vec
	Moved []Moved
}

// Motion is a node's shift, mm, and turn, rad, vehicle axes.
type Motion struct{ Shift, Turn r3.Vec }

// Push is a force, N, and a moment, N·mm.
type Push struct{ Force, Moment r3.Vec }

// Result is a frame under one case.
type Result struct {
	ready *Ready
	Case  string
	Nodes []Motion
	// Reactions are what the ground does to each node, vehicle axes; zero for a
	// node that is not held.
	Reactions []Push
	// Ends are what acts on each member's two ends, along its own axes.
	Ends [][2]Push
	// Springs are what each spring does to its second node, along its own axes.
	Springs []Push
	lines   []r3.Vec      // load per mm on each member, its own axes
	ways    [][12]float64 // of each member's own ends
}

// Solve works out one case. Errors name the load; a frame that is too soft for
// its numbers to hold is refused.
func (r *Ready) Solve(c Case) (*Result, error) {
	f := r.frame
	n := len(r.way)
	work := make([]float64, 2*n+r.unknowns)
	load, all, x := work[:n], work[n:2*n], work[2*n:]
	lines, err := r.gather(&c, load, all)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.name(), err)
	}
	res := &Result{ready: r, Case: c.Name, Nodes: make([]Motion, len(f.Nodes)), Reactions: make([]Push, len(f.Nodes)),
		Ends: make([][2]Push, len(f.Members)), lines: lines, ways: make([][12]float64, len(f.Members))}
	if len(f.Springs) > 0 {
		res.Springs = make([]Push, len(f.Springs))
	}
	back := make([]float64, n) // what the pieces ask of the nodes
	if len(c.Lines)+len(c.Moved) > 0 || c.Pull != (r3.Vec{}) {
		r.pushes(all, lines, back, nil)
	}
	if err := r.unturned(load, back); err != nil {
		return nil, fmt.Errorf("%s: %w", c.name(), err)
	}
	for try := 0; ; try++ { // once, and again for what rounding left
		for i, w := range r.way {
			if w != held {
				x[w] = load[i] - back[i]
			}
		}
		r.factor.solve(x)
		r.take(x, all)
		clear(back)
		r.pushes(all, lines, back, res)
		off, most := r.left(res, load, back)
		if off <= 1e-11*most {
			break
		}
		if try < 2 {
			continue
		}
		if !(off <= 1e-6*most) || math.IsInf(most, 0) {
			return nil, fmt.Errorf("%s: the frame is too soft somewhere for its numbers to balance (%.2g of %.2g N); look for a part that is nearly free", c.name(), off, most)
		}
		break
	}
	r.react(res, load, back)
	for i := range f.Nodes {
		res.Nodes[i].Shift, res.Nodes[i].Turn = r.nodeMotion(all, i)
	}
	return res, nil
}

// take adds how far the unknowns go to all ways.
func (r *Ready) take(x, all []float64) {
	for i, w := range r.way {
		if w != held {
			all[i] += x[w]
		}
	}
}

func (c *Case) name() string {
	if c.Name == "" {
		return "load case"
	}
	return c.Name
}

// usable reports whether all are loads that can be worked with.
func usable(vs ...r3.Vec) bool {
	for _, v := range vs {
		if !geom.LoadOK(v.X, v.Y, v.Z) {
			return false
		}
	}
	return true
}

// gather fills in the loads on the nodes and what the supports are given, both
// along the nodes' axes, and returns the loads along the members.
func (r *Ready) gather(c *Case, load, all []float64) ([]r3.Vec, error) {
	f := r.frame
	for _, l := range c.Nodes {
		if l.Node < 0 || l.Node >= len(f.Nodes) {
			return nil, fmt.Errorf("a load stands at no node")
		}
		if !usable(l.Force, l.Moment) {
			return nil, fmt.Errorf("the load on %s is not a number that can be used", f.node(l.Node))
		}
		axes, _ := f.Nodes[l.Node].Axes.filled()
		for j, e := range axes.list() {
			load[6*l.Node+j] += r3.Dot(e, l.Force)
			load[6*l.Node+3+j] += r3.Dot(e, l.Moment)
		}
	}
	for _, m := range c.Moved {
		if m.Node < 0 || m.Node >= len(f.Nodes) {
			return nil, fmt.Errorf("a support that moves is at no node")
		}
		if !usable(m.Shift, m.Turn) {
			return nil, fmt.Errorf("how far %s is moved is not a number that can be used", f.node(m.Node))
		}
		axes, _ := f.Nodes[m.Node].Axes.filled()
		for j, e := range axes.list() {
			if r.way[6*m.Node+j] == held {
				all[6*m.Node+j] += r3.Dot(e, m.Shift)
			}
			if r.way[6*m.Node+3+j] == held {
				all[6*m.Node+3+j] += r3.Dot(e, m.Turn)
			}
		}
	}
	return r.gatherLines(c)
}

// gatherLines returns the loads along the members, N/mm, in their own axes.
func (r *Ready) gatherLines(c *Case) ([]r3.Vec, error) {
	f := r.frame
	lines := make([]r3.Vec, len(f.Members))
	if !usable(c.Pull) {
		return nil, fmt.Errorf("what pulls at the members' mass is not a number that can be used")
	}
	if c.Pull != (r3.Vec{}) {
		for i := range f.Members {
			m := &f.Members[i]
			lines[i] = r3.Scale(m.Material.Density*m.Section.Area*geom.Gravity, c.Pull)
		}
	}
	for _, l := range c.Lines {
		if l.Member < 0 || l.Member >= len(f.Members) {
			return nil, fmt.Errorf("a load lies on no member")
		}
		if !usable(l.Force) {
			return nil, fmt.Errorf("the load on %s is not a number that can be used", f.member(l.Member))
		}
		lines[l.Member] = r3.Add(lines[l.Member], l.Force)
	}
	for i, w := range lines {
		e := &r.elements[i]
		lines[i] = r3.Vec{X: r3.Dot(e.axes[0], w), Y: r3.Dot(e.axes[1], w), Z: r3.Dot(e.axes[2], w)}
		if err := e.slides(lines[i]); err != nil {
			return nil, fmt.Errorf("%s: %w", f.member(i), err)
		}
	}
	return lines, nil
}

// slides refuses a load along a way that a member is free to go at both ends.
func (e *element) slides(w r3.Vec) error {
	for i := range e.freed {
		fr := &e.freed[i]
		if fr.pivot != 0 {
			continue
		}
		for a, v := range [3]float64{w.X, w.Y, w.Z} {
			if math.Abs(v*fr.spread[a]) > 1e-9*math.Abs(v)*e.length*e.length {
				return fmt.Errorf("both its ends are free to go the way its load pushes it")
			}
		}
	}
	return nil
}

// unturned refuses a load that turns what is free to spin; rounding beside the
// largest load is no load.
func (r *Ready) unturned(load, back []float64) error {
	if len(r.idle) == 0 {
		return nil
	}
	most := 0.0
	for j := range load {
		v := max(math.Abs(load[j]), math.Abs(back[j]))
		if j%6 < 3 {
			v *= r.lever
		}
		most = max(most, v)
	}
	for i := range r.idle {
		work, turn := 0.0, 0.0
		for j, t := range r.idle[i].turn {
			if r.way[j] != held {
				work += (load[j] - back[j]) * t
				turn = max(turn, math.Abs(t))
			}
		}
		if math.Abs(work) > 1e-9*turn*most {
			return fmt.Errorf("%s: nothing holds it against turning, and the load turns it", r.idle[i].what)
		}
	}
	return nil
}

// pushes adds to back what the pieces take from the nodes, along the nodes' axes,
// and fills in the ends where a result is given.
func (r *Ready) pushes(all []float64, lines []r3.Vec, back []float64, res *Result) {
	members := len(r.frame.Members)
	for i := range r.pieces {
		p := &r.pieces[i]
		d := p.ways(all)
		var q [12]float64
		for a, row := range p.k {
			for j, k := range row {
				q[a] += k * d[j]
			}
		}
		var w r3.Vec
		if i < members && lines[i] != (r3.Vec{}) {
			w = lines[i]
			s := &r.elements[i].spread
			for a := range q {
				q[a] += s[0][a]*w.X + s[1][a]*w.Y + s[2][a]*w.Z
			}
		}
		p.onto(back, &q)
		switch {
		case res == nil:
		case i < members:
			r.elements[i].recover(&d, w)
			res.ways[i] = d
			for end := range 2 {
				o := 6 * end
				res.Ends[i][end] = Push{r3.Vec{X: q[o], Y: q[o+1], Z: q[o+2]}, r3.Vec{X: q[o+3], Y: q[o+4], Z: q[o+5]}}
			}
		default:
			res.Springs[i-members] = Push{r3.Vec{X: -q[6], Y: -q[7], Z: -q[8]}, r3.Vec{X: -q[9], Y: -q[10], Z: -q[11]}}
		}
	}
}

// ways returns how the ends of a piece go as its nodes do.
func (p *piece) ways(all []float64) (d [12]float64) {
	for end, n := range p.nodes {
		if n == Ground {
			continue
		}
		own := all[6*n : 6*n+6]
		for a, row := range p.t[end] {
			for j, u := range own {
				d[6*end+a] += row[j] * u
			}
		}
	}
	return d
}

// onto adds what acts on the ends of a piece to the nodes' ways.
func (p *piece) onto(back []float64, q *[12]float64) {
	for end, n := range p.nodes {
		if n == Ground {
			continue
		}
		own := back[6*n : 6*n+6]
		for a, row := range p.t[end] {
			for j, t := range row {
				own[j] += t * q[6*end+a]
			}
		}
	}
}

// left returns the largest force at a node that is out of balance and the largest
// there is, N; moments count over a lever of the frame's size.
func (r *Ready) left(res *Result, load, back []float64) (off, most float64) {
	lever := r.lever
	for i, w := range r.way {
		by := 1.0
		if i%6 >= 3 {
			by = 1 / lever
		}
		most = max(most, by*math.Abs(back[i]), by*math.Abs(load[i]))
		if w != held {
			off = max(off, by*math.Abs(back[i]-load[i]))
		}
	}
	for i := range res.Ends { // forces inside can be far larger than what they leave at a node
		p := &res.Ends[i][0]
		most = max(most, math.Abs(p.Force.X), math.Abs(p.Force.Y), math.Abs(p.Force.Z))
	}
	return off, most
}

// react fills in the reactions.
func (r *Ready) react(res *Result, load, back []float64) {
	for i, w := range r.way {
		if w != held {
			continue
		}
		n := i / 6
		axes, _ := r.frame.Nodes[n].Axes.filled()
		push := r3.Scale(back[i]-load[i], axes.list()[i%3])
		if i%6 < 3 {
			res.Reactions[n].Force = r3.Add(res.Reactions[n].Force, push)
		} else {
			res.Reactions[n].Moment = r3.Add(res.Reactions[n].Moment, push)
		}
	}
}

// Term is a result and how many times it counts.
type Term struct {
	Result *Result
	Times  float64
}

// Sum is what cases do together, each as many times as said: shifts, reactions and
// forces inside add up. All results must be of this frame.
func (r *Ready) Sum(name string, terms ...Term) (*Result, error) {
	f := r.frame
	out := &Result{ready: r, Case: name, Nodes: make([]Motion, len(f.Nodes)), Reactions: make([]Push, len(f.Nodes)), Ends: make([][2]Push, len(f.Members)),
		Springs: make([]Push, len(f.Springs)), lines: make([]r3.Vec, len(f.Members)), ways: make([][12]float64, len(f.Members))}
	for _, t := range terms {
		if t.Result == nil || t.Result.ready != r || !within(geom.LimitLoad, t.Times) {
			return nil, fmt.Errorf("%s: one of the cases to add is not of frame %s", (&Case{Name: name}).name(), f.Name)
		}
		add := func(a *r3.Vec, b r3.Vec) {
			a.X += t.Times * b.X
			a.Y += t.Times * b.Y
			a.Z += t.Times * b.Z
		}
		push := func(a *Push, b Push) { add(&a.Force, b.Force); add(&a.Moment, b.Moment) }
		for i := range out.Nodes {
			add(&out.Nodes[i].Shift, t.Result.Nodes[i].Shift)
			add(&out.Nodes[i].Turn, t.Result.Nodes[i].Turn)
			push(&out.Reactions[i], t.Result.Reactions[i])
		}
		for i := range out.Ends {
			push(&out.Ends[i][0], t.Result.Ends[i][0])
			push(&out.Ends[i][1], t.Result.Ends[i][1])
			add(&out.lines[i], t.Result.lines[i])
			for j, v := range t.Result.ways[i] {
				out.ways[i][j] += t.Times * v
			}
		}
		for i := range out.Springs {
			push(&out.Springs[i], t.Result.Springs[i])
		}
	}
	return out, nil
}
