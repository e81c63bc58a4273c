package shaft

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// single is one joint of angle b in side view. In plane, its arm at input
// angle 0 lies in the plane of the two shafts; otherwise square to it.
func single(t require.TestingT, b geom.Angle, inPlane bool) *Mechanism {
	c := Chain{In: r3.Vec{X: 1}, Joints: []Joint{{}}, Out: geom.Direction(b, 0)}
	if !inPlane {
		c.Arm = r3.Vec{Y: 1}
	}
	m, err := NewMechanism(c)
	require.NoError(t, err)
	return m
}

// Equation of motion of the Cardan joint, tan θ2 = cos β·tan θ1, and what
// follows from it: Khurmi & Gupta, Theory of Machines, ch. 9; Schmelz,
// Seherr-Thoss, Aucktor, Universal Joints and Driveshafts, sec. 1.2.1.
func TestOneJoint(t *testing.T) {
	for _, c := range []struct{ deg, max, min, spread, lead, peak float64 }{
		{0, 1, 1, 0, 0, 0},
		{1, 1.000152, 0.999848, 0.000304633, 0.004363, 0.0003046},
		{3, 1.001372, 0.998630, 0.002743, 0.03929, 0.0027428},
		{4, 1.002442, 0.997564, 0.004878, 0.06987, 0.0048779},
		{5, 1.003820, 0.996195, 0.007625, 0.10922, 0.0076253},
		{8, 1.009828, 0.990268, 0.019560, 0.28016, 0.0195614},
		{10, 1.015427, 0.984808, 0.030619, 0.43856, 0.0306260},
		{15, 1.035276, 0.965926, 0.069350, 0.99312, 0.0694336},
		{20, 1.064178, 0.939693, 0.124485, 1.78168, 0.1249656},
		{25, 1.103378, 0.906308, 0.197070, 2.81714, 0.1989655},
		{30, 1.154701, 0.866025, 0.288675, 4.11719, 0.2945711},
		{45, 1.414214, 0.707107, 0.707107, 9.87928, 0.7872003},
	} {
		b := geom.Angle(c.deg) * geom.Deg
		r := single(t, b, true).Shafts()[1].Drive
		assert.InDelta(t, c.max, r.Max(), 1e-6, "%g°", c.deg)
		assert.InDelta(t, c.min, r.Min(), 1e-6, "%g°", c.deg)
		assert.InDelta(t, c.spread, r.Spread(), 1e-6, "%g°", c.deg)
		assert.InDelta(t, 2*c.lead, r.Swing().Degrees(), 1.1e-5, "%g°", c.deg)
		assert.InDelta(t, c.peak, r.Peak(), 1e-7, "%g°", c.deg)
		assert.InDelta(t, c.deg, r.Angle().Degrees(), 1e-12)
		of, err := RippleOf(b)
		require.NoError(t, err)
		assert.InDelta(t, of.k, r.k, 1e-15)
	}
}

// Same equation, convention A (driving arm square to the plane of the shafts at
// 0) and convention B (arm in the plane), past a quarter turn and past a whole
// one.
func TestAngleIsContinuous(t *testing.T) {
	for _, c := range []struct {
		b, in, out float64
		inPlane    bool
	}{
		{30, 30, 26.56505, false}, {30, 45, 40.89339, false}, {30, 60, 56.30993, false},
		{30, 135, 139.10661, false}, {30, 225, 220.89339, false}, {30, 315, 319.10661, false},
		{30, 405, 400.89339, false}, {20, 30, 31.56670, true}, {20, 60, 61.51876, true},
	} {
		st := single(t, geom.Angle(c.b)*geom.Deg, c.inPlane).At(geom.Angle(c.in)*geom.Deg, nil)
		assert.InDelta(t, c.out, c.in+st[1].Lead.Degrees(), 5e-6, "%g° at %g°", c.b, c.in)
	}
}

// Khurmi & Gupta, Theory of Machines, ch. 9, worked example: shafts at 160°,
// 1500 rev/min, flywheel of 12 kg at 0.1 m. The book's 3090 rad/s² and 371 N·m
// come from rounded steps.
func TestTextbookFlywheel(t *testing.T) {
	r, err := RippleOf(20 * geom.Deg)
	require.NoError(t, err)
	a := r.Acceleration(1500 * RPM)
	assert.InDelta(t, 3083.4, a, 0.05)
	assert.InDelta(t, 3090, a, 8)
	assert.InDelta(t, 370.0e3, 12*100*100*a/1000, 50)
	// It is reached 41.4587° behind the position with the arm in the plane.
	st := single(t, 20*geom.Deg, true).At(41.4587*geom.Deg, nil)
	assert.InDelta(t, -r.Peak(), st[1].Acceleration, 1e-9)
}

func TestStraightIsExactlyOne(t *testing.T) {
	d := geom.Direction(3*geom.Deg, 2*geom.Deg)
	for _, k := range []Kind{Cardan, DoubleCardan, ConstantVelocity} {
		c := Chain{In: d, Out: d, Joints: []Joint{{Kind: k}}}
		m, err := NewMechanism(c)
		require.NoError(t, err)
		assert.Equal(t, 1.0, m.Shafts()[1].Drive.Max(), k)
		assert.Equal(t, 0.0, m.Shafts()[1].Drive.Peak(), k)
		mo, err := m.Motion(45)
		require.NoError(t, err)
		for i := range mo.Input {
			assert.Equal(t, 1.0, mo.Shafts[1].Ratio[i])
			assert.Zero(t, mo.Shafts[1].Acceleration[i])
			assert.Zero(t, mo.Shafts[1].Lead[i])
		}
	}
}

// The closed forms of Ripple against a fine transform of the textbook ratio
// cos β/(1 - sin²β·cos²θ) and of its angle.
func TestOrdersOfOneJoint(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.Float64Range(0.1, 60).Draw(t, "b") * math.Pi / 180
		const n = 512
		ratio, lead := make([]float64, n), make([]float64, n)
		for i := range n {
			s, c := math.Sincos(2 * math.Pi * float64(i) / n)
			ratio[i] = math.Cos(b) / (1 - math.Pow(math.Sin(b)*c, 2))
			lead[i] = math.Atan2(s*c*(1-math.Cos(b)), math.Cos(b)*c*c+s*s)
		}
		r, err := RippleOf(geom.Angle(b))
		require.NoError(t, err)
		fft := fourier.NewFFT(n)
		rc, lc := fft.Coefficients(nil, ratio), fft.Coefficients(nil, lead)
		assert.InDelta(t, r.Order(0), real(rc[0])/n, 1e-12)
		for _, o := range []int{1, 2, 3, 4, 6} {
			assert.InDelta(t, r.Order(o), 2*math.Hypot(real(rc[o]), imag(rc[o]))/n, 1e-12, "order %d", o)
			assert.InDelta(t, r.AngleOrder(o).Rad(), 2*math.Hypot(real(lc[o]), imag(lc[o]))/n, 1e-12, "order %d", o)
		}
		assert.Zero(t, r.Order(-2))
		assert.Zero(t, r.AngleOrder(0))
	})
}

func TestRippleOfRefuses(t *testing.T) {
	for _, b := range []float64{90, 120, -91, math.NaN(), math.Inf(1)} {
		_, err := RippleOf(geom.Angle(b) * geom.Deg)
		assert.Error(t, err, "%g", b)
	}
	r, err := RippleOf(-20 * geom.Deg)
	require.NoError(t, err)
	assert.InDelta(t, 1/math.Cos(math.Pi/9), r.Max(), 1e-12)
}
