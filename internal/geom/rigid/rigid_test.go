package rigid

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"fitup/internal/geom"
	"fitup/internal/geom/tape"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

var (
	bench = []r3.Vec{{}, {X: 600}, {X: 600, Y: 400}, {Y: 400, Z: 100}}
	hung  = []r3.Vec{{X: 1000, Y: 50, Z: 20}, {X: 1599, Y: 71, Z: 14}, {X: 1585, Y: 470.5, Z: 26}, {X: 986, Y: 449, Z: 131.5}}
)

// Four points laid on four places: derived with a second program by singular values,
// angles as roll, slope and heading of geom.Orient.
func TestLay(t *testing.T) {
	p, left, err := Lay(bench, hung)
	require.NoError(t, err)
	assert.InDelta(t, 1.629224, p.Roll().Rad()/geom.Deg.Rad(), 1e-6)
	assert.InDelta(t, 0.539309, p.Slope().Rad()/geom.Deg.Rad(), 1e-6)
	assert.InDelta(t, 1.955881, p.Heading().Rad()/geom.Deg.Rad(), 1e-6)
	assert.InDelta(t, 999.198456, p.At.X, 1e-6)
	assert.InDelta(t, 50.784314, p.At.Y, 1e-6)
	assert.InDelta(t, 20.023942, p.At.Z, 1e-6)
	assert.InDelta(t, 0.845820, math.Sqrt(left/6), 1e-6)
}

// The same from the coordinates as twelve measurements: the second method.
func TestFitIsLayForPlaces(t *testing.T) {
	b := placesOf(hung, 0.5)
	got, err := b.Fit(context.Background())
	require.NoError(t, err)
	want, left, err := Lay(bench, hung)
	require.NoError(t, err)
	for i := range bench {
		assert.InDelta(t, 0, r3.Norm(r3.Sub(want.Point(bench[i]), got.Pose.Point(bench[i]))), 1e-6)
	}
	assert.InDelta(t, left/0.25, got.SumSquare, 1e-6)
	assert.Equal(t, 6, got.DoF)
	sum := 0.0
	for _, e := range got.Each {
		sum += e.Redundancy
	}
	assert.InDelta(t, 6, sum, 1e-9, "redundancies add up to the degrees of freedom")
}

func placesOf(at []r3.Vec, sigma float64) Body {
	b := Body{Reference: r3.Vec{X: 300, Y: 200}, Start: geom.Identity()}
	for i, p := range at {
		for axis, v := range [3]float64{p.X, p.Y, p.Z} {
			b.Measures = append(b.Measures, Measure{Name: fmt.Sprint(i, axis), Kind: Coordinate, Own: bench[i], Axis: axis, Value: v, Sigma: sigma})
		}
	}
	return b
}

func TestRefuses(t *testing.T) {
	_, _, err := Lay(bench[:2], hung[:2])
	assert.ErrorIs(t, err, ErrFew)
	line := []r3.Vec{{}, {X: 100}, {X: 250}, {X: 900}}
	_, _, err = Lay(line, hung)
	assert.ErrorIs(t, err, ErrLine)
	_, _, err = Lay(bench, line)
	assert.ErrorIs(t, err, ErrLine)
	over := make([]r3.Vec, len(hung))
	for i, p := range hung {
		over[i] = r3.Vec{X: p.X, Y: -p.Y, Z: p.Z}
	}
	_, _, err = Lay(bench, over)
	assert.ErrorIs(t, err, ErrMirrored)
	_, _, err = Lay(bench, hung[:3])
	assert.Error(t, err)
	_, err = Body{}.Fit(context.Background())
	assert.Error(t, err)
}

// three points in one plane laid on their own mirror image are turned over in space,
// and never mirrored.
func TestFlatMirrorTurnsOver(t *testing.T) {
	flat := []r3.Vec{{}, {X: 600}, {X: 500, Y: 400}}
	over := []r3.Vec{{}, {X: 600}, {X: 500, Y: -400}}
	p, left, err := Lay(flat, over)
	require.NoError(t, err)
	assert.InDelta(t, 0, left, 1e-12)
	assert.InDelta(t, -1, p.Z.Z, 1e-9)
	assert.InDelta(t, 1, r3.Dot(r3.Cross(p.X, p.Y), p.Z), 1e-12)
}

// mixed is a body measured in every way, from a pose that is known.
func mixed(p geom.Pose) Body {
	b := Body{Reference: r3.Vec{X: 300, Y: 0}, Start: geom.Identity()}
	own := []r3.Vec{{Y: -380}, {Y: 380}, {X: 620, Y: -390, Z: 30}, {X: 620, Y: 390, Z: 30}}
	add := func(m Measure) {
		m.Name = fmt.Sprint(len(b.Measures))
		m.Value = m.Shown(p)
		m.Sigma = 0.5
		if m.Kind == Along || m.Kind == Across || m.Kind == Aim || m.Kind == Fall {
			m.Sigma = 0.001
		}
		b.Measures = append(b.Measures, m)
	}
	far := []r3.Vec{{X: -900, Y: -350, Z: 40}, {X: -900, Y: 350, Z: 40}, {X: 1500, Y: -420, Z: 60}, {X: 1500, Y: 420, Z: 60}}
	for i := range own {
		add(Measure{Kind: Distance, Own: own[i], A: far[i]})
		add(Measure{Kind: Distance, Own: own[i], A: far[3-i]})
		add(Measure{Kind: Rise, Own: own[i], A: far[0]})
	}
	add(Measure{Kind: Beside, Own: own[1], A: far[0], B: far[2]})
	add(Measure{Kind: Along})
	add(Measure{Kind: Across})
	add(Measure{Kind: Aim})
	add(Measure{Kind: Fall, Own: own[2], A: far[3]})
	add(Measure{Kind: Fall, Own: own[0], A: far[1]})
	add(Measure{Kind: Over, Own: own[1], Other: own[0]})
	add(Measure{Kind: Inside, Own: own[0], Other: own[3]})
	add(Measure{Kind: Coordinate, Own: own[2], Axis: 1})
	return b
}

func anyPose(t *rapid.T) geom.Pose {
	a := func(name string) geom.Angle { return geom.Angle(rapid.Float64Range(-6, 6).Draw(t, name)) * geom.Deg }
	at := func(name string) float64 { return rapid.Float64Range(-40, 40).Draw(t, name) }
	return geom.Orient(a("slope"), a("heading"), a("roll"), r3.Vec{X: at("x"), Y: at("y"), Z: at("z")})
}

// What is measured without error is found again, whatever the pose.
func TestFindsThePose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPose(t)
		got, err := mixed(p).Fit(context.Background())
		require.NoError(t, err)
		for _, own := range bench {
			assert.InDelta(t, 0, r3.Norm(r3.Sub(p.Point(own), got.Pose.Point(own))), 1e-6)
		}
	})
}

// Partial derivatives of every kind against differences.
func TestPartials(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := mixed(anyPose(t))
		x := b.At(anyPose(t))
		for i, o := range b.Problem().Observations {
			var got [Unknowns]float64
			o.Of.Partials(x, func(u int, d float64) { got[u] += d })
			for u := range got {
				h := 1e-4
				if u >= Heading {
					h = 1e-6
				}
				was := x[u]
				x[u] = was + h
				up := o.Of.At(x)
				x[u] = was - h
				low := o.Of.At(x)
				x[u] = was
				assert.InDelta(t, (up-low)/(2*h), got[u], 2e-4*max(1, math.Abs(got[u])), "measurement %d, unknown %d", i, u)
			}
		}
	})
}

// The same answer by gonum's general minimiser, with errors in all measurements.
func TestFitAgainstMinimiser(t *testing.T) {
	b := mixed(geom.Orient(0.4*geom.Deg, -0.3*geom.Deg, 0.6*geom.Deg, r3.Vec{X: 5, Y: -3, Z: 2}))
	for i := range b.Measures {
		b.Measures[i].Value += b.Measures[i].Sigma * math.Sin(float64(3*i+1))
	}
	got, err := b.Fit(context.Background())
	require.NoError(t, err)
	problem := b.Problem()
	scale := []float64{1, 1, 1, 1e-3, 1e-3, 1e-3}
	sum := func(y []float64) float64 {
		x, s := make([]float64, len(y)), 0.0
		for i := range y {
			x[i] = y[i] * scale[i]
		}
		for _, o := range problem.Observations {
			l := (o.Value - o.Of.At(x)) / o.Sigma
			s += l * l
		}
		return s
	}
	start := make([]float64, Unknowns)
	for i, x := range problem.Start {
		start[i] = x / scale[i]
	}
	res, err := optimize.Minimize(optimize.Problem{Func: sum}, start, &optimize.Settings{FuncEvaluations: 20000, Converger: &optimize.FunctionConverge{Absolute: 1e-13, Iterations: 600}}, &optimize.NelderMead{})
	require.NoError(t, err)
	assert.InDelta(t, got.SumSquare, res.F, 1e-6)
	for i := range res.X {
		assert.InDelta(t, got.X[i]/scale[i], res.X[i], 1e-3)
	}
}

// A blunder of 12 mm in one tape is named.
func TestSuspectIsNamed(t *testing.T) {
	b := mixed(geom.Orient(0.4*geom.Deg, -0.3*geom.Deg, 0.6*geom.Deg, r3.Vec{X: 5, Y: -3, Z: 2}))
	b.Measures[4].Value += 12
	got, err := b.Fit(context.Background())
	require.NoError(t, err)
	fine, _ := got.Agrees(0.001)
	assert.False(t, fine)
	suspects, err := tape.Suspects(context.Background(), b.Problem(), got.Fit)
	require.NoError(t, err)
	require.NotEmpty(t, suspects)
	assert.Equal(t, 4, suspects[0].Observation)
	assert.InDelta(t, 12, suspects[0].Off, 1e-6)
}

// Left and right taken for each other: the body as measured does not fit, its mirror
// does.
func TestMirror(t *testing.T) {
	p := geom.Orient(0.4*geom.Deg, -0.3*geom.Deg, 0.6*geom.Deg, r3.Vec{X: 5, Y: -3, Z: 2})
	b := mixed(p)
	over := b.Mirror()
	if got, err := over.Fit(context.Background()); err == nil {
		fine, _ := got.Agrees(0.001)
		assert.False(t, fine)
	}
	again, err := over.Mirror().Fit(context.Background())
	require.NoError(t, err)
	fine, _ := again.Agrees(0.001)
	assert.True(t, fine)
}

// Heights alone leave it free to slide and turn in plan.
func TestHeightsAloneLeaveItLoose(t *testing.T) {
	b := mixed(geom.Identity())
	var heights []Measure
	for _, m := range b.Measures {
		if m.Kind == Rise {
			heights = append(heights, m)
		}
	}
	b.Measures = heights
	_, err := b.Fit(context.Background())
	var loose *tape.LooseError
	require.True(t, errors.As(err, &loose), "%v", err)
	assert.ElementsMatch(t, []int{Back, Right, Heading}, loose.Unknowns)
}

// What a coordinate does to a reading is by hand: along a tape all of it, across none; a
// height knows only heights, and a string nothing of them.
func TestWhatACoordinateDoes(t *testing.T) {
	m := Measure{Kind: Distance, Own: r3.Vec{X: 300}, A: r3.Vec{X: -100}}
	assert.InDelta(t, 1, m.Slope(&m.Own, 0, geom.Identity()), 1e-9)
	assert.InDelta(t, -1, m.Slope(&m.A, 0, geom.Identity()), 1e-9)
	assert.InDelta(t, 0, m.Slope(&m.A, 1, geom.Identity()), 1e-9)
	assert.Equal(t, r3.Vec{X: -100}, m.A, "and stays where it was")
	for kind, want := range map[Kind][3]bool{Distance: {true, true, true}, Rise: {false, false, true}, Beside: {true, true, false}} {
		m := Measure{Kind: kind, Own: r3.Vec{X: 310, Y: 20, Z: 30}, A: r3.Vec{X: -100, Y: 7, Z: 5}, B: r3.Vec{X: 900, Y: -40, Z: 11}}
		for axis, counts := range want {
			assert.Equal(t, counts, m.Counts(axis), "%v, axis %d", kind, axis)
			assert.Equal(t, counts, math.Abs(m.Slope(&m.A, axis, geom.Identity())) > 1e-6, "%v, axis %d", kind, axis)
		}
	}
}
