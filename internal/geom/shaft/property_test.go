package shaft

import (
	"math"
	"slices"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// moved is the chain with every position and direction taken through f.
func moved(c Chain, f func(r3.Vec) r3.Vec) Chain {
	out := Chain{In: f(c.In), Out: f(c.Out), Yokes: slices.Clone(c.Yokes)}
	for _, j := range c.Joints {
		j.At = f(j.At)
		out.Joints = append(out.Joints, j)
	}
	return out
}

// reversed drives the chain from its other end. A yoke offset keeps its sign:
// front and rear change places, and so does the sense of the axis.
func reversed(c Chain) Chain {
	out := Chain{In: r3.Scale(-1, c.Out), Out: r3.Scale(-1, c.In), Yokes: slices.Clone(c.Yokes)}
	slices.Reverse(out.Yokes)
	out.Joints = slices.Clone(c.Joints)
	slices.Reverse(out.Joints)
	return out
}

func same(t *rapid.T, want, got *Mechanism) {
	assert.Len(t, got.Joints(), len(want.Joints()))
	for i, b := range want.Joints() {
		assert.InDelta(t, b.Angle.Rad(), got.Joints()[i].Angle.Rad(), 1e-12)
	}
	for i, s := range want.Shafts() {
		assert.InDelta(t, s.Drive.k, got.Shafts()[i].Drive.k, 1e-12)
		assert.InDelta(t, s.Coast.k, got.Shafts()[i].Coast.k, 1e-12)
		// A root: near nothing it magnifies rounding.
		assert.InDelta(t, s.SmallAngle.Rad(), got.Shafts()[i].SmallAngle.Rad(), 1e-6)
	}
}

func TestTurningTheWorldChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChain(t, 0.8)
		a := rapid.Float64Range(-3, 3)
		q := r3.NewRotation(a.Draw(t, "turn"), r3.Vec{X: a.Draw(t, "x"), Y: a.Draw(t, "y"), Z: 3.5})
		same(t, solve(t, c), solve(t, moved(c, q.Rotate)))
	})
}

func TestMirrorTurnsOnlyTheYokes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChain(t, 0.8)
		d := moved(c, func(v r3.Vec) r3.Vec { return r3.Vec{X: v.X, Y: -v.Y, Z: v.Z} })
		for i := range d.Yokes {
			d.Yokes[i] *= -1
		}
		same(t, solve(t, c), solve(t, d))
	})
}

func TestDrivingFromTheOtherEnd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChain(t, 0.8)
		m, back := solve(t, c), solve(t, reversed(c))
		n := len(m.Joints())
		for i, b := range m.Joints() {
			assert.InDelta(t, b.Angle.Rad(), back.Joints()[n-1-i].Angle.Rad(), 1e-12)
		}
		for i, s := range m.Shafts() {
			assert.InDelta(t, s.Drive.k, back.Shafts()[n-i].Coast.k, 1e-12)
			assert.InDelta(t, s.Coast.k, back.Shafts()[n-i].Drive.k, 1e-12)
		}
	})
}

// flat is a chain in one plane, tilted anyhow.
func flat(t *rapid.T, bends []float64, yokes ...geom.Angle) Chain {
	slope, axes := 0.0, pitched(0)
	for _, b := range bends {
		slope += b
		axes = append(axes, geom.Direction(geom.Angle(slope), 0))
	}
	q := r3.NewRotation(rapid.Float64Range(-3, 3).Draw(t, "tilt"), r3.Vec{X: 1, Y: 0.2, Z: -0.4})
	for i := range axes {
		axes[i] = q.Rotate(axes[i])
	}
	return walk(axes, yokes...)
}

func TestEqualAnglesInOnePlaneCancel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.Float64Range(0, 1.2).Draw(t, "b")
		sign := rapid.SampledFrom([]float64{1, -1}).Draw(t, "layout") // W or Z
		r := last(solve(t, flat(t, []float64{b, sign * b}))).Drive
		assert.InDelta(t, 0, r.k, 1e-13)
		assert.InDelta(t, 1, r.Max(), 1e-13)
	})
}

// In phase the hyperbolic angles atanh k of joints in one plane subtract in
// turn; a crossed shaft makes them add. The small-angle rule does the same with
// β².
func TestCrossingMakesAnglesAdd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-0.9, 0.9)
		b := []float64{angle.Draw(t, "b1"), angle.Draw(t, "b2"), angle.Draw(t, "b3")}
		h := func(i int) float64 { return math.Atanh(math.Pow(math.Tan(b[i]/2), 2)) }
		for _, c := range []struct {
			yokes        []geom.Angle
			second, then float64
		}{
			{[]geom.Angle{0, 0}, -1, 1},
			{[]geom.Angle{Crossed, 0}, 1, -1},
			{[]geom.Angle{0, Crossed}, -1, -1},
			{[]geom.Angle{-Crossed, Crossed}, 1, 1},
		} {
			s := last(solve(t, flat(t, b, c.yokes...)))
			assert.InDelta(t, math.Tanh(math.Abs(h(0)+c.second*h(1)+c.then*h(2))), s.Drive.k, 1e-12)
			beq := math.Sqrt(math.Abs(b[0]*b[0] + c.second*b[1]*b[1] + c.then*b[2]*b[2]))
			assert.InDelta(t, beq, s.SmallAngle.Rad(), 1e-6)
		}
	})
}

// The closed form of the best yoke offset against a search.
func TestBestYokeIsBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChain(t, 0.6)
		if len(c.Joints) < 2 {
			t.Skip("no shaft between two joints")
		}
		shaft := rapid.IntRange(1, len(c.Joints)-1).Draw(t, "shaft")
		best, left, err := solve(t, c).BestYoke(shaft)
		assert.NoError(t, err)
		if best != c.Yokes[shaft-1] { // the present one is kept where it makes no difference
			assert.True(t, best > -90*geom.Deg-1e-12 && best <= 90*geom.Deg+1e-12)
		}
		try := func(p float64) float64 {
			c.Yokes[shaft-1] = geom.Angle(p)
			return last(solve(t, c)).Drive.k
		}
		assert.InDelta(t, left.k, try(best.Rad()), 1e-13)
		for p := -1.6; p < 1.6; p += 0.05 {
			assert.GreaterOrEqual(t, try(p), left.k-1e-13)
		}
	})
}

func TestBestYokeWhereItMakesNoDifference(t *testing.T) {
	m := solve(t, walk(pitched(2, 2, 7), 30*geom.Deg))
	best, r, err := m.BestYoke(1)
	assert.NoError(t, err)
	assert.InDelta(t, 30, best.Degrees(), 1e-12)
	assert.InDelta(t, 5, r.Angle().Degrees(), 1e-9)
}

// Two joints at any twist: β⁴ = β1⁴ + β2⁴ - 2·β1²·β2²·cos 2(G-P); for equal
// angles in one plane with yokes out by e, β·√(2·sin e). Derived from the rule
// of SAE AE-7 taken to three dimensions.
func TestSmallAngleRuleOfTwoJoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(0.01, 0.6)
		b1, b2 := r.Draw(t, "b1"), r.Draw(t, "b2")
		twist := rapid.Float64Range(-1.5, 1.5).Draw(t, "twist")
		yoke := rapid.Float64Range(-1.5, 1.5).Draw(t, "yoke")
		u := geom.Direction(0, 0)
		v := geom.Direction(geom.Angle(b1), 0)
		// The second bend about the first joint's normal turned by twist about v.
		normal := r3.NewRotation(twist, v).Rotate(r3.Vec{Y: 1})
		w := r3.NewRotation(b2, normal).Rotate(v)
		s := last(solve(t, walk([]r3.Vec{u, v, w}, geom.Angle(yoke))))
		p1, p2 := b1*b1, b2*b2
		want := math.Pow(math.Max(0, p1*p1+p2*p2-2*p1*p2*math.Cos(2*(twist-yoke))), 0.25)
		assert.InDelta(t, want, s.SmallAngle.Rad(), 1e-4*(b1+b2))

		e := math.Abs(yoke)
		s = last(solve(t, flat(t, []float64{b1, -b1}, geom.Angle(yoke))))
		assert.InDelta(t, b1*math.Sqrt(2*math.Sin(e)), s.SmallAngle.Rad(), 1e-6)
	})
}
