//go:build unix

package assess

import (
	"strconv"
	"testing"

	"fitup/internal/project"
	"fitup/internal/project/starter"

	"github.com/stretchr/testify/require"
)

// What a key that moves the rear mount costs with so many values of which the demo
// states a ±.
func BenchmarkCarriedOn(b *testing.B) {
	for _, every := range []int{1000, 100, 30, 10} {
		n := 0
		c := unsure(build(b, string(starter.Demo())), func() bool { n++; return n%every == every/2 })
		b.Run(strconv.Itoa(len(c.StatedValues())), func(b *testing.B) {
			a := Run(c)
			at := make([]*project.Build, 16)
			for i := range at {
				supports, placed, err := c.Seat()
				require.NoError(b, err)
				placed.Rear += 0.1 * float64(i+1)
				_ = supports
				at[i] = c.Placed(placed)
			}
			before := processor(b)
			for i := 0; b.Loop(); i++ {
				a = Again(a, at[i%len(at)])
			}
			b.ReportMetric((processor(b)-before).Seconds()*1000/float64(b.N), "cpu-ms")
		})
	}
}
