package fold

import (
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/frame"
	"fitup/internal/geom/section"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func folded(t require.TestingT, p Plate) *Folded {
	f, err := p.Fold()
	require.NoError(t, err)
	return f
}

// A channel of FAA-H-8083-31, chapter 4: sheet of 0.040 in, radius 0.16 in, outside sizes
// of 1, 2 and 1 in: setback 0.2, flats 0.8, 1.6 and 0.8 in; by its empirical formula
// (0.01743 R + 0.0078 T) N the allowance is 0.279072 in and the flat width 3.758144 in. And R 5, T 3, K 0.44 square:
// allowance 9.927433, deduction 6.072567 mm.
func TestPublishedBends(t *testing.T) {
	const in = geom.Inch
	mid := 0.040 / 2
	k := (0.279072/(math.Pi/2) - 0.16) / 0.040 // that its allowance comes to
	f := folded(t, Plate{Name: "channel", Width: 100, Thickness: 0.040 * in, Radius: 0.16 * in, K: k, Pose: geom.Identity(),
		Line: []r2.Vec{{X: 0, Y: 0}, {X: (1 - mid) * in}, {X: (1 - mid) * in, Y: (2 - 2*mid) * in}, {Y: (2 - 2*mid) * in}}})
	for i, want := range []float64{0.8, 1.6, 0.8} {
		assert.InDelta(t, want, f.Flats[i].Length()/in, 1e-9)
	}
	assert.InDelta(t, 2, f.Flats[1].Outside/in, 1e-9)
	assert.InDelta(t, 0.2, f.Bends[0].Setback/in, 1e-9)
	assert.InDelta(t, 3.758144, f.Length/in, 1e-6)
	f = folded(t, Plate{Name: "angle", Width: 50, Thickness: 3, Radius: 5, K: 0.44, Pose: geom.Identity(), Line: []r2.Vec{{}, {X: 40}, {X: 40, Y: -30}}})
	assert.InDelta(t, 9.927433, f.Bends[0].To-f.Bends[0].From, 1e-6)
	assert.InDelta(t, 6.072567, f.Bends[0].Deduction, 1e-6)
	assert.False(t, f.Bends[0].Up)
}

func drawPlate(t *rapid.T) Plate {
	size := rapid.Float64Range(90, 200)
	p := Plate{Name: "drawn", Width: rapid.Float64Range(40, 150).Draw(t, "width"), Thickness: rapid.Float64Range(3, 12).Draw(t, "thickness"), K: rapid.Float64Range(0.33, 0.5).Draw(t, "k"),
		Pose: geom.Orient(geom.Angle(rapid.Float64Range(-1, 1).Draw(t, "slope")), geom.Angle(rapid.Float64Range(-3, 3).Draw(t, "heading")), geom.Angle(rapid.Float64Range(-1, 1).Draw(t, "roll")), r3.Vec{X: 100, Y: -300, Z: 40})}
	p.Radius = p.Thickness * rapid.Float64Range(0.6, 2).Draw(t, "radius")
	way, at := 0.3, r2.Vec{X: 5, Y: 7}
	p.Line = []r2.Vec{at}
	for i := range rapid.IntRange(1, 4).Draw(t, "flats") {
		if i > 0 {
			turn := rapid.Float64Range(0.1, 1.7).Draw(t, "turn")
			if rapid.Bool().Draw(t, "down") {
				turn = -turn
			}
			way += turn
		}
		s := size.Draw(t, "size")
		at = r2.Add(at, r2.Vec{X: s * math.Cos(way), Y: s * math.Sin(way)})
		p.Line = append(p.Line, at)
	}
	return p
}

// What is laid flat folds up to where it was: each flat walked along by its length, each
// bend rolled round its radius, by arithmetic of its own.
func TestFlatFoldsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlate(t)
		f := folded(t, p)
		x, y := p.Line[0].X, p.Line[0].Y
		way := math.Atan2(p.Line[1].Y-y, p.Line[1].X-x)
		walk := func(d float64) { x, y = x+d*math.Cos(way), y+d*math.Sin(way) }
		for i := range f.Flats {
			walk(f.Flats[i].To - f.Flats[i].From)
			if i == len(f.Bends) {
				break
			}
			b := &f.Bends[i]
			neutral := p.Radius + p.K*p.Thickness
			turn := (b.To - b.From) / neutral // the neutral line keeps its length
			assert.InDelta(t, math.Pi-b.Between, turn, 1e-9)
			assert.InDelta(t, (b.From+b.To)/2, b.Middle, 1e-9)
			chord := 2 * (p.Radius + p.Thickness/2) * math.Sin(turn/2)
			if !b.Up {
				turn = -turn
			}
			way += turn / 2
			walk(chord)
			way += turn / 2
		}
		last := p.Line[len(p.Line)-1]
		assert.InDelta(t, last.X, x, 1e-7)
		assert.InDelta(t, last.Y, y, 1e-7)
		// Pieces go on into each other, and the solid is as heavy as the middle is long.
		pieces := f.Pieces(5)
		for i := 1; i < len(pieces); i++ {
			for k, q := range pieces[i].A {
				assert.InDelta(t, 0, r3.Norm(r3.Sub(q, pieces[i-1].B[k])), 1e-7)
			}
		}
	})
}

// A hole lies on the blank as far along its flat as it does in the folded plate.
func TestHoles(t *testing.T) {
	p := Plate{Name: "angle", Width: 80, Thickness: 8, Radius: 8, K: 0.4, Pose: geom.Identity(), Line: []r2.Vec{{}, {X: 70}, {X: 70, Y: 60}},
		Holes: []Hole{{0, 25, 20, 13}, {1, 35, -10, 11}}}
	f := folded(t, p)
	assert.Equal(t, r2.Vec{X: 20, Y: 25 - f.Length/2}, f.Blank.Holes[0].At)
	assert.InDelta(t, f.Length/2-25, f.Blank.Holes[1].At.Y, 1e-9) // 60-35 from the other end
	on := f.At(1, 35-12, -10, 0)                                  // the bend takes 12 of the middle line
	assert.InDelta(t, 35, on.Y, 1e-9)
	assert.InDelta(t, -10, on.Z, 1e-9)
	for name, h := range map[string]Hole{"in the bend": {0, 55, 0, 13}, "off the end": {0, 5, 0, 13}, "no flat": {2, 5, 0, 5}, "off the side": {0, 25, 38, 13}} {
		bad := p
		bad.Holes = []Hole{h}
		_, err := bad.Fold()
		assert.Error(t, err, name)
	}
}

func TestPractices(t *testing.T) {
	p := Plate{Name: "angle", Width: 80, Thickness: 8, Radius: 8, K: 0.4, Pose: geom.Identity(), Line: []r2.Vec{{}, {X: 70}, {X: 70, Y: 60}}, Holes: []Hole{{0, 25, 20, 13}}}
	of := map[string]Practice{}
	for _, r := range folded(t, p).Practices() {
		of[r.Of] = r
	}
	assert.Equal(t, Practice{"inside radius of its bends", 8, 8}, of["inside radius of its bends"])
	hole := of["metal between the holes at its foot and the bend"]
	assert.InDelta(t, 70-12-25-6.5, hole.Has, 1e-9)
	assert.Equal(t, 16.0, hole.Want)
	flat := of["outside size of the flat at its pad"]
	assert.InDelta(t, 64, flat.Has, 1e-9)
	assert.Equal(t, 40.0, flat.Want)
	assert.Nil(t, folded(t, Plate{Name: "tab", Width: 80, Thickness: 8, Pose: geom.Identity(), Line: []r2.Vec{{}, {X: 70}}}).Practices())
}

// A plate that is none is refused with what is wrong.
func TestNoPlate(t *testing.T) {
	good := Plate{Name: "left", Width: 80, Thickness: 8, Radius: 8, K: 0.4, Pose: geom.Identity(), Line: []r2.Vec{{}, {X: 70}, {X: 70, Y: 60}}}
	for name, c := range map[string]struct {
		spoil func(*Plate)
		says  string
	}{
		"no flats":      {func(p *Plate) { p.Line = p.Line[:1] }, "no flats"},
		"no width":      {func(p *Plate) { p.Width = 0 }, "no plate"},
		"knife edge":    {func(p *Plate) { p.Radius = 0 }, "knife edge"},
		"no length":     {func(p *Plate) { p.Line[1] = p.Line[0] }, "flat 1 has no length"},
		"straight on":   {func(p *Plate) { p.Line[2] = r2.Vec{X: 140} }, "turns through nothing"},
		"too short":     {func(p *Plate) { p.Line[2] = r2.Vec{X: 70, Y: 10} }, "shorter than"},
		"not a number":  {func(p *Plate) { p.Line[2].X = math.NaN() }, "not usable"},
		"back on it":    {func(p *Plate) { p.Line[2] = r2.Vec{X: 0, Y: 1} }, "turns through"},
		"no K of steel": {func(p *Plate) { p.K = 2 }, "K factor"},
	} {
		p := good
		p.Line = append([]r2.Vec{}, good.Line...)
		c.spoil(&p)
		_, err := p.Fold()
		require.Error(t, err, name)
		assert.Contains(t, err.Error(), c.says, name)
	}
}

// Winkler and Bach by their own integral: the stress of a plane section that turns, 1/r,
// with no force along; Shigley's table of curved beams has 1.288 for a rectangle whose
// centre line is at 1.5 thicknesses (from memory), and it goes to 1 where it is straight.
func TestCurvedFactor(t *testing.T) {
	for _, c := range [][2]float64{{10, 10}, {5, 10}, {20, 8}, {200, 8}} {
		r, h := c[0], c[1]
		const n = 4000
		sum := func(f func(x float64) float64) (s float64) {
			for i := range n {
				s += f(r+(float64(i)+0.5)*h/n) * h / n
			}
			return s
		}
		// σ = a (1 - b/r): ∫σ dr = 0 gives b, ∫σ r dr = M gives a of a moment of 1.
		b := h / sum(func(x float64) float64 { return 1 / x })
		a := 1 / sum(func(x float64) float64 { return x - b })
		assert.InEpsilon(t, math.Abs(a*(1-b/r))/(6/(h*h)), CurvedFactor(r, h), 1e-5)
	}
	assert.InDelta(t, 1.288, CurvedFactor(10, 10), 1e-3)
	assert.InDelta(t, 1, CurvedFactor(1e6, 10), 1e-4)
	assert.True(t, math.IsInf(CurvedFactor(0, 10), 1))
}

// A straight strip is the cantilever of the books: P L/W at its root, P L³/3EI and the
// shear beside it.
func TestStraightStrip(t *testing.T) {
	f := folded(t, Plate{Name: "tab", Width: 60, Thickness: 10, Pose: geom.Identity(), Line: []r2.Vec{{}, {X: 250}}})
	c, err := f.Cantilever(Held{From: 50, To: 250, FromWhere: "at its root"})
	require.NoError(t, err)
	const p, l, e, g = 800.0, 200.0, section.SteelE, section.SteelG
	s, i, err := c.Stress(r3.Vec{Y: -p}, r3.Vec{X: 250}, 235)
	require.NoError(t, err)
	assert.Equal(t, "at its root", c.Stations[i].Where)
	assert.InEpsilon(t, p*l/(60*100/6.0), s.BendY, 1e-9)
	up := c.Gives(r3.Vec{Y: p}, r3.Vec{X: 250})
	assert.InEpsilon(t, p*l*l*l/(3*e*60*1000/12)+p*l/(g*600*5/6), up.Y, 1e-9)
	side := c.Gives(r3.Vec{Z: p}, r3.Vec{X: 250})
	assert.InEpsilon(t, p*l*l*l/(3*e*10*216000/12)+p*l/(g*600*5/6), side.Z, 1e-9)
	assert.InEpsilon(t, p*l/(e*600), c.Gives(r3.Vec{X: p}, r3.Vec{X: 250}).X, 1e-9)
	net, err := f.Cantilever(Held{From: 50, Net: 30, To: 250, FromWhere: "bolts"})
	require.NoError(t, err)
	s, _, err = net.Stress(r3.Vec{Y: -p}, r3.Vec{X: 250}, 235)
	require.NoError(t, err)
	assert.InEpsilon(t, p*l/(30*100/6.0), s.BendY, 1e-9)
	_, err = f.Cantilever(Held{From: 50, Net: 60, To: 250})
	assert.ErrorContains(t, err, "nothing of its width")
}

// A Z in space gives as a general frame of many short members along its middle does.
func TestGivesAsAFrame(t *testing.T) {
	p := Plate{Name: "z", Width: 60, Thickness: 8, Radius: 12, K: 0.4, Pose: geom.Identity(), Line: []r2.Vec{{}, {X: 120}, {X: 150, Y: 110}, {X: 260, Y: 100}}}
	f := folded(t, p)
	last := &f.Flats[2]
	c, err := f.Cantilever(Held{From: 40, To: last.Length()})
	require.NoError(t, err)
	flat, err := frame.Stock(section.Shape{Kind: section.FlatBar, B: 60, H: 8})
	require.NoError(t, err)
	var at []r3.Vec
	add := func(q r3.Vec) {
		if len(at) == 0 || r3.Norm(r3.Sub(q, at[len(at)-1])) > 1e-6 {
			at = append(at, q)
		}
	}
	for i := range f.Flats {
		from := 0.0
		if i == 0 {
			from = 40
		}
		add(f.At(i, from, 0, 0))
		add(f.At(i, f.Flats[i].Length(), 0, 0))
		if i < len(f.Bends) {
			for k := 1; k <= 24; k++ {
				ring := f.turned(i, float64(k)/24)
				add(r3.Scale(0.25, r3.Add(r3.Add(ring[0], ring[1]), r3.Add(ring[2], ring[3]))))
			}
		}
	}
	steel := frame.Material{E: section.SteelE, G: section.SteelG, Density: section.SteelDensity}
	fr := frame.Frame{Name: "z"}
	for i, q := range at {
		fr.Nodes = append(fr.Nodes, frame.Node{At: q})
		if i > 0 {
			d := r3.Unit(r3.Sub(q, at[i-1]))
			fr.Members = append(fr.Members, frame.Member{Ends: [2]int{i - 1, i}, Section: flat, Material: steel, Up: r3.Cross(r3.Vec{Z: 1}, d)})
		}
	}
	fr.Nodes[0].Held = frame.Welded
	ready, err := frame.Prepare(&fr)
	require.NoError(t, err)
	for _, force := range []r3.Vec{{X: 700}, {Y: -900}, {Z: 400}, {X: 300, Y: -500, Z: 600}} {
		res, err := ready.Solve(frame.Case{Nodes: []frame.NodeLoad{{Node: len(at) - 1, Force: force}}})
		require.NoError(t, err)
		got := c.Gives(force, at[len(at)-1])
		want := res.Nodes[len(at)-1].Shift
		assert.Less(t, r3.Norm(r3.Sub(got, want)), 0.003*r3.Norm(want), "%v: %v, %v", force, got, want)
	}
}
