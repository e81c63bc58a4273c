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

// drawAxes is a row of axes, each bent by up to most from the one before in any
// direction.
func drawAxes(t *rapid.T, joints int, most float64) []r3.Vec {
	unitRange := rapid.Float64Range(-1, 1)
	axes := []r3.Vec{geom.Direction(geom.Angle(unitRange.Draw(t, "slope")), geom.Angle(unitRange.Draw(t, "heading")))}
	for i := range joints {
		u := axes[i]
		square := unit(r3.Cross(u, r3.Vec{X: 0.1, Y: 1, Z: 0.3}))
		bend := rapid.Float64Range(0, most).Draw(t, "bend")
		way := rapid.Float64Range(0, 2*math.Pi).Draw(t, "way")
		axis := r3.NewRotation(way, u).Rotate(square)
		axes = append(axes, unit(r3.NewRotation(bend, axis).Rotate(u)))
	}
	return axes
}

func drawChain(t *rapid.T, most float64) Chain {
	axes := drawAxes(t, rapid.IntRange(1, 4).Draw(t, "joints"), most)
	yokes := make([]geom.Angle, len(axes)-2)
	for i := range yokes {
		yokes[i] = geom.Angle(rapid.Float64Range(-2, 2).Draw(t, "yoke"))
	}
	return walk(axes, yokes...)
}

// textbook is the second method: joint by joint tan φ = cos β·tan θ with θ from
// the normal of the two shafts, ratio cos β/(1 - sin²β·sin²θ), and the angle
// between one joint plane and the next added on. It knows no cross vectors.
func textbook(c Chain, arm r3.Vec, input float64) (ratio, lead []float64) {
	axes, _ := c.Line().Axes()
	about := func(axis, from, to r3.Vec) float64 {
		return math.Atan2(r3.Dot(axis, r3.Cross(from, to)), r3.Dot(from, to))
	}
	w, ahead := 1.0, 0.0
	var theta float64
	var mark r3.Vec // the direction theta is measured from
	for i := range c.Joints {
		u, v := axes[i], axes[i+1]
		cos := r3.Dot(u, v)
		normal := unit(r3.Cross(u, v))
		if i == 0 {
			theta = about(u, normal, arm) + input
		} else {
			theta += c.Yokes[i-1].Rad() - about(u, mark, normal)
		}
		s, co := math.Sincos(theta)
		phi := math.Atan2(cos*s, co) + 2*math.Pi*math.Round((theta-math.Atan2(cos*s, co))/(2*math.Pi))
		w *= cos / (1 - (1-cos*cos)*s*s)
		ahead += phi - theta
		ratio, lead = append(ratio, w), append(lead, ahead)
		// The driven arm stands a quarter turn on: at θ = 0 it is v×normal.
		theta, mark = phi, r3.Cross(v, normal)
	}
	return ratio, lead
}

func TestVectorsAgainstTheTextbookEquation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChain(t, 1.0)
		m := solve(t, c)
		for _, b := range m.Joints() {
			if b.Angle < 0.01*geom.Deg {
				t.Skip("a straight joint has no plane to count from")
			}
		}
		var st []State
		for i := range 24 {
			in := float64(i) * 2 * math.Pi / 24
			st = m.At(geom.Angle(in), st)
			ratio, lead := textbook(c, m.arm, in)
			require.Len(t, st, len(ratio)+1)
			for j := range ratio {
				assert.InDelta(t, ratio[j], st[j+1].Ratio, 1e-10*math.Max(1, ratio[j]))
				assert.InDelta(t, lead[j], st[j+1].Lead.Rad(), 1e-10)
			}
		}
	})
}

// extremes finds the highest and lowest value of f over half a turn by a fine
// look and golden sections.
func extremes(f func(x float64) float64) (high, low float64) {
	search := func(sign float64) float64 {
		const n = 360
		best, at := math.Inf(-1), 0.0
		for i := range n {
			x := math.Pi * float64(i) / n
			if y := sign * f(x); y > best {
				best, at = y, x
			}
		}
		g := (math.Sqrt(5) - 1) / 2
		lo, hi := at-math.Pi/n, at+math.Pi/n
		for range 60 {
			a, b := hi-g*(hi-lo), lo+g*(hi-lo)
			if sign*f(a) > sign*f(b) {
				hi = b
			} else {
				lo = a
			}
		}
		return f((lo + hi) / 2)
	}
	return search(1), search(-1)
}

// The closed forms of every shaft against extremes searched along the vector
// motion.
func TestClosedFormsAgainstSearchedExtremes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChain(t, 0.9)
		for i := range c.Joints {
			c.Joints[i].Kind = Kind(rapid.IntRange(0, 2).Draw(t, "kind"))
		}
		m := solve(t, c)
		var st []State
		for j, s := range m.Shafts() {
			at := func(x float64) State { st = m.At(geom.Angle(x), st); return st[j] }
			high, low := extremes(func(x float64) float64 { return at(x).Ratio })
			assert.InDelta(t, 1, s.Drive.Max()/high, 1e-9)
			assert.InDelta(t, 1, s.Drive.Min()/low, 1e-9)
			high, low = extremes(func(x float64) float64 { return at(x).Lead.Rad() })
			assert.InDelta(t, s.Drive.Swing().Rad(), high-low, 1e-9)
			high, low = extremes(func(x float64) float64 { return at(x).Acceleration })
			// The lead and so the acceleration are mirror images.
			assert.InDelta(t, s.Drive.Peak(), high, 1e-8*math.Max(1, high))
			assert.InDelta(t, -s.Drive.Peak(), low, 1e-8*math.Max(1, high))
			// Against the driven end: the ratio of the two ratios.
			end := len(m.Shafts()) - 1
			high, low = extremes(func(x float64) float64 {
				st = m.At(geom.Angle(x), st)
				return st[j].Ratio / st[end].Ratio
			})
			assert.InDelta(t, 1, s.Coast.Max()/high, 1e-9)
			assert.InDelta(t, 1, s.Coast.Min()/low, 1e-9)
		}
	})
}

// The definition of the joint: unit arms, square to their shafts and to each
// other; the ratio is the derivative of the angle, the acceleration that of
// the ratio.
func TestVectorMotionIsWhatItSays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawChain(t, 1.2)
		m := solve(t, c)
		x := rapid.Float64Range(-10, 10).Draw(t, "x")
		const d = 1e-5
		st := m.At(geom.Angle(x), nil)
		a, b := m.At(geom.Angle(x-d), nil), m.At(geom.Angle(x+d), nil)
		for j := 1; j < len(st); j++ {
			axis, before := m.Shafts()[j].Axis, m.Shafts()[j-1].Axis
			arm, drive := st[j].Front, st[j-1].Rear
			assert.InDelta(t, 1, r3.Norm(arm), 1e-12)
			assert.InDelta(t, 0, r3.Dot(arm, axis), 1e-12)
			assert.InDelta(t, 0, r3.Dot(arm, drive), 1e-12)
			assert.InDelta(t, 0, r3.Dot(drive, before), 1e-12)
			scale := 1 + math.Abs(st[j].Ratio) + math.Pow(m.Shafts()[j].Drive.Max(), 5)
			assert.InDelta(t, st[j].Ratio, 1+(b[j].Lead-a[j].Lead).Rad()/(2*d), 1e-8*scale)
			assert.InDelta(t, st[j].Acceleration, (b[j].Ratio-a[j].Ratio)/(2*d), 1e-7*scale)
			// The arm itself turns by what the angle says.
			turned := geom.Angle(2*d) + b[j].Lead - a[j].Lead
			assert.InDelta(t, 0, r3.Norm(r3.Sub(r3.NewRotation(turned.Rad(), axis).Rotate(a[j].Front), b[j].Front)), 1e-10)
			if j < len(st)-1 {
				rear := r3.NewRotation(c.Yokes[j-1].Rad(), axis).Rotate(arm)
				assert.InDelta(t, 0, r3.Norm(r3.Sub(rear, st[j].Rear)), 1e-12)
			}
		}
	})
}

// Samples against At, odd and even numbers of steps, in used memory; and the
// transform of the samples against the closed form.
func TestMotionAndOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mo := new(Motion)
		var orders []float64
		for range 3 {
			m := solve(t, drawChain(t, 0.5))
			steps := rapid.IntRange(60, 130).Draw(t, "steps")
			require.NoError(t, m.MotionInto(mo, steps))
			require.Len(t, mo.Input, steps)
			require.Len(t, mo.Shafts, len(m.Shafts()))
			for i, in := range mo.Input {
				for j, st := range m.At(in, nil) {
					assert.InDelta(t, st.Ratio, mo.Shafts[j].Ratio[i], 1e-12)
					assert.InDelta(t, st.Lead.Rad(), mo.Shafts[j].Lead[i].Rad(), 1e-12)
					assert.InDelta(t, st.Acceleration, mo.Shafts[j].Acceleration[i], 1e-12)
				}
			}
			for j, s := range m.Shafts() {
				var err error
				orders, err = mo.Orders(j, orders)
				require.NoError(t, err)
				require.Len(t, orders, steps/2+1)
				// Orders past half the steps fold back.
				fold := 4 * math.Pow(s.Drive.k, float64((steps-4)/2))
				for n := range 5 {
					assert.InDelta(t, s.Drive.Order(n), orders[n], 1e-12+fold, "order %d", n)
				}
			}
		}
	})
}

func TestJustBelowNinety(t *testing.T) {
	m := single(t, 89.99*geom.Deg, true)
	r := m.Shafts()[1].Drive
	want := 1 / math.Cos(89.99*math.Pi/180)
	assert.InDelta(t, 1, r.Max()/want, 1e-6)
	st := m.At(0, nil)
	assert.InDelta(t, 1, st[1].Ratio/want, 1e-9)
	assert.True(t, geom.Finite(r.Peak(), r.Swing().Rad(), r.Spread()))
}

func TestVerticalShaftHasAnArm(t *testing.T) {
	m := solve(t, Chain{In: r3.Vec{Z: -1}, Joints: []Joint{{}}, Out: r3.Vec{X: 0.1, Z: -1}})
	assert.InDelta(t, 0, r3.Dot(m.arm, m.Shafts()[0].Axis), 1e-15)
	assert.InDelta(t, 1, r3.Norm(m.arm), 1e-15)
}
