package shaft

import (
	"fmt"
	"testing"

	"fitup/internal/geom"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// benchChain has n joints, none in one plane with the others, yokes out.
func benchChain(n int) Chain {
	axes := []r3.Vec{geom.Direction(3*geom.Deg, 0)}
	yokes := make([]geom.Angle, n-1)
	for i := range n {
		s := geom.Angle(1+3*(i%2)) * geom.Deg
		axes = append(axes, geom.Direction(s, geom.Angle(i)*geom.Deg))
	}
	for i := range yokes {
		yokes[i] = geom.Angle(5*i) * geom.Deg
	}
	return walk(axes, yokes...)
}

// The light path: joint angles, exact extremes of every shaft under drive and
// coast, small-angle rule.
func BenchmarkSet(b *testing.B) {
	for n := 1; n <= 6; n++ {
		b.Run(fmt.Sprintf("%d joints", n), func(b *testing.B) {
			c, m := benchChain(n), new(Mechanism)
			b.ReportAllocs()
			for b.Loop() {
				if err := m.Set(c); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The light path over a sweep of 41 points with peak accelerations.
func BenchmarkSweep(b *testing.B) {
	c, m := benchChain(3), new(Mechanism)
	b.ReportAllocs()
	for b.Loop() {
		var worst float64
		for i := range 41 {
			c.Out = geom.Direction(geom.Angle(i-20)*geom.Deg/4, 0)
			if err := m.Set(c); err != nil {
				b.Fatal(err)
			}
			worst = max(worst, m.Shafts()[3].Drive.Peak())
		}
	}
}

// The full path: the light one, every shaft sampled over a turn, and the
// spectrum of the driven shaft.
func BenchmarkFull(b *testing.B) {
	for _, steps := range []int{72, 180} {
		for n := 1; n <= 6; n++ {
			b.Run(fmt.Sprintf("%d steps/%d joints", steps, n), func(b *testing.B) {
				c, m, mo := benchChain(n), new(Mechanism), new(Motion)
				var orders []float64
				b.ReportAllocs()
				for b.Loop() {
					if err := m.Set(c); err != nil {
						b.Fatal(err)
					}
					if err := m.MotionInto(mo, steps); err != nil {
						b.Fatal(err)
					}
					var err error
					if orders, err = mo.Orders(n, orders); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// Reused memory is a promise of Set, MotionInto and Orders, not only a number
// in a benchmark.
func TestReusedMemory(t *testing.T) {
	c, m, mo := benchChain(3), new(Mechanism), new(Motion)
	var orders []float64
	round := func() {
		require.NoError(t, m.Set(c))
		require.NoError(t, m.MotionInto(mo, 72))
		var err error
		orders, err = mo.Orders(3, orders)
		require.NoError(t, err)
	}
	round()
	require.Zero(t, testing.AllocsPerRun(20, round))
}
