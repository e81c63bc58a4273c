package shaft

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// walk builds a chain of Cardan joints along the given axes, shafts 1 m long.
func walk(axes []r3.Vec, yokes ...geom.Angle) Chain {
	c := Chain{In: axes[0], Out: axes[len(axes)-1], Yokes: yokes}
	at := r3.Vec{X: 1000, Z: 400}
	c.Joints = append(c.Joints, Joint{At: at})
	for _, d := range axes[1 : len(axes)-1] {
		at = r3.Add(at, r3.Scale(1000, d))
		c.Joints = append(c.Joints, Joint{At: at})
	}
	return c
}

// pitched is a row of axes in side view, slopes in degrees.
func pitched(deg ...float64) []r3.Vec {
	out := make([]r3.Vec, len(deg))
	for i, d := range deg {
		out[i] = geom.Direction(geom.Angle(d)*geom.Deg, 0)
	}
	return out
}

func solve(t require.TestingT, c Chain) *Mechanism {
	m, err := NewMechanism(c)
	require.NoError(t, err)
	return m
}

func last(m *Mechanism) Shaft { return m.Shafts()[len(m.Shafts())-1] }

// Several joints at 3000 rev/min. Exact values: derived, two independent
// methods agreed. The rule for the equivalent angle is that of SAE AE-7,
// Universal Joint and Driveshaft Design Manual, sec. 3.1.1, taken to three
// dimensions.
func TestSeveralJoints(t *testing.T) {
	const deg = geom.Deg
	for _, c := range []struct {
		name              string
		chain             Chain
		small             float64
		max, min          float64
		spread, peak, acc float64
	}{
		{"Z 5/5 in phase", walk(pitched(0, 5, 0)), 0, 1, 1, 0, 0, 0},
		{"W 5/5 in phase", walk(pitched(0, 5, 10)), 0, 1, 1, 0, 0, 0},
		{"Z 5/5 crossed", walk(pitched(0, 5, 0), Crossed), 7.071068, 1.00765427, 0.99240388, 0.01525039, 0.01525128, 1505.24},
		{"5, 4 in phase", walk(pitched(0, 5, 1), 0), 3, 1.00137458, 0.99862730, 0.00274728, 0.00274728, 271.146},
		{"10, 6 in phase", walk(pitched(0, 10, 4)), 8, 1.00986400, 0.99023235, 0.01963165, 0.01963354, 1937.75},
		{"Z 20/20, 5 out", walk(pitched(0, 20, 0), 5*deg), 8.350125, 1.01090861, 0.98920910, 0.02169951, 0.02170207, 2141.91},
		{"Z 20/20, 5 out the other way", walk(pitched(0, 20, 0), -5*deg), 8.350125, 1.01090861, 0.98920910, 0.02169951, 0.02170207, 2141.91},
		{"Z 3/3, 3 out", walk(pitched(0, 3, 0), 3*deg), 0.970591, 1.00014356, 0.99985646, 0.00028710, 0.00028710, 28.335},
		{"Z 30/30, 3 out", walk(pitched(0, 30, 0), 3*deg), 9.705912, 1.01522265, 0.98500561, 0.03021704, 0.03022394, 2982.98},
		{"1, 4, 3", walk(pitched(0, 1, 5, 2)), 2.449490, 1.00091562, 0.99908522, 0.00183040, 0.00183040, 180.653},
		{"2, 4.5, 3", walk(pitched(0, 2, 6.5, 3.5)), 2.692582, 1.00110728, 0.99889395, 0.00221333, 0.00221333, 218.447},
		{"2, 4.5, 3, front crossed", walk(pitched(0, 2, 6.5, 3.5), Crossed, 0), 3.905125, 1.00232809, 0.99767732, 0.00465077, 0.00465079, 459.015},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := last(solve(t, c.chain))
			assert.InDelta(t, c.small, s.SmallAngle.Degrees(), 1e-6)
			assert.InDelta(t, c.max, s.Drive.Max(), 1e-8)
			assert.InDelta(t, c.min, s.Drive.Min(), 1e-8)
			assert.InDelta(t, c.spread, s.Drive.Spread(), 1e-8)
			assert.InDelta(t, c.peak, s.Drive.Peak(), 1e-8)
			assert.InDelta(t, c.acc, s.Drive.Acceleration(3000*RPM), 6e-3)
		})
	}
}

// Two coplanar joints in phase: extremes cos β2/cos β1 and its inverse; crossed:
// the product and its inverse. Khurmi & Gupta, Theory of Machines, ch. 9.
func TestTwoJointsInOnePlane(t *testing.T) {
	c10, c6 := math.Cos(math.Pi/18), math.Cos(math.Pi/30)
	r := last(solve(t, walk(pitched(0, 10, 4)))).Drive
	assert.InDelta(t, c6/c10, r.Max(), 1e-14)
	assert.InDelta(t, c10/c6, r.Min(), 1e-14)
	r = last(solve(t, walk(pitched(0, 10, 4), Crossed))).Drive
	assert.InDelta(t, 1/(c6*c10), r.Max(), 1e-14)
}

func offsetPinion(out r3.Vec) Chain {
	return Chain{
		In:     r3.Vec{X: 0.998629535, Z: -0.052335956},
		Joints: []Joint{{At: r3.Vec{X: 1500, Z: 350}}, {At: r3.Vec{X: 2700, Y: -60, Z: 270}}},
		Out:    out,
	}
}

// Lines twisted in three dimensions: derived, two independent methods agreed.
func TestTwistedLines(t *testing.T) {
	t.Run("parallel ends", func(t *testing.T) {
		m := solve(t, offsetPinion(r3.Vec{X: 0.998629535, Z: -0.052335956}))
		assert.InDelta(t, 2.969737, m.Joints()[0].Angle.Degrees(), 1e-6)
		assert.InDelta(t, 2.969737, m.Joints()[1].Angle.Degrees(), 1e-6)
		assert.InDelta(t, 1, last(m).Drive.Max(), 1e-14)
		assert.InDelta(t, 265.269, m.Shafts()[1].Drive.Acceleration(3000*RPM), 1e-3)
		// Seen from the pinion the shaft does the same.
		assert.InDelta(t, 265.269, m.Shafts()[1].Coast.Acceleration(3000*RPM), 1e-3)
	})
	t.Run("pinion turned too", func(t *testing.T) {
		c := offsetPinion(r3.Vec{X: 0.999619261, Y: 0.008723545, Z: -0.026176948})
		m := solve(t, c)
		assert.InDelta(t, 4.075902, m.Joints()[1].Angle.Degrees(), 1e-6)
		assert.InDelta(t, 0.00335354, last(m).Drive.Spread(), 1e-8)
		assert.InDelta(t, 330.982, last(m).Drive.Acceleration(3000*RPM), 1e-3)
		assert.InDelta(t, 3.316374, last(m).SmallAngle.Degrees(), 1e-6)

		best, left, err := m.BestYoke(1)
		require.NoError(t, err)
		assert.InDelta(t, 18.70, best.Degrees(), 5e-3)
		c.Yokes = []geom.Angle{18.70 * geom.Deg}
		turned := last(solve(t, c))
		assert.InDelta(t, 2.791709, turned.SmallAngle.Degrees(), 1e-4)
		assert.InDelta(t, left.Angle().Degrees(), turned.Drive.Angle().Degrees(), 1e-5)
	})
	t.Run("two-piece", func(t *testing.T) {
		c := Chain{
			In:     geom.Direction(2.5*geom.Deg, 0),
			Joints: []Joint{{At: r3.Vec{X: 1450, Z: 380}}, {At: r3.Vec{X: 2350, Z: 345}}, {At: r3.Vec{X: 3300, Y: -45, Z: 250}}},
			Out:    geom.Direction(2*geom.Deg, 0),
		}
		m := solve(t, c)
		for i, want := range []float64{0.272953, 4.405481, 4.586988} {
			assert.InDelta(t, want, m.Joints()[i].Angle.Degrees(), 1e-6)
		}
		assert.InDelta(t, 1.449932, last(m).SmallAngle.Degrees(), 1e-6)
		assert.InDelta(t, 0.00064144, last(m).Drive.Spread(), 1e-8)
		assert.InDelta(t, 63.308, last(m).Drive.Acceleration(3000*RPM), 1e-3)
		assert.InDelta(t, 583.5, m.Shafts()[2].Drive.Acceleration(3000*RPM), 0.05)
		c.Yokes = []geom.Angle{Crossed, InPhase}
		m = solve(t, c)
		assert.InDelta(t, 1.408242, last(m).SmallAngle.Degrees(), 1e-6)
		assert.InDelta(t, 59.727, last(m).Drive.Acceleration(3000*RPM), 1e-3)
	})
}

// The small-angle rule against the exact acceleration, in angle (twice that in
// acceleration), for lines whose joints run at 5° to 30°. Derived.
func TestSmallAngleRuleIsClose(t *testing.T) {
	for _, c := range []struct {
		chain         Chain
		percent, half float64 // half a unit of the last printed digit
	}{
		{walk(pitched(0, 5, 0), Crossed), 0.07, 0.005},
		{walk(pitched(0, 10, 4)), 0.3, 0.06},
		{walk(pitched(0, 20, 0), 5*geom.Deg), 1, 0.5},
		{walk(pitched(0, 30, 0), 3*geom.Deg), 2.6, 0.05},
	} {
		s := last(solve(t, c.chain))
		angle := math.Sqrt(s.Drive.Peak()) / s.SmallAngle.Rad()
		assert.InDelta(t, c.percent, 100*(angle-1), c.half)
	}
}

// Angles so small that their squares vanish must still give numbers.
func TestTiniestAngles(t *testing.T) {
	for _, e := range []float64{1e-8, 1e-100, 2e-162, 1e-170, 5e-324} {
		c := walk(pitched(0, 0, 4))
		c.In = r3.Vec{X: 1, Y: e}
		s := last(solve(t, c))
		assert.InDelta(t, 4, s.SmallAngle.Degrees(), 1e-6)
		assert.InDelta(t, 4, s.Drive.Angle().Degrees(), 1e-6)
	}
}

func TestOtherKindsOfJoint(t *testing.T) {
	axes := pitched(0, 12, 3)
	t.Run("double joint shares equally", func(t *testing.T) {
		c := walk(axes)
		c.Joints[0].Kind, c.Joints[1].Kind = DoubleCardan, ConstantVelocity
		m := solve(t, c)
		b := m.Joints()[0]
		assert.InDelta(t, 6, b.First.Degrees(), 1e-9)
		assert.InDelta(t, 6, b.Second.Degrees(), 1e-9)
		assert.InDelta(t, 12, b.Angle.Degrees(), 1e-9)
		for _, s := range m.Shafts() {
			assert.InDelta(t, 1, s.Drive.Max(), 1e-14)
			assert.InDelta(t, 0, s.SmallAngle.Degrees(), 1e-6)
		}
	})
	t.Run("an uneven double joint is two joints", func(t *testing.T) {
		c := walk(axes)
		c.Joints = c.Joints[:1]
		c.Out = axes[1]
		c.Joints[0] = Joint{Kind: DoubleCardan, Uneven: 2 * geom.Deg}
		m := solve(t, c)
		assert.InDelta(t, 7, m.Joints()[0].First.Degrees(), 1e-9)
		want := math.Cos(5*math.Pi/180) / math.Cos(7*math.Pi/180)
		assert.InDelta(t, want, last(m).Drive.Max(), 1e-12)
	})
	t.Run("yokes in phase across an even joint cancel as across none", func(t *testing.T) {
		for _, k := range []Kind{DoubleCardan, ConstantVelocity} {
			c := walk(pitched(0, 5, 14, 9))
			c.Joints[1].Kind = k
			assert.InDelta(t, 1, last(solve(t, c)).Drive.Max(), 1e-14, k)
			c.Yokes = []geom.Angle{0, Crossed}
			assert.InDelta(t, 7.071068, last(solve(t, c)).SmallAngle.Degrees(), 1e-6, k)
		}
	})
	assert.Equal(t, "single joint", Cardan.String())
	assert.Equal(t, "double joint", DoubleCardan.String())
	assert.Equal(t, "constant-velocity joint", ConstantVelocity.String())
	assert.Equal(t, "unknown kind of joint", Kind(9).String())
}

func TestChainRefuses(t *testing.T) {
	nan := math.NaN()
	good := func() Chain { return walk(pitched(0, 5, 0)) }
	for _, c := range []struct {
		name  string
		spoil func(*Chain)
		joint int
		want  error
	}{
		{"right angle", func(c *Chain) { c.Out = r3.Vec{Y: 1} }, 2, ErrSquare},
		{"past a right angle", func(c *Chain) { c.In = geom.Direction(96*geom.Deg, 0) }, 1, ErrSquare},
		{"turned back", func(c *Chain) { c.Out = r3.Vec{X: -1} }, 2, ErrSquare},
		{"antiparallel exactly", func(c *Chain) { c.Out = r3.Sub(c.Joints[0].At, c.Joints[1].At) }, 2, ErrSquare},
		{"centres coincide", func(c *Chain) { c.Joints[1].At = c.Joints[0].At }, 2, ErrShort},
		{"no first axis", func(c *Chain) { c.In = r3.Vec{} }, 1, ErrNoEnd},
		{"no last axis", func(c *Chain) { c.Out = r3.Vec{} }, 2, ErrNoEnd},
		{"centre not a number", func(c *Chain) { c.Joints[1].At.Y = nan }, 2, ErrNumber},
		{"axis not a number", func(c *Chain) { c.Out.Z = math.Inf(1) }, 2, ErrNumber},
		{"kind", func(c *Chain) { c.Joints[1].Kind = 7 }, 2, ErrKind},
		{"yoke not a number", func(c *Chain) { c.Yokes = []geom.Angle{geom.Angle(nan)} }, 2, ErrYoke},
		{"too uneven", func(c *Chain) { c.Joints[0].Kind, c.Joints[0].Uneven = DoubleCardan, 6*geom.Deg }, 1, ErrUneven},
		{"uneven not a number", func(c *Chain) { c.Joints[0].Kind, c.Joints[0].Uneven = DoubleCardan, geom.Angle(nan) }, 1, ErrUneven},
		{"arm along the shaft", func(c *Chain) { c.Arm = r3.Vec{X: 2} }, 1, ErrArm},
		{"arm not a number", func(c *Chain) { c.Arm = r3.Vec{X: nan} }, 1, ErrNumber},
		{"all but 90° together", func(c *Chain) {
			*c = walk(pitched(0, 89.999, 179.998), Crossed)
		}, 2, ErrSquare},
	} {
		t.Run(c.name, func(t *testing.T) {
			chain := good()
			c.spoil(&chain)
			m := solve(t, good())
			err := m.Set(chain)
			var je *JointError
			require.ErrorAs(t, err, &je)
			assert.Equal(t, c.joint, je.Joint)
			assert.ErrorIs(t, err, c.want)
			// Nothing of the chain before may be taken for this one.
			assert.Empty(t, m.Shafts())
			assert.Empty(t, m.Joints())
			assert.Empty(t, m.At(0, nil))
			_, err = m.Motion(72)
			assert.Error(t, err)
			_, _, err = m.BestYoke(1)
			assert.Error(t, err)
		})
	}
	_, err := NewMechanism(Chain{In: r3.Vec{X: 1}, Out: r3.Vec{X: 1}})
	assert.Error(t, err)
	c := good()
	c.Yokes = []geom.Angle{0, 0}
	_, err = NewMechanism(c)
	assert.ErrorIs(t, err, ErrYokes)
	for _, shaft := range []int{-1, 0, 2, 3} {
		_, _, err = solve(t, good()).BestYoke(shaft)
		assert.Error(t, err, "shaft %d", shaft)
	}
	assert.Equal(t, good().Joints[1].At, good().Line().Joints[1])
}

func TestMotionRefuses(t *testing.T) {
	m := solve(t, walk(pitched(0, 5, 0)))
	for _, steps := range []int{-1, 0, MinSteps - 1, MaxSteps + 1} {
		_, err := m.Motion(steps)
		assert.Error(t, err)
	}
	mo, err := m.Motion(MinSteps)
	require.NoError(t, err)
	for _, shaft := range []int{-1, 3} {
		_, err = mo.Orders(shaft, nil)
		assert.Error(t, err)
	}
}
