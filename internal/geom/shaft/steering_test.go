package shaft

import (
	"math"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// column is a steering line: joint angles, and the turn of each joint's plane against
// the one before it, about the shaft between them.
func column(angles []float64, twists []float64) []r3.Vec {
	axes := []r3.Vec{{X: 1}}
	normal := r3.Vec{Y: 1} // of the first joint's plane
	for i, b := range angles {
		d := axes[len(axes)-1]
		if i > 0 {
			normal = r3.NewRotation(twists[i-1]*math.Pi/180, d).Rotate(normal)
		}
		axes = append(axes, r3.NewRotation(b*math.Pi/180, normal).Rotate(d))
	}
	return axes
}

// chained is the ratio of a line by one textbook equation after another: tan θ2 =
// cos β tan θ1 from where the driving arm is square to the joint's plane, the plane's
// turn and the yoke's offset taken off between them.
func chained(angles, twists, offsets []float64, input float64) float64 {
	th, ratio := input, 1.0
	for i, b := range angles {
		if i > 0 {
			th += (offsets[i-1] - twists[i-1]) * math.Pi / 180
		}
		cos := math.Cos(b * math.Pi / 180)
		s := math.Sin(th)
		ratio *= cos / (1 - (1-cos*cos)*s*s)
		// The driven arm is a quarter turn from the driving one; measured from its own
		// zero, in the plane, the next joint sees it as its driving arm.
		th = math.Atan2(cos*math.Sin(th), math.Cos(th)) + math.Pi/2
	}
	return ratio
}

// Two joints of a steering shaft: derived by yoke vectors and by chained closed form.
func TestSteeringShaft(t *testing.T) {
	for _, c := range []struct{ b1, b2, twist, offset, max, min float64 }{
		{20, 20, 0, 0, 1, 1}, {20, 20, 0, 10, 1.02185152, .97861576}, {20, 20, 0, 90, 1.13247433, .88302222},
		{25, 25, 30, 0, 1.10350916, .90620000}, {25, 25, 30, 30, 1, 1},
		{30, 18, 40, 0, 1.15481362, .86594060}, {30, 18, 40, 40, 1.09818547, .91059300}, {35, 35, 0, 5, 1.03562170, .96560356},
	} {
		angles, twists := []float64{c.b1, c.b2}, []float64{c.twist}
		m := solve(t, walk(column(angles, twists), geom.Angle(c.offset)*geom.Deg))
		d := last(m)
		assert.InDelta(t, c.max, d.Drive.Max(), 5e-9)
		assert.InDelta(t, c.min, d.Drive.Min(), 5e-9)
		hi, lo := 0.0, 9.0
		var states []State
		for i := range 3600 {
			in := geom.Angle(i) * geom.Deg / 10
			states = m.At(in, states)
			v := states[len(states)-1].Ratio
			hi, lo = max(hi, v), min(lo, v)
		}
		assert.InDelta(t, c.max, hi, 1e-6)
		assert.InDelta(t, c.min, lo, 1e-6)
		hi, lo = 0, 9
		for i := range 3600 {
			v := chained(angles, twists, []float64{c.offset}, float64(i)*math.Pi/1800)
			hi, lo = max(hi, v), min(lo, v)
		}
		assert.InDelta(t, c.max, hi, 1e-6)
		assert.InDelta(t, c.min, lo, 1e-6)

		e := d.Extremes()
		assert.Equal(t, c.max == 1, e.Even)
		if !e.Even {
			assert.InDelta(t, c.max, m.At(e.Fastest, nil)[2].Ratio, 5e-9)
			assert.InDelta(t, c.min, m.At(e.Slowest, nil)[2].Ratio, 5e-9)
		}
		best, r, err := m.BestYokes()
		require.NoError(t, err)
		require.Len(t, best, 1)
		off := math.Mod(best[0].Degrees()-c.twist+360, 180)
		assert.InDelta(t, 0, math.Min(off, 180-off), 1e-5, "the best offset is the twist")
		assert.InDelta(t, math.Max(math.Cos(c.b1*geom.Deg.Rad())/math.Cos(c.b2*geom.Deg.Rad()), math.Cos(c.b2*geom.Deg.Rad())/math.Cos(c.b1*geom.Deg.Rad())), r.Max(), 1e-9)
	}
}

// The best offsets of lines of one to four joints: no other offsets on a grid run more
// evenly, the line set so runs as said, and the known bound of the lengths is met.
func TestBestYokesTogether(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 4).Draw(rt, "joints")
		var angles, twists []float64
		sum, longest := 0.0, 0.0
		for range n {
			b := rapid.Float64Range(0, 35).Draw(rt, "angle")
			angles = append(angles, b)
			twists = append(twists, rapid.Float64Range(-90, 90).Draw(rt, "twist"))
			l := -math.Log(math.Cos(b * geom.Deg.Rad()))
			sum, longest = sum+l, max(longest, l)
		}
		axes := column(angles, twists)
		yokes := make([]geom.Angle, n-1)
		for i := range yokes {
			yokes[i] = geom.Angle(rapid.Float64Range(-1.5, 1.5).Draw(rt, "yoke"))
		}
		m := solve(rt, walk(axes, yokes...))
		best, r, err := m.BestYokes()
		require.NoError(rt, err)
		require.Len(rt, best, n-1)
		assert.InDelta(rt, math.Exp(max(0, 2*longest-sum)), r.Max(), 1e-6)
		set := last(solve(rt, walk(axes, best...)))
		assert.InDelta(rt, r.Max(), set.Drive.Max(), 1e-7)
		for i := range yokes {
			one, single, err := m.BestYoke(i + 1)
			require.NoError(rt, err)
			_ = one
			assert.GreaterOrEqual(rt, single.Max(), r.Max()-1e-6)
		}
		assert.GreaterOrEqual(rt, last(m).Drive.Max(), r.Max()-1e-6)
	})
	_, _, err := new(Mechanism).BestYokes()
	require.Error(t, err)
}

// A spline of 36 teeth sets a yoke by tens of degrees; one of 17 by halves of its teeth,
// as half a turn is the same yoke.
func TestYokeOnASpline(t *testing.T) {
	for _, c := range []struct {
		offset   float64
		teeth    int
		set, off float64
	}{{33, 36, 30, -3}, {-33, 36, -30, 3}, {88, 36, 90, 2}, {-87, 36, 90, -3}, {180.0 / 17, 17, 180.0 / 17, 0}, {0, 17, 0, 0}} {
		set, off, err := OnSpline(geom.Angle(c.offset)*geom.Deg, c.teeth)
		require.NoError(t, err)
		assert.InDelta(t, c.set, set.Degrees(), 1e-9)
		assert.InDelta(t, c.off, off.Degrees(), 1e-9)
	}
	_, _, err := OnSpline(0, 2)
	require.ErrorContains(t, err, "2 teeth")
	_, _, err = OnSpline(geom.Angle(math.NaN()), 36)
	require.Error(t, err)
}
