package travel

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// How a sweep's cost grows with its points.
func BenchmarkSweepByPoints(b *testing.B) {
	leaf, err := NewLeaf(LeafSpring{
		Axle:         Axle{Centre: r3.Vec{X: 3400, Z: -260}, Pinion: r3.Vec{X: 3110, Z: -250}, PinionAxis: r3.Vec{X: 1, Z: -0.08}},
		FixedEye:     r3.Vec{X: 2830, Z: -185},
		Seat:         r3.Vec{X: 3400, Z: -220},
		ShackleEye:   r3.Vec{X: 4030, Z: -180},
		ShacklePivot: r3.Vec{X: 4005, Z: -75},
		Clamped:      120,
	})
	require.NoError(b, err)
	for _, n := range []int{11, 41, 161} {
		b.Run(fmt.Sprintf("points=%d", n), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Sweep(leaf, 90, 80, n); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
