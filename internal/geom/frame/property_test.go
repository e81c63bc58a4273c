package frame

import (
	"fmt"
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

type drawer struct{ *rapid.T }

func (d drawer) f(lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(d.T, "f") }

func (d drawer) v(size float64) r3.Vec {
	return r3.Vec{X: d.f(-size, size), Y: d.f(-size, size), Z: d.f(-size, size)}
}

func (d drawer) yes() bool { return rapid.Bool().Draw(d.T, "yes") }

func (d drawer) section() Section {
	s := Section{Area: d.f(200, 1500), Iy: d.f(2e4, 5e5), Iz: d.f(2e4, 5e5), It: d.f(1e3, 5e5), Avy: d.f(50, 700), Avz: d.f(50, 700), Wt: 9e3}
	if d.yes() {
		s.Iyz = d.f(-0.9, 0.9) * math.Sqrt(s.Iy*s.Iz)
		s.Shear = r2.Vec{X: d.f(-20, 20), Y: d.f(-20, 20)}
	}
	for _, c := range [4]r2.Vec{{X: 1, Y: 1}, {X: -1, Y: 1}, {X: 1, Y: -1}, {X: -1, Y: -1}} {
		s.Corners = append(s.Corners, r2.Scale(25, c))
	}
	return s
}

// axes returns axes turned at random.
func (d drawer) axes() Axes {
	q := r3.NewRotation(d.f(-3, 3), r3.Unit(r3.Add(d.v(1), r3.Vec{Z: 1.8})))
	return Axes{q.Rotate(r3.Vec{X: 1}), q.Rotate(r3.Vec{Y: 1}), q.Rotate(r3.Vec{Z: 1})}
}

// frame draws a frame of 4 to 12 members that stands: nodes scattered, each joined
// to one before it, then braces, two of them held.
func (d drawer) frame() Frame {
	n := rapid.IntRange(4, 8).Draw(d.T, "nodes")
	var f Frame
	for i := range n {
		f.Nodes = append(f.Nodes, Node{Name: fmt.Sprint("n", i), At: r3.Vec{X: 150 * float64(i%2), Y: 170 * float64(i/2), Z: 140 * float64((i/3)%2)}})
		f.Nodes[i].At = r3.Add(f.Nodes[i].At, d.v(30))
	}
	f.Nodes[0].Held = Welded
	f.Nodes[n-1].Held = Six{X: d.yes(), Y: d.yes(), Z: d.yes(), TurnX: d.yes()}
	if d.yes() {
		f.Nodes[n-1].Axes = d.axes()
	}
	add := func(a, b int) {
		m := Member{Name: fmt.Sprint("m", len(f.Members)), Ends: [2]int{a, b}, Section: d.section(), Material: steel, Up: d.v(1)}
		if d.yes() {
			m.Offset = [2]r3.Vec{d.v(15), d.v(15)}
		}
		f.Members = append(f.Members, m)
	}
	for i := 1; i < n; i++ {
		add(i-1, i)
	}
	for range rapid.IntRange(0, 4).Draw(d.T, "braces") {
		a := rapid.IntRange(0, n-3).Draw(d.T, "a")
		add(a, rapid.IntRange(a+2, n-1).Draw(d.T, "b"))
		m := &f.Members[len(f.Members)-1]
		if d.yes() {
			m.Free[1] = Hinge
		}
		if d.yes() {
			m.Free[0] = Six{TurnY: true, TurnZ: true}
		}
	}
	if d.yes() {
		f.Springs = append(f.Springs, Spring{Ends: [2]int{Ground, 1}, Axes: d.axes(), Rates: r3.Vec{X: 300, Y: 900, Z: 2000}, Turning: r3.Vec{X: 1e6}},
			Spring{Ends: [2]int{1, n - 2}, Rates: r3.Vec{X: 500, Y: 100, Z: 50}})
	}
	return f
}

func (d drawer) load(f *Frame) Case {
	c := Case{Name: "drawn"}
	for range 3 {
		c.Nodes = append(c.Nodes, NodeLoad{rapid.IntRange(0, len(f.Nodes)-1).Draw(d.T, "at"), d.v(5000), d.v(3e5)})
	}
	for range 2 {
		c.Lines = append(c.Lines, LineLoad{rapid.IntRange(0, len(f.Members)-1).Draw(d.T, "on"), d.v(5)})
	}
	c.Pull = d.v(2)
	return c
}

// work is what a case's loads do as another result moves their points, N·mm.
func work(f *Frame, c Case, lines []r3.Vec, res *Result) float64 {
	sum := 0.0
	for _, l := range c.Nodes {
		sum += r3.Dot(l.Force, res.Nodes[l.Node].Shift) + r3.Dot(l.Moment, res.Nodes[l.Node].Turn)
	}
	for i, w := range lines { // Gauss: shapes are of fourth degree at most
		m := &f.Members[i]
		axes := axesOf(f.along(m), m.Up)
		force := r3.Add(r3.Add(r3.Scale(w.X, axes[0]), r3.Scale(w.Y, axes[1])), r3.Scale(w.Z, axes[2]))
		l := res.Length(i)
		for k, at := range [3]float64{(1 - math.Sqrt(.6)) / 2, .5, (1 + math.Sqrt(.6)) / 2} {
			sum += [3]float64{5. / 18, 8. / 18, 5. / 18}[k] * l * r3.Dot(force, res.Shape(i, at*l))
		}
	}
	return sum
}

// vehicle is a vector along a spring's own axes in vehicle axes.
func (s *Spring) vehicle(v r3.Vec) r3.Vec {
	own, _ := s.Axes.filled()
	return r3.Add(r3.Add(r3.Scale(v.X, own.X), r3.Scale(v.Y, own.Y)), r3.Scale(v.Z, own.Z))
}

// Balance of the whole and of each node, energy and reciprocity (Maxwell and Betti) of random frames.
func TestRandomFramesBalance(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawer{rt}
		f := d.frame()
		a, b := d.load(&f), d.load(&f)
		ra, rb := solve(t, f, a), solve(t, f, b)

		var force, moment r3.Vec
		size := 0.0
		add := func(at, f, m r3.Vec) {
			force, moment = r3.Add(force, f), r3.Add(r3.Add(moment, m), r3.Cross(at, f))
			size += r3.Norm(f) + r3.Norm(m)/1000
		}
		for _, l := range a.Nodes {
			add(f.Nodes[l.Node].At, l.Force, l.Moment)
		}
		for i := range f.Nodes {
			add(f.Nodes[i].At, ra.Reactions[i].Force, ra.Reactions[i].Moment)
		}
		for i := range f.Members {
			m := &f.Members[i]
			w := r3.Scale(m.Material.Density*m.Section.Area*geom.Gravity, a.Pull)
			for _, l := range a.Lines {
				if l.Member == i {
					w = r3.Add(w, l.Force)
				}
			}
			along := f.along(m)
			mid := r3.Add(r3.Add(f.Nodes[m.Ends[0]].At, m.Offset[0]), r3.Scale(.5, along))
			add(mid, r3.Scale(r3.Norm(along), w), r3.Vec{})
		}
		for i := range f.Springs {
			s := &f.Springs[i]
			if s.Ends[0] == Ground {
				g := ra.Springs[i]
				add(f.Nodes[s.Ends[1]].At, s.vehicle(g.Force), s.vehicle(g.Moment))
			}
		}
		// A node that nothing holds: what its members and springs and its load do adds up to nothing.
		for n := range f.Nodes {
			if f.Nodes[n].Held != (Six{}) {
				continue
			}
			var push, turn r3.Vec
			for i := range f.Members {
				for end, on := range f.Members[i].Ends {
					if on == n {
						p, q := ra.AtEnd(i, end)
						push = r3.Sub(push, q.Force)
						turn = r3.Sub(turn, r3.Add(q.Moment, r3.Cross(r3.Sub(p, f.Nodes[n].At), q.Force)))
					}
				}
			}
			for _, l := range a.Nodes {
				if l.Node == n {
					push, turn = r3.Add(push, l.Force), r3.Add(turn, l.Moment)
				}
			}
			for i := range f.Springs { // both act at the second node's place
				s := &f.Springs[i]
				p := Push{s.vehicle(ra.Springs[i].Force), s.vehicle(ra.Springs[i].Moment)}
				switch n {
				case s.Ends[1]:
					push, turn = r3.Add(push, p.Force), r3.Add(turn, p.Moment)
				case s.Ends[0]:
					arm := r3.Sub(f.Nodes[s.Ends[1]].At, f.Nodes[n].At)
					push, turn = r3.Sub(push, p.Force), r3.Sub(turn, r3.Add(p.Moment, r3.Cross(arm, p.Force)))
				}
			}
			assert.LessOrEqual(rt, r3.Norm(push), 1e-9*size)
			assert.LessOrEqual(rt, r3.Norm(turn), 1e-9*size*1000)
		}
		assert.LessOrEqual(rt, r3.Norm(force), 1e-9*size)
		assert.LessOrEqual(rt, r3.Norm(moment), 1e-9*size*1000)

		assert.InEpsilon(rt, work(&f, a, ra.lines, ra)/2, ra.Energy(), 1e-9)
		sum, err := ra.ready.Sum("both", Term{ra, 2}, Term{ra, -0.5})
		require.NoError(rt, err)
		assert.InEpsilon(rt, 2.25*ra.Energy(), sum.Energy(), 1e-9)
		assert.InEpsilon(rt, 2.25*ra.Energy(), work(&f, a, ra.lines, sum)*1.5/2, 1e-9)
		_, err = ra.ready.Sum("both", Term{rb, 1})
		require.ErrorContains(rt, err, "both: one of the cases")
		one, two := work(&f, a, ra.lines, rb), work(&f, b, rb.lines, ra)
		assert.InDelta(rt, one, two, 1e-9*(ra.Energy()+rb.Energy()))
	})
}

// Members cut in pieces give the same frame: at the nodes, at the cuts and inside.
func TestCutMembersAreTheSame(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawer{rt}
		f := d.frame()
		c := d.load(&f)
		res := solve(t, f, c)
		fine := Frame{Nodes: append([]Node(nil), f.Nodes...), Springs: f.Springs}
		fc := Case{Nodes: c.Nodes, Pull: c.Pull}
		for i, m := range f.Members {
			at := rapid.Float64Range(.2, .8).Draw(rt, "cut")
			axes := axesOf(f.along(&m), m.Up)
			p, q := m, m
			p.Up, q.Up = axes[2], axes[2]
			fine.Nodes = append(fine.Nodes, Node{At: r3.Add(r3.Add(f.Nodes[m.Ends[0]].At, m.Offset[0]), r3.Scale(at, f.along(&m)))})
			last := len(fine.Nodes) - 1
			p.Ends[1], p.Free[1], p.Offset[1] = last, Six{}, r3.Vec{}
			q.Ends[0], q.Free[0], q.Offset[0] = last, Six{}, r3.Vec{}
			fine.Members = append(fine.Members, p, q)
			for _, l := range c.Lines {
				if l.Member == i {
					fc.Lines = append(fc.Lines, LineLoad{len(fine.Members) - 2, l.Force}, LineLoad{len(fine.Members) - 1, l.Force})
				}
			}
		}
		cut := solve(t, fine, fc)
		size := 0.0
		for i := range f.Nodes {
			size = max(size, r3.Norm(res.Nodes[i].Shift))
		}
		for i := range f.Nodes {
			assert.LessOrEqual(rt, r3.Norm(r3.Sub(res.Nodes[i].Shift, cut.Nodes[i].Shift)), 1e-8*size)
			assert.LessOrEqual(rt, r3.Norm(r3.Sub(res.Nodes[i].Turn, cut.Nodes[i].Turn)), 1e-8*size)
		}
		for i := range f.Members {
			l := cut.Length(2 * i)
			assert.LessOrEqual(rt, r3.Norm(r3.Sub(res.Shape(i, l), cut.Nodes[len(f.Nodes)+i].Shift)), 1e-8*size)
			a, b := res.Inside(i, l), cut.Inside(2*i+1, 0)
			for _, v := range [][2]float64{{a.Axial, b.Axial}, {a.ShearY, b.ShearY}, {a.ShearZ, b.ShearZ}, {a.Torsion / 100, b.Torsion / 100}, {a.MomentY / 100, b.MomentY / 100}, {a.MomentZ / 100, b.MomentZ / 100}} {
				assert.InDelta(rt, v[0], v[1], 1e-4)
			}
		}
	})
}

// A chain of welded members from one held end carries its load by statics alone: the
// tip's shift by virtual work, ∫(N n/EA + M·m/EI + T t/GI + V v/GA), forces inside
// found by hand from what lies outside each cut.
func TestChainByVirtualWork(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawer{rt}
		var f Frame
		n := rapid.IntRange(2, 6).Draw(rt, "nodes")
		for i := range n {
			f.Nodes = append(f.Nodes, Node{At: r3.Add(r3.Vec{Y: 100 * float64(i)}, d.v(40))})
			if i > 0 {
				s := d.section()
				s.Iyz, s.Shear = 0, r2.Vec{}
				f.Members = append(f.Members, Member{Ends: [2]int{i - 1, i}, Section: s, Material: steel, Up: d.v(1)})
			}
		}
		f.Nodes[0].Held = Welded
		force, along := d.v(4000), r3.Unit(d.v(1))
		res := solve(t, f, at(n-1, force))
		tip, want := f.Nodes[n-1].At, 0.0
		for i := range f.Members {
			m := &f.Members[i]
			a, run := f.Nodes[i].At, f.along(m)
			axes, l, s := axesOf(run, m.Up), r3.Norm(run), &m.Section
			at := func(x float64, f r3.Vec) (v, mo [3]float64) {
				moment := r3.Cross(r3.Sub(tip, r3.Add(a, r3.Scale(x/l, run))), f)
				for k, e := range axes {
					v[k], mo[k] = r3.Dot(e, f), r3.Dot(e, moment)
				}
				return v, mo
			}
			g := func(x float64) float64 {
				v, mo := at(x, force)
				u, mu := at(x, along)
				return v[0]*u[0]/(steel.E*s.Area) + v[1]*u[1]/(steel.G*s.Avy) + v[2]*u[2]/(steel.G*s.Avz) +
					mo[0]*mu[0]/(steel.G*s.It) + mo[1]*mu[1]/(steel.E*s.Iy) + mo[2]*mu[2]/(steel.E*s.Iz)
			}
			want += l / 6 * (g(0) + 4*g(l/2) + g(l)) // Simpson is exact for second degree
		}
		assert.InDelta(rt, want, r3.Dot(along, res.Nodes[n-1].Shift), 1e-9*r3.Norm(res.Nodes[n-1].Shift))
	})
}

// The size of numbers does not matter, nor does the order of nodes.
func TestMirroredAndTurnedFrames(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawer{rt}
		f := d.frame()
		c := d.load(&f)
		res := solve(t, f, c)
		flip := func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} }
		spin := func(v r3.Vec) r3.Vec { return r3.Vec{X: -v.X, Y: v.Y, Z: -v.Z} } // of an axial vector
		g := Frame{Nodes: append([]Node(nil), f.Nodes...), Members: append([]Member(nil), f.Members...), Springs: append([]Spring(nil), f.Springs...)}
		for i := range g.Nodes {
			n := &g.Nodes[i]
			n.At = flip(n.At)
			if n.Axes != (Axes{}) { // the mirrored axes, the middle one turned round to keep them right-handed
				n.Axes = Axes{flip(n.Axes.X), r3.Scale(-1, flip(n.Axes.Y)), flip(n.Axes.Z)}
			}
		}
		for i := range g.Members {
			m := &g.Members[i]
			m.Up, m.Offset = flip(axesOf(f.along(m), m.Up)[2]), [2]r3.Vec{flip(m.Offset[0]), flip(m.Offset[1])}
			// y points the other way in the mirror.
			m.Section.Iyz, m.Section.Shear.X = -m.Section.Iyz, -m.Section.Shear.X
		}
		for i := range g.Springs {
			s := &g.Springs[i]
			a, _ := s.Axes.filled()
			s.Axes = Axes{flip(a.X), r3.Scale(-1, flip(a.Y)), flip(a.Z)}
		}
		mc := Case{Pull: flip(c.Pull)}
		for _, l := range c.Nodes {
			mc.Nodes = append(mc.Nodes, NodeLoad{l.Node, flip(l.Force), spin(l.Moment)})
		}
		for _, l := range c.Lines {
			mc.Lines = append(mc.Lines, LineLoad{l.Member, flip(l.Force)})
		}
		mirrored := solve(t, g, mc)
		for i := range f.Nodes {
			require.LessOrEqual(rt, r3.Norm(r3.Sub(flip(res.Nodes[i].Shift), mirrored.Nodes[i].Shift)), 1e-8*(1+r3.Norm(res.Nodes[i].Shift)))
		}
		a, err := res.Worst()
		require.NoError(rt, err)
		b, err := mirrored.Worst()
		require.NoError(rt, err)
		assert.InEpsilon(rt, a.Equivalent, b.Equivalent, 1e-7)
	})
}

// A strut between two balls, whichever way it lies, is a spring along its line: it may
// spin and is not refused, and it carries nothing but push and pull.
func TestStrutOnTwoBallsIsASpring(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawer{rt}
		foot := r3.Add(d.v(150), r3.Vec{X: 30, Y: 60, Z: -200})
		f := Frame{Nodes: []Node{{Held: Welded}, {At: r3.Vec{Y: 200}}, {At: r3.Vec{Y: 260}}, {Name: "foot", At: foot, Held: Ball}},
			Members: []Member{{Ends: [2]int{0, 1}, Section: d.section(), Material: steel}, {Ends: [2]int{1, 2}, Section: d.section(), Material: steel}}}
		g := f
		g.Nodes = append([]Node(nil), f.Nodes...)
		s := d.section()
		s.Iyz, s.Shear = 0, r2.Vec{}
		strut := Member{Name: "strut", Ends: [2]int{3, 1}, Section: s, Material: steel, Free: [2]Six{{}, Hinge}}
		switch rapid.IntRange(0, 2).Draw(rt, "way") {
		case 1:
			strut.Ends = [2]int{1, 3}
			strut.Free = [2]Six{Hinge, {}}
		case 2: // the foot held, the strut free at both ends
			f.Nodes[3].Held = Welded
			strut.Free = [2]Six{Hinge, Hinge}
		}
		f.Members = append(f.Members, strut)
		c := at(2, d.v(3000))
		res := solve(t, f, c)
		l := r3.Norm(r3.Sub(f.Nodes[1].At, foot))
		u := r3.Unit(r3.Sub(f.Nodes[1].At, foot))
		v := r3.Unit(r3.Cross(u, r3.Vec{X: 1}))
		g.Nodes[3].Held = Welded
		g.Springs = []Spring{{Ends: [2]int{Ground, 1}, Axes: Axes{u, v, r3.Cross(u, v)}, Rates: r3.Vec{X: steel.E * s.Area / l}}}
		two := solve(t, g, c)
		size := r3.Norm(two.Nodes[2].Shift)
		assert.LessOrEqual(rt, r3.Norm(r3.Sub(res.Nodes[2].Shift, two.Nodes[2].Shift)), 1e-8*size)
		in := res.Inside(2, l/3)
		assert.InDelta(rt, math.Abs(two.Springs[0].Force.X), math.Abs(in.Axial), 1e-7*(1+math.Abs(in.Axial)))
		for _, z := range []float64{in.ShearY, in.ShearZ, in.Torsion / 100, in.MomentY / 100, in.MomentZ / 100} {
			assert.InDelta(rt, 0, z, 1e-6)
		}
	})
}

// Cutting all members into more pieces changes little of when a frame buckles.
func TestBucklingOfFinerFrames(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		if rapid.IntRange(0, 3).Draw(rt, "few") > 0 {
			return // a quarter of the draws will do
		}
		d := drawer{rt}
		f := d.frame()
		for i := range f.Members {
			f.Members[i].Section.Shear = r2.Vec{}
		}
		c := Case{Nodes: d.load(&f).Nodes}
		b, err := ready(t, f).Buckling(c)
		require.NoError(rt, err)
		fine := Frame{Nodes: append([]Node(nil), f.Nodes...), Springs: f.Springs}
		for _, m := range f.Members {
			up := axesOf(f.along(&m), m.Up)[2]
			start, along := r3.Add(f.Nodes[m.Ends[0]].At, m.Offset[0]), f.along(&m)
			const n = 6
			for k := range n {
				p := m
				p.Up = up
				if k > 0 {
					p.Ends[0], p.Free[0], p.Offset[0] = len(fine.Nodes)-1, Six{}, r3.Vec{}
				}
				if k < n-1 {
					fine.Nodes = append(fine.Nodes, Node{At: r3.Add(start, r3.Scale(float64(k+1)/n, along))})
					p.Ends[1], p.Free[1], p.Offset[1] = len(fine.Nodes)-1, Six{}, r3.Vec{}
				}
				fine.Members = append(fine.Members, p)
			}
		}
		rf := ready(t, fine)
		res, err := rf.Solve(c)
		require.NoError(rt, err)
		axial := make([]float64, len(fine.Members))
		for i := range axial {
			axial[i] = res.Inside(i, 0).Axial
		}
		value, _, err := rf.lowest(rf.geometric(axial))
		require.NoError(rt, err)
		if b.Never {
			assert.Less(rt, value, 1e-6, "what is left is rounding")
			return
		}
		if b.Factor < 1e6 {
			assert.InEpsilon(rt, 1/value, b.Factor, 0.08)
		}
	})
}
