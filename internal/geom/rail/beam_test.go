package rail

import (
	"math"
	"slices"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func single(xs ...float64) []Bearing {
	var out []Bearing
	for _, x := range xs {
		out = append(out, Bearing{[]float64{x}, []float64{1}})
	}
	return out
}

func solved(t require.TestingT, b Beam) *Bent {
	r, err := b.Solve()
	require.NoError(t, err)
	return r
}

// Beam tables of Roark and of Gere (from memory): simply supported with a force in the
// middle, off it, and spread; an overhang; two equal spans under a spread load, whose
// middle bearing takes 5/8 of it and whose moment there is wL²/8.
func TestBeamTables(t *testing.T) {
	const l, ei, f = 900.0, 210e3 * 1.58e6, 5000.0
	one := []Piece{{0, l, ei}}
	r := solved(t, Beam{Pieces: one, Bearings: single(0, l), Loads: []Load{{l / 2, l / 2, f}}})
	assert.InEpsilon(t, f*l/4, r.Moment(l/2), 1e-9)
	assert.InEpsilon(t, f*l*l*l/48/ei, r.Deflection(l/2), 1e-9)
	assert.InEpsilon(t, f/2, r.Reactions[0], 1e-9)

	r = solved(t, Beam{Pieces: one, Bearings: single(0, l), Loads: []Load{{300, 300, f}}})
	assert.InEpsilon(t, 1.0e6, r.Moment(300), 1e-9)
	assert.InEpsilon(t, f*300*300*600*600/(3*ei*l), r.Deflection(300), 1e-9)

	r = solved(t, Beam{Pieces: one, Bearings: single(0, l), Loads: []Load{{0, l, f}}})
	assert.InEpsilon(t, f*l/8, r.Moment(l/2), 1e-9)
	assert.InEpsilon(t, 5*f*l*l*l/384/ei, r.Deflection(l/2), 1e-9)
	assert.Contains(t, r.Stations(), l/2, "where the moment is largest")

	r = solved(t, Beam{Pieces: one, Bearings: single(0, 600), Loads: []Load{{l, l, f}}})
	assert.InEpsilon(t, -f*300, r.Moment(600), 1e-9)
	assert.InEpsilon(t, f*300*300*l/3/ei, r.Deflection(l), 1e-9)
	assert.InEpsilon(t, -f/2, r.Reactions[0], 1e-9)

	r = solved(t, Beam{Pieces: one, Bearings: single(0, l/2, l), Loads: []Load{{0, l, f}}})
	assert.InEpsilon(t, 5.0/8*f, r.Reactions[1], 1e-9)
	assert.InEpsilon(t, -f/l*(l/2)*(l/2)/8, r.Moment(l/2), 1e-9)
	assert.InDelta(t, 0, r.Deflection(l/2), 1e-12)
}

// The hangers of a spring share its force by the axle's place between them, however
// the rail bends: with an axle in the middle both carry half.
func TestHangersShareAnAxle(t *testing.T) {
	b := Beam{
		Pieces:   []Piece{{-300, 1000, 4e11}, {1000, 3600, 2e11}},
		Bearings: []Bearing{{[]float64{-200, 800}, []float64{0.5, 0.5}}, {[]float64{2300, 3500}, []float64{0.4, 0.6}}},
		Loads:    []Load{{500, 500, 3000}, {1200, 3600, 8000}, {-300, 3600, 900}},
	}
	r := solved(t, b)
	total := 11900.0
	pull := 3000*500 + 8000*2400.0 + 900*1650
	rear := 0.4*2300 + 0.6*3500
	want := (pull - total*300) / (rear - 300)
	assert.InEpsilon(t, want, r.Reactions[1], 1e-9)
	assert.InEpsilon(t, total-want, r.Reactions[0], 1e-9)
	assert.InDelta(t, 0, (r.Deflection(-200)+r.Deflection(800))/2, 1e-9, "the axle stays where it is")
	assert.InDelta(t, 0, 0.4*r.Deflection(2300)+0.6*r.Deflection(3500), 1e-9)
	assert.InDelta(t, 0, r.Moment(3600), 1e-3)
	assert.InDelta(t, 0, r.Moment(-300), 1e-3)
}

// A second method: the moments summed anew from loads and reactions, M/EI integrated
// numerically on a fine grid from the front, and the two constants found from the first
// two bearings. What remains is that no other bearing gives.
func TestBeamsAgainstIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := func(lo, hi float64, n string) float64 { return rapid.Float64Range(lo, hi).Draw(t, n) }
		const l = 3000.0
		// Whole millimetres: no step of the grid runs over a change of stiffness or a bearing.
		whole := func(lo, hi float64, n string) float64 { return math.Round(f(lo, hi, n)) }
		cuts := []float64{0, whole(300, 900, "a"), whole(1000, 1800, "b"), whole(1900, 2700, "c"), l}
		b := Beam{}
		for i := range 4 {
			b.Pieces = append(b.Pieces, Piece{cuts[i], cuts[i+1], f(1e11, 9e11, "EI")})
		}
		b.Bearings = single(whole(0, 500, "first"), whole(1500, 2100, "second"))
		if rapid.Bool().Draw(t, "third") {
			b.Bearings = append(b.Bearings, single(whole(2500, 3000, "place"))...)
		}
		if rapid.Bool().Draw(t, "pair") {
			s := f(0.2, 0.8, "share")
			b.Bearings[0] = Bearing{[]float64{whole(0, 200, "hanger"), whole(700, 1200, "hanger")}, []float64{s, 1 - s}}
		}
		for range 3 {
			x, wide := math.Round(f(0, l, "x")), math.Round(rapid.SampledFrom([]float64{0, 1}).Draw(t, "spread?")*f(0, 800, "spread"))
			b.Loads = append(b.Loads, Load{x, min(l, x+wide), f(-2000, 9000, "force")})
		}
		r := solved(t, b)
		moment := func(x float64) (m float64) {
			for i, s := range b.Bearings {
				for j, at := range s.At {
					m += r.Reactions[i] * s.Share[j] * max(0, x-at)
				}
			}
			for _, p := range b.Loads {
				if wide := p.To - p.From; wide > 1e-6 {
					in := min(max(x-p.From, 0), wide)
					m -= p.Force * in / wide * (x - p.From - in/2)
				} else {
					m -= p.Force * max(0, x-p.From)
				}
			}
			return m
		}
		const n = 6000
		ei := func(x float64) float64 {
			for _, p := range b.Pieces {
				if x <= p.To {
					return p.EI
				}
			}
			return b.Pieces[3].EI
		}
		w, slope := make([]float64, n+1), 0.0
		for i := range n { // the curvature at the middle of each step
			h := l / n
			c := moment((float64(i)+0.5)*h) / ei((float64(i)+0.5)*h)
			w[i+1] = w[i] + slope*h - c*h*h/2
			slope -= c * h
		}
		raw := func(x float64) float64 {
			s := x / l * n
			i := min(int(s), n-1)
			return w[i] + (s-float64(i))*(w[i+1]-w[i])
		}
		sag := func(s Bearing, of func(float64) float64) (sum float64) {
			for j, x := range s.At {
				sum += s.Share[j] * of(x)
			}
			return sum
		}
		place := func(x float64) float64 { return x }
		x1, x2 := sag(b.Bearings[0], place), sag(b.Bearings[1], place)
		y1, y2 := sag(b.Bearings[0], raw), sag(b.Bearings[1], raw)
		curve := func(x float64) float64 { return raw(x) - y1 - (y2-y1)*(x-x1)/(x2-x1) }
		size, worst, wild := 1e-3, 0.0, math.Abs(slices.Max(w))+math.Abs(slices.Min(w))
		for x := 0.0; x <= l; x += 50 {
			size = max(size, math.Abs(curve(x)))
			worst = max(worst, math.Abs(curve(x)-r.Deflection(x)))
			assert.InDelta(t, moment(x), r.Moment(x), 1e-6*(1+math.Abs(moment(x)))+1e-2)
		}
		assert.LessOrEqual(t, worst, 4e-3*size+5e-6*wild+2e-5)
		for _, s := range b.Bearings {
			assert.InDelta(t, 0, sag(s, curve), 4e-3*size+5e-6*wild+2e-5)
		}
		assert.InDelta(t, 0, r.Moment(l), 1)
		most := 0.0
		for _, x := range r.Stations() {
			most = max(most, math.Abs(r.Moment(x)))
		}
		for x := 0.0; x <= l; x += 10 {
			assert.LessOrEqual(t, math.Abs(r.Moment(x)), most*(1+1e-9)+1e-3)
		}
	})
}

func TestRailMirrored(t *testing.T) {
	b := Beam{Pieces: []Piece{{0, 1000, 4e11}, {1000, 2500, 1e11}}, Bearings: single(200, 2300), Loads: []Load{{700, 1500, 4000}, {100, 100, 500}}}
	c := Beam{Bearings: single(2300, 200)}
	for _, p := range slices.Backward(b.Pieces) {
		c.Pieces = append(c.Pieces, Piece{2500 - p.To, 2500 - p.From, p.EI})
	}
	for _, p := range b.Loads {
		c.Loads = append(c.Loads, Load{2500 - p.To, 2500 - p.From, p.Force})
	}
	r, s := solved(t, b), solved(t, c)
	for x := 0.0; x <= 2500; x += 125 {
		assert.InDelta(t, r.Moment(x), s.Moment(2500-x), 1e-3)
		assert.InDelta(t, r.Deflection(x), s.Deflection(2500-x), 1e-9)
	}
}

func TestBeamsRefused(t *testing.T) {
	good := Beam{Name: "left", Pieces: []Piece{{0, 1000, 1e11}}, Bearings: single(0, 1000), Loads: []Load{{500, 500, 100}}}
	for name, change := range map[string]func(*Beam){
		"no length":    func(b *Beam) { b.Pieces = nil },
		"backward":     func(b *Beam) { b.Pieces[0].To = -5 },
		"a gap":        func(b *Beam) { b.Pieces = append(b.Pieces, Piece{1100, 1200, 1e11}) },
		"no stiffness": func(b *Beam) { b.Pieces[0].EI = math.NaN() },
		"one bearing":  func(b *Beam) { b.Bearings = single(10) },
		"one place":    func(b *Beam) { b.Bearings = single(10, 10) },
		"off the rail": func(b *Beam) { b.Bearings = single(10, 1010) },
		"no place":     func(b *Beam) { b.Bearings[0].At = nil },
		"shares":       func(b *Beam) { b.Bearings[0].Share = []float64{0.5} },
		"load off":     func(b *Beam) { b.Loads[0].To = 1001 },
		"load backward": func(b *Beam) {
			b.Loads[0].To = 400
		},
		"no load": func(b *Beam) { b.Loads[0].Force = math.Inf(1) },
	} {
		b := good
		b.Pieces, b.Bearings, b.Loads = slices.Clone(b.Pieces), single(0, 1000), slices.Clone(b.Loads)
		change(&b)
		_, err := b.Solve()
		var pe *geom.PartError
		require.ErrorAs(t, err, &pe, name)
		assert.Contains(t, err.Error(), "left", name)
	}
}

// A rail of two pieces in a row twists as springs in a row do; 2 m of an open channel
// and the same boxed, G 81 GPa.
func TestTorsion(t *testing.T) {
	const g = 81e3
	open, err := Torsion("left", []Twisted{{0, 2000, 8716}}, 0, 2000, g)
	require.NoError(t, err)
	assert.InEpsilon(t, g*8716/2000, open, 1e-12)
	boxed, err := Torsion("left", []Twisted{{0, 2000, 2.1629e6}}, 0, 2000, g)
	require.NoError(t, err)
	assert.InDelta(t, 248, boxed/open, 0.5)
	mixed, err := Torsion("left", []Twisted{{-100, 500, 8716}, {500, 2000, 2.1629e6}, {2000, 2600, 1}}, 0, 2000, g)
	require.NoError(t, err)
	assert.InEpsilon(t, 1/(500/(g*8716)+1500/(g*2.1629e6)), mixed, 1e-12)
	for name, f := range map[string]func() error{
		"backward": func() error { _, err := Torsion("left", nil, 5, 2, g); return err },
		"a gap":    func() error { _, err := Torsion("left", []Twisted{{0, 1, 5}, {2, 9, 5}}, 0, 9, g); return err },
		"short":    func() error { _, err := Torsion("left", []Twisted{{0, 8, 5}}, 0, 9, g); return err },
		"no J":     func() error { _, err := Torsion("left", []Twisted{{0, 9, 0}}, 0, 9, g); return err },
	} {
		assert.ErrorContains(t, f(), "left", name)
	}
}

// One wheel up: all of the lift in a frame on stiff axles, and shared like springs in
// a row on soft ones.
func TestOneWheelUp(t *testing.T) {
	all, err := OneWheelUp(150, 1500, []float64{3e8, 1e8}, nil)
	require.NoError(t, err)
	assert.InEpsilon(t, 0.1, all.Angle, 1e-12)
	assert.InEpsilon(t, 4e7, all.Moment, 1e-12)
	assert.InEpsilon(t, 3e7, all.Rails[0], 1e-12)
	soft, err := OneWheelUp(150, 1500, []float64{3e8, 1e8}, []float64{4e8, 2e8})
	require.NoError(t, err)
	assert.InEpsilon(t, 0.1/(1/4e8+1/4e8+1/2e8), soft.Moment, 1e-12)
	for name, f := range map[string]func() error{
		"no rails": func() error { _, err := OneWheelUp(1, 1, nil, nil); return err },
		"no track": func() error { _, err := OneWheelUp(1, 0, []float64{1}, nil); return err },
		"no rail":  func() error { _, err := OneWheelUp(1, 1, []float64{0}, nil); return err },
		"no roll":  func() error { _, err := OneWheelUp(1, 1, []float64{1}, []float64{0}); return err },
	} {
		assert.Error(t, f(), name)
	}
}

func BenchmarkSolve(b *testing.B) {
	beam := Beam{Bearings: single(200, 900, 2300, 3500), Loads: []Load{{0, 4000, 900}}}
	for i := range 40 {
		beam.Pieces = append(beam.Pieces, Piece{float64(i) * 100, float64(i+1) * 100, 4e11 + float64(i)*1e9})
		beam.Loads = append(beam.Loads, Load{float64(i)*100 + 50, float64(i)*100 + 50, 100})
	}
	for b.Loop() {
		if _, err := beam.Solve(); err != nil {
			b.Fatal(err)
		}
	}
}
