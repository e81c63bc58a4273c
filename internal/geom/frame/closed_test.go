package frame

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func arm(s Section, l float64) Frame {
	return Frame{Nodes: []Node{{Name: "root", Held: Welded}, {Name: "tip", At: r3.Vec{Y: l}}},
		Members: []Member{{Name: "arm", Ends: [2]int{0, 1}, Section: s, Material: steel}}}
}

// Roark's Formulas for Stress and Strain, beams (from memory), with the shear term of
// Timoshenko: cantilever with an end load and under its own weight; both ends held
// under a load spread evenly; a held end that sinks.
func TestBeams(t *testing.T) {
	const l, p = 300.0, 1000.0
	s := shs()
	s.NoShear = false
	e, g, i := steel.E, steel.G, s.Iy
	f := arm(s, l)
	res := solve(t, f, at(1, r3.Vec{Z: -p}))
	assert.InEpsilon(t, -(p*l*l*l/(3*e*i) + p*l/(g*s.Avz)), res.Nodes[1].Shift.Z, 1e-9)
	assert.InEpsilon(t, p*l*l/(2*e*i), math.Abs(res.Nodes[1].Turn.X), 1e-9)

	w := steel.Density * s.Area * geom.Gravity
	res = solve(t, f, Case{Pull: r3.Vec{Z: -1}})
	assert.InEpsilon(t, -(w*l*l*l*l/(8*e*i) + w*l*l/(2*g*s.Avz)), res.Nodes[1].Shift.Z, 1e-9)
	assert.InEpsilon(t, w*l, res.Reactions[0].Force.Z, 1e-9)

	f.Nodes[1].Held = Welded
	const q = 8.0
	res = solve(t, f, Case{Lines: []LineLoad{{0, r3.Vec{Z: -q}}}})
	assert.InEpsilon(t, q*l*l/12, math.Abs(res.Inside(0, 0).MomentY), 1e-9)
	assert.InEpsilon(t, q*l*l/24, math.Abs(res.Inside(0, l/2).MomentY), 1e-9)
	assert.Negative(t, res.Inside(0, l/2).MomentY*res.Inside(0, 0).MomentY)
	assert.InEpsilon(t, -(q*l*l*l*l/(384*e*i) + q*l*l/(8*g*s.Avz)), res.Shape(0, l/2).Z, 1e-9)
	assert.InEpsilon(t, q*l/2, res.Inside(0, 0).ShearZ*sign(res.Inside(0, 0).ShearZ), 1e-9)

	phi := 12 * e * i / (g * s.Avz * l * l)
	res = solve(t, f, Case{Moved: []Moved{{Node: 1, Shift: r3.Vec{Z: -2}}}})
	assert.InEpsilon(t, 12*e*i*2/(l*l*l*(1+phi)), res.Reactions[0].Force.Z, 1e-9)
	assert.InEpsilon(t, -2, res.Nodes[1].Shift.Z, 1e-12)
	res = solve(t, f, Case{Moved: []Moved{{Node: 1, Turn: r3.Vec{X: 0.01}}}})
	assert.InEpsilon(t, (4+phi)*e*i*0.01/(l*(1+phi)), res.Reactions[1].Moment.X, 1e-9)
	assert.InEpsilon(t, (2-phi)*e*i*0.01/(l*(1+phi)), res.Reactions[0].Moment.X, 1e-9)
}

func sign(v float64) float64 { return math.Copysign(1, v) }

// The worst place of a beam on two pins under an even load is its middle, between
// the stations that are looked at as much as on them.
func TestWorstPlaceUnderALoadAlong(t *testing.T) {
	const l, q = 730.0, 5.0
	f := arm(shs(), l)
	f.Nodes[0].Held = Six{X: true, Y: true, Z: true, TurnY: true}
	f.Members[0].Free[1] = Six{TurnY: true, TurnZ: true}
	c := Case{Lines: []LineLoad{{0, r3.Vec{Z: -q}}}, Nodes: []NodeLoad{{Node: 0, Moment: r3.Vec{X: 3e4}}}}
	f.Nodes[1].Held = Six{X: true, Z: true, TurnX: true, TurnY: true, TurnZ: true}
	res := solve(t, f, c)
	w, err := res.Worst()
	require.NoError(t, err)
	best := 0.0
	for i := range 100001 {
		s, err := res.StressAt(0, l*float64(i)/100000)
		require.NoError(t, err)
		best = max(best, s.Equivalent)
	}
	assert.InEpsilon(t, best, w.Equivalent, 1e-3)

	// Two loads whose moments peak at different places: the worst is at neither.
	for _, sec := range []Section{shs(), tube(50, 3)} {
		f := arm(sec, l)
		f.Nodes[1].Held = Welded
		f.Members[0].Free[1] = Six{TurnZ: true}
		f.Members[0].Free[0] = Six{TurnY: true}
		res := solve(t, f, Case{Lines: []LineLoad{{0, r3.Vec{Z: -q, X: 1.3 * q}}}})
		w, err := res.Worst()
		require.NoError(t, err)
		best, at := 0.0, 0.0
		for i := range 100001 {
			s, err := res.StressAt(0, l*float64(i)/100000)
			require.NoError(t, err)
			if s.Equivalent > best {
				best, at = s.Equivalent, s.At
			}
		}
		assert.InEpsilon(t, best, w.Equivalent, 2e-3, "at %g, not %g", at, w.At)
	}
	assert.InDelta(t, q*l*l/8, math.Abs(res.Inside(0, l/2).MomentY), 3e4)
}

// An equal-legged angle bends aside: the deflection of its tip by the tensor of
// second moments, and the same by its principal axes given through Up.
func TestAngleBendsAside(t *testing.T) {
	const l, p = 400.0, 900.0
	s := Section{Area: 480, Iy: 11.0e4, Iz: 11.0e4, Iyz: -6.5e4, It: 4.5e3, NoShear: true}
	f := arm(s, l)
	res := solve(t, f, at(1, r3.Vec{Z: -p}))
	det := s.Iy*s.Iz - s.Iyz*s.Iyz
	by := p * l * l * l / (3 * steel.E)
	assert.InEpsilon(t, -by*s.Iz/det, res.Nodes[1].Shift.Z, 1e-9)
	// y of the member is vehicle −X: x runs right, z up, y = z × x.
	near(t, r3.Vec{X: -1}, axesOf(f.along(&f.Members[0]), r3.Vec{})[1], 1e-12)
	assert.InEpsilon(t, by*s.Iyz/det, -res.Nodes[1].Shift.X, 1e-9)

	q := s
	q.Iy, q.Iz, q.Iyz = s.Iy+s.Iyz, s.Iy-s.Iyz, 0
	g := arm(q, l)
	for _, z := range []r3.Vec{{X: 1, Z: 1}, {X: -1, Z: 1}} { // one of the diagonals is the right one
		g.Members[0].Up = z
		two := solve(t, g, at(1, r3.Vec{Z: -p}))
		if math.Abs(two.Nodes[1].Shift.X-res.Nodes[1].Shift.X) < 1e-9 {
			near(t, res.Nodes[1].Shift, two.Nodes[1].Shift, 1e-9)
			return
		}
	}
	t.Fatal("neither diagonal")
}

// Stress over a section whose axes are not principal: the fish-plated channel, by
// the polygon's figures; without Ixy the worst corner would be a quarter low.
func TestStressAtCornersOfASkewSection(t *testing.T) {
	c := r2.Vec{X: 16.953125, Y: 41.796875}
	s := Section{Area: 1600, Iy: 2330667.318, Iz: 624729.818, Iyz: -236865.234, It: 37330, Wt: 3000, Avy: 500, Avz: 500, NoShear: true}
	want := map[r2.Vec]float64{{X: 60, Y: 100}: 99.771, {X: 0, Y: 100}: 69.315, {X: 60, Y: -5}: -40.800, {X: 10, Y: -5}: -66.180}
	for corner, v := range want {
		q := s
		q.Corners = []r2.Vec{r2.Sub(corner, c)}
		f := arm(q, 300)
		got, err := solve(t, f, Case{Nodes: []NodeLoad{{Node: 1, Moment: r3.Vec{X: 0, Y: 0, Z: 0}}}}).StressAt(0, 0)
		require.NoError(t, err)
		assert.Zero(t, got.Normal)
		axes := axesOf(f.along(&f.Members[0]), r3.Vec{})
		got, err = solve(t, f, Case{Nodes: []NodeLoad{{Node: 1, Moment: r3.Scale(3e6, axes[1])}}}).StressAt(0, 150)
		require.NoError(t, err)
		assert.InDelta(t, v, got.Normal, 5e-4, "%v", corner)
	}
}

// Iyz couples the other way round too: bending about z alone, by integrating the
// stress over a fine grid of a skew rectangle and asking for the moments back.
func TestStressCarriesItsMoments(t *testing.T) {
	const n, b, h = 60, 40.0, 80.0
	sin, cos := math.Sincos(0.4)
	var places []r2.Vec
	for i := range n {
		for j := range n {
			y, z := b*((float64(i)+.5)/n-.5), h*((float64(j)+.5)/n-.5)
			places = append(places, r2.Vec{X: y*cos - z*sin, Y: y*sin + z*cos})
		}
	}
	s := Section{It: 1e5, Wt: 1e4, Avy: 1000, Avz: 1000, Area: b * h}
	da := b * h / (n * n)
	for _, p := range places {
		s.Iy, s.Iz, s.Iyz = s.Iy+p.Y*p.Y*da, s.Iz+p.X*p.X*da, s.Iyz+p.X*p.Y*da
	}
	m := Member{Section: s}
	in := Internal{Axial: 1000, MomentY: 2e5, MomentZ: -3e5}
	var axial, my, mz float64
	for _, p := range places {
		m.Section.Corners = []r2.Vec{p}
		v := m.stress(0, 0, in).Normal * da
		axial, my, mz = axial+v, my+v*p.Y, mz-v*p.X
	}
	assert.InEpsilon(t, in.Axial, axial, 1e-9)
	assert.InEpsilon(t, in.MomentY, my, 1e-9)
	assert.InEpsilon(t, in.MomentZ, mz, 1e-9)
	// A round section's worst place is where both bendings meet.
	m.Section = tube(40, 3)
	r := m.stress(0, 0, in)
	i := m.Section.Iy
	assert.InEpsilon(t, 1000/m.Section.Area+math.Hypot(2e5, 3e5)*20/i, r.Normal, 1e-12)
	in.Axial = -1000
	assert.InEpsilon(t, -1000/m.Section.Area-math.Hypot(2e5, 3e5)*20/i, m.stress(0, 0, in).Normal, 1e-12)
}

// A load through the centroid of a channel twists it about its shear centre: by P e L
// /(G It), and the centroid goes down by that times e besides.
func TestChannelTwists(t *testing.T) {
	const l, p, e = 300.0, 800.0, 38.0
	s := Section{Area: 1050, Iy: 1658750, Iz: 375401.786, It: 8716, NoShear: true, Shear: r2.Vec{X: -e}}
	f := arm(s, l)
	res := solve(t, f, at(1, r3.Vec{Z: -p}))
	twist := p * e * l / (steel.G * s.It)
	assert.InEpsilon(t, twist, math.Abs(res.Nodes[1].Turn.Y), 1e-9)
	assert.InEpsilon(t, -(p*l*l*l/(3*steel.E*s.Iy) + twist*e), res.Nodes[1].Shift.Z, 1e-9)
	assert.InEpsilon(t, p*e, math.Abs(res.Inside(0, 100).Torsion), 1e-9)
	near(t, res.Nodes[1].Shift, res.Shape(0, l), 1e-9)
	// Through the shear centre it does not twist.
	f.Members[0].Offset[1] = r3.Vec{X: -e}
	f.Members[0].Offset[0] = r3.Vec{X: -e}
	res = solve(t, f, at(1, r3.Vec{Z: -p}))
	assert.InDelta(t, 0, res.Nodes[1].Turn.Y, 1e-12)
	assert.InEpsilon(t, -p*l*l*l/(3*steel.E*s.Iy), res.Nodes[1].Shift.Z, 1e-9)
	// The other way: from behind, along z, by the channel on its back.
	s.Shear = r2.Vec{Y: e}
	f = arm(s, l)
	res = solve(t, f, at(1, r3.Vec{X: p}))
	assert.InEpsilon(t, twist, math.Abs(res.Nodes[1].Turn.Y), 1e-9)
	assert.InEpsilon(t, p*l*l*l/(3*steel.E*s.Iz)+twist*e, res.Nodes[1].Shift.X, 1e-9)
}

// Euler's four columns, and the sway of a portal: Timoshenko and Gere, Theory of
// Elastic Stability, sec. 2.1 and 2.4 (from memory): for equal members and pinned
// feet, kh tan kh = 6 I_beam h/(I_post L).
func TestBuckling(t *testing.T) {
	const l = 900.0
	s := tube(26.9, 2.6)
	s.Iz *= 1.7 // it buckles about y
	euler := math.Pi * math.Pi * steel.E * s.Iy / (l * l)
	column := func(foot, head Six) Buckling {
		f := Frame{Nodes: []Node{{Held: foot}, {At: r3.Vec{Z: l}, Held: head}}, Members: []Member{{Ends: [2]int{0, 1}, Section: s, Material: steel}}}
		b, err := ready(t, f).Buckling(at(1, r3.Vec{Z: -1000}))
		require.NoError(t, err)
		return b
	}
	pin, roller := Six{X: true, Y: true, Z: true, TurnZ: true}, Six{X: true, Y: true}
	guided := Six{X: true, Y: true, TurnX: true, TurnY: true, TurnZ: true}
	for _, c := range []struct {
		foot, head Six
		by, tol    float64
	}{{pin, roller, 1, 1e-3}, {Welded, Six{}, 0.25, 1e-4}, {Welded, roller, 2.0457, 3e-3}, {Welded, guided, 4, 1e-2}} {
		b := column(c.foot, c.head)
		assert.InEpsilon(t, c.by*euler/1000, b.Factor, c.tol)
		assert.GreaterOrEqual(t, b.Factor, c.by*euler/1000*(1-1e-4), "never far below")
		assert.InDelta(t, 1, math.Abs(b.Shift.X), 1e-6, "sideways about its weaker axis y")
	}
	res := solve(t, Frame{Nodes: []Node{{Held: pin}, {At: r3.Vec{Z: l}, Held: roller}}, Members: []Member{{Ends: [2]int{0, 1}, Section: s, Material: steel}}}, at(1, r3.Vec{Z: -1000}))
	st, err := res.Strut(0, 2)
	require.NoError(t, err)
	assert.InEpsilon(t, 1000, st.Pressure, 1e-12)
	assert.InEpsilon(t, euler/4, st.Euler, 1e-12)
	assert.InEpsilon(t, 4000/euler, st.Share, 1e-12)
	_, err = res.Strut(0, 0)
	require.ErrorContains(t, err, "member 1: an effective length of 0")

	f := portal(1e7)
	f.Nodes[0].Held, f.Nodes[4].Held = Six{X: true, Y: true, Z: true, TurnX: true, TurnZ: true}, Six{X: true, Y: true, Z: true, TurnX: true, TurnZ: true}
	b, err := ready(t, f).Buckling(Case{Nodes: []NodeLoad{{Node: 1, Force: r3.Vec{Z: -1000}}, {Node: 3, Force: r3.Vec{Z: -1000}}}})
	require.NoError(t, err)
	lo, hi := 0.1, 1.57
	for range 60 {
		if mid := (lo + hi) / 2; mid*math.Tan(mid) < 6*3e5*300/(2e5*500) {
			lo = mid
		} else {
			hi = mid
		}
	}
	assert.InEpsilon(t, lo*lo/(300*300)*steel.E*2e5/1000, b.Factor, 2e-3)

	// Pulled, nothing buckles; with a hinge at the head it is Euler's second column.
	b, err = ready(t, arm(s, l)).Buckling(at(1, r3.Vec{Y: 1000}))
	require.NoError(t, err)
	assert.True(t, b.Never)
	h := Frame{Nodes: []Node{{Held: Welded}, {At: r3.Vec{Z: l}, Held: guided}}, Members: []Member{{Ends: [2]int{0, 1}, Section: s, Material: steel}}}
	h.Members[0].Free = [2]Six{{TurnY: true, TurnZ: true}, {TurnY: true, TurnZ: true}}
	b, err = ready(t, h).Buckling(at(1, r3.Vec{Z: -1000}))
	require.NoError(t, err)
	assert.InEpsilon(t, euler/1000, b.Factor, 1e-3)
	// A mast under its own weight: q L = 7.837 EI/L² (Timoshenko and Gere, sec. 2.12, from
	// memory), within what four pieces of even force make of it; upside down it hangs.
	for _, q := range []float64{-1, 1} {
		for _, up := range []bool{true, false} { // drawn either way
			m := Frame{Nodes: []Node{{Held: Welded}, {At: r3.Vec{Z: l}}}, Members: []Member{{Ends: [2]int{0, 1}, Section: s, Material: steel}}}
			if !up {
				m.Members[0].Ends = [2]int{1, 0}
			}
			rm := ready(t, m)
			c := Case{Lines: []LineLoad{{0, r3.Vec{Z: q}}}}
			b, err = rm.Buckling(c)
			require.NoError(t, err)
			res, err := rm.Solve(c)
			require.NoError(t, err)
			st, err := res.Strut(0, 1)
			require.NoError(t, err)
			if q > 0 {
				assert.True(t, b.Never)
				assert.Zero(t, st.Pressure)
				continue
			}
			assert.InEpsilon(t, 7.837*steel.E*s.Iy/(l*l*l), b.Factor, 0.03)
			assert.InEpsilon(t, l, st.Pressure, 1e-9)
		}
	}
	// A thin open section twists first: G It A/(Iy+Iz), without warping.
	open := Section{Area: 480, Iy: 11e4, Iz: 11e4, It: 450, NoShear: true}
	tw := Frame{Nodes: []Node{{Held: Welded}, {At: r3.Vec{Z: 300}, Held: Six{X: true, Y: true}}}, Members: []Member{{Ends: [2]int{0, 1}, Section: open, Material: steel}}}
	b, err = ready(t, tw).Buckling(at(1, r3.Vec{Z: -1000}))
	require.NoError(t, err)
	assert.InEpsilon(t, steel.G*450*480/(22e4)/1000, b.Factor, 1e-6)
}

func TestFramesRefused(t *testing.T) {
	nan := math.NaN()
	for want, change := range map[string]func(f *Frame){
		"frame arm: 0 nodes":                                     func(f *Frame) { f.Nodes = nil },
		"node tip: its place is not a number":                    func(f *Frame) { f.Nodes[1].At.X = nan },
		"member arm: it has no length":                           func(f *Frame) { f.Nodes[1].At = r3.Vec{} },
		"member arm: both its ends are at node tip":              func(f *Frame) { f.Members[0].Ends = [2]int{1, 1} },
		"member arm: one of its ends is at no node":              func(f *Frame) { f.Members[0].Ends[1] = 7 },
		"member arm: its section has no area or no":              func(f *Frame) { f.Members[0].Section.Iy = 0 },
		"member arm: its section has no area for shear":          func(f *Frame) { f.Members[0].Section.NoShear, f.Members[0].Section.Avy = false, 0 },
		"member arm: a product of inertia":                       func(f *Frame) { f.Members[0].Section.Iyz = 1e9 },
		"member arm: one of its section's figures":               func(f *Frame) { f.Members[0].Section.Wt = nan },
		"member arm: a corner of its section":                    func(f *Frame) { f.Members[0].Section.Corners = []r2.Vec{{X: nan}} },
		"member arm: moduli of 0":                                func(f *Frame) { f.Members[0].Material.E = 0 },
		"member arm: a density of":                               func(f *Frame) { f.Members[0].Material.Density = nan },
		"member arm: its upward direction":                       func(f *Frame) { f.Members[0].Up.X = math.Inf(1) },
		"node tip: its axes are not square":                      func(f *Frame) { f.Nodes[1].Axes.X = r3.Vec{X: 2} },
		"spring 1: it must join":                                 func(f *Frame) { f.Springs = []Spring{{Ends: [2]int{1, 1}}} },
		"spring 1: a rate of -1":                                 func(f *Frame) { f.Springs = []Spring{{Ends: [2]int{Ground, 1}, Rates: r3.Vec{X: -1}}} },
		"spring 1: its axes are not":                             func(f *Frame) { f.Springs = []Spring{{Ends: [2]int{Ground, 1}, Axes: Axes{X: r3.Vec{X: 1}}}} },
		"node root: nothing holds it":                            func(f *Frame) { f.Nodes[0].Held = Six{} },
		"node tip: nothing holds it against moving fore and aft": func(f *Frame) { f.Nodes[0].Held = Six{X: true, Y: true, Z: true, TurnX: true, TurnY: true} },
	} {
		f := arm(shs(), 300)
		f.Name = "arm"
		change(&f)
		_, err := Prepare(&f)
		require.ErrorContains(t, err, want)
	}
	r := ready(t, arm(shs(), 300))
	for want, c := range map[string]Case{
		"bump: a load stands at no node":      {Nodes: []NodeLoad{{Node: 9}}},
		"bump: the load on node tip is not":   {Nodes: []NodeLoad{{Node: 1, Force: r3.Vec{X: nan}}}},
		"bump: a load lies on no member":      {Lines: []LineLoad{{Member: 3}}},
		"bump: the load on member arm is not": {Lines: []LineLoad{{0, r3.Vec{X: math.Inf(1)}}}},
		"bump: a support that moves":          {Moved: []Moved{{Node: -1}}},
		"bump: how far node tip is moved":     {Moved: []Moved{{Node: 1, Shift: r3.Vec{X: nan}}}},
		"bump: what pulls at the members":     {Pull: r3.Vec{X: nan}},
	} {
		c.Name = "bump"
		_, err := r.Solve(c)
		require.ErrorContains(t, err, want)
	}
	bare := shs()
	bare.Corners = nil
	_, err := solve(t, arm(bare, 300), at(1, r3.Vec{Z: 1})).Worst()
	require.ErrorContains(t, err, "member arm: its section has no corners")
	bare = shs()
	bare.Wt = 0
	_, err = solve(t, arm(bare, 300), at(1, r3.Vec{Z: 1})).StressAt(0, 0)
	require.ErrorContains(t, err, "member arm: its section has no torsion modulus")
	bare = shs()
	bare.Avy = 0
	_, err = solve(t, arm(bare, 300), at(1, r3.Vec{Z: 1})).WorstOf(0)
	require.ErrorContains(t, err, "member arm: its section has no area for shear")
	// A member that slides at both ends cannot carry a load along itself.
	f := arm(shs(), 300)
	f.Nodes[1].Held = Welded
	f.Members[0].Free = [2]Six{{X: true}, {X: true}}
	_, err = ready(t, f).Solve(Case{Name: "braking", Lines: []LineLoad{{0, r3.Vec{Y: 2}}}})
	require.ErrorContains(t, err, "braking: member arm: both its ends are free")
	_, err = ready(t, f).Solve(Case{Name: "braking", Lines: []LineLoad{{0, r3.Vec{Z: 2}}}})
	require.NoError(t, err)
}

// Wild numbers give an error or real numbers, and never a frame that balances by luck.
func TestNothingButNumbers(t *testing.T) {
	wild := []float64{0, 1, -1, 1e-300, 1e-9, 1e6, 1e12, -1e300, math.NaN(), math.Inf(1)}
	rapid.Check(t, func(rt *rapid.T) {
		d := drawer{rt}
		f := d.frame()
		pick := func() float64 { return rapid.SampledFrom(wild).Draw(rt, "wild") }
		m := &f.Members[0]
		for range 2 {
			p := rapid.SampledFrom([]*float64{&m.Section.Area, &m.Section.Iy, &m.Section.It, &m.Section.Iyz, &m.Section.Avz, &m.Section.Shear.X,
				&m.Material.E, &m.Material.Density, &m.Up.X, &m.Offset[0].Y, &f.Nodes[1].At.Z, &f.Nodes[2].Axes.X.X}).Draw(rt, "place")
			*p = pick()
		}
		r, err := Prepare(&f)
		if err != nil {
			return
		}
		c := d.load(&f)
		c.Nodes[0].Force.X = pick()
		res, err := r.Solve(c)
		if err != nil {
			return
		}
		for i := range res.Nodes {
			assert.True(rt, finite(res.Nodes[i].Shift, res.Nodes[i].Turn, res.Reactions[i].Force, res.Reactions[i].Moment))
		}
		for i := range res.Ends {
			assert.True(rt, finite(res.Ends[i][0].Force, res.Ends[i][1].Moment, res.Shape(i, 50)))
		}
		if b, err := r.Buckling(c); err == nil {
			assert.True(rt, finite(b.Shift) && b.Factor >= 0)
		}
	})
}

// A support that is moved and a load at once are the two one after the other; a shift
// along what a node is not held against is not read.
func TestMovedSupportsAddUp(t *testing.T) {
	f := arm(shs(), 300)
	f.Nodes[1].Held = Six{Z: true, TurnY: true}
	r := ready(t, f)
	one := Case{Lines: []LineLoad{{0, r3.Vec{X: 2, Z: -5}}}}
	two := Case{Moved: []Moved{{Node: 1, Shift: r3.Vec{X: 9, Z: -1}, Turn: r3.Vec{X: 0.3, Y: 0.01}}}}
	both := Case{Lines: one.Lines, Moved: two.Moved}
	var res [3]*Result
	for i, c := range []Case{one, two, both} {
		var err error
		res[i], err = r.Solve(c)
		require.NoError(t, err)
	}
	sum, err := r.Sum("", Term{res[0], 1}, Term{res[1], 1})
	require.NoError(t, err)
	near(t, sum.Nodes[1].Shift, res[2].Nodes[1].Shift, 1e-9)
	near(t, sum.Nodes[1].Turn, res[2].Nodes[1].Turn, 1e-9)
	near(t, sum.Reactions[0].Moment, res[2].Reactions[0].Moment, 1e-9)
	assert.InEpsilon(t, -1, res[1].Nodes[1].Shift.Z, 1e-12)
	assert.InEpsilon(t, 0.01, res[1].Nodes[1].Turn.Y, 1e-12)
	assert.Zero(t, res[1].Nodes[1].Shift.X)
	// Propped by a support that sinks by 1 mm: 3EI/L³, and the twist GIt/L besides.
	assert.InEpsilon(t, 3*steel.E*shs().Iy/(300*300*300), res[1].Reactions[0].Force.Z, 1e-9)
	assert.InEpsilon(t, steel.G*shs().It/300*0.01, res[1].Reactions[1].Moment.Y, 1e-9)
}
